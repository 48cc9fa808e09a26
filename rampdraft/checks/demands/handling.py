"""Whether the people at hand can fold the ramp, and what happens where they let go."""

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft.checks.result import MOST_RATIO, Check, Demand, Measured, Source, Subjects, compose
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.handling.fall import CAUGHT_MM, Fall, caught_j
from rampdraft.mechanics.handling.hands import TWICE, Held, StageHands
from rampdraft.mechanics.handling.words import hands_words
from rampdraft.rounding import greatest
from rampdraft.strength.formula import Formula, M, Symbol
from rampdraft.words.figures import figure, fixed, kg, mm, newton, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import counted, say

HSE: Final = Source(
    rule_set="own",
    title="What hands can lift",
    clause="L23, paragraph 120; INDG143, lifting and lowering guideline",
    publication=(
        "HSE, Manual handling, guidance on the Regulations of 1992, L23; HSE, INDG143 (figures by height and"
        " the factor of two from memory)"
    ),
)
FALLS: Final = Source(
    rule_set="own",
    title="What hands can stop",
    clause="",
    publication="energy of a rigid body; half a metre of arms and knees by common practice",
)
HELD: Final = Formula(M / Symbol("r", mm), newton)
"""Force of a hand square to its arm r from the hinge, for the moment M that is left to it."""
_OTHERS: Final = "A guideline figure: up to twice of it is let pass for a few lifts by fit people."


def hands_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield what each stage of the fold asks of the people at hand, all forces at once, and whether that is
    more than the guideline.
    """
    people = subjects.design.hands.people
    who = counted(people, "{count} person", "{count} people")
    demand = Demand.own(
        "hands",
        say("Hands can fold it"),
        "at most",
        "share",
        1.0,
        say("{share} of what {people} may be asked for, twice the guideline", share=percent(1), people=who),
        HSE,
    )
    for stage in subjects.hands:
        yield compose(demand, _finding(stage, people))
    worst = greatest(subjects.hands, lambda one: one.share)
    told = say(
        "{share} of what {people} may be asked for: the guideline", share=percent(1 / TWICE), people=who
    )
    advice = Demand.own(
        "hands-guideline", say("Hands within the guideline"), "at most", "share", 1 / TWICE, told, HSE
    )
    yield compose(replace(advice, warning=say(_OTHERS)), replace(_finding(worst, people), key="", why=""))


def fall_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether hands, or a damper or stay, stop the ramp let go at the worst pose of each stage."""
    held = subjects.design.hands
    may = caught_j(held.people, held.person_n)
    for one in subjects.falls:
        left = 0.0 if held.stay else one.energy_j
        finding = Measured(
            key=f"stage-{one.number}",
            subject=say("stage {number}", number=one.number),
            value=left,
            text=say(
                "{energy} taken by the damper or stay" if held.stay else "{energy} falls on whoever holds it",
                energy=_joule(one.energy_j),
            ),
            working=prose(_fall_lines, one),
            why=""
            if left <= may
            else say("Fit a damper, a stay or a check rope, and let everybody stand clear."),
            share=one.at,
        )
        limit = say("{energy}, what hands stop", energy=_joule(may))
        yield compose(Demand.own("fall", say("Ramp let go"), "at most", "J", may, limit, FALLS), finding)


def _joule(value: float) -> str:
    return figure(value, "J", 0)


def _fall_lines(one: Fall) -> Lines:
    turned = f"{fixed(one.reach_mm / 1000, 2, 'm')}, I = {figure(one.inertia_kg_m2, 'kg m2')}"
    return (
        say(
            "energy let go, E = weights x heights + springs, over those deployed = {energy}",
            energy=_joule(one.energy_j),
        ),
        say("as if {mass} fell {height}", mass=kg(one.mass_kg), height=mm(one.height_mm)),
        say(
            "toe comes down at v = R root of (2 E / I), R = {radius}: {speed}",
            radius=turned,
            speed=figure(one.speed_m_s, "m/s"),
        ),
        say("hands stop what they lift without strain x {caught}", caught=mm(CAUGHT_MM)),
    )


def _finding(stage: StageHands, people: int) -> Measured:
    asks = say("{share} of what they may be asked for", share=percent(stage.share))
    return Measured(
        key=f"stage-{stage.number}",
        subject=say("stage {number}", number=stage.number),
        value=stage.share,
        text=f"{hands_words(stage)}: {asks if stage.share < MOST_RATIO else 'two places, one person'}",
        working=prose(_lines, stage, people),
        why=_why(stage, people),
        share=stage.at,
    )


def _why(stage: StageHands, people: int) -> str:
    if not stage.needed:
        return say("No number of people lifts that: a spring helps, or a lighter leaf, or a longer arm.")
    if stage.needed > people:
        return say("It takes {count} people.", count=stage.needed)
    return ""


def _lines(stage: StageHands, people: int) -> Lines:
    return (
        say("worst {pose}", pose=_pose(stage.pose)),
        *(line for one in stage.places for line in _held_lines(one)),
        say("two at one place lift 4/3, three 1.5 times what one does"),
        say(
            "{people} at hand, sharing the places as is best: {share}",
            people=people,
            share=figure(100 * stage.share, "%", 1),
        ),
        say("friction is not counted"),
    )


def _held_lines(one: Held) -> Lines:
    held = HELD.of(abs(one.force_n) * one.arm_mm, one.arm_mm)
    return (
        say(
            "lifted at the {place}, square to its arm r: F = {line}"
            if one.force_n > 0
            else "held back at the {place}, square to its arm r: F = {line}",
            place=say(one.handle),
            line=held.line,
        ),
        say(
            "hands {height} over the ground: one person may be asked for {force}",
            height=fixed(one.height_mm / 1000, 2, "m"),
            force=newton(one.person_n),
        ),
    )


def _pose(pose: Pose) -> str:
    inner, fold = (fixed(math.degrees(angle), 1, "°") for angle in (pose.inner_rad, pose.fold_rad))
    return say("with the inner leaf at {inner} to the level and the joint at {fold}", inner=inner, fold=fold)
