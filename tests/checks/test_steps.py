"""The steps of the job: nothing is left out of them, and what a step needs next follows from keys."""

import ast
import json
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from rampdraft.checks.quantities.table import QUANTITIES
from rampdraft.checks.result import Check, Result, tally
from rampdraft.checks.step_words import need_words
from rampdraft.checks.steps import (
    BY_KEY,
    STEPS,
    checks_of,
    need_of,
    standing,
    step_of_kind,
    steps_of_field,
)
from rampdraft.errors import Problem
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import fields_of, info_of
from rampdraft.model.starter import starter_design

ROOT = Path(__file__).parents[2]


def every_path(cls: type = Design, prefix: str = "") -> list[str]:
    """Return the path of every value, rows without their numbers."""
    found: list[str] = []
    for info in fields_of(cls):
        inside = info.group or info.rows
        path = f"{prefix}{info.name}"
        found += every_path(inside, f"{path}.") if inside is not None else [path]
    return found


@cache
def known_kinds() -> frozenset[str]:
    """Return the quantities of rules, and the kinds that the demands name; one that is put together there
    ends in a `*`.
    """
    found = set(QUANTITIES)
    for module in (ROOT / "rampdraft" / "checks" / "demands").glob("*.py"):
        for node in ast.walk(ast.parse(module.read_text(encoding="utf-8"))):
            match node:
                case ast.Call(func=ast.Attribute(attr="own"), args=[ast.Constant(value=str(name)), *_]):
                    found.add(f"own/{name}")
                case ast.Call(
                    func=ast.Attribute(attr="own"),
                    args=[ast.JoinedStr(values=[ast.Constant(value=str(name)), *_]), *_],
                ):
                    found.add(f"own/{name}*")
                case _:
                    pass
    return frozenset(found)


@cache
def told_ids() -> frozenset[str]:
    """Return the ids of the program's own checks that are told of the samples."""
    reports = (json.loads(path.read_text("utf-8")) for path in (ROOT / "tests" / "golden").glob("*.json"))
    checks = (check for told in reports for check in told.get("report", {}).get("checks", ()))
    return frozenset(check["id"] for check in checks if check["id"].startswith("own/"))


@cache
def starter() -> Evaluation:
    return evaluate(starter_design())


def test_every_value_belongs_to_a_step_and_steps_name_nothing_that_is_none() -> None:
    assert not [path for path in every_path() if not steps_of_field(path)]
    assert not [path for step in STEPS for path in (*step.fields, *step.wants) if info_of(path) is None]
    assert steps_of_field("use.users[3].mass_kg") == ("survey", "roll")


def test_every_kind_of_check_belongs_to_one_step() -> None:
    assert len(known_kinds()) > 60
    for kind in known_kinds():
        assert sum(step.has_kind(kind.rstrip("*")) or step.has_kind(kind) for step in STEPS) == 1, kind


def test_every_check_of_the_program_s_own_that_the_samples_tell_belongs_to_a_step() -> None:
    assert len(told_ids()) > 100
    for told in told_ids():
        parts = told.split("/")
        kinds = ["/".join(parts[:count]) for count in range(2, len(parts) + 1)]
        assert any(step_of_kind(kind) for kind in kinds), told


def test_steps_name_no_kind_that_nothing_is_of() -> None:
    told = {"/".join(told.split("/")[:2]) for told in told_ids()} | {*known_kinds()}
    for step in STEPS:
        for kind in step.kinds:
            start = kind.rstrip("/*") if kind.endswith("*") else kind
            ends = kind.endswith("*")
            assert any(one.startswith(start) if ends else one == kind for one in told), kind


def test_the_checks_of_the_steps_are_all_checks() -> None:
    checks = starter().checks
    parted = [checks_of(step.key, checks) for step in STEPS]
    assert sum(map(len, parted)) == len(checks) > 50
    assert checks_of("", checks) == checks


@pytest.mark.parametrize("step", [step.key for step in STEPS])
def test_a_step_stands_as_its_checks_do(step: str) -> None:
    found, counts = standing(step, (), starter().checks), tally(checks_of(step, starter().checks))
    assert found.fails == counts[Result.FAILS]
    assert found.unjudged == counts[Result.UNJUDGED]
    told = found.result
    assert (told is Result.FAILS) == bool(found.fails)
    assert (told is Result.PASSES) <= (not found.unjudged)


def failing(kind: str) -> Check:
    """Return a check of the starter's, made one that fails."""
    from rampdraft.checks.result import Status

    found = next(check for check in starter().checks if check.about.kind == kind)
    return replace(found, status=Status.EXCEEDS, demand=replace(found.demand, warning=""))


def test_what_a_step_needs_next_is_first_what_bars_all_else() -> None:
    design, fails = starter_design(), failing("own/stowed")
    wrong = (Problem(key="joint.height_mm", value="", rule="is too high"),)
    assert need_of("fold", design, wrong, (fails,)).key == "joint.height_mm"
    assert need_of("size", design, wrong, (fails,)).kind == "value"
    nobody = replace(design, use=replace(design.use, users=()))
    assert need_of("survey", nobody, (), (fails,)).key == "use.users"
    cure = need_of("size", design, (), (fails,))
    assert (cure.kind, cure.check) == ("cure", fails)
    assert need_words(cure).startswith(f"Cure next: {fails.title[0].lower()}{fails.title[1:]}")
    assert need_of("hold", design, (), (fails,)).key == "size"
    assert need_words(need_of("hold", design, (), (fails,))).endswith("Go on to Size, where 1 fails")
    assert need_of("hold", design, (), ()).key == "carrier"
    assert need_words(need_of("hold", design, (), ())).endswith(f"Go on to {BY_KEY['carrier'].title}")
    assert need_of("prove", design, (), ()).kind == need_of("", design, (), ()).kind == "pack"
    assert need_of("", design, (), (fails,)).check == fails
