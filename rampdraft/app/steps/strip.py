"""The line over everything: the step in hand, what it needs next, and the field that finds anything."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QLabel, QPushButton, QSizePolicy, QWidget

from rampdraft.app.furniture import across, make


class NeedButton(QPushButton):
    """What is needed next, as much of it as there is room for; pressed, it goes there."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self.setProperty("role", "need")
        self.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Preferred)
        self.words = ""

    def say(self, words: str, *, goes: bool) -> None:
        """Say what is needed; `goes` where something can be gone to."""
        self.words = words
        self.setAccessibleName(words)
        self.setEnabled(goes)
        self._elide()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say as much as there is room for."""
        super().resizeEvent(event)
        self._elide()

    def _elide(self) -> None:
        em = self.fontMetrics().horizontalAdvance("m")
        shown = self.fontMetrics().elidedText(self.words, Qt.TextElideMode.ElideRight, self.width() - 2 * em)
        self.setText(shown.replace("&", "&&"))
        self.setToolTip(self.words if shown != self.words else "")


class StepStrip(QWidget):
    """Names the step in hand, and says what it needs."""

    wanted = Signal()
    """What is needed next is to be gone to."""

    def __init__(self, find: QWidget, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.title = make(QLabel, "", self, role="step")
        self.need = NeedButton(self)
        self.need.clicked.connect(self.wanted)
        across((self.title, 0), (self.need, 1), (find, 0), parent=self, margins=(10, 5, 10, 5), spacing=10)

    def show_need(self, title: str, words: str, *, goes: bool) -> None:
        """Show the step in hand, and what it needs next."""
        self.title.setText(title)
        self.need.say(words, goes=goes)
