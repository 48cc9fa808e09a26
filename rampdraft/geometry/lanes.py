"""Places that follow from a design by plain sums: knuckles across, joint pairs, tops of cross members."""

import math
from functools import lru_cache
from itertools import pairwise
from typing import Final

from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.units import MM

TOUCH_MM: Final = 1e-6
"""Sums of decimal mm differ by less than this; parts that touch do not overlap."""

PIN_TAIL_MM = 12.0
"""How far a pin stands out past the knuckles, with a hole for a split pin half way; common practice."""


def knuckle_centres_mm(leaf: Leaf) -> tuple[MM, ...]:
    """Return where across each rail's joint knuckle sits: on its lane, or shifted outboard from it."""
    shift = leaf.knuckle_shift_mm
    return tuple(lane + (shift if lane >= 0 else -shift) for lane in leaf.rail_lanes_mm)


def joint_pairs_mm(design: Design) -> tuple[tuple[MM, MM], ...]:
    """Return (inner, outer) knuckle centres across of each pair at the joint: each inner knuckle with the
    nearest outer one.

    Nothing when a leaf has no rails.
    """
    return _nearest(knuckle_centres_mm(design.inner_leaf), knuckle_centres_mm(design.outer_leaf))


@lru_cache(maxsize=64)
def _nearest(inner: tuple[MM, ...], outer: tuple[MM, ...]) -> tuple[tuple[MM, MM], ...]:
    if not outer:
        return ()
    return tuple((y, min(outer, key=lambda other: (abs(other - y), other))) for y in inner)


def stop_intervals_mm(design: Design) -> tuple[tuple[MM, MM], ...]:
    """Return the interval across of each stop bar.

    They are spread over the joint's pairs, each in the middle of its pair; a single lapping bar lies in the
    middle of the ramp, so that a wide plate can be one.
    """
    stop, pairs = design.stop, joint_pairs_mm(design)
    if stop.kind == "none" or not pairs:
        return ()
    count = min(stop.count, len(pairs))
    chosen = (
        [round(index * (len(pairs) - 1) / (count - 1)) for index in range(count)]
        if count > 1
        else [len(pairs) // 2]
    )
    half = stop.section.width_mm / 2
    middles = (0.0 if count == 1 and stop.kind == "lap" else sum(pairs[index]) / 2 for index in chosen)
    return tuple((middle - half, middle + half) for middle in middles)


def prop_rails(design: Design) -> tuple[int, ...]:
    """Return the rails of the inner leaf that a prop stands under, counted from 0; none without props."""
    if not design.prop.fitted:
        return ()
    count = len(design.inner_leaf.rail_lanes_mm)
    return tuple(range(count)) if design.prop.under == "all" else tuple(sorted({0, count - 1}))


def rail_intervals_mm(leaf: Leaf) -> tuple[tuple[MM, MM], ...]:
    """Return the interval across of each rail, from left to right."""
    half = leaf.rail_section.width_mm / 2
    return tuple((lane - half, lane + half) for lane in leaf.rail_lanes_mm)


def joined_mm(intervals: tuple[tuple[MM, MM], ...]) -> tuple[tuple[MM, MM], ...]:
    """Return intervals, from left to right, of which those that touch are one."""
    joined: list[tuple[MM, MM]] = []
    for left, right in intervals:
        if joined and left - joined[-1][1] <= TOUCH_MM:
            joined[-1] = (joined[-1][0], right)
        else:
            joined.append((left, right))
    return tuple(joined)


def bays_mm(leaf: Leaf) -> tuple[tuple[MM, MM], ...]:
    """Return the interval across of each bay between rails; none between rails that touch."""
    return tuple((left[1], right[0]) for left, right in pairwise(joined_mm(rail_intervals_mm(leaf))))


def deck_bracket_centres_mm(design: Design) -> tuple[MM, ...]:
    """Return where across the carrier's own knuckles sit: beside each inner rail's, towards the middle of the
    ramp.
    """
    step = design.deck_hinge.knuckle_length_mm + design.deck_hinge.side_gap_mm
    return tuple(lane - step if lane > 0 else lane + step for lane in design.inner_leaf.rail_lanes_mm)


def cross_top_mm(leaf: Leaf) -> MM:
    """Return w of the top of the cross members, between the rails.

    Let in by half-lap, notch on notch, it stands 2 n above the rails' underside; n = half its depth sets it
    flush below.
    """
    rail_depth, depth = leaf.rail_section.depth_mm, leaf.cross_section.depth_mm
    lift = {"between": depth, "under": 0.0, "half_lap": 2 * leaf.half_lap_mm}[leaf.cross_fitting]
    return lift - rail_depth


def cope_reach_mm(hinge: Hinge, leaf: Leaf) -> MM:
    """Return how far from a hinge line cross members must begin to be clear of its knuckle and the coped rail
    ends; a notch of the rail, from its underside up, also of the widest cope, round another body's knuckle.
    """
    top = cross_top_mm(leaf)
    bottom = top - leaf.cross_section.depth_mm
    cope = hinge.knuckle_diameter_mm / 2
    if leaf.cross_fitting == "half_lap":
        bottom, cope = min(bottom, -leaf.rail_section.depth_mm), cope + hinge.running_clearance_mm
    above = max(hinge.height_mm - top, bottom - hinge.height_mm, 0.0)
    return math.sqrt(cope**2 - above**2) if above < cope else 0.0
