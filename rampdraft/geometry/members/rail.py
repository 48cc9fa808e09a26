"""The side outline of a rail: a bar coped to a knuckle, tapered at the toe, notched for half-laps.

Frame of the outline: (u, w) of the leaf, w = 0 along the top of the rail, which fills -depth .. 0.
"""

import math
from dataclasses import dataclass

from rampdraft.geometry.lanes import TOUCH_MM
from rampdraft.geometry.members.member import EndCut
from rampdraft.geometry.outline import Outline, Vertex, bulge_of
from rampdraft.units import MM

SQUARE = EndCut(kind="square")

_TOUCH_MM = 1e-9
"""A tip of material thinner than this is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A notch cut up from the underside."""

    centre_mm: MM
    width_mm: MM
    depth_mm: MM


def cope(radius_mm: MM, height_mm: MM, depth_mm: MM) -> EndCut:
    """Return the cut that a hole saw of `radius_mm` makes with its centre on the end face, `height_mm` above
    the top.

    Material is left where (u - u_h)^2 + (w - w_h)^2 >= R^2. A hole saw that misses the bar leaves the end
    square.
    """
    if height_mm - radius_mm >= 0 or height_mm + radius_mm <= -depth_mm:
        return SQUARE
    back = math.sqrt(radius_mm**2 - height_mm**2) if abs(height_mm) < radius_mm else 0.0
    return EndCut(kind="cope", radius_mm=radius_mm, height_mm=height_mm, length_mm=back)


def rail_outline(
    *, length_mm: MM, depth_mm: MM, start: EndCut, end: EndCut, notches: tuple[Notch, ...] = ()
) -> Outline:
    """Return the closed outline of a rail from u = 0 to u = `length_mm`, counter-clockwise."""
    underside: list[Vertex] = []
    for notch in sorted(notches, key=lambda notch: notch.centre_mm):
        left, right, roof = (
            notch.centre_mm - notch.width_mm / 2,
            notch.centre_mm + notch.width_mm / 2,
            notch.depth_mm - depth_mm,
        )
        underside += [(left, -depth_mm, 0.0), (left, roof, 0.0), (right, roof, 0.0), (right, -depth_mm, 0.0)]
    right_end = _end(end, depth_mm)
    left_end = _end(start, depth_mm)
    up = _placed([(length_mm - back, w) for back, w in right_end], end, length_mm)
    down = _placed([(back, w) for back, w in reversed(left_end)], start, 0.0)
    underside, up = _end_to_end(underside, up)
    down, underside = _end_to_end(down, underside)
    return Outline((*underside, *up, *down))


def _end_to_end(run: list[Vertex], following: list[Vertex]) -> tuple[list[Vertex], list[Vertex]]:
    """Return two runs of corners without the one that both have, and without it at all where the outline
    would turn straight back on itself: a notch that opens at the end of the bar.
    """
    if not (run and following) or math.dist(run[-1][:2], following[0][:2]) > TOUCH_MM:
        return run, following
    back = len(run) > 1 and len(following) > 1 and not following[0][2] and not run[-2][2]
    if back and abs(run[-2][0] - following[0][0]) + abs(following[1][0] - following[0][0]) <= TOUCH_MM:
        return run[:-1], following[1:]
    return run[:-1], following


def _end(cut: EndCut, depth: MM) -> list[tuple[MM, MM]]:
    """Return the corners of an end from underside to top as (distance back from the end face, w)."""
    if cut.kind == "square":
        return [(0.0, -depth), (0.0, 0.0)]
    if cut.kind == "taper":
        return [(cut.length_mm, -depth), (0.0, -cut.height_mm), (0.0, 0.0)]
    radius, height = cut.radius_mm, cut.height_mm
    low, high = height - radius, height + radius
    lower = (
        [(0.0, -depth), (0.0, low)]
        if low > -depth + _TOUCH_MM
        else [(_reach(radius, height + depth), -depth)]
    )
    upper = [(0.0, high), (0.0, 0.0)] if high < -_TOUCH_MM else [(_reach(radius, height), 0.0)]
    return lower + upper


def _reach(radius: MM, height: MM) -> MM:
    """Return half the chord of a circle at a height from its centre; 0 where rounding puts it just off the
    circle.
    """
    return math.sqrt(max(0.0, radius**2 - height**2))


def _placed(corners: list[tuple[MM, MM]], cut: EndCut, end_u: MM) -> list[Vertex]:
    """Return the corners as vertices; the side that follows the arc of a cope gets its bulge."""
    vertices: list[Vertex] = []
    centre = (end_u, cut.height_mm)
    for index, point in enumerate(corners):
        bulge = 0.0
        if cut.kind == "cope" and index + 1 < len(corners):
            following = corners[index + 1]
            if _on_circle(point, centre, cut.radius_mm) and _on_circle(following, centre, cut.radius_mm):
                bulge = bulge_of(point, following, centre, clockwise=True)
        vertices.append((*point, bulge))
    return vertices


def _on_circle(point: tuple[MM, MM], centre: tuple[MM, MM], radius: MM) -> bool:
    return abs(math.hypot(point[0] - centre[0], point[1] - centre[1]) - radius) < 1e-9 * max(1.0, radius)
