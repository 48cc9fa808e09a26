"""Cut faces as they are hatched (ISO 128-50): narrow lines at 45 degrees, neighbours the other way or closer
together, the same thing alike; what is too thin for that is filled.
"""

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from rampdraft.drawing.clip import Box, grown
from rampdraft.drawing.ink import Path, line
from rampdraft.geometry.outline import Outline, Point
from rampdraft.units import MM

_PITCH_MM: Final = 1.8
"""On paper, across the lines."""
_LOOKS: Final = ((1, 1.0), (-1, 1.0), (1, 0.6), (-1, 0.6), (1, 1.6), (-1, 1.6))
"""Rising or falling, and how many times the pitch: taken in this order as neighbours need them."""
THIN_MM: Final = 1.2
"""On paper: what is thinner is filled."""
_TOUCH_MM: Final = 0.5
_SAGITTA_MM: Final = 0.02

Look = tuple[int, float]


def looks(faces: Mapping[str, Sequence[Box]]) -> dict[str, Look]:
    """Return how each thing is hatched, by its key, that two that touch are not alike; where more than six
    meet, the last ones look as the first.
    """
    found: dict[str, Look] = {}
    for key, boxes in faces.items():
        near = {
            look
            for other, look in found.items()
            if any(_touch(one, its) for one in boxes for its in faces[other])
        }
        found[key] = next((look for look in _LOOKS if look not in near), _LOOKS[0])
    return found


def _touch(one: Box, other: Box) -> bool:
    x0, y0, x1, y1 = grown(one, _TOUCH_MM)
    return x0 <= other[2] and other[0] <= x1 and y0 <= other[3] and other[1] <= y1


def hatch(outlines: Iterable[Outline], look: Look, per_mm: MM) -> Iterator[Path]:
    """Yield the lines within a face, of which all outlines are given, those of holes too."""
    way, times = look
    rings = [outline.points(_SAGITTA_MM) for outline in outlines]
    step = _PITCH_MM * times * math.sqrt(2) * per_mm
    levels = [y - way * x for ring in rings for x, y in ring]
    first, last = math.floor(min(levels) / step) + 1, math.ceil(max(levels) / step)
    for number in range(first, last):
        # off the round figures that corners lie on, so that no line runs along an edge
        meets = sorted(_meets(rings, way, (number + 0.137) * step))
        for a, b in zip(meets[::2], meets[1::2], strict=False):
            yield line(a, b, "hatch")


def _meets(rings: Sequence[Sequence[Point]], way: int, level: MM) -> Iterator[Point]:
    """Yield where the line y = way x + level meets the sides of rings."""
    for ring in rings:
        for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
            a, b = ay - way * ax - level, by - way * bx - level
            if (a > 0) != (b > 0):
                share = a / (a - b)
                yield ax + share * (bx - ax), ay + share * (by - ay)
