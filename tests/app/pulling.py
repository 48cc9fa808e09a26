"""A mouse over a canvas, as a person uses it: what is pressed gets all until it is let go."""

from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtWidgets import QApplication, QWidget

from rampdraft.app.canvas.grip_canvas import GripCanvas
from rampdraft.app.canvas.knob import SIZE_PX

MIDDLE = QPointF(SIZE_PX / 2, SIZE_PX / 2)


class Mouse:
    def __init__(self, canvas: GripCanvas) -> None:
        self._canvas = canvas
        self._held: QWidget | None = None

    def send(self, kind: QEvent.Type, at: QPointF, *, fine: bool = False) -> None:
        over = self._held or self._canvas.childAt(at.toPoint()) or self._canvas
        left, none = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
        held = none if kind == QEvent.Type.MouseButtonRelease or self._held is None else left
        held = left if kind == QEvent.Type.MouseButtonPress else held
        changed = none if kind == QEvent.Type.MouseMove else left
        keys = Qt.KeyboardModifier.ShiftModifier if fine else Qt.KeyboardModifier.NoModifier
        place = QPointF(over.mapFrom(self._canvas, QPointF(at)))
        event = QMouseEvent(kind, place, QPointF(over.mapToGlobal(place)), changed, held, keys)
        QApplication.sendEvent(over, event)
        if kind == QEvent.Type.MouseButtonPress:
            self._held = over
        elif kind == QEvent.Type.MouseButtonRelease:
            self._held = None

    def press(self, at: QPointF) -> None:
        self.send(QEvent.Type.MouseButtonPress, at)

    def move(self, at: QPointF, *, fine: bool = False) -> None:
        self.send(QEvent.Type.MouseMove, at, fine=fine)

    def release(self, at: QPointF) -> None:
        self.send(QEvent.Type.MouseButtonRelease, at)


def grip_at(canvas: GripCanvas, key: str) -> QPointF:
    """Return where a grip is, in pixels."""
    return QPointF(canvas.knobs[key].pos()) + MIDDLE
