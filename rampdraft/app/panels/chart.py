"""The strip under the scrubber: clearance over the fold, with the stages and the place shown."""

from typing import TYPE_CHECKING, Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, QSizeF, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from rampdraft.app import format, theme
from rampdraft.app.canvas import inks

if TYPE_CHECKING:
    from rampdraft.mechanics.results import Clearance, FoldResult

EDGE_PX: Final = 7
"""Half the scrubber's handle: share 0 and 1 lie under the middle of the handle."""
CEILING: Final = 4.0
"""The strip ends at this many times the demanded clearance (10 mm at least): what is wide open needs no figure."""

Curve = tuple[tuple[float, ...], tuple[float, ...]]
"""Shares of the path, and the least clearance at each."""


def curve_of(clearance: "Clearance") -> Curve:
    """Return the sampled clearance, with the tightest place of each pair put in between its samples."""
    least: dict[float, float] = dict(zip(clearance.at.tolist(), clearance.clearance_mm.tolist(), strict=True))
    for pair in clearance.pairs:
        between = float(np.interp(pair.at, clearance.at, clearance.clearance_mm))
        if pair.clearance_mm < min(between, least.get(pair.at, between)):
            least[pair.at] = pair.clearance_mm
    knots = sorted(least.items())
    return tuple(share for share, _ in knots), tuple(value for _, value in knots)


class ClearanceChart(QWidget):
    """Clearance over the share of the fold. Pressing or dragging goes to a place."""

    went = Signal(float)
    """Share of the path that was pressed."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Clearance over the fold")
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setToolTip("Clearance over the fold; the dashed line is the clearance demanded")
        self._fold: FoldResult | None = None
        self._demanded_mm = 0.0
        self._curve: Curve = ((0.0, 1.0), (0.0, 0.0))
        self._share = 0.0
        self._greyed = False

    def sizeHint(self) -> QSize:
        """Return a strip some five lines high."""
        return QSize(200, self.fontMetrics().lineSpacing() * 5)

    def show_fold(self, fold: "FoldResult", demanded_mm: float, greyed: bool) -> None:
        """Show the clearance of a fold."""
        self._fold, self._demanded_mm, self._greyed = fold, demanded_mm, greyed
        self._curve = curve_of(fold.clearance)
        tightest = fold.clearance.tightest
        self.setAccessibleDescription(
            f"Least {format.number(tightest.clearance_mm, 1)} mm, {tightest.what}, at {100 * tightest.at:.0f} % of the way; "
            f"{format.number(demanded_mm)} mm demanded"
        )
        self.update()

    def show_nothing(self) -> None:
        """Show an empty strip."""
        self._fold = None
        self.update()

    def set_share(self, share: float) -> None:
        """Move the cursor."""
        self._share = share
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint curve, limits, stages and cursor."""
        painter = QPainter(self)
        colours = theme.current()
        painter.fillRect(self.rect(), QColor(colours.paper))
        if self._fold is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setOpacity(0.4 if self._greyed else 1.0)
        at_share, clearance_mm = self._curve
        top = max(10.0, CEILING * self._demanded_mm)
        low = min(0.0, max(min(clearance_mm), -3 * top))
        room = QRectF(self.rect()).adjusted(EDGE_PX, 6, -EDGE_PX, -6)

        def at(share: float, value: float) -> QPointF:
            up = (min(max(value, low), top) - low) / (top - low)
            return QPointF(room.left() + share * room.width(), room.bottom() - up * room.height())

        self._paint_clashes(painter, room, colours)
        for stage in self._fold.path.stages[:-1]:
            painter.setPen(QPen(QColor(colours.rule), 1))
            painter.drawLine(QPointF(at(stage.end, low).x(), room.top()), QPointF(at(stage.end, low).x(), room.bottom()))
        painter.setPen(QPen(QColor(colours.quiet), 1))
        painter.drawLine(at(0, 0), at(1, 0))
        painter.setPen(QPen(QColor(colours.quiet), 1, Qt.PenStyle.DashLine))
        painter.drawLine(at(0, self._demanded_mm), at(1, self._demanded_mm))
        painter.setPen(QColor(colours.quiet))
        words = f"{format.number(self._demanded_mm)} mm demanded"
        width = painter.fontMetrics().horizontalAdvance(words)
        place = at(1, self._demanded_mm) + QPointF(-width, 1)
        painter.fillRect(QRectF(place, QSizeF(width, painter.fontMetrics().height())), QColor(colours.paper))
        painter.drawText(place + QPointF(0, painter.fontMetrics().ascent()), words)
        curve = QPolygonF([at(x, y) for x, y in zip(at_share, clearance_mm, strict=True)])
        painter.setPen(QPen(QColor(colours.ink), 1.4))
        painter.drawPolyline(curve)
        now = float(np.interp(self._share, at_share, clearance_mm))
        painter.setPen(QPen(QColor(colours.accent), 1.4))
        painter.drawLine(QPointF(at(self._share, 0).x(), room.top() - 4), QPointF(at(self._share, 0).x(), room.bottom() + 4))
        painter.setBrush(QColor(colours.accent))
        painter.drawEllipse(at(self._share, now), 3, 3)
        self._paint_figure(painter, now, top, at(self._share, now), colours)

    def _paint_clashes(self, painter: QPainter, room: QRectF, colours: theme.Theme) -> None:
        assert self._fold is not None
        for start, end in self._fold.clearance.spans_clashing:
            span = QRectF(room.left() + start * room.width(), room.top(), max((end - start) * room.width(), 2), room.height())
            painter.fillRect(span, QColor(inks.current().fills["clash"]))
            painter.fillRect(span, QBrush(QColor(colours.accent), Qt.BrushStyle.BDiagPattern))

    def _paint_figure(self, painter: QPainter, now: float, top: float, spot: QPointF, colours: theme.Theme) -> None:
        about = "" if self._share in self._curve[0] else "about "
        words = f"over {format.number(top)} mm" if now > top else f"{about}{format.number(now, 1)} mm"
        width = painter.fontMetrics().horizontalAdvance(words)
        right = spot.x() + 8 + width < self.width()
        left = spot.x() + 8 if right else spot.x() - 8 - width
        height = painter.fontMetrics().height()
        box = QRectF(left - 2, (self.height() - height) / 2, width + 4, height)
        painter.fillRect(box, QColor(colours.paper))
        painter.setPen(QColor(colours.ink))
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, words)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go to the place pressed."""
        self._go(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer while a button is held."""
        self._go(event)

    def _go(self, event: QMouseEvent) -> None:
        share = (event.position().x() - EDGE_PX) / max(self.width() - 2 * EDGE_PX, 1)
        self.went.emit(min(max(share, 0.0), 1.0))
