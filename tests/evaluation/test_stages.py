"""The contract of stages: each reads what it is declared to read, is shared where that stays, and else is as
a fresh evaluation has it.
"""

import gc
import pickle
import weakref
from collections import Counter
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from alike import alike, writable
from any_design import any_change, buildable_designs
from hypothesis import given, settings
from hypothesis import strategies as st
from recording import noting, read_by
from timber_ramp import timber_ramp
from tries import first, tries

from rampdraft.checks.quantities.table import QUANTITIES
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.evaluation.graph import Graph
from rampdraft.evaluation.stage import Stage
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.fields.paths import value_at, walk, with_value
from rampdraft.model.spacing import follows

SAMPLES = {path.stem: path for path in sample_paths()}
MADE = tuple(stage for stage in Evaluation.stages if stage.name != "rule_sets")
KEPT_APART = tuple(stage for stage in MADE if not stage.aside)


def sample(name: str) -> Evaluation:
    return evaluate(load_design(SAMPLES[name]), SAMPLES[name].parent)


def declared(stage: Stage[Any], path: str) -> bool:
    plain = path.replace("]", "").split("[")[0] if "[" in path else path
    return any(f"{plain}.".startswith(f"{read}.") for read in stage.reads)


# -----------------------------------------------------------------------------------------------------------
# What is declared


@pytest.mark.parametrize("name", first(1, list(SAMPLES)))
def test_a_stage_reads_no_more_than_it_is_declared_to(name: str) -> None:
    evaluation = sample(name)
    for stage in MADE:
        beyond = {path for path in read_by(stage, evaluation) if not declared(stage, path)}
        assert not beyond, (stage.name, sorted(beyond))


@settings(max_examples=tries(15), deadline=None)
@given(buildable_designs())
def test_a_stage_of_any_design_reads_no_more_than_it_is_declared_to(design: Design) -> None:
    try:
        evaluation = evaluate(design)
    except DesignError:
        return
    for stage in KEPT_APART:
        beyond = {path for path in read_by(stage, evaluation) if not declared(stage, path)}
        assert not beyond, (stage.name, sorted(beyond))


def test_what_is_declared_is_a_part_of_a_design_and_no_stage_comes_before_its_needs() -> None:
    known: set[str] = set()
    for stage in Evaluation.stages:
        assert {need.name for need in stage.needs} <= known, stage.name
        known.add(stage.name)
        for path in stage.reads:
            value_at(timber_ramp(), path)


def test_a_quantity_of_rules_is_judged_by_one_stage() -> None:
    found = Counter(name for stage in Evaluation.by_rules for name in stage.quantities)
    assert found == Counter(dict.fromkeys(QUANTITIES, 1))


def test_the_noting_design_tells_what_is_read() -> None:
    """The comparator can fail: what is read is told, what is not read is not."""
    seen: set[str] = set()
    design = noting(timber_ramp(), seen)
    assert design.inner_leaf.length_mm == timber_ramp().inner_leaf.length_mm
    assert seen == {"inner_leaf", "inner_leaf.length_mm"}
    _ = design.sites[0].name
    assert "sites[1].name" in seen
    assert design == timber_ramp()
    assert hash(design.joint) == hash(timber_ramp().joint)


# -----------------------------------------------------------------------------------------------------------
# What is shared


def unmoved(path: str) -> set[str]:
    """Return the stages that, as declared, cannot feel a change of the value at a path."""
    moved: set[str] = set()
    for stage in Evaluation.stages:
        if any(need.name in moved for need in stage.needs) or feels(stage, path):
            moved.add(stage.name)
    return {stage.name for stage in MADE} - moved


def feels(stage: Stage[Any], path: str) -> bool:
    plain = path.split("[", maxsplit=1)[0]
    return any(
        f"{plain}.".startswith(f"{read}.") or f"{read}.".startswith(f"{plain}.") for read in stage.reads
    )


@settings(max_examples=tries(10), deadline=None)
@given(st.data())
def test_one_change_leaves_what_does_not_read_it_and_all_else_is_as_if_fresh(data: st.DataObject) -> None:
    design = data.draw(buildable_designs())
    try:
        before = evaluate(design).complete()
    except DesignError:
        return
    path, value = data.draw(any_change(design))
    try:
        fresh = evaluate(with_value(design, path, value))
    except DesignError:
        return
    after = before.changed(path, value)
    kept = unmoved(path)
    for one, _, now in walk(after.design):  # what follows from the value has changed with it
        if follows(after.design, one) and now != value_at(before.design, one):
            kept &= unmoved(one)
    for stage in KEPT_APART:
        found = after.made(stage)
        if stage.name in kept:
            assert found is before.made(stage), (stage.name, path)
        assert alike(found, fresh.made(stage)), (stage.name, path, value)


def test_a_heavier_user_leaves_the_fold_alone() -> None:
    before = sample("library-trailer").complete()
    after = before.changed("use.users[1].mass_kg", before.design.use.users[0].mass_kg + 10).complete()
    folds = {
        "assembly",
        "deployed",
        "path",
        "clearance",
        "hand",
        "envelope",
        "stowed",
        "fold",
        "parts",
        "plan",
    }
    assert not folds & after.worked
    assert {"standing", "loads", "carried", "strength", "checks"} <= after.worked


def test_the_clear_width_follows_a_narrower_leaf() -> None:
    before = sample("library-trailer").complete()
    narrower = before.design.outer_leaf.width_mm - 40
    after = before.changed("outer_leaf.width_mm", narrower)
    (width,) = (check for check in after.checks if check.id == "own/usual-width")
    assert width.value is not None
    assert width.value <= narrower
    assert width in evaluate(after.design, SAMPLES["library-trailer"].parent).checks


def test_a_change_taken_back_is_as_before() -> None:
    before = sample("too-steep").complete()
    after = before.changed("inner_leaf.length_mm", 900.0).complete()
    back = after.changed("inner_leaf.length_mm", before.design.inner_leaf.length_mm).complete()
    assert back == before
    assert back != after
    assert alike(back.checks, before.checks)


def test_what_stands_aside_is_made_only_when_asked_for_and_is_shared() -> None:
    before = evaluate(timber_ramp()).complete()
    assert not before.stands(Evaluation.clearance_map)
    surface = before.clearance_map
    heavier = before.changed("use.rated_load_kg", 250.0).complete()
    assert heavier.clearance_map is surface
    longer = before.changed("inner_leaf.length_mm", before.design.inner_leaf.length_mm + 10).complete()
    assert not longer.stands(Evaluation.clearance_map)


def test_a_fault_in_one_stage_leaves_the_others() -> None:
    evaluation = evaluate(timber_ramp())
    broken = Evaluation(replace(evaluation.design, sites=()), ())
    assert broken.assembly.members
    with pytest.raises(IndexError):
        _ = broken.deployed


def test_a_change_that_cannot_be_built_is_refused() -> None:
    with pytest.raises(DesignError):
        evaluate(timber_ramp()).changed("inner_leaf.length_mm", 1.0)


def test_given_stages_are_not_made() -> None:
    with pytest.raises(LookupError):
        Graph(timber_ramp(), {}).made(Evaluation.rule_sets)


# -----------------------------------------------------------------------------------------------------------
# In another process


def test_an_evaluation_sent_elsewhere_is_the_same_and_stays_read_only() -> None:
    here = sample("library-trailer").complete()
    there = pickle.loads(pickle.dumps(here))
    assert there == here
    assert there is not here
    for stage in KEPT_APART:
        assert alike(there.made(stage), here.made(stage)), stage.name
        assert not writable(here.made(stage)), stage.name
        assert not writable(there.made(stage)), stage.name
    assert not there.worked - here.worked
    lighter = there.changed("use.users[1].mass_kg", 50.0)
    assert lighter.clearance is there.clearance


def test_read_only_and_alike_are_told_by_what_can_fail() -> None:
    array = np.zeros(3)
    assert writable((array,)) == ["0.array"]
    assert alike(array, np.zeros(3))
    assert not alike(array, np.ones(3))
    user = WheeledUser(name="Dinner trolley", kind="trolley", mass_kg=60, width_mm=500)
    assert not alike(user, replace(user, mass_kg=61))


def test_what_is_completed_elsewhere_is_taken_and_what_stands_is_shared_first() -> None:
    before = sample("library-trailer").complete()
    after = before.changed("workshop.kerf_mm", before.design.workshop.kerf_mm + 1)
    elsewhere = pickle.loads(pickle.dumps(after)).complete()
    stood = after.assembly
    after.take(elsewhere)
    assert after.assembly is stood is before.assembly
    assert after.carried is before.carried
    assert after.plan is elsewhere.plan
    assert not after.worked & {"plan", "checks"}, "nothing is worked out here"
    assert all(after.stands(stage) for stage in after.stages if not stage.aside)


def test_of_many_that_follow_one_another_only_the_last_is_kept() -> None:
    first = sample("library-trailer").complete()
    second = first.changed("workshop.kerf_mm", first.design.workshop.kerf_mm + 1)
    second.part()
    third = second.changed("workshop.kerf_mm", first.design.workshop.kerf_mm + 2)
    gone = weakref.ref(first)
    kept = first.carried
    del first
    gc.collect()
    assert gone() is None
    assert third.carried is kept, "what both left as it was is shared over the one between"
