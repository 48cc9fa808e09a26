"""One user over one site: facing the deck and away from it, forwards and backwards, in one state of the deck.

Places looked at are those every few millimetres; every kink of a wheel's way and every corner that an end of
a low part passes, from both sides; and what dividing adds until no worse clearance can hide between two of
them.

Between two kinks each wheel's way is straight or an arc, which nowhere lies below its chord nor above the
tangents of its ends: so it rises above the chord by no more than a quarter of the slope lost over the cell
times its length. What lies between the axles only gains by that; beyond an axle the other one's way counts
negative, and the clearance may lose that share of it. Besides it bows as the body goes by while it turns.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.about import Rolling, about_to_roll
from rampdraft.mechanics.rolling.alike import Alike, besides
from rampdraft.mechanics.rolling.heads import head_room
from rampdraft.mechanics.rolling.lows import Clear, clear_of
from rampdraft.mechanics.rolling.resting import Resting, rest
from rampdraft.mechanics.rolling.results import CannotRoll, Facing, Remark, Roll, Stretch
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.rolling.tracks import (
    LEAST_MM,
    ROOM_MM,
    at_its_track,
    differs_mm,
    tracks_of,
    worst_of_all,
)
from rampdraft.mechanics.rolling.worst import Figures, figures_of, tips, worst_of
from rampdraft.model.design import Design
from rampdraft.model.rolling_shape import RollingShape, shape_of
from rampdraft.units import G_M_S2, MM, Array, ArrayRecord

STEP_MM: Final = 2.0
BESIDE_MM: Final = 1e-4
"""A kink is looked at so far before and beyond it."""
SURE_MM: Final = 0.01
"""No clearance along the way is less by more than this than the least told of its part."""
SURE_RAD: Final = 1e-4
"""Nor any angle left before it tips."""
_DIVISIONS: Final = 4
_PARTS: Final = 8
"""How often, and into how many parts, a cell is divided in which something worse may hide: few cells are left
then, and a round costs as much for one place as for many.
"""
_CORRECTIONS: Final = 8
_FURTHEST_MM: Final = 5.0
"""How often, and how far at once, a place is corrected until a wheel is at a kink."""
_FIRST: Final = 8
"""Every so many of the even places are looked at first: the others begin there."""


def room_mm(design: Design) -> MM:
    """Return how wide the way between the edge upstands, or on the surface without them, is."""
    leaves = (design.inner_leaf, design.outer_leaf)
    return min(
        leaf.width_mm - (2 * leaf.upstand_thickness_mm if leaf.upstand_height_mm else 0.0) for leaf in leaves
    )


def cannot_roll(design: Design, number: int) -> CannotRoll | None:
    """Return why a user cannot roll over the ramp at all; None for one that can."""
    shape, room = shape_of(design.use.users[number - 1]), room_mm(design)
    if shape.widest_mm <= room:
        return None
    return CannotRoll(user=number, why="wider than the ramp", width_mm=shape.widest_mm, room_mm=room)


def roll_anywhere(  # many: who, where, how
    design: Design,
    number: int,
    pose: SitePose,
    surfaces: Surfaces,
    facing: Facing,
    between_mm: tuple[MM, MM] | None = None,
    *,
    sure: bool = True,
    alike: Alike | None = None,
) -> Roll:
    """Return one user over one site in the middle, with the worst figures of that and of every other track
    that the guards allow; what is kept of whoever rolls `alike` is taken from there.
    """

    def once(rolling: Rolling) -> Roll:
        if alike is None:
            return rolled(design, number, pose, rolling, STEP_MM, sure=sure).roll
        about = besides(design, number, pose, rolling, STEP_MM)
        kept = alike.find(about, rolling)
        if kept is None:
            kept = rolled(design, number, pose, rolling, STEP_MM, sure=sure).roll
            alike.keep(about, rolling, kept)
        return kept

    shape, site = shape_of(design.use.users[number - 1]), design.sites[pose.site_number - 1]
    at = about_to_roll(shape, surfaces, facing, 0.0)
    middle = once(_part(at, between_mm))
    out = (room_mm(design) - shape.widest_mm) / 2
    if out < LEAST_MM:
        return middle
    rolls, slope = [middle], site.cross_slope_percent
    upper = bool(slope) and middle.lowest.value < ROOM_MM
    for track in tracks_of(shape, surfaces, out, slope, upper=upper):
        side = about_to_roll(shape, surfaces, facing, track.across_mm, track.beside_mm)
        differs = differs_mm(at, side)
        if differs is None:
            continue
        low, high = differs if between_mm is None else _both(differs, between_mm)
        if low < high:
            found = once(side.between(low, high, STEP_MM))
            rolls.append(at_its_track(found, shape, surfaces, track))
    return worst_of_all(rolls)


def _part(rolling: Rolling, between_mm: tuple[MM, MM] | None) -> Rolling:
    return rolling if between_mm is None else rolling.between(*between_mm, STEP_MM)


def _both(one: tuple[MM, MM], other: tuple[MM, MM]) -> tuple[MM, MM]:
    return max(one[0], other[0]), min(one[1], other[1])


def roll(  # many: who, where, how
    design: Design,
    number: int,
    pose: SitePose,
    surfaces: Surfaces,
    facing: Facing,
    across_mm: MM = 0.0,
    step_mm: MM = STEP_MM,
    between_mm: tuple[MM, MM] | None = None,
    sure: bool = True,
) -> Roll:
    """Return one user over one site, facing one way, its middle at a place across; the whole way, or its
    front axle between two places along alone. Where it need not be `sure`, a worse clearance or angle left
    may hide between the places looked at; forces are looked at where they are greatest all the same.
    """
    shape = shape_of(design.use.users[number - 1])
    rolling = about_to_roll(shape, surfaces, facing, across_mm)
    if between_mm is not None:
        rolling = rolling.between(*between_mm, step_mm)
    return rolled(design, number, pose, rolling, step_mm, sure=sure).roll


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Part(ArrayRecord):
    """A roll with what its figures are of, in its mirror where the user faces away."""

    roll: Roll
    rolling: Rolling
    resting: Resting
    figures: Figures


def rolled(  # many: who, where, how
    design: Design, number: int, pose: SitePose, rolling: Rolling, step_mm: MM, *, sure: bool
) -> Part:
    """Return a user about to roll over a pose, rolled."""
    shape = rolling.shape
    resting, clears, even = looked_at(rolling, step_mm, sure=sure)
    figures = figures_of(rolling, design.sites[pose.site_number - 1], resting, clears)
    worst = worst_of(rolling, figures, resting, clears, design.use.wet_grip)
    at = np.flatnonzero(even)[:: int(rolling.sign)]
    forwards, backwards = figures.forwards_n[at], figures.backwards_n[at]
    front = resting.front_mm[at] * rolling.sign
    roll = Roll(
        user=number,
        site_number=pose.site_number,
        state=pose.state,
        facing=rolling.facing,
        across_mm=rolling.across_mm,
        step_mm=step_mm,
        side_margin_mm=(min(room_mm(design), design.carrier.opening_width_mm) - shape.width_mm) / 2,
        remarks=tuple(_remarks(design, shape)),
        front_mm=front,
        pitch_rad=-resting.pitch_rad[at],
        lean=resting.lean[at] * rolling.sign,
        clearance_mm=figures.clearance_mm[at],
        tip_back_rad=figures.tip_back_rad[at],
        tip_forward_rad=figures.tip_forward_rad[at],
        forwards_n=forwards,
        backwards_n=backwards,
        weight_n=shape.mass_kg * G_M_S2,
        climbed_mm=resting.centre(rolling.body)[1][at],
        middle_mm=resting.middle_mm[at] * rolling.sign,
        hangs=figures.hangs[at],
        head=head_room(
            rolling,
            resting,
            edge_height_mm(design, pose.drop_mm),
            pose.nod_rad,
            design.carrier.head_room_mm,
        ),
        stretches=(
            Stretch(from_mm=float(front[0]), to_mm=float(front[-1]), pose=pose, wheels=rolling.wheels),
        ),
        **worst,
    )
    return Part(roll=roll, rolling=rolling, resting=resting, figures=figures)


def _remarks(design: Design, shape: RollingShape) -> Iterator[Remark]:
    if any(axle.held for axle in shape.axles):
        yield "held by hands"
    elif all(len(axle.sides_mm) == 1 for axle in shape.axles):
        yield "wheels in line"
    if shape.wheelbase_mm > design.inner_leaf.length_mm + design.outer_leaf.length_mm:
        yield "longer than the ramp"


def looked_at(
    rolling: Rolling, step_mm: MM, *, sure: bool = True
) -> tuple[Resting, list[Clear], NDArray[np.bool_]]:
    """Return how it lies at every place looked at, what is clear there, and which of them are the even
    ones.
    """
    body = rolling.body
    count = int(np.ceil((rolling.end_mm - rolling.start_mm) / step_mm))
    even = rolling.start_mm + step_mm * np.arange(count + 1.0)
    base = rest(body, even, rest(body, even[::_FIRST]))
    events = _events(rolling, base)
    resting = base.joined(rest(body, np.concatenate((events - BESIDE_MM, events + BESIDE_MM)), base))
    clears = [clear_of(one, body, resting) for one in rolling.belows]
    for _ in range(_DIVISIONS if sure else 0):
        between = _open_cells(rolling, resting, clears)
        if not between.size:
            break
        resting = resting.joined(rest(body, between, resting))
        clears = [clear_of(one, body, resting) for one in rolling.belows]
    return resting, clears, np.isin(resting.front_mm, even)


def _events(rolling: Rolling, base: Resting) -> Array:
    """Return the places of the front axle at which a wheel is at a kink of its way, or an end of a low part
    above a corner.
    """
    body = rolling.body
    points = [(one.behind_mm, one.radius_mm, one.path.breaks_mm) for one in body.supports]
    for one in rolling.belows:
        corners = one.peaks_mm[:, 0]
        points += [(end, one.low.height_mm, corners) for end in sorted({one.low.from_mm, one.low.to_mm})]
    rows: list[Array] = []
    for u, w, places in points:
        x = np.maximum.accumulate(base.point(body, u, w)[0])
        met = places[(places > x[0]) & (places < x[-1])]
        rows.append(
            np.stack((np.interp(met, x, base.front_mm), met, np.full_like(met, u), np.full_like(met, w)))
        )
    front, wanted, u, w = np.concatenate(rows, axis=1)
    for _ in range(_CORRECTIONS):
        tried = rest(body, front, base)
        cos, sin = np.cos(tried.pitch_rad), np.sin(tried.pitch_rad)
        up = w - body.radius_mm
        pace = 1 - (u * sin + up * cos) * tried.turning
        step = (wanted - (front + u * cos - up * sin)) / np.where(np.abs(pace) > 0.1, pace, 1.0)
        front = front + np.clip(step, -_FURTHEST_MM, _FURTHEST_MM)
        if np.abs(step).max(initial=0.0) < BESIDE_MM / 10:
            break
    return np.unique(front)


def _open_cells(rolling: Rolling, resting: Resting, clears: list[Clear]) -> Array:
    """Return the places that divide the cells in which a clearance, or an angle left before it tips, might be
    less than the least found.
    """
    longest = rolling.body.supports[-1].behind_mm
    length, slope = np.diff(resting.front_mm), resting.slope
    lost = np.maximum(slope[:-1] - slope[1:], 0.0) * np.diff(resting.x_mm, axis=0) / 4
    sag = lost.max(axis=1)
    turn = slope.max(axis=1) - slope.min(axis=1)
    bow = np.maximum(turn[:-1], turn[1:]) * length**2 / (4 * longest)
    found = np.zeros(len(length), dtype=bool)
    for under, clear in zip(rolling.belows, clears, strict=True):
        beyond = max(-under.low.from_mm, under.low.to_mm - longest, 0.0) / longest
        ends = np.minimum(clear.clearance_mm[:-1], clear.clearance_mm[1:])
        found |= ends - beyond * sag - bow < clear.clearance_mm.min() - SURE_MM
    for tip in tips(rolling, resting):
        ends = np.minimum(tip[:-1], tip[1:])
        found |= ends - (sag + bow) / longest < np.nanmin(tip, initial=np.inf) - SURE_RAD
    found &= length > 4 * BESIDE_MM
    part = np.arange(1, _PARTS) / _PARTS
    return (resting.front_mm[:-1][found, None] + length[found, None] * part).ravel()
