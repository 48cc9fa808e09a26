"""What would spoil a piece at the cutter, looked for in the drawing itself before it is written.

A cutter follows every line on the layers that are cut: one closed outline, whatever is cut out of it inside
it, no edge twice, nothing that crosses.
"""

# ezdxf's own types are partly open.
# pyright: reportUnknownMemberType=false, reportUnknownVariableType=false, reportUnknownArgumentType=false

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, pairwise
from typing import Final

import numpy as np
from ezdxf.entities.circle import Circle
from ezdxf.entities.lwpolyline import LWPolyline
from ezdxf.layouts.layout import Modelspace

from rampdraft.geometry.outline import Outline, Point, arc_of, disc
from rampdraft.units import MM, Array
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

SHORTEST_MM: Final = 0.001
"""An edge shorter than this is a fault: cutters stand still on it."""

_SAME_MM: Final = 1e-4
_SAGITTA_MM: Final = 0.01


def faults(space: Modelspace, outlines: str, holes: str, box_mm: tuple[MM, MM]) -> tuple[str, ...]:
    """Return what is wrong with what is cut of one piece, none where nothing is.

    `outlines` and `holes` are the layers that are cut, `box_mm` length and breadth of the piece, girth where
    it is unrolled.
    """
    found: list[str] = []
    read = {layer: list(_read(space, layer, found)) for layer in (outlines, holes)}
    found.extend(_doubled([*read[outlines], *read[holes]]))
    if len(read[outlines]) != 1:
        return (*found, say("{count} outlines, not one", count=len(read[outlines])))
    (outer,) = read[outlines]
    x0, y0, x1, y1 = outer.box
    for what, is_mm, wanted in zip(("long", "broad"), (x1 - x0, y1 - y0), box_mm, strict=True):
        if abs(is_mm - wanted) > 10 * SHORTEST_MM:
            found.append(
                say(
                    "{found} mm {what}, not {wanted}",
                    found=fixed(is_mm, 3),
                    what=say(what),
                    wanted=fixed(wanted, 3),
                )
            )
    rings = [_ring(one) for one in (outer, *read[holes])]
    if any(_crosses(ring, ring) for ring in rings):
        found.append(say("an outline crosses itself"))
    for number, ring in enumerate(rings[1:], start=1):
        if _crosses(rings[0], ring) or not _inside(rings[0], ring[0]):
            found.append(say("hole {number} is not inside the outline", number=number))
    for (number, first), (other, second) in combinations(enumerate(rings[1:], start=1), 2):
        if _crosses(first, second) or _inside(first, second[0]) or _inside(second, first[0]):
            found.append(say("holes {number} and {other} run into each other", number=number, other=other))
    return tuple(found)


def _read(space: Modelspace, layer: str, found: list[str]) -> Iterator[Outline]:
    """Yield the closed outlines of a layer; what else lies on it is a fault."""
    for entity in space:
        if entity.dxf.layer != layer:
            continue
        if isinstance(entity, Circle):
            centre = entity.dxf.center
            yield disc(float(centre.x), float(centre.y), 2 * float(entity.dxf.radius))
        elif not isinstance(entity, LWPolyline):
            found.append(say("a stray {kind} on layer {layer}", kind=entity.dxftype(), layer=layer))
        elif not entity.closed:
            found.append(say("an outline on layer {layer} is open", layer=layer))
        else:
            corners = tuple((float(x), float(y), float(b)) for x, y, b in entity.get_points("xyb"))
            yield Outline(corners)


def _edges(outline: Outline) -> Iterator[tuple[Point, Point, float]]:
    corners = outline.vertices
    for (x0, y0, bulge), (x1, y1, _) in zip(corners, (*corners[1:], corners[0]), strict=True):
        yield (x0, y0), (x1, y1), bulge


def _doubled(outlines: Iterable[Outline]) -> Iterator[str]:
    """Yield what is said of edges of no length, and of edges that are drawn twice."""
    seen: Counter[tuple[object, ...]] = Counter()
    for outline in outlines:
        for start, end, bulge in _edges(outline):
            if math.dist(start, end) < SHORTEST_MM:
                yield say("an edge of no length at {x}, {y}", x=fixed(start[0], 2), y=fixed(start[1], 2))
            if bulge:
                (x, y), radius, angle, sweep = arc_of(start, end, bulge)
                middle = (x + radius * math.cos(angle + sweep / 2), y + radius * math.sin(angle + sweep / 2))
            else:
                middle = ((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)
            seen[(*sorted((_grid(start), _grid(end))), _grid(middle))] += 1
    if any(count > 1 for count in seen.values()):
        yield say("an edge is drawn twice")


def _grid(point: Point) -> tuple[int, int]:
    return round(point[0] / _SAME_MM), round(point[1] / _SAME_MM)


def _ring(outline: Outline) -> Array:
    """Return an outline as points (n, 2), the first again at the end."""
    points = outline.points(_SAGITTA_MM)
    return np.array((*points, points[0]))


def _crosses(a: Array, b: Array) -> bool:
    """Return whether two rings cross; of a ring and itself, whether sides that are no neighbours do."""
    p, r = a[:-1, None], np.diff(a, axis=0)[:, None]
    q, s = b[None, :-1], np.diff(b, axis=0)[None]
    across = _cross(r, s)
    with np.errstate(divide="ignore", invalid="ignore"):
        t, u = _cross(q - p, s) / across, _cross(q - p, r) / across
    # Ends that touch are neighbours or kiss; what crosses does so well within both sides.
    met = (t > 1e-9) & (t < 1 - 1e-9) & (u > 1e-9) & (u < 1 - 1e-9)
    return bool(np.any(met & (across != 0)))


def _cross(a: Array, b: Array) -> Array:
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


def _inside(ring: Array, point: Sequence[float] | Array) -> bool:
    """Return whether a point lies within a ring, by the sides that a ray to the right passes."""
    x, y = float(point[0]), float(point[1])
    passed = 0
    for (x0, y0), (x1, y1) in pairwise(ring):
        if (y0 > y) != (y1 > y) and x < x0 + (x1 - x0) * (y - y0) / (y1 - y0):
            passed += 1
    return passed % 2 == 1
