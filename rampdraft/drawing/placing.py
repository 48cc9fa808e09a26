"""Where words with a leader stand: beside a window in rows, or wherever a drawing is empty; clear of each
other and of the lines that matter, no leader across another or through words.

Each stands at the best of the places that are offered to it. What a place costs is plain: the length of the
leader, and much more for each thing that it crosses. The best of all remaining pairs of words and places is
taken, again and again.
"""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cache, partial
from itertools import count
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.drawing.clip import Box, within
from rampdraft.drawing.lattice import Cells, Lattice, Places
from rampdraft.drawing.words_room import Room
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

Interval = tuple[MM, MM]

_SIDE: Final = 0.8
"""Of all rows there is room for on each side: more than half, since words leave gaps."""
_APART: Final = 5.0
"""The gap to the window is so many times that between two words."""
_CROSSING: Final = 1e4
"""What a crossed leader costs, in mm of leader."""
_MORE: Final = 4
"""So many rows beyond those there is room for are offered, lest a leader cross something."""
_BEYOND: Final = 3.0
"""What a millimetre by which the drawing grows costs, in mm of leader."""
_CLEAR: Final = 0.3
"""Of the height of words, that leaders keep off them."""
_SAME: Final = 6
"""Decimals of a cost that count."""
_OFFERED: Final = 600
"""Of free places so many are offered, the cheapest."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """Words that want a place, and what they point at."""

    tips: tuple[Point, ...]
    """Any of them will do."""
    size: tuple[MM, MM]
    """Of the words with their frame, wide and tall."""
    least_mm: MM = 0.0
    """Of a leader: room for its arrow."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """Where words stand: their box, and where their leader leaves it for what it points at."""

    box: Box
    from_point: Point
    tip: Point
    extra: float = 0.0
    """What the place costs besides its leader."""

    @property
    def leader(self) -> tuple[Point, Point]:
        """Return the line of the leader."""
        return self.from_point, self.tip

    @property
    def cost(self) -> float:
        """Return what the place costs when it crosses nothing."""
        return self.extra + math.dist(self.from_point, self.tip)


Offer = Callable[[Sequence[Stand]], Callable[[Wanted], Iterable[Stand]]]
"""What is offered to words when others stand already, the cheapest first."""


def stands(
    wanted: Sequence[Wanted], window: Box, gap: MM, taken: Sequence[Box] = (), words: Sequence[Room] = ()
) -> tuple[Stand, ...]:
    """Return where each stands, in their order: outside the window, `gap` from it, clear of `taken` and of
    each other; no leader goes through `words` as long as there is another way.

    Where the sides are full they grow outward in further columns, so there is always a place.
    """
    rows, apart = _rows(wanted, window, gap), gap / _APART
    free: dict[Wanted, list[Stand]] = {}

    def offer(found: Sequence[Stand]) -> Callable[[Wanted], list[Stand]]:
        blocked = [*taken, *(stand.box for stand in found)]

        def offered(one: Wanted) -> list[Stand]:
            # What stood before took its places then: only the last one takes more.
            left = [stand for stand in free.get(one, ()) if not overlap(stand.box, blocked[-1], apart)]
            free[one] = left or _beside(one, rows, window, gap, blocked)
            return free[one]

        return offered

    chosen = _chosen(wanted, offer, words, clear=False)
    return tuple(stand for stand in chosen if stand is not None)


def stands_within(
    wanted: Sequence[Wanted], lattice: Lattice, ink: Cells, box: Box, words: Sequence[Room]
) -> tuple[Stand | None, ...]:
    """Return where each stands on what is empty of a lattice, None where there is no room or its leader would
    cross something: near what it points at, and rather within `box` than beyond it.
    """

    @cache
    def ranked(one: Wanted) -> "_Ranked":
        return _Ranked(one, *lattice.free(ink, one.size), box)

    def offer(found: Sequence[Stand]) -> Callable[[Wanted], Iterator[Stand]]:
        full = lattice.with_lines(
            lattice.with_areas(ink, [stand.box for stand in found]), [stand.leader for stand in found]
        )
        still = cache(partial(lattice.open, full))
        return lambda one: ranked(one).among(still(one.size))

    return tuple(_chosen(wanted, offer, words, clear=True))


def _chosen(
    wanted: Sequence[Wanted], offer: Offer, words: Sequence[Room], *, clear: bool
) -> list[Stand | None]:
    """Return the place of each; where they have to stand `clear`, None for one that would cross something."""
    left: dict[int, Wanted] = dict(enumerate(wanted))
    found: dict[int, Stand] = {}
    while left:  # a leader that crosses costs more than any length, so what is offered first wins as a rule
        standing = list(found.values())
        offered = offer(standing)
        best: tuple[float, int, Stand] | None = None
        for number, one in left.items():
            for stand in offered(one):
                if best is not None and stand.cost >= best[0]:
                    break
                crossed = _crossed(stand, standing, words)
                if crossed and clear:
                    continue
                cost = stand.cost + _CROSSING * crossed
                if best is None or cost < best[0] - 1e-9:
                    best = cost, number, stand
        if best is None:
            break
        _, number, stand = best
        found[number] = stand
        del left[number]
    return [found.get(number) for number in range(len(wanted))]


def _crossed(stand: Stand, others: Sequence[Stand], words: Sequence[Room]) -> int:
    """Return how many leaders and words a place's leader crosses, and leaders the place itself."""
    return sum(
        crosses(stand.leader, other.leader)
        + (within(*stand.leader, other.box) is not None)
        + (within(*other.leader, stand.box) is not None)
        for other in others
    ) + sum(room.crossed(*stand.leader, _CLEAR * room.tall) for room in words)


def _beside(one: Wanted, rows: Interval, window: Box, gap: MM, blocked: Sequence[Box]) -> list[Stand]:
    """Return the free places on both sides in the nearest column that has any."""
    (x0, _, x1, _), (wide, tall) = window, one.size
    free: list[Stand] = []
    for column in count():
        for side in (-1, 1):
            near = gap + column * (wide + gap)
            start = x1 + near if side > 0 else x0 - near - wide
            y, end = rows[0] - _MORE * tall, max(rows[1], rows[0] + tall) + _MORE * tall
            while y + tall <= end + 1e-9:
                box = (start, y, start + wide, y + tall)
                extra = _BEYOND * max(rows[0] - y, y + tall - max(rows[1], rows[0] + tall), 0.0)
                y += tall / 2
                if not any(overlap(box, other, gap / _APART) for other in blocked):
                    leave = (box[0] if side > 0 else box[2], (box[1] + box[3]) / 2)
                    free += [Stand(box=box, from_point=leave, tip=tip, extra=extra) for tip in one.tips]
        if free:
            break
    return sorted(free, key=lambda stand: round(stand.cost, _SAME))


def _rows(wanted: Sequence[Wanted], window: Box, gap: MM) -> Interval:
    """Return from where to where words stand beside a window: along it, and beyond it where that is too
    short.
    """
    needed = sum(one.size[1] + gap / _APART for one in wanted) * _SIDE
    middle, half = (window[1] + window[3]) / 2, max(window[3] - window[1], needed) / 2
    return middle - half, middle + half


class _Ranked:
    """The places that a drawing leaves for words, the cheapest first: each round some of them are taken."""

    def __init__(self, one: Wanted, cells: NDArray[np.intp], corners: Places, box: Box) -> None:
        self._one = one
        size, count = np.array(one.size), len(corners)
        low, high = corners, corners + size
        grown = np.maximum(np.array(box[:2]) - low, 0) + np.maximum(high - np.array(box[2:]), 0)
        extra = _BEYOND * grown.sum(axis=1)
        costs = np.empty((len(one.tips), count))
        leaves = np.empty((len(one.tips), count, 2))
        for number, tip in enumerate(one.tips):
            leaves[number] = np.clip(np.array(tip), low, high)
            length = np.hypot(*(leaves[number] - np.array(tip)).T)
            costs[number] = np.where(length < one.least_mm, np.inf, length + extra)
        costs = costs.round(_SAME)  # equal on every processor
        least, which = costs.min(axis=0), costs.argmin(axis=0)
        order = np.argsort(least, kind="stable")
        order = order[least[order] < np.inf]
        self._cells, self._least, self._which = cells[order], least[order], which[order]
        self._corners, self._extra = corners[order], extra[order]
        self._leaves = leaves[which[order], order]

    def among(self, still: Cells) -> Iterator[Stand]:
        """Yield those that are still open, of all cells where words of this size may begin; not those that
        cost more than `_OFFERED` others.
        """
        rows = np.flatnonzero(still[tuple(self._cells.T)])
        if len(rows) > _OFFERED:
            rows = rows[self._least[rows] <= self._least[rows[_OFFERED]]]
        wide, tall = self._one.size
        for row in rows.tolist():
            (x, y), (leave_x, leave_y) = self._corners[row].tolist(), self._leaves[row].tolist()
            yield Stand(
                box=(x, y, x + wide, y + tall),
                from_point=(leave_x, leave_y),
                tip=self._one.tips[int(self._which[row])],
                extra=float(self._extra[row]),
            )


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
