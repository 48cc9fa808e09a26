"""What stands still as ink: the end of the carrier's deck, what hangs below it, the obstacles on it, and the
ground of a site: its line and the short strokes below it that say earth.
"""

import math
from dataclasses import replace
from typing import Final

import numpy as np

from rampdraft.drawing.ink import Ink, Path, area, line, polygon, polyline
from rampdraft.geometry.ground_line import GroundLine
from rampdraft.geometry.outline import Outline, Point, rectangle
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD

_GROUP_MM: Final = 9.0
_STROKE_MM: Final = 2.6
_STEP_MM: Final = 1.3
"""On paper: from one group of three strokes to the next, and within it."""


def shown_mm(design: Design) -> MM:
    """Return how much of the deck is drawn; the rest is broken off."""
    carrier = design.carrier
    ramp = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    needed = 1.3 * max(carrier.stow_in_mm, carrier.end_setback_mm, design.bridge.over_deck_mm)
    return min(carrier.deck_length_mm, max(0.08 * ramp, needed))


def outlines(design: Design, top_mm: MM) -> dict[str, Outline]:
    """Return what of the carrier the ramp may meet, by key, with the deck surface at `top_mm`: deck, end,
    obstacles.
    """
    carrier, back = design.carrier, -shown_mm(design)
    floor, bottom = top_mm - carrier.deck_thickness_mm, _bottom_mm(design, top_mm)
    found = {"deck": rectangle(back, floor, 0.0, top_mm)}
    if bottom < floor and -carrier.end_setback_mm > back:
        found["carrier end"] = rectangle(back, bottom, -carrier.end_setback_mm, floor)
    return found | _obstacles(design, top_mm)


def _obstacles(design: Design, top_mm: MM) -> dict[str, Outline]:
    return {
        f"obstacle {obstacle.name}": Outline(tuple((x, top_mm + z, 0.0) for x, z in obstacle.outline_mm))
        for obstacle in design.obstacles
    }


def carrier_marks(
    design: Design, top_mm: MM, per_mm: MM, deck_mm: MM | None = None, nod_rad: RAD = 0.0
) -> tuple[Ink, ...]:
    """Return the floor and the end below it, broken off with a zigzag where the floor runs on, and the
    obstacles; `deck_mm` is how much of the deck to draw, where it is more than is usually shown, `nod_rad` by
    how much it slopes down towards its edge.
    """
    carrier = design.carrier
    back = -shown_mm(design) if deck_mm is None else -min(carrier.deck_length_mm, deck_mm)
    floor, bottom = top_mm - carrier.deck_thickness_mm, _bottom_mm(design, top_mm)
    face = [(back, top_mm), (0.0, top_mm), (0.0, floor)]
    if bottom < floor and -carrier.end_setback_mm > back:
        face += [(-carrier.end_setback_mm, floor), (-carrier.end_setback_mm, bottom), (back, bottom)]
    else:
        bottom = floor
        face += [(back, floor)]
    broken = carrier.deck_length_mm > -back
    jog, middle = (min(1.5 * per_mm, (top_mm - bottom) / 5) if broken else 0.0), (top_mm + bottom) / 2
    edge = [
        (back, middle - jog),
        (back - jog, middle - jog / 2),
        (back + jog, middle + jog / 2),
        (back, middle + jog),
    ]
    whole = polygon(reversed([*face, *(edge if broken else ())]), "thin", "carrier")
    lines = Path(vertices=tuple((x, z, 0.0) for x, z in face), closed=not broken, pen="outline")
    obstacles = (area(shape, "outline", "carrier", key) for key, shape in _obstacles(design, top_mm).items())
    edge_on = (0.0, top_mm)
    return tuple(_turned(one, edge_on, -nod_rad) if nod_rad else one for one in (whole, lines, *obstacles))


def _turned(path: Path, about: Point, angle: RAD) -> Path:
    """Return a path turned about a point."""
    cos, sin = math.cos(angle), math.sin(angle)
    x0, z0 = about
    vertices = tuple(
        (x0 + cos * (x - x0) - sin * (z - z0), z0 + sin * (x - x0) + cos * (z - z0), bulge)
        for x, z, bulge in path.vertices
    )
    return replace(path, vertices=vertices)


def _bottom_mm(design: Design, top_mm: MM) -> MM:
    """Return how far down the end is drawn: not into the ground."""
    return max(top_mm - design.carrier.end_depth_mm, 0.0)


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
