"""Off the middle: every track that the guards allow; and the worst of several tracks.

What a wheel meets changes where an edge of something does, and nowhere else across: the places of a user's
middle fall into stretches over which each of its wheels goes one way. One place of each stretch stands for
all of it, and so does its pose; what hangs low is held against the highest of all that it passes over in any
of them. Where the ground slopes across, the ends of a stretch are looked at: between them the ground under
all wheels rises alike.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, product
from typing import Final

import numpy as np

from rampdraft.mechanics.rolling.about import Rolling
from rampdraft.mechanics.rolling.results import Roll, WayWorst, Worst
from rampdraft.mechanics.rolling.surfaces import Surface, Surfaces
from rampdraft.mechanics.rolling.wheel_path import WheelPath
from rampdraft.model.rolling_shape import RollingShape
from rampdraft.rounding import greatest
from rampdraft.units import MM, Array

LEAST_MM: Final = 1.0
"""Less to either side is the middle."""
_NOTHING_MM: Final = 1e-3
"""Stretches of tracks that are narrower come of rounding; so near an end of one that end is looked at."""
ROOM_MM: Final = 25.0
"""With more room than this below what hangs low nobody grounds who rolls a little off the middle."""
_PITCHED_MM: Final = 120.0
"""So far a wheel is shifted along by the pitch of its user at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Track:
    """A place across of a user's middle that stands for all from one to another."""

    across_mm: MM
    from_mm: MM
    to_mm: MM

    @property
    def beside_mm(self) -> tuple[MM, MM]:
        """Return how far the others are to the right and to the left of it."""
        return self.across_mm - self.from_mm, self.to_mm - self.across_mm

    def nearest_mm(self, half_mm: MM, met: tuple[MM, MM] | None) -> MM:
        """Return the place that is nearest to that one at which something so wide to both sides passes over
        what is met.
        """
        low, high = (-math.inf, math.inf) if met is None else (met[0] - half_mm, met[1] + half_mm)
        return min(max(self.across_mm, low, self.from_mm), high, self.to_mm)


def tracks_of(
    shape: RollingShape, surfaces: Surfaces, out_mm: MM, slope: float, *, upper: bool
) -> Iterator[Track]:
    """Yield the tracks of a user whose middle may be so far out to both sides, where the ground falls across
    by a slope.

    Of a ramp that is alike on both sides one side does. On ground that slopes across that is the lower one,
    where the toe stands higher, and of each stretch its lower end; on the `upper` one nothing but the room
    below what hangs low is less.
    """
    for low, high in _stretches_mm(shape, surfaces, out_mm):
        lower, higher = (high, low) if slope >= 0 else (low, high)
        if not slope:
            if not surfaces.symmetric or low + high > -_NOTHING_MM:
                yield Track(across_mm=(low + high) / 2, from_mm=low, to_mm=high)
            continue
        if upper or not surfaces.symmetric or lower * slope > 0:
            yield Track(across_mm=_within(lower, low, high), from_mm=low, to_mm=high)
        if upper:
            yield Track(across_mm=_within(higher, low, high), from_mm=low, to_mm=high)


def _within(end: MM, low: MM, high: MM) -> MM:
    return min(max(end, low + _NOTHING_MM / 2), high - _NOTHING_MM / 2)


def _stretches_mm(shape: RollingShape, surfaces: Surfaces, out_mm: MM) -> Iterator[tuple[MM, MM]]:
    """Yield from where to where the middle of a user may be, up to so far out, with each of its wheels going
    one way, how the ground slopes across apart.
    """
    cuts = {-out_mm, out_mm}
    for axle in shape.axles:
        for side, change in product(axle.sides_mm, surfaces.changes_mm(axle.radius_mm)):
            if abs(change - side) < out_mm:
                cuts.add(change - side)
    for low, high in pairwise(sorted(cuts)):
        if high - low > _NOTHING_MM:
            yield low, high


def at_its_track(roll: Roll, shape: RollingShape, surfaces: Surfaces, track: Track) -> Roll:
    """Return a roll in which what hangs low is told of a place across at which it passes over what it is
    nearest to.
    """
    lows = tuple(
        replace(one, across_mm=track.nearest_mm(low.half_width_mm, surfaces.across_mm(one.met)))
        for one, low in zip(roll.lows, shape.lows, strict=True)
    )
    return replace(roll, lows=lows, clearance=_least(lows))


def differs_mm(middle: Rolling, other: Rolling) -> tuple[MM, MM] | None:
    """Return from where to where the front axle goes, in the world, while something else is met than in the
    middle; None where all is the same.
    """
    sign, shape = middle.sign, middle.shape
    behind = {axle.name: sign * axle.behind_mm for axle in shape.axles}
    found: list[tuple[MM, MM]] = []
    for one, two in zip(middle.wheels, other.wheels, strict=True):
        span = _ways_differ(one.path, two.path)
        if span is not None:
            found.append((span[0] - behind[one.axle], span[1] - behind[one.axle]))
    for one, two in zip(middle.belows, other.belows, strict=True):
        span = _outlines_differ(one.surface, two.surface)
        if span is not None:
            ends = sign * (span[0] - one.low.to_mm), sign * (span[1] - one.low.from_mm)
            found.append((min(ends), max(ends)))
    if not found:
        return None
    starts, ends = zip(*found, strict=True)
    low, high = sorted((sign * middle.start_mm, sign * middle.end_mm))
    low, high = max(min(starts) - _PITCHED_MM, low), min(max(ends) + _PITCHED_MM, high)
    return (low, high) if low < high else None


def _ways_differ(one: WheelPath, two: WheelPath) -> tuple[MM, MM] | None:
    if one is two:
        return None
    rows = [
        np.stack((way.x_mm, way.z_mm, np.nan_to_num(way.slope, nan=math.inf)), axis=1) for way in (one, two)
    ]
    return _differ(rows, [way.breaks_mm for way in (one, two)])


def _outlines_differ(one: Surface, two: Surface) -> tuple[MM, MM] | None:
    if one is two:
        return None
    return _differ([one.points_mm, two.points_mm], [one.points_mm[:, 0], two.points_mm[:, 0]])


def _differ(rows: list[Array], places: list[Array]) -> tuple[MM, MM] | None:
    """Return from where to where two rows of things along x differ; `places` are those where the first of
    each row's things ends, where its second one does, and so on.
    """
    one, two = rows
    count = min(len(one), len(two))
    same = (one[:count] == two[:count]).all(axis=1)
    if same.all() and len(one) == len(two):
        return None
    ends = (one[len(one) - count :] == two[len(two) - count :]).all(axis=1)[::-1]
    first, last = (int(np.argmin(np.append(each, False))) for each in (same, ends))
    bounds = [np.concatenate(([-math.inf], each, [math.inf])) for each in places]
    start = min(float(each[first]) for each in bounds)
    end = max(float(each[len(each) - 1 - last]) for each in bounds)
    return min(start, end), max(start, end)


def worst_of_all(rolls: Sequence[Roll]) -> Roll:
    """Return the first roll with the worst figures of all of them."""
    first, *others = rolls
    if not others:
        return first
    lows = tuple(
        _least([next(low for low in one.lows if low.part == part) for one in rolls])
        for part in (low.part for low in first.lows)
    )
    return replace(
        first,
        clearance=_least([one.clearance for one in rolls]),
        lows=lows,
        tip_back=_any(_least, [one.tip_back for one in rolls]),
        tip_forward=_any(_least, [one.tip_forward for one in rolls]),
        head=_any(_least, [one.head for one in rolls]),
        hanging=_any(_most, [one.hanging for one in rolls]),
        drop=_any(_most, [one.drop for one in rolls]),
        ways=(_way([one.ways[0] for one in rolls]), _way([one.ways[1] for one in rolls])),
    )


def _way(ways: Sequence[WayWorst]) -> WayWorst:
    places = dict.fromkeys(bump.place for way in ways for bump in way.bumps)
    return WayWorst(
        way=ways[0].way,
        push=_most([way.push for way in ways]),
        brake=_most([way.brake for way in ways]),
        bump=_any(_most, [way.bump for way in ways]),
        slowed=_any(_least, [way.slowed for way in ways]),
        bumps=tuple(
            _most([bump for way in ways for bump in way.bumps if bump.place == place]) for place in places
        ),
        grip=_any(_most, [way.grip for way in ways]),
        run_up=_any(_most, [way.run_up for way in ways]),
        slide=_any(_most, [way.slide for way in ways]),
    )


def _least(found: Sequence[Worst]) -> Worst:
    return greatest(found, lambda one: -one.value)


def _most(found: Sequence[Worst]) -> Worst:
    return greatest(found, lambda one: one.value)


def _any(which: Callable[[Sequence[Worst]], Worst], found: Sequence[Worst | None]) -> Worst | None:
    there = [one for one in found if one is not None]
    return which(there) if there else None
