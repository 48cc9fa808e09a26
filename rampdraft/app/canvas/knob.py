"""A grip on a canvas, as a small widget of its own: so that it has a name, takes the cursor by Tab, and keeps
its size whatever the zoom.
"""

import math
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QEvent, QPointF, QRectF, Qt
from PySide6.QtGui import (
    QAccessible,
    QColor,
    QEnterEvent,
    QFocusEvent,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPaintEvent,
    QPen,
)
from PySide6.QtWidgets import QWidget

from rampdraft.app import theme
from rampdraft.drawing.grips.grip import Grip, heading

if TYPE_CHECKING:
    from rampdraft.app.canvas.grip_canvas import GripCanvas

SIZE_PX: Final = 23
"""Side of the square that can be taken hold of."""
BEGINS_PX: Final = 3
"""A press that moves no further is a click."""

ARROWS: Final = {
    Qt.Key.Key_Left: (-1, 0), Qt.Key.Key_Right: (1, 0), Qt.Key.Key_Up: (0, 1), Qt.Key.Key_Down: (0, -1),
}  # fmt: skip
ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)
TAKE_AWAY: Final = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)
PAGES: Final = {Qt.Key.Key_PageUp: 1, Qt.Key.Key_PageDown: -1}


class Knob(QWidget):
    """One grip: a bar across the way that it goes, or a ring where it goes anywhere. It tells its canvas what
    hands do.
    """

    shows_focus = True
    """It paints a frame of its own, round its middle."""

    def __init__(self, canvas: "GripCanvas", grip: Grip) -> None:
        super().__init__(canvas)
        self._canvas = canvas
        self.grip = grip
        self._pressed: QPointF | None = None
        self.in_hand = False
        """It is being dragged."""
        self._has_room = True
        self.setFixedSize(SIZE_PX, SIZE_PX)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setCursor(Qt.CursorShape.SizeAllCursor)

    @property
    def spoken_role(self) -> QAccessible.Role:
        """Return what it is to a screen reader: a value that arrow keys move, or a point."""
        return QAccessible.Role.Slider if len(self.grip.ways) == 1 else QAccessible.Role.Grip

    @property
    def spoken_value(self) -> str:
        """Return its values as they are written."""
        return self._canvas.valuing(self.grip)

    def stand(self, at: QPointF, *, has_room: bool) -> None:
        """Stand at a place of the canvas; without room it is seen only while it has the cursor."""
        self.move(round(at.x() - SIZE_PX / 2), round(at.y() - SIZE_PX / 2))
        if has_room != self._has_room:
            self._has_room = has_room
            self.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents, not has_room)
            self.update()

    @property
    def strong(self) -> bool:
        """Return whether it is pointed at, in hand, or has the cursor."""
        return self.in_hand or self.hasFocus() or self.underMouse()

    @property
    def seen(self) -> bool:
        """Return whether it is painted."""
        return self._has_room or self.hasFocus() or self.in_hand

    def let_go(self) -> None:
        """Drop what is in hand without saying so."""
        self._pressed, self.in_hand = None, False
        self.update()

    # Hands

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Get ready to be dragged; another button is the canvas's own."""
        if event.button() == Qt.MouseButton.LeftButton:
            self._pressed = self._on_canvas(event)
            self.setFocus(Qt.FocusReason.MouseFocusReason)
        else:
            event.ignore()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Go along once the pointer has left the place where it was pressed."""
        at = self._on_canvas(event)
        if self._pressed is None:
            event.ignore()
            return
        if not self.in_hand:
            if (at - self._pressed).manhattanLength() < BEGINS_PX:
                return
            self.in_hand = True
            self._canvas.take(self, self._pressed)
        if self.in_hand:  # else what takes it did not want it taken
            self._canvas.pull(at, fine=_fine(event))

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go."""
        if event.button() != Qt.MouseButton.LeftButton:
            event.ignore()
            return
        dragged = self.in_hand
        self.let_go()
        if dragged:
            self._canvas.dropped.emit()

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:
        """Have the value typed."""
        self._canvas.entered.emit(self.grip)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move by the arrow keys, be done with Enter, give back with Esc, add with Insert, and take away."""
        key = Qt.Key(event.key())
        if key in ARROWS:
            if not self.in_hand:
                self._canvas.nudged.emit(self.grip, *ARROWS[key], _fine(event))
        elif key in ENTER:
            self._canvas.entered.emit(self.grip)
        elif key == Qt.Key.Key_Escape:
            self.let_go()
            self._canvas.gave_back.emit()
        elif key == Qt.Key.Key_Insert and not self.in_hand:
            self._canvas.another.emit(self.grip)
        elif key in TAKE_AWAY and not self.in_hand:
            self._canvas.removed.emit(self.grip)
        elif key in PAGES and not self.in_hand:
            self._canvas.turn(PAGES[key])
        else:
            event.ignore()

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Be the one that keys move."""
        self.update()
        self._canvas.came_to(self)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Be none of them."""
        self.update()
        self._canvas.left(self, pressed=event.reason() == Qt.FocusReason.MouseFocusReason)

    def enterEvent(self, event: QEnterEvent) -> None:
        """Be pointed at."""
        self.update()
        self._canvas.point_at(self)

    def leaveEvent(self, event: QEvent) -> None:
        """Be pointed at no more."""
        self.update()
        self._canvas.point_at(None)

    def _on_canvas(self, event: QMouseEvent) -> QPointF:
        return QPointF(self.mapToParent(event.position().toPoint())) + (
            event.position() - QPointF(event.position().toPoint())
        )

    # Painting

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint a bar across its way, or a ring; filled while it is pointed at or in hand, framed while it
        has the cursor.
        """
        if not self.seen:
            return
        colours, strong = theme.current(), self.strong or self._canvas.lights(self.grip)
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.translate(SIZE_PX / 2, SIZE_PX / 2)
        if self.hasFocus():
            painter.setPen(QPen(QColor(colours.accent), 1.5))
            painter.drawRoundedRect(QRectF(-10.5, -10.5, 21, 21), 3, 3)
        painter.setPen(QPen(QColor(colours.accent if strong else colours.quiet), 1.5))
        painter.setBrush(QColor(colours.accent if strong else colours.paper))
        if len(self.grip.ways) == 1:
            x, z = heading(self.grip.ways[0], self.grip.at)
            painter.rotate(-math.degrees(math.atan2(z, x)))
            painter.drawRoundedRect(QRectF(-2.5, -7, 5, 14), 2.5, 2.5)
        else:
            painter.drawEllipse(QPointF(), 4.5, 4.5)
        painter.end()


def _fine(event: QMouseEvent | QKeyEvent) -> bool:
    return bool(event.modifiers() & Qt.KeyboardModifier.ShiftModifier)
