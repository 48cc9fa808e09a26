"""The sheet of the clearance map: its ground painted once, over it the path with way-points that can be
dragged.
"""

from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QColor, QKeyEvent, QMouseEvent, QPainter, QPixmap
from PySide6.QtWidgets import QWidget

from rampdraft.app import theme
from rampdraft.app.canvas.grip_canvas import GripCanvas
from rampdraft.app.canvas.knob import PAGES
from rampdraft.app.canvas.painting import Brush, Stroke, strokes_of
from rampdraft.drawing.ink import Ink


class MapCanvas(GripCanvas):
    """Says what hands do on the map where no way-point is; places are those of the picture."""

    hovered = Signal(object)
    """Place under the pointer, or None."""
    went = Signal(object)
    """Pressed, or dragged to, a place where no way-point is."""

    apart_px = 10

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self._live: tuple[Stroke, ...] = ()
        self._live_greyed = False
        self._ground: tuple[object, QPixmap] | None = None
        self._pressed_on = False
        """The button is held where no way-point is."""

    def show_live(self, marks: tuple[Ink, ...], *, greyed: bool) -> None:
        """Show the path and what else moves, over the picture."""
        self._live, self._live_greyed = strokes_of(marks), greyed
        self.update()

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
            Brush(inside, self._view(), theme.current(), self, self.letters).strokes(self._strokes)
            inside.end()
            self._ground = (key, copy)
        painter.drawPixmap(0, 0, self._ground[1])

    def _paint_over(self, painter: QPainter, brush: Brush) -> None:
        painter.setOpacity(0.35 if self._live_greyed else 1.0)
        brush.strokes(self._live)
        painter.resetTransform()
        painter.setOpacity(1.0)
        super()._paint_over(painter, brush)

    def pull(self, at: QPointF, *, fine: bool) -> None:
        """Drag the way-point in hand along to a place in pixels, which is pointed at too."""
        super().pull(at, fine=fine)
        self.hovered.emit(self.place_of(at))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Go to a place; the middle button takes the sheet."""
        if event.button() == Qt.MouseButton.MiddleButton:
            super().mousePressEvent(event)
        elif event.button() == Qt.MouseButton.LeftButton:
            self._pressed_on = True
            self.setFocus(Qt.FocusReason.MouseFocusReason)
            self.went.emit(self.place_of(event.position()))

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go along while the button is held, and say what is under the pointer."""
        self._words_at = event.position()
        if self._grabbed is not None:
            super().mouseMoveEvent(event)
        elif self._pressed_on:
            self.went.emit(self.place_of(event.position()))
        else:
            self.setCursor(Qt.CursorShape.CrossCursor)
        self.hovered.emit(self.place_of(event.position()))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if self._grabbed is not None:
            super().mouseReleaseEvent(event)
        self._pressed_on = False
        self.unsetCursor()

    def leaveEvent(self, event: QEvent) -> None:
        """Nothing is pointed at any more."""
        super().leaveEvent(event)
        if not self.dragging:
            self.hovered.emit(None)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Choose a way-point with Page Up and Page Down."""
        key = Qt.Key(event.key())
        if key in PAGES:
            self.turn(PAGES[key])
        else:
            super().keyPressEvent(event)
