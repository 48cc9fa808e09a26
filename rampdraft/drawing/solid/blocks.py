"""Outlines in convex shapes, and the blocks that they make across: what a solid is put together from.

Everything on a ramp is a prism across: an outline in the side plane that fills an interval of y. Two of them
hide each other in an order that can be told for certain only where they are convex, so an outline is cut up.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from typing import Final, Literal

from rampdraft.drawing.ink import Fill
from rampdraft.geometry.outline import Outline, Point
from rampdraft.units import MM

SAGITTA_MM: Final = 0.5
"""A chord of an arc stays this near to it, or within a share of its radius where it is large."""
_SHARE: Final = 0.02
_SMOOTH: Final = math.cos(math.radians(40))
"""Sides that meet at a flatter angle show no edge between them."""
_FLAT: Final = 1e-9

Side = Literal["straight", "bent", "cut"]
"""A side of a shape: of the outline, of an arc in it, or where it was cut from its neighbour."""


@dataclass(frozen=True, slots=True)
class Shape:
    """A convex part of an outline, counter-clockwise."""

    points: tuple[Point, ...]
    sides: tuple[Side, ...]
    """Of the side that leaves each point."""
    corners: tuple[bool, ...]
    """Whether an edge is seen at each point."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """A prism: a convex shape from y0 to y1."""

    shape: Shape
    frame: str
    """What it moves with."""
    y0_mm: MM
    y1_mm: MM
    fill: Fill
    owner: str = ""


def blocks_of(
    outline: Outline, y0_mm: MM, y1_mm: MM, *, frame: str, fill: Fill, owner: str = ""
) -> Iterator[Block]:
    """Yield the blocks of an outline that fills an interval across."""
    for shape in shapes_of(outline):
        yield Block(shape=shape, frame=frame, y0_mm=y0_mm, y1_mm=y1_mm, fill=fill, owner=owner)


@lru_cache(maxsize=1024)
def shapes_of(outline: Outline) -> tuple[Shape, ...]:
    """Return an outline in convex shapes; arcs are chords, which are told from straight sides."""
    points, bent = _chords(outline)
    count = len(points)
    corners = [
        not (bent[at - 1] and bent[at])
        or _cosine(points[at - 1], points[at], points[(at + 1) % count]) < _SMOOTH
        for at in range(count)
    ]
    found: list[Shape] = []
    for ring in convex_rings(points):
        following = (*ring[1:], ring[0])
        sides: tuple[Side, ...] = tuple(_side(a, b, bent) for a, b in zip(ring, following, strict=True))
        found.append(Shape(tuple(points[at] for at in ring), sides, tuple(corners[at] for at in ring)))
    return tuple(found)


def _side(a: int, b: int, bent: list[bool]) -> Side:
    if (a + 1) % len(bent) != b:
        return "cut"
    return "bent" if bent[a] else "straight"


def _chords(outline: Outline) -> tuple[list[Point], list[bool]]:
    """Return the outline as points, and whether the side that leaves each is a chord of an arc."""
    points: list[Point] = []
    bent: list[bool] = []
    vertices = outline.vertices
    for (x0, y0, bulge), (x1, y1, _) in zip(vertices, (*vertices[1:], vertices[0]), strict=True):
        run: tuple[Point, ...] = ((x0, y0),)
        if bulge:
            radius = math.hypot(x1 - x0, y1 - y0) * (1 + bulge**2) / (4 * abs(bulge))
            run = Outline(((x0, y0, bulge), (x1, y1, 0.0))).points(max(SAGITTA_MM, _SHARE * radius))[:-1]
        points.extend(run)
        bent.extend([bool(bulge)] * len(run))
    return points, bent


def _cosine(a: Point, b: Point, c: Point) -> float:
    """Return the cosine of the turn at b on the way from a to c."""
    lengths = math.dist(a, b) * math.dist(b, c)
    return ((b[0] - a[0]) * (c[0] - b[0]) + (b[1] - a[1]) * (c[1] - b[1])) / lengths if lengths else 1.0


def convex_rings(points: list[Point]) -> list[list[int]]:
    """Return a simple outline, counter-clockwise, cut into convex ones, each as places in `points`.

    Ears are cut off (Meisters, Polygons have ears, 1975), then cuts that are not needed are taken away
    (Hertel and Mehlhorn, Fast triangulation of simple polygons, 1983).
    """
    if _is_convex(points, list(range(len(points)))):
        return [list(range(len(points)))]
    rings = _triangles(points)
    at = 0
    while at < len(rings):
        joined = next(
            (
                (other, ring)
                for other in range(at + 1, len(rings))
                if (ring := _joined(rings[at], rings[other])) and _is_convex(points, ring)
            ),
            None,
        )
        if joined is None:
            at += 1
        else:
            rings[at] = joined[1]
            del rings[joined[0]]
    return rings


def _triangles(points: list[Point]) -> list[list[int]]:
    left, found = list(range(len(points))), list[list[int]]()
    while len(left) > 3:
        ears = (at for at in range(len(left)) if _is_ear(points, left, at))
        flat = (at for at in range(len(left)) if abs(_turn(points, *_about(left, at))) <= _FLAT)
        at = next(ears, next(flat, 0))
        if abs(_turn(points, *_about(left, at))) > _FLAT:
            found.append(list(_about(left, at)))
        del left[at]
    found.append(left)
    return found


def _about(left: list[int], at: int) -> tuple[int, int, int]:
    return left[at - 1], left[at], left[(at + 1) % len(left)]


def _is_ear(points: list[Point], left: list[int], at: int) -> bool:
    ear = _about(left, at)
    if _turn(points, *ear) <= _FLAT:
        return False
    a, b, c = ear
    return not any(
        _turn(points, a, b, other) >= 0
        and _turn(points, b, c, other) >= 0
        and _turn(points, c, a, other) >= 0
        for other in left
        if other not in ear
    )


def _turn(points: list[Point], a: int, b: int, c: int) -> float:
    (ax, ay), (bx, by), (cx, cy) = points[a], points[b], points[c]
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


def _is_convex(points: list[Point], ring: list[int]) -> bool:
    return all(_turn(points, *_about(ring, at)) >= -_FLAT for at in range(len(ring)))


def _joined(one: list[int], other: list[int]) -> list[int] | None:
    """Return two rings as one, without the side that they share; None where they share none."""
    for at, a in enumerate(one):
        b = one[(at + 1) % len(one)]
        if a in other and b in other:
            place = other.index(b)
            if other[(place + 1) % len(other)] == a:
                rest = other[place + 1 :] + other[:place]  # from a all the way round to before b
                return one[: at + 1] + rest[1:] + one[at + 1 :]
    return None
