"""Whether feet, wheels and the toe find hold, and how many people find room."""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.road import PRACTICE
from rampdraft.checks.result import Check, Demand, Finding, Measured, Source, Subjects, Unjudged, compose
from rampdraft.mechanics.handling.thrust import WET
from rampdraft.mechanics.loading.loads import CROWD_N_M2, WALKER_KG, crowd_kg, persons
from rampdraft.mechanics.rolling.grip import friction
from rampdraft.rounding import greatest
from rampdraft.units import G_M_S2, KG, MM
from rampdraft.words.figures import figure, kg, mm, number, one_in, persons_words
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

GRIP: Final = Source(
    rule_set="own",
    title="Wet grip",
    clause="",
    publication=(
        "pendulum value to friction: conversion table of the US National Bureau of Standards; 36 on level"
        " floors: UK Slip Resistance Group, HSE; a slope asks for its tangent besides (statics)"
    ),
)
CROWD: Final = Source(
    rule_set="own",
    title="Crowd",
    clause="EN 1991-1-1, 6.3.1, category C5",
    publication="EN 1991-1-1, imposed load of areas where people crowd (from memory)",
)
LEVEL_VALUE: Final = 36.0
"""Pendulum value asked of a level floor."""


def grip_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the wet surface has the friction that the steepest slope asks for."""
    value, title = subjects.design.use.wet_grip, say("Grip of the wet surface")
    found = [(abs(pose.steepest.ratio), pose) for pose in subjects.poses() if pose.reaches]
    asked = friction(LEVEL_VALUE)
    finding: Finding = Unjudged(key="", subject="", why=say("The ramp reaches the ground at no site."))
    if found:
        slope, pose = greatest(found, lambda one: one[0])
        asked += slope
        finding = Measured(
            key="",
            subject=subjects.words(pose),
            state=pose.state,
            value=friction(value),
            working=prose(_grip_lines, value, slope),
            text=say(
                "{friction}, by its pendulum value of {value}",
                friction=number(friction(value), 2),
                value=number(value),
            ),
            why="" if friction(value) >= asked else say("Put strips with grit on it, and keep them clean."),
            site_number=pose.site_number,
        )
    needed = 330 * asked / (3 + asked)
    text = say("{asked}, a pendulum value of {needed}", asked=number(asked, 2), needed=number(needed, 0))
    yield compose(Demand.own("grip", title, "at least", "factor", asked, text, GRIP), finding)


def _grip_lines(value: float, slope: float) -> Lines:
    level = friction(LEVEL_VALUE)
    return (
        say("friction = 3 V / (330 − V), V = {value} the wet pendulum value", value=number(value)),
        f"= {number(3 * value)} / {number(330 - value)} = {number(friction(value), 3)}",
        say(
            "asked for on the level, V = {value}: {level}",
            value=number(LEVEL_VALUE),
            level=number(level, 3),
        ),
        say(
            "on a slope of {slope} its tangent besides: {level} + {tangent} = {both}",
            slope=one_in(slope),
            level=number(level, 3),
            tangent=number(slope, 3),
            both=number(level + slope, 3),
        ),
    )


def toe_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the toe stands by friction where the ground under it slopes most."""
    found = subjects.toe_ground
    finding: Finding = Unjudged(key="", subject="", why=say("The ramp stands on its toe at no site."))
    if found is not None:
        finding = Measured(
            key="",
            subject=subjects.words(found.site),
            state=found.site.state,
            value=found.slope,
            working=prose(_toe_lines, found.slope),
            why="" if found.slope <= WET else say("Bed the toe in, or stake it: it slides on this slope."),
            site_number=found.site.site_number,
        )
    text = say("{slope}, wet friction of {friction}", slope=one_in(WET), friction=number(WET))
    demand = Demand.own(
        "toe-slides", say("Toe stands by friction"), "at most", "gradient", WET, text, PRACTICE
    )
    yield compose(demand, finding)


def _toe_lines(slope: float) -> Lines:
    return (
        say("it slides where the tangent of the ground's slope is more than the friction"),
        say(
            "slope of the ground under the toe = {slope}; friction = {friction}",
            slope=number(slope, 4),
            friction=number(WET),
        ),
    )


def crowd_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether a crowd on the ramp is within its rated load: advice."""
    design = subjects.design
    crowd, rated, count = crowd_kg(design), design.use.rated_load_kg, persons(design)
    sizes = tuple((leaf.length_mm, leaf.width_mm) for leaf in (design.inner_leaf, design.outer_leaf))
    demand = Demand.own(
        "crowd",
        say("Crowd on the ramp"),
        "at most",
        "kg",
        rated,
        say("{rated}, the rated load", rated=kg(rated)),
        CROWD,
    )
    warning = (
        say("Mark it: no more than {persons} at once.", persons=persons_words(count))
        if count
        else say("Mark it: nobody on foot.")
    )
    finding = Measured(key="", subject="", value=crowd, working=prose(_crowd_lines, sizes, crowd, count))
    yield compose(replace(demand, warning=warning), finding)


def _crowd_lines(sizes: tuple[tuple[MM, MM], ...], crowd: KG, count: int) -> Lines:
    return (
        say("area = {areas}", areas=" + ".join(f"{mm(length)} x {mm(width)}" for length, width in sizes)),
        say(
            "crowd = {pressure} x area / {gravity} = {crowd}",
            pressure=figure(CROWD_N_M2 / 1000, "kN/m2"),
            gravity=figure(G_M_S2, "m/s2", 2),
            crowd=kg(crowd),
        ),
        say("persons of {walker} within the rated load: {count}", walker=kg(WALKER_KG), count=count),
    )
