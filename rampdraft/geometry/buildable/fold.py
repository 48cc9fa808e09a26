"""Rules about stowing and about stop bars that can bear."""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.errors import Problem
from rampdraft.figures import mm
from rampdraft.geometry.buildable.words import wrong
from rampdraft.geometry.lanes import (
    TOUCH_MM,
    rail_intervals_mm,
    stop_intervals_mm,
)
from rampdraft.geometry.linkage import linkage
from rampdraft.model.design import Design
from rampdraft.units import DEG, MM

WELD_GAP_MM: Final = 2.0
"""A gap beside a rail that a weld still bridges; common practice."""


def _stowed_points(design: Design) -> Iterator[tuple[str, MM]]:
    """Yield (what, height above the deck hinge) of the joint and the free end, stowed; offsets from the rails
    left out.
    """
    closed: DEG = design.fold.closed_deg * (1 if design.fold.closing == "faces" else -1)
    inner = math.radians(design.fold.stowed_deg)
    outer = inner + math.radians(closed)
    joint = design.inner_leaf.length_mm * math.sin(inner)
    toe = joint + design.outer_leaf.length_mm * math.sin(outer)
    yield "inner_leaf", joint
    yield "outer_leaf", toe
    if design.toe.kind == "flap":
        yield "toe", toe + design.toe.length_mm * math.sin(outer + math.radians(design.toe.carried_deg))


def stows(design: Design) -> Iterator[Problem]:
    """Yield an outer leaf too long to be stowed."""
    hinge_height = linkage(design).hinge[1]
    for what, height in _stowed_points(design):
        below = -(hinge_height + height)
        if below > TOUCH_MM:
            part = {
                "inner_leaf": "the joint",
                "outer_leaf": "the toe",
                "toe": "the toe flap, as it is carried,",
            }[what]
            way_out = {
                "inner_leaf": "shorten the inner leaf or stow it higher",
                "outer_leaf": "shorten the outer leaf, or lengthen the inner one",
                "toe": "carry the flap turned back (180), or shorten the outer leaf",
            }[what]
            yield wrong(
                design,
                f"{what}.length_mm",
                f"is longer than can stow: {part} would come {mm(below)} below the ground",
                way_out,
            )
            return
    yield from _stows_over_deck(design)


def _stows_over_deck(design: Design) -> Iterator[Problem]:
    """Faces together and upright, the outer leaf hangs on the deck's side and must not be longer than the
    inner one.
    """
    upright = 45 <= design.fold.stowed_deg <= 135
    reach_in = (
        2 * design.joint.height_mm + design.outer_leaf.rail_section.depth_mm - design.deck_hinge.height_mm
    )
    if design.fold.closing != "faces" or not upright or reach_in <= design.deck_hinge.out_mm:
        return
    lowest = min(height for _, height in _stowed_points(design))
    if lowest < -TOUCH_MM:
        yield wrong(
            design,
            "outer_leaf.length_mm",
            f"is longer than can stow: faces together, its toe would meet the deck ({mm(-lowest)} below the"
            " deck hinge)",
            "make the outer leaf no longer than the inner one",
        )


def stop_bars(design: Design) -> Iterator[Problem]:
    """Yield stop bars that cannot be made or cannot bear."""
    stop, pairs = design.stop, len(design.inner_leaf.rail_lanes_mm)
    if stop.kind == "none":
        return
    if stop.count > pairs:
        yield wrong(
            design,
            "stop.count",
            f"is more than the {pairs} pairs of rails that stop bars can sit on",
            f"make it at most {pairs}",
        )
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    own, other = (inner, outer) if stop.fixed_to == "inner" else (outer, inner)
    if stop.kind == "butt":
        own = min(inner, outer)
        if stop.arm_mm <= 0 and design.fold.closing == "backs":
            yield wrong(
                design,
                "stop.arm_mm",
                "cannot bear: a butting stop below the hinge centre opens under load instead of closing",
                "put the butting faces above the hinge centre",
            )
        if stop.gap_mm >= 2 * stop.fixed_length_mm:
            yield wrong(design, "stop.gap_mm", "leaves nothing of the stop bars", "make the gap smaller")
    elif stop.lap_mm > other:
        yield wrong(
            design, "stop.lap_mm", f"reaches past the end of the other leaf ({mm(other)})", "shorten the lap"
        )
    if stop.fixed_length_mm > own:
        yield wrong(
            design,
            "stop.fixed_length_mm",
            f"is longer than the leaf that carries the bar ({mm(own)})",
            "shorten it",
        )


def stop_bears(design: Design) -> Iterator[Problem]:
    """A stop bar must have a rail of each leaf to sit on: under it when it laps, beside it when it butts."""
    stop = design.stop
    reach = {"none": 0.0, "lap": -TOUCH_MM, "butt": WELD_GAP_MM}[stop.kind]
    for y0, y1 in stop_intervals_mm(design):
        for leaf, words in ((design.inner_leaf, "inner"), (design.outer_leaf, "outer")):
            gap = min(
                (max(left - y1, y0 - right) for left, right in rail_intervals_mm(leaf)), default=math.inf
            )
            if gap > reach:
                what = "lies on no rail" if stop.kind == "lap" else "is beside no rail"
                least = mm(stop.section.width_mm + 2 * (gap - reach))
                way_out = (
                    f"make it wider than {least}" if stop.kind == "lap" else f"make it {least} wide or more"
                )
                yield wrong(
                    design,
                    "stop.section",
                    f"cannot bear: a stop bar {what} of the {words} leaf, the next is {mm(max(gap, 0.0))}"
                    " away",
                    way_out if math.isfinite(gap) else "give the leaf rails",
                )
                return
