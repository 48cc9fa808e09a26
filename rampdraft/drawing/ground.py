"""The ground of a site as ink: its line and the short strokes below it that say earth."""

from itertools import pairwise
from typing import Final

from rampdraft.drawing.ink import Ink, Path, line
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

_GROUP_MM: Final = 9.0
_STROKE_MM: Final = 2.6
_STEP_MM: Final = 1.3
"""On paper: from one group of three strokes to the next, and within it."""


def ground_line(ground_mm: tuple[Point, ...], x0: MM, x1: MM) -> tuple[Point, ...]:
    """Return the ground from x0 to x1. It goes on level beyond both ends of the points given."""
    (first_x, first_z), (last_x, last_z) = ground_mm[0], ground_mm[-1]
    whole = ((min(x0, first_x), first_z), *ground_mm, (max(x1, last_x), last_z))
    found: list[Point] = []
    for (ax, az), (bx, bz) in pairwise(whole):
        if bx < x0 or ax > x1 or (ax, az) == (bx, bz):
            continue
        low, high = max(ax, x0), min(bx, x1)
        ends = ((ax, az), (bx, bz))
        if bx > ax:
            slope = (bz - az) / (bx - ax)
            ends = ((low, az + slope * (low - ax)), (high, az + slope * (high - ax)))
        found.extend(end for end in ends if not found or found[-1] != end)
    return tuple(found)


def height_at(ground: tuple[Point, ...], x: MM) -> MM:
    """Return the height of a ground line at x; at a step, the height of its right side."""
    height = ground[0][1]
    for (ax, az), (bx, bz) in pairwise(ground):
        if ax <= x <= bx:
            height = bz if bx == ax else az + (bz - az) * (x - ax) / (bx - ax)
        elif ax > x:
            break
    return height


def ground_marks(ground: tuple[Point, ...], per_mm: MM) -> tuple[Ink, ...]:
    """Return the ground line with groups of three strokes below it, as earth is drawn."""
    marks: list[Ink] = [Path(vertices=tuple((x, z, 0.0) for x, z in ground), closed=False, pen="ground")]
    length, step = _STROKE_MM * per_mm, _STEP_MM * per_mm
    x, end = ground[0][0] + length, ground[-1][0]
    while x + 2 * step <= end:
        for at in (x, x + step, x + 2 * step):
            z = height_at(ground, at)
            foot = (at - length, z - length)
            if height_at(ground, foot[0]) > foot[1] + length / 4:  # not out through the face of a kerb
                marks.append(line((at, z), foot, "thin"))
        x += _GROUP_MM * per_mm
    return tuple(marks)
