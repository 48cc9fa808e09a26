"""The dimensions in the details of a ramp: the few that set each, between what they measure."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.drawing import dimension
from rampdraft.drawing.clip import Box, around
from rampdraft.drawing.ink import Ink
from rampdraft.drawing.letters import words_mm
from rampdraft.drawing.text import mm_text
from rampdraft.geometry.linkage import Placing
from rampdraft.geometry.outline import Point
from rampdraft.model.design import Design, Hinge, Leaf, StopBars
from rampdraft.units import MM

Side = Literal["above", "below", "left", "right"]

_FIRST_MM: Final = 6.0
_LANE_MM: Final = 7.0
"""From a window to the first line of dimensions beside it, and from that to the next, on paper."""
_VALUE_MM: Final = 4.0
"""Beyond the last line, for its value."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A dimension, and on which side of the window its line lies."""

    ends: tuple[Point, Point]
    text: str
    side: Side
    owner: str = ""

    @property
    def along(self) -> tuple[MM, MM]:
        """Return from where to where it measures, along its line."""
        axis = 0 if self.side in ("above", "below") else 1
        a, b = self.ends[0][axis], self.ends[1][axis]
        return min(a, b), max(a, b)


def sized(sizes: Sequence[Size], window: Box, per_mm: MM) -> tuple[tuple[Ink, ...], Box]:
    """Return the dimensions of what a window shows, in lines beside it that do not share a place, and the box
    of window and dimensions; one whose ends it does not show is left out.
    """
    lanes: dict[Side, list[list[tuple[MM, MM]]]] = {"above": [], "below": [], "left": [], "right": []}
    marks: list[Ink] = []
    shown = [size for size in sizes if all(_shows(window, end) for end in size.ends)]
    for size in sorted(shown, key=lambda size: size.along[1] - size.along[0]):
        low, high = _room(size, per_mm)
        rows = lanes[size.side]
        row = next((row for row in rows if all(high <= a or low >= b for a, b in row)), None)
        if row is None:
            rows.append(row := [])
        row.append((low, high))
        off = (_FIRST_MM + _LANE_MM * rows.index(row)) * per_mm
        marks.extend(_dimension(size, window, off, per_mm))
    x0, y0, x1, y1 = window
    left, low, right, high = (
        (_FIRST_MM + _LANE_MM * (len(lanes[side]) - 1) + _VALUE_MM) * per_mm if lanes[side] else 0.0
        for side in ("left", "below", "right", "above")
    )
    return tuple(marks), around([window, (x0 - left, y0 - low, x1 + right, y1 + high)])


def _shows(window: Box, point: Point) -> bool:
    return window[0] <= point[0] <= window[2] and window[1] <= point[1] <= window[3]


def _room(size: Size, per_mm: MM) -> tuple[MM, MM]:
    """Return what a dimension takes of its line: where its value has no room it stands after it."""
    low, high = size.along
    if dimension.has_room(size.text, high - low, per_mm):
        return low, high
    tail = 6.0 * per_mm
    return low - tail, high + tail + words_mm(size.text, dimension.SIZE_PT) * per_mm


def _dimension(size: Size, window: Box, off: MM, per_mm: MM) -> tuple[Ink, ...]:
    (a, b), (x0, y0, x1, y1) = size.ends, window
    at = {"above": y1 + off, "below": y0 - off, "left": x0 - off, "right": x1 + off}[size.side]
    draw = dimension.level if size.side in ("above", "below") else dimension.upright
    return draw(a, b, size.text, at=at, per_mm=per_mm, owner=size.owner)


# What sets each detail
# ----------------------------------------------------------------------------------------------


def diameter(hinge: Hinge, centre: Point, group: str, side: Side) -> Iterator[Size]:
    """Yield how thick the pin of a hinge is."""
    r, (x, y) = hinge.pin_diameter_mm / 2, centre
    ends = ((x - r, y), (x + r, y)) if side in ("above", "below") else ((x, y - r), (x, y + r))
    yield Size(ends=ends, text=f"Ø {mm_text(2 * r)}", side=side, owner=f"{group}.pin_diameter_mm")


def deck_hinge_sizes(design: Design, edge: Point, centre: Point) -> Iterator[Size]:
    """Yield where the deck hinge's centre lies from the deck edge, and its pin."""
    hinge = design.deck_hinge
    if hinge.out_mm:
        yield Size(
            ends=(edge, centre), text=mm_text(abs(hinge.out_mm)), side="above", owner="deck_hinge.out_mm"
        )
    if hinge.below_mm:
        yield Size(
            ends=(edge, centre), text=mm_text(abs(hinge.below_mm)), side="right", owner="deck_hinge.below_mm"
        )
    yield from diameter(hinge, centre, "deck_hinge", "below")


def joint_sizes(design: Design, centre: Point, bars: Sequence[Box]) -> Iterator[Size]:
    """Yield how high the joint lies over the rails' tops, its pin, and the gap of a stop whose bars stand
    at `bars`.
    """
    joint = design.joint
    if joint.height_mm:
        yield Size(
            ends=(centre, (centre[0], centre[1] - joint.height_mm)),
            text=mm_text(abs(joint.height_mm), 2),
            side="right",
            owner="joint.height_mm",
        )
    yield from diameter(joint, centre, "joint", "below")
    yield from _gap(design.stop, bars)


def _gap(stop: StopBars, bars: Sequence[Box]) -> Iterator[Size]:
    """Yield the gap between the end faces of butting bars, where it is as wide as it is set."""
    for one in bars:
        for other in bars:
            gap = other[0] - one[2]
            if stop.kind == "butt" and gap > 0 and abs(gap - stop.gap_mm) < _SET_MM:
                top = min(one[3], other[3])
                ends = ((one[2], top), (other[0], top))
                yield Size(ends=ends, text=mm_text(stop.gap_mm, 2), side="above", owner="stop.gap_mm")
                return


_SET_MM: Final = 0.02


def across_sizes(design: Design, pair: tuple[MM, MM], centre_z: MM) -> Iterator[Size]:
    """Yield how long the knuckles of a pair are, how far apart, and how thick they and their pin are."""
    joint = design.joint
    half, r = joint.knuckle_length_mm / 2, joint.knuckle_diameter_mm / 2
    low, high = sorted(pair)
    for middle in (low, high):
        yield Size(
            ends=((middle - half, centre_z - r), (middle + half, centre_z - r)),
            text=mm_text(joint.knuckle_length_mm),
            side="below",
            owner="joint.knuckle_length_mm",
        )
    yield Size(
        ends=((low, centre_z + r), (high, centre_z + r)), text=mm_text(high - low), side="above"
    )  # fmt: skip
    yield Size(
        ends=((low - half, centre_z - r), (low - half, centre_z + r)),
        text=f"Ø {mm_text(2 * r)}",
        side="left",
        owner="joint.knuckle_diameter_mm",
    )
    yield from diameter(joint, (high + half, centre_z), "joint", "right")


def guard_sizes(leaf: Leaf, group: str, top: Point, rail_mm: MM) -> Iterator[Size]:
    """Yield how high the guard stands over the surface, whose edge is `top`, and how far the surface reaches
    beyond the rail's face at `rail_mm`.
    """
    if leaf.upstand_height_mm:
        yield Size(
            ends=(top, (top[0], top[1] + leaf.upstand_height_mm)),
            text=mm_text(leaf.upstand_height_mm),
            side="right",
            owner=f"{group}.upstand_height_mm",
        )
    beyond = leaf.width_mm / 2 - rail_mm
    if beyond >= 0.05:
        low = top[1] - leaf.slat_thickness_mm
        yield Size(ends=((rail_mm, low), (leaf.width_mm / 2, low)), text=mm_text(beyond), side="below")


def toe_sizes(design: Design, outer: Placing) -> Iterator[Size]:
    """Yield how thick a tapered toe is left, square to the ground."""
    leaf, toe = design.outer_leaf, design.toe
    if toe.kind == "taper":
        a, b = outer.point(leaf.length_mm, 0.0), outer.point(leaf.length_mm, -toe.thickness_mm)
        yield Size(ends=(a, b), text=mm_text(toe.thickness_mm), side="right", owner="toe.thickness_mm")


def prop_sizes(foot: Point, room_mm: MM) -> Iterator[Size]:
    """Yield how high the prop stands."""
    top = (foot[0], foot[1] + room_mm)
    yield Size(ends=(foot, top), text=mm_text(room_mm, 0), side="left")
