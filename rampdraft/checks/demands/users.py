"""Whether the ramp suits its users: width, load, and the widths that surveys have found."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft import figures
from rampdraft.checks.quantities import surface
from rampdraft.checks.result import Check, Demand, Source, compose
from rampdraft.checks.subjects import Measured, Subjects
from rampdraft.mechanics.loading.loads import NOT_RIDDEN
from rampdraft.model.catalogue import survey_classes
from rampdraft.model.design import WheeledUser
from rampdraft.prose import Lines, Prose, prose
from rampdraft.units import KG, MM

_PRACTICE: Final = Source(
    rule_set="own", title="Common practice", clause="", publication="common practice of the trade"
)
_OTHERS: Final = "A warning only: the ramp may be meant for other users."

USUAL_WIDTH_MM: Final = 800.0
"""Clear width that is said to take about 95 % of wheelchairs; common practice, no published source."""


def user_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the width and the load of each user, and for which surveyed classes of user the clear width is
    enough.

    These are warnings only, since a ramp may be for one user. A ramp whose users are named, and none of whom
    rides, is spared them.
    """
    (clear,) = surface.clear_width(subjects)
    assert isinstance(clear, Measured)
    users = subjects.design.use.users
    for place, user in enumerate(users, start=1):
        yield from _user(place, user, clear, subjects.design.use.rated_load_kg)
    if not users or any(user.kind not in NOT_RIDDEN for user in users):
        yield from _surveyed(clear)


def _user(place: int, user: WheeledUser, clear: Measured, rated: KG) -> Iterator[Check]:
    key, width, carried = f"user-{place}", user.width_mm, user.mass_kg + user.attendant_kg
    finding = Measured(
        key=key,
        subject=user.name,
        user=place,
        value=width,
        working=prose(_width_lines, user.kind, width, clear.working),
    )
    title, room = "User fits between the upstands", figures.mm(clear.value)
    yield compose(Demand.own("user-width", title, "at most", "mm", clear.value, room), finding)
    finding = Measured(
        key=key,
        subject=user.name,
        user=place,
        value=carried,
        working=prose(_load_lines, user.mass_kg, user.attendant_kg),
    )
    title, text = "User within the rated load", f"{figures.kg(rated)}, the rated load"
    yield compose(Demand.own("user-load", title, "at most", "kg", rated, text), finding)


def _width_lines(kind: str, width: MM, clear: Prose) -> Lines:
    return f"width of the {kind} = {figures.mm(width)}", *clear.lines()


def _load_lines(user: KG, attendant: KG) -> Lines:
    return figures.plain(
        "load",
        "user + attendant",
        f"{figures.kg(user)} + {figures.kg(attendant)}",
        figures.kg(user + attendant),
    )


def _surveyed(clear: Measured) -> Iterator[Check]:
    classes, title = survey_classes(), "Clear width for a surveyed class of user"
    for row in classes:
        finding = replace(clear, key=row.kind.replace(" ", "-"), subject=row.kind)
        text = f"{figures.mm(row.width_mm)}, occupied width of a {row.kind}"
        source = Source(rule_set="own", title="Survey of users", clause="", publication=row.source)
        demand = Demand.own("survey-width", title, "at least", "mm", row.width_mm, text, source)
        yield compose(replace(demand, warning=_OTHERS), finding)
    takes = ", ".join(row.kind for row in classes if row.width_mm <= USUAL_WIDTH_MM)
    too_wide = ", ".join(row.kind for row in classes if row.width_mm > USUAL_WIDTH_MM)
    usual = figures.mm(USUAL_WIDTH_MM)
    why = (
        f"{usual} is said to take about 95 % of wheelchairs; by the surveyed widths it takes the class"
        f" {takes}, not {too_wide}."
    )
    title = "Usual clear width"
    demand = Demand.own("usual-width", title, "at least", "mm", USUAL_WIDTH_MM, usual, _PRACTICE)
    yield compose(replace(demand, warning=_OTHERS), replace(clear, why=why))
