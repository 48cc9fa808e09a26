"""The strips under the scrubber: clearance and hand force over the fold, with the stages and the place
shown.
"""

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
from PySide6.QtCore import QPointF, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QBrush, QColor, QMouseEvent, QPainter, QPaintEvent, QPen, QPolygonF
from PySide6.QtWidgets import QSizePolicy, QWidget

from rampdraft.app import theme
from rampdraft.app.canvas import inks
from rampdraft.app.form import format

if TYPE_CHECKING:
    from rampdraft.evaluation.evaluate import Evaluation

EDGE_PX: Final = 7
"""Half the scrubber's handle: share 0 and 1 lie under the middle of the handle."""

Curve = tuple[tuple[float, float], ...]
"""Shares of the path, rising, and the values there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What a strip shows."""

    words: str
    said: str
    """For a screen reader."""
    unit: str
    decimals: int
    low: float
    top: float
    runs: tuple[Curve, ...]
    """Unbroken pieces of the curve."""
    limits: tuple[tuple[float, str], ...]
    ends: tuple[float, ...]
    """Shares where stages end."""
    marked: tuple[float, float]
    """Share and value of the place that counts most: the tightest one, or the peak."""
    extreme: str
    """That place in words."""
    gap: str
    """What is said where the curve is broken."""
    sampled: bool = False
    """Whether the curve is only about right between its points."""
    clashes: tuple[tuple[float, float], ...] = ()

    def value(self, share: float) -> float:
        """Return the value at a share; where two runs meet, that of the later one. NaN where there is
        none.
        """
        for run in reversed(self.runs):
            if run[0][0] <= share <= run[-1][0]:
                return float(np.interp(share, [at for at, _ in run], [value for _, value in run]))
        return math.nan


def clearance_strip(evaluation: "Evaluation") -> Strip:
    """Return the clearance over the fold."""
    from rampdraft.drawing.charts import CEILING, clearance_curve

    fold, demanded = evaluation.fold, evaluation.design.fold.clearance_mm
    curve, tightest = clearance_curve(fold.clearance), fold.clearance.tightest
    top = max(10.0, CEILING * demanded)
    return Strip(
        words="Clearance",
        said=(
            f"Least {format.number(tightest.clearance_mm, 1)} mm, {tightest.what}, at {100 * tightest.at:.0f}"
            f" % of the way; {format.number(demanded)} mm demanded"
        ),
        unit="mm",
        decimals=1,
        low=min(0.0, max(min(value for _, value in curve), -3 * top)),
        top=top,
        runs=(curve,),
        limits=((demanded, f"{format.number(demanded)} mm demanded"),),
        ends=tuple(stage.end for stage in fold.path.stages[:-1]),
        marked=(tightest.at, tightest.clearance_mm),
        extreme=f"least {format.number(tightest.clearance_mm, 1)} mm",
        gap="",
        sampled=True,
        clashes=fold.clearance.spans_clashing,
    )


def force_strip(evaluation: "Evaluation") -> Strip:
    """Return the hand force over the fold."""
    from rampdraft.drawing.charts import force_limits, force_runs

    hand = evaluation.fold.hand
    runs, limits, peak = force_runs(hand), force_limits(evaluation), hand.peak
    values = [value for run in runs for _, value in run]
    least, most = min(0.0, *values) if values else 0.0, max(0.0, *values) if values else 0.0
    size = (
        "no handle moves one of the stages"
        if math.isnan(peak.peak_n)
        else f"Peak {format.number(peak.peak_n, 0)} N"
    )
    return Strip(
        words="Hand force",
        said=f"{size} at the {peak.handle}, at {100 * peak.at:.0f} % of the way",
        unit="N",
        decimals=0,
        low=1.1 * least,
        top=1.1 * max(most, *(limit for limit, _ in limits)),
        runs=runs,
        limits=limits,
        ends=tuple(stage.end for stage in evaluation.fold.path.stages[:-1]),
        marked=(peak.at, peak.peak_n),
        extreme=(
            "" if math.isnan(peak.peak_n) else f"peak {format.number(peak.peak_n, 0)} N at the {peak.handle}"
        ),
        gap="no handle moves it",
    )


class Chart(QWidget):
    """Paints a strip with a cursor. Pressing or dragging goes to a place."""

    went = Signal(float)
    """Share of the path that was pressed."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.strip: Strip | None = None
        self._share = 0.0
        self._greyed = False

    def sizeHint(self) -> QSize:
        """Return a strip with a line of words and three of curve."""
        return QSize(200, int(self.fontMetrics().lineSpacing() * 4.4))

    def show_strip(self, strip: Strip | None, *, greyed: bool = False) -> None:
        """Show a strip, or none."""
        self.strip, self._greyed = strip, greyed
        self.setAccessibleDescription(strip.said if strip is not None else "")
        self.setToolTip(strip.said if strip is not None else "")
        self.update()

    def set_share(self, share: float) -> None:
        """Move the cursor."""
        self._share = share
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint curve, limits, stages and cursor."""
        painter = QPainter(self)
        colours, strip = theme.current(), self.strip
        painter.fillRect(self.rect(), QColor(colours.paper))
        if strip is None:
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setOpacity(0.4 if self._greyed else 1.0)
        self._paint_words(painter, strip, colours)
        room = QRectF(self.rect()).adjusted(EDGE_PX, painter.fontMetrics().height() + 6, -EDGE_PX, -5)

        left, wide, foot, low, top = room.left(), room.width(), room.bottom(), strip.low, strip.top
        per_unit = room.height() / (top - low)

        def at(share: float, value: float) -> QPointF:
            return QPointF(left + share * wide, foot - (min(max(value, low), top) - low) * per_unit)

        for start, end in strip.clashes:
            span = QRectF(left + start * wide, room.top(), max((end - start) * wide, 2), room.height())
            painter.fillRect(span, QColor(inks.current().fills["clash"]))
            painter.fillRect(span, QBrush(QColor(colours.accent), Qt.BrushStyle.BDiagPattern))
        painter.setPen(QPen(QColor(colours.rule), 1))
        for end in strip.ends:
            painter.drawLine(QPointF(at(end, 0).x(), room.top()), QPointF(at(end, 0).x(), room.bottom()))
        painter.setPen(QPen(QColor(colours.quiet), 1))
        painter.drawLine(at(0, 0), at(1, 0))
        painter.setPen(QPen(QColor(colours.quiet), 1, Qt.PenStyle.DashLine))
        for limit, _ in strip.limits:
            painter.drawLine(at(0, limit), at(1, limit))
        painter.setPen(QPen(QColor(colours.ink), 1.0))
        for run in strip.runs:
            painter.drawPolyline(QPolygonF([at(share, value) for share, value in run]))
        share, value = strip.marked
        if not math.isnan(value):
            painter.setBrush(QColor(colours.paper))
            painter.drawEllipse(at(share, value), 3, 3)
        now, x = strip.value(self._share), at(self._share, 0).x()
        painter.setPen(QPen(QColor(colours.accent), 1.4))
        painter.drawLine(QPointF(x, room.top() - 3), QPointF(x, room.bottom() + 3))
        if not math.isnan(now):
            painter.setBrush(QColor(colours.accent))
            painter.drawEllipse(at(self._share, now), 3, 3)

    def _paint_words(self, painter: QPainter, strip: Strip, colours: theme.Theme) -> None:
        """Paint the line over the curve: what it is and how much here, and the limits, with the extreme where
        there is room.
        """
        metrics = painter.fontMetrics()
        now = strip.value(self._share)
        exact = not strip.sampled or any(self._share == share for run in strip.runs for share, _ in run)
        about = "" if exact else "about "
        here = strip.gap if math.isnan(now) else f"{about}{format.number(now, strip.decimals)} {strip.unit}"
        if now > strip.top:
            here = f"over {format.number(strip.top)} {strip.unit}"
        left = f"{strip.words}: {here}"
        base = 3 + metrics.ascent()
        painter.setPen(QColor(colours.ink))
        painter.drawText(QPointF(EDGE_PX, base), left)
        limits = "; ".join(words for _, words in strip.limits)
        room = self.width() - 3 * EDGE_PX - metrics.horizontalAdvance(left) - 12
        right = next(
            (
                words
                for words in (f"{strip.extreme}; dashed: {limits}".removeprefix("; "), f"dashed: {limits}")
                if metrics.horizontalAdvance(words) <= room
            ),
            metrics.elidedText(limits, Qt.TextElideMode.ElideRight, room),
        )
        painter.setPen(QColor(colours.quiet))
        painter.drawText(QPointF(self.width() - EDGE_PX - metrics.horizontalAdvance(right), base), right)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go to the place pressed."""
        self._go(event)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Follow the pointer while a button is held."""
        self._go(event)

    def _go(self, event: QMouseEvent) -> None:
        share = (event.position().x() - EDGE_PX) / max(self.width() - 2 * EDGE_PX, 1)
        self.went.emit(min(max(share, 0.0), 1.0))
