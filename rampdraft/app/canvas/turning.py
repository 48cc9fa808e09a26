"""A sheet on which the left button, or the arrow keys, turn what is shown; the rest is as on any sheet."""

from typing import Final

from PySide6.QtCore import QPointF, Qt, Signal
from PySide6.QtGui import QKeyEvent, QMouseEvent
from PySide6.QtWidgets import QWidget

from rampdraft.app.canvas.canvas import REACH_PX, Canvas
from rampdraft.words.say import say

DEG_PER_PX: Final = 0.4
STEP_DEG: Final = 5.0
HELP: Final = (
    "Drag to turn it, or use the arrow keys. With Shift, or the middle button, the sheet is moved. The wheel,"
    " + and - zoom; 0 or a double click shows the whole."
)


class TurningCanvas(Canvas):
    """Says by how much it is to be turned."""

    turned = Signal(float, float)
    """Degrees round, and over the level."""

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(name, parent)
        self.setWhatsThis(say(HELP))
        self.setToolTip(say(HELP))
        self._held: QPointF | None = None
        self._turned = False

    def mousePressEvent(self, event: QMouseEvent) -> None:
        """Take hold of the ramp, or of the sheet."""
        shifted = event.modifiers() & Qt.KeyboardModifier.ShiftModifier
        if event.button() != Qt.MouseButton.LeftButton or shifted:
            super().mousePressEvent(event)
            return
        self._held, self._turned = event.position(), False

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        """Turn while held."""
        if self._held is None:
            super().mouseMoveEvent(event)
            return
        step = event.position() - self._held
        if self._turned or step.manhattanLength() > REACH_PX:
            self._turned, self._held = True, event.position()
            self.setCursor(Qt.CursorShape.ClosedHandCursor)
            self.turned.emit(-step.x() * DEG_PER_PX, step.y() * DEG_PER_PX)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        """Let go; a click that did not turn picks what is there."""
        if self._held is None:
            super().mouseReleaseEvent(event)
            return
        self._held = None
        self.unsetCursor()
        if not self._turned:
            self.picked.emit(self.owner_at(event.position()))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Turn with the arrow keys; with Shift they move the sheet as elsewhere."""
        steps = {
            Qt.Key.Key_Left: (-STEP_DEG, 0.0), Qt.Key.Key_Right: (STEP_DEG, 0.0),
            Qt.Key.Key_Up: (0.0, STEP_DEG), Qt.Key.Key_Down: (0.0, -STEP_DEG),
        }  # fmt: skip
        step = steps.get(Qt.Key(event.key()))
        if step is None or event.modifiers() & Qt.KeyboardModifier.ShiftModifier:
            super().keyPressEvent(event)
        else:
            self.turned.emit(*step)
