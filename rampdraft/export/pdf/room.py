"""The room on a drawing sheet, inside its frame and above its title block, and words printed there."""

from dataclasses import dataclass
from typing import Final

from rampdraft.drawing.ink import Anchor
from rampdraft.drawing.sheet import BLOCK_HEIGHT_MM, PAPER_MM, Placed, frame_box
from rampdraft.drawing.style import INK
from rampdraft.export.pdf.book import Op
from rampdraft.export.pdf.paper import wrapped
from rampdraft.geometry.outline import Point
from rampdraft.model.design import PaperSize
from rampdraft.units import MM

_INSET_MM: Final = 6.0
_LINE: Final = 1.32
"""Line spacing over letter size."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Room:
    """Where contents may stand on a sheet of a size."""

    size_mm: tuple[MM, MM]
    left: MM
    right: MM
    bottom: MM
    top: MM

    @property
    def wide(self) -> MM:
        """Return the width."""
        return self.right - self.left

    @property
    def tall(self) -> MM:
        """Return the height."""
        return self.top - self.bottom

    @property
    def check_line_at(self) -> Point:
        """Return where the line of 100 mm begins: in the inset between the frame and the drawing."""
        return self.left - 2.8, self.bottom


def room_on(paper: PaperSize) -> Room:
    """Return the room on a sheet of that paper, laid across."""
    size = PAPER_MM[paper]
    x0, y0, x1, y1 = frame_box(size)
    return Room(
        size_mm=size,
        left=x0 + _INSET_MM,
        right=x1 - _INSET_MM,
        bottom=y0 + BLOCK_HEIGHT_MM + 4.0,
        top=y1 - _INSET_MM,
    )


def text(
    at: Point, words: str, size_pt: float, *, bold: bool = False, colour: str = INK, anchor: Anchor = "left"
) -> Op:
    """Return the printing of one line."""
    return lambda paper: paper.text(at, words, size_pt, bold=bold, colour=colour, anchor=anchor)


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


def put(placed: Placed, x: MM, y: MM) -> Op:
    """Return the printing of a picture with the lower left corner of its box at (x, y)."""
    return lambda paper: paper.placed(placed, x, y)
