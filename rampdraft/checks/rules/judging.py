"""The limits of rule sets, each judged on what it limits."""

from collections.abc import Container, Iterable, Iterator, Mapping
from dataclasses import replace

from rampdraft.checks.quantities.load import under_load
from rampdraft.checks.quantities.table import (
    QUANTITIES,
    LoadQuantity,
    SiteQuantity,
    UnknownQuantity,
)
from rampdraft.checks.result import (
    TOLERANCE,
    Check,
    Demand,
    Finding,
    Measured,
    Source,
    Status,
    Subjects,
    Unjudged,
    compose,
    verdict,
)
from rampdraft.checks.rules.rule import NUMBERS, Limit, RuleSet, Step, load_key
from rampdraft.checks.rules.sets import with_floor
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design
from rampdraft.rounding import greatest
from rampdraft.words import figures
from rampdraft.words.say import say

Place = tuple[str, str]
"""Where a limit stands: the keys of its rule set and of the limit."""


def judge(
    subjects: Subjects, rule_sets: tuple[RuleSet, ...], quantities: Container[str]
) -> Mapping[Place, tuple[Check, ...]]:
    """Return the checks of every limit of these quantities that applies to the ramp, by the limit's place;
    those that every ramp is held to among them.
    """
    return {
        (rule_set.key, limit.id): tuple(judge_limit(subjects, rule_set, limit))
        for rule_set in with_floor(rule_sets)
        for limit in rule_set.limits
        if limit.quantity in quantities
    }


def in_order(
    rule_sets: tuple[RuleSet, ...], judged: Iterable[Mapping[Place, tuple[Check, ...]]]
) -> Iterator[Check]:
    """Yield what was judged quantity by quantity in the order of the rule sets."""
    found = {place: checks for one in judged for place, checks in one.items()}
    for rule_set in with_floor(rule_sets):
        for limit in rule_set.limits:
            yield from found[rule_set.key, limit.id]


def judge_limit(subjects: Subjects, rule_set: RuleSet, limit: Limit) -> Iterator[Check]:
    """Yield the checks of one limit, where it applies to the ramp."""
    places: tuple[SitePose | None, ...] = (None,)
    if isinstance(QUANTITIES[limit.quantity], SiteQuantity):
        reference = subjects.kerbs[limit.kerb_mm] if limit.kerb_mm is not None else ()
        places = (*reference, *subjects.poses(limit.sites))
    found = [
        (finding, pose)
        for pose in places
        if limit.applies(subjects.design, pose)
        for finding in _found(subjects, rule_set, limit, pose)
    ]
    demand = _demand(subjects.design, rule_set, limit)
    for finding, pose in _worst(limit, found) if limit.worst_only and found else found:
        yield _checked(subjects.design, demand, limit, finding, pose)


def _worst(
    limit: Limit, found: list[tuple[Finding, SitePose | None]]
) -> tuple[tuple[Finding, SitePose | None]]:
    """Return the finding that is worst, in the name of all; one that says why where nothing is measured."""
    measured = [(one, pose) for one, pose in found if isinstance(one, Measured)]
    if not measured:
        return ((replace(found[0][0], key=""), found[0][1]),)
    sign = -1 if limit.sense == "at least" else 1
    finding, pose = greatest(measured, lambda one: sign * one[0].value)
    return ((replace(finding, key=""), pose),)


def _found(subjects: Subjects, rule_set: RuleSet, limit: Limit, pose: SitePose | None) -> tuple[Finding, ...]:
    """Return the findings of a limit's quantity; what is measured, is so once for all rule sets."""
    quantity = QUANTITIES[limit.quantity]
    if isinstance(quantity, LoadQuantity):
        factor = limit.limit if quantity.unit == "factor" else None
        return (under_load(subjects, load_key(rule_set, limit), quantity.basis, factor),)
    if isinstance(quantity, UnknownQuantity):
        return (Unjudged(key="", subject="", why=say(quantity.why)),)
    key = ("measured", limit.quantity, subjects.key(pose) if pose is not None else "")
    return subjects.once(key, lambda: quantity.measure(subjects, *((pose,) if pose is not None else ())))


def _demand(design: Design, rule_set: RuleSet, limit: Limit) -> Demand:
    unit, bound, words = QUANTITIES[limit.quantity].unit, limit.limit, limit.told.words
    if unit == "share":
        bound, words = 1.0, say("100 % under {load}", load=words)
    return Demand(
        id=f"{rule_set.key}/{limit.id}",
        kind=limit.quantity,
        limit_id=limit.id,
        title=say(limit.title),
        source=Source(
            rule_set=rule_set.key,
            title=say(rule_set.title),
            clause=limit.clause,
            publication=rule_set.publication,
        ),
        sense=limit.sense,
        unit=unit,
        limit=bound,
        limit_text=words,
        warning=_warning(design, rule_set, limit),
    )


def _warning(design: Design, rule_set: RuleSet, limit: Limit) -> str:
    if rule_set.warning_only:
        return say("Advice: the rule is not written for ramps like this one.")
    if not limit.advises(design):
        return ""
    return say("Advice.") if limit.advice else say("Advice, since nobody of the users named rides.")


def _checked(design: Design, demand: Demand, limit: Limit, finding: Finding, pose: SitePose | None) -> Check:
    table = ()
    if limit.steps:
        by = limit.number(limit.by, design, pose)
        step = _step(limit.steps, by)
        words = step.told.words
        demand = replace(demand, limit=step.limit, limit_text=words)
        table = (
            say(
                "{what} = {number}, so the limit is {limit}",
                what=say(NUMBERS[limit.by].words),
                number=figures.mm(by),
                limit=words,
            ),
        )
    return compose(
        demand,
        finding,
        notes=tuple(text for text in (_relief(design, limit, finding, pose), say(limit.note)) if text),
        table=table,
    )


def _step(steps: tuple[Step, ...], by: float) -> Step:
    for step in steps:
        if step.up_to is None or by <= step.up_to * (1 + TOLERANCE):
            return step
    return steps[-1]


def _relief(design: Design, limit: Limit, finding: Finding, pose: SitePose | None) -> str:
    """Return in words the mildest relief whose condition holds, for a value beyond the limit."""
    if not limit.reliefs or limit.limit is None or isinstance(finding, Unjudged):
        return ""
    if verdict(finding.value, limit.limit, limit.sense)[1] is not Status.EXCEEDS:
        return ""
    for relief in reversed(limit.reliefs):
        number = limit.number(relief.condition.number, design, pose)
        if relief.condition.holds(number):
            _, status = verdict(finding.value, relief.limit, limit.sense)
            found = say("this fails that too") if status is Status.EXCEEDS else say("this passes that")
            return f"{say(relief.words)}: {found}."
    return ""
