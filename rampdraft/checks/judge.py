"""A value against a limit: the ratio, the verdict, and the check that says so."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft import figures
from rampdraft.checks.quantities.table import (
    QUANTITIES,
    LoadQuantity,
    RampQuantity,
    SiteQuantity,
    Unit,
    UnknownQuantity,
)
from rampdraft.checks.result import About, Check, Sense, Source, Status
from rampdraft.checks.rules.loads import load_key
from rampdraft.checks.rules.numbers import NUMBERS
from rampdraft.checks.rules.rule import Limit, RuleSet, Step
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.checks.under_load import under_load
from rampdraft.mechanics.results import DeckState, SitePose
from rampdraft.prose import Prose, prose

CLOSE_FROM: Final = 0.95
"""From 95 % to 100 % of a limit a value is called close: saw, weld and ground are never exact. The program's
own choice.
"""

TOLERANCE: Final = 1e-9
"""A value that misses its limit by less than this share of it is at the limit, and so within: only rounding
parts them.
"""

MOST_RATIO: Final = 1000.0
"""Ratio told where the limit is nothing, or the value is: a finite number, so that it sorts and prints."""

_WARNING: Final = "A warning only: the rule is not written for ramps like this one."

_SHOWN_UNITS: Final[dict[Unit, str]] = {
    "mm": "mm",
    "kg": "kg",
    "N": "N",
    "kPa": "kPa",
    "deg": "°",
    "gradient": "rise/going",
    "count": "",
    "share": "share",
    "factor": "factor",
    "yes/no": "",
    "none": "",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What is asked of a value, and where it is published."""

    id: str
    """As `Check.id`, without the subject."""
    kind: str
    """As `About.kind`."""
    limit_id: str = ""
    """As `About.limit`."""
    title: str
    source: Source
    sense: Sense
    unit: Unit
    limit: float | None
    limit_text: str
    warning: str = ""
    """When not empty it is a warning only, and this is told where the limit is exceeded."""


def judge_all(subjects: Subjects, rule_set: RuleSet) -> Iterator[Check]:
    """Yield the checks of every limit of a rule set that applies to the ramp."""
    for limit in rule_set.limits:
        source = Source(
            rule_set=rule_set.key, title=rule_set.title, clause=limit.clause, publication=rule_set.publication
        )
        yield from _judge(subjects, rule_set, limit, source)


def _judge(subjects: Subjects, rule_set: RuleSet, limit: Limit, source: Source) -> Iterator[Check]:
    quantity = QUANTITIES[limit.quantity]
    if isinstance(quantity, SiteQuantity):
        reference = subjects.kerb_poses(limit.kerb_mm) if limit.kerb_mm is not None else ()
        for pose in (*reference, *subjects.poses(limit.sites)):
            if _applies(subjects, limit, pose):
                for finding in _measured(subjects, limit.quantity, quantity, pose):
                    yield _checked(subjects, rule_set, limit, source, quantity.unit, finding, pose)
    elif _applies(subjects, limit, None):
        if isinstance(quantity, LoadQuantity):
            factor = limit.limit if quantity.unit == "factor" else None
            finding = under_load(subjects, load_key(rule_set, limit), quantity.basis, factor)
            yield _checked(subjects, rule_set, limit, source, quantity.unit, finding, None)
            return
        if isinstance(quantity, UnknownQuantity):
            yield _checked(
                subjects,
                rule_set,
                limit,
                source,
                "none",
                Unjudged(key="", subject="", why=quantity.why),
                None,
            )
            return
        for finding in _measured(subjects, limit.quantity, quantity, None):
            yield _checked(subjects, rule_set, limit, source, quantity.unit, finding, None)


def _measured(
    subjects: Subjects, name: str, quantity: SiteQuantity | RampQuantity, pose: SitePose | None
) -> tuple[Finding, ...]:
    """Return the findings of a quantity, measured once for all rule sets."""
    key = ("measured", name, subjects.key(pose) if pose is not None else "")
    if key not in subjects.kept:
        if isinstance(quantity, SiteQuantity):
            subjects.kept[key] = quantity.measure(subjects, pose) if pose is not None else ()
        else:
            subjects.kept[key] = quantity.measure(subjects)
    return subjects.kept[key]  # pyright: ignore[reportReturnType]


def _applies(subjects: Subjects, limit: Limit, pose: SitePose | None) -> bool:
    return limit.when is None or limit.when.holds(_number(subjects, limit, limit.when.number, pose))


def _number(subjects: Subjects, limit: Limit, name: str, pose: SitePose | None) -> float:
    return NUMBERS[name].value(subjects.design, pose, limit.kerb_mm or 0.0)


def _checked(
    subjects: Subjects,
    rule_set: RuleSet,
    limit: Limit,
    source: Source,
    unit: Unit,
    finding: Finding,
    pose: SitePose | None,
) -> Check:
    bound, words, table = 1.0 if unit == "share" else limit.limit, limit.words, ()
    if limit.steps:
        by = _number(subjects, limit, limit.by, pose)
        step = _step(limit.steps, by)
        bound, words = step.limit, step.words
        table = (f"{NUMBERS[limit.by].words} = {figures.mm(by)}, so the limit is {words}",)
    demand = Demand(
        id=f"{rule_set.key}/{limit.id}",
        kind=limit.quantity,
        limit_id=limit.id,
        title=limit.title,
        source=source,
        sense=limit.sense,
        unit=unit,
        limit=bound,
        limit_text=words,
        warning=_WARNING if rule_set.warning_only else "",
    )
    why = tuple(text for text in (_relief(subjects, limit, finding, pose), limit.note) if text)
    return compose(demand, finding, state=pose.state if pose is not None else "", why=why, table=table)


def _step(steps: tuple[Step, ...], by: float) -> Step:
    for step in steps:
        if step.up_to is None or by <= step.up_to * (1 + TOLERANCE):
            return step
    return steps[-1]


def _relief(subjects: Subjects, limit: Limit, finding: Finding, pose: SitePose | None) -> str:
    """Return in words the mildest relief whose condition holds, for a value beyond the limit."""
    if not limit.reliefs or limit.limit is None or isinstance(finding, Unjudged):
        return ""
    if verdict(finding.value, limit.limit, limit.sense)[1] is not Status.EXCEEDS:
        return ""
    for relief in reversed(limit.reliefs):
        if relief.condition.holds(_number(subjects, limit, relief.condition.number, pose)):
            _, status = verdict(finding.value, relief.limit, limit.sense)
            found = "this would exceed that too" if status is Status.EXCEEDS else "this would be within that"
            return f"{relief.words}: {found}."
    return ""


def verdict(value: float, limit: float, sense: Sense) -> tuple[float, Status]:
    """Return how much of the limit is used, and the status that follows."""
    if sense == "is":
        same = abs(value - limit) <= TOLERANCE * max(1.0, abs(limit))
        return (0.0, Status.WITHIN) if same else (MOST_RATIO, Status.EXCEEDS)
    used, all_of = (value, limit) if sense == "at most" else (limit, value)
    if all_of > 0:
        ratio = min(max(used, 0.0) / all_of, MOST_RATIO)
    else:
        ratio = 0.0 if used < all_of else 1.0 if used == all_of else MOST_RATIO
    if ratio > 1 + TOLERANCE:
        return ratio, Status.EXCEEDS
    return ratio, Status.CLOSE if ratio >= CLOSE_FROM * (1 - TOLERANCE) else Status.WITHIN


def compose(
    demand: Demand,
    finding: Finding,
    *,
    state: DeckState | Literal[""] = "",
    why: tuple[str, ...] = (),
    table: tuple[str, ...] = (),
) -> Check:
    """Return the check of one finding against one limit; a finding or limit that is missing cannot be judged.

    `state` is that of the deck, where the finding does not say it; `why` and `table` join what the finding
    says of itself.
    """
    sense, unit, limit = demand.sense, demand.unit, demand.limit
    measured = finding if isinstance(finding, Measured) else None
    value = measured.value if measured else None
    text = measured.text or value_words(measured.value, unit) if measured else ""
    if value is None or limit is None:
        ratio, status = None, Status.UNJUDGED
    else:
        ratio, status = verdict(value, limit, sense)
        quotient = "value / limit" if sense == "at most" else "limit / value"
        used = f", {quotient} = {100 * ratio:.1f} %" if sense != "is" and 0 < ratio < MOST_RATIO else ""
        table = (*table, f"limit: {sense} {demand.limit_text}{used}: {status}")
        if unit in ("yes/no", "none"):
            value = limit = None
    if demand.warning and status is Status.EXCEEDS:
        why = (*why, demand.warning)
    return Check(
        id=f"{demand.id}/{finding.key}" if finding.key else demand.id,
        about=About(
            kind=demand.kind,
            limit=demand.limit_id,
            part=finding.part,
            leaf=finding.leaf,
            state=finding.state or state,
            user=finding.user,
            pair=finding.pair,
        ),
        title=demand.title,
        subject=finding.subject,
        value=value,
        limit=limit,
        unit=_SHOWN_UNITS[unit],
        value_text=text,
        limit_text=demand.limit_text,
        sense=sense,
        ratio=ratio,
        status=status,
        why=" ".join((finding.why, *why)).strip(),
        source=demand.source,
        worked=prose(_worked, measured.working if measured else (), table if ratio is not None else ()),
        member=measured.member if measured else "",
        site_number=finding.site_number,
        share=finding.share,
        warning_only=bool(demand.warning),
    )


def _worked(found: Prose | tuple[str, ...], below: tuple[str, ...]) -> tuple[str, ...]:
    return (*lines_of(found), *below)


def lines_of(found: Prose | tuple[str, ...]) -> tuple[str, ...]:
    """Return the lines of a working, written now if they were not yet."""
    return found.lines() if isinstance(found, Prose) else found


def value_words(value: float, unit: Unit) -> str:
    """Return a value for a list: `1 : 6.56 = 15.24 % = 8.67°`, `860 mm`, `yes`."""
    if unit == "gradient":
        return figures.gradient(value)
    if unit == "yes/no":
        return "yes" if value else "no"
    if unit == "share":
        return f"{figures.percent(value)} of the strength"
    if unit == "factor":
        return figures.number(value, 2)
    return f"{figures.number(value)} {_SHOWN_UNITS[unit]}".rstrip()
