"""Signed separation of convex polygons, many pairs at once.

Every part is a convex polygon of at most four corners grown by a radius: a rectangle has four corners and no
radius, a knuckle one corner and its radius. Polygons with fewer corners repeat the last one. Coordinates come
first and pairs last, so that every step of the sums runs along the pairs.

The separation of two convex sets is max over directions n of s_n = min n.b - max n.a: the distance where they
are apart, minus the penetration depth where they overlap (separating-axis theorem; Ericson, Real-Time
Collision Detection, 2005, 5.2). So s_n for *any* n is a lower bound, which `clearance` builds its certificate
on.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


TOUCHING_MM = 1e-7
"""Parts this near touch: rounding moves corners some metres away by less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Separation:
    """For m pairs: signed separation (m,), and the unit direction from a to b in which it is measured (2,
    m).
    """

    distance_mm: Array
    direction: Array


def separations(a: Array, radius_a: Array, b: Array, radius_b: Array) -> Separation:
    """Return the signed separations of polygons a and b, shapes (2, 4, m), grown by radii of shape (m,), in
    mm.
    """
    (gap_ab, back_ab), (gap_ba, way_ba) = _shortest(*_ways(a, b)), _shortest(*_ways(b, a))
    nearer = gap_ab <= gap_ba
    signed = np.sqrt(np.where(nearer, gap_ab, gap_ba))
    same = signed == 0
    direction = np.where(nearer, -back_ab, way_ba) / np.where(same, 1.0, signed)
    direction[0, same] = 1.0  # the same point: any direction is as true
    rows, depth, normal = _overlaps(a, b, signed)
    signed[rows], direction[:, rows] = depth, normal
    return Separation(distance_mm=signed - radius_a - radius_b, direction=direction)


def distances(a: Array, radius_a: Array, b: Array, radius_b: Array) -> Array:
    """Return the signed separations alone, as `separations` does."""
    signed = np.sqrt(np.minimum(*(_ways(*both)[1].min(axis=0) for both in ((a, b), (b, a)))))
    rows, depth, _ = _overlaps(a, b, signed)
    signed[rows] = depth
    return signed - radius_a - radius_b


def _overlaps(a: Array, b: Array, signed: Array) -> tuple[NDArray[np.intp], Array, Array]:
    """Return which pairs touch or overlap, shape (k,), how far they do, and the direction, shape (2, k)."""
    apart = (a.min(axis=1) > b.max(axis=1) + TOUCHING_MM) | (b.min(axis=1) > a.max(axis=1) + TOUCHING_MM)
    may = np.flatnonzero(~apart.any(axis=0))
    if not may.size:
        return may, np.empty(0), np.empty((2, 0))
    depth, normal = _deepest_axis(a.take(may, axis=2), b.take(may, axis=2))
    # Where parts touch, the way between them is rounding noise: the side's normal is the direction.
    inside = ((depth <= 0) | (signed[may] < TOUCHING_MM)) & (depth > -np.inf)
    return may[inside], depth[inside], normal[:, inside]


def _edges(corners: Array) -> Array:
    """Return the vectors from each corner to the next, shape (2, 4, m)."""
    return np.concatenate((corners[:, 1:], corners[:, :1]), axis=1) - corners


def _ways(corners: Array, sides: Array) -> tuple[Array, Array]:
    """Return the vector from each side to each corner and its square, shapes (2, 16, m) and (16, m)."""
    edge = _edges(sides)
    length2 = edge[0] * edge[0] + edge[1] * edge[1]
    length2[length2 == 0] = 1.0
    off = corners[:, :, None] - sides[:, None]
    along = off[0] * edge[0]
    along += off[1] * edge[1]
    along /= length2
    np.clip(along, 0.0, 1.0, out=along)
    for axis in range(2):
        off[axis] -= along * edge[axis]
    off = off.reshape(2, 16, -1)
    return off, off[0] * off[0] + off[1] * off[1]


def _shortest(ways: Array, squared: Array) -> tuple[Array, Array]:
    """Return, per pair, the least square and the vector that it is of, shapes (m,) and (2, m)."""
    best, rows = squared.argmin(axis=0), np.arange(len(squared[0]))
    return squared[best, rows], np.array((ways[0, best, rows], ways[1, best, rows]))


def _deepest_axis(a: Array, b: Array) -> tuple[Array, Array]:
    """Return, per pair, the greatest separation along the side normals of both, shape (m,), and that normal,
    from a to b, shape (2, m); -inf where neither has sides.

    The reach along each normal is that of all corners, the side's own polygon's too. The ends of a side are
    rounded, by e say, so the normal of one L long is off by e / L and that of a side as short as e is noise.
    Measured over all corners even that is a direction like any other: what it says is never too high. Nor is
    it too low by more than e: where the separation is greatest at a side's true normal, it falls off to both
    sides of it by no more than L times the angle, L being the step from corner to corner that it is read at.
    """
    corners = np.concatenate((a, b), axis=1)
    edge = np.concatenate((_edges(a), -_edges(b)), axis=1)
    length = np.hypot(edge[0], edge[1])
    normal = np.stack((edge[1], -edge[0])) / np.where(length > 0, length, 1.0)
    reach = normal[0] * (corners[0, :, None] - corners[0]) + normal[1] * (corners[1, :, None] - corners[1])
    separation = np.where(length > 0, reach[4:].min(axis=0) - reach[:4].max(axis=0), -np.inf)
    best, rows = separation.argmax(axis=0), np.arange(len(separation[0]))
    return separation[best, rows], normal[:, best, rows]
