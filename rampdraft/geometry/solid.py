"""What is left of a bar whose profile is cut right through, from side to side: volume and centre, exactly.

A cut at a place along the bar and up its depth takes all that the bar has across there: of a box's middle its
two walls, near top and underside the whole width. So the volume is the integral of that width over the
profile, taken along its edge (Green's theorem).
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np

from rampdraft.geometry.outline import Outline, Point, Profile, Vertex, arc_of, disc
from rampdraft.geometry.sections import box_radii_mm
from rampdraft.model.section import Section
from rampdraft.units import MM, Array

_NODES, _WEIGHTS = np.polynomial.legendre.leggauss(16)
_ANGLES: Final = math.pi / 2 * _NODES
_SINES: Final[Array] = np.sin(_ANGLES)
_STEPS: Final[Array] = math.pi / 2 * _WEIGHTS * np.cos(_ANGLES)
"""Gauss's rule over a stretch from -1 to 1, in the angle of which its places are the sines: what goes like a
root at either end, as the width of an arc does, is smooth in that.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Solid:
    """What is left of a bar."""

    volume_mm3: float
    centre_mm: Point
    """In the frame of the profile."""


@lru_cache(maxsize=256)  # of an unchanged bar there is nothing to be worked out again
def solid(section: Section, profile: Profile) -> Solid:
    """Return what a profile leaves of a bar, x along it and y up from the underside of its section."""
    x, y, dy = (np.concatenate(part) for part in zip(*_edge(section, profile), strict=True))
    layer = across_mm(section, y) * dy
    volume = float((layer * x).sum())
    moments = float((layer * x**2).sum()) / 2, float((layer * x * y).sum())
    return Solid(volume_mm3=volume, centre_mm=(moments[0] / volume, moments[1] / volume))


def across_mm(section: Section, up_mm: Array) -> Array:
    """Return how much of a section there is across, so far above its underside or below its top."""
    depth, wall = section.depth_mm, section.wall_mm
    near = np.minimum(up_mm, depth - up_mm)
    if section.kind in ("round", "tube"):
        bore = _chord(depth / 2 - wall, near - wall) if wall else 0.0
        return _chord(depth / 2, near) - bore
    if section.kind != "box":
        return np.full_like(near, section.width_mm)
    outside, inside = box_radii_mm(section)
    hollow = section.width_mm - 2 * wall - _rounded(inside, near - wall)
    return section.width_mm - _rounded(outside, near) - np.where(near > wall, hollow, 0.0)


def _chord(radius: MM, near: Array) -> Array:
    """Return the width of a disc so far from its top or underside; none outside it."""
    return 2 * np.sqrt(np.maximum(0.0, near * (2 * radius - near)))


def _rounded(radius: MM, near: Array) -> Array:
    """Return what two rounded corners take from the width, so far from the edge."""
    return np.where(near < radius, 2 * radius - _chord(radius, np.clip(near, 0.0, radius)), 0.0)


def _breaks(section: Section) -> tuple[MM, ...]:
    """Return where along its depth the width of a section goes another way."""
    depth, wall = section.depth_mm, section.wall_mm
    near = {0.0, wall}
    if section.kind == "box":
        outside, inside = box_radii_mm(section)
        near |= {outside, wall + inside}
    return tuple(sorted(near | {depth - one for one in near}))


def _edge(section: Section, profile: Profile) -> Iterator[tuple[Array, Array, Array]]:
    """Yield the edges of a profile in stretches of nodes: x, y, and how far y goes with each, (16,) all."""
    breaks = _breaks(section)
    outlines: list[tuple[Outline, float]] = [(profile.outline, 1.0)]
    outlines += [(disc(hole.x_mm, hole.y_mm, hole.diameter_mm), -1.0) for hole in profile.holes]
    for outline, sense in outlines:
        corners = outline.vertices
        for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
            for x, y, dy in _side(start, end, breaks):
                yield x, y, sense * dy


def _side(start: Vertex, end: Vertex, breaks: tuple[MM, ...]) -> Iterator[tuple[Array, Array, Array]]:
    (x0, y0, bulge), (x1, y1, _) = start, end
    if not bulge:
        for low, high in _stretches(0.0, 1.0, [(level - y0) / (y1 - y0) for level in breaks if y1 != y0]):
            part, steps = _nodes(low, high)
            yield x0 + part * (x1 - x0), y0 + part * (y1 - y0), steps * (y1 - y0)
        return
    (cx, cy), radius, angle, sweep = arc_of((x0, y0), (x1, y1), bulge)
    rises = (math.asin((level - cy) / radius) for level in breaks if abs(level - cy) <= radius)
    turns = (one for rise in (*rises, math.pi / 2, -math.pi / 2) for one in (rise, math.pi - rise))
    cuts = [turn + 2 * math.pi * whole for turn in turns for whole in (-2, -1, 0, 1, 2)]
    for low, high in _stretches(angle, angle + sweep, cuts):
        at, steps = _nodes(low, high)
        yield cx + radius * np.cos(at), cy + radius * np.sin(at), steps * radius * np.cos(at)


def _stretches(start: float, end: float, cuts: list[float]) -> Iterator[tuple[float, float]]:
    """Yield what cuts leave of a way, in its sense."""
    low, high = min(start, end), max(start, end)
    found = sorted({low, high, *(cut for cut in cuts if low < cut < high)})
    yield from pairwise(found if end >= start else found[::-1])


def _nodes(low: float, high: float) -> tuple[Array, Array]:
    half = (high - low) / 2
    return (low + high) / 2 + half * _SINES, half * _STEPS
