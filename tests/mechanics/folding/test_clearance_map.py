"""The clearance map against plain polygons, pose by pose."""

import math
import random
from dataclasses import replace

import buildable_folds
import numpy as np
import pytest
import shapely
from plain_clearance import MEANT_TO_TOUCH, Scene, changed, designs
from tries import first

from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.clearance_map import MOST_MM, ClearanceMap, clearance_map
from rampdraft.mechanics.folding.folding import closed_pose
from rampdraft.model.design import Design, Obstacle, Site

AGREES_MM = 0.05
"""How near the map and plain polygons must agree (issue 3)."""

PRESSED_MM = 0.05
"""How deep parts that are meant to touch may press (model.md 3 calls them exempt at that contact only)."""

NAMES = (*sorted(designs()), *range(8))


def standing(name: str | int) -> tuple[Design, Assembly, Site, Pose]:
    """Return what stands without its bridge plate, whose room is tried in `test_bridge_plate.py`."""
    design, _, site, pose = buildable_folds.standing(name)
    design = changed(design, bridge__fitted=False)
    return design, assemble(design), site, pose


def surface_of(name: str | int, points: int = 181) -> ClearanceMap:
    design, assembly, site, deployed = standing(name)
    return clearance_map(design, assembly, site, deployed.inner_rad, points)


def depth(a: shapely.Polygon, b: shapely.Polygon) -> float:
    """Return how far one of two overlapping convex shapes must move to be free: the way out of their
    Minkowski difference.
    """
    corners = shapely.get_coordinates(a)[:, None, :] - shapely.get_coordinates(b)[None, :, :]
    outline = shapely.MultiPoint(corners.reshape(-1, 2)).convex_hull.exterior
    return outline.distance(shapely.Point(0, 0))


def whole(shape: shapely.Geometry) -> bool:
    """Return whether a shape is a rectangle or a disc: others are cut up by the program, and a part comes
    free sooner.
    """
    corners = shapely.get_num_coordinates(shapely.simplify(shape, 1e-6)) - 1
    return shape.convex_hull.area - shape.area < 1e-6 * max(shape.area, 1) and (corners <= 4 or corners > 30)


def round_a_hinge(family: str) -> bool:
    """Return whether a knuckle turns about its own middle, so that the distance is the same in every pose."""
    a, b = family.split(" - ")
    deck = (
        a.startswith("carrier") or a in ("deck", "ground") or a.startswith("obstacle")
    ) and b == "inner deck knuckle"
    joint = a == "inner joint knuckle" or (a.startswith("inner") and b == "outer joint knuckle")
    return deck or joint or (a == "carrier knuckle" and b.startswith("inner"))


def assert_agrees(scene: Scene, pose: Pose, told_mm: float) -> None:
    """Try one value of a map: the distance of what may not touch; where shapes overlap, how deep, contacts
    from 0.05 mm on.
    """
    a, b = scene.at(pose, scene.families != "ground - outer toe flap")
    families = scene.families[scene.families != "ground - outer toe flap"]
    free = np.array([family not in MEANT_TO_TOUCH for family in families])
    distance = shapely.distance(a, b)
    # Left out of the map: what turns about its own middle and has what is demanded.
    demanded = scene.design.fold.clearance_mm
    constant = np.array([round_a_hinge(family) for family in families])
    least = min(float(distance[free & ~(constant & (distance >= demanded - 1e-6))].min()), MOST_MM)
    pressed = [
        bool(shapely.intersects(c, shapely.buffer(d, -2 * PRESSED_MM, join_style="mitre")))
        for c, d in zip(a[~free], b[~free], strict=True)
    ]
    if told_mm >= 0:
        assert told_mm == pytest.approx(least, abs=AGREES_MM)
        assert not any(pressed)
        return
    overlap = [*np.flatnonzero((distance == 0) & free), *np.flatnonzero(~free)[pressed]]
    assert overlap or least <= AGREES_MM or (distance == 0).any()
    known = [
        depth(a[k], b[k])
        for k in overlap
        if whole(a[k]) and whole(b[k]) and not families[k].startswith("ground")
    ]
    assert told_mm <= -max(known, default=0.0) + AGREES_MM
    if known and len(known) == len(overlap):
        assert told_mm == pytest.approx(-max(known), abs=2 * AGREES_MM)


def assert_poses(name: str | int, count: int) -> None:
    """Try `count` poses of a map, half of them where a fold could pass."""
    design, assembly, _, _ = standing(name)
    surface, scene, rng = surface_of(name), Scene(design, assembly), random.Random(str(name))
    free = [tuple(place) for place in np.argwhere(surface.clearance_mm >= 0)]
    everywhere = [(i, j) for i in range(181) for j in range(181)]
    for i, j in [*rng.sample(free, min(len(free), count // 2)), *rng.sample(everywhere, count // 2)]:
        pose = Pose(float(surface.inner_rad[i]), float(surface.fold_rad[j]))
        assert_agrees(scene, pose, float(surface.clearance_mm[i, j]))


@pytest.mark.parametrize("name", first(5, NAMES))
def test_random_poses_by_plain_polygons(name):
    assert_poses(name, 40)


@pytest.mark.soak
@pytest.mark.parametrize("name", [*sorted(designs()), *range(60)])
def test_many_poses_by_plain_polygons(name):
    assert_poses(name, 400)


@pytest.mark.parametrize("name", first(5, NAMES))
def test_one_step_on_both_axes_and_the_stowed_pose_is_a_place_of_the_grid(name):
    design, _, _, deployed = standing(name)
    surface, end = surface_of(name), closed_pose(design)
    assert surface.inner_rad.shape == surface.fold_rad.shape == (181,)
    assert surface.clearance_mm.shape == (181, 181)
    steps = np.concatenate((np.diff(surface.inner_rad), np.diff(surface.fold_rad)))
    assert steps == pytest.approx(steps[0], abs=1e-12)
    assert steps[0] > 0
    assert np.abs(surface.inner_rad - end.inner_rad).min() < 1e-12
    assert np.abs(surface.fold_rad - end.fold_rad).min() < 1e-12
    beyond = math.radians(5)  # the map shows what lies just past the poses that matter
    for axis, angles in (
        (surface.inner_rad, (deployed.inner_rad, end.inner_rad)),
        (surface.fold_rad, (0, end.fold_rad)),
    ):
        assert axis[0] < min(angles) - beyond
        assert axis[-1] > max(angles) + beyond


@pytest.mark.parametrize("name", first(5, NAMES))
def test_the_map_has_as_much_beyond_either_end_of_the_inner_leafs_way(name):
    """But for less than a step, which puts the stowed pose on the grid."""
    design, _, _, deployed = standing(name)
    axis, stowed = surface_of(name).inner_rad, closed_pose(design).inner_rad
    middle = (deployed.inner_rad + stowed) / 2
    assert abs((axis[0] + axis[-1]) / 2 - middle) <= 0.5001 * (axis[1] - axis[0])


def test_it_stays_as_it_was_made():
    surface = surface_of("starter", 31)
    for array in (surface.inner_rad, surface.fold_rad, surface.clearance_mm):
        assert not array.flags.writeable


@pytest.mark.parametrize("points", first(1, [31, 61, 91]))
@pytest.mark.parametrize("name", ["orchard-trolley", "starter", 0, 1])
def test_coarser_maps_agree_in_the_stowed_pose(name, points):
    """Whatever the step: the figure of a pose is that of the pose."""
    end = closed_pose(standing(name)[0])
    told = []
    for surface in (surface_of(name), surface_of(name, points)):
        i, j = (
            np.abs(surface.inner_rad - end.inner_rad).argmin(),
            np.abs(surface.fold_rad - end.fold_rad).argmin(),
        )
        told.append(float(surface.clearance_mm[i, j]))
    assert told[0] == pytest.approx(told[1], abs=1e-6)


def test_a_knee_of_the_map_by_hand():
    """A bar across, 300 mm under the deck edge, meets the hanging inner leaf where its underside comes by.

    The underside lies d below the hinge centre: a point at r from it and s from the leaf's angle is r sin(s)
    - d away (by hand).
    """
    design = changed(designs()["starter"], carrier__deck_height_mm=1500.0, inner_leaf__cross_positions_mm=())
    x, z, wide = 350.0, -200.0, 2000.0
    bar = Obstacle(name="bar", outline_mm=((x, z), (x + 0.001, z)), left_mm=-wide, right_mm=wide)
    without = clearance_map(design, assemble(design), design.sites[0], -1.2)
    design = replace(design, obstacles=(bar,))
    surface = clearance_map(design, assemble(design), design.sites[0], -1.2)
    hinge, straight = design.deck_hinge, np.abs(surface.fold_rad).argmin()
    from_hinge = complex(x - hinge.out_mm, z + hinge.below_mm)
    under = design.inner_leaf.rail_section.depth_mm + hinge.height_mm
    turned = surface.inner_rad - math.atan2(from_hinge.imag, from_hinge.real)
    row, told = surface.clearance_mm[:, straight], abs(from_hinge) * np.sin(turned) - under
    above = (told > 0) & (turned < 1)
    assert above.sum() > 20
    assert row[above] == pytest.approx(
        np.minimum(without.clearance_mm[above, straight], told[above]), abs=AGREES_MM
    )
    just_under = (told < -0.1) & (told > -15)
    assert (row[just_under] < 0).all()
    assert (without.clearance_mm[just_under, straight] > 0).all()
