"""The joint under load: what holds it straight, how far it turns before that, and with what lever arm.

Between deck hinge and toe a load pushes the joint down, which turns the outer leaf toe-up against the inner
one (fold > 0). Faces together that is the folding direction, so that no stop bar can hold it; backs together
a stop can. Over a prop each leaf spans by itself, so that nothing is asked of a stop.

A stop has two lever arms about the hinge centre, on purpose:

- `touching_arm_mm`, e: where it touches first and the play ends, the edge of the butting faces or the tip of
  the lapping bar. The design's dimension, what the play follows from, and what is told of the joint.
- `bearing_arm_mm`: where its force stands under load, in the middle of what bears. What forces follow from.
"""

import math

from rampdraft.geometry.lanes import stop_intervals_mm
from rampdraft.mechanics.results import JointVerdict
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD
from rampdraft.words.figures import figure, fixed
from rampdraft.words.say import counted, say

_PROPPED = "A prop stands under the joint and carries the load; each leaf spans by itself."
_PROPPED_FACES = " Without it the load would fold the joint, since faces together is the way it folds."
_FACES = (
    "The load folds this joint: faces together is the way it closes, so a load on the ramp pushes the joint"
    " down in its folding direction and no stop bar can hold it. Put a prop under the joint or a locking bar"
    " across it, or close backs together."
)
_NO_STOP = (
    "Nothing holds the joint: a load pushes it down and it folds. Fit stop bars on the rails' top side, or a"
    " prop under the joint."
)


def held_by_stop(design: Design) -> bool:
    """Return whether stop bars hold the joint straight under load."""
    return design.stop.kind != "none" and not design.prop.fitted and design.fold.closing == "backs"


def touching_arm_mm(design: Design) -> MM:
    """Return e, how far from the hinge centre the stop touches first: the lap, or the height of the butting
    edge; 0 for none.
    """
    stop = design.stop
    return {"none": 0.0, "lap": stop.lap_mm, "butt": abs(stop.arm_mm)}[stop.kind]


def bearing_arm_mm(design: Design) -> MM:
    """Return the lever arm of the stop's force about the hinge centre.

    A lapping bar presses with its tip: the lap. Butting faces bear on the half of the bar farther from the
    centre (assumed, with an even pressure), so the force stands a quarter of the bar's depth inside its edge.
    """
    stop = design.stop
    return stop.lap_mm if stop.kind == "lap" else abs(stop.arm_mm) - stop.section.depth_mm / 4


def bearing_height_mm(design: Design) -> MM:
    """Return how high over the top of the rails the force of butting faces stands; below it negative."""
    return design.joint.height_mm + bearing_arm_mm(design)


def deployed_fold_rad(design: Design) -> RAD:
    """Return the joint's angle when deployed, its play: turned toe-up until the stop touches, straight where
    no stop holds it.

    Butting edges at a height e meet when each has turned by atan(c / 2e). A lapping bar's tip (g, c) meets
    the rail's top line, which passes the hinge centre at the distance h: g sin(phi) = h + (c - h) cos(phi).
    Both are c / e for a small gap c.
    """
    if not held_by_stop(design):
        return 0.0
    stop, height, gap = design.stop, design.joint.height_mm, design.stop.gap_mm
    if stop.kind == "butt":
        return 2 * math.atan2(gap, 2 * touching_arm_mm(design))
    reach = math.hypot(stop.lap_mm, gap - height)
    return math.atan2(gap - height, stop.lap_mm) + math.asin(max(-1.0, min(1.0, height / reach)))


def joint_verdict(design: Design) -> JointVerdict:
    """Return what the load does to the joint and what holds it.

    The play phi lets the joint drop by phi A B / (A + B): the toe and the deck hinge stay where they are
    (small angles).
    """
    if design.prop.fitted:
        words = say(_PROPPED) + (say(_PROPPED_FACES) if design.fold.closing == "faces" else "")
        return JointVerdict(held=True, by="prop", words=words, lever_arm_mm=0.0, play_rad=0.0, drop_mm=0.0)
    if not held_by_stop(design):
        words = say(_FACES) if design.fold.closing == "faces" else say(_NO_STOP)
        return JointVerdict(
            held=False, by="nothing", words=words, lever_arm_mm=0.0, play_rad=0.0, drop_mm=0.0
        )
    stop, arm, play = design.stop, touching_arm_mm(design), deployed_fold_rad(design)
    a, b = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    drop, count = play * a * b / (a + b), len(stop_intervals_mm(design))
    if stop.kind == "lap":
        bars = counted(
            count,
            "{count} stop bar lap past the hinge line",
            "{count} stop bars lap past the hinge line",
        )
    else:
        bars = counted(
            count,
            "{count} stop bar butt above the hinge centre",
            "{count} stop bars butt above the hinge centre",
        )
    words = say(
        "{bars} and hold the joint with a lever arm of {arm}. A gap of {gap} lets it turn {play} and"
        " drop {drop} before they bear.",
        bars=bars,
        arm=figure(arm, "mm", 1),
        gap=figure(stop.gap_mm, "mm", 2),
        play=fixed(math.degrees(play), 2, "°"),
        drop=fixed(drop, 1, "mm"),
    )
    return JointVerdict(held=True, by="stop", words=words, lever_arm_mm=arm, play_rad=play, drop_mm=drop)
