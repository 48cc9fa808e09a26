"""How long two leaves can be together that stow in the room given: an upper bound, whatever their hinges.

Stowed, three points of the ramp lie one after the other: the deck hinge's centre, the joint's, and the upper
corner of the rails at the toe. The first two are at least the inner leaf's length apart, the last two at
least the outer one's, since both lengths are measured along the leaf and offsets only add to them
(Pythagoras). So no leaf is longer than the greatest distance of two points of the room:

- above the deck the ramp keeps to the room over it and outside, and to the height given;
- lower than the deck it may hang outside. What comes from over the deck must come over its edge: a straight
  line over a corner;
- under the deck nothing is asked for, so a leaf may lie there that was swung in under the joint. Then the
  corner bounds it from the other side, and it had to come past the ground, hanging down, or past the deck
  edge, when the joint was no higher than the inner leaf is long.

The joint's height is looked at in slices, each with what is greatest in it, so that the bound holds in
between.
"""

import math
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

from rampdraft.model.design import DeckHinge, Hinge, Leaf, Toe
from rampdraft.model.fields.paths import fields_of
from rampdraft.model.fields.record import Dim
from rampdraft.units import MM

_SLICES: Final = 48
"""Of the heights that the joint may stow at, above the deck and below it."""


def range_of(cls: type, name: str) -> tuple[float, float]:
    """Return the least and the most that a value of a group may be."""
    record = next(info.record for info in fields_of(cls) if info.name == name)
    assert isinstance(record, Dim)
    return record.low, record.high


_HINGE_OUT: Final = range_of(DeckHinge, "out_mm")
_HINGE_BELOW: Final = range_of(DeckHinge, "below_mm")
_HINGE_HEIGHT: Final = range_of(Hinge, "height_mm")
OFF_RAIL_MM: Final = range_of(Hinge, "knuckle_diameter_mm")[1] / 2
"""A joint's centre is no farther off the rails than its knuckle, which lies on them, has radius."""
LEAF_MM: Final = range_of(Leaf, "length_mm")[1]


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """A kind of ramp: how far its hinges, its toe flap and where it stows may go."""

    out_mm: MM
    under_mm: MM
    """How far the deck hinge's centre may lie outside the deck edge, and behind it."""
    below_mm: MM
    above_mm: MM
    """How far it may lie below the deck surface, and above it."""
    offset_mm: MM
    """By how much the heights of both hinges in the inner leaf may differ."""
    leans_mm: MM
    """How high above the deck hinge the running surface may be."""
    flap_mm: MM
    hangs: bool
    """Whether it may stow lower than the carrier's end, outside or under the deck."""


ANY: Final = Kind(
    out_mm=_HINGE_OUT[1],
    under_mm=-_HINGE_OUT[0],
    below_mm=_HINGE_BELOW[1],
    above_mm=-_HINGE_BELOW[0],
    offset_mm=_HINGE_HEIGHT[1] - _HINGE_HEIGHT[0],
    leans_mm=range_of(Leaf, "slat_thickness_mm")[1] - _HINGE_HEIGHT[0],
    flap_mm=range_of(Toe, "length_mm")[1],
    hangs=True,
)
"""Every ramp that can be drawn."""
USUAL: Final = Kind(
    out_mm=_HINGE_OUT[1],
    under_mm=0.0,
    below_mm=100.0,
    above_mm=100.0,
    offset_mm=200.0,
    leans_mm=150.0,
    flap_mm=500.0,
    hangs=False,
)
"""A ramp as it is usually made, hung just below the deck edge and folded up: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """The room for the stowed ramp, about the deck edge."""

    kind: Kind
    height_mm: MM
    out_mm: MM
    over_mm: MM
    floor_mm: MM
    """How far below the deck it may hang outside."""
    swung_mm: MM
    """How far below the deck the ground is at its lowest, where the ramp swings."""
    deck_mm: MM
    """Length of the deck."""


@lru_cache(maxsize=4096)
def leaves_mm(room: Room) -> MM:
    """Return the most that both leaves together can measure."""
    if room.over_mm > room.deck_mm:  # a leaf may hang down behind the deck
        return 2 * LEAF_MM
    heights = [-room.floor_mm * (1 - k / _SLICES) for k in range(_SLICES)]
    heights += [room.height_mm * k / _SLICES for k in range(_SLICES + 1)]
    longest = 0.0
    for low, high in pairwise(heights):
        inner = min(_inner_mm(room, low, high), LEAF_MM)
        longest = max(longest, inner + min(_outer_mm(room, low, high, inner), LEAF_MM))
    return longest


def _inner_mm(room: Room, low: MM, high: MM) -> MM:
    """Return the greatest distance from deck hinge to joint with the joint between two heights."""
    kind = room.kind
    # Lower than the deck the inner leaf hangs down outside: only by its offsets is the joint farther in.
    inward = room.out_mm + room.over_mm if high > 0 else kind.offset_mm
    up, down = high + min(kind.below_mm, room.floor_mm), min(kind.above_mm, room.height_mm) - low
    return math.hypot(max(inward, room.out_mm + kind.under_mm), max(up, down))


def _outer_mm(room: Room, low: MM, high: MM, inner: MM) -> MM:
    """Return the greatest distance from joint to toe with the joint between two heights."""
    out, floor, kind = room.out_mm + OFF_RAIL_MM, room.floor_mm, room.kind
    under = _swung_mm(room, inner) if kind.hangs else 0.0
    if high <= 0:
        inward = max(room.over_mm, kind.under_mm + kind.offset_mm)
        return max(math.hypot(out + inward, max(room.height_mm - low, floor + high)), under)
    if low > 0:
        under = min(under, math.hypot(out * (1 + floor / low), high + floor))
    above = math.hypot(out + room.over_mm, max(room.height_mm - low, high))
    return max(above, _over_edge_mm(room, high), under)


def _over_edge_mm(room: Room, joint: MM) -> MM:
    """Return the longest line from a joint so high over the deck or outside down to a toe outside that is
    lower than the deck.

    A toe out at x and down at z lets the joint be x joint / z behind the edge at most; the line's length
    falls with z and rises again, so that it is longest at one of the ends.
    """
    out, over, floor = room.out_mm + OFF_RAIL_MM, room.over_mm, room.floor_mm
    down = min(joint * out / over, floor) if over else 0.0
    behind = min(over, joint * out / floor) if floor else over
    return max(math.hypot(out + behind, joint + floor), math.hypot(out + over, joint + down))


def _swung_mm(room: Room, inner: MM) -> MM:
    """Return how long an outer leaf is at most that comes to lie under the deck."""
    joint = inner + room.kind.above_mm + room.kind.offset_mm
    return max(joint + room.swung_mm, math.hypot(inner + room.kind.out_mm, joint))
