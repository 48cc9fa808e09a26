"""The search for a fold, and the room that it needs, held against plain polygons on samples and random
ramps.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from buildable_folds import dense, standing
from plain_clearance import MEANT_TO_TOUCH, Scene, changed, designs, placed, polygon
from tries import first

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.envelope import envelope
from rampdraft.mechanics.folding.folding import closed_pose, fold_path, stages_of
from rampdraft.mechanics.folding.search import Blocked, FoundPath, find_fold
from rampdraft.mechanics.handling.hand_force import hand_force

GOOD = sorted(name for name in designs() if name != "too-steep")
NAMES = (*GOOD, *range(12))


def least_mm(scene: Scene, pose: Pose) -> float:
    """Return the least distance of all that is not meant to touch, by shapely."""
    judged = np.array([family not in MEANT_TO_TOUCH for family in scene.families])
    a, b = scene.at(pose, judged)
    return float(shapely.distance(a, b).min())


@pytest.mark.parametrize("name", first(4, NAMES))
def test_a_way_found_keeps_what_is_demanded_from_deployed_to_stowed(name: str | int) -> None:
    design, assembly, site, deployed = standing(name)
    found = find_fold(design, assembly, site, deployed)
    if isinstance(found, Blocked):
        assert name not in GOOD
        assert found.bodies
        assert all(body.member_a in found.words for body in found.bodies[:3])
        return
    poses, end = found.path.poses, closed_pose(design)
    assert (poses[0].inner_rad, poses[0].fold_rad) == (deployed.inner_rad, deployed.fold_rad)
    assert (poses[-1].inner_rad, poses[-1].fold_rad) == pytest.approx((end.inner_rad, end.fold_rad))
    assert all(stage.say for stage in found.path.stages)
    demanded = design.fold.clearance_mm
    assert found.clearance.tightest.certified_mm >= demanded
    scene = Scene(design, assembly)
    assert min(least_mm(scene, pose) for pose in dense(poses, 2.0)) >= demanded - 0.02


@pytest.mark.parametrize("name", GOOD)
def test_the_way_found_is_no_heavier_than_the_usual_one_and_short_to_tell(name: str) -> None:
    design, assembly, site, deployed = standing(name)
    found = find_fold(design, assembly, site, deployed)
    assert isinstance(found, FoundPath)
    usual = hand_force(design, assembly, fold_path(design, site, deployed))
    assert abs(hand_force(design, assembly, found.path).peak.peak_n) <= abs(usual.peak.peak_n) + 1e-9
    assert len(found.path.stages) <= 6


@pytest.mark.parametrize("name", first(4, NAMES))
def test_the_work_of_the_hand_is_the_gain_of_energy(name: str | int) -> None:
    design, assembly, site, deployed = standing(name)
    for kind in ("none", "torsion", "gas"):
        helped = changed(design, assist__kind=kind, assist__rate_nmm_deg=1200.0, assist__slack_deg=60.0)
        found = hand_force(helped, assembly, fold_path(helped, site, deployed))
        assert found.work_error < 1e-6


def test_the_users_own_way_points_are_certified_again() -> None:
    design, assembly, site, deployed = standing("library-trailer")
    found = find_fold(design, assembly, site, deployed)
    assert isinstance(found, FoundPath)
    taken = evaluate(replace(design, fold_stages=stages_of(found.path)))
    assert taken.fold.clearance.tightest.certified_mm == pytest.approx(
        found.clearance.tightest.certified_mm, abs=0.1
    )
    first = taken.design.fold_stages[0]
    low = replace(first, inner_deg=first.inner_deg - 25.0)  # through the ground
    pulled = evaluate(replace(taken.design, fold_stages=(low, *taken.design.fold_stages[1:])))
    assert pulled.fold.clearance.tightest.clearance_mm < 0


def test_a_blocked_fold_names_bodies_that_are_too_near() -> None:
    design, assembly, site, deployed = standing("too-steep")
    found = find_fold(design, assembly, site, deployed)
    assert isinstance(found, Blocked)
    assert least_mm(Scene(design, assembly), found.pose) == 0
    assert found.clearance_mm < design.fold.clearance_mm


@pytest.mark.parametrize("name", first(4, NAMES))
def test_the_room_is_never_told_too_small(name: str | int) -> None:
    design, assembly, site, deployed = standing(name)
    path = fold_path(design, site, deployed)
    found = envelope(design, assembly, path)
    members = [member for member in assembly.of("inner", "outer") if member.role not in ("pin", "washer")]
    shapes = [(member.body, polygon(member.silhouette)) for member in members]
    front = top = -math.inf
    for pose in dense(path.poses, 2.0):
        at = [placed(design, shape, body, pose).bounds for body, shape in shapes]
        front, top = max(front, *(box[2] for box in at)), max(top, *(box[3] for box in at))
    assert 0 <= found.in_front_mm - front < 15  # a knuckle counts as the square round it
    assert 0 <= found.above_ground_mm - top < 15
    assert found.above_deck_mm == pytest.approx(
        max(0.0, found.above_ground_mm - design.carrier.deck_height_mm)
    )
