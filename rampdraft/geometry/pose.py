"""Where the leaves stand: the two angles, and the way from a body's frame to the side plane (x, z)."""

import math
from dataclasses import dataclass

from rampdraft.geometry.outline import Point
from rampdraft.units import MM, RAD


@dataclass(frozen=True, slots=True)
class Pose:
    """Inner leaf's angle to the level (counter-clockwise positive) and outer leaf's angle to the inner leaf,
    radians.
    """

    inner_rad: RAD
    fold_rad: RAD


@dataclass(frozen=True, slots=True)
class Placing:
    """A turn and a shift: point = shift + R(angle) (u, w)."""

    angle_rad: RAD
    x_mm: MM
    z_mm: MM

    def point(self, u_mm: MM, w_mm: MM) -> Point:
        """Return the side-plane point (x, z) of the body point (u, w)."""
        cos, sin = math.cos(self.angle_rad), math.sin(self.angle_rad)
        return self.x_mm + cos * u_mm - sin * w_mm, self.z_mm + sin * u_mm + cos * w_mm
