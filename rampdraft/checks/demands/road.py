"""Whether the stowed ramp stays stowed on the road and in the wind, and the carrier where it stands."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft.checks.result import Check, Demand, Measured, Source, Subjects, compose
from rampdraft.mechanics.handling.stowed import BOARD, Shaken, StowedPart
from rampdraft.mechanics.handling.thrust import DRY, STOPS_M_S2, Thrust
from rampdraft.model.design import Road
from rampdraft.strength.formula import Formula, M, Symbol, factor
from rampdraft.units import G_M_S2
from rampdraft.words.figures import figure, kg, mm, newton, newton_metre
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

ROAD: Final = Source(
    rule_set="own",
    title="Loads on road vehicles, wind",
    clause="EN 12195-1; EN 1991-1-4, 4.5 and 7.4.3 (2)",
    publication=(
        "EN 12195-1, accelerations as quoted by the CTU Code, for vehicles of 3.5 t and more, or as stated in"
        " the design; EN 1991-1-4, wind pressure and force coefficient of a board"
    ),
)
PARKED: Final = Source(
    rule_set="own",
    title="Carrier held where it stands",
    clause="",
    publication=(
        "statics; a powered chair stops from 6 km/h within 1 m (EN 12184, from memory); friction by common"
        " practice"
    ),
)
PRACTICE: Final = Source(
    rule_set="own", title="Common practice", clause="", publication="common practice of the trade"
)


def _square_metres(value: float) -> str:
    return figure(value, "m2", 2)


def _pascal(value: float) -> str:
    return figure(value, "Pa", 0)


def _rate(value: float) -> str:
    return figure(value, "m/s2", 2)


SHAKEN: Final = Formula(Symbol("G", newton) * Symbol("a", factor) * Symbol("z", mm), newton_metre)
"""Moment of a weight G under an acceleration of a times gravity."""
BLOWN: Final = Formula(Symbol("c", factor) * Symbol("q", _pascal) * Symbol("A", _square_metres), newton)
"""Wind force on a board, q in N/m2: EN 1991-1-4, 5.3 (3) with a structural factor of 1."""
LATCHED: Final = Formula(M / Symbol("r", mm), newton)
THRUST: Final = Formula(
    Symbol("mu", factor) * Symbol("N", newton) + Symbol("m", kg) * Symbol("a", _rate), newton
)
_NAMES: Final[dict[StowedPart, str]] = {"pack": "stowed ramp", "leaf": "outer leaf on the inner one"}
_ALONE: Final = "One lock comes undone; then another has to hold alone."
_LEANS: Final = "Hold it before its latch is undone: it falls by itself."


def stowed_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether latch and second lock hold what road and wind ask of the stowed ramp, and whether it
    stays up while it is unlatched.
    """
    road = subjects.design.road
    for one in subjects.shaken:
        if one.latch_n > 0:
            needed = say("{force}, what road and wind ask", force=newton(one.latch_n))
            for name, title, holds in (
                ("stow-latch", say("Stow latch holds"), road.latch_n),
                ("second-lock", say("Second lock holds alone"), road.second_n),
            ):
                demand = Demand.own(name, title, "at least", "N", one.latch_n, needed, ROAD)
                finding = Measured(
                    key=one.part,
                    subject=say(_NAMES[one.part]),
                    part=one.part,
                    value=holds,
                    working=prose(_shaken_lines, one, road),
                    why="" if holds or name == "stow-latch" else say(_ALONE),
                    share=1.0,
                )
                yield compose(demand, finding)
    yield _stays_up(subjects)


def _stays_up(subjects: Subjects) -> Check:
    """Return whether weights and springs keep the unlatched pack from falling outward: advice."""
    out = subjects.leaning_nmm
    arm = subjects.design.inner_leaf.length_mm
    demand = Demand.own(
        "stow-leans", say("Stowed ramp stays up unlatched"), "is", "yes/no", 1.0, say("asked for"), PRACTICE
    )
    text = (
        say("stays up") if out <= 0 else say("falls outward, {force} at the joint", force=newton(out / arm))
    )
    finding = Measured(
        key="", subject="", value=float(out <= 0), text=text, working=prose(_leans_lines, out, arm), share=1.0
    )
    return compose(replace(demand, warning=say(_LEANS)), finding)


def _leans_lines(out: float, arm: float) -> Lines:
    held = LATCHED.of(abs(out), arm)
    return (
        say("moment of weights and springs about the deck hinge"),
        say(
            "outward, F = {line} at the joint" if out > 0 else "inward, F = {line} at the joint",
            line=held.line,
        ),
    )


def _shaken_lines(one: Shaken, road: Road) -> Lines:
    shaken = SHAKEN.of(one.mass_kg * G_M_S2, one.accelerated_g, one.height_mm)
    blown = BLOWN.of(BOARD, one.pressure_pa, one.area_m2)
    held = LATCHED.of(one.moment_nmm, one.arm_mm)
    return (
        say(
            "thrown away from the deck, about its hinge: M1 = {line}"
            if one.way == "out"
            else "thrown over the deck, about its hinge: M1 = {line}",
            line=shaken.line,
        ),
        say("wind of {speed}, F = {line}", speed=figure(road.wind_m_s, "m/s"), line=blown.line),
        say(
            "half way up: M2 = {force} x {arm} = {moment}",
            force=newton(one.wind_n),
            arm=mm(one.wind_at_mm),
            moment=newton_metre(one.gale_nmm),
        ),
        say("weights and springs: M3 = {moment}", moment=newton_metre(one.still_nmm)),
        say("latch, M = M1 + M2 + M3, F = {line}", line=held.line),
    )


def thrust_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether brake, chocks or mooring hold the carrier against what pushes it; nothing where it cannot
    move.
    """
    found = subjects.thrust
    if found is None:
        return
    held = subjects.design.road.held_n
    why = "" if held else say("Put the brake on, chock its wheels or moor it, and say what that holds.")
    demand = Demand.own(
        "carrier-held",
        say("Carrier held along the ground"),
        "at least",
        "N",
        found.force_n,
        say("{force}, what users and the toe push", force=newton(found.force_n)),
        PARKED,
    )
    working = prose(_thrust_lines, found)
    yield compose(demand, Measured(key="", subject="", value=held, working=working, why=why))


def _thrust_lines(found: Thrust) -> Lines:
    pushed = THRUST.of(DRY, found.toe_n, found.user_kg, STOPS_M_S2)
    return (
        say(
            "the toe, pressed down by N, slides {way} as the deck sinks, against friction",
            way=mm(found.slides_mm),
        ),
        say("the heaviest user, m, stops on the deck from 6 km/h within 1 m: a = v2 / 2 s"),
        f"H = {pushed.line}",
    )
