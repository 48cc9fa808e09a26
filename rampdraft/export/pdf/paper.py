"""Ink on paper: lines, areas, letters and pictures in mm, from the lower left corner of a sheet.

Letters are those of the shipped font, embedded; a character that it lacks is
printed as "?", never as the black square that reportlab would put there in silence.
"""

import math
import threading
from bisect import bisect_right
from collections.abc import Generator, Iterator, Sequence
from contextlib import contextmanager
from functools import lru_cache
from typing import Any, Final

from reportlab.lib.colors import HexColor
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from rampdraft.drawing.ink import Anchor, Ink, Label, Path
from rampdraft.drawing.sheet import Placed
from rampdraft.drawing.style import FONT, FONT_BOLD, HATCH_PITCH_MM, INK, STROKES, WASHES, font_path, in_tone
from rampdraft.geometry.outline import Point, arc_of
from rampdraft.rounding import whole_steps
from rampdraft.units import MM

SMALLEST_PT: Final = 7.0
"""No letter on a sheet is smaller."""

MM_PER_PT: Final = 25.4 / 72
LOCK: Final = threading.RLock()
"""reportlab keeps its fonts in one place for all documents, so that two may not be written at once."""

_HATCH: Final = STROKES["clash"]


def printable(text: str) -> str:
    """Return a text with each character that the font lacks as "?", and with spaces for line ends and
    tabs.
    """
    known = _glyphs()
    return "".join(
        letter if ord(letter) in known else " " if letter.isspace() else "?"
        for letter in text.replace("\r\n", "\n")
    )


def width_mm(text: str, size_pt: float, *, bold: bool = False) -> MM:
    """Return how wide a text is on paper."""
    _fonts()
    return pdfmetrics.stringWidth(printable(text), FONT_BOLD if bold else FONT, size_pt) * MM_PER_PT


def wrapped(text: str, room_mm: MM, size_pt: float, *, bold: bool = False) -> tuple[str, ...]:
    """Return the lines that a text takes in a column; a word wider than the column is broken where it must
    be, and what no-break spaces join is one word.
    """
    lines: list[str] = []
    for paragraph in text.split("\n"):
        row = ""
        for word in filter(None, printable(paragraph).split(" ")):
            longer = f"{row} {word}" if row else word
            if width_mm(longer, size_pt, bold=bold) <= room_mm:
                row = longer
                continue
            if row:
                lines.append(row)
            row = word
            while width_mm(row, size_pt, bold=bold) > room_mm and len(row) > 1:
                kept = _fitting(row, room_mm, size_pt, bold)
                lines.append(row[:kept])
                row = row[kept:]
        lines.append(row)
    return tuple(lines)


def shortened(text: str, room_mm: MM, size_pt: float) -> str:
    """Return a text on one line, cut with an ellipsis where it is wider than its room."""
    text = " ".join(printable(text).split())
    if width_mm(text, size_pt) <= room_mm + 1e-6:
        return text
    return text[: _fitting(text, room_mm - width_mm("…", size_pt), size_pt, False)].rstrip() + "…"


def fitted_text(text: str, room_mm: MM, size_pt: float) -> tuple[str, float]:
    """Return a text and the size at which it fits on one line: made smaller, down to 7 point, before it is
    cut.
    """
    wide = width_mm(" ".join(text.split()), size_pt)
    size_pt = max(min(size_pt, SMALLEST_PT), size_pt * min(1.0, room_mm / wide)) if wide else size_pt
    return shortened(text, room_mm, size_pt), size_pt


class Paper:
    """A sheet of paper: what is drawn on a canvas of reportlab, in mm."""

    def __init__(self, canvas: Any) -> None:
        _fonts()
        self._canvas = canvas

    @contextmanager
    def from_corner(self) -> Generator[None]:
        """Draw in mm from where the canvas has its origin now; what is set there ends with it."""
        self._canvas.saveState()
        self._canvas.scale(1 / MM_PER_PT, 1 / MM_PER_PT)
        self._canvas.setLineJoin(1)
        yield
        self._canvas.restoreState()

    def text(
        self,
        at: Point,
        text: str,
        size_pt: float,
        *,
        bold: bool = False,
        colour: str = INK,
        anchor: Anchor = "left",
        angle_deg: float = 0.0,
    ) -> None:
        """Write one line, `at` on its baseline."""
        canvas, text = self._canvas, printable(text)
        canvas.setFont(FONT_BOLD if bold else FONT, size_pt * MM_PER_PT)
        canvas.setFillColor(_colour(colour))
        x, y = at
        if angle_deg:
            canvas.saveState()
            canvas.translate(x, y)
            canvas.rotate(angle_deg)
            x = y = 0.0
        write = {
            "left": canvas.drawString, "right": canvas.drawRightString, "centre": canvas.drawCentredString,
        }[anchor]  # fmt: skip
        write(x, y, text)
        if angle_deg:
            canvas.restoreState()

    def area(self, box: tuple[MM, MM, MM, MM], colour: str) -> None:
        """Fill the rectangle (x0, y0, x1, y1)."""
        self._canvas.setFillColor(_colour(colour))
        self._canvas.rect(box[0], box[1], box[2] - box[0], box[3] - box[1], stroke=0, fill=1)

    def rule(self, a: Point, b: Point, colour: str, width: MM) -> None:
        """Draw a plain line."""
        self._canvas.setDash()
        self._canvas.setStrokeColor(_colour(colour))
        self._canvas.setLineWidth(width)
        self._canvas.line(*a, *b)

    def placed(self, placed: Placed, x: MM, y: MM) -> None:
        """Draw a picture with the lower left corner of its box at (x, y); what lies outside is cut off."""
        x0, y0, x1, y1 = placed.picture.box
        scale = placed.scale
        canvas = self._canvas
        canvas.saveState()
        window = canvas.beginPath()
        window.rect(x, y, (x1 - x0) / scale, (y1 - y0) / scale)
        canvas.clipPath(window, stroke=0, fill=0)
        self.marks(placed.picture.marks, x - x0 / scale, y - y0 / scale, scale)
        canvas.restoreState()

    def marks(self, marks: Sequence[Ink], x: MM = 0.0, y: MM = 0.0, scale: float = 1.0) -> None:
        """Draw marks reduced by `scale`, their origin at (x, y)."""
        for mark in marks:
            if isinstance(mark, Path):
                self._path(mark, x, y, scale)
            else:
                self._label(mark, x, y, scale)

    def _path(self, path: Path, x: MM, y: MM, scale: float) -> None:
        canvas, stroke, wash = self._canvas, STROKES[path.pen], WASHES[path.fill]
        points = tuple((x + vx / scale, y + vy / scale, bulge) for vx, vy, bulge in path.vertices)
        washed = in_tone(wash.colour, path.tone) if wash is not None else stroke.colour
        canvas.setStrokeColor(_colour(washed if path.pen == "own" else stroke.colour))
        canvas.setLineWidth(stroke.width_mm)
        canvas.setDash(list(stroke.dash_mm) or [], 0)
        if wash is not None:
            canvas.setFillColor(_colour(washed))
        if wash is not None and wash.hatched:
            canvas.drawPath(self._shape(points, path.closed), stroke=0, fill=1)
            self._hatch(points, path.closed)
        canvas.drawPath(
            self._shape(points, path.closed), stroke=1, fill=int(wash is not None and not wash.hatched)
        )

    def _shape(self, points: tuple[tuple[MM, MM, float], ...], closed: bool) -> Any:
        shape = self._canvas.beginPath()
        shape.moveTo(points[0][0], points[0][1])
        ends = (*points[1:], points[0]) if closed else points[1:]
        for (x0, y0, bulge), (x1, y1, _) in zip(points, ends, strict=False):
            if bulge:
                for curve in _curves((x0, y0), (x1, y1), bulge):
                    shape.curveTo(*curve)
            else:
                shape.lineTo(x1, y1)
        if closed:
            shape.close()
        return shape

    def _hatch(self, points: tuple[tuple[MM, MM, float], ...], closed: bool) -> None:
        """Draw strokes at 45 degrees inside a shape."""
        canvas = self._canvas
        x0, y0 = min(point[0] for point in points), min(point[1] for point in points)
        x1, y1 = max(point[0] for point in points), max(point[1] for point in points)
        canvas.saveState()
        canvas.clipPath(self._shape(points, closed), stroke=0, fill=0)
        canvas.setStrokeColor(_colour(_HATCH.colour))
        canvas.setLineWidth(_HATCH.width_mm / 2)
        step = HATCH_PITCH_MM * math.sqrt(2)
        for number in range(whole_steps(x1 - x0 + y1 - y0, step, x0, x1, y0, y1) + 1):
            start = x0 - (y1 - y0) + number * step
            canvas.line(start, y0, start + (y1 - y0), y1)
        canvas.restoreState()

    def _label(self, label: Label, x: MM, y: MM, scale: float) -> None:
        at = (x + label.at[0] / scale, y + label.at[1] / scale)
        if label.boxed:
            wide, tall = width_mm(label.text, label.size_pt), label.size_pt * MM_PER_PT
            left = at[0] - {"left": 0.0, "centre": wide / 2, "right": wide}[label.anchor]
            self.area((left - 0.8, at[1] - 0.7 * tall, left + wide + 0.8, at[1] + 0.7 * tall), "#ffffff")
            at = (at[0], at[1] - 0.36 * tall)
        self.text(
            at,
            label.text,
            label.size_pt,
            colour=STROKES[label.pen].colour,
            anchor=label.anchor,
            angle_deg=label.angle_deg,
        )


def _curves(start: Point, end: Point, bulge: float) -> Iterator[tuple[float, ...]]:
    """Yield an arc as Bezier curves of at most a quarter turn each.

    The handles are (4/3) tan(a/4) radii long, which keeps a quarter within 0.03 % of the radius (A. Riskus,
    Approximation of a cubic Bezier curve by circular arcs and vice versa, 2006).
    """
    (cx, cy), radius, angle, sweep = arc_of(start, end, bulge)
    count = max(1, math.ceil(abs(sweep) / (math.pi / 2) - 1e-9))
    step = sweep / count
    handle = 4 / 3 * math.tan(step / 4) * radius
    for number in range(count):
        a, b = angle + number * step, angle + (number + 1) * step
        ax, ay = cx + radius * math.cos(a), cy + radius * math.sin(a)
        bx, by = cx + radius * math.cos(b), cy + radius * math.sin(b)
        yield (
            ax - handle * math.sin(a), ay + handle * math.cos(a),
            bx + handle * math.sin(b), by - handle * math.cos(b), bx, by,
        )  # fmt: skip


def _fitting(text: str, room_mm: MM, size_pt: float, bold: bool) -> int:
    """Return how many letters of a text fit, at least one."""
    counts = range(1, len(text) + 1)
    return max(1, bisect_right(counts, room_mm, key=lambda n: width_mm(text[:n], size_pt, bold=bold)))


@lru_cache(maxsize=512)
def _colour(text: str) -> Any:
    return HexColor(text)


def ready_fonts() -> None:
    """Have the shipped fonts at hand for whoever names them."""
    _fonts()


@lru_cache(maxsize=1)
def _fonts() -> tuple[Any, Any]:
    """Register the shipped fonts once, and return them."""
    fonts = TTFont(FONT, str(font_path(FONT))), TTFont(FONT_BOLD, str(font_path(FONT_BOLD)))
    for font in fonts:
        pdfmetrics.registerFont(font)  # pyright: ignore[reportUnknownMemberType]
    return fonts


@lru_cache(maxsize=1)
def _glyphs() -> frozenset[int]:
    """Return the characters that both weights can print, control characters left out."""
    plain, bold = (set(font.face.charToGlyph) for font in _fonts())
    return frozenset(code for code in plain & bold if code >= 0x20 and not 0x7F <= code <= 0x9F)
