"""Sheets: frame, title block, scales and the views placed on them, in mm of paper, y up from the lower left
corner.

ISO 5457: margins of 20 mm on the filing edge and 10 mm elsewhere. ISO 7200: the title block's data fields,
180 mm wide. ISO 5455: the scales.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from rampdraft.drawing.ink import Ink, Label, Picture, area, line, polyline
from rampdraft.drawing.text import length_unit
from rampdraft.geometry.outline import rectangle
from rampdraft.model.design import PaperSize
from rampdraft.units import MM
from rampdraft.words.figures import exact, mm
from rampdraft.words.say import say

LANDSCAPE_MM: Final = (297.0, 210.0)
"""A4, ISO 216."""
PAPER_MM: Final[dict[PaperSize, tuple[MM, MM]]] = {"A4": LANDSCAPE_MM, "A3": (420.0, 297.0)}
"""ISO 216, laid across."""
FILING_MM: Final = 20.0
MARGIN_MM: Final = 10.0
BLOCK_WIDTH_MM: Final = 180.0
BLOCK_HEIGHT_MM: Final = 25.0
REVISIONS_WIDTH_MM: Final = 84.0
SCALES: Final = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
"""Reductions of ISO 5455, and full size: 10 stands for 1 : 10."""
CHECK_LINE_MM: Final = 100.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A picture for a sheet, reduced by `scale`."""

    picture: Picture
    scale: float = 1.0

    @property
    def size_mm(self) -> tuple[MM, MM]:
        """Return width and height on paper."""
        x0, y0, x1, y1 = self.picture.box
        return (x1 - x0) / self.scale, (y1 - y0) / self.scale


@dataclass(frozen=True, slots=True, kw_only=True)
class TitleBlock:
    """The data fields of ISO 7200 that a workshop needs."""

    title: str
    kind: str
    """Document type: `Part drawings`."""
    number: str
    author: str
    date: str
    revision: str
    scale: str
    sheet: int
    sheets: int
    caution: str


def scale_text(scale: float) -> str:
    """Return a scale as it is written: `1 : 10`, on one line."""
    return f"1\u00a0:\u00a0{exact(scale)}"


def fitted(make: Callable[[MM], Picture], width_mm: MM, height_mm: MM) -> Placed:
    """Return the picture at the largest scale of the series at which it fits.

    `make` draws it for a scale, so that arrows and gaps keep their size on paper. What fits at no scale is
    shown at the last one.
    """
    tried = (Placed(picture=make(scale), scale=scale) for scale in SCALES)
    fits = (one for one in tried if one.size_mm[0] <= width_mm and one.size_mm[1] <= height_mm)
    return next(fits, None) or Placed(picture=make(SCALES[-1]), scale=SCALES[-1])


def filling(make: Callable[[MM], Picture], width_mm: MM, height_mm: MM) -> Placed:
    """Return the picture as large as the room allows, at no scale of the series: a sketch.

    On paper a view measures a + b / scale, a for dimensions and letters, b for what is shown; two trials give
    both.
    """
    sizes = [Placed(picture=make(trial), scale=trial).size_mm for trial in (20.0, 40.0)]
    needed = 1.0
    for first, second, room in zip(*sizes, (width_mm, height_mm), strict=True):
        shown = (first - second) * 40.0
        fixed = first - shown / 20.0
        needed = max(needed, shown / max(1.0, room - fixed))
    return Placed(picture=make(needed), scale=needed)


def stepped(make: Callable[[MM], Picture], width_mm: MM, height_mm: MM) -> Placed:
    """Return a picture whose words wrap and make room for each other as large as the room allows.

    Its size follows no straight line, so it is tried from filling the width down in steps; its width is that
    of what is shown.
    """
    x0, _, x1, _ = make(1.0).box
    scale = (x1 - x0) / width_mm
    picture = make(scale)
    for _ in range(_TRIES):
        if picture.box[3] - picture.box[1] <= height_mm * scale:
            break
        scale *= _STEP
        picture = make(scale)
    return Placed(picture=picture, scale=scale)


def frame_box(size_mm: tuple[MM, MM]) -> tuple[MM, MM, MM, MM]:
    """Return the frame (x0, y0, x1, y1) of a sheet."""
    return FILING_MM, MARGIN_MM, size_mm[0] - MARGIN_MM, size_mm[1] - MARGIN_MM


_STEP: Final = 1.15
_TRIES: Final = 16

Fit = Callable[[str, MM, float], tuple[str, float]]
"""(text, room in mm, size in pt) -> the text and the size at which it fits; whoever knows the letters' widths
gives it.
"""


def frame_marks(size_mm: tuple[MM, MM], block: TitleBlock, fit: Fit) -> tuple[Ink, ...]:
    """Return the frame of a sheet with the title block in its lower right corner."""
    x0, y0, x1, y1 = frame_box(size_mm)
    frame = area(rectangle(x0, y0, x1, y1), "outline", "none")
    return (
        frame,
        *_block(block, x1 - BLOCK_WIDTH_MM, y0, fit),
        *_revisions(block, x1 - BLOCK_WIDTH_MM - REVISIONS_WIDTH_MM, y0, fit),
    )


def check_line(x: MM, y: MM) -> tuple[Ink, ...]:
    """Return an upright line of 100 mm with its ticks: measured on paper it shows whether the printer kept
    the scale.
    """
    end, tick = y + CHECK_LINE_MM, 1.2
    return (
        polyline(((x + tick, y), (x, y), (x, end), (x + tick, end)), "thin"),
        *(line((x, y + step), (x + tick, y + step), "thin") for step in range(10, 100, 10)),
        Label(
            text=say("measure: {length}", length=mm(CHECK_LINE_MM)),
            at=(x - 0.6, y + CHECK_LINE_MM / 2),
            anchor="centre",
            size_pt=7.0,
            angle_deg=90.0,
        ),
    )


def _revisions(block: TitleBlock, x: MM, y: MM, fit: Fit) -> Iterator[Ink]:
    """Yield the table of revisions beside the title block: the one that is printed, and room for changes made
    by hand.
    """
    columns = (
        (say("Revision"), block.revision, 20.0),
        (say("Change"), say("issued") if block.revision else "", 30.0),
        (say("Date"), block.date, 20.0),
        (say("By"), "", 14.0),
    )
    rows = 4
    tall = BLOCK_HEIGHT_MM / rows
    right, top = x + REVISIONS_WIDTH_MM, y + BLOCK_HEIGHT_MM
    yield area(rectangle(x, y, right, top), "outline", "paper")
    yield from (line((x, y + row * tall), (right, y + row * tall), "thin") for row in range(1, rows))
    at = x
    for name, value, wide in columns:
        if at > x:
            yield line((at, y), (at, top), "thin")
        yield Label(text=name, at=(at + 1.2, top - 4.4), pen="hidden", size_pt=7.0)
        words, size_pt = fit(value, wide - 2.0, 7.5)
        yield Label(text=words, at=(at + 1.2, top - tall - 4.4), pen="outline", size_pt=size_pt)
        at += wide


def _block(block: TitleBlock, x: MM, y: MM, fit: Fit) -> Iterator[Ink]:
    """Yield the title block: two rows of fields over the caution."""
    right, low, middle, top = x + BLOCK_WIDTH_MM, y + 6.0, y + 14.5, y + BLOCK_HEIGHT_MM
    yield area(rectangle(x, y, right, top), "outline", "paper")
    yield from (line((x, height), (right, height), "thin") for height in (low, middle))
    upper = (
        (say("Title"), block.title, 85.0, 11.0),
        (say("Document"), block.kind, 55.0, 9.0),
        (say("Drawing number"), block.number, 40.0, 9.0),
    )
    lower = (
        (say("Drawn by"), block.author, 40.0, 8.0),
        (say("Date"), block.date, 30.0, 8.0),
        (say("Revision"), block.revision, 25.0, 8.0),
        (say("Scale"), block.scale, 30.0, 8.0),
        (say("Units"), length_unit(), 20.0, 8.0),
        (say("Sheet"), f"{block.sheet} / {block.sheets}", 35.0, 8.0),
    )
    for fields, floor, roof in ((upper, middle, top), (lower, low, middle)):
        at = x
        for name, value, width, size in fields:
            if at > x:
                yield line((at, floor), (at, roof), "thin")
            yield Label(text=name, at=(at + 1.5, roof - 3.0), pen="hidden", size_pt=7.0)
            words, size_pt = fit(value, width - 3.0, size)
            yield Label(text=words, at=(at + 1.5, floor + 1.8), pen="outline", size_pt=size_pt)
            at += width
    words, size_pt = fit(block.caution, BLOCK_WIDTH_MM - 3.0, 7.0)
    yield Label(text=words, at=(x + 1.5, y + 2.0), pen="outline", size_pt=size_pt)
