"""The wheeled users: what to measure of each, and what can be added."""

import re
from functools import partial
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QStackedWidget, QWidget

from rampdraft.app.canvas.canvas import Canvas
from rampdraft.app.choosers import ChooserRow
from rampdraft.app.document import Document
from rampdraft.app.furniture import button, chooser, column, fit_button, put_items
from rampdraft.app.views.user_picker import UserPicker
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.users.measured import measured_view
from rampdraft.model.design import WheeledUser
from rampdraft.words.say import say

NOBODY: Final = "Nobody rolls over this ramp yet. Add a wheeled user, and it is judged for it."


class UsersPanel(QWidget):
    """Shows one user with its sizes, under the letters of the form; or the pictures to choose another from.

    It shows the design in hand, good or bad: what a user is does not hang on whether the ramp can be built.
    """

    wanted = Signal()
    """Another user is to be added."""
    keeping = Signal(int)
    """Number of a user to be kept in the list."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.canvas = Canvas(say("What to measure of a wheeled user"), self)
        self.user = chooser(say("Wheeled user"), self.refresh, self)
        another = button(
            say("Add…"), self.wanted.emit, self, say("Choose another wheeled user by its picture")
        )
        self.keep = button(
            say("Keep in my list"), self._keep, self, say("Keep this user, to be added to other ramps too")
        )
        drawn = QWidget(self)
        top = ChooserRow((self.user, another, self.keep, fit_button(self.canvas, self)), drawn)
        column(drawn, (top, 0), (self.canvas, 1))
        self.picker = UserPicker(self)
        self._pages = QStackedWidget(self)
        for page in (drawn, self.picker):
            self._pages.addWidget(page)
        column(self, (self._pages, 1))
        self.picker.left.connect(self.show_drawing)
        self.canvas.scaled.connect(self.refresh)
        document.changed.connect(self.refresh)
        document.opened.connect(self._begin)

    @property
    def picking(self) -> bool:
        """Return whether the pictures to choose from are shown."""
        return self._pages.currentWidget() is self.picker

    def offer(self, kept: tuple[WheeledUser, ...]) -> None:
        """Show the pictures to choose from, with these kept users among them."""
        self._pages.setCurrentWidget(self.picker)
        self.picker.offer(kept)

    def show_drawing(self) -> None:
        """Show what to measure."""
        self._pages.setCurrentIndex(0)
        self.refresh()

    def show_user(self, number: int) -> None:
        """Show what to measure of a user, counted from 1."""
        self._list()
        if 0 < number <= self.user.count():
            self.user.setCurrentIndex(number - 1)
        self.show_drawing()

    def follow(self, path: str) -> None:
        """Show the user that a value of the form is of, if it is one."""
        found = re.match(r"use\.users\[(\d+)\]", path)
        if found is not None and self.user.currentData() != int(found[1]):
            self.show_user(int(found[1]))

    def refresh(self) -> None:
        """Show the user chosen as it is in the design in hand, if anybody sees it."""
        if self.isVisible() and not self.picking:
            self._list()
            self._draw()

    def showEvent(self, event: QShowEvent) -> None:
        """Catch up with what was missed while hidden."""
        self.refresh()

    def _begin(self) -> None:
        self._pages.setCurrentIndex(0)
        self.canvas.fit()

    @property
    def _users(self) -> tuple[WheeledUser, ...]:
        design = self._document.design
        return design.use.users if design is not None else ()

    def _list(self) -> None:
        put_items(self.user, [(f"{at}  {user.name}", at) for at, user in enumerate(self._users, start=1)])

    def _draw(self) -> None:
        number, users = self.user.currentData(), self._users
        self.keep.setEnabled(bool(users))
        if not users:
            self.canvas.show_picture(None, note=say(NOBODY))
            return
        make = partial(self._picture, users[number - 1], number)
        self.canvas.show_picture(self.canvas.fit_to(make) if self.canvas.fitted else make())

    def _picture(self, user: WheeledUser, number: int) -> Picture:
        return measured_view(user, f"use.users[{number}]", self.canvas.per_paper_mm)

    def _keep(self) -> None:
        self.keeping.emit(self.user.currentData())
