"""A strip over the views that tells how a question about the fold came out, and offers what can be done
next.
"""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QLabel,
    QProgressBar,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

Offer = tuple[str, str, Callable[[], object]]
"""Words, the button's words, and what it does."""

ROWS_SHOWN: Final = 5


class Notice(QFrame):
    """Shows progress with a way to cancel, or words with buttons. Hidden while there is nothing to tell."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self.setAccessibleName("Answer")
        self._act: dict[QPushButton, Callable[[], object]] = {}
        self._words = QLabel(self)
        self._words.setWordWrap(True)
        self._words.setTextFormat(Qt.TextFormat.PlainText)
        self._words.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
        self.bar = QProgressBar(self)
        self.bar.setAccessibleName("Progress")
        self.bar.setTextVisible(False)
        self.bar.setFixedHeight(8)
        self.close_button = QPushButton("Close", self)
        self.close_button.clicked.connect(self._closed)
        self._cancel: Callable[[], object] | None = None
        self._offers = QWidget()
        self._column = QVBoxLayout(self._offers)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(3)
        self._scroll = QScrollArea(self)
        self._scroll.setWidgetResizable(True)
        self._scroll.setFrameShape(QFrame.Shape.NoFrame)
        self._scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self._scroll.setWidget(self._offers)
        top = QHBoxLayout()
        top.addWidget(self._words, 1)
        top.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 8, 10, 8)
        column.setSpacing(6)
        column.addLayout(top)
        column.addWidget(self.bar)
        column.addWidget(self._scroll)
        self.hide()

    @property
    def words(self) -> str:
        """Return what is told, empty for nothing."""
        return self._words.text() if not self.isHidden() else ""

    @property
    def buttons(self) -> tuple[QPushButton, ...]:
        """Return the buttons offered."""
        return tuple(self._act)

    def work(self, words: str, cancel: Callable[[], object]) -> None:
        """Tell what is being worked out, with a way to call it off."""
        self._put(words, ())
        self._cancel = cancel
        self.bar.setRange(0, 0)
        self.bar.show()
        self.close_button.setText("Cancel")

    def progress(self, share: float, words: str) -> None:
        """Tell how far it is."""
        self.bar.setRange(0, 100)
        self.bar.setValue(round(100 * share))
        if words:
            self._words.setText(words)

    def tell(self, words: str, offers: tuple[Offer, ...] = ()) -> None:
        """Tell how it came out, with what can be done next."""
        self._put(words, offers)

    def outdate(self, words: str) -> None:
        """What is told is no longer of the ramp in hand: say so and let its buttons do nothing, or hide what
        has none.
        """
        if self.isHidden() or self._cancel is not None:
            return
        if not self._act:
            self.dismiss()
        self._words.setText(words)
        for button in self._act:
            button.setEnabled(False)

    def dismiss(self) -> None:
        """Hide it."""
        self._cancel = None
        self.hide()

    def _put(self, words: str, offers: tuple[Offer, ...]) -> None:
        self._cancel = None
        self.bar.hide()
        self.close_button.setText("Close")
        self._words.setText(words)
        while (item := self._column.takeAt(0)) is not None:
            widget = item.widget()
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        self._act.clear()
        height = 0
        for told, name, act in offers:
            row = QWidget(self._offers)
            label = QLabel(told, row)
            label.setWordWrap(True)
            button = QPushButton(name, row)
            button.setAccessibleName(f"{name}: {told}" if told else name)
            button.clicked.connect(self._pressed)
            across = QHBoxLayout(row)
            across.setContentsMargins(0, 0, 0, 0)
            if told:
                across.addWidget(label, 1)
            across.addWidget(button)
            if not told:
                label.hide()
                across.addStretch(1)
            self._column.addWidget(row)
            self._act[button] = act
            height = max(height, row.sizeHint().height() + 3)
        self._column.addStretch(1)
        self._scroll.setVisible(bool(offers))
        self._scroll.setFixedHeight(height * min(len(offers), ROWS_SHOWN))
        self.show()

    def _pressed(self) -> None:
        button = self.sender()
        act = self._act.get(button) if isinstance(button, QPushButton) else None
        if act is not None:
            act()

    def _closed(self) -> None:
        cancel = self._cancel
        self.dismiss()
        if cancel is not None:
            cancel()
