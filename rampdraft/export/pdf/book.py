"""Sheets of drawings and flowed pages, bound into one PDF: frames, title blocks, heads, feet, and the number
of each sheet among all.

A drawing sheet is A4 or A3 across, with frame and title block; a flowed page is A4 upright, with a line at
head and foot, and its contents run on from page to page by reportlab's own engine.
"""

# reportlab's types are partly open.
# pyright: reportUnknownMemberType=false, reportUnknownArgumentType=false, reportUnknownVariableType=false
# pyright: reportUnknownParameterType=false, reportUnknownLambdaType=false, reportAttributeAccessIssue=false

import io
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any, Final

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, NextPageTemplate, PageBreak, PageTemplate

from rampdraft.drawing.sheet import LANDSCAPE_MM, TitleBlock, check_line, frame_box, frame_marks
from rampdraft.drawing.style import FAINT, INK, QUIET
from rampdraft.export.pdf.paper import LOCK, MM_PER_PT, Paper, fitted_text, printable, shortened
from rampdraft.units import MM
from rampdraft.words.say import say

rl_config.useA85 = 0  # written as letters alone, pages are a fifth larger

Op = Callable[[Paper], None]
"""Something to be printed on the sheet that is open."""

PORTRAIT_MM: Final = (210.0, 297.0)
_HEAD_MM: Final = 8.0
_FOOT_MM: Final = 6.0
_X0, _Y0, _X1, _Y1 = frame_box(PORTRAIT_MM)
FLOW_MM: Final = (_X1 - _X0, _Y1 - _Y0 - _HEAD_MM - _FOOT_MM)
"""Room for what flows on an upright page."""
GUTTER_MM: Final = 5.0
"""Between two columns."""

SHORT_CAUTION: Final = (
    "An aid to a competent person, not approval. Prove by a test load before use. Cautions in full: check"
    " sheet."
)
"""At the foot of each sheet; the cautions stand in full on each of the papers."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sheet:
    """A drawing sheet, laid out."""

    kind: str
    """Document type, for the title block."""
    size_mm: tuple[MM, MM] = LANDSCAPE_MM
    scale: str = "–"
    check_line_at: tuple[MM, MM] | None = None
    """Where the line of 100 mm begins that shows whether the printer kept the scale; None for none."""
    ops: list[Op] = field(default_factory=list[Op])


@dataclass(frozen=True, slots=True, kw_only=True)
class Plain:
    """A sheet with nothing around its contents."""

    size_mm: tuple[MM, MM]
    ops: list[Op]


@dataclass(frozen=True, slots=True, kw_only=True)
class Flowed:
    """Contents that run on over upright pages."""

    kind: str
    story: Sequence[Any]
    columns: int = 1


Part = Sheet | Plain | Flowed


@dataclass(frozen=True, slots=True, kw_only=True)
class Imprint:
    """What stands on every sheet of a paper."""

    title: str
    number: str
    author: str
    date: str
    revision: str


class _Whole(Flowable):
    """What fills a drawing sheet: the sheet itself is printed under it."""

    def wrap(self, aW: float, aH: float) -> tuple[float, float]:  # noqa: N803 reportlab's names
        return aW, aH

    def draw(self) -> None:
        return


class _Counted(Canvas):
    """A canvas that knows how many sheets there are before it prints the number of the first.

    Pages are kept as they are, and what stands around their contents is added when all are there; so are the
    marks by which a reader leafs to what they are headed with.
    """

    def __init__(self, *args: Any, **named: Any) -> None:
        super().__init__(*args, **named)
        self.furnish: Callable[[Paper, int, int], None] | None = None
        self.titles: list[str] = []
        """What the page is headed with."""
        self._kept: list[dict[str, Any]] = []

    def showPage(self) -> None:  # noqa: N802 reportlab's name
        self._kept.append(dict(self.__dict__))
        self.titles = []
        self._startPage()

    def save(self) -> None:
        kept = self._kept
        for number, state in enumerate(kept, start=1):
            self.__dict__.update(state)
            if self.furnish is not None:
                paper = Paper(self)
                with paper.from_corner():
                    self.furnish(paper, number, len(kept))
            for at, title in enumerate(self.titles):
                mark = f"{number} {at}"
                self.bookmarkPage(mark)
                self.addOutlineEntry(title, mark)
            super().showPage()
        super().save()


def bound(parts: Sequence[Part], imprint: Imprint) -> bytes:
    """Return a PDF: equal bytes for equal contents.

    Safe to call from any thread; calls wait for each other.
    """
    with LOCK:
        stream = io.BytesIO()
        doc = BaseDocTemplate(
            stream,
            title=printable(imprint.title),
            author=printable(imprint.author),
            creator="rampdraft",
            invariant=1,
            pageCompression=1,
        )
        story: list[Any] = []
        for number, part in enumerate(parts):
            name = f"part {number}"
            doc.addPageTemplates([_template(name, part, imprint)])
            if story:
                story += [NextPageTemplate(name), PageBreak()]
            story += part.story if isinstance(part, Flowed) else [_Whole()]
        doc.build(story, canvasmaker=_Counted)
        return stream.getvalue()


def _template(name: str, part: Part, imprint: Imprint) -> Any:
    size = PORTRAIT_MM if isinstance(part, Flowed) else part.size_mm
    return PageTemplate(
        id=name,
        frames=list(_frames(part)),
        onPage=partial(_begin, part, imprint),
        pagesize=(size[0] / MM_PER_PT, size[1] / MM_PER_PT),
    )


def _frames(part: Part) -> Iterator[Any]:
    """Yield the areas that are filled on a page of a part."""
    columns = part.columns if isinstance(part, Flowed) else 1
    wide = column_mm(columns)
    for column in range(columns):
        x = _X0 + column * (wide + GUTTER_MM)
        box = (x, _Y0 + _FOOT_MM, wide, FLOW_MM[1])
        yield Frame(
            *(length / MM_PER_PT for length in box),
            leftPadding=0,
            rightPadding=0,
            topPadding=0,
            bottomPadding=0,
        )


def column_mm(columns: int) -> MM:
    """Return how wide a column of a flowed page is."""
    return (FLOW_MM[0] - (columns - 1) * GUTTER_MM) / columns


def _begin(part: Part, imprint: Imprint, canvas: Any, _: Any) -> None:
    """Print what lies under a page's contents, and note what goes around them."""
    if isinstance(part, Flowed):
        canvas.furnish = partial(_head_and_foot, part.kind, imprint)
        return
    if isinstance(part, Sheet):
        canvas.titles.append(printable(part.kind))
    paper = Paper(canvas)
    with paper.from_corner():
        for op in part.ops:
            op(paper)
    canvas.furnish = partial(_framed, part, imprint) if isinstance(part, Sheet) else None


def _framed(sheet: Sheet, imprint: Imprint, paper: Paper, number: int, count: int) -> None:
    block = TitleBlock(
        title=imprint.title,
        kind=sheet.kind,
        number=imprint.number,
        author=imprint.author,
        date=imprint.date,
        revision=imprint.revision,
        scale=sheet.scale,
        sheet=number,
        sheets=count,
        caution=say(SHORT_CAUTION),
    )
    paper.marks(frame_marks(sheet.size_mm, block, fitted_text))
    if sheet.check_line_at is not None:
        paper.marks(check_line(*sheet.check_line_at))


def _head_and_foot(kind: str, imprint: Imprint, paper: Paper, number: int, count: int) -> None:
    top, foot = _Y1 - 5.0, _Y0 + 3.5
    paper.text((_X0, top + 1.2), kind, 9.0, bold=True)
    told = "  ".join(
        words
        for words in (
            shortened(imprint.title, 70.0, 8.0),
            shortened(imprint.number, 25.0, 8.0),
            say("revision {mark}", mark=imprint.revision) if imprint.revision else "",
            shortened(imprint.date, 22.0, 8.0),
        )
        if words
    )
    paper.text((_X1, top + 1.2), told, 8.0, colour=QUIET, anchor="right")
    paper.rule((_X0, top), (_X1, top), INK, 0.25)
    paper.rule((_X0, foot), (_X1, foot), FAINT, 0.18)
    paper.text((_X0, _Y0), say(SHORT_CAUTION), 7.0, colour=QUIET)
    paper.text((_X1, _Y0), f"{number} / {count}", 8.0, anchor="right")
