"""The mark beside each verdict: told by its shape, with the word always next to it."""

from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen

from rampdraft.app.theme import Theme
from rampdraft.checks.result import Status

WORDS: Final[dict[Status, str]] = {
    Status.EXCEEDS: "exceeds",
    Status.CLOSE: "close",
    Status.WITHIN: "within",
    Status.UNJUDGED: "not judged",
}
"""Short, for counting."""


def paint_mark(painter: QPainter, status: Status, box: QRectF, theme: Theme) -> None:
    """Paint the mark of a verdict: a full lozenge, a half-filled one, an open ring with a dot, or a dashed
    ring.
    """
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    colour = QColor({Status.EXCEEDS: theme.accent, Status.CLOSE: theme.accent}.get(status, theme.quiet))
    pen = QPen(colour, 1.5)
    pen.setJoinStyle(Qt.PenJoinStyle.MiterJoin)
    inside = box.adjusted(1.5, 1.5, -1.5, -1.5)
    middle = inside.center()
    if status in (Status.EXCEEDS, Status.CLOSE):
        lozenge = _closed(
            QPointF(middle.x(), inside.top()),
            QPointF(inside.right(), middle.y()),
            QPointF(middle.x(), inside.bottom()),
            QPointF(inside.left(), middle.y()),
        )
        half = _closed(
            QPointF(inside.left(), middle.y()),
            QPointF(inside.right(), middle.y()),
            QPointF(middle.x(), inside.bottom()),
        )
        painter.fillPath(lozenge if status is Status.EXCEEDS else half, colour)
        painter.strokePath(lozenge, pen)
    elif status is Status.WITHIN:
        painter.setPen(pen)
        painter.drawEllipse(inside)
        painter.setBrush(colour)
        painter.drawEllipse(middle, 1.6, 1.6)
    else:
        pen.setStyle(Qt.PenStyle.DotLine)
        painter.setPen(pen)
        painter.drawEllipse(inside)
    painter.restore()


def _closed(*points: QPointF) -> QPainterPath:
    path = QPainterPath(points[0])
    for point in points[1:]:
        path.lineTo(point)
    path.closeSubpath()
    return path
