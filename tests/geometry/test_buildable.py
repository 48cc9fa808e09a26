"""The rules are complete: a design in which they find no problem can be evaluated, however odd it is."""

from any_design import START, designs
from hypothesis import HealthCheck, assume, given, settings

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value


@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(design=designs(most=3))
def test_what_has_no_problem_can_be_evaluated(design: Design):
    design = with_value(
        design, "use.rule_sets", START.use.rule_sets
    )  # names of rule files that do not exist are told there
    assume(not problems_of(design))
    evaluation = evaluate(design)
    assert evaluation.design is design
    assert evaluation.checks
