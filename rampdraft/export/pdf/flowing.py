"""What flows over upright pages: headings, paragraphs, tables and pictures for reportlab's engine, in mm.

Words are printed as they are written: no mark in them is taken for markup.
"""

# reportlab's types are partly open.
# pyright: reportUnknownMemberType=false, reportUnknownArgumentType=false, reportUnknownVariableType=false
# pyright: reportUnknownParameterType=false

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final, Literal
from xml.sax.saxutils import escape

from reportlab.lib.colors import HexColor
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import CondPageBreak, Flowable, Paragraph, Spacer, Table

from rampdraft.drawing.ink import Anchor
from rampdraft.drawing.sheet import Placed
from rampdraft.drawing.style import FAINT, FONT, FONT_BOLD, INK, QUIET, WASH
from rampdraft.export.pdf.book import FLOW_MM, Op
from rampdraft.export.pdf.paper import MM_PER_PT, Paper, printable, ready_fonts
from rampdraft.units import MM
from rampdraft.words.say import say

BODY_PT: Final = 7.5
_LEADING: Final = 1.17
_ALIGN: Final[dict[Anchor, Literal[0, 1, 2]]] = {"left": 0, "centre": 1, "right": 2}
"""As reportlab counts them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Column:
    """A column of a table."""

    head: str
    width_mm: MM
    anchor: Anchor = "left"
    bold: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """A row of a table."""

    cells: tuple[str, ...]
    colour: str = INK
    """Of the first cell."""
    opens_group: bool = False
    """With a stronger rule above it."""


def short(words: str) -> str:
    """Return words as they are said where there is little room, as in a narrow column."""
    return say(words, "short")


class Drawn(Flowable):
    """Something printed in mm in a box of its own, its origin at the lower left corner."""

    def __init__(self, size_mm: tuple[MM, MM], *ops: Op) -> None:
        super().__init__()
        self._size, self._ops = size_mm, ops

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: ARG002, D102, N803
        return self._size[0] / MM_PER_PT, self._size[1] / MM_PER_PT

    def draw(self) -> None:  # noqa: D102 reportlab's name
        paper = Paper(self.canv)
        with paper.from_corner():
            for op in self._ops:
                op(paper)


def picture(placed: Placed) -> Drawn:
    """Return a picture as it stands between paragraphs."""
    return Drawn(placed.size_mm, lambda paper: paper.placed(placed, 0.0, 0.0))


# many: what letters have
def paragraph(
    words: str,
    *,
    size_pt: float = BODY_PT,
    bold: bool = False,
    colour: str = INK,
    anchor: Anchor = "left",
    after_mm: MM = 1.0,
    keep: bool = False,
) -> Any:
    """Return a text that wraps; its lines break where the words have line ends. `keep` holds it with what
    comes next.
    """
    return Paragraph(marked(words), _style(size_pt, bold, colour, anchor, after_mm, keep))


def marked(words: str) -> str:
    """Return words as reportlab's engine prints them as they are."""
    lines = words.replace("\r\n", "\n").split("\n")
    return "<br/>".join(escape(printable(line)) for line in lines)


def in_bold(words: str, colour: str = INK) -> str:
    """Return words in markup, set in bold."""
    return f'<font name="{FONT_BOLD}" color="{colour}">{marked(words)}</font>'


def in_quiet(words: str) -> str:
    """Return words in markup, set in grey."""
    return f'<font color="{QUIET}">{marked(words)}</font>'


def of_markup(markup: str, *, size_pt: float = 7.0, after_mm: MM = 1.4, keep: bool = False) -> Any:
    """Return a paragraph of words that are marked up already."""
    return Paragraph(markup, _style(size_pt, False, INK, "left", after_mm, keep))


class _Heading(Paragraph):
    """A heading that the page is found by."""

    def __init__(self, words: str, style: Any) -> None:
        super().__init__(marked(words), style)
        self._words = words

    def draw(self) -> None:
        canvas: Any = self.canv
        canvas.titles.append(printable(self._words))
        super().draw()


_HEAD_PT: Final = 11.0


def heading(words: str, *, size_pt: float = _HEAD_PT, room_mm: MM = 22.0) -> list[Any]:
    """Return a heading that is not left alone at the foot of a page; by one that is no smaller the page is
    found.
    """
    style = _style(size_pt, True, INK, "left", 1.5, False)
    made = _Heading(words, style) if size_pt >= _HEAD_PT else Paragraph(marked(words), style)
    return [CondPageBreak(room_mm / MM_PER_PT), gap(1.5), made]


def gap(height_mm: MM) -> Any:
    """Return room between two things; none at the top of a page."""
    return Spacer(1, height_mm / MM_PER_PT)


def table(columns: Sequence[Column], rows: Iterable[Row], *, size_pt: float = BODY_PT) -> Any:
    """Return a table whose head comes again on each page."""
    rows = tuple(rows)
    head = [
        paragraph(one.head, size_pt=7.0, bold=True, colour=QUIET, anchor=one.anchor, after_mm=0)
        for one in columns
    ]
    lines = [
        ("BACKGROUND", (0, 0), (-1, 0), HexColor(WASH)),
        ("LINEBELOW", (0, 1), (-1, -1), 0.5, HexColor(FAINT)),
        ("VALIGN", (0, 0), (-1, -1), "TOP"),
        *(("LEFTPADDING", (0, 0), (-1, -1), 3.0), ("RIGHTPADDING", (0, 0), (-1, -1), 3.0)),
        *(("TOPPADDING", (0, 0), (-1, -1), 0.9), ("BOTTOMPADDING", (0, 0), (-1, -1), 1.6)),
        *(
            ("LINEABOVE", (0, number), (-1, number), 0.7, HexColor(INK))
            for number, row in enumerate(rows, start=1)
            if row.opens_group
        ),
    ]
    return Table(
        [head, *(_cells(columns, row, size_pt) for row in rows)],
        colWidths=[one.width_mm / MM_PER_PT for one in columns],
        repeatRows=1,
        style=lines,
        hAlign="LEFT",
        splitInRow=1,
        spaceAfter=2.0 / MM_PER_PT,
    )


def _cells(columns: Sequence[Column], row: Row, size_pt: float) -> list[Any]:
    return [
        paragraph(
            words,
            size_pt=size_pt,
            bold=one.bold,
            colour=INK if number else row.colour,
            anchor=one.anchor,
            after_mm=0,
        )
        for number, (one, words) in enumerate(zip(columns, row.cells, strict=True))
    ]


def pairs(rows: Iterable[tuple[str, str]], width_mm: MM, name_mm: MM) -> Any:
    """Return names with what they are, a row each."""
    data = [
        [
            paragraph(name, colour=QUIET, after_mm=0),
            paragraph(value, after_mm=0),
        ]
        for name, value in rows
    ]
    return Table(
        data,
        colWidths=[name_mm / MM_PER_PT, (width_mm - name_mm) / MM_PER_PT],
        style=[
            ("LINEABOVE", (0, 0), (-1, -1), 0.5, HexColor(FAINT)),
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            *(("LEFTPADDING", (0, 0), (-1, -1), 0.0), ("RIGHTPADDING", (0, 0), (-1, -1), 3.0)),
            *(("TOPPADDING", (0, 0), (-1, -1), 1.4), ("BOTTOMPADDING", (0, 0), (-1, -1), 1.8)),
        ],
        hAlign="LEFT",
        spaceAfter=2.0 / MM_PER_PT,
    )


def beside(*cells: Sequence[Any], count: int = 0, shares: Sequence[float] = ()) -> Any:
    """Return contents side by side over the page's width: in these shares, else each in an equal one, as one
    of `count` if that is more than there are.
    """
    number = max(count, len(cells))
    parts = shares or [1.0] * number
    widths = [FLOW_MM[0] * part / sum(parts) for part in parts]
    return Table(
        [[*(list(cell) for cell in cells), *([""] * (number - len(cells)))]],
        colWidths=[wide / MM_PER_PT for wide in widths],
        style=[
            ("VALIGN", (0, 0), (-1, -1), "TOP"),
            *(("LEFTPADDING", (0, 0), (-1, -1), 0.0), ("RIGHTPADDING", (0, 0), (-1, -1), 6.0)),
            *(("TOPPADDING", (0, 0), (-1, -1), 0.0), ("BOTTOMPADDING", (0, 0), (-1, -1), 0.0)),
        ],
        hAlign="LEFT",
    )


@lru_cache(maxsize=256)
def _style(  # many: what letters have
    size_pt: float, bold: bool, colour: str, anchor: Anchor, after_mm: MM, keep: bool
) -> Any:
    ready_fonts()
    return ParagraphStyle(
        "text",
        fontName=FONT_BOLD if bold else FONT,
        fontSize=size_pt,
        leading=size_pt * _LEADING,
        textColor=HexColor(colour),
        alignment=_ALIGN[anchor],
        spaceAfter=after_mm / MM_PER_PT,
        keepWithNext=int(keep),
        splitLongWords=1,
    )
