"""The sheet of the clearance map: its ground painted once, over it the path with way-points that can be
dragged.
"""

from typing import Final

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPen, QPixmap
from PySide6.QtWidgets import QWidget

from rampdraft.app import theme
from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.canvas.painting import Brush, Shape, Stroke, strokes_of
from rampdraft.drawing.ink import Ink, Path

REACH_PX: Final = 9
"""How near the pointer must come to a way-point."""

ARROWS: Final = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, 1), Qt.Key.Key_Down: (0, -1),
}  # fmt: skip


class MapCanvas(Canvas):
    """Says what hands do on the map; places are those of the picture."""

    hovered = Signal(object)
    """Place under the pointer, or None."""
    went = Signal(object)
    """Pressed, or dragged to, a place where no way-point is."""
    took = Signal(int)
    """A way-point was taken hold of."""
    dragged = Signal(object, bool)
    """The way-point in hand was dragged to a place; finely or not."""
    dropped = Signal()
    """The way-point in hand was let go."""
    gave_back = Signal()
    """Esc: the way-point in hand goes back."""
    nudged = Signal(int, int, bool)
    """An arrow key: steps across and up; finely or not."""
    turned = Signal(int)
    """Page Up or Page Down: the way-point after, or before."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self._live: tuple[Stroke, ...] = ()
        self._live_greyed = False
        self._ground: tuple[object, QPixmap] | None = None
        self._chosen = -1
        self._words: tuple[str, ...] = ()
        self._words_at = QPointF()
        self._hand = ""
        """What is being dragged: `way-point`, `cursor` or nothing."""

    def show_live(self, marks: tuple[Ink, ...], *, greyed: bool) -> None:
        """Show the path and what else moves, over the picture."""
        self._live, self._live_greyed = strokes_of(marks), greyed
        self.update()

    def choose(self, number: int) -> None:
        """Show a way-point as the one that keys move; -1 for none."""
        self._chosen = number
        self.update()

    def say(self, words: tuple[str, ...]) -> None:
        """Show words at the pointer."""
        if words != self._words:
            self._words = words
            self.update()

    @property
    def dragging(self) -> bool:
        """Return whether a way-point is in hand."""
        return self._hand == "way-point"

    def let_go(self) -> None:
        """Drop what is in hand without saying so."""
        self._hand = ""
        self.unsetCursor()

    def way_point_at(self, at: QPointF) -> Path | None:
        """Return the mark of the nearest way-point within reach of a place in pixels."""
        view, near = self._view(), dict[float, Path]()
        for shape in self._live:
            if isinstance(shape, Shape) and shape.mark.number is not None:
                away = view.map(shape.path.boundingRect().center()) - at
                near.setdefault((away.x() ** 2 + away.y() ** 2) ** 0.5, shape.mark)
        nearest = min(near, default=REACH_PX)
        return near[nearest] if nearest < REACH_PX else None

    def _paint_picture(self, painter: QPainter, brush: Brush) -> None:
        """Paint the ground, from a copy while nothing about it changes."""
        ratio = self.devicePixelRatioF()
        key = (self._strokes, self._view(), self.size(), ratio, theme.current())
        if self._ground is None or self._ground[0] != key:
            copy = QPixmap(self.size() * ratio)
            copy.setDevicePixelRatio(ratio)
            copy.fill(QColor(theme.current().paper))
            inside = QPainter(copy)
            inside.setRenderHint(QPainter.RenderHint.Antialiasing)
            Brush(inside, self._view(), theme.current(), self).strokes(self._strokes)
            inside.end()
            self._ground = (key, copy)
        painter.drawPixmap(0, 0, self._ground[1])

    def _paint_over(self, painter: QPainter, brush: Brush) -> None:
        self._paint_way(painter, brush)
        super()._paint_over(painter, brush)

    def _paint_way(self, painter: QPainter, brush: Brush) -> None:
        painter.setOpacity(0.35 if self._live_greyed else 1.0)
        marks = (shape.mark for shape in self._live if isinstance(shape, Shape))
        chosen = frozenset(mark.owner for mark in marks if mark.number == self._chosen)
        brush.strokes(self._live, chosen, self._hovered)
        painter.resetTransform()
        painter.setOpacity(1.0)
        if not self._words:
            return
        painter.setFont(self.font())
        metrics, colours = painter.fontMetrics(), theme.current()
        width = max(metrics.horizontalAdvance(line) for line in self._words) + 12
        height = metrics.lineSpacing() * len(self._words) + 8
        x, y = self._words_at.x() + 14, self._words_at.y() + 16
        x = x if x + width < self.width() - 4 else max(self._words_at.x() - 14 - width, 4.0)
        y = y if y + height < self.height() - 4 else self._words_at.y() - 10 - height
        box = QRectF(x, y, width, height)
        painter.fillRect(box, QColor(colours.paper))
        painter.setPen(QPen(QColor(colours.quiet), 1))
        painter.drawRect(box)
        painter.setPen(QColor(colours.ink))
        for number, line in enumerate(self._words):
            painter.drawText(QPointF(x + 6, y + 4 + metrics.ascent() + number * metrics.lineSpacing()), line)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take a way-point, or go to a place; the middle button takes the sheet."""
        if event.button() == Qt.MouseButton.MiddleButton:
            super().mousePressEvent(event)
        elif event.button() == Qt.MouseButton.LeftButton:
            mark = self.way_point_at(event.position())
            self._hand = "way-point" if mark is not None else "cursor"
            if mark is not None:
                self.took.emit(mark.number)
            else:
                self.went.emit(self.place_of(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Drag what is in hand, or say what is under the pointer."""
        at = event.position()
        self._words_at = at
        if self._grabbed is not None:
            super().mouseMoveEvent(event)
        elif self._hand == "way-point":
            self.dragged.emit(self.place_of(at), bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier))
        elif self._hand == "cursor":
            self.went.emit(self.place_of(at))
        else:
            mark = self.way_point_at(at)
            self._hover(mark.owner if mark is not None else "")
            self.setCursor(Qt.CursorShape.SizeAllCursor if mark is not None else Qt.CursorShape.CrossCursor)
        self.hovered.emit(self.place_of(at))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self._grabbed is not None:
            super().mouseReleaseEvent(event)
        hand = self._hand
        self.let_go()
        if hand == "way-point":
            self.dropped.emit()

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is pointed at any more."""
        super().leaveEvent(event)
        self.hovered.emit(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the chosen way-point with the arrow keys, choose another with Page Up and Page Down, give back
        with Esc.
        """
        key = Qt.Key(event.key())
        fine = bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
        if key == Qt.Key.Key_Escape and (self.dragging or self._chosen >= 0):
            self.let_go()
            self.gave_back.emit()
        elif key in ARROWS and self._chosen >= 0:
            self.nudged.emit(*ARROWS[key], fine)
        elif key in (Qt.Key.Key_PageUp, Qt.Key.Key_PageDown):
            self.turned.emit(1 if key == Qt.Key.Key_PageUp else -1)
        else:
            super().keyPressEvent(event)
