"""Whether the empty ramp stays down where it is put, whatever its springs lift."""

import math
from collections.abc import Iterator
from typing import Final, get_args

from rampdraft.checks.result import Check, Demand, Finding, Measured, Subjects, Unjudged, compose
from rampdraft.geometry.linkage import linkage
from rampdraft.mechanics.handling.staying import LiftedAt, Staying
from rampdraft.model.design import Design
from rampdraft.rounding import greatest
from rampdraft.strength.formula import Formula, M, Symbol
from rampdraft.words.figures import degrees, mm, newton, newton_metre
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

_X, _Y = Symbol("X", mm), Symbol("Y", mm)
TOE: Final = Formula((Symbol("G", newton_metre) - Symbol("T", newton_metre)) / _X, newton)
"""What the ground pushes the toe with: moments about the deck hinge."""
JOINT: Final = Formula(Symbol("N", newton) * _Y - Symbol("Go", newton_metre), newton_metre)
"""What presses the joint on its stop: moments of the outer leaf about the joint."""
LIFT: Final = Formula((M + Symbol("L", newton_metre)) * _X / (Symbol("A", mm) * _Y), newton)
"""Upward force at the joint of a beam on deck hinge and toe that takes the moment there to nothing."""


_TITLES: Final[dict[LiftedAt, str]] = {
    "joint": "Empty ramp stays down at the joint",
    "toe": "Empty ramp stays down at the toe",
}
_NOWHERE: Final = "The ramp stands on its toe at no site."


def staying_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield what it takes to lift the joint and the toe of the empty ramp, each at the worst site."""
    design, found = subjects.design, subjects.staying
    demanded = design.hold_down.demanded_n
    for part in get_args(LiftedAt):
        finding: Finding = Unjudged(key=part, part=part, subject=say(part), why=say(_NOWHERE))
        if found:
            worst = greatest(found, lambda one, part=part: -one.lift_n(part))
            value = worst.lift_n(part)
            finding = Measured(
                key=part,
                part=part,
                subject=subjects.words(worst.site),
                state=worst.site.state,
                value=value,
                working=prose(_lines, worst, part),
                why=_why(design, worst, part),
                site_number=worst.site.site_number,
            )
        title = say(_TITLES[part])
        yield compose(Demand.own("stays-down", title, "at least", "N", demanded, newton(demanded)), finding)


def _why(design: Design, found: Staying, part: LiftedAt) -> str:
    if part == "joint" and found.needs_latch:
        return say("Only with the latch shut: without it the springs lift the joint.")
    if found.lift_n(part) >= 0:
        return ""
    assert found.rest is not None, "what is lifted by nothing does not stay"
    rise = linkage(design, found.site.drop_mm).joint(found.rest.inner_rad)[1] - found.site.joint[1]
    lift = found.lift_n("joint")
    lifts = say(
        "The springs lift the joint {rise} before the ramp rests, with the inner leaf at {angle} to the"
        " level.",
        rise=mm(round(rise)),
        angle=degrees(math.degrees(found.rest.inner_rad)),
    )
    return f"{lifts} {say('{force} down on the joint holds it.', force=newton(-lift))}" if lift < 0 else lifts


def _lines(found: Staying, part: LiftedAt) -> Lines:
    toe = TOE.of(found.weight_nmm, found.spring_nmm, found.to_toe_mm)
    lines = (
        say("X, Y: arms of the ground's push about deck hinge and joint; A: level from deck hinge to joint"),
        say(
            "G, T: moments of weights and springs about the deck hinge; Go: of the outer leaf about the joint"
        ),
        say("toe pressed down by N = {line}", line=toe.line),
    )
    if part == "toe":
        return lines
    joint = JOINT.of(found.toe_n, found.past_joint_mm, found.outer_nmm)
    lift = LIFT.of(found.joint_nmm, found.latch_nmm, found.to_toe_mm, found.to_joint_mm, found.past_joint_mm)
    return (
        *lines,
        say("moment on the joint's stop, M = {line}", line=joint.line),
        say("latch across the joint, L = {moment}", moment=newton_metre(found.latch_nmm)),
        say("lifted by F = {line}", line=lift.line),
    )
