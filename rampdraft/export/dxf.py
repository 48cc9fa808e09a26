"""Profiles as DXF for the cutter: true size in mm, closed outlines, arcs as arcs, holes as circles.

Layers: CUT_OUTLINE and CUT_HOLES are what is cut, and nothing else lies on them; MARKING has the lines to
scribe on the piece; NOTES has what is only to be read. No edge is drawn twice: `dxf_audit` looks before a
profile is written. A bar that is coped, tapered or notched has a second drawing, its outside unrolled, for
cutters of tube. The format is that of the open
DXF reference, version AC1024, where bulge = tan(angle / 4); $INSUNITS = 4 says mm and $MEASUREMENT = 1
metric.
"""

# ezdxf's own types are partly open, and its front door re-exports what it does not declare.
# pyright: reportUnknownMemberType=false, reportPrivateImportUsage=false

import io
import re
from collections.abc import Generator, Sequence
from contextlib import contextmanager
from typing import Final

import ezdxf
from ezdxf.document import Drawing
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.layout import Modelspace

from rampdraft.checks.notes import CAUTIONS
from rampdraft.errors import ExportError, Problem
from rampdraft.export.dxf_audit import faults
from rampdraft.geometry.developed import Developed, bend_lines
from rampdraft.geometry.outline import Hole, Outline, Profile
from rampdraft.shop.parts import Part, full_number
from rampdraft.units import MM
from rampdraft.words.figures import figure
from rampdraft.words.say import called, say

OUTLINE: Final = "CUT_OUTLINE"
HOLES: Final = "CUT_HOLES"
MARKING: Final = "MARKING"
NOTES: Final = "NOTES"

_LAYERS: Final = ((OUTLINE, 7, 35), (HOLES, 1, 35), (MARKING, 3, 18), (NOTES, 8, 18))
"""Name, colour index, line weight in 0.01 mm."""

TEXT_MM: Final = 5.0
_LINE_MM: Final = 1.6 * TEXT_MM
_GAP_MM: Final = 3 * TEXT_MM
"""Between a piece and its text, and between the places of the sheet."""

_LETTER: Final = 1.05
"""Widest advance of a letter over the height of the text, so that places on the sheet are wide enough for any
font.
"""

_SHEET_MM: Final = 3000.0
"""Places stand beside each other up to this width."""


@contextmanager
def same_bytes_each_time() -> Generator[None]:
    """Have ezdxf write a fixed date and fixed identifiers, so that a profile that did not change is the same
    file.
    """
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


@same_bytes_each_time()
def part_dxf(part: Part, drawing_number: str = "", revision: str = "") -> bytes:
    """Return one piece of `part` as a DXF document, its profile where it lies in its own frame. Equal parts,
    equal bytes.

    Raises ExportError where a cutter could not follow it.
    """
    doc = new_document(revision)
    _draw(doc.modelspace(), part, drawing_number, 0.0, 0.0)
    x0, y0, x1, y1 = part.piece.profile.outline.box
    _audited(doc.modelspace(), part, (x1 - x0, y1 - y0))
    left, low, right, high = place_mm(part, drawing_number)
    if revision:
        low -= _LINE_MM
        _text(doc.modelspace(), marked(revision), (left + TEXT_MM, low))
    return written(doc, (left, low, right, high))


def is_worth_cutting(part: Part) -> bool:
    """Return whether a machine saves work on a part: plates, and whatever is more than a bar sawn square."""
    piece = part.piece
    return (
        piece.section.kind == "flat"
        or len(piece.profile.outline.vertices) != 4
        or bool(piece.profile.holes)
        or any(end.kind != "square" for end in piece.ends)
    )


@same_bytes_each_time()
def unrolled_dxf(part: Part, sheet: Developed, drawing_number: str = "", revision: str = "") -> bytes:
    """Return the outside of a part, unrolled, as a DXF document; bends and marks are lines to scribe.

    Raises ExportError where a cutter could not follow it.
    """
    doc = new_document(revision)
    space = doc.modelspace()
    space.add_lwpolyline(sheet.outline.vertices, format="xyb", close=True, dxfattribs={"layer": OUTLINE})
    for opening in sheet.openings:
        space.add_lwpolyline(opening.vertices, format="xyb", close=True, dxfattribs={"layer": HOLES})
    x0, y0, x1, y1 = sheet.outline.box
    _audited(space, part, (x1 - x0, sheet.girth_mm))
    for start, end in bend_lines(sheet):
        space.add_line(start, end, dxfattribs={"layer": MARKING})
    for side, low, high in sheet.sides:
        _text(space, say(side), (x0 + 0.5 * (x1 - x0), (low + high - TEXT_MM) / 2))
    notes = (
        *_head(part, drawing_number),
        say(
            "outside unrolled, girth {girth}, seam in the middle of the {side}",
            girth=figure(sheet.girth_mm, "mm", 2),
            side=say(sheet.sides[0][0]),
        ),
        *((marked(revision),) if revision else ()),
    )
    _lines(space, notes, x0, y1 + _GAP_MM + (len(notes) - 1) * _LINE_MM)
    top = y1 + _GAP_MM + len(notes) * _LINE_MM
    return written(doc, (x0 - TEXT_MM, y0 - TEXT_MM, x1 + TEXT_MM, top))


def _audited(space: Modelspace, part: Part, box_mm: tuple[MM, MM]) -> None:
    found = faults(space, OUTLINE, HOLES, box_mm)
    if found:
        problem = Problem(
            key=say("profile of {part}", part=part.number),
            value="; ".join(found),
            rule=say("cannot be cut as it is drawn"),
            way_out=say("change the dimensions of its ends or holes"),
        )
        raise ExportError(
            say("The profile of {number}, {name}, cannot be cut.", number=part.number, name=part.words),
            (problem,),
        )


@same_bytes_each_time()
def sheet_dxf(parts: Sequence[Part], drawing_number: str = "", revision: str = "") -> bytes:
    """Return one DXF document with a piece of every part, in rows that do not overlap, and the cautions
    below.
    """
    doc = new_document(revision)
    space = doc.modelspace()
    x = top = row_height = 0.0
    for part in parts:
        left, low, right, high = place_mm(part, drawing_number)
        width, height = right - left, high - low
        if x > 0 and x + width > _SHEET_MM:
            x, top, row_height = 0.0, top - row_height - _GAP_MM, 0.0
        _draw(space, part, drawing_number, x - left, top - high)
        x, row_height = x + width + _GAP_MM, max(row_height, height)
    low = top - row_height - 2 * _GAP_MM
    cautions = tuple(map(say, CAUTIONS))
    below = (*cautions, marked(revision)) if revision else cautions
    _lines(space, below, 0.0, low)
    return written(doc, (0.0, low - len(below) * _LINE_MM, _SHEET_MM, 0.0))


def marked(revision: str) -> str:
    """Return the mark of a pack as it is written on its sheets."""
    return say("revision {mark}", mark=revision)


def place_mm(part: Part, drawing_number: str = "") -> tuple[MM, MM, MM, MM]:
    """Return (x0, y0, x1, y1) of a piece with all its text, in the piece's own frame."""
    x0, y0, x1, y1 = part.piece.profile.outline.box
    head = _head(part, drawing_number)
    widest = max(len(line) for line in head) * TEXT_MM * _LETTER
    below = max((len(text) for _, text in _stations(part)), default=0) * TEXT_MM * _LETTER
    return (
        x0 - TEXT_MM,
        y0 - _GAP_MM - below,
        max(x1, x0 + widest) + TEXT_MM,
        y1 + _GAP_MM + len(head) * _LINE_MM,
    )


def _draw(space: Modelspace, part: Part, drawing_number: str, dx: MM, dy: MM) -> None:
    profile = _moved(part.piece.profile, dx, dy)
    _cut(space, profile)
    x0, y0, _, y1 = part.piece.profile.outline.box
    holes = part.piece.profile.holes
    for at, text in _stations(part):
        x = x0 + at + dx
        _text(
            space, text, (x + TEXT_MM / 2, y0 + dy - _GAP_MM), angle_deg=90, align=TextEntityAlignment.RIGHT
        )
        if 0 < at < part.piece.length_mm and not any(abs(hole.x_mm - x0 - at) < 0.1 for hole in holes):
            space.add_line((x, y0 + dy), (x, y1 + dy), dxfattribs={"layer": MARKING})
    head = _head(part, drawing_number)
    _lines(space, head, x0 + dx, y1 + dy + _GAP_MM + (len(head) - 1) * _LINE_MM)


def _cut(space: Modelspace, profile: Profile) -> None:
    circle = _full_circle(profile.outline)
    if circle is not None:
        x, y, radius = circle
        space.add_circle((x, y), radius, dxfattribs={"layer": OUTLINE})
    else:
        space.add_lwpolyline(
            profile.outline.vertices, format="xyb", close=True, dxfattribs={"layer": OUTLINE}
        )
    for hole in profile.holes:
        space.add_circle((hole.x_mm, hole.y_mm), hole.diameter_mm / 2, dxfattribs={"layer": HOLES})


def _full_circle(outline: Outline) -> tuple[MM, MM, MM] | None:
    """Return (x, y, radius) of an outline of two half circles, which a cutter follows better as one
    circle.
    """
    if len(outline.vertices) != 2 or any(bulge != 1 for _, _, bulge in outline.vertices):
        return None
    (x0, y0, _), (x1, y1, _) = outline.vertices
    return (x0 + x1) / 2, (y0 + y1) / 2, ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5 / 2


def _moved(profile: Profile, dx: MM, dy: MM) -> Profile:
    if dx == dy == 0:
        return profile
    vertices = tuple((x + dx, y + dy, bulge) for x, y, bulge in profile.outline.vertices)
    holes = tuple(Hole(hole.x_mm + dx, hole.y_mm + dy, hole.diameter_mm) for hole in profile.holes)
    return Profile(Outline(vertices), holes)


def _head(part: Part, drawing_number: str) -> tuple[str, ...]:
    piece = part.piece
    lines = [
        say(
            "{number}  {name}  {quantity} off",
            number=full_number(part, drawing_number),
            name=part.with_hand,
            quantity=part.quantity,
        ),
        say(
            "{section}, {material}, length {length}",
            section=called(piece.section.text),
            material=called(piece.material),
            length=figure(piece.length_mm, "mm", 2),
        ),
    ]
    if any(end.kind != "square" for end in piece.ends):
        lines.append(
            say("left end: {left}, right end: {right}", left=piece.ends[0].text, right=piece.ends[1].text)
        )
    if not _lies_along(part):
        lines += [mark.what for mark in piece.marks]
    return tuple(lines)


def _stations(part: Part) -> tuple[tuple[MM, str], ...]:
    """Return the running dimensions from the datum end, each with what is there; the ends are stations as
    well.
    """
    if not _lies_along(part):
        return ()
    length = part.piece.length_mm
    inner = [
        (mark.at_mm, f"{figure(mark.at_mm, '', 2)} {mark.what}")
        for mark in part.piece.marks
        if 0 < mark.at_mm < length
    ]
    return (0.0, "0"), *inner, (length, figure(length, "", 2))


def _lies_along(part: Part) -> bool:
    """Return whether the profile shows the piece along its length; a knuckle's shows its end."""
    x0, _, x1, _ = part.piece.profile.outline.box
    return abs(x1 - x0 - part.piece.length_mm) < 0.1


def _lines(space: Modelspace, lines: Sequence[str], x: MM, y: MM) -> None:
    for number, line in enumerate(lines):
        _text(space, line, (x, y - number * _LINE_MM))


def _text(
    space: Modelspace,
    text: str,
    at: tuple[MM, MM],
    *,
    angle_deg: float = 0.0,
    align: TextEntityAlignment = TextEntityAlignment.LEFT,
) -> None:
    made = space.add_text(plain(text), height=TEXT_MM, rotation=angle_deg, dxfattribs={"layer": NOTES})
    made.set_placement(at, align=align)


def plain(text: str) -> str:
    """Return text without what a DXF reader takes for a command: `%%` and `^` codes, line ends, control
    characters.

    The diameter sign is written out, since the plain fonts of cutters lack the letter.
    """
    seen = "".join(letter if letter.isprintable() else " " for letter in text)
    seen = re.sub("%(?=%)", "% ", seen)
    return seen.replace("^", "^ ").replace("Ø", say("dia ")).replace("−", "-").rstrip()


def new_document(revision: str) -> Drawing:
    """Return an empty document in mm with the cautions in its header."""
    doc = ezdxf.new("R2010", units=4)
    for number, caution in enumerate(CAUTIONS, start=1):
        doc.header.custom_vars.append(f"Caution {number}", say(caution))
    if revision:
        doc.header.custom_vars.append("Revision", revision)
    return doc


def written(
    doc: Drawing, shown_mm: tuple[MM, MM, MM, MM], layers: Sequence[tuple[str, int, int]] = _LAYERS
) -> bytes:
    """Return the document as bytes; opened, it shows the box `shown_mm` = (x0, y0, x1, y1). `layers` are
    name, colour index, line weight in 0.01 mm; those that nothing lies on are left out.
    """
    used = {entity.dxf.layer for entity in doc.modelspace()}
    for name, colour, weight in layers:
        if name in used:
            doc.layers.add(name, color=colour, lineweight=weight)
    x0, y0, x1, y1 = shown_mm
    doc.modelspace().reset_extents((x0, y0, 0), (x1, y1, 0))
    doc.set_modelspace_vport(height=max(y1 - y0, (x1 - x0) / 2), center=((x0 + x1) / 2, (y0 + y1) / 2))
    stream = io.StringIO()
    doc.write(stream)
    return doc.encode(stream.getvalue())
