"""How many crossings the welds bear before they tire, against what the ramp is meant for."""

from collections.abc import Iterator

from rampdraft.checks.result import (
    Check,
    Demand,
    Finding,
    Measured,
    Source,
    Subjects,
    Unjudged,
    compose,
)
from rampdraft.prose import prose
from rampdraft.strength.fatigue import CLAUSE, Wear, crossings, wear

_SOURCE = Source(
    rule_set="own",
    title="Fatigue",
    clause=CLAUSE,
    publication="EN 1993-1-9, with the factor 1.15 on the range of stress",
)


def crossing_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield how many crossings each kind of weld bears; nothing where nothing holds the joint."""
    design = subjects.design
    if not subjects.carried.held or not design.use.crossings:
        return
    for one in wear(design, subjects.carried, subjects.strengths):
        finding: Finding
        if isinstance(one, Wear):
            finding = Measured(
                key=one.key,
                subject=one.subject,
                part=one.key,
                leaf=one.leaf,
                value=one.crossings,
                working=prose(Wear.lines, one),
                member=one.member,
                text=crossings(one.crossings),
            )
        else:
            finding = Unjudged(key=one.key, subject=one.subject, part=one.key, leaf=one.leaf, why=one.why)
        meant = design.use.crossings
        yield compose(
            Demand.own("crossings", one.title, "at least", "count", meant, crossings(meant), _SOURCE), finding
        )
