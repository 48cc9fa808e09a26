"""Standing on the ground, against a ramp of shapely polygons that is let down until it touches."""

import math
from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from plain_clearance import (
    changed,
    designs,
    ground_area,
    hinge_point,
    let_down,
    placed,
    polygon,
    standing_shape,
)
from ramps import base_assembly, base_design
from shapely import affinity, box
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import placings
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.joint import deployed_fold_rad
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Design, Site

AGREES_RAD = 1e-4


def site_of(*points: tuple[float, float]) -> Site:
    return Site(name="Somewhere", kind="ground", ground_mm=points)


def mm(low: int, high: int) -> st.SearchStrategy[float]:
    return st.integers(low * 10, high * 10).map(lambda tenths: tenths / 10)


LEVEL = st.tuples(st.tuples(st.just(0.0), mm(-300, 370)))
SLOPING = st.tuples(st.just((0.0, 0.0)), st.tuples(st.just(4000.0), mm(-600, 900)))
KERBS = st.builds(
    lambda x, z: ((0.0, 0.0), (x, 0.0), (x, z), (4000.0, z)), mm(120, 2700), mm(-250, 360).filter(bool)
)
PLATFORMS = st.builds(lambda x, z: ((0.0, 0.0), (x, 0.0), (x, z), (4000.0, z)), mm(300, 2600), mm(430, 1100))
BUMPS = st.builds(
    lambda x, half, z: ((0.0, 0.0), (x - half, 0.0), (x, z), (x + half, 0.0), (4000.0, 0.0)),
    mm(400, 2600), mm(4, 300), mm(-400, 380).filter(bool),
)  # fmt: skip
ROUGH = st.lists(
    st.tuples(mm(60, 4000), mm(-200, 330)), min_size=2, max_size=8, unique_by=lambda point: point[0]
).map(lambda points: tuple(sorted(points)))
GROUNDS = st.one_of(LEVEL, SLOPING, KERBS, PLATFORMS, BUMPS, ROUGH)


@given(ground=GROUNDS, drop_mm=st.sampled_from((None, 25.0)))
@settings(max_examples=tries(20))
def test_any_ground_as_a_ramp_let_down_by_hand(ground, drop_mm):
    design, site = base_design(), site_of(*ground)
    assume(not begins_in_ground(design, site))
    assert_stands(design, site, drop_mm)


@pytest.mark.soak
@given(ground=GROUNDS, name=st.sampled_from(sorted(designs())), drop_mm=st.sampled_from((None, 25.0)))
def test_any_ground_for_every_sample(ground, name, drop_mm):
    assume(not begins_in_ground(designs()[name], site_of(*ground)))
    assert_stands(designs()[name], site_of(*ground), drop_mm)


@pytest.mark.parametrize("name", sorted(designs()))
def test_the_sites_of_every_sample(name):
    design = designs()[name]
    for site in design.sites:
        for drop_mm in (None, design.carrier.deck_drop_mm):
            assert_stands(design, site, drop_mm)


def begins_in_ground(design: Design, site: Site) -> bool:
    """Whether the ground is in the way already where the ramp is let down from."""
    hinge, shape = hinge_point(design), standing_shape(design, assemble(design), deployed_fold_rad(design))
    return ground_area(site).intersects(affinity.translate(affinity.rotate(shape, 85, origin=(0, 0)), *hinge))


def assert_stands(design: Design, site: Site, drop_mm: float | None) -> None:
    assembly = assemble(design)
    found = stand(design, assembly, site, 1, drop_mm)
    hinge = hinge_point(design, found.drop_mm)
    shape, ground = standing_shape(design, assembly, found.pose.fold_rad), ground_area(site)
    angle = let_down(shape, hinge, ground)
    assert found.reaches == (angle is not None)
    if angle is not None:
        assert found.pose.inner_rad == pytest.approx(angle, abs=AGREES_RAD)
        assert_touches(design, site, found)


def assert_touches(design, site, found):
    """What is said to touch does so where it is said to, and lies in the body that `grounds_at_toe` speaks
    of.
    """
    assembly = assemble(design)
    touching = next(member for member in assembly.members if member.key == found.touches_with)
    shape = placed(design, polygon(touching.silhouette), touching.body, found.pose, found.drop_mm)
    assert shape.distance(ground_area(site)) < 0.01
    contact = box(*found.contact, *found.contact)
    assert shape.boundary.distance(contact) < 0.01
    assert ground_area(site).boundary.distance(contact) < 0.01
    if found.grounds_at_toe:
        assert touching.body == "outer"


@pytest.mark.parametrize("height", [300, 420, 700])
@pytest.mark.parametrize("under", [False, True])
def test_level_ground_by_the_closed_form(height, under):
    """sin(alpha) = (height of hinge centre - offset of contact point) / distance, model.md 4; `under`: with
    no offset.
    """
    design = changed(base_design(), carrier__deck_height_mm=height, stop__kind="none")
    if under:  # hinge centre on the line of the rails' underside, so that the toe's corner has no offset
        design = changed(design, deck_hinge__height_mm=-design.inner_leaf.rail_section.depth_mm)
    found = stand(design, assemble(design), site_of((0, 0)), 1)
    distance = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    down = (
        -design.outer_leaf.rail_section.depth_mm - design.deck_hinge.height_mm
    )  # of the toe's corner, square to the ramp
    alpha = -found.pose.inner_rad
    assert found.grounds_at_toe
    offset = -down * math.cos(
        alpha
    )  # how far the contact point hangs below the ramp's line through the hinge centre
    assert math.sin(alpha) == pytest.approx((hinge_point(design)[1] - offset) / distance, abs=1e-12)
    assert (offset == 0) == under


def test_a_joint_that_turns_by_its_play_lowers_the_joint():
    stiff, loose = (changed(base_design(), stop__gap_mm=gap) for gap in (0.0, 2.0))
    assert deployed_fold_rad(stiff) == 0
    assert deployed_fold_rad(loose) == pytest.approx(2 * math.atan(2.0 / (2 * loose.stop.arm_mm)))
    a, b = (stand(design, assemble(design), site_of((0, 0)), 1) for design in (stiff, loose))
    assert b.joint[1] < a.joint[1]
    assert b.inner.ratio > a.inner.ratio > b.outer.ratio


@pytest.mark.parametrize(("rise_mm", "toe"), [(0, True), (60, True), (215, False)])
def test_a_bump_under_the_joint_grounds_it(rise_mm, toe):
    """At the joint the ramp stands about 170 mm above level ground, less the knuckle; a higher bump is met
    first.
    """
    found = stand(
        base_design(), base_assembly(), site_of((0, 0), (1300, 0), (1390, rise_mm), (1480, 0), (4000, 0)), 1
    )
    assert found.grounds_at_toe is toe
    if not toe:
        assert "joint knuckle" in found.touches_with


@pytest.mark.parametrize("height", [220, 300, 380])
def test_a_level_top_under_the_round_knuckle(height):
    """A disc of radius g on a level: hinge height + r sin(theta + beta) = level + g."""
    design = base_design()
    found = stand(
        design, base_assembly(), site_of((0, 0), (1340, 0), (1340, height), (1450, height), (1450, 0)), 1
    )
    u, w = design.inner_leaf.length_mm, design.joint.height_mm - design.deck_hinge.height_mm
    level = height + design.joint.knuckle_diameter_mm / 2 - hinge_point(design)[1]
    assert "joint knuckle" in found.touches_with
    assert not found.grounds_at_toe
    assert found.pose.inner_rad == pytest.approx(
        math.asin(level / math.hypot(u, w)) - math.atan2(w, u), abs=1e-12
    )
    assert found.contact == pytest.approx((found.joint[0], height), abs=1e-9)


def test_a_sharp_edge_under_the_round_knuckle():
    """A disc over a corner: rho^2 + r^2 - 2 rho r cos(delta) = g^2 by the cosine rule, solved for the ramp's
    angle.
    """
    design = base_design()
    hinge, corner = hinge_point(design), (1390.0, 250.0)
    found = stand(design, base_assembly(), site_of((0, 0), (1390, 0), corner, (1391, 0), (4000, 0)), 1)
    centre = (design.inner_leaf.length_mm, design.joint.height_mm - design.deck_hinge.height_mm)
    rho, r = math.dist(corner, hinge), math.hypot(*centre)
    delta = math.acos((rho**2 + r**2 - (design.joint.knuckle_diameter_mm / 2) ** 2) / (2 * rho * r))
    angle = math.atan2(corner[1] - hinge[1], corner[0] - hinge[0]) + delta - math.atan2(centre[1], centre[0])
    assert "joint knuckle" in found.touches_with
    assert found.pose.inner_rad == pytest.approx(angle, abs=1e-9)


def test_a_kerb_under_the_outer_leaf_is_met_between_joint_and_toe():
    found = stand(
        base_design(), base_assembly(), site_of((0, 0), (2000, 0), (2000, 150), (2100, 150), (2100, 0)), 1
    )
    assert found.reaches
    assert not found.grounds_at_toe
    assert found.contact == pytest.approx((2000, 150), abs=1e-6) or found.contact == pytest.approx(
        (2100, 150), abs=1e-6
    )


def test_a_ramp_that_does_not_reach_the_ground():
    found = stand(base_design(), base_assembly(), site_of((0, -3000), (6000, -3000)), 1)
    assert not found.reaches
    assert not found.grounds_at_toe
    assert found.pose.inner_rad == 0
    assert found.touches_with == ""


def test_a_platform_above_the_deck_is_a_ramp_the_other_way_round():
    found = stand(base_design(), base_assembly(), site_of((0, 0), (2000, 0), (2000, 700), (5000, 700)), 1)
    assert found.reaches
    assert found.pose.inner_rad > 0
    assert found.inner.rise_mm < 0
    assert found.whole.rise_mm < 0


@pytest.mark.parametrize("drop", [1, 40, 200])
def test_a_deck_sunk_is_a_deck_that_much_lower(drop):
    design = base_design()
    lower = changed(design, carrier__deck_height_mm=design.carrier.deck_height_mm - drop)
    site = site_of((0, 0), (2500, 20))
    a, b = stand(design, base_assembly(), site, 1, drop), stand(lower, base_assembly(), site, 1)
    assert (a.drop_mm, a.pose, a.inner, a.outer, a.joint) == (drop, b.pose, b.inner, b.outer, b.joint)
    assert a.inner.rise_mm < stand(design, base_assembly(), site, 1).inner.rise_mm


@given(ground=GROUNDS)
@settings(max_examples=tries(25))
def test_rise_and_going_belong_to_the_leaf_and_to_the_joint(ground):
    design = base_design()
    found = stand(design, base_assembly(), site_of(*ground), 1)
    for leaf, length in (
        (found.inner, design.inner_leaf.length_mm),
        (found.outer, design.outer_leaf.length_mm),
    ):
        assert math.hypot(leaf.rise_mm, leaf.going_mm) == pytest.approx(length)
        assert leaf.going_mm > 0
    assert found.whole.rise_mm == pytest.approx(found.inner.rise_mm + found.outer.rise_mm)
    assert found.whole.going_mm == pytest.approx(found.inner.going_mm + found.outer.going_mm)
    hinge = hinge_point(design)
    across = design.joint.height_mm - design.deck_hinge.height_mm
    turn = found.pose.inner_rad
    assert found.joint[0] == pytest.approx(hinge[0] + found.inner.going_mm - across * math.sin(turn))
    assert found.joint[1] == pytest.approx(hinge[1] - found.inner.rise_mm + across * math.cos(turn))
    assert abs(found.steepest.ratio) == max(abs(found.inner.ratio), abs(found.outer.ratio))


@pytest.mark.parametrize(
    "ground", [((0, 0),), ((0, 0), (1200, 0), (1200, -90), (1500, -90), (1500, 10), (4000, 10))]
)
def test_room_under_the_joint_is_what_a_prop_must_fill(ground):
    design, site = changed(base_design(), stop__gap_mm=0.0), site_of(*ground)
    found = stand(design, base_assembly(), site, 1)
    corner = box(design.inner_leaf.length_mm, -40, design.inner_leaf.length_mm, -40)
    under = placed(design, corner, "inner", found.pose).centroid
    below = max(
        p[1] for p in ground_area(site).intersection(box(under.x, -1e4, under.x + 1e-6, 1e4)).exterior.coords
    )
    assert found.joint_room_mm == pytest.approx(under.y - below, abs=1e-6)


@given(ground=st.one_of(LEVEL, SLOPING, KERBS, ROUGH), thickness=mm(1, 12), length=mm(60, 400))
@settings(max_examples=tries(20))
def test_the_toe_flap_lies_on_the_ground_as_a_plate_let_down_by_hand(ground, thickness, length):
    design = base_design()
    flap = changed(design, toe__kind="flap", toe__length_mm=length, toe__thickness_mm=thickness)
    site = site_of(*ground)
    found = stand(flap, base_assembly(), site, 1)
    top = box(design.outer_leaf.length_mm, 18, design.outer_leaf.length_mm, 18)
    pivot = placed(design, top, "outer", found.pose).centroid
    area, plate = ground_area(site), box(0, -thickness, length, 0)
    assume(
        not area.intersects(affinity.translate(affinity.rotate(plate, 85, origin=(0, 0)), pivot.x, pivot.y))
    )
    angle = let_down(plate, (pivot.x, pivot.y), area)
    turned = found.pose.inner_rad + found.pose.fold_rad
    if angle is None:
        angle = turned
    assert turned + found.flap_rad == pytest.approx(angle, abs=AGREES_RAD)
    assert found.flap.rise_mm == pytest.approx(-length * math.sin(angle), abs=AGREES_RAD * length)
    tip = pivot.x + length * math.cos(angle), pivot.y + length * math.sin(angle)
    if (
        min(abs(x - tip[0]) for x, _ in ground) > 1
    ):  # beside a kerb's face the height of the ground is a matter of a hair
        assert found.toe_step_mm == pytest.approx(tip[1] - ground_line(site).beyond_mm(tip[0]), abs=0.05)


def test_a_flap_on_level_ground_ends_in_a_step_of_its_thickness():
    """sin(beta) = (height of its hinge - what its lower corner hangs) / length, and the step is t
    cos(beta).
    """
    design = changed(base_design(), toe__kind="flap", toe__length_mm=180, toe__thickness_mm=4)
    found = stand(design, base_assembly(), site_of((0, 0)), 1)
    beta = -(found.pose.inner_rad + found.pose.fold_rad + found.flap_rad)
    assert found.toe_step_mm == pytest.approx(4 * math.cos(beta), abs=1e-9)


def test_a_toe_whose_end_is_above_a_face_meets_the_ground_that_lies_ahead():
    """Off a pavement of 120 mm whose edge is just below the end of the running surface: a wheel that comes
    from beyond climbs the kerb and the toe at once.
    """
    design, level = base_design(), stand(base_design(), base_assembly(), site_of((0, 120)), 1)
    where = placings(design, level.pose)["outer"]
    end, _ = where.point(design.outer_leaf.length_mm, design.outer_leaf.slat_thickness_mm)
    assert end > level.contact[0]
    for edge, more in ((end + 1, 0.0), (end - 2, 90.0)):
        found = stand(design, base_assembly(), site_of((0, 120), (edge, 120), (edge, 0), (9000, 0)), 1)
        assert found.pose.inner_rad == pytest.approx(level.pose.inner_rad, abs=1e-12)
        if more:
            assert found.toe_step_mm > level.toe_step_mm + more
        else:
            assert found.toe_step_mm == pytest.approx(level.toe_step_mm, abs=1e-6)


def test_each_site_stands_as_it_would_alone():
    design = base_design()
    moved = replace(design, sites=tuple(reversed(design.sites)))
    for number, site in enumerate(moved.sites, start=1):
        assert stand(moved, base_assembly(), site, number) == stand(design, base_assembly(), site, number)


@pytest.mark.parametrize(("wall_mm", "most_deg"), [(150.0, 85.0), (250.0, 85.0), (400.0, 82.4)])
def test_it_is_let_down_from_85_degrees_and_no_steeper(wall_mm: float, most_deg: float) -> None:
    """Before a wall that a steeper leaf would lean on."""
    wall = ((0.0, 0.0), (wall_mm, 0.0), (wall_mm + 1, 3500.0), (6000.0, 3500.0))
    design = timber_ramp()
    site = replace(design.sites[0], ground_mm=wall)
    found = math.degrees(stand(design, assemble(design), site, 1).pose.inner_rad)
    assert most_deg - 1 < found <= most_deg
