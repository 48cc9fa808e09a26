"""What a step asks of the smallest wheel: the published closed form, whose wheel it is, and the advice."""

import math
from dataclasses import replace

import pytest
from timber_ramp import timber_ramp

from rampdraft.checks.result import Check, Measured, Result
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class


def design(**radii: float) -> Design:
    users = (
        of_class("Barrow", "barrow"),
        replace(of_class("Chair", "manual wheelchair"), **radii),
    )
    return with_value(timber_ramp(), "use.users", users)


def check_of(of: Design) -> Check:
    (check,) = evaluate(of).bumpy
    return check


def highest_mm(of: Design) -> float:
    evaluation = evaluate(of)
    floor = [one for one in evaluation.checks if one.id.startswith("floor/step")]
    return max(one.value for one in floor if one.value is not None)


def test_the_highest_step_and_the_smallest_wheel_by_the_closed_form() -> None:
    """F (r - h) = W root(2 r h - h2): Halliday, Resnick, Walker, chapter 12."""
    of, radius = design(front_radius_mm=80.0), 80.0
    height, check = highest_mm(of), check_of(of)
    assert check.value == pytest.approx(math.sqrt(2 * radius * height - height**2) / (radius - height))
    assert check.about.user == 2
    assert check.subject.startswith("Chair, front wheel")
    assert check.warning_only


def test_it_is_advice_beyond_the_load_and_where_no_force_lifts_the_wheel() -> None:
    height = highest_mm(design())
    even = height / (1 - 1 / math.sqrt(2))  # the way rises by 45 degrees at the step: F = W
    for radius, result in (
        (1.2 * even, Result.PASSES),
        (0.98 * even, Result.ADVICE),
        (height, Result.ADVICE),
    ):
        check = check_of(design(front_radius_mm=max(radius, 10.0)))
        assert check.result is result
    assert check_of(design(front_radius_mm=max(height, 10.0))).value_text


def test_hands_are_no_wheel_and_nobody_is_asked_nothing() -> None:
    only = with_value(timber_ramp(), "use.users", (of_class("Barrow", "barrow"),))
    assert check_of(only).subject.startswith("Barrow, front wheel")
    assert not evaluate(with_value(timber_ramp(), "use.users", ())).bumpy
    assert isinstance(check_of(only).found, Measured)
