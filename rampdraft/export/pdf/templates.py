"""Templates at 1 : 1 on A4, over as many sheets as each needs, with register marks where sheets are joined
and a ruler on both axes to see whether the printer kept the size.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Final

from rampdraft.checks.notes import CAUTIONS
from rampdraft.drawing.ink import Ink, Label, Path, Picture, line
from rampdraft.drawing.sheet import LANDSCAPE_MM, Placed
from rampdraft.drawing.style import INK, QUIET
from rampdraft.drawing.templates import Template, templates
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import Imprint, Plain, bound
from rampdraft.export.pdf.drawings import imprint_of
from rampdraft.export.pdf.paper import Paper, shortened, wrapped
from rampdraft.geometry.outline import Point
from rampdraft.units import MM
from rampdraft.words.say import say

LEFT_MM: Final = 20.0
BOTTOM_MM: Final = 20.0
WIDE_MM: Final = LANDSCAPE_MM[0] - LEFT_MM - 10.0
TALL_MM: Final = LANDSCAPE_MM[1] - BOTTOM_MM - 10.0
"""Room for templates and their words on a sheet."""

RULER_MM: Final = 100.0
RULER_AT_MM: Final = (LEFT_MM, 12.0)
"""Where both rulers begin: the level one here, the upright one as far from the left as this from below."""

LAP_MM: Final = 10.0
"""What two sheets of a template have in common."""

_WORDS_MM: Final = 14.0
"""Above each tile: title, use, which sheet of how many."""
_CROSS_MM: Final = 3.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Tile:
    """A part of a template that goes on one sheet."""

    template: Template
    picture: Picture
    """Its box is what of the template the tile shows."""
    number: int
    of: int


def templates_pdf(evaluation: Evaluation, *, date: str, revision: str = "") -> bytes:
    """Return the templates of a design: equal bytes for an equal evaluation, date and revision."""
    sheets = list(_sheets([tile for one in templates(evaluation) for tile in tiles(one)]))
    imprint = imprint_of(evaluation, date, revision)
    parts = [
        Plain(size_mm=LANDSCAPE_MM, ops=[partial(_sheet, sheet, imprint, number, len(sheets))])
        for number, sheet in enumerate(sheets, start=1)
    ]
    return bound(parts, replace(imprint, title=say("{name}: templates", name=imprint.title)))


def _sheet(
    sheet: Sequence[tuple[Tile, Point]], imprint: Imprint, number: int, count: int, paper: Paper
) -> None:
    mark = say("revision {mark}", mark=imprint.revision)
    foot = ", ".join((imprint.title, imprint.number, imprint.date, mark))
    paper.text((LEFT_MM, 4.5), shortened(foot, 150.0, 7.0), 7.0, colour=QUIET)
    right = (LANDSCAPE_MM[0] - 10.0, 4.5)
    paper.text(
        right, say("sheet {number} of {count}", number=number, count=count), 7.0, colour=QUIET, anchor="right"
    )
    _rulers(paper)
    for tile, at in sheet:
        _tile(paper, tile, at)


def tiles(template: Template) -> tuple[Tile, ...]:
    """Return a template cut into tiles, laid the way that takes the fewest."""
    return min((_cut(template, turn) for turn in (False, True)), key=len)


def _cut(template: Template, turn: bool) -> tuple[Tile, ...]:
    picture = _turned(template.picture) if turn else template.picture
    x0, y0, x1, y1 = picture.box
    room = TALL_MM - _WORDS_MM
    columns, rows = _count(x1 - x0, WIDE_MM), _count(y1 - y0, room)
    marks = (*picture.marks, *_register(picture, columns, rows))
    found = [
        (
            x0 + column * (WIDE_MM - LAP_MM),
            max(y0, y1 - row * (room - LAP_MM) - room),
            min(x1, x0 + column * (WIDE_MM - LAP_MM) + WIDE_MM),
            y1 - row * (room - LAP_MM),
        )
        for row in range(rows)
        for column in range(columns)
    ]
    return tuple(
        Tile(template=template, picture=replace(picture, marks=marks, box=box), number=number, of=len(found))
        for number, box in enumerate(found, start=1)
    )


def _count(length: MM, room: MM) -> int:
    """Return how many tiles a length takes."""
    return max(1, math.ceil((length - LAP_MM) / (room - LAP_MM) - 1e-9))


def _register(picture: Picture, columns: int, rows: int) -> Iterator[Ink]:
    """Yield crosses in the middle of each lap, two a seam, with the seam's letter."""
    x0, y0, x1, y1 = picture.box
    room = TALL_MM - _WORDS_MM
    seams: list[tuple[Point, Point]] = []
    for column in range(1, columns):
        x = x0 + column * (WIDE_MM - LAP_MM) + LAP_MM / 2
        seams.append(((x, y0 + 0.2 * (y1 - y0)), (x, y0 + 0.8 * (y1 - y0))))
    for row in range(1, rows):
        y = y1 - row * (room - LAP_MM) - LAP_MM / 2
        seams.append(((x0 + 0.2 * (x1 - x0), y), (x0 + 0.8 * (x1 - x0), y)))
    for number, ends in enumerate(seams):
        for x, y in ends:
            yield line((x - _CROSS_MM, y), (x + _CROSS_MM, y), "accent")
            yield line((x, y - _CROSS_MM), (x, y + _CROSS_MM), "accent")
            yield Label(text=chr(ord("A") + number % 26), at=(x + 1.0, y + 1.0), pen="accent", size_pt=7.0)


def _turned(picture: Picture) -> Picture:
    """Return a picture turned a quarter, counter-clockwise."""
    x0, y0, x1, y1 = picture.box

    def turned(mark: Ink) -> Ink:
        if isinstance(mark, Path):
            return replace(mark, vertices=tuple((-y, x, bulge) for x, y, bulge in mark.vertices))
        return replace(mark, at=(-mark.at[1], mark.at[0]), angle_deg=mark.angle_deg + 90.0)

    return replace(picture, marks=tuple(map(turned, picture.marks)), box=(-y1, x0, -y0, x1))


def _sheets(found: Sequence[Tile]) -> Iterator[list[tuple[Tile, Point]]]:
    """Yield sheets of tiles with their upper left corners, one under the other or side by side while there is
    room.
    """
    sheet: list[tuple[Tile, Point]] = []
    x = low = 0.0
    top = TALL_MM
    for tile in found:
        x0, y0, x1, y1 = tile.picture.box
        wide, tall = max(x1 - x0, 120.0), y1 - y0 + _WORDS_MM
        if x + wide > WIDE_MM + 1e-6:
            x, top = 0.0, low
        if top - tall < -1e-6:
            yield sheet
            sheet, x, top, low = [], 0.0, TALL_MM, TALL_MM
        sheet.append((tile, (LEFT_MM + x, BOTTOM_MM + top)))
        low = min(low, top - tall) if x else top - tall
        x += wide + 8.0
    if sheet:
        yield sheet


def _tile(paper: Paper, tile: Tile, at: Point) -> None:
    x, y = at
    x0, y0, x1, y1 = tile.picture.box
    room = max(x1 - x0, 120.0)
    which = say(" (sheet {number} of {count})", number=tile.number, count=tile.of) if tile.of > 1 else ""
    paper.text((x, y - 3.5), shortened(tile.template.title + which, room, 8.5), 8.5, bold=True, colour=INK)
    for number, words in enumerate(wrapped(tile.template.use, room, 7.0)[:3]):
        paper.text((x, y - 6.8 - 2.9 * number), words, 7.0, colour=QUIET)
    paper.placed(Placed(picture=tile.picture, scale=1.0), x, y - _WORDS_MM - (y1 - y0))


def _rulers(paper: Paper) -> None:
    """Draw 100 mm along both axes, with a stroke each 10 mm."""
    x, y = RULER_AT_MM
    for step in range(11):
        tall = 3.0 if step % 5 == 0 else 1.8
        paper.rule((x + 10.0 * step, y), (x + 10.0 * step, y + tall), INK, 0.18)
        paper.rule((y, x + 10.0 * step), (y + tall, x + 10.0 * step), INK, 0.18)
    paper.rule((x, y), (x + RULER_MM, y), INK, 0.18)
    paper.rule((y, x), (y, x + RULER_MM), INK, 0.18)
    words = say("100 mm, both ways: print at actual size, measure before use.")
    left = x + RULER_MM + 4.0
    lines = wrapped(f"{words} {say(CAUTIONS[0])}", LANDSCAPE_MM[0] - 7.0 - left, 7.0)
    for number, told in enumerate(reversed(lines)):
        paper.text((left, y + 3.0 * number), told, 7.0)
