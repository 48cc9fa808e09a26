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


def _joule(value: float) -> str:
    return figure(value / 1e3, "J", 1)


def _speed(value: float) -> str:
    return figure(value, "m/s", 1)


THROWN: Final = Formula(1e3 * (Symbol("m", kg) * Symbol("v", _speed) ** 2 / 6), _joule)
"""Kinetic energy of two uniform leaves of mass m together, of which the joint rises at v, in N mm."""
_OPENS: Final = "Its joint leaves the stop with the toe {} up: it jumps into a hump under the hand."


def lifted_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield from how high a toe the ramp falls back, and whether it does when it is thrown up, each at the
    worst site; nothing that the design leaves unasked, or of a ramp that does not stay down anyway.
    """
    held, found = subjects.design.hold_down, subjects.lifted
    if found and (height := held.toe_held_mm):
        title = "Toe that is lifted and let go falls back"
        demand = Demand.own("falls-back", title, "at least", "mm", height, mm(height), PRACTICE)
        yield compose(demand, _falls_back(subjects, found, height))
    if found and held.rebound_m_s:
        thrown = found[0].thrown_nmm / 1e3
        text = f"{figure(thrown, 'J', 1)}, thrown up at {_speed(held.rebound_m_s)}"
        title = "Ramp that is thrown up falls back"
        demand = Demand.own("rebound", title, "at least", "J", thrown, text, PRACTICE)
        yield compose(demand, _rebound(subjects, found, held))


def _falls_back(subjects: Subjects, found: tuple[Lifted, ...], height: MM) -> Measured:
    worst = greatest(found, lambda one: -one.back_from_mm)
    value = worst.back_from_mm
    why = "" if value >= height else _RISES
    if worst.opens_mm is not None and worst.opens_mm <= value:
        why = _OPENS.format(mm(worst.opens_mm))
    return Measured(
        key="",
        part="toe",
        subject=subjects.words(worst.site),
        state=worst.site.state,
        site_number=worst.site.site_number,
        value=value,
        working=prose(_toe_lines, worst, height),
        text=f"{mm(value)} or more" if value >= LOOKED_TO * height else "",
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
        text="falls back from everywhere" if worst.everywhere else "",
        why="" if worst.barrier_nmm >= worst.thrown_nmm else _RISES,
    )


def _toe_lines(found: Lifted, height: MM) -> Lines:
    way = "as one, by its latch" if found.latched else "about its joint, the toe on the ground"
    opens = "at no height" if found.opens_mm is None else f"at {mm(found.opens_mm)}"
    return (
        f"toe held {mm(height)} up, the joint on its stop: F = {newton(found.held_n)} up",
        f"the joint leaves its stop, or its latch gives way: {opens}",
        f"let go there it comes down {way}: by {newton_metre(found.back_nmm)} about the deck hinge",
        f"looked at up to {mm(LOOKED_TO * height)}",
    )


def _thrown_lines(found: Lifted, speed_m_s: float) -> Lines:
    where = "upright: there is no" if found.everywhere else "the first"
    return (
        f"the joint rises at {_speed(speed_m_s)}: T = {THROWN.of(found.mass_kg, speed_m_s).line}",
        f"to {where} place on its way up from which it rises by itself: {_joule(found.barrier_nmm)}",
    )
