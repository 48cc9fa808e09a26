"""How many crossings welds, slats and edge upstands bear before they tire, and what is meant."""

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
from rampdraft.strength.curves import ALUMINIUM_CLAUSE, CLAUSE, crossings
from rampdraft.strength.fatigue import Wear, wear
from rampdraft.words.prose import prose

_SOURCE = Source(
    rule_set="own",
    title="Fatigue",
    clause=f"{CLAUSE}; {ALUMINIUM_CLAUSE}",
    publication=(
        "EN 1993-1-9, with the factor 1.15 on the range of stress; EN 1999-1-3 for aluminium, with 1.2 (from"
        " memory)"
    ),
)


def crossing_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield how many crossings each kind of what tires bears; nothing where nothing holds the joint."""
    design = subjects.design
    if not subjects.carried.held or not design.use.crossings:
        return
    for one in wear(design, subjects.carried, subjects.strengths, subjects.fixed_on):
        finding: Finding
        if isinstance(one, Wear):
            bears = one.crossings
            finding = Measured(
                key=one.key,
                subject=one.subject,
                part=one.key,
                leaf=one.leaf,
                value=bears,
                working=prose(Wear.lines, one),
                member=one.member,
                text=crossings(bears),
            )
        else:
            finding = Unjudged(key=one.key, subject=one.subject, part=one.key, leaf=one.leaf, why=one.why)
        meant = design.use.crossings
        yield compose(
            Demand.own("crossings", one.title, "at least", "count", meant, crossings(meant), _SOURCE), finding
        )
