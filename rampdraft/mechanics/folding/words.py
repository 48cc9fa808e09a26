"""What a movement of the fold is called, and the sentence that tells a person to make it."""

import math
from typing import Literal

from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Pose, placings
from rampdraft.model.design import Design, Site
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

Movement = Literal["slide", "hang", "together", "swing", "both"]

SLIDING_MM = 45.0
"""A toe this near the ground on the way is drawn in over it."""

HANGING_RAD = math.radians(12.0)
"""An outer leaf this near the plumb line is let hang."""

STILL_RAD = math.radians(3.0)
"""An angle that turns less than this is told as kept."""


def movement(design: Design, site: Site, start: Pose, end: Pose) -> Movement:
    """Return what kind of movement a straight leg of the path is."""
    middle = Pose((start.inner_rad + end.inner_rad) / 2, (start.fold_rad + end.fold_rad) / 2)
    if toe_room_mm(design, site, middle) < SLIDING_MM:
        return "slide"
    if abs(end.fold_rad - start.fold_rad) < STILL_RAD:
        return "together"
    if abs(end.inner_rad - start.inner_rad) < STILL_RAD:
        return "swing"
    plumb = [abs(pose.inner_rad + pose.fold_rad + math.pi / 2) for pose in (middle, end)]
    return "hang" if max(plumb) < HANGING_RAD else "both"


def sentence(design: Design, kind: Movement, end: Pose, *, last: bool) -> str:
    """Return what to do, for a movement that ends in a pose."""
    inner, fold = fixed(math.degrees(end.inner_rad), 0, "°"), fixed(abs(math.degrees(end.fold_rad)), 0, "°")
    shut = abs(abs(math.degrees(end.fold_rad)) - design.fold.closed_deg) < math.degrees(STILL_RAD)
    latch = say(", and latch it") if last else ""
    if kind == "slide":
        return say(
            "Lift the joint until the inner leaf stands at {inner}; the toe comes in just off"
            " the ground{latch}.",
            inner=inner,
            latch=latch,
        )
    if kind == "hang":
        return say(
            "Raise the inner leaf to {inner} and let the outer leaf hang{latch}.", inner=inner, latch=latch
        )
    if kind == "together":
        return say(
            "Turn both leaves together until the inner leaf stands at {inner}{latch}.",
            inner=inner,
            latch=latch,
        )
    if kind == "swing" and shut:
        return say(
            "Swing the outer leaf over until it lies on the inner leaf{latch}."
            if design.fold.closing == "faces"
            else "Swing the outer leaf until it lies against the inner leaf{latch}.",
            latch=latch,
        )
    if kind == "swing":
        return say(
            "Swing the outer leaf until it stands at {fold} to the inner leaf{latch}.", fold=fold, latch=latch
        )
    return say(
        "Bring the inner leaf to {inner} and the outer leaf to {fold} from straight, both at once{latch}.",
        inner=inner,
        fold=fold,
        latch=latch,
    )


def toe_room_mm(design: Design, site: Site, pose: Pose) -> MM:
    """Return the height of the toe's lower corner above the ground."""
    leaf = design.outer_leaf
    x, z = placings(design, pose)["outer"].point(leaf.length_mm, -leaf.rail_section.depth_mm)
    return z - ground_line(site).height_mm(x)
