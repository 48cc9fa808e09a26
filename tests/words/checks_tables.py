"""What the tables of the checks, and the files of rules, hold for people to read."""

import importlib
import pkgutil
from collections.abc import Iterator
from typing import get_args

import rampdraft.checks.demands
from rampdraft.checks import notes, result, steps
from rampdraft.checks.demands import bumps, holding, road, rolling_cases, staying
from rampdraft.checks.quantities.table import QUANTITIES, UnknownQuantity
from rampdraft.checks.rules.places import USED_AT
from rampdraft.checks.rules.rule import NUMBERS, Authority, RuleSet
from rampdraft.checks.rules.sets import builtin_rule_sets, floor
from rampdraft.model.catalogue import survey_classes


def said_by_checks() -> Iterator[str]:
    """Yield what is said by `say(CONSTANT)` and its like."""
    yield from result.Result
    for step in steps.STEPS:
        yield from ("Handle [step]" if step.title == "Handle" else step.title, step.about)
    yield from (*notes.UNJUDGED, *notes.CAUTIONS, *notes._FAMILIES.values())
    for source in _sources():
        yield from (source.title, source.publication)
    for table in (bumps._WHEELS, road._NAMES, rolling_cases._MEANS, staying._TITLES):
        yield from table.values()
    yield from (row.source for row in survey_classes())
    for leaf in ("inner", "outer"):
        for one in (*holding._PARTS, "deck knuckle", "joint knuckle"):
            yield f"{leaf} {one}{'es' if one == 'latch' else 's'}"
    yield from (number.words for number in NUMBERS.values())
    yield from (one.why for one in QUANTITIES.values() if isinstance(one, UnknownQuantity))


def _sources() -> Iterator[result.Source]:
    package = rampdraft.checks.demands
    modules = [
        importlib.import_module(f"{package.__name__}.{one.name}")
        for one in pkgutil.iter_modules(package.__path__)
    ]
    for module in (result, *modules):
        yield from (one for one in vars(module).values() if isinstance(one, result.Source))


def said_by_rules() -> Iterator[str]:
    """Yield what a reader sees of the rule sets that come with the program; clauses and publications are
    quoted.
    """
    yield from get_args(Authority)
    yield from (used.words for used in USED_AT)
    yield floor().publication
    for rule_set in (floor(), *builtin_rule_sets()):
        yield from _of(rule_set)


def _of(rule_set: RuleSet) -> Iterator[str]:
    yield from filter(None, (rule_set.title, rule_set.jurisdiction, rule_set.note))
    for limit in rule_set.limits:
        told = (limit.title, limit.note, limit.told.source)
        yield from filter(None, (*told, *(step.told.source for step in limit.steps)))
        yield from (relief.words for relief in limit.reliefs)
