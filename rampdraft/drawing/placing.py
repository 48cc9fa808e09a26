"""Where words stand beside a drawing: each at the first of its candidates that meets no other words and no
lines that matter, its leader crossing no other.

Words stand in rows along the sides of a window, so none lies on what the window shows. What is tried, and
what it costs, is plain: the length of the leader, and much more for each line that it crosses. The best of
all remaining pairs of words and places is taken, again and again.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import count
from typing import Final

from rampdraft.geometry.outline import Point
from rampdraft.units import MM

Box = tuple[MM, MM, MM, MM]
"""(x0, y0, x1, y1)."""

Interval = tuple[MM, MM]

_SIDE: Final = 0.8
"""Of all rows there is room for on each side: more than half, since words leave gaps."""
_APART: Final = 5.0
"""The gap to the window is so many times that between two words."""
_CROSSING: Final = 1e4
"""What a crossed leader costs, in mm of leader."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Words that want a place, and what they point at."""

    tip: Point
    size: tuple[MM, MM]
    """Of the words with their frame, wide and tall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where words stand: their box, and where their leader leaves it."""

    box: Box
    from_point: Point


def stands(wanted: Sequence[Wanted], window: Box, gap: MM, taken: Sequence[Box] = ()) -> tuple[Stand, ...]:
    """Return where each stands, in their order: outside the window, `gap` from it, clear of `taken` and of
    each other.

    Where the sides are full they grow outward in further columns, so there is always a place.
    """
    rows = _rows(wanted, window, gap)
    left: dict[int, Wanted] = dict(enumerate(wanted))
    found: dict[int, Stand] = {}
    blocked = list(taken)
    while left:
        best: tuple[float, int, Stand] | None = None
        for number, one in left.items():
            for stand in _candidates(one, rows, window, gap, blocked):
                cost = math.dist(one.tip, stand.from_point) + _CROSSING * sum(
                    crosses((one.tip, stand.from_point), (wanted[other].tip, its.from_point))
                    for other, its in found.items()
                )
                if best is None or cost < best[0] - 1e-9:
                    best = cost, number, stand
        assert best is not None
        _, number, stand = best
        found[number] = stand
        blocked.append(stand.box)
        del left[number]
    return tuple(found[number] for number in range(len(wanted)))


def _candidates(one: Wanted, rows: Interval, window: Box, gap: MM, blocked: Sequence[Box]) -> Iterator[Stand]:
    """Yield the free places on both sides in the nearest column that has any."""
    (x0, _, x1, _), (wide, tall) = window, one.size
    for column in count():
        free = False
        for side in (-1, 1):
            near = gap + column * (wide + gap)
            start = x1 + near if side > 0 else x0 - near - wide
            y = rows[0]
            while y + tall <= max(rows[1], rows[0] + tall) + 1e-9:
                box = (start, y, start + wide, y + tall)
                y += tall / 2
                if not any(overlap(box, other, gap / _APART) for other in blocked):
                    free = True
                    edge = box[0] if side > 0 else box[2]
                    yield Stand(box=box, from_point=(edge, (box[1] + box[3]) / 2))
        if free:
            return


def _rows(wanted: Sequence[Wanted], window: Box, gap: MM) -> Interval:
    """Return from where to where words stand beside a window: along it, and beyond it where that is too
    short.
    """
    needed = sum(one.size[1] + gap / _APART for one in wanted) * _SIDE
    middle, half = (window[1] + window[3]) / 2, max(window[3] - window[1], needed) / 2
    return middle - half, middle + half


def overlap(one: Box, other: Box, apart: MM = 0.0) -> bool:
    """Return whether two boxes share any room, or come nearer than that to each other."""
    return (
        one[0] < other[2] + apart
        and other[0] < one[2] + apart
        and one[1] < other[3] + apart
        and other[1] < one[3] + apart
    )


def crosses(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Return whether two straight lines cross between their ends."""

    def side(a: Point, b: Point, c: Point) -> float:
        return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])

    (a, b), (c, d) = one, other
    return side(a, b, c) * side(a, b, d) < 0 and side(c, d, a) * side(c, d, b) < 0
