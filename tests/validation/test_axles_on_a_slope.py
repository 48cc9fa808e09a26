"""How a slope shares a user's weight between the axles, by the statics of a rigid body: forces and moments
written down in level coordinates and solved, against `dN = W h tan(alpha) / b`.
"""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from written_starter import all_given

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.mechanics.loading.loads import axles_of, mass_centre_mm, tips_at
from rampdraft.model.design import WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.units import G_M_S2

CHAIR = WheeledUser(
    name="chair", kind="powered wheelchair", mass_kg=180, width_mm=680, wheelbase_mm=500,
    front_share_percent=35, mass_centre_height_mm=650,
)  # fmt: skip
DRIVEN_IN_THE_MIDDLE = replace(
    CHAIR, wheelbase_mm=700, front_share_percent=15, middle_share_percent=65, middle_behind_mm=330
)


def on_slope(user: WheeledUser, grade: float, *, forwards: bool) -> tuple[float, float]:
    """Return the forces square to the surface of a chair on two axles, (upper, lower), N: no force across, no
    moment, with the wheels' brakes taking what pulls along the slope.
    """
    slope, base = math.atan(grade), user.wheelbase_mm
    from_front = base * (1 - user.front_share_percent / 100)
    from_upper = from_front if forwards else base - from_front
    along, out = np.array((math.cos(slope), -math.sin(slope))), np.array((math.sin(slope), math.cos(slope)))
    upper, lower = np.zeros(2), base * along
    mass = from_upper * along + user.mass_centre_height_mm * out
    weight = user.mass_kg * G_M_S2
    # Square forces at both axles, and one force along the surface, whose line passes through both of them.
    turning = lower[0] * out[1] - lower[1] * out[0]
    matrix = np.array([[out[0], out[0], -along[0]], [out[1], out[1], -along[1]], [0.0, turning, 0.0]])
    right = np.array((0.0, weight, mass[0] * weight))
    first, second, _ = np.linalg.solve(matrix, right)
    assert upper @ upper == 0
    return float(first), float(second)


@given(st.floats(0, 0.35), st.floats(200, 900), st.floats(300, 1200), st.floats(20, 80), st.booleans())
def test_the_lower_axle_has_more_by_statics(grade, height, base, share, forwards):
    user = replace(CHAIR, mass_centre_height_mm=height, wheelbase_mm=base, front_share_percent=share)
    upper, lower = on_slope(user, grade, forwards=forwards)
    assume(upper > 0)
    found = axles_of(user, forwards=forwards, grade=grade)
    square = math.cos(math.atan(grade))
    assert [axle.force_n * square for axle in found] == pytest.approx([upper, lower], abs=1e-6)


def test_by_hand():
    """180 kg at 650 mm over 500 mm on 1 : 6: 180 x 9.80665 x 650 / 500 / 6 = 382.46 N go from 617.82 N."""
    front, rear = axles_of(CHAIR, grade=1 / 6)
    assert front.force_n == pytest.approx(617.82 - 382.46, abs=0.01)
    assert rear.force_n == pytest.approx(1147.38 + 382.46, abs=0.01)
    lower, upper = reversed(axles_of(CHAIR, forwards=False, grade=1 / 6))
    assert (lower.force_n, upper.force_n) == pytest.approx((617.82 + 382.46, 1147.38 - 382.46), abs=0.01)


@pytest.mark.parametrize("forwards", [True, False])
def test_downward_the_other_axle_is_the_lower_one(forwards):
    """Where the ramp falls towards the deck, it is as if the user went the other way round."""
    down = axles_of(CHAIR, forwards=forwards, grade=-0.1)
    up = axles_of(CHAIR, forwards=not forwards, grade=0.1)
    assert [axle.force_n for axle in down] == pytest.approx([axle.force_n for axle in reversed(up)])


def test_no_more_than_all_moves():
    """At 1 : 1 the front axle is off the surface: the rear one has all of it."""
    front, rear = axles_of(CHAIR, grade=1.0)
    assert (front.force_n, rear.force_n) == pytest.approx((0.0, 180 * G_M_S2))


def test_a_middle_axle_keeps_its_share():
    level, slope = (axles_of(DRIVEN_IN_THE_MIDDLE, grade=grade) for grade in (0.0, 0.1))
    weight, moved = 180 * G_M_S2, 180 * G_M_S2 * 650 / 700 * 0.1
    assert [axle.offset_mm for axle in level] == [0.0, 330.0, 700.0]
    assert [axle.force_n for axle in level] == pytest.approx([0.15 * weight, 0.65 * weight, 0.2 * weight])
    change = [there.force_n - here.force_n for there, here in zip(slope, level, strict=True)]
    assert change == pytest.approx([-moved, 0.0, moved])


def test_a_middle_axle_gives_when_the_front_has_no_more():
    """Where the front castors have no load left the chair stands on two axles: moments about the rear one."""
    grade, weight = 0.3, 180 * G_M_S2
    front, middle, rear = axles_of(DRIVEN_IN_THE_MIDDLE, grade=grade)
    assert front.force_n == 0
    assert middle.force_n + rear.force_n == pytest.approx(weight)
    mass_mm = 0.15 * 700 + 0.65 * (700 - 330)
    assert middle.force_n * (700 - 330) == pytest.approx(weight * (mass_mm - 650 * grade))


def tipping(user, share):
    """Return the check of a user on the starter's ramp that tips at this share of its steepest leaf."""
    design = starter_design()
    (steepest, _) = evaluate(design).grades
    user = replace(user, mass_centre_height_mm=0.35 * user.wheelbase_mm / (share * steepest))
    found = evaluate(replace(design, use=replace(design.use, users=(user,))))
    (check,) = (one for one in found.checks if one.about.kind == "own/user-tips")
    return check


@pytest.mark.parametrize(("share", "fails"), [(0.99, True), (1.01, False)])
def test_a_chair_that_tips_on_the_steepest_leaf_fails(share, fails):
    """The static angle, atan(x / h): statics of a rigid body, as measured on a tilting platform (Loane and
    Kirby 1985 give 28.6 degrees for conventional occupied chairs).
    """
    check = tipping(CHAIR, share)
    assert check.fails is fails
    assert check.ratio == pytest.approx(1 / share)


def test_the_platform_of_loane_and_kirby_by_the_formula():
    """28.6 degrees: a chair of 29 % on its castors (RESNA 2006) and 450 mm between its axles has its mass
    centre 239 mm above what it tips about.
    """
    x, grade = tips_at(
        replace(CHAIR, wheelbase_mm=450, front_share_percent=29, mass_centre_height_mm=0.29 * 450 / 0.5452)
    )
    assert x == pytest.approx(130.5)
    assert math.degrees(math.atan(grade)) == pytest.approx(28.6, abs=0.01)


def test_where_it_tips_nothing_is_left_on_the_upper_axle():
    _, grade = tips_at(CHAIR)
    for share, left in ((0.99, True), (1.01, False)):
        front, _ = axles_of(CHAIR, grade=share * grade)
        assert (front.force_n > 0) is left


def test_usual_heights():
    """Common practice, as the form says."""
    usual = replace(CHAIR, mass_centre_height_mm=0)
    assert mass_centre_mm(usual) == 650
    assert mass_centre_mm(replace(usual, kind="barrow")) == 500
    assert mass_centre_mm(CHAIR) == CHAIR.mass_centre_height_mm


def library() -> Path:
    return next(path for path in sample_paths() if path.stem == "library-trailer")


def test_slats_that_would_pass_on_the_level():
    """The library trailer with slats of 7 mm on rails 10 mm nearer the middle: within their strength under
    level axles, and 1.39 times as much, 132 for 95, with the mass centre at 650 mm on its steepest slope, 1
    : 6.15.
    """
    design = all_given(load_design(library()))
    for leaf, lanes in (("inner_leaf", (138.0, 400.0)), ("outer_leaf", (86.0, 348.0))):
        design = with_value(design, f"{leaf}.slat_thickness_mm", 7.0)
        design = with_value(design, f"{leaf}.rail_lanes_mm", (-lanes[1], -lanes[0], *lanes))
    found = evaluate(design, library().parent)
    assert found.grades == pytest.approx((0.16262, 0.0), abs=2e-4)
    (check,) = (one for one in found.checks if one.id == "own/strength/outer-slats")
    low = tuple(replace(user, mass_centre_height_mm=1) for user in design.use.users)
    level = evaluate(replace(design, use=replace(design.use, users=low)), library().parent)
    (before,) = (one for one in level.checks if one.id == "own/strength/outer-slats")
    assert not before.fails
    assert check.fails
    assert before.ratio is not None
    assert check.ratio == pytest.approx(before.ratio * 132 / 95, rel=0.01)


@pytest.mark.parametrize(
    ("values", "key"),
    [
        ({"mass_centre_height_mm": 2100}, "mass_centre_height_mm"),
        ({"wheelbase_mm": 0}, "wheelbase_mm"),
        ({"middle_share_percent": 20, "middle_behind_mm": 600}, "middle_behind_mm"),
        ({"middle_share_percent": 20, "middle_behind_mm": 0}, "middle_behind_mm"),
        ({"middle_share_percent": 70, "middle_behind_mm": 300}, "middle_share_percent"),
    ],
)
def test_a_user_that_cannot_be(values, key):
    design = load_design(library())
    user = replace(CHAIR, **values)
    (problem,) = problems_of(replace(design, use=replace(design.use, users=(user,))))
    assert problem.key == f"use.users[1].{key}"
    assert problem.way_out or problem.rule.startswith("must be from")
