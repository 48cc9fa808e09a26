"""Ink on a painter: pens and letters keep their size on the screen, whatever the zoom; mm with y up."""

import math
from dataclasses import dataclass
from functools import cache, lru_cache
from itertools import groupby
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import (
    QBrush,
    QColor,
    QFont,
    QFontDatabase,
    QFontMetricsF,
    QPainter,
    QPainterPath,
    QPen,
    QTransform,
)
from PySide6.QtWidgets import QWidget

from rampdraft.app import theme
from rampdraft.drawing.ink import Fill, Ink, Label, Path, Pen
from rampdraft.drawing.style import FONT, FONT_BOLD, STROKES, WASHES, font_path, in_tone
from rampdraft.geometry.outline import arc_of

FAMILY = "DejaVu Sans"
"""Shipped, so that screen and paper show the same letters."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inks:
    """Colours of lines and areas on the screen: those of paper in the light, quieter ones in the dark."""

    pens: dict[Pen, str]
    fills: dict[Fill, str]


_LIGHT: Final = Inks(
    pens={pen: stroke.colour for pen, stroke in STROKES.items()},
    fills={
        **{fill: wash.colour for fill, wash in WASHES.items() if wash is not None},
        "paper": theme.LIGHT.paper,
    },
)

_DARK: Final = Inks(
    pens={
        "outline": "#dcdad3",
        "thin": "#c9c8c2",
        "hidden": "#8f999c",
        "centre": "#8f999c",
        "ground": "#8f8a7e",
        "dimension": "#cfcdc6",
        "accent": theme.DARK.accent,
        "clash": theme.DARK.accent,
        "ghost": "#4d5558",
        "swept": "#2c3133",
        "other": theme.DARK.accent,
        "own": "#dcdad3",
        "edge": "#8b9698",
        "hatch": "#c9c8c2",
    },
    fills={
        "paper": theme.DARK.paper,
        "inner": "#3a4e59",
        "outer": "#43533d",
        "carrier": "#3d3c38",
        "ground": "#322f2a",
        "timber": "#5e5035",
        "tight": "#3f3129",
        "swept": "#2c3133",
        "clash": "#5a3526",
        "tyre": "#565b5d",
        "solid": "#dcdad3",
    },
)


@dataclass(slots=True)
class Shape:
    """A mark and its painter path."""

    mark: Path
    path: QPainterPath


Stroke = Shape | Label


def strokes_of(marks: tuple[Ink, ...]) -> tuple[Stroke, ...]:
    """Return marks ready to be painted, in their order; neighbours of one kind that nobody can point at
    become one.
    """
    found: list[Stroke] = []
    for kind, run in groupby(marks, _kind):
        if kind is None:
            found.extend(mark if isinstance(mark, Label) else Shape(mark, painter_path(mark)) for mark in run)
            continue
        together = tuple(mark for mark in run if isinstance(mark, Path))
        found.append(Shape(together[0], _lines(together) if together[0].fill == "none" else _union(together)))
    return tuple(found)


def _lines(marks: tuple[Path, ...]) -> QPainterPath:
    whole = QPainterPath()
    for mark in marks:
        whole.addPath(painter_path(mark))
    return whole


@lru_cache(maxsize=4)
def _union(marks: tuple[Path, ...]) -> QPainterPath:
    """Return what areas cover together; two by two, since one large union takes seconds."""
    paths = [painter_path(mark) for mark in marks]
    while len(paths) > 1:
        paths = [
            paths[at].united(paths[at + 1]) if at + 1 < len(paths) else paths[at]
            for at in range(0, len(paths), 2)
        ]
    return paths[0]


def _kind(mark: Ink) -> tuple[Pen, Fill] | None:
    """Return the kind of a mark that can be painted together with its neighbours; None for what stands
    alone.
    """
    if isinstance(mark, Label) or mark.owner or mark.fill not in ("none", "swept"):
        return None
    return mark.pen, mark.fill


def painter_path(mark: Path) -> QPainterPath:
    """Return the mark as a painter path.

    QPainterPath counts angles counter-clockwise on a screen whose y runs down; with y up they change sign.
    """
    path = QPainterPath()
    vertices = mark.vertices
    x, y, bulge = vertices[0]
    path.moveTo(x, y)
    following = vertices[1:] + vertices[:1] if mark.closed else vertices[1:]
    for to_x, to_y, next_bulge in following:
        if bulge:
            (cx, cy), radius, start, sweep = arc_of((x, y), (to_x, to_y), bulge)
            square = QRectF(cx - radius, cy - radius, 2 * radius, 2 * radius)
            path.arcTo(square, -math.degrees(start), -math.degrees(sweep))
        else:
            path.lineTo(to_x, to_y)
        x, y, bulge = to_x, to_y, next_bulge
    if mark.closed:
        path.closeSubpath()
    return path


@cache
def family() -> str:
    """Return the font of labels, after making it known to Qt."""
    for name in (FONT, FONT_BOLD):
        QFontDatabase.addApplicationFont(str(font_path(name)))
    return FAMILY


@lru_cache(maxsize=512)
def _pen(colour: str, kind: Pen, strength: int, per_mm: float) -> QPen:
    """Return the pen of a kind of line on a screen with so many pixels a mm."""
    stroke = STROKES[kind]
    pen = QPen(QColor(colour), stroke.width_mm * per_mm)
    pen.setCosmetic(True)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    if stroke.dash_mm:
        pen.setCapStyle(Qt.PenCapStyle.FlatCap)
        pen.setDashPattern([dash / stroke.width_mm for dash in stroke.dash_mm])
    pen.setWidthF(pen.widthF() + (0.0, 0.5, 1.5)[strength])
    return pen


def label_box(label: Label, widget: QWidget, letters: float) -> QRectF:
    """Return the rectangle of a label's letters in pixels, before it is turned: from its place, y down.
    `letters` is how large they are, of their size at 100 %.
    """
    metrics = QFontMetricsF(_font(label.size_pt, letters), widget)
    width = metrics.horizontalAdvance(label.text)
    left = {"left": 0.0, "centre": -width / 2, "right": -width}[label.anchor]
    return QRectF(left, _baseline(label, metrics) - metrics.ascent(), width, metrics.height())


def _font(size_pt: float, letters: float) -> QFont:
    font = QFont(family())
    font.setPointSizeF(size_pt * letters)
    return font


def _baseline(label: Label, metrics: QFontMetricsF) -> float:
    """Return how far below a label's place its letters stand: a boxed one has its middle there."""
    return metrics.capHeight() / 2 if label.boxed else 0.0


class Brush:
    """Paints marks on a widget through a view; letters as large as everywhere, or as told."""

    def __init__(
        self,
        painter: QPainter,
        view: QTransform,
        colours: theme.Theme,
        widget: QWidget,
        letters: float | None = None,
    ) -> None:
        self._painter, self._view, self._colours, self._widget = painter, view, colours, widget
        self._letters = theme.text_scale() if letters is None else letters
        self._inks = _DARK if theme.is_dark() else _LIGHT
        self._back = view.inverted()[0]
        self._per_mm = widget.logicalDpiX() / 25.4
        self._looks: dict[tuple[Pen, Fill, float, int], tuple[QPen, QBrush, bool]] = {}
        self._in_view = False
        """Whether the painter's transform is the view's."""

    def strokes(
        self, strokes: tuple[Stroke, ...], lit: frozenset[str] = frozenset(), hovered: str = ""
    ) -> None:
        """Paint strokes; those of `lit` owners strongly, those of the `hovered` one a little."""
        for stroke in strokes:
            owner = stroke.owner if isinstance(stroke, Label) else stroke.mark.owner
            strength = 0 if not owner else 2 if owner in lit else 1 if owner == hovered else 0
            if isinstance(stroke, Label):
                self.label(stroke, strength)
            else:
                self.shape(stroke, strength)

    def shape(self, shape: Shape, strength: int) -> None:
        """Paint lines and areas; strength 1 is pointed at, 2 is picked."""
        mark, painter = shape.mark, self._painter
        look = mark.pen, mark.fill, mark.tone, strength
        found = self._looks.get(look)
        if found is None:
            found = self._looks[look] = self._look(mark, strength)
        pen, brush, hatched = found
        if not self._in_view:
            painter.setTransform(self._view)
            self._in_view = True
        painter.setPen(pen)
        painter.setBrush(brush)
        if hatched:
            painter.fillPath(shape.path, brush)
            hatch = QBrush(QColor(self._inks.pens["clash"]), Qt.BrushStyle.BDiagPattern)
            hatch.setTransform(self._back)  # so that its pitch stays the same at any zoom
            painter.setBrush(hatch)
        painter.drawPath(shape.path)

    def _look(self, mark: Path, strength: int) -> tuple[QPen, QBrush, bool]:
        """Return pen and brush of a mark, and whether it is hatched."""
        table, wash = self._inks, WASHES[mark.fill]
        filled = in_tone(table.fills[mark.fill], mark.tone) if mark.fill != "none" else ""
        own = mark.pen == "own" and filled
        colour = filled if own else self._colours.accent if strength else table.pens[mark.pen]
        pen = _pen(colour, mark.pen, 0 if own else strength, self._per_mm)
        brush = QBrush(QColor(filled)) if filled else QBrush(Qt.BrushStyle.NoBrush)
        return pen, brush, wash is not None and wash.hatched

    def label(self, label: Label, strength: int) -> None:
        """Paint a label upright to its own angle."""
        font = _font(label.size_pt, self._letters)
        box = label_box(label, self._widget, self._letters)
        painter, self._in_view = self._painter, False
        painter.resetTransform()
        painter.translate(self._view.map(QPointF(*label.at)))
        painter.rotate(-label.angle_deg)
        if label.boxed:
            painter.fillRect(box.adjusted(-3, -1, 3, 1), QColor(self._colours.paper))
        painter.setFont(font)
        painter.setPen(QColor(self._colours.accent if strength else self._inks.pens[label.pen]))
        metrics = QFontMetricsF(font, self._widget)
        painter.drawText(QPointF(box.left(), _baseline(label, metrics)), label.text)

    def note(self, words: str) -> None:
        """Paint a note over the whole, at the top."""
        painter, self._in_view = self._painter, False
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setFont(self._widget.font())
        room = self._widget.rect().adjusted(30, 14, -30, 0)
        flags = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextWordWrap
        box = painter.boundingRect(room, flags, words)
        framed = box.adjusted(-10, -6, 10, 6)
        painter.fillRect(framed, QColor(self._colours.paper))
        painter.setPen(QPen(QColor(self._colours.accent), 1))
        painter.drawRect(framed)
        painter.setPen(QColor(self._colours.ink))
        painter.drawText(box, flags, words)
