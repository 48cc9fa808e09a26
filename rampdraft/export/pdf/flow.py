"""Pages that are laid out before they are printed: headings, paragraphs and tables that flow from sheet to
sheet.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from typing import Final

from rampdraft.drawing.ink import Anchor
from rampdraft.drawing.sheet import BLOCK_HEIGHT_MM, LANDSCAPE_MM, Placed, frame_box
from rampdraft.drawing.style import FAINT, INK, QUIET, WASH
from rampdraft.export.pdf.paper import Paper, wrapped
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

Op = Callable[[Paper], None]
"""Something to be printed on the sheet that is open."""

_FRAME: Final = frame_box(LANDSCAPE_MM)
INSET_MM: Final = 6.0
LEFT_MM: Final = _FRAME[0] + INSET_MM
RIGHT_MM: Final = _FRAME[2] - INSET_MM
TOP_MM: Final = _FRAME[3] - INSET_MM
BOTTOM_MM: Final = _FRAME[1] + BLOCK_HEIGHT_MM + 4.0
WIDTH_MM: Final = RIGHT_MM - LEFT_MM
"""Room for contents inside the frame, above the title block."""

BODY_PT: Final = 8.0
HEAD_PT: Final = 7.5
MOST_TOGETHER: Final = 20
"""Lines under a row of a table that stay with it on one sheet; more may run on."""

_LINE: Final = 1.32
"""Line spacing over letter size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """A sheet, laid out: A4 landscape."""

    kind: str
    """Document type, for the title block."""
    scale: str = "–"
    is_drawing: bool = False
    """Carries the check line of 100 mm."""
    ops: list[Op] = field(default_factory=list[Op])


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table."""

    head: str
    width_mm: MM
    anchor: Anchor = "left"
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of a table, with lines across all columns but the first below it, and a picture below those."""

    cells: tuple[str, ...]
    under: tuple[str, ...] = ()
    picture: Placed | None = None
    colour: str = INK
    """Of the first cell."""
    opens_group: bool = False
    """With a stronger rule above it."""


def text(
    at: Point, words: str, size_pt: float, *, bold: bool = False, colour: str = INK, anchor: Anchor = "left"
) -> Op:
    """Return the printing of one line."""
    return lambda paper: paper.text(at, words, size_pt, bold=bold, colour=colour, anchor=anchor)


def rule(a: Point, b: Point, colour: str = FAINT, width: MM = 0.18) -> Op:
    """Return the printing of a plain line."""
    return lambda paper: paper.rule(a, b, colour, width)


def block(
    at: Point, words: str, room_mm: MM, size_pt: float, *, bold: bool = False, colour: str = INK
) -> tuple[list[Op], MM]:
    """Return the printing of a wrapped text whose top left corner is at `at`, and its height."""
    step = line_mm(size_pt)
    ops = [
        text((at[0], at[1] - number * step - 0.75 * step), line, size_pt, bold=bold, colour=colour)
        for number, line in enumerate(wrapped(words, room_mm, size_pt, bold=bold))
    ]
    return ops, len(ops) * step


def line_mm(size_pt: float) -> MM:
    """Return the line spacing of a letter size."""
    return size_pt * 25.4 / 72 * _LINE


class Flow:
    """Contents that go on from sheet to sheet."""

    def __init__(self, kind: str, heading: str = "") -> None:
        self._kind = kind
        self.pages: list[Page] = []
        self.y = TOP_MM
        self.new_page()
        if heading:
            self.heading(heading)

    def new_page(self) -> None:
        """Go on at the top of a new sheet."""
        self.pages.append(Page(kind=self._kind))
        self.y = TOP_MM

    def room_for(self, height_mm: MM) -> None:
        """Go on at a new sheet where less than `height_mm` is left on this one."""
        if self.y - height_mm < BOTTOM_MM and self.y < TOP_MM:
            self.new_page()

    def add(self, ops: Iterable[Op], height_mm: MM) -> None:
        """Print `ops`, which take `height_mm` from here down."""
        self.pages[-1].ops.extend(ops)
        self.y -= height_mm

    def heading(self, words: str, *, keep_with_mm: MM = 25.0) -> None:
        """Print a heading that is not left alone at the foot of a sheet."""
        if self.y < TOP_MM:
            self.y -= 4.0
        self.room_for(8.0 + keep_with_mm)
        self.add([text((LEFT_MM, self.y - 5.0), words, 13.0, bold=True)], 9.0)

    def paragraph(
        self, words: str, *, size_pt: float = 9.0, colour: str = INK, room_mm: MM = WIDTH_MM
    ) -> None:
        """Print a wrapped text, going on over the sheet's end line by line."""
        step = line_mm(size_pt)
        for words_of_line in wrapped(words, room_mm, size_pt):
            self.room_for(step)
            self.add([text((LEFT_MM, self.y - 0.75 * step), words_of_line, size_pt, colour=colour)], step)
        self.y -= 1.5

    def table(self, columns: Sequence[Column], rows: Iterable[Row]) -> None:
        """Print a table; its head comes again on each sheet."""
        self._head(columns)
        step, pad = line_mm(BODY_PT), 1.1
        small = line_mm(HEAD_PT)
        right = LEFT_MM + sum(column.width_mm for column in columns)
        for row in rows:
            cells = [
                wrapped(cell, column.width_mm - 3.0, BODY_PT, bold=column.bold)
                for cell, column in zip(row.cells, columns, strict=True)
            ]
            indent = LEFT_MM + columns[0].width_mm + 1.5
            under = [line for lines in row.under for line in wrapped(lines, right - indent - 1.5, HEAD_PT)]
            cells_mm = max(len(lines) for lines in cells) * step
            together_mm = len(under) * small if len(under) <= MOST_TOGETHER else small
            if self.y - 2 * pad - cells_mm - together_mm < BOTTOM_MM:
                self.new_page()
                self._head(columns)
            if row.opens_group:
                self.add([rule((LEFT_MM, self.y), (right, self.y), INK, 0.25)], 0.0)
            self.add(_cells(columns, cells, self.y - pad, step, row.colour), pad + cells_mm)
            for line in under:
                if self.y - small < BOTTOM_MM:
                    self.new_page()
                    self._head(columns)
                self.add([text((indent, self.y - 0.75 * small), line, HEAD_PT, colour=QUIET)], small)
            if row.picture is not None:
                self._picture(columns, row.picture, indent)
            self.y -= pad
            self.add([rule((LEFT_MM, self.y), (right, self.y))], 0.0)
        self.y -= 2.0

    def _picture(self, columns: Sequence[Column], picture: Placed, left: MM) -> None:
        height = picture.size_mm[1] + 2.0
        if self.y - height < BOTTOM_MM:
            self.new_page()
            self._head(columns)
        low = self.y - height + 0.5
        self.add([lambda paper: paper.placed(picture, left, low)], height)

    def _head(self, columns: Sequence[Column]) -> None:
        height = 6.0
        right = LEFT_MM + sum(column.width_mm for column in columns)
        if self.y - height - 8.0 < BOTTOM_MM:
            self.new_page()
        box = (LEFT_MM, self.y - height, right, self.y)
        heads = (
            text((x, self.y - 4.1), column.head, HEAD_PT, bold=True, colour=QUIET, anchor=column.anchor)
            for column, x in _stops(columns)
        )
        self.add([lambda paper: paper.area(box, WASH), *heads], height)


def _cells(
    columns: Sequence[Column], cells: Sequence[tuple[str, ...]], top: MM, step: MM, colour: str
) -> Iterator[Op]:
    for number, ((column, x), lines) in enumerate(zip(_stops(columns), cells, strict=True)):
        for index, line in enumerate(lines):
            at = (x, top - index * step - 0.75 * step)
            shade = INK if number else colour
            yield text(at, line, BODY_PT, bold=column.bold, colour=shade, anchor=column.anchor)


def _stops(columns: Sequence[Column]) -> Iterator[tuple[Column, MM]]:
    """Yield each column with where its text stands: inset from the side that it leans on."""
    x = LEFT_MM
    for column in columns:
        wide = column.width_mm
        yield column, x + {"left": 1.5, "centre": wide / 2, "right": wide - 1.5}[column.anchor]
        x += wide
