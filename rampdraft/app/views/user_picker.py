"""Wheeled users to choose from, by small pictures: the classes, and the users that somebody keeps."""

from typing import Final

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QListView, QListWidget, QListWidgetItem, QWidget

from rampdraft.app.canvas.icon import icon_of
from rampdraft.app.furniture import across, button, column, label, make
from rampdraft.drawing.users.silhouette import main_figures, user_picture
from rampdraft.model.design import UserClass, WheeledUser
from rampdraft.model.rolling_shape import of_class, shape_of, user_classes
from rampdraft.words.say import say

ICON: Final = QSize(116, 92)
CELL: Final = QSize(152, 158)
MM_PER_PX: Final = 20.5
"""So that a person who stands fits in."""

WORDS: Final = (
    "Choose what comes nearest: all its values are filled in. Then measure your own; the drawing shows what."
)


class UserPicker(QWidget):
    """Shows what can be added; says what was chosen."""

    chose = Signal(object)
    """A wheeled user, named as its class or as it is kept."""
    taken_off = Signal(object)
    """A kept user who is to go from the list."""
    left = Signal()
    """Nobody is to be added."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._kept: tuple[WheeledUser, ...] = ()
        self.list = make(
            QListWidget,
            self,
            accessibleName=say("Wheeled users to choose from"),
            viewMode=QListView.ViewMode.IconMode,
            movement=QListView.Movement.Static,
            resizeMode=QListView.ResizeMode.Adjust,
            iconSize=ICON,
            gridSize=CELL,
            wordWrap=True,
        )
        self.list.itemActivated.connect(self._choose)
        self.list.currentRowChanged.connect(self._mark)
        self.add = button(
            say("Add"), self._choose, self, say("Add the one that is marked (Enter, or double click)")
        )
        self.off = button(
            say("Take off my list"),
            self._take_off,
            self,
            say("The ramps that have it keep it; your list does not"),
        )
        back = button(say("Back"), self.left.emit, self, say("Add nobody (Esc)"))
        below = across((self.add, 0), (self.off, 0), (QWidget(self), 1), (back, 0))
        head = label(say(WORDS), self, margins=(10, 8, 10, 6))
        column(self, (head, 0), (self.list, 1), (below, 0))

    def offer(self, kept: tuple[WheeledUser, ...]) -> None:
        """Show the classes, after the users that are kept."""
        self._kept = kept
        self._fill()
        self.list.setCurrentRow(0)
        self.list.setFocus()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Go back with Esc."""
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        else:
            super().keyPressEvent(event)

    def _fill(self) -> None:
        self.list.clear()
        for user in self._kept:
            self._put(
                user,
                say("{name} (yours)", name=user.name),
                say("Kept in your list: {kind}", kind=say(user.kind)),
            )
        for kind in user_classes():
            name = say(kind.capitalize())
            self._put(of_class(name, kind), name, "\n".join(_sources(kind)))

    def _put(self, user: WheeledUser, title: str, tip: str) -> None:
        shape = shape_of(user)
        lines = (title, *main_figures(shape))
        item = QListWidgetItem(icon_of(user_picture(shape), ICON, MM_PER_PX, self), "\n".join(lines))
        item.setTextAlignment(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop)
        item.setData(Qt.ItemDataRole.UserRole, user)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, ", ".join(lines))
        item.setToolTip(tip)
        self.list.addItem(item)

    def _current(self) -> WheeledUser | None:
        item = self.list.currentItem()
        return item.data(Qt.ItemDataRole.UserRole) if item is not None else None

    def _mark(self) -> None:
        user = self._current()
        self.add.setEnabled(user is not None)
        self.off.setEnabled(user in self._kept)

    def _choose(self) -> None:
        user = self._current()
        if user is not None and self.isVisible():  # a double click can activate twice
            self.chose.emit(user)

    def _take_off(self) -> None:
        user = self._current()
        if user in self._kept:
            self.taken_off.emit(user)


def _sources(kind: UserClass) -> list[str]:
    """Return where the values of a class were read; all others are common practice."""
    row = user_classes()[kind]
    read = [f"{say(name)}: {say(source)}" for name, source in row.sources.items()]
    return [*read, say("All other values: common practice") if read else say("All values: common practice")]
