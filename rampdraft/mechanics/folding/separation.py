"""Signed separation of convex polygons, many pairs at once.

Every part is a convex polygon of at most four corners grown by a radius: a rectangle has four corners and no
radius, a knuckle one corner and its radius. Polygons with fewer corners repeat the last one.

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
    """For m pairs: signed separation (m,), and the unit direction from a to b in which it is measured (m,
    2).
    """

    distance_mm: Array
    direction: Array


def separations(a: Array, radius_a: Array, b: Array, radius_b: Array) -> Separation:
    """Return the signed separations of polygons a and b, shapes (m, 4, 2), grown by radii of shape (m,), in
    mm.
    """
    gap_ab, way_ab = _corner_to_side(a, b)
    gap_ba, way_ba = _corner_to_side(b, a)
    nearer = gap_ab <= gap_ba
    signed = np.sqrt(np.where(nearer, gap_ab, gap_ba))
    way = np.where(nearer[:, None], way_ab, -way_ba)
    direction = way / np.where(signed == 0, 1.0, signed)[:, None]
    direction[signed == 0] = (1.0, 0.0)  # the same point: any direction is as true
    touching = signed < TOUCHING_MM
    low_a, high_a, low_b, high_b = a.min(axis=1), a.max(axis=1), b.min(axis=1), b.max(axis=1)
    may_overlap = np.flatnonzero(
        ((low_a <= high_b + TOUCHING_MM) & (low_b <= high_a + TOUCHING_MM)).all(axis=1)
    )
    if may_overlap.size:
        depth, normal = _axes(a[may_overlap], b[may_overlap])
        # Where parts touch, the way between them is rounding noise: the side's normal is the direction.
        inside = ((depth <= 0) | touching[may_overlap]) & (depth > -np.inf)
        rows = may_overlap[inside]
        signed[rows], direction[rows] = depth[inside], normal[inside]
    return Separation(distance_mm=signed - radius_a - radius_b, direction=direction)


def _axes(a: Array, b: Array) -> tuple[Array, Array]:
    """Return, per pair, the greatest separation along the side normals of both, and that normal, from a
    to b.
    """
    axis_a, normal_a = _deepest_axis(a, b)
    axis_b, normal_b = _deepest_axis(b, a)
    from_a = axis_a >= axis_b
    return np.where(from_a, axis_a, axis_b), np.where(from_a[:, None], normal_a, -normal_b)


def _edges(corners: Array) -> Array:
    """Return the vectors from each corner to the next, shape (m, 4, 2)."""
    return np.concatenate((corners[:, 1:], corners[:, :1]), axis=1) - corners


def _corner_to_side(corners: Array, sides: Array) -> tuple[Array, Array]:
    """Return, per pair, the least squared distance of a corner to a side, and the vector from that corner to
    the side.
    """
    edge = _edges(sides)
    length2 = edge[..., 0] ** 2 + edge[..., 1] ** 2
    length2[length2 == 0] = 1.0
    x = corners[:, :, None, 0] - sides[:, None, :, 0]
    y = corners[:, :, None, 1] - sides[:, None, :, 1]
    edge_x, edge_y = edge[:, None, :, 0], edge[:, None, :, 1]
    along = (x * edge_x + y * edge_y) / length2[:, None, :]
    np.clip(along, 0.0, 1.0, out=along)
    x -= along * edge_x
    y -= along * edge_y
    squared = (x * x + y * y).reshape(len(corners), -1)
    best = squared.argmin(axis=1)
    rows = np.arange(len(corners))
    way = np.empty((len(corners), 2))
    np.negative(x.reshape(len(corners), -1)[rows, best], out=way[:, 0])
    np.negative(y.reshape(len(corners), -1)[rows, best], out=way[:, 1])
    return squared[rows, best], way


def _deepest_axis(a: Array, b: Array) -> tuple[Array, Array]:
    """Return, per pair, the greatest separation along a's side normals, and that normal; -inf where a has no
    sides.
    """
    edge = _edges(a)
    length = np.hypot(edge[:, :, 0], edge[:, :, 1])
    real = length > 0
    safe_length = np.where(real, length, 1.0)
    normal_x, normal_y = edge[:, :, 1] / safe_length, -edge[:, :, 0] / safe_length
    reach = normal_x[:, :, None] * (b[:, None, :, 0] - a[:, :, None, 0])
    reach += normal_y[:, :, None] * (b[:, None, :, 1] - a[:, :, None, 1])
    separation = np.where(real, reach.min(axis=2), -np.inf)
    best = separation.argmax(axis=1)
    rows = np.arange(len(a))
    return separation[rows, best], np.stack((normal_x[rows, best], normal_y[rows, best]), axis=1)
