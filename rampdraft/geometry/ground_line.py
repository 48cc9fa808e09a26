"""The ground of a site along the ramp: one reading of its heights, of both sides of a step, and of its grade.

At an upright face the ground has two heights. What stands there, or comes down there, meets the higher one:
`height_mm`. What goes on from there meets the one that lies ahead: `beyond_mm` away from the deck, and
`before_mm` towards it. Anywhere else all three are the same.
"""

import math
from bisect import bisect_left
from dataclasses import dataclass
from typing import Final, Literal, TypeVar

import numpy as np

from rampdraft.geometry.outline import Point
from rampdraft.model.design import Site
from rampdraft.units import MM, Array

FAR_MM = 1.0e5
"""So far the ground goes on level beyond both ends of its points."""

HAIR_MM = 1e-6
"""A place this near to a corner is at the corner, so that no result hangs on rounding."""

Number = TypeVar("Number", MM, Array)
_BEFORE: Final = -math.inf
_BEYOND: Final = math.inf
"""Which stretch counts at a corner: the one that ends there, or the one that begins."""


@dataclass(frozen=True, slots=True)
class GroundLine:
    """A ground line, left to right, with its level ends."""

    points: tuple[Point, ...]

    @property
    def corners(self) -> tuple[Point, ...]:
        """Return the points without those of the level ends."""
        return self.points[1:-1]

    def before_mm(self, x_mm: MM) -> MM:
        """Return the height at x as one comes from the deck: the limit from the left."""
        return self._height_mm(self._snapped(x_mm), _BEFORE)

    def beyond_mm(self, x_mm: MM) -> MM:
        """Return the height at x as one comes towards the deck: the limit from the right."""
        return self._height_mm(self._snapped(x_mm), _BEYOND)

    def height_mm(self, x_mm: MM) -> MM:
        """Return the height of what stands at x: the higher side of an upright face."""
        x = self._snapped(x_mm)
        return max(self._height_mm(x, _BEFORE), self._height_mm(x, _BEYOND))

    def heights_mm(self, x_mm: Array) -> Array:
        """Return `height_mm` at many places."""
        return np.maximum(self._heights_mm(x_mm, "left"), self._heights_mm(x_mm, "right"))

    def all_beyond_mm(self, x_mm: Array) -> Array:
        """Return `beyond_mm` at many places."""
        return self._heights_mm(x_mm, "right")

    def grade_beyond(self, x_mm: MM) -> float:
        """Return dz/dx just beyond x, away from the deck."""
        return self._grade(x_mm, _BEYOND)

    def grade_before(self, x_mm: MM) -> float:
        """Return dz/dx just before x, towards the deck."""
        return self._grade(x_mm, _BEFORE)

    def between(self, x0_mm: MM, x1_mm: MM) -> tuple[Point, ...]:
        """Return the line from x0 to x1, both sides of every upright face within it."""
        inside = (point for point in self.points if x0_mm < point[0] < x1_mm)
        return (x0_mm, self.beyond_mm(x0_mm)), *inside, (x1_mm, self.before_mm(x1_mm))

    def _heights_mm(self, x_mm: Array, side: Literal["left", "right"]) -> Array:
        xs, zs = np.array(self.points).T
        k = np.searchsorted(xs, x_mm, side=side).clip(1, len(xs) - 1)
        return _on(xs[k - 1], zs[k - 1], xs[k], zs[k], x_mm)

    def _height_mm(self, x: MM, side: float) -> MM:
        (x0, z0), (x1, z1) = self._stretch(x, side)
        return _on(x0, z0, x1, z1, x)

    def _grade(self, x_mm: MM, side: float) -> float:
        (x0, z0), (x1, z1) = self._stretch(self._snapped(x_mm), side)
        return (z1 - z0) / (x1 - x0)

    def _stretch(self, x: MM, side: float) -> tuple[Point, Point]:
        """Return the ends of the stretch that ends at x (`_BEFORE`), or begins there, or holds it."""
        k = min(max(bisect_left(self.points, (x, side)), 1), len(self.points) - 1)
        return self.points[k - 1], self.points[k]

    def _snapped(self, x_mm: MM) -> MM:
        """Return the place of the first corner that is as near as a hair, or x itself."""
        k = bisect_left(self.points, (x_mm - HAIR_MM, _BEFORE))
        near = k < len(self.points) and self.points[k][0] <= x_mm + HAIR_MM
        return self.points[k][0] if near else x_mm


def ground_line(site: Site) -> GroundLine:
    """Return the ground of a site."""
    points = site.ground_mm
    (first_x, first_z), (last_x, last_z) = points[0], points[-1]
    return GroundLine(((first_x - FAR_MM, first_z), *points, (last_x + FAR_MM, last_z)))


def _on(x0: Number, z0: Number, x1: Number, z1: Number, x: Number) -> Number:
    """Return the height at x of the straight line through two points."""
    return z0 + (z1 - z0) * (x - x0) / (x1 - x0)
