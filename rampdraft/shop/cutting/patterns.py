"""Which pieces fill one stock length for the greatest worth: the question that a cutting plan asks over and
over.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.units import Array

Ints = NDArray[np.int64]

_LEAST_GAIN: Final = 1e-12
"""Two fillings whose worths differ by less are of the same worth."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filling:
    """What is cut from one stock length: how many of each kind of piece, and what they are worth."""

    counts: tuple[int, ...]
    worth: float


@dataclass(frozen=True, slots=True, kw_only=True)
class _Step:
    """One bundle of alike pieces, offered to all fillings that stood before."""

    kind: int
    pieces: int
    parents: Ints
    """Which filling of the step before each one comes from."""
    taken: NDArray[np.bool_]


def best_fillings(
    sizes: Sequence[int],
    counts: Sequence[int],
    worths: Sequence[float] | Array,
    rooms: Sequence[int],
    floors: Sequence[float],
) -> tuple[Filling | None, ...]:
    """Return, for each room, the filling that is worth most, if that is more than its floor: at most
    `counts[k]` pieces of size `sizes[k]`, each worth `worths[k]`, that together do not exceed the room.
    Sizes and rooms are whole numbers of any unit.

    Only fillings are kept that nothing shorter outdoes and that could still come above a floor with what is
    dearest for its size of all that is left; so one pass serves every room and no grid is laid over the
    lengths: exact for any lengths.

    Source: G. L. Nemhauser, Z. Ullmann, Discrete dynamic programming and capital allocation, Management
    Science 15 (1969), 494-505; a count as bundles of 1, 2, 4 ...: S. Martello, P. Toth, Knapsack Problems
    (Wiley 1990), 3.2.
    """
    taken, worth = np.zeros(1, dtype=np.int64), np.zeros(1)
    steps: list[_Step] = []
    best = list(floors)
    for kind, pieces in _offers(sizes, counts, worths, max(rooms)):
        fits = int(np.searchsorted(taken, max(rooms) - pieces * sizes[kind], side="right"))
        lengths = np.concatenate((taken, taken[:fits] + pieces * sizes[kind]))
        values = np.concatenate((worth, worth[:fits] + pieces * worths[kind]))
        kept = _undone(lengths, values)
        ends = np.searchsorted(lengths[kept], rooms, side="right") - 1
        best = [max(one, float(values[kept[end]])) for one, end in zip(best, ends, strict=True)]
        density = worths[kind] / sizes[kind]
        kept = kept[_hopeful(lengths[kept], values[kept], density, rooms, best)]
        if not len(kept):
            return tuple(None for _ in rooms)
        added = kept >= len(taken)
        parents = np.where(added, kept - len(taken), kept)
        steps.append(_Step(kind=kind, pieces=pieces, parents=parents, taken=added))
        taken, worth = lengths[kept], values[kept]
    ends = np.searchsorted(taken, rooms, side="right") - 1
    return tuple(
        _traced(steps, int(end), worths) if end >= 0 and worth[end] > floor + _LEAST_GAIN else None
        for end, floor in zip(ends, floors, strict=True)
    )


def _offers(
    sizes: Sequence[int], counts: Sequence[int], worths: Sequence[float] | Array, most: int
) -> list[tuple[int, int]]:
    """Return bundles of alike pieces, the kind that is dearest for its size first."""
    order = sorted(range(len(sizes)), key=lambda one: (-worths[one] / sizes[one], sizes[one]))
    return [
        (kind, pieces)
        for kind in order
        if worths[kind] > _LEAST_GAIN
        for pieces in _bundles(min(counts[kind], most // sizes[kind]))
    ]


def _undone(lengths: Ints, values: Array) -> Ints:
    """Return which fillings nothing outdoes that is no longer, the shortest first."""
    order = np.lexsort((-values, lengths))
    before = np.concatenate(([-np.inf], np.maximum.accumulate(values[order])[:-1]))
    return order[values[order] > before + _LEAST_GAIN]


def _hopeful(
    lengths: Ints, values: Array, density: float, rooms: Sequence[int], best: Sequence[float]
) -> NDArray[np.bool_]:
    """Return which fillings can reach the best worth of a room with what is left, of `density` at most."""
    found = np.zeros(len(lengths), dtype=bool)
    for room, worth in zip(rooms, best, strict=True):
        found |= (lengths <= room) & (values + density * (room - lengths) >= worth - _LEAST_GAIN)
    return found


def _bundles(count: int) -> list[int]:
    """Return bundles that make up every number from 0 to `count`."""
    made: list[int] = []
    bundle = 1
    while count > 0:
        made.append(min(bundle, count))
        count -= made[-1]
        bundle *= 2
    return made


def _traced(steps: Sequence[_Step], at: int, worths: Sequence[float] | Array) -> Filling:
    counts = [0] * len(worths)
    for step in reversed(steps):
        if step.taken[at]:
            counts[step.kind] += step.pieces
        at = int(step.parents[at])
    return Filling(counts=tuple(counts), worth=sum(n * each for n, each in zip(counts, worths, strict=True)))
