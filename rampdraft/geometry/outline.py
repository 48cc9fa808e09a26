"""Closed outlines of straight lines and circular arcs, and the holes in them: what a cutter follows.

An outline is a tuple of vertices (x, y, bulge), counter-clockwise; the bulge belongs to the side that leaves
the vertex and is tan(angle / 4), positive for an arc that turns counter-clockwise (the convention of
LWPOLYLINE in the open DXF reference).
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from rampdraft.units import MM, MM2

Vertex = tuple[MM, MM, float]
Point = tuple[MM, MM]


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline in mm. The last vertex joins the first."""

    vertices: tuple[Vertex, ...]

    @property
    def box(self) -> tuple[MM, MM, MM, MM]:
        """Return (x0, y0, x1, y1) that holds the outline."""
        xs, ys, bulges = zip(*self.vertices, strict=True)
        if any(bulges):
            xs, ys = zip(*self.points(sagitta_mm=0.01), strict=True)
        return min(xs), min(ys), max(xs), max(ys)

    def points(self, sagitta_mm: MM) -> tuple[Point, ...]:
        """Return the outline as points whose chords stay within `sagitta_mm` of the arcs."""
        found: list[Point] = []
        count = len(self.vertices)
        for index, (x, y, bulge) in enumerate(self.vertices):
            found.append((x, y))
            if bulge:
                end = self.vertices[(index + 1) % count]
                found.extend(_arc_points((x, y), (end[0], end[1]), bulge, sagitta_mm))
        return tuple(found)

    def area_and_centroid(self) -> tuple[MM2, Point]:
        """Return the area, positive for counter-clockwise, and the centroid, exactly (Green's theorem on
        lines and arcs).
        """
        return _area_and_centroid(self.vertices)


@dataclass(frozen=True, slots=True)
class Hole:
    """A round hole in a profile: centre and diameter in mm."""

    x_mm: MM
    y_mm: MM
    diameter_mm: MM


@dataclass(frozen=True, slots=True)
class Profile:
    """What is cut: one closed outline and the holes in it, in the part's own frame, mm."""

    outline: Outline
    holes: tuple[Hole, ...] = ()


def rectangle(x0: MM, y0: MM, x1: MM, y1: MM) -> Outline:
    """Return the rectangle with the corners given, counter-clockwise."""
    return Outline(((x0, y0, 0.0), (x1, y0, 0.0), (x1, y1, 0.0), (x0, y1, 0.0)))


def clipped(points: Iterable[Point], convex: Sequence[Point]) -> list[Point]:
    """Return what of a closed outline lies within a convex one, both as points, the latter counter-clockwise;
    nothing where they do not meet.

    Sutherland and Hodgman, Reentrant polygon clipping, 1974. Parts of a hollow outline that are cut off stay
    joined by sides without width.
    """
    left = list(points)
    for (x0, y0), (x1, y1) in zip(convex, (*convex[1:], convex[0]), strict=True):
        inside = [(x1 - x0) * (y - y0) - (y1 - y0) * (x - x0) for x, y in left]
        kept: list[Point] = []
        for index, (point, side) in enumerate(zip(left, inside, strict=True)):
            before, side_before = left[index - 1], inside[index - 1]
            if side * side_before < 0:
                part = side_before / (side_before - side)
                kept.append(
                    (before[0] + part * (point[0] - before[0]), before[1] + part * (point[1] - before[1]))
                )
            if side >= 0:
                kept.append(point)
        left = kept
    return left


def disc(x: MM, y: MM, diameter_mm: MM) -> Outline:
    """Return a full circle as two half-circle arcs."""
    radius = diameter_mm / 2
    return Outline(((x - radius, y, 1.0), (x + radius, y, 1.0)))


def arc_of(start: Point, end: Point, bulge: float) -> tuple[Point, MM, float, float]:
    """Return (centre, radius, start angle, sweep) of the arc from start to end; angles in radians, sweep
    signed.
    """
    sweep = 4 * math.atan(bulge)
    dx, dy = end[0] - start[0], end[1] - start[1]
    offset = (1 - bulge**2) / (4 * bulge)
    centre = ((start[0] + end[0]) / 2 - dy * offset, (start[1] + end[1]) / 2 + dx * offset)
    radius = math.hypot(dx, dy) * (1 + bulge**2) / (4 * abs(bulge))
    return centre, radius, math.atan2(start[1] - centre[1], start[0] - centre[0]), sweep


def bulge_of(start: Point, end: Point, centre: Point, clockwise: bool) -> float:
    """Return the bulge of the arc from start to end about `centre` in the sense given."""
    turn = math.atan2(end[1] - centre[1], end[0] - centre[0]) - math.atan2(
        start[1] - centre[1], start[0] - centre[0]
    )
    sweep = -((-turn) % (2 * math.pi)) if clockwise else turn % (2 * math.pi)
    return math.tan(sweep / 4)


@lru_cache(maxsize=256)  # the knuckles, pins and washers of a hinge line have one outline
def _area_and_centroid(corners: tuple[Vertex, ...]) -> tuple[MM2, Point]:
    area = moment_x = moment_y = 0.0
    for (x0, y0, bulge), (x1, y1, _) in zip(corners, (*corners[1:], corners[0]), strict=True):
        cross = x0 * y1 - x1 * y0
        area += cross / 2
        moment_x += (x0 + x1) * cross / 6
        moment_y += (y0 + y1) * cross / 6
        if bulge:
            (cx, cy), radius, _, sweep = arc_of((x0, y0), (x1, y1), bulge)
            segment = radius**2 / 2 * (sweep - math.sin(sweep))
            if segment:
                reach = 4 * radius * math.sin(abs(sweep) / 2) ** 3 / (3 * (abs(sweep) - math.sin(abs(sweep))))
                mx, my = (x0 + x1) / 2 - cx, (y0 + y1) / 2 - cy
                length = math.hypot(mx, my)
                if length > 1e-9:
                    side = 1.0 if abs(sweep) <= math.pi else -1.0
                    ux, uy = side * mx / length, side * my / length
                else:
                    turn = 1.0 if sweep > 0 else -1.0
                    chord = math.hypot(x1 - x0, y1 - y0)
                    ux, uy = turn * (y1 - y0) / chord, -turn * (x1 - x0) / chord
                area += segment
                moment_x += segment * (cx + reach * ux)
                moment_y += segment * (cy + reach * uy)
    return area, (moment_x / area, moment_y / area)


@lru_cache(maxsize=512)  # knuckles and copes of a hinge line have one arc
def _arc_points(start: Point, end: Point, bulge: float, sagitta_mm: MM) -> tuple[Point, ...]:
    centre, radius, angle, sweep = arc_of(start, end, bulge)
    step = 2 * math.acos(1 - sagitta_mm / radius if radius > sagitta_mm else 0.0)
    count = max(1, math.ceil(abs(sweep) / step))
    return tuple(
        (
            centre[0] + radius * math.cos(angle + sweep * k / count),
            centre[1] + radius * math.sin(angle + sweep * k / count),
        )
        for k in range(1, count)
    )
