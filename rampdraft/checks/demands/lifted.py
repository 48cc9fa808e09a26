"""Whether the empty ramp falls back when somebody has lifted its toe, and when it is thrown up."""

from collections.abc import Iterator
from typing import Final

from rampdraft.checks.demands.road import PRACTICE
from rampdraft.checks.result import Check, Demand, Measured, Subjects, compose
from rampdraft.mechanics.handling.lifted import LOOKED_TO, Lifted
from rampdraft.model.design import HoldDown
from rampdraft.rounding import greatest
from rampdraft.strength.formula import Formula, Symbol
from rampdraft.units import MM
from rampdraft.words.figures import figure, kg, mm, newton, newton_metre
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say


def _joule(value: float) -> str:
    return figure(value / 1e3, "J", 1)


def _speed(value: float) -> str:
    return figure(value, "m/s", 1)


THROWN: Final = Formula(1e3 * (Symbol("m", kg) * Symbol("v", _speed) ** 2 / 6), _joule)
"""Kinetic energy of two uniform leaves of mass m together, of which the joint rises at v, in N mm."""
_APART: Final = (
    "let go there it comes down about its joint, the toe on the ground: by {moment} about the deck hinge"
)
_OPENS: Final = "Its joint leaves the stop with the toe {height} up: it jumps into a hump under the hand."


def lifted_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield from how high a toe the ramp falls back, and whether it does when it is thrown up, each at the
    worst site; nothing that the design leaves unasked, or of a ramp that does not stay down anyway.
    """
    held, found = subjects.design.hold_down, subjects.lifted
    if found and (height := held.toe_held_mm):
        title = say("Toe that is lifted and let go falls back")
        demand = Demand.own("falls-back", title, "at least", "mm", height, mm(height), PRACTICE)
        yield compose(demand, _falls_back(subjects, found, height))
    if found and held.rebound_m_s:
        thrown = found[0].thrown_nmm / 1e3
        text = say(
            "{energy}, thrown up at {speed}", energy=figure(thrown, "J", 1), speed=_speed(held.rebound_m_s)
        )
        title = say("Ramp that is thrown up falls back")
        demand = Demand.own("rebound", title, "at least", "J", thrown, text, PRACTICE)
        yield compose(demand, _rebound(subjects, found, held))


def _falls_back(subjects: Subjects, found: tuple[Lifted, ...], height: MM) -> Measured:
    worst = greatest(found, lambda one: -one.back_from_mm)
    value = worst.back_from_mm
    why = "" if value >= height else say(_RISES)
    if worst.opens_mm is not None and worst.opens_mm <= value:
        why = say(_OPENS, height=mm(worst.opens_mm))
    return Measured(
        key="",
        part="toe",
        subject=subjects.words(worst.site),
        state=worst.site.state,
        site_number=worst.site.site_number,
        value=value,
        working=prose(_toe_lines, worst, height),
        text=say("{value} or more", value=mm(value)) if value >= LOOKED_TO * height else "",
        why=why,
    )


_RISES: Final = "From higher up the springs lift it on by themselves."


def _rebound(subjects: Subjects, found: tuple[Lifted, ...], held: HoldDown) -> Measured:
    worst = greatest(found, lambda one: -one.barrier_nmm)
    return Measured(
        key="",
        part="joint",
        subject=subjects.words(worst.site),
        state=worst.site.state,
        site_number=worst.site.site_number,
        value=worst.barrier_nmm / 1e3,
        working=prose(_thrown_lines, worst, held.rebound_m_s),
        text=say("falls back from everywhere") if worst.everywhere else "",
        why="" if worst.barrier_nmm >= worst.thrown_nmm else say(_RISES),
    )


def _toe_lines(found: Lifted, height: MM) -> Lines:
    opens = say("at no height") if found.opens_mm is None else say("at {place}", place=mm(found.opens_mm))
    return (
        say(
            "toe held {height} up, the joint on its stop: F = {held} up",
            height=mm(height),
            held=newton(found.held_n),
        ),
        say("the joint leaves its stop, or its latch gives way: {opens}", opens=opens),
        say(
            "let go there it comes down as one, by its latch: by {moment} about the deck hinge"
            if found.latched
            else _APART,
            moment=newton_metre(found.back_nmm),
        ),
        say("looked at up to {height}", height=mm(LOOKED_TO * height)),
    )


def _thrown_lines(found: Lifted, speed_m_s: float) -> Lines:
    return (
        say(
            "the joint rises at {speed}: T = {line}",
            speed=_speed(speed_m_s),
            line=THROWN.of(found.mass_kg, speed_m_s).line,
        ),
        say(
            "to upright: there is no place on its way up from which it rises by itself: {energy}"
            if found.everywhere
            else "to the first place on its way up from which it rises by itself: {energy}",
            energy=_joule(found.barrier_nmm),
        ),
    )
