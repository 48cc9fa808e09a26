"""What follows along one leaf: slats, cross members, edge upstands. Plain sums; each always gives an answer,
within the range of its field, however little room there is.
"""

import math
from typing import Final, NamedTuple

from rampdraft.geometry.lanes import (
    TOUCH_MM,
    cope_reach_mm,
    cross_top_mm,
    deck_bracket_centres_mm,
    knuckle_centres_mm,
    stop_intervals_mm,
)
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.rounding import steps_over, whole_steps
from rampdraft.units import MM

ROOM_MM: Final = 1.0
"""What is left besides the clearance demanded, for saw, tape and the play of the stop; common practice."""
GRAIN_MM: Final = 0.01
"""A pitch is rounded down to this, so that the last slat of a long leaf is still where it should be."""


class Ends(NamedTuple):
    """What is left free at the near end of a leaf and at its far end."""

    near_mm: MM
    far_mm: MM


def slat_ends(design: Design, leaf: Leaf, *, inner: bool) -> Ends:
    """Return what slats must leave free: hinge lines and knuckles by the clearance demanded and a little,
    stop bars, and nothing at a plain or tapered toe.
    """
    top = leaf.slat_thickness_mm
    near, far = _hinge_lines_mm(design, top, inner=inner)
    stops = _stops_mm(design, top, inner=inner)
    if inner:
        return Ends(near, max(far, stops))
    return Ends(max(near, stops), _clear_mm(design) if design.toe.kind == "flap" else 0.0)


def even_pitch(room_mm: MM, width_mm: MM, greatest_gap_mm: MM) -> MM:
    """Return the pitch with which the fewest slats that keep the greatest gap fill a room from end to end.

    Where no number of them does, one less lies with a wider gap; a single one keeps the greatest gap.
    """
    count = steps_over(room_mm + greatest_gap_mm, width_mm + greatest_gap_mm, room_mm)
    if count * width_mm > room_mm + TOUCH_MM:
        count = whole_steps(room_mm, width_mm, room_mm)
    if count < 2:
        return min(width_mm + greatest_gap_mm, 3000.0)
    pitch = whole_steps((room_mm - width_mm) / (count - 1), GRAIN_MM, room_mm) * GRAIN_MM
    return round(max(pitch, width_mm), 6)


def even_places(design: Design, leaf: Leaf, *, inner: bool) -> tuple[MM, ...]:
    """Return where cross members stand evenly, clear of copes and stop bars: half a spacing from the ends,
    but the last one where a taper begins; fewer where there is no room for so many.
    """
    half, tapers = leaf.cross_section.width_mm / 2, design.toe.kind == "taper" and not inner
    end = leaf.length_mm - (design.toe.length_mm if tapers else 0.0)
    low, high = half + cope_reach_mm(design.deck_hinge if inner else design.joint, leaf), half
    if inner:
        high += cope_reach_mm(design.joint, leaf)
    top = cross_top_mm(leaf)
    stops = _stops_mm(design, top, bottom=top - leaf.cross_section.depth_mm, inner=inner)
    if stops and inner:
        high = max(high, stops + half)
    elif stops:
        low = max(low, stops + half)
    high = end - high
    if high - low < -TOUCH_MM:
        return ()
    run, halves = (high, 1) if tapers else (end, 0)
    wanted = leaf.cross_count
    if leaf.cross_members == "spacing":
        wanted = steps_over(2 * run + halves * leaf.cross_greatest_mm, 2 * leaf.cross_greatest_mm)
    count = min(wanted, 40, whole_steps(max(high - low, 0.0), 2 * half, end) + 1)
    return _spread(low, high, run / (count - halves / 2), count, 2 * half) if count > 0 else ()


def _spread(low: MM, high: MM, step: MM, count: int, width: MM) -> tuple[MM, ...]:
    """Return so many places, the first half a step from the hinge line, all of them from `low` to `high`; no
    nearer to each other than `width`.
    """
    first = min(max(low, step / 2), high)
    last = max(min(high, step * (count - 0.5)), first)
    if last - first < (count - 1) * width:
        first, last = low, high
    apart = (last - first) / (count - 1) if count > 1 else 0.0
    places = (first + number * apart for number in range(count))
    return tuple(_whole(at, low, high) if count == 1 or apart >= width + 1 else at for at in places)


def _whole(at: MM, low: MM, high: MM) -> MM:
    """Return a place in whole mm, where that is between `low` and `high`."""
    return min(max(float(math.floor(at + 0.5)), low), high)


def upstand_ends(design: Design, leaf: Leaf, *, inner: bool) -> Ends:
    """Return what edge upstands must leave free: hinge lines and knuckles by the clearance demanded and a
    little, the deck as the ramp is stowed, and at the toe what would reach further from the joint than the
    slats do.
    """
    top, clearance = leaf.slat_thickness_mm + leaf.upstand_height_mm, _clear_mm(design)
    side = leaf.width_mm / 2
    near, far = _hinge_lines_mm(design, top, inner=inner, side_mm=side)
    if any(max(-y0, y1) > side + TOUCH_MM for y0, y1 in stop_intervals_mm(design)):
        stops = _stops_mm(design, top, inner=inner)
        near, far = (near, max(far, stops)) if inner else (max(near, stops), far)
    if inner:
        near = max(near, clearance - design.deck_hinge.out_mm, _past_the_deck_mm(design, top))
    else:
        height = design.joint.height_mm
        reach = math.hypot(leaf.length_mm, leaf.slat_thickness_mm - height)
        far = leaf.length_mm - math.sqrt(max(reach**2 - (top - height) ** 2, 0.0))
    near, far = _up(near), _up(far)
    most = leaf.length_mm - 1
    near = min(near, most, 2000.0)
    return Ends(near, max(min(far, most - near, 2000.0), 0.0))


def _past_the_deck_mm(design: Design, top: MM) -> MM:
    """Return from where on an upstand passes over the deck, as the inner leaf is turned up to be stowed.

    In the frame of the deck hinge the deck fills x <= -out, z <= below. A point of the leaf sinks while it
    is turned on behind the hinge (dz/dθ = x < 0), so that it comes nearest as it is stowed.
    """
    hinge, clearance = design.deck_hinge, _clear_mm(design)
    turn = math.radians(design.fold.stowed_deg)
    sin, cos = math.sin(turn), math.cos(turn)
    if sin < 0.1:
        return 0.0
    over, behind, high = hinge.below_mm + clearance, hinge.out_mm - clearance, top - hinge.height_mm
    if cos < 0:
        return (over - high * cos) / sin
    passes_over = over * sin - behind * cos
    keeps_out = (high * sin - behind) / cos if cos > 1e-9 else math.inf
    return max(min(passes_over, keeps_out), 0.0)


def _up(size: MM) -> MM:
    return float(max(steps_over(size, 1.0, size), 0)) if size else 0.0


def _clear_mm(design: Design) -> MM:
    """Return how far what moves past another part stays away from it."""
    return design.fold.clearance_mm + ROOM_MM


# Hinge lines and stop bars
# --------------------------------------------------------------------------------------


def _hinge_lines_mm(design: Design, top: MM, *, inner: bool, side_mm: MM | None = None) -> tuple[MM, MM]:
    """Return how far from its near and its far hinge line a part from the top of the rails up to `top` keeps
    clear; the outer leaf has no far one. `side_mm` is where across it begins, where it is beside the slats.
    """
    clearance = _clear_mm(design)
    joint_y = (*knuckle_centres_mm(design.inner_leaf), *knuckle_centres_mm(design.outer_leaf))
    joint = _reach_mm(design.joint, joint_y, top, clearance, side_mm)
    if not inner:
        return joint, 0.0
    deck_y = (*design.inner_leaf.rail_lanes_mm, *deck_bracket_centres_mm(design))
    return _reach_mm(design.deck_hinge, deck_y, top, clearance, side_mm), joint


def _reach_mm(hinge: Hinge, across: tuple[MM, ...], top: MM, clearance: MM, side_mm: MM | None) -> MM:
    """Return how far from a hinge line its knuckles keep a part, in whole mm; at least the clearance."""
    away = max(-hinge.height_mm, hinge.height_mm - top, 0.0)
    radius = hinge.knuckle_diameter_mm / 2 + clearance
    outside = max(map(abs, across), default=0.0) + hinge.knuckle_length_mm / 2
    meets = radius > away and (side_mm is None or outside > side_mm - TOUCH_MM)
    reach = max(math.sqrt(radius**2 - away**2) if meets else 0.0, clearance)
    return float(steps_over(reach, 1.0, radius)) if reach else 0.0


def _stops_mm(design: Design, top: MM, *, inner: bool, bottom: MM = 0.0) -> MM:
    """Return how far from the joint stop bars reach over a leaf, where they are between `bottom` and `top`;
    0 where none do. What moves past a part keeps the clearance demanded.
    """
    stop, leaf = design.stop, design.inner_leaf if inner else design.outer_leaf
    depth = stop.section.depth_mm
    if stop.kind == "none":
        return 0.0
    if stop.kind == "butt":
        edge = design.joint.height_mm + stop.arm_mm
        low = edge - depth if stop.arm_mm > 0 else edge
        reach = stop.fixed_length_mm + stop.gap_mm / 2
    else:
        backs = design.fold.closing == "backs"
        low = stop.gap_mm if backs else -leaf.rail_section.depth_mm - stop.gap_mm - depth
        own = (stop.fixed_to == "inner") == inner
        reach = stop.fixed_length_mm if own else stop.lap_mm + _clear_mm(design)
    return reach if low < top - TOUCH_MM and low + depth > bottom + TOUCH_MM else 0.0
