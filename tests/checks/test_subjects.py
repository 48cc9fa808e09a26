"""Keys of what checks are made on: names say nothing."""

from dataclasses import replace

from rampdraft.checks.result import Subjects
from rampdraft.checks.rules.rule import all_loads
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.mechanics.loading.loads import is_of, is_of_use
from rampdraft.model.starter import starter_design


def test_the_key_of_a_reference_kerb_is_its_height_whatever_it_is_called() -> None:
    pose = replace(evaluate(starter_design()).sites[0], site="Kerb of reference", site_number=0)
    assert Subjects(starter_design(), {"kerbs": {150.0: (pose,)}}).key(pose) == f"kerb-150-{pose.state}"


def test_whose_a_load_is_stands_in_its_field_not_in_its_key() -> None:
    found = evaluate(starter_design())
    loads = all_loads(found.design, found.rule_sets, found.grades)
    renamed = [replace(load, key="a/b#c" if is_of_use(load) else "a") for load in loads]
    assert [is_of_use(load) for load in renamed] == [is_of_use(load) for load in loads]
    assert {load.demanded for load in loads if not is_of_use(load)} <= {
        f"{rules.key}/{limit.id}" for rules in found.rule_sets for limit in rules.limits
    }
    assert all(is_of(load, load.demanded) for load in renamed)
