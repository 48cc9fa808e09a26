"""Ways out that go a little further than a check asks, so that they make no other one fail."""

import pytest

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.least_change import first_true
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.model.fields.paths import changed
from rampdraft.model.starter import starter_design


def failing(evaluation: Evaluation) -> set[str]:
    return {check.id for check in evaluation.all_checks if check.fails}


def test_a_way_that_opens_a_hole_is_not_told_where_a_little_more_opens_none() -> None:
    """A stop bar that floats over its rails: 21 mm lower it lies on enough of them to be welded, and stands
    in the way of the slats; flush with the rails' tops the slats meet over it.
    """
    raised = changed(starter_design(), "stop.arm_mm", 100.0)
    flush = -raised.joint.height_mm
    evaluation = evaluate(raised)
    (check,) = (one for one in evaluation.attaching if one.fails and one.about.part == "inner-stop")
    (way,) = (one for one in ways_out(evaluation, check.id)[check.id] if one.path == "stop.arm_mm")
    assert way.after == flush
    assert not way.breaks
    nearer = failing(evaluate(changed(raised, "stop.arm_mm", flush + 1)))
    assert check.id not in nearer
    assert nearer - failing(evaluation)


@pytest.mark.parametrize("least", [1, 2, 3, 16, 17, 64])
def test_the_first_of_many_is_found_by_doubling_and_halving(least: int) -> None:
    assert first_true(lambda step: step >= least, 7) == least


def test_nothing_is_found_out_of_reach_or_where_nothing_can_be_told() -> None:
    assert first_true(lambda step: step >= 65, 7) is None
    assert first_true(lambda step: None if step > 3 else False, 7) is None
