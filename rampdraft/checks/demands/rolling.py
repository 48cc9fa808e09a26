"""Whether every user comes over the ramp: nothing aground, nobody tipping, no wheel stopped, no hard push.
A check for each kind, of the worst user, site, state of the deck and way.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.rolling_cases import Case, demand_of, finding_of, hardest
from rampdraft.checks.demands.rolling_grip import grip_checks, motor_checks
from rampdraft.checks.result import (
    MOST_RATIO,
    Check,
    Demand,
    Measured,
    Source,
    Status,
    Subjects,
    Unjudged,
    compose,
)
from rampdraft.checks.values import value_words
from rampdraft.mechanics.rolling.lasting import lasting
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.mechanics.rolling.roll import room_mm
from rampdraft.model.design import Design
from rampdraft.model.rolling_shape import BY_HAND, shape_of
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words.figures import degrees, figure, mm, newton, number
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import counted, say

PUSHING: Final = Source(
    rule_set="own",
    title="What a push can give",
    clause="pushing and pulling",
    publication=(
        "HSE, pushing and pulling loads, guideline figures (secondary); the factor of two as for lifting"
    ),
)
START_N: Final = 200.0
START_WOMEN_N: Final = 150.0
"""Guideline for men and for women who start or stop a load (HSE, pushing and pulling)."""
KEEP_N: Final = 100.0
KEEP_WOMEN_N: Final = 70.0
"""Guideline for men and for women who keep it moving (same page)."""
TWICE: Final = 2.0
"""Beyond so many times the guideline fails, as it does of hands that lift (`mechanics.handling.hands`)."""
MOST_PUSHING: Final = 2
"""So many find room at one user: behind it and before it; common practice."""
CLOSE_MM: Final = 5.0
"""What passes over the ground with less is close: tyres give, ground is uneven; common practice."""
CLOSE_HEAD_MM: Final = 50.0
"""People who sit up, or walk, nod so much; common practice."""
CLOSE_DEG: Final = 2.0
"""Somebody who has less than this left before tipping is close; common practice."""
SINKS_MM: Final = 5.0
"""A castor that sinks deeper may turn aside and stay; common practice."""
GIVES_MM: Final = 5.0
"""A wheel that hangs by less comes down as frame and tyres give; common practice."""
_PARTS: Final = ("footrest", "underside")
_TOUCHES: Final = "Anti-tip wheels are made to touch; where they carry, driven wheels may spin."
_HELD: Final = "Whoever holds the handles must hold it upright there."
_SINKS: Final = "A castor that sinks in turns aside, and stops."
_HANGS: Final = "It rocks there, and a driven or braked wheel that hangs neither drives nor brakes."
_MUCH: Final = "A guideline figure: up to twice of it is let pass for a few pushes by fit people."


def width_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the wheels of the widest user stand on the way between the guards."""
    users, room = subjects.design.use.users, room_mm(subjects.design)
    if not users:
        return
    widths = tuple((user.name, shape_of(user).widest_mm) for user in users)
    place, (name, widest) = greatest(enumerate(widths, start=1), lambda one: one[1][1])
    yield compose(
        demand_of("width", say("Wheels between the guards"), "at most", "mm", room, mm(room)),
        Measured(
            key="",
            subject=name,
            user=place,
            value=widest,
            working=prose(_width_lines, widths),
            why="" if widest <= room else say("It is not rolled over the ramp: all else is not known of it."),
        ),
    )


def _width_lines(widths: tuple[tuple[str, MM], ...]) -> Lines:
    return (
        say("width over the tyres = track + tyre"),
        *(f"{name}: {mm(width)}" for name, width in widths),
        say("room = surface width - both upstands, of the narrower leaf"),
    )


def rolling_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield what is worst of all who roll."""
    if not subjects.design.use.users:
        return
    rolls = [one for one in subjects.rolling if isinstance(one, Roll)]
    if not rolls:
        demand = demand_of("clears", say("Room under what hangs low"), "at least", "mm", 0.0, mm(0.0))
        yield compose(
            demand, Unjudged(key="", subject="", why=say("Nobody rolls over the ramp at any site."))
        )
        return
    for found in (_clearances, _climbs, grip_checks, _pushes, _tips, _heads, _wheels, motor_checks):
        yield from found(subjects.design, rolls)


def _clearances(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    lows = [Case(roll=roll, worst=low) for roll in rolls for low in roll.lows]
    body = [one for one in lows if one.worst.part in _PARTS]
    limit = say("{least}; close below {close}", least=mm(0.0), close=mm(CLOSE_MM))
    demand = demand_of("clears", say("Room under what hangs low"), "at least", "mm", 0.0, limit)
    yield _close(_least(design, demand, body), CLOSE_MM)
    small = [one for one in lows if one.worst.part not in _PARTS]
    if small:
        demand = demand_of("anti-tip", say("Room under anti-tip wheels"), "at least", "mm", 0.0, mm(0.0))
        yield _least(design, replace(demand, warning=say(_TOUCHES)), small)


def _climbs(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    bumps = [
        Case(roll=roll, worst=way.bump, way=way.way)
        for roll in rolls
        for way in roll.ways
        if way.bump is not None
    ]
    if not bumps:
        return
    finding = finding_of(design, greatest(bumps, lambda one: one.value), bumps, "share")
    climbs = math.isfinite(finding.value)
    share = say("{share} of its load, a level force on its axle, lifts it", share=number(finding.value, 2))
    yield compose(
        demand_of("climbs", say("Wheels climb what they meet"), "is", "yes/no", 1.0, say("no wheel stopped")),
        replace(
            finding,
            value=float(climbs),
            text=share if climbs else say("no force lifts it"),
            why=""
            if climbs
            else say("The face is as high as the radius of the {wheel}, or higher.", wheel=finding.text),
        ),
    )


def _pushes(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    pushed = [
        (roll, way)
        for roll in rolls
        if not shape_of(design.use.users[roll.user - 1]).powered
        for way in roll.ways
    ]
    if not pushed:
        return
    for name, title, person, which in (
        ("start", say("Push to start or stop"), START_N, hardest),
        ("keep", say("Push to keep it moving"), KEEP_N, lasting),
    ):
        cases = [
            Case(
                roll=roll,
                worst=which(roll, way),
                way=way.way,
                limit=TWICE * person * pushing(design, roll.user),
            )
            for roll, way in pushed
        ]
        worst = greatest(cases, lambda one: one.value / one.limit)
        finding = finding_of(design, worst, cases, name, _guideline(name))
        most = min(worst.value, MOST_RATIO * worst.limit)
        finding = replace(finding, value=most, text=f"{newton(most)}, {finding.text}".rstrip(", "))
        people = pushing(design, worst.roll.user)
        of = counted(people, "the guideline for {count} person", "the guideline for {count} people")
        limit, guide = worst.limit, worst.limit / TWICE
        told = say("{force}, twice {guideline}", force=newton(limit), guideline=of)
        yield compose(demand_of(name, title, "at most", "N", limit, told, PUSHING), finding)
        told = f"{newton(guide)}, {of}"
        advice = demand_of(
            f"{name}-guideline", say("{title}: guideline", title=title), "at most", "N", guide, told, PUSHING
        )
        yield compose(replace(advice, warning=say(_MUCH)), finding)


def _tips(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    tips = [
        Case(roll=roll, worst=replace(tip, value=math.degrees(tip.value)))
        for roll in rolls
        for tip in (roll.tip_back, roll.tip_forward)
        if tip is not None
    ]
    limit = say("{least}; close below {close}", least=figure(0.0, "°"), close=figure(CLOSE_DEG, "°"))
    for name, title, warning, held in (
        ("tips", say("Left before it tips, nobody holding"), "", False),
        ("tips-held", say("Left before it tips, hands at it"), say(_HELD), True),
    ):
        cases = [one for one in tips if bool(design.use.users[one.roll.user - 1].attendant_kg) == held]
        if cases:
            demand = replace(demand_of(name, title, "at least", "deg", 0.0, limit), warning=warning)
            yield _close(_least(design, demand, cases), CLOSE_DEG)


def _heads(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    cases = [Case(roll=roll, worst=roll.head) for roll in rolls if roll.head is not None]
    if cases:
        limit = say("{least}; close below {close}", least=mm(0.0), close=mm(CLOSE_HEAD_MM))
        demand = demand_of("head", say("Room above heads"), "at least", "mm", 0.0, limit)
        yield _close(_least(design, demand, cases, "above"), CLOSE_HEAD_MM)


def _wheels(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    for name, title, most, warning, found in (
        ("sinks", say("Wheels sink into gaps"), SINKS_MM, say(_SINKS), [(roll, roll.drop) for roll in rolls]),
        ("hangs", say("Wheels hang"), GIVES_MM, say(_HANGS), [(roll, roll.hanging) for roll in rolls]),
    ):
        cases = [Case(roll=roll, worst=worst) for roll, worst in found if worst is not None]
        if cases:
            demand = replace(demand_of(name, title, "at most", "mm", most, mm(most)), warning=warning)
            finding = finding_of(design, greatest(cases, lambda one: one.value), cases, name)
            said = value_words(finding.value, "mm", most)
            yield compose(demand, replace(finding, text=f"{said}, {finding.text}"))


def pushing(design: Design, number: int) -> int:
    """Return how many push a user that is pushed: one who turns his own wheels is alone."""
    user = design.use.users[number - 1]
    alone = user.kind in BY_HAND and not user.attendant_kg
    return 1 if alone else min(design.hands.people, MOST_PUSHING)


def _close(check: Check, margin: float) -> Check:
    """Return a check that holds by less than a margin as close: of a limit of 0 no share says anything."""
    near = check.status is Status.WITHIN and check.value is not None and check.value < margin
    return replace(check, status=Status.CLOSE) if near else check


def _least(design: Design, demand: Demand, cases: Sequence[Case], name: str = "") -> Check:
    finding = finding_of(design, greatest(cases, lambda one: -one.value), cases, name or demand.unit)
    value = finding.value
    said = degrees(value) if demand.unit == "deg" else value_words(value, demand.unit, demand.limit)
    return compose(demand, replace(finding, text=f"{said}, {finding.text}"))


def _guideline(name: str) -> Lines:
    if name == "start":
        return (
            say(
                "guideline to start or stop: {men} of men, {women} of women",
                men=newton(START_N),
                women=newton(START_WOMEN_N),
            ),
        )
    if name == "keep":
        return (
            say(
                "guideline to keep it moving: {men} of men, {women} of women",
                men=newton(KEEP_N),
                women=newton(KEEP_WOMEN_N),
            ),
        )
    return ()
