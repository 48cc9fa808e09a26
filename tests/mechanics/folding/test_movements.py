"""What a movement of the fold is called, each at both sides of its limit, and the sentence that tells it."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.words import Movement, movement, sentence, toe_room_mm

RAMP = timber_ramp()
YARD, KERB = RAMP.sites


def pose(inner_deg: float, fold_deg: float) -> Pose:
    return Pose(math.radians(inner_deg), math.radians(fold_deg))


def named(start: tuple[float, float], end: tuple[float, float]) -> Movement:
    return movement(RAMP, YARD, pose(*start), pose(*end))


@pytest.mark.parametrize(
    ("start", "end", "kind"),
    [
        ((20, 0), (60, 0), "together"),
        ((20, -2), (60, -4.9), "together"),
        ((20, -4.9), (60, -2), "together"),
        ((20, -2), (60, -5.1), "both"),
        ((90, -100), (90, -170), "swing"),
        ((89, -100), (91.9, -170), "swing"),
        ((91.9, -100), (89, -170), "swing"),
        ((89, -100), (92.1, -170), "both"),
        ((60, -150), (90, -180), "hang"),
        ((60, -150), (90, -180 - 11.9), "hang"),
        ((60, -150), (90, -180 - 12.1), "both"),
        ((60, -150), (90, -180 + 12.1), "both"),
        # Only halfway is it far from the plumb line.
        ((60, -150 + 24.1), (90, -180), "both"),
        ((60, -150 + 23.9), (90, -180), "hang"),
    ],
)
def test_a_movement_is_called_by_what_turns(start, end, kind):
    assert named(start, end) == kind


def test_the_toe_is_drawn_in_where_it_is_near_the_ground_halfway():
    # Of the poses in steps of a hundredth of a degree those beside 45 mm.
    angles = [(-15 + step / 100, -30.0) for step in range(3000)]
    rooms = [toe_room_mm(RAMP, YARD, pose(*one)) for one in angles]
    (near,) = [k for k, (low, high) in enumerate(pairwise(rooms)) if low < 45 <= high]
    for at, kind in ((near, "slide"), (near + 1, "both")):
        inner, fold = angles[at]
        assert named((inner - 20, fold + 40), (inner + 20, fold - 40)) == kind


def test_the_room_under_the_toe_of_a_level_ramp():
    hinge = RAMP.deck_hinge
    level = RAMP.carrier.deck_height_mm - hinge.below_mm - hinge.height_mm - 40  # rails 40 deep
    assert toe_room_mm(RAMP, YARD, pose(0, 0)) == pytest.approx(level)
    assert toe_room_mm(RAMP, KERB, pose(0, 0)) == pytest.approx(level - 120)


@pytest.mark.parametrize(
    ("kind", "end", "told"),
    [
        (
            "slide",
            (40, -90),
            "Lift the joint until the inner leaf stands at 40°; the toe comes in just off the ground",
        ),
        ("hang", (90, -180), "Raise the inner leaf to 90° and let the outer leaf hang"),
        ("together", (90, -180), "Turn both leaves together until the inner leaf stands at 90°"),
        ("swing", (90, -178), "Swing the outer leaf until it lies against the inner leaf"),
        ("swing", (90, -176), "Swing the outer leaf until it stands at 176° to the inner leaf"),
        (
            "both",
            (70, -120),
            "Bring the inner leaf to 70° and the outer leaf to 120° from straight, both at once",
        ),
    ],
)
def test_a_sentence_tells_what_to_do(kind, end, told):
    assert sentence(RAMP, kind, pose(*end), last=False) == f"{told}."
    assert sentence(RAMP, kind, pose(*end), last=True) == f"{told}, and latch it."


def test_faces_together_the_outer_leaf_comes_to_lie_on_the_inner_one():
    faces = replace(RAMP, fold=replace(RAMP.fold, closing="faces"))
    told = sentence(faces, "swing", pose(90, 180), last=False)
    assert told == "Swing the outer leaf over until it lies on the inner leaf."
