"""The drawing of a part: its true profile with dimensions, and its ends enlarged where they are coped or
tapered.
"""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.drawing import dimension
from rampdraft.drawing.callouts import Callout, called_within
from rampdraft.drawing.clearing import cleared
from rampdraft.drawing.ink import Fill, Ink, Label, Path, Picture, area, line, polyline
from rampdraft.drawing.letters import words_mm
from rampdraft.drawing.text import mm_text
from rampdraft.geometry.members.member import EndCut, Piece
from rampdraft.geometry.outline import Outline, Point, Vertex, disc
from rampdraft.shop.parts import Part
from rampdraft.units import MM
from rampdraft.words.say import say

PART_MM: Final = (86.0, 40.0)
"""Room for the profile of a part, on paper."""
END_MM: Final = (52.0, 46.0)
"""Room for an end of it, enlarged."""
_SLANT: Final = 0.7071
"""Sine and cosine of the slant of a leader."""


def part_view(part: Part, *, per_mm: MM | None = None) -> Picture:
    """Return the profile with overall sizes, holes, and running dimensions of its marks from the datum
    end.
    """
    piece = part.piece
    x0, y0, x1, y1 = piece.profile.outline.box
    per_mm = per_mm or max(x1 - x0, 3 * (y1 - y0)) / 120
    marks: list[Ink] = [area(piece.profile.outline, "outline", fill_of(piece))]
    for hole in piece.profile.holes:
        marks.append(area(disc(hole.x_mm, hole.y_mm, hole.diameter_mm), "outline", "paper"))
        marks.extend(dimension.centre_mark((hole.x_mm, hole.y_mm), hole.diameter_mm / 2 + per_mm))
    if len(piece.profile.outline.vertices) == 2:  # a round
        marks.extend(_round_sizes(piece, per_mm))
        box = _grown((x0, y0, x1, y1), per_mm, 3, 8, 17, 8)
        return cleared(Picture(marks=tuple(marks), box=box, title=part.number), per_mm)
    low = y0 - 7 * per_mm
    marks.extend(dimension.level((x0, y0), (x1, y0), _size(x1 - x0), at=low, per_mm=per_mm))
    depth_at = x1 + 7 * per_mm
    marks.extend(dimension.upright((x1, y0), (x1, y1), _size(y1 - y0), at=depth_at, per_mm=per_mm))
    above = 1.5 + (dimension.upright_reach(y0, y1, _size(y1 - y0), per_mm) - y1) / per_mm
    if piece.marks:
        above = 18.0
        places = tuple(((mark.at_mm, y1), _size(mark.at_mm)) for mark in piece.marks)
        marks.extend(dimension.running((x0, y1), places, at=y1 + 4 * per_mm, per_mm=per_mm))
        if not piece.profile.holes:
            reach = 1.5 * per_mm
            marks.extend(
                line((mark.at_mm, y0 - reach), (mark.at_mm, y1 + reach), "centre") for mark in piece.marks
            )
    beside = 2.0
    if piece.profile.holes:
        note = _hole_note(piece, (x1, y0), per_mm)
        marks.append(note)
        beside = max(beside, words_mm(note.text, note.size_pt) - (x1 - x0) / per_mm + 1.0)
    box = _grown((x0, y0, x1, y1), per_mm, beside, above, 12, 13 if piece.profile.holes else 9)
    return cleared(Picture(marks=tuple(marks), box=box, title=part.number), per_mm)


def end_view(part: Part, which: int, *, per_mm: MM) -> Picture:
    """Return one end enlarged (0 the datum end, 1 the other), broken off behind the cut, with the cut
    dimensioned.
    """
    piece, cut = part.piece, part.piece.ends[which]
    x0, y0, x1, y1 = piece.profile.outline.box
    shown = 0.9 * (y1 - y0) + max(cut.length_mm, cut.radius_mm)
    edge = x0 + shown if which == 0 else x1 - shown
    kept = _cut_off(piece.profile.outline, edge, keep_left=which == 0)
    end_x, inward = (x0, 1.0) if which == 0 else (x1, -1.0)
    marks = (
        area(kept, "ghost", fill_of(piece)),
        _open_at(kept, edge),
        _break(edge, y0, y1, per_mm),
        *_cut_sizes(cut, end_x, inward, y0, y1, per_mm),
    )
    shown = (min(edge, end_x), y0, max(edge, end_x), y1)
    box = _grown(shown, per_mm, 13, 8, 13, 10)
    picture = cleared(Picture(marks=marks, box=box, title=cut.text), per_mm)
    return called_within(picture, tuple(_radius(cut, end_x, inward, y0, y1)), per_mm)


def _size(value_mm: MM) -> str:
    return mm_text(value_mm, 2)


def fill_of(piece: Piece) -> Fill:
    """Return how the area of a part looks on its drawing."""
    return "timber" if piece.section.kind == "timber" else "inner"


def _cut_sizes(cut: EndCut, end_x: MM, inward: float, y0: MM, y1: MM, per_mm: MM) -> Iterator[Ink]:
    if cut.kind == "square":
        return
    if cut.kind == "taper":
        tip, heel = (end_x, y1 - cut.height_mm), (end_x + inward * cut.length_mm, y0)
        beside = end_x - inward * 7 * per_mm
        yield from dimension.level(tip, heel, _size(cut.length_mm), at=y0 - 6 * per_mm, per_mm=per_mm)
        yield from dimension.upright((end_x, y1), tip, _size(cut.height_mm), at=beside, per_mm=per_mm)
        return
    corner, centre = (end_x, y1), (end_x, y1 + cut.height_mm)
    yield from dimension.centre_mark(centre, 3 * per_mm)
    if cut.height_mm:
        beside, height = end_x - inward * 8 * per_mm, _size(abs(cut.height_mm))
        yield from dimension.upright(corner, centre, height, at=beside, per_mm=per_mm)
    if cut.length_mm:
        top, over = (end_x + inward * cut.length_mm, y1), y1 + 6 * per_mm
        yield from dimension.level(corner, top, _size(cut.length_mm), at=over, per_mm=per_mm)


def _radius(cut: EndCut, end_x: MM, inward: float, y0: MM, y1: MM) -> Iterator[Callout]:
    """Yield the radius of a cope, which may point at several places of its arc."""
    if cut.kind != "cope":
        return
    centre = (end_x, y1 + cut.height_mm)
    low, high = (math.asin(max(-1.0, min(1.0, (y - centre[1]) / cut.radius_mm))) for y in (y0, y1))
    angles = [low + (high - low) * share for share in _SHARES]
    first, *others = (
        (centre[0] + inward * cut.radius_mm * math.cos(angle), centre[1] + cut.radius_mm * math.sin(angle))
        for angle in angles
    )
    yield Callout(kind="size", text=f"R {_size(cut.radius_mm)}", tip=first, or_at=tuple(others))


_SHARES: Final = (0.25, 0.5, 0.75)
"""Of an arc, where its radius may be written to."""


def _cut_off(outline: Outline, edge: MM, *, keep_left: bool) -> Outline:
    """Return the part of an outline on one side of x = edge, which crosses only its straight sides."""
    sign = 1.0 if keep_left else -1.0
    kept: list[Vertex] = []
    vertices = outline.vertices
    for index, (x, y, bulge) in enumerate(vertices):
        nx, ny, _ = vertices[(index + 1) % len(vertices)]
        inside, stays = sign * (edge - x) >= 0, sign * (edge - nx) >= 0
        if inside:
            kept.append((x, y, bulge if stays else 0.0))
        if inside != stays:
            kept.append((edge, y + (ny - y) * (edge - x) / (nx - x), 0.0))
    return Outline(tuple(kept))


def _open_at(outline: Outline, edge: MM) -> Path:
    """Return the outline as a line that is open along x = edge, where the view is broken off."""
    vertices = outline.vertices
    for index, (x, _, _) in enumerate(vertices):
        following = (index + 1) % len(vertices)
        if x == edge and vertices[following][0] == edge:
            return Path(vertices=(*vertices[following:], *vertices[:following]), closed=False, pen="outline")
    return Path(vertices=vertices, closed=True, pen="outline")


def _break(x: MM, y0: MM, y1: MM, per_mm: MM) -> Path:
    """Return the zigzag that says: goes on from here."""
    jog, middle, past = 1.2 * per_mm, (y0 + y1) / 2, 1.5 * per_mm
    zigzag = ((x - jog, middle - jog / 2), (x + jog, middle + jog / 2))
    return polyline(((x, y0 - past), (x, middle - jog), *zigzag, (x, middle + jog), (x, y1 + past)), "thin")


def _round_sizes(piece: Piece, per_mm: MM) -> Iterator[Ink]:
    """Yield outside and bore of a round seen from its end."""
    x0, _, x1, y1 = piece.profile.outline.box
    radius, (x, y) = (x1 - x0) / 2, ((x0 + x1) / 2, y1 - (x1 - x0) / 2)
    out = radius * _SLANT
    yield from dimension.centre_mark((x, y), radius + 2 * per_mm)
    rim, to = (x + out, y + out), (x + out + 5 * per_mm, y + out + 5 * per_mm)
    yield from dimension.leader(rim, to, f"Ø {_size(2 * radius)}", per_mm=per_mm)
    for hole in piece.profile.holes:
        inner = hole.diameter_mm / 2 * _SLANT
        bore, to = (x + inner, y - inner), (x + out + 5 * per_mm, y - out - 5 * per_mm)
        yield from dimension.leader(bore, to, f"Ø {_size(hole.diameter_mm)}", per_mm=per_mm)


def _hole_note(piece: Piece, corner: Point, per_mm: MM) -> Label:
    """Return how many holes there are, how large, and how far up from the lower edge."""
    _, y0, _, y1 = piece.profile.outline.box
    notes: list[str] = []
    for size in sorted({hole.diameter_mm for hole in piece.profile.holes}):
        holes = [hole for hole in piece.profile.holes if hole.diameter_mm == size]
        rows = sorted({hole.y_mm - y0 for hole in holes})
        middle = len(rows) == 1 and abs(2 * rows[0] - (y1 - y0)) < 1e-6
        where = (
            say("on the centre line")
            if middle
            else say("{heights} from the lower edge", heights=say(" and ").join(map(_size, rows)))
        )
        notes.append(f"{len(holes)} × Ø {_size(size)}, {where}")
    return Label(text="; ".join(notes), at=(corner[0], corner[1] - 11.5 * per_mm), anchor="right")


def _grown(
    box: tuple[MM, MM, MM, MM], per_mm: MM, left: float, top: float, right: float, bottom: float
) -> tuple[MM, MM, MM, MM]:
    return box[0] - left * per_mm, box[1] - bottom * per_mm, box[2] + right * per_mm, box[3] + top * per_mm
