"""The rules are complete: a design in which they find no problem can be evaluated, however odd it is."""

import pytest
from any_design import START, any_change, any_design, buildable_designs
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tries import tries

from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at, walk, with_value
from rampdraft.model.fields.values import value_problems


@settings(max_examples=tries(25), deadline=None, suppress_health_check=list(HealthCheck))
@given(design=buildable_designs())
def test_what_can_be_built_can_be_evaluated(design: Design):
    assert evaluate(design).checks


@settings(max_examples=tries(15), deadline=None, suppress_health_check=list(HealthCheck))
@given(design=any_design(most=3))
def test_what_has_no_problem_can_be_evaluated(design: Design):
    design = with_value(
        design, "use.rule_sets", START.use.rule_sets
    )  # names of rule files that do not exist are told there
    problems = problems_of(design)
    if not problems:
        assert evaluate(design).checks
        return
    assert all(problem.rule for problem in problems)
    with pytest.raises(DesignError):
        assert evaluate(design).checks


@settings(max_examples=tries(15), deadline=None, suppress_health_check=list(HealthCheck))
@given(drawn=st.data())
def test_a_change_of_one_field_is_another_value_that_its_record_allows(drawn: st.DataObject):
    design = drawn.draw(buildable_designs())
    path, value = drawn.draw(any_change(design))
    assert value != value_at(design, path)
    assert not [
        problem
        for one, info, some in walk(with_value(design, path, value))
        if one == path
        for problem in value_problems(one, info, some)
    ]
