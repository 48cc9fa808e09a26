"""A strip over the views that tells how a question about the fold came out, and offers what can be done
next.
"""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QProgressBar, QPushButton, QWidget

from rampdraft.app.furniture import across, button, column, emptied, label, make, scrolled
from rampdraft.words.say import say

Offer = tuple[str, str, Callable[[], object]]
"""Words, the button's words, and what it does."""

ROWS_SHOWN: Final = 5


class Notice(QFrame):
    """Shows progress with a way to cancel, or words with buttons. Hidden while there is nothing to tell."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("notice")
        self.setAccessibleName(say("Answer"))
        self._act: dict[QPushButton, Callable[[], object]] = {}
        self._words = label(
            "",
            self,
            textFormat=Qt.TextFormat.PlainText,
            textInteractionFlags=Qt.TextInteractionFlag.TextSelectableByMouse,
        )
        self.bar = make(QProgressBar, self, accessibleName=say("Progress"), textVisible=False)
        self.bar.setFixedHeight(8)
        self.close_button = button(say("Close"), self._closed, self)
        self._cancel: Callable[[], object] | None = None
        self._offers = QWidget()
        self._column = column(self._offers, spacing=3)
        self._scroll = scrolled(self._offers, self)
        top = across((self._words, 1), margins=(0, 0, 0, 0), spacing=-1)
        top.addWidget(self.close_button, 0, Qt.AlignmentFlag.AlignTop)
        column(self, (top, 0), (self.bar, 0), (self._scroll, 0), margins=(10, 8, 10, 8), spacing=6)
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
        self.tell(words)
        self._cancel = cancel
        self.bar.setRange(0, 0)
        self.bar.show()
        self.close_button.setText(say("Cancel"))

    def progress(self, share: float, words: str) -> None:
        """Tell how far it is."""
        self.bar.setRange(0, 100)
        self.bar.setValue(round(100 * share))
        if words:
            self._words.setText(words)

    def tell(self, words: str, offers: tuple[Offer, ...] = ()) -> None:
        """Tell how it came out, with what can be done next."""
        self._cancel = None
        self.bar.hide()
        self.close_button.setText(say("Close"))
        self._words.setText(words)
        emptied(self._column)
        self._act.clear()
        rows = [self._row(*offer) for offer in offers]
        for row in rows:
            self._column.addWidget(row)
        self._column.addStretch(1)
        height = max((row.sizeHint().height() + 3 for row in rows), default=0)
        self._scroll.setVisible(bool(offers))
        self._scroll.setFixedHeight(height * min(len(offers), ROWS_SHOWN))
        self.show()

    def _row(self, told: str, name: str, act: Callable[[], object]) -> QWidget:
        row = QWidget(self._offers)
        pressed = button(name, self._pressed, row, accessibleName=f"{name}: {told}" if told else name)
        self._act[pressed] = act
        beside = across(parent=row, margins=(0, 0, 0, 0), spacing=-1)
        if told:
            beside.addWidget(label(told, row), 1)
        beside.addWidget(pressed)
        if not told:
            beside.addStretch(1)
        return row

    def outdate(self, words: str) -> None:
        """What is told is no longer of the ramp in hand: say so and let its buttons do nothing, or hide what
        has none.
        """
        if self.isHidden() or self._cancel is not None:
            return
        if not self._act:
            self.dismiss()
        self._words.setText(words)
        for one in self._act:
            one.setEnabled(False)

    def dismiss(self) -> None:
        """Hide it."""
        self._cancel = None
        self.hide()

    def _pressed(self) -> None:
        pressed = self.sender()
        act = self._act.get(pressed) if isinstance(pressed, QPushButton) else None
        if act is not None:
            act()

    def _closed(self) -> None:
        cancel = self._cancel
        self.dismiss()
        if cancel is not None:
            cancel()
