"""The bridge plate in the fold: it rides on the inner leaf, and the outer leaf keeps clear of it; against
shapely, which lays it down in each pose.
"""

import math

import pytest
import shapely
from plain_clearance import changed, designs, placed, polygon

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.bridge import bridge_placing
from rampdraft.geometry.linkage import moved

RIDING = {
    name: changed(design, bridge__turned_back=False, use__rule_sets=()) for name, design in designs().items()
}


def least_of_pairs(evaluation):
    return min(
        (pair for pair in evaluation.clearance.pairs if pair.what.startswith("bridge plate")),
        key=lambda pair: pair.certified_mm,
    )


def nearest_mm(evaluation, poses):
    """Return the least distance of the plate, as it rides, to the outer leaf; 0 in a clash."""
    design, assembly = evaluation.design, evaluation.assembly
    (plate,) = (one for one in assembly.members if one.role == "bridge plate")
    outer = [
        (polygon(one.silhouette), one)
        for one in assembly.of("outer")
        if min(one.y1_mm, plate.y1_mm) - max(one.y0_mm, plate.y0_mm) > 1e-6
    ]
    found = math.inf
    for number in range(poses + 1):
        pose = evaluation.path.pose(number / poses)
        lies = polygon(moved(plate.silhouette, bridge_placing(design, assembly, pose, 0.0)))
        found = min(found, *(placed(design, shape, "outer", pose).distance(lies) for shape, _ in outer))
    return found


@pytest.mark.parametrize("name", sorted(name for name, one in RIDING.items() if one.bridge.fitted))
def test_no_pose_has_less_than_what_is_certified(name):
    evaluation = evaluate(RIDING[name])
    assert least_of_pairs(evaluation).certified_mm <= nearest_mm(evaluation, 40)


def test_faces_together_the_outer_leaf_lies_where_the_plate_rides():
    """The orchard trolley folds its toe onto the plate: it clashes, unless the plate is turned back first."""
    riding = evaluate(RIDING["orchard-trolley"])
    assert nearest_mm(riding, 20) == 0
    failing = {check.about.pair for check in riding.checks if check.fails}
    assert any(pair and pair[0].role == "bridge plate" for pair in failing)
    turned = evaluate(changed(RIDING["orchard-trolley"], bridge__turned_back=True))
    assert not [check.id for check in turned.checks if check.fails]
    pair = least_of_pairs(turned)
    assert pair.certified_mm >= 3


def test_turned_back_it_lies_on_its_strip():
    """The inner leaf of the library trailer stands upright 16 from the deck edge: the face of its slats."""
    turned = evaluate(changed(RIDING["library-trailer"], bridge__turned_back=True))
    pair = next(one for one in turned.clearance.pairs if one.what == "bridge plate - inner slat")
    assert pair.clearance_mm == pytest.approx(44 - 20 - 8)


def test_turned_back_it_is_as_thick_as_it_is():
    """The outer leaf of the orchard trolley swings over onto it: as near as shapely finds it."""
    turned = evaluate(changed(RIDING["orchard-trolley"], bridge__turned_back=True, bridge__thickness_mm=12.0))
    design, assembly = turned.design, turned.assembly
    (plate,) = (one for one in assembly.members if one.role == "bridge plate")
    u0, w0, u1, w1 = polygon(plate.silhouette).bounds
    height = design.carrier.deck_height_mm + w1
    lies = shapely.box(-u1, height, -u0, height + w1 - w0)
    assert w1 - w0 == pytest.approx(design.bridge.thickness_mm)
    shapes = [
        (polygon(one.silhouette), one.body)
        for one in assembly.of("inner", "outer")
        if min(one.y1_mm, plate.y1_mm) - max(one.y0_mm, plate.y0_mm) > 1e-6
        and one.role not in ("pin", "washer")
    ]
    poses = [turned.path.pose(number / 60) for number in range(61)]
    nearest = min(
        placed(design, shape, body, pose).distance(lies) for shape, body in shapes for pose in poses
    )
    pair = least_of_pairs(turned)
    assert pair.certified_mm <= nearest
    assert pair.clearance_mm == pytest.approx(nearest, abs=0.1)
