"""A hollow or round bar unrolled: its outside as a flat sheet, for a wrap of paper or a cutter of tube.

The sheet is seen from outside, x along the bar as in its profile, y round it from the seam upward: right
side, top, left side, underside of a bar that lies with its datum end to the left. Flat sides stay as they
are, arcs as arcs; a bend is its outside rolled flat.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

from rampdraft.geometry.members.member import Piece
from rampdraft.geometry.outline import Outline, Point, Vertex, arc_of, bulge_of
from rampdraft.geometry.sections import box_radii_mm
from rampdraft.units import MM, RAD

Side = Literal["right side", "top", "left side", "underside"]

CHORD_MM: Final = 0.01
"""Chords of a bend stay this near to it."""

_TOUCH_MM: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Developed:
    """The outside of a bar, unrolled."""

    outline: Outline
    openings: tuple[Outline, ...]
    """Notches across the side that is away from the seam."""
    sides: tuple[tuple[Side, MM, MM], ...]
    """(side, y0, y1) of the flat sides of a box, the one of the seam twice, half at each edge; of a round,
    each the line along its crown."""
    girth_mm: MM


def bend_lines(sheet: Developed) -> tuple[tuple[Point, Point], ...]:
    """Return the lines along which a bar bends, or its crowns, from end to end of its sheet."""
    ring = (*sheet.outline.points(CHORD_MM), sheet.outline.vertices[0][:2])
    found: list[tuple[Point, Point]] = []
    for y in sorted({edge for _, low, high in sheet.sides for edge in (low, high)}):
        if not 0 < y < sheet.girth_mm:
            continue
        met = [
            x0 + (x1 - x0) * (y - y0) / (y1 - y0)
            for (x0, y0), (x1, y1) in pairwise(ring)
            if y0 != y1 and min(y0, y1) <= y <= max(y0, y1)
        ]
        found.append(((min(met), y), (max(met), y)))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class _Strip:
    """A part of the way round: a flat side, the line along a crown, or a quarter of a bend."""

    side: Side | None
    length_mm: MM
    from_mm: MM
    """The height of the bar where the strip begins."""
    to_mm: MM
    centre_mm: MM = 0.0
    """Of a bend."""

    def height_mm(self, way: MM) -> MM:
        """Return the height of the bar on the way along the strip."""
        if self.side is not None:
            share = way / self.length_mm if self.length_mm else 0.0
            return self.from_mm + share * (self.to_mm - self.from_mm)
        turn: RAD = way / self.length_mm * math.pi / 2
        rise, fall = self.to_mm - self.centre_mm, self.from_mm - self.centre_mm
        return self.centre_mm + rise * math.sin(turn) + fall * math.cos(turn)

    def way_mm(self, height: MM) -> MM:
        """Return the way along the strip to a height between its ends; both of a bend are its centre's or a
        radius from it.
        """
        if self.side is not None:
            return self.length_mm * (height - self.from_mm) / (self.to_mm - self.from_mm)
        radius = abs(self.to_mm - self.from_mm)
        reach = min(1.0, abs(height - self.centre_mm) / radius)
        leaves = self.from_mm == self.centre_mm
        return self.length_mm * (math.asin(reach) if leaves else math.acos(reach)) / (math.pi / 2)


def worth_unrolling(piece: Piece) -> Developed | None:
    """Return a piece unrolled where that says more than its length: coped, tapered or notched."""
    if all(end.kind == "square" for end in piece.ends) and len(piece.profile.outline.vertices) <= 4:
        return None
    return developed(piece)


def developed(piece: Piece) -> Developed | None:
    """Return a piece unrolled; None for one that is flat or sawn from timber, or whose profile is a disc,
    its end.

    Its girth is that of EN 10219-2:2006, annex B, with its outside corner radii: 2 (H + B) - 8 r + 2 pi r.
    """
    if piece.section.kind not in ("box", "tube", "round"):
        return None
    outline = piece.profile.outline
    if len(outline.vertices) == 2:
        return None
    _, y0, _, y1 = outline.box
    notches, notched_top = _notches(outline)
    strips = list(_round_strips(y0, y1) if piece.section.kind != "box" else _box_strips(piece, y0, y1))
    strips = _from_seam(strips, "underside" if notched_top else "top")
    ends = _chain(outline, right=False), _chain(outline, right=True)
    left, right = (tuple(_edge(strips, end)) for end in ends)
    girth = sum(strip.length_mm for strip in strips)
    return Developed(
        outline=Outline(_closed(left, right)),
        openings=tuple(_opening(strips, notch, notched_top) for notch in notches),
        sides=tuple(_sides(strips)),
        girth_mm=girth,
    )


def _box_strips(piece: Piece, y0: MM, y1: MM) -> Iterator[_Strip]:
    radius, _ = box_radii_mm(piece.section)
    low, high, bend = y0 + radius, y1 - radius, radius * math.pi / 2
    flat = piece.section.width_mm - 2 * radius
    yield _Strip("right side", high - low, low, high)
    yield _Strip(None, bend, high, y1, high)
    yield _Strip("top", flat, y1, y1)
    yield _Strip(None, bend, y1, high, high)
    yield _Strip("left side", high - low, high, low)
    yield _Strip(None, bend, low, y0, low)
    yield _Strip("underside", flat, y0, y0)
    yield _Strip(None, bend, y0, low, low)


def _round_strips(y0: MM, y1: MM) -> Iterator[_Strip]:
    middle, bend = (y0 + y1) / 2, (y1 - y0) / 2 * math.pi / 2
    yield _Strip("right side", 0.0, middle, middle)
    yield _Strip(None, bend, middle, y1, middle)
    yield _Strip("top", 0.0, y1, y1)
    yield _Strip(None, bend, y1, middle, middle)
    yield _Strip("left side", 0.0, middle, middle)
    yield _Strip(None, bend, middle, y0, middle)
    yield _Strip("underside", 0.0, y0, y0)
    yield _Strip(None, bend, y0, middle, middle)


def _from_seam(strips: Sequence[_Strip], seam: Side) -> list[_Strip]:
    """Return the strips from the middle of one side round to it again."""
    at = next(index for index, strip in enumerate(strips) if strip.side == seam)
    cut = strips[at]
    half = replace(cut, length_mm=cut.length_mm / 2)
    return [half, *strips[at + 1 :], *strips[:at], half]


def _sides(strips: Sequence[_Strip]) -> Iterator[tuple[Side, MM, MM]]:
    y = 0.0
    for strip in strips:
        if strip.side is not None:
            yield strip.side, y, y + strip.length_mm
        y += strip.length_mm


def _chain(outline: Outline, *, right: bool) -> tuple[Vertex, ...]:
    """Return an end of a profile from underside to top, each corner with the bulge of what leaves it."""
    corners, (_, y0, _, y1) = outline.vertices, outline.box
    pick = max if right else min
    low, high = (
        pick((x, index) for index, (x, y, _) in enumerate(corners) if abs(y - level) <= _TOUCH_MM)[1]
        for level in (y0, y1)
    )
    start, stop = (low, high) if right else (high, low)
    count = (stop - start) % len(corners)
    walked = [corners[(start + step) % len(corners)] for step in range(count + 1)]
    if right:
        return (*walked[:-1], (*walked[-1][:2], 0.0))
    return _backwards(walked)


def _backwards(walked: Sequence[Vertex]) -> tuple[Vertex, ...]:
    """Return open lines and arcs from their other end."""
    turned = [(*after[:2], -before[2]) for before, after in pairwise(walked)][::-1]
    return (*turned, (*walked[0][:2], 0.0))


def _edge(strips: Sequence[_Strip], end: Sequence[Vertex]) -> Iterator[Vertex]:
    """Yield an end of the bar round the girth, from y = 0 up."""
    start = 0.0
    for strip in strips:
        low, high = sorted((strip.from_mm, strip.to_mm))
        if strip.side is None:
            for x, way in _followed(strip, end):
                yield x, start + way, 0.0
        elif low < high:
            part = _between(end, low, high)
            if strip.from_mm < strip.to_mm:
                yield from ((x, start + y - low, bulge) for x, y, bulge in part)
            else:
                yield from ((x, start + high - y, -bulge) for x, y, bulge in _backwards(part))
        else:
            for way in (0.0, strip.length_mm):
                yield _x_at(end, low), start + way, 0.0
        start += strip.length_mm


def _followed(strip: _Strip, end: Sequence[Vertex]) -> list[Point]:
    """Return (x, way) along a bend, as close as chords must be, corners of the end among them."""
    low, high = sorted((strip.from_mm, strip.to_mm))
    kinks = {strip.way_mm(y) for _, y, _ in end if low < y < high}
    ways = sorted({*kinks, *(strip.length_mm * step / 8 for step in range(9))})
    open_ends = [(_x_at(end, strip.height_mm(way)), way) for way in reversed(ways)]
    found = [open_ends.pop()]
    while open_ends:
        (x0, way), (x1, further) = found[-1], open_ends[-1]
        middle = (way + further) / 2
        x = _x_at(end, strip.height_mm(middle))
        aside = abs((x1 - x0) * (middle - way) - (x - x0) * (further - way))
        if aside > CHORD_MM * math.hypot(x1 - x0, further - way) and further - way > CHORD_MM:
            open_ends.append((x, middle))
        else:
            found.append(open_ends.pop())
    return found


def _between(end: Sequence[Vertex], low: MM, high: MM) -> tuple[Vertex, ...]:
    """Return what of an end lies between two heights, cut exactly."""
    found: list[Vertex] = []
    last = (_x_at(end, high), high)
    for start, stop in pairwise(end):
        if stop[1] <= low or start[1] >= high:
            continue
        a = (start[0], start[1]) if start[1] >= low else (_x_on(start, stop, low), low)
        b = (stop[0], stop[1]) if stop[1] <= high else (_x_on(start, stop, high), high)
        bulge = start[2]
        if bulge:
            centre, *_ = arc_of((start[0], start[1]), (stop[0], stop[1]), bulge)
            bulge = bulge_of(a, b, centre, clockwise=bulge < 0)
        found.append((*a, bulge))
        last = b
    return (*found, (*last, 0.0))


def _x_at(end: Sequence[Vertex], height: MM) -> MM:
    """Return where an end is at a height."""
    for start, stop in pairwise(end):
        if start[1] <= height <= stop[1]:
            return _x_on(start, stop, height)
    return end[0][0] if height < end[0][1] else end[-1][0]


def _x_on(start: Vertex, stop: Vertex, height: MM) -> MM:
    """Return where a line or an arc of less than half a turn is at a height that it passes."""
    rise = stop[1] - start[1]
    if not start[2]:
        return start[0] + (stop[0] - start[0]) * (height - start[1]) / rise if rise else stop[0]
    (x, y), radius, *_ = arc_of((start[0], start[1]), (stop[0], stop[1]), start[2])
    reach = math.sqrt(max(0.0, radius**2 - (height - y) ** 2))
    return x + math.copysign(reach, (start[0] + stop[0]) / 2 - x or -start[2])


def _notches(outline: Outline) -> tuple[tuple[tuple[Point, ...], ...], bool]:
    """Return the notches of a profile, each as corners from the edge and back to it, and whether they are cut
    from the top.
    """
    _, y0, _, y1 = outline.box
    for level, top in ((y0, False), (y1, True)):
        corners = outline.vertices
        on = [index for index, (_, y, _) in enumerate(corners) if abs(y - level) <= _TOUCH_MM]
        first, last = (pick(on, key=lambda index: corners[index][0]) for pick in (min, max))
        start, stop = (last, first) if top else (first, last)
        count = (stop - start) % len(corners)
        walked = [corners[(start + step) % len(corners)][:2] for step in range(count + 1)]
        found: list[tuple[Point, ...]] = []
        run: list[Point] = []
        for before, point in pairwise(walked):
            off = abs(point[1] - level) > _TOUCH_MM
            if off and not run:
                run = [before]
            if run:
                run.append(point)
            if run and not off:
                found.append(tuple(run))
                run = []
        if found:
            return tuple(found), top
    return (), False


def _opening(strips: Sequence[_Strip], notch: Sequence[Point], top: bool) -> Outline:
    """Return what a notch opens of the unrolled bar: across one side, and down or up both beside it."""
    lowest, highest = (pick(y for _, y in notch) for pick in (min, max))
    floor = lowest if top else highest
    left, right = (pick(x for x, _ in notch) for pick in (min, max))
    places = sorted(_girth_at(strips, floor))
    low, high = places[0], places[-1]
    return Outline(((left, low, 0.0), (right, low, 0.0), (right, high, 0.0), (left, high, 0.0)))


def _girth_at(strips: Sequence[_Strip], height: MM) -> Iterator[MM]:
    """Yield the places round the bar that are at a height."""
    start = 0.0
    for strip in strips:
        if strip.from_mm != strip.to_mm and (strip.from_mm - height) * (strip.to_mm - height) <= 0:
            yield start + strip.way_mm(height)
        start += strip.length_mm


def _closed(left: Sequence[Vertex], right: Sequence[Vertex]) -> tuple[Vertex, ...]:
    """Return both ends, each from y = 0 up, as one outline counter-clockwise, without corners that lie in
    one another or on a straight line.
    """
    corners = [*right, *_backwards(left)]
    kept: list[Vertex] = []
    for corner in corners:
        if kept and math.dist(kept[-1][:2], corner[:2]) <= _TOUCH_MM:
            kept[-1] = (*kept[-1][:2], corner[2])
        else:
            kept.append(corner)
    return tuple(
        corner
        for before, corner, after in zip((kept[-1], *kept[:-1]), kept, (*kept[1:], kept[0]), strict=True)
        if before[2] or corner[2] or not _straight(before, corner, after)
    )


def _straight(a: Vertex, b: Vertex, c: Vertex) -> bool:
    return abs((b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])) <= _TOUCH_MM
