"""The ground of a site as ink: its line and the short strokes below it that say earth."""

from typing import Final

import numpy as np

from rampdraft.drawing.ink import Ink, line, polyline
from rampdraft.geometry.ground_line import GroundLine
from rampdraft.units import MM

_GROUP_MM: Final = 9.0
_STROKE_MM: Final = 2.6
_STEP_MM: Final = 1.3
"""On paper: from one group of three strokes to the next, and within it."""


def ground_marks(ground: GroundLine, x0_mm: MM, x1_mm: MM, per_mm: MM) -> tuple[Ink, ...]:
    """Return the ground from x0 to x1 with groups of three strokes below it, as earth is drawn."""
    marks: list[Ink] = [polyline(ground.between(x0_mm, x1_mm), "ground")]
    length, step = _STROKE_MM * per_mm, _STEP_MM * per_mm
    tops: list[MM] = []
    x = x0_mm + length
    while x + 2 * step <= x1_mm:
        tops.extend((x, x + step, x + 2 * step))
        x += _GROUP_MM * per_mm
    places = np.array(tops)
    found = (ground.all_beyond_mm(at).tolist() for at in (places, places - length))
    for at, z, cover in zip(tops, *found, strict=True):
        foot = (at - length, z - length)
        if cover > foot[1] + length / 4:  # not out through the face of a kerb
            marks.append(line((at, z), foot, "thin"))
    return tuple(marks)
