"""Rails whose tapered ends lie beside each other in one stock length: one slanted cut makes both."""

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Final

from rampdraft.geometry.members.member import Piece
from rampdraft.model.design import Workshop
from rampdraft.shop.cutting.results import Wanted
from rampdraft.units import MM

_TURNED: Final = ("box", "flat", "timber")
"""Kinds of sections that are alike upside down, and straight along their top and underside."""

HowMany = Callable[[int], Iterable[int]]
"""Returns how many pairs are tried, of so many at most."""


def all_or_none(most: int) -> Iterable[int]:
    """Return as many pairs as there are, and none."""
    return (most, 0) if most else (0,)


def any_number(most: int) -> Iterable[int]:
    """Return every number of pairs."""
    return range(most, -1, -1)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pair(Wanted):
    """Two pieces laid taper to taper, sawn off as one."""

    of: tuple[Wanted, Wanted]


def beside_mm(piece: Piece, workshop: Workshop) -> MM:
    """Return by how much two alike bars lie beside each other, laid taper to taper with one upside down; 0 of
    those whose tapers do not.

    Depth d tapers to h over t. With each toe s past the other's knee both depths together are 2 h + (d - h)
    (1 - s / t) all along, and the saw takes its kerf k, measured upright, of d: so they lie beside each other
    by t - s = t (d - 2 h - k) / (d - h). Plane geometry.
    """
    tapers = [end for end in piece.ends if end.kind == "taper"]
    if not tapers or piece.section.kind not in _TURNED:
        return 0.0
    (taper, *_), deep = tapers, piece.section.depth_mm
    slope = (deep - taper.height_mm) / taper.length_mm
    upright = workshop.kerf_mm * math.hypot(1.0, slope)
    return max(0.0, (deep - 2 * taper.height_mm - upright) / slope)


def paired(pieces: Sequence[Wanted], room_mm: MM, pairs: HowMany) -> Iterator[list[Wanted]]:
    """Yield single pieces with so many pairs among them as are tried, the longest first; a pair takes no more
    than a stock length has room for.
    """
    found: list[Pair] = []
    for _, alike in groupby(
        (one for one in pieces if one.beside_mm > 0), lambda one: (one.length_mm, one.beside_mm)
    ):
        same = list(alike)
        whole = 2 * same[0].length_mm - same[0].beside_mm
        if whole <= room_mm:
            found += [
                Pair(
                    part=one.part,
                    section=one.section,
                    material=one.material,
                    length_mm=whole,
                    quantity=1,
                    of=(one, other),
                )
                for one, other in zip(same[::2], same[1::2], strict=False)
            ]
    for count in pairs(len(found)):
        left = list(pieces)
        for pair in found[:count]:
            for one in pair.of:
                left.remove(one)
        yield sorted([*found[:count], *left], key=lambda one: -one.length_mm)


def singles(pieces: Iterable[Wanted]) -> Iterator[Wanted]:
    """Yield pieces one by one, those of pairs too."""
    for one in pieces:
        yield from one.of if isinstance(one, Pair) else (one,)
