"""The way of a wheel's centre over an outline: the outline dilated by the wheel's radius, seen from above.

Whatever touches the disc at x, a corner or a straight part, would hold the centre at a height of its own; the
highest holds it. So the way is the upper envelope over the straight *parts*, each shifted by the radius along
its normal and with arcs about its ends. Of two parts the one further along has the greater slope at any x
(the contact lies further along under the same circle), so they cross once at most, and a part is hidden by
its neighbours alone where the one before it is left for the one after it: those are taken out until none is
left. All is closed form; the centre jumps only at a face that is higher than the radius.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.units import MM, Array, ArrayRecord

UPRIGHT_MM: Final = 1e-9
"""A part that goes on by less is upright: only its ends are met."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class WheelPath(ArrayRecord):
    """The way of a wheel's centre, from left to right: n pieces, arcs and straight."""

    radius_mm: MM
    breaks_mm: Array
    """Where each piece but the first begins, (n - 1,), rising: there the wheel touches twice at once."""
    x_mm: Array
    z_mm: Array
    """The corner that an arc is about; where a shifted straight part begins, (n,)."""
    slope: Array
    """dz/dx of a straight part, (n,); NaN of an arc."""
    point: NDArray[np.intp]
    """Number of the outline's point that is the corner, or that the straight part begins at, (n,)."""

    def goes_as(self, other: "WheelPath", by: MM = 0.0) -> bool:
        """Return whether both are one way, whatever their outlines are, or apart by no more than rounding."""
        if self is other:
            return True
        rows = [np.stack((one.x_mm, one.z_mm, np.nan_to_num(one.slope, nan=np.inf))) for one in (self, other)]
        if rows[0].shape != rows[1].shape or len(self.breaks_mm) != len(other.breaks_mm):
            return False
        arcs = np.isinf(rows[0][2]) & np.isinf(rows[1][2])
        for row in rows:
            row[2, arcs] = 0.0
        return bool(
            (np.abs(rows[0] - rows[1]) <= by).all() and (np.abs(self.breaks_mm - other.breaks_mm) <= by).all()
        )

    def mirrored(self, points: int) -> "WheelPath":
        """Return the way over the mirrored outline, of so many points: x the other way round."""
        arc = np.isnan(self.slope)
        return WheelPath(
            radius_mm=self.radius_mm,
            breaks_mm=-self.breaks_mm[::-1],
            x_mm=-self.x_mm[::-1],
            z_mm=self.z_mm[::-1],
            slope=-self.slope[::-1],
            point=(points - 1 - self.point - np.where(arc, 0, 1))[::-1],
        )

    def piece(self, x_mm: Array) -> NDArray[np.intp]:
        """Return which piece holds the centre at each x."""
        return np.searchsorted(self.breaks_mm, x_mm, side="right")

    def height_mm(self, x_mm: Array) -> Array:
        """Return the height of the centre at each x."""
        return self.at(x_mm)[0]

    def at(self, x_mm: Array) -> tuple[Array, Array]:
        """Return the height of the centre at each x, and dz/dx there (beyond a break: of what begins)."""
        return self.on(self.piece(x_mm), x_mm)

    def on(self, piece: NDArray[np.intp], x_mm: Array) -> tuple[Array, Array]:
        """Return height and dz/dx of given pieces at given x."""
        beyond, slope = x_mm - self.x_mm[piece], self.slope[piece]
        above = np.sqrt(np.maximum(self.radius_mm**2 - beyond**2, _FLAT_MM2))
        arc = np.isnan(slope)
        rise = np.where(arc, above, slope * beyond)
        return self.z_mm[piece] + rise, np.where(arc, -beyond / above, slope)

    def contact_mm(self, x_mm: Array) -> tuple[Array, Array]:
        """Return where the wheel touches, (x, z), its centre at each x."""
        piece = self.piece(x_mm)
        height, slope = self.at(x_mm)
        down = self.radius_mm / np.hypot(1.0, slope)
        arc = np.isnan(self.slope[piece])
        x = np.where(arc, self.x_mm[piece], x_mm + slope * down)
        return x, np.where(arc, self.z_mm[piece], height - down)


_FLAT_MM2: Final = 1e-12
"""Height squared of an arc's end above its corner, so that no slope there is infinite."""


@dataclass(slots=True)
class _Parts:
    """Straight parts of many outlines in a row, each with the arcs about its ends: what would hold the centre
    if there were nothing else.
    """

    way: NDArray[np.intp]
    x0: Array
    z0: Array
    x1: Array
    z1: Array
    slope: Array
    radius: Array
    start: Array
    end: Array
    """Where the centre is above the straight part: in between it is shifted, beyond it are the arcs."""
    lift: Array
    """Height of the shifted part above its own line."""
    ends: NDArray[np.intp]
    """Numbers of the points at both ends, (n, 2)."""

    def of(self, index: NDArray[np.bool_] | slice) -> "_Parts":
        return _Parts(*[getattr(self, name)[index] for name in self.__slots__])

    def height(self, at: Array) -> Array:
        beyond = at - np.where(at < self.start, self.x0, self.x1)
        above = np.sqrt(np.maximum(self.radius * self.radius - beyond * beyond, 0.0))
        line = self.z0 + self.lift + self.slope * (at - self.x0)
        return np.where(at < self.start, self.z0 + above, np.where(at > self.end, self.z1 + above, line))


def wheel_path(outline_mm: Array, radius_mm: MM) -> WheelPath:
    """Return the way of the centre of a wheel over an outline, (m, 2) points with x that never goes back."""
    return wheel_paths([(outline_mm, radius_mm)])[0]


def wheel_paths(rolled: Sequence[tuple[Array, MM]]) -> tuple[WheelPath, ...]:
    """Return `wheel_path` of many outlines, each with its radius, all at once."""
    parts = _parts(rolled)
    while True:
        left, right = parts.of(slice(None, -1)), parts.of(slice(1, None))
        takes = _takeover(left, right)
        apart = left.way != right.way  # where one way ends, and the next begins
        begins, ends = (
            np.append(-np.inf, np.where(apart, -np.inf, takes)),
            np.append(np.where(apart, np.inf, takes), np.inf),
        )
        hidden = begins >= ends
        if not hidden.any():
            break
        parts = parts.of(~hidden)
    return _ways(parts, begins, ends, [radius for _, radius in rolled])


def _ways(parts: _Parts, begins: Array, ends: Array, radii: list[MM]) -> tuple[WheelPath, ...]:
    """Return the ways: of each part the arc about its first end, itself, and the arc about its other end, as
    far as the centre is held by them.
    """
    from_mm = np.stack((begins, np.maximum(begins, parts.start), np.maximum(begins, parts.end)), axis=1)
    to_mm = np.stack((np.minimum(ends, parts.start), np.minimum(ends, parts.end), ends), axis=1)
    shift = parts.z0 + parts.lift + parts.slope * (parts.start - parts.x0)
    nothing = np.full_like(shift, np.nan)
    held = np.stack(
        (
            from_mm,
            np.stack((parts.x0, parts.start, parts.x1), axis=1),
            np.stack((parts.z0, shift, parts.z1), axis=1),
            np.stack((nothing, parts.slope, nothing), axis=1),
        )
    )
    corner = np.stack((np.repeat(parts.way, 3).reshape(-1, 3), parts.ends[:, (0, 0, 1)]))
    shown = from_mm < to_mm
    held, corner = held[:, shown], corner[:, shown]
    # The arc about a corner is held by the part before it and by the one beyond it: it is one arc.
    arc = np.isnan(held[3])
    again = np.append(False, arc[1:] & arc[:-1] & (corner[:, 1:] == corner[:, :-1]).all(axis=0))
    (begin, x, z, slope), (way, point) = held[:, ~again], corner[:, ~again]
    cuts = np.searchsorted(way, np.arange(len(radii) + 1)).tolist()
    return tuple(
        WheelPath(
            radius_mm=radius,
            breaks_mm=begin[a + 1 : b],
            x_mm=x[a:b],
            z_mm=z[a:b],
            slope=slope[a:b],
            point=point[a:b],
        )
        for radius, a, b in zip(radii, cuts[:-1], cuts[1:], strict=True)
    )


def _parts(rolled: Sequence[tuple[Array, MM]]) -> _Parts:
    """Return the straight parts between the points, but for upright ones, whose ends belong to others or
    stand for themselves.
    """
    counts = [len(outline) for outline, _ in rolled]
    way = np.repeat(np.arange(len(rolled)), counts)
    radius = np.repeat(np.array([radius for _, radius in rolled]), counts)
    number = np.concatenate([np.arange(count) for count in counts])
    x, z = np.concatenate([outline for outline, _ in rolled]).T
    straight = (np.diff(x) > UPRIGHT_MM) & (way[1:] == way[:-1])
    # A point between two upright faces is a part of no length.
    lone = ~(np.append(straight, False) | np.append(False, straight))
    first = np.flatnonzero(np.append(straight, False) | lone)
    last = first + ~lone[first]
    x0, z0, x1, z1, radius = x[first], z[first], x[last], z[last], radius[first]
    slope = (z1 - z0) / np.where(lone[first], 1.0, x1 - x0)
    secant = np.hypot(1.0, slope)
    shift = slope * radius / secant
    ends = np.stack((number[first], number[last]), axis=1)
    return _Parts(way[first], x0, z0, x1, z1, slope, radius, x0 - shift, x1 - shift, radius * secant, ends)


def _takeover(left: _Parts, right: _Parts) -> Array:
    """Return from where on the right one of each pair holds the centre, no longer the left one."""
    radius = left.radius
    low, high = right.x0 - radius, left.x1 + radius
    places = np.stack((low, high, left.start, left.end, right.start, right.end))
    inside = np.clip(places, low, np.maximum(low, high))
    right_over = right.height(inside) >= left.height(inside)
    at_once, by_then, left_0, left_1, right_0, right_1 = right_over
    one, after_left, before_left = _held_by(left, left_0, left_1)
    other, after_right, before_right = _held_by(right, right_0, right_1)
    crossing = _crossing(radius, *one, *other)
    # Where both are about one corner they are one circle: any place in common will do.
    crossing = np.clip(crossing, np.maximum(after_left, after_right), np.minimum(before_left, before_right))
    return np.where(
        at_once | (low >= high), low, np.where(by_then, np.clip(crossing, low, np.maximum(low, high)), high)
    )


_Held = tuple[NDArray[np.bool_], Array, Array, Array]


def _held_by(
    part: _Parts, over_0: NDArray[np.bool_], over_1: NDArray[np.bool_]
) -> tuple[_Held, Array, Array]:
    """Return which of a part's three pieces holds the centre at the crossing, by whether it lies before its
    straight part or in it: whether it is an arc, its x and z, its slope; and from where to where it does.
    """
    arc = over_0 | ~over_1
    x = np.where(over_0 | over_1, part.x0, part.x1)
    z = np.where(over_0, part.z0, np.where(over_1, part.z0 + part.lift, part.z1))
    after = np.where(over_0, -np.inf, np.where(over_1, part.start, part.end))
    before = np.where(over_0, part.start, np.where(over_1, part.end, np.inf))
    return (arc, x, z, part.slope), after, before


def _crossing(  # many: two pieces, each as it is
    radius: Array,
    left_arc: NDArray[np.bool_], left_x: Array, left_z: Array, left_slope: Array,
    right_arc: NDArray[np.bool_], right_x: Array, right_z: Array, right_slope: Array,
) -> Array:  # fmt: skip
    """Return where two pieces cross: two circles, a circle and a line, two lines."""
    along, up = right_x - left_x, right_z - left_z
    apart = np.hypot(along, up)
    half = np.sqrt(np.maximum(radius * radius - apart * apart / 4, 0.0))
    circles = (left_x + right_x) / 2 - up / np.where(apart > 0, apart, 1.0) * half
    slope = np.where(left_arc, right_slope, left_slope)
    cos = 1 / np.hypot(1.0, slope)
    # From the line's point to the circle's centre, along the line and square to it.
    x, z = np.where(left_arc, -along, along), np.where(left_arc, -up, up)
    foot, beside = (x + slope * z) * cos, (z - slope * x) * cos
    chord = np.sqrt(np.maximum(radius * radius - beside * beside, 0.0))
    mixed = np.where(left_arc, right_x, left_x) + (foot + np.where(left_arc, chord, -chord)) * cos
    steeper = left_slope - right_slope
    lines = left_x + (up - right_slope * along) / np.where(steeper != 0, steeper, 1.0)
    return np.where(left_arc & right_arc, circles, np.where(left_arc | right_arc, mixed, lines))
