"""From where a solid is seen: by two angles, without vanishing points, so that what is parallel stays so."""

import math
from dataclasses import dataclass

from rampdraft.units import DEG

Vector = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Camera:
    """Who looks stands round the ramp by `round_deg`, 0 at the toe and -90 with the toe on the right, and
    over the level by `over_deg`.
    """

    round_deg: DEG = -52.0
    over_deg: DEG = 24.0

    @property
    def towards(self) -> Vector:
        """Return the direction from the ramp to who looks."""
        sin, cos, up, level = self._parts
        return level * cos, level * sin, up

    @property
    def right(self) -> Vector:
        """Return what lies to the right on the picture."""
        sin, cos, _, _ = self._parts
        return -sin, cos, 0.0

    @property
    def up(self) -> Vector:
        """Return what lies upward on the picture."""
        sin, cos, up, level = self._parts
        return -up * cos, -up * sin, level

    @property
    def _parts(self) -> tuple[float, float, float, float]:
        """Return sine and cosine of both angles; exact at the quarters, where what is edge on stays so."""
        return (*_turned(self.round_deg), *_turned(self.over_deg))

    def turned(self, round_deg: DEG, over_deg: DEG) -> "Camera":
        """Return the camera moved by so much; never beyond straight above or below."""
        return Camera(
            math.remainder(self.round_deg + round_deg, 360.0), min(max(self.over_deg + over_deg, -90.0), 90.0)
        )


def _turned(degrees: DEG) -> tuple[float, float]:
    quarter = {0.0: (0.0, 1.0), 90.0: (1.0, 0.0), -90.0: (-1.0, 0.0), 180.0: (0.0, -1.0), -180.0: (0.0, -1.0)}
    return quarter.get(degrees) or (math.sin(math.radians(degrees)), math.cos(math.radians(degrees)))
