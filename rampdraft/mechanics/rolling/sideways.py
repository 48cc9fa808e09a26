"""How far a rigid user is from tipping to a side, over the line between the wheels of that side.

In plan the wheels of a side lie on a line, or on the outermost of several. The mass centre is straight above
a place in the middle, on a grade nearer to the lower axle by h times the grade. With d from there to the line
and h the height of the mass centre it tips at atan(d / h).
"""

import math
from collections.abc import Iterator
from itertools import combinations

from rampdraft.model.rolling_shape import RollingShape
from rampdraft.units import MM, RAD


def side_tip_rad(shape: RollingShape, grade: float) -> RAD | None:
    """Return the angle at which a user tips to a side while it stands on a grade, facing either way; None
    where hands keep it upright: on hands, or on wheels in one line.
    """
    if any(axle.held for axle in shape.axles) or not any(axle.track_mm for axle in shape.axles):
        return None
    moved = shape.centre_height_mm * abs(grade)
    places = (shape.centre_behind_mm - moved, shape.centre_behind_mm + moved)
    aside = min(_off(line, at) for line in _lines(shape) for at in places)
    return math.atan2(max(aside, 0.0), shape.centre_height_mm)


_Line = tuple[MM, MM, float]
"""Half the track of its first axle, where that is, and how much of it each mm behind adds."""


def _lines(shape: RollingShape) -> Iterator[_Line]:
    """Yield the lines between two axles that no wheel lies beyond."""
    for one, other in combinations(shape.axles, 2):
        grows = (other.track_mm - one.track_mm) / 2 / (other.behind_mm - one.behind_mm)
        line = one.track_mm / 2, one.behind_mm, grows
        cos = 1 / math.hypot(1.0, grows)
        if all(_off(line, axle.behind_mm) >= axle.track_mm / 2 * cos - 1e-6 for axle in shape.axles):
            yield line


def _off(line: _Line, behind_mm: MM) -> MM:
    """Return how far a place in the middle is from a line."""
    half, start, grows = line
    return (half + grows * (behind_mm - start)) / math.hypot(1.0, grows)
