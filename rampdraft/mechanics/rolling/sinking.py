"""One user over one site while the deck sinks and nods under it: in stretches, in each of which ramp and deck
lie as they do in its middle.

A stretch is out by half a step, of the deck edge's drop and of how much further or less the deck drops a
metre behind it: 2.5 mm, or 1/24 of the whole where that is more; and by what they sink over 20 mm of the way.
Beyond its far end the deck is taken to go on level.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.at_rest import AtRest
from rampdraft.mechanics.carrier.sinking import sunk_along
from rampdraft.mechanics.carrier.standing import sinks_at_most_mm
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.about import about_to_roll, ends_mm
from rampdraft.mechanics.rolling.results import Facing, Roll
from rampdraft.mechanics.rolling.roll import STEP_MM, Part, rolled
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.rolling.tracks import worst_of_all
from rampdraft.mechanics.rolling.worst import lacking
from rampdraft.mechanics.standing.props import PropsSet, sink
from rampdraft.mechanics.standing.standing import Straightened
from rampdraft.model.design import Design
from rampdraft.model.rolling_shape import shape_of
from rampdraft.units import MM, RAD, Array

DROP_STEP_MM: Final = 5.0
"""The deck is taken to lie still while it sinks by so much, or a metre of it nods by so much: tyres give as
much.
"""
MOST_STEPS: Final = 12
_FINE_MM: Final = 0.5
"""A deck that sinks by less than a step on the whole way has sunk a multiple of this, so that users share
outlines.
"""
_METRE_MM: Final = 1000.0
_EVERY: Final = 10
"""How far it has sunk is looked at every so many of the even places."""
_HAIR: Final = 1e-6
_ALONG: Final = (
    "front_mm", "pitch_rad", "lean", "clearance_mm", "tip_back_rad", "tip_forward_rad", "forwards_n",
    "backwards_n", "middle_mm", "hangs",
)  # fmt: skip


class Sunk:
    """The ramp on a deck that has sunk, at each site: poses and outlines, each made once."""

    def __init__(
        self, design: Design, assembly: Assembly, ramp: Straightened, rest: AtRest, props: PropsSet
    ) -> None:
        self.design, self.rest = design, rest
        self._assembly, self._ramp, self._props = assembly, ramp, props
        self._found: dict[tuple[int, MM, RAD], tuple[SitePose, Surfaces]] = {}

    def at(self, site_number: int, drop_mm: MM, nod_rad: RAD = 0.0) -> tuple[SitePose, Surfaces]:
        """Return the ramp at a site, and what wheels meet there."""
        key = site_number, drop_mm, nod_rad
        if key not in self._found:
            pose = sink(self.design, self._ramp, self._props, site_number, drop_mm, nod_rad)
            self._found[key] = pose, Surfaces(self.design, self._assembly, pose)
        return self._found[key]


@dataclass(frozen=True, slots=True, kw_only=True)
class _Level:
    """From which to which even place the deck is taken to have sunk and to nod so far."""

    first: int
    last: int
    drop_mm: MM
    nod_rad: RAD


def roll_sinking(  # many: who, where, how
    sunk: Sunk,
    number: int,
    empty: SitePose,
    facing: Facing,
    between_mm: tuple[MM, MM] | None = None,
    step_mm: MM = STEP_MM,
    *,
    sure: bool = True,
) -> Roll | None:
    """Return one user over one site, in the middle, while the deck sinks under it; the whole way, or its
    front axle between two places along alone. `empty` is the ramp there with the deck empty. None where its
    weight tips the carrier, or the ramp does not reach the ground on the way.
    """
    shape, sign = shape_of(sunk.design.use.users[number - 1]), 1.0 if facing == "deck" else -1.0
    start, end = ends_mm(shape, sunk.at(empty.site_number, 0.0)[1].tip_mm, facing)
    count = int(np.ceil((end - start) / step_mm))
    first, last = 0, count
    if between_mm is not None:
        low, high = sorted(sign * one for one in between_mm)
        first = min(max(int((low - start) // step_mm), 0), count - 1)
        last = max(min(int(-((start - high) // step_mm)), count), first + 1)
    at = np.append(np.arange(0, count, _EVERY), count)
    front = sign * (start + step_mm * at)
    found = sunk_along(sunk.design, sunk.rest, number, empty, front, forwards=facing == "deck")
    if found is None:
        return None
    drops = np.minimum(found[0], sinks_at_most_mm(sunk.design))
    levels = [
        replace(one, first=max(one.first, first), last=min(one.last, last))
        for one in _levels(at, drops, found[1])
        if one.first < last and one.last > first
    ]
    placed = [sunk.at(empty.site_number, one.drop_mm, one.nod_rad) for one in levels]
    if not all(pose.reaches for pose, _ in placed):
        return None
    parts: list[Part] = []
    for one, (pose, surfaces) in zip(levels, placed, strict=True):
        further = 0.0 if one.last == last else step_mm / 2  # so that what lies on the seam is met
        rolling = replace(
            about_to_roll(shape, surfaces, facing, 0.0),
            start_mm=start + step_mm * one.first,
            end_mm=start + step_mm * one.last + further - _HAIR,
        )
        parts.append(rolled(sunk.design, number, pose, rolling, step_mm, sure=sure))
    return _joined(parts, [one.last - one.first for one in levels], sunk.design.use.wet_grip)


def _levels(at: NDArray[np.intp], drops_mm: Array, nods_rad: Array) -> Iterator[_Level]:
    """Yield the stretches of a way from drops and nods at some of its even places."""
    both = np.stack((drops_mm, nods_rad * _METRE_MM))
    most, least = both.max(axis=1), both.min(axis=1)
    spans = most - least
    if spans.max() <= DROP_STEP_MM:
        drop, turn = _FINE_MM * np.floor((most + least) / 2 / _FINE_MM + 0.5 + _HAIR)
        yield _Level(first=int(at[0]), last=int(at[-1]), drop_mm=float(drop), nod_rad=float(turn) / _METRE_MM)
        return
    steps = np.maximum(DROP_STEP_MM, spans / MOST_STEPS)
    levels = np.floor(both / steps[:, None] + 0.5 + _HAIR)
    changes = (np.diff(levels, axis=1) != 0).any(axis=0)
    seams = [0, *(np.flatnonzero(changes) + 1).tolist(), len(at) - 1]
    for begin, end in pairwise(seams):
        if begin < end:
            drop, turn = (steps * levels[:, begin]).tolist()
            yield _Level(first=int(at[begin]), last=int(at[end]), drop_mm=drop, nod_rad=turn / _METRE_MM)


def _climbed_mm(heights_mm: list[Array], counts: list[int]) -> Array:
    """Return the heights along parts of a way that follow one another, each going on from where the one
    before it ends: what the user sinks with the deck in between, no force lifts it by.
    """
    found = [heights_mm[0]]
    for height, count in zip(heights_mm[1:], counts, strict=False):
        found.append(height + found[-1][count] - height[0])
    return np.concatenate([one[:count] for one, count in zip(found, counts, strict=True)])


def _joined(parts: list[Part], counts: list[int], wet_grip: float) -> Roll:
    """Return parts of a way that follow one another as one roll; `counts` are how many even places of each
    lie before the next one.
    """
    if len(parts) == 1:
        return parts[0].roll
    sign = int(parts[0].rolling.sign)
    counts = [*counts[:-1], counts[-1] + 1]
    arrays = {
        name: np.concatenate(
            [getattr(part.roll, name)[::sign][:count] for part, count in zip(parts, counts, strict=True)]
        )[::sign]
        for name in _ALONG
    }
    arrays["climbed_mm"] = _climbed_mm([part.roll.climbed_mm[::sign] for part in parts], counts)[::sign]
    lacks = lacking([(one.rolling, one.figures, one.resting) for one in parts], wet_grip)
    worst = worst_of_all([part.roll for part in parts])
    ways = [
        replace(way, run_up=run_up, slide=slide)
        for way, (run_up, slide) in zip(worst.ways, lacks, strict=True)
    ]
    stretches = tuple(part.roll.stretches[0] for part in parts[::sign])
    return replace(worst, ways=(ways[0], ways[1]), stretches=stretches, **arrays)
