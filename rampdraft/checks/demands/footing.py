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
    value, title = subjects.design.use.wet_grip, "Grip of the wet surface"
    found = [(abs(pose.steepest.ratio), pose) for pose in subjects.poses() if pose.reaches]
    asked = friction(LEVEL_VALUE)
    finding: Finding = Unjudged(key="", subject="", why="The ramp reaches the ground at no site.")
    if found:
        slope, pose = greatest(found, lambda one: one[0])
        asked += slope
        finding = Measured(
            key="",
            subject=subjects.words(pose),
            state=pose.state,
            value=friction(value),
            working=prose(_grip_lines, value, slope),
            text=f"{number(friction(value), 2)}, by its pendulum value of {number(value)}",
            why="" if friction(value) >= asked else "Put strips with grit on it, and keep them clean.",
            site_number=pose.site_number,
        )
    needed = 330 * asked / (3 + asked)
    text = f"{number(asked, 2)}, a pendulum value of {number(needed, 0)}"
    yield compose(Demand.own("grip", title, "at least", "factor", asked, text, GRIP), finding)


def _grip_lines(value: float, slope: float) -> Lines:
    level = friction(LEVEL_VALUE)
    return (
        f"friction = 3 V / (330 − V), V = {number(value)} the wet pendulum value",
        f"= {number(3 * value)} / {number(330 - value)} = {number(friction(value), 3)}",
        f"asked for on the level, V = {number(LEVEL_VALUE)}: {number(level, 3)}",
        f"on a slope of {one_in(slope)} its tangent besides: {number(level, 3)} + {number(slope, 3)}"
        f" = {number(level + slope, 3)}",
    )


def toe_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the toe stands by friction where the ground under it slopes most."""
    found = subjects.toe_ground
    finding: Finding = Unjudged(key="", subject="", why="The ramp stands on its toe at no site.")
    if found is not None:
        finding = Measured(
            key="",
            subject=subjects.words(found.site),
            state=found.site.state,
            value=found.slope,
            working=prose(_toe_lines, found.slope),
            why="" if found.slope <= WET else "Bed the toe in, or stake it: it slides on this slope.",
            site_number=found.site.site_number,
        )
    text = f"{one_in(WET)}, wet friction of {number(WET)}"
    demand = Demand.own("toe-slides", "Toe stands by friction", "at most", "gradient", WET, text, PRACTICE)
    yield compose(demand, finding)


def _toe_lines(slope: float) -> Lines:
    return (
        "it slides where the tangent of the ground's slope is more than the friction",
        f"slope of the ground under the toe = {number(slope, 4)}; friction = {number(WET)}",
    )


def crowd_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether a crowd on the ramp is within its rated load: advice."""
    design = subjects.design
    crowd, rated, count = crowd_kg(design), design.use.rated_load_kg, persons(design)
    sizes = tuple((leaf.length_mm, leaf.width_mm) for leaf in (design.inner_leaf, design.outer_leaf))
    demand = Demand.own(
        "crowd", "Crowd on the ramp", "at most", "kg", rated, f"{kg(rated)}, the rated load", CROWD
    )
    warning = (
        f"Mark it: no more than {persons_words(count)} at once." if count else "Mark it: nobody on foot."
    )
    finding = Measured(key="", subject="", value=crowd, working=prose(_crowd_lines, sizes, crowd, count))
    yield compose(replace(demand, warning=warning), finding)


def _crowd_lines(sizes: tuple[tuple[MM, MM], ...], crowd: KG, count: int) -> Lines:
    return (
        f"area = {' + '.join(f'{mm(length)} x {mm(width)}' for length, width in sizes)}",
        f"crowd = {figure(CROWD_N_M2 / 1000, 'kN/m2')} x area / {number(G_M_S2, 2)} m/s2 = {kg(crowd)}",
        f"persons of {kg(WALKER_KG)} within the rated load: {count}",
    )
