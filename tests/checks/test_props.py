"""A prop that is kicked: it stands by friction alone, or is tied."""

from dataclasses import replace

import pytest
from ramps import base_design, standing_in

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.model.fields.paths import with_value


def kicked(least_prop_n: float, *, tied: bool) -> Check:
    """Return the check of a prop that the empty ramp presses down so hard."""
    design = with_value(with_value(base_design(), "prop.fitted", value=True), "prop.tied", tied)
    found = evaluate(replace(design, use=replace(design.use, rule_sets=())))
    joint = replace(found.carried.joint, least_prop_n=least_prop_n)
    there = standing_in(found, carried=replace(found.carried, joint=joint))
    return next(check for check in there.checks if check.id == "own/prop-kick")


@pytest.mark.parametrize(("factor", "stands"), [(0.5, False), (0.99, False), (1.0, True), (1.01, True)])
def test_a_prop_stands_a_push_of_200_newtons(factor: float, stands: bool) -> None:
    """By friction of 0.3 on a wet foot plate (common practice)."""
    check = kicked(factor * 200 / 0.3, tied=False)
    assert check.status is (Status.WITHIN if stands else Status.EXCEEDS)
    assert f"F = mu N = 0.3 x {round(factor * 200 / 0.3)} N = {round(200 * factor)} N" in check.working[1]


def test_a_tied_prop_stands_however_light_the_ramp() -> None:
    check = kicked(0.0, tied=True)
    assert check.status is Status.WITHIN
    assert check.value_text == "tied at both ends"
