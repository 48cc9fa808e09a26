"""Ramps for a survey: a new document begins with it, and the one in hand can be gone on from."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from rampdraft.app.proposing.dialog import ProposeDialog
from rampdraft.app.proposing.improve_dialog import ImproveDialog
from rampdraft.errors import FileError
from rampdraft.files.user_list import load_users
from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.starter import starter_design
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk


class ProposeWork(QObject):
    """Opens the survey, and takes what comes of it into hand."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk, self._document = desk, desk.document
        self.dialog: ProposeDialog | None = None
        """While it is open."""
        self.improving: ImproveDialog | None = None
        """While it is open."""

    def begin(self) -> None:
        """Ask for the survey of a new document; whoever goes back has the starter."""
        self._open(starter_design(), new=True)

    def for_document(self) -> None:
        """Ask for ramps for the survey of the document in hand."""
        self._desk.settle()
        if self._document.design is not None:
            self._open(self._document.design, new=False)

    def improve(self) -> None:
        """Ask for a better design than the one in hand."""
        self._desk.settle()
        if self._document.design is None:
            return
        dialog = ImproveDialog(
            self._document.design, self._document.folder, self._desk.answers, self._desk.window
        )
        dialog.taken.connect(self._take)
        dialog.finished.connect(self._end_improving)
        self.improving = dialog
        dialog.open()

    def _end_improving(self) -> None:
        if self.improving is not None:
            self.improving.deleteLater()
            self.improving = None

    def close(self) -> None:
        """Put away what is open."""
        if self.improving is not None:
            self.improving.reject()
        if self.dialog is not None:
            self.dialog.blockSignals(True)
            self._end()

    def _open(self, design: Design, *, new: bool) -> None:
        self.close()
        folder = None if new else self._document.folder
        dialog = ProposeDialog(design, folder, self._kept(), self._desk.answers, self._desk.window)
        dialog.taken.connect(self._take_new if new else self._take)
        dialog.rejected.connect(self._give_up_new if new else self._end)
        dialog.accepted.connect(self._end)
        dialog.survey.several.connect(self._say_place)
        self.dialog = dialog
        dialog.open()

    def _kept(self) -> tuple[WheeledUser, ...]:
        try:
            return load_users(self._desk.user_work.list_path)
        except FileError:
            return ()  # told where the list is looked at

    def _say_place(self) -> None:
        names = self._desk.dialogs.rules_of_place()
        if names is not None and self.dialog is not None:
            self.dialog.survey.give("use.rule_sets", names)

    def _take_new(self, design: Design, _what: str) -> None:
        self._document.open(design, None)

    def _take(self, design: Design, what: str) -> None:
        self._document.replace(design, what)
        self._desk.say(say("{change}. Undo takes it back.", change=what))

    def _give_up_new(self) -> None:
        self._end()
        self._desk.filing.begin()

    def _end(self) -> None:
        if self.dialog is not None:
            dialog, self.dialog = self.dialog, None
            dialog.close()
            dialog.deleteLater()
