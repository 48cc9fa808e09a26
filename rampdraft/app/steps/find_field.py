"""One field that finds a value, a check or a part by typing."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QEvent, QModelIndex, QStringListModel, Qt, Signal
from PySide6.QtWidgets import QCompleter, QLineEdit, QWidget

from rampdraft.app.steps.finding import Thing, found
from rampdraft.words.say import say

HINT: Final = "Find a value, check or part"
NONE: Final = "Nothing goes under these words"


class FindField(QLineEdit):
    """Lists what goes under the words typed; one that is taken is told."""

    took = Signal(str, str)
    """Kind and key of what was taken: `value`, `check` or `part`."""

    def __init__(self, things: Callable[[], tuple[Thing, ...]], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setPlaceholderText(say(HINT))
        self.setAccessibleName(say(HINT))
        self.setClearButtonEnabled(True)
        self._things = things
        self.found: tuple[Thing, ...] = ()
        """What the list shows."""
        self._list = QStringListModel(self)
        finder = QCompleter(self._list, self)
        finder.setCompletionMode(QCompleter.CompletionMode.UnfilteredPopupCompletion)
        finder.setMaxVisibleItems(12)
        popup = finder.popup()
        assert popup is not None
        popup.setTextElideMode(Qt.TextElideMode.ElideRight)
        self._popup = popup
        self.setCompleter(finder)
        self.textEdited.connect(self._look)
        self.returnPressed.connect(self._take_first)
        finder.activated[QModelIndex].connect(self._take)  # type: ignore[index]
        self._widen()

    def changeEvent(self, event: QEvent) -> None:
        """Make room for larger letters."""
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._widen()

    def _widen(self) -> None:
        metrics = self.fontMetrics()
        self.setFixedWidth(metrics.horizontalAdvance(say(HINT)) + 4 * metrics.horizontalAdvance("m"))

    def _look(self, typed: str) -> None:
        self.found = found(typed, self._things())
        shown = [f"{one.words}   ({say(one.kind)})" for one in self.found]
        self._list.setStringList(shown or ([say(NONE)] if typed.strip() else []))
        em = self.fontMetrics().horizontalAdvance("m")
        widest = max((self.fontMetrics().horizontalAdvance(words) for words in shown), default=0)
        self._popup.setMinimumWidth(min(widest + 3 * em, self.window().width() // 2))

    def _take(self, index: QModelIndex) -> None:
        self._tell(index.row())

    def _take_first(self) -> None:
        if not self._popup.isVisible() or not self._popup.currentIndex().isValid():
            self._tell(0)

    def _tell(self, row: int) -> None:
        if row < len(self.found):
            taken = self.found[row]
            self.found = ()
            self._popup.hide()
            self.clear()
            self.took.emit(taken.kind, taken.key)
