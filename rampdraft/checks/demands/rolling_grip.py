"""Whether wheels that drive and brake a user find the grip that the way asks for, and its motor the push."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.rolling_cases import Case, demand_of, finding_of, hardest, row_of
from rampdraft.checks.result import MOST_RATIO, Check, Source, Unjudged, compose
from rampdraft.mechanics.results import DECK_WORDS
from rampdraft.mechanics.rolling.grip import MOST, ROAD_VALUE, RUN_UP_M_S, friction
from rampdraft.mechanics.rolling.lasting import lasting
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.model.design import Design
from rampdraft.model.rolling_shape import shape_of
from rampdraft.rounding import greatest
from rampdraft.words.figures import figure, newton, number
from rampdraft.words.prose import Lines
from rampdraft.words.say import say

GRIPS: Final = Source(
    rule_set="own",
    title="Grip of wheels",
    clause="",
    publication=(
        "equilibrium of the rigid user; pendulum value to friction: conversion table of the US National"
        " Bureau of Standards; the ground as a road of 45, Transport and Road Research Laboratory, Road Note"
        " 27 (from memory); a run at 1 m/s, common practice"
    ),
)
_GIVES: Final = "all that they give"
_BY_GRIP: Final = "by their grip alone"
_SPINS: Final = "From a standstill they spin there: come with some speed."


def grip_checks(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    """Yield whether driven wheels take their user over what it meets, with a run where it needs one, and
    whether braked wheels hold it; and, as advice, whether it can start anywhere.
    """
    ways = [(roll, way) for roll in rolls for way in roll.ways]
    drives = [Case(roll=roll, worst=way.run_up, way=way.way) for roll, way in ways if way.run_up is not None]
    slides = [Case(roll=roll, worst=way.slide, way=way.way) for roll, way in ways if way.slide is not None]
    spins = [Case(roll=roll, worst=way.grip, way=way.way) for roll, way in ways if way.grip is not None]
    if drives:
        yield _speed(design, "drives", say("Run that driven wheels need"), drives)
    if spins:
        demand = demand_of(
            "spins", say("Driven wheels start anywhere"), "at most", "factor", 1.0, say(_GIVES), GRIPS
        )
        finding = finding_of(
            design, greatest(spins, lambda one: one.value), spins, "given", surface_lines(design)
        )
        value = finding.value
        said = (
            say("{share} of what they give", share=number(value, 2))
            if value < MOST
            else say("more than they give")
        )
        yield compose(replace(demand, warning=say(_SPINS)), replace(finding, text=f"{said}, {finding.text}"))
    if slides:
        yield _speed(design, "slides", say("Slide of braked wheels"), slides)


def _speed(design: Design, name: str, title: str, cases: Sequence[Case]) -> Check:
    worst = greatest(cases, lambda one: one.value)
    if not worst.value:  # nowhere
        worst = replace(worst, worst=replace(worst.worst, met="", place=""))
    finding = finding_of(design, worst, cases, "m/s", surface_lines(design))
    value, limit = min(finding.value, MOST_RATIO * RUN_UP_M_S), figure(RUN_UP_M_S, "m/s")
    said = f"{figure(value, 'm/s', 2)}, {finding.text}" if value else say(_BY_GRIP)
    demand = demand_of(name, title, "at most", "m/s", RUN_UP_M_S, limit, GRIPS)
    return compose(demand, replace(finding, value=value, text=said))


def surface_lines(design: Design) -> Lines:
    """Return the friction of surface and ground for the working, and how a run is counted."""
    wet = design.use.wet_grip
    return (
        say(
            "friction = 3 V / (330 - V): of the surface {surface}, V = {wet}; of the ground {ground},"
            " V = {road}",
            surface=number(friction(wet), 2),
            wet=number(wet),
            ground=number(friction(ROAD_VALUE), 2),
            road=number(ROAD_VALUE),
        ),
        say("energy that lacks = mass x v2 / 2; what each kink leaves of it is counted"),
    )


def motor_checks(design: Design, rolls: Sequence[Roll]) -> Iterator[Check]:
    """Yield, for each user with a motor, whether that gives what the way asks for while it lasts; not judged
    where its push is not known.
    """
    for place, user in enumerate(design.use.users, start=1):
        own = [roll for roll in rolls if roll.user == place]
        if not own or not shape_of(user).powered:
            continue
        if user.drive_n:
            cases = [
                Case(roll=roll, worst=lasting(roll, way), way=way.way) for roll in own for way in roll.ways
            ]
            finding = finding_of(design, greatest(cases, lambda one: one.value), cases, "keep")
            demand = demand_of("motor", say("Motor"), "at most", "N", user.drive_n, newton(user.drive_n))
            yield compose(demand, replace(finding, key=f"user-{place}", text=newton(finding.value)))
            continue
        cases = [Case(roll=roll, worst=hardest(roll, way), way=way.way) for roll in own for way in roll.ways]
        worst = greatest(cases, lambda one: one.value)
        _, site, state, way, _ = row_of(design, worst)
        asks = say(
            "{force} at its wheels ({site}, {deck}, {way})",
            force=newton(worst.value),
            site=site,
            deck=say(DECK_WORDS[state]),
            way=way,
        )
        yield compose(
            demand_of("motor", say("Motor and brakes"), "at least", "N", worst.value, newton(worst.value)),
            Unjudged(
                key=f"user-{place}",
                subject=user.name,
                user=place,
                why=say("The way asks for {asks}: its maker must say whether it gives that.", asks=asks),
            ),
        )
