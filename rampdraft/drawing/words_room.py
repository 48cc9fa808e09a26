"""What a line of words covers of a drawing."""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.drawing.clip import Box, within
from rampdraft.drawing.ink import Label
from rampdraft.drawing.letters import MM_PER_PT, words_mm
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

TALL: Final = 0.73
"""Height of a capital over the size of its letter, in the shipped font."""
Lines = NDArray[np.float64]
"""(n, 4): from and to."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """What a line of words covers: a rectangle, turned about its first corner."""

    corner: Point
    wide: MM
    tall: MM
    angle_rad: float

    @property
    def corners(self) -> tuple[Point, ...]:
        """Return its corners, the first one first, along the words."""
        return tuple(
            self._at(u, v)
            for u, v in ((0.0, 0.0), (self.wide, 0.0), (self.wide, self.tall), (0.0, self.tall))
        )

    @property
    def box(self) -> Box:
        """Return the upright box about it."""
        xs, ys = zip(*self.corners, strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    @property
    def middle(self) -> Point:
        """Return its middle."""
        a, _, c, _ = self.corners
        return (a[0] + c[0]) / 2, (a[1] + c[1]) / 2

    def meets(self, lines: Lines, air: MM) -> bool:
        """Return whether any of the lines comes into it, or nearer than that."""
        if not len(lines):
            return False
        cos, sin = math.cos(self.angle_rad), math.sin(self.angle_rad)
        x, y = lines[:, 0::2] - self.corner[0], lines[:, 1::2] - self.corner[1]
        u, v = x * cos + y * sin, y * cos - x * sin
        start, end = np.zeros(len(lines)), np.ones(len(lines))
        inside = np.ones(len(lines), dtype=bool)
        for one, most in ((u, self.wide), (v, self.tall)):  # slabs: Kay and Kajiya, 1986
            a, way = one[:, 0], one[:, 1] - one[:, 0]
            still = np.abs(way) < 1e-12
            inside &= ~still | ((a > -air) & (a < most + air))
            speed = np.where(still, 1.0, way)
            first, last = (-air - a) / speed, (most + air - a) / speed
            start = np.where(still, start, np.maximum(start, np.minimum(first, last)))
            end = np.where(still, end, np.minimum(end, np.maximum(first, last)))
        return bool((inside & (start < end)).any())

    def crossed(self, a: Point, b: Point, air: MM = 0.0) -> bool:
        """Return whether the straight line from a to b comes into it, or nearer than that."""
        box = (-air, -air, self.wide + air, self.tall + air)
        return within(self._seen(a), self._seen(b), box) is not None

    def _seen(self, point: Point) -> Point:
        cos, sin = math.cos(self.angle_rad), math.sin(self.angle_rad)
        x, y = point[0] - self.corner[0], point[1] - self.corner[1]
        return x * cos + y * sin, y * cos - x * sin

    def _at(self, u: MM, v: MM) -> Point:
        cos, sin = math.cos(self.angle_rad), math.sin(self.angle_rad)
        return self.corner[0] + u * cos - v * sin, self.corner[1] + u * sin + v * cos


def room_of(label: Label, per_mm: MM) -> Room:
    """Return what a label covers."""
    wide, tall = words_mm(label.text, label.size_pt) * per_mm, TALL * label.size_pt * MM_PER_PT * per_mm
    angle = math.radians(label.angle_deg)
    back = {"left": 0.0, "centre": wide / 2, "right": wide}[label.anchor]
    down = tall / 2 if label.boxed else 0.0
    x = label.at[0] - back * math.cos(angle) + down * math.sin(angle)
    y = label.at[1] - back * math.sin(angle) - down * math.cos(angle)
    return Room(corner=(x, y), wide=wide, tall=tall, angle_rad=angle)
