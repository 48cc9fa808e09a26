"""Opens the sheets of the design in hand."""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.sheets.dialog import SheetsDialog
    from rampdraft.app.shell.desk import Desk


class SheetWork(QObject):
    """Holds the dialog of what will be printed."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self.dialog: SheetsDialog | None = None
        """While it is open."""

    def open(self) -> None:
        """Show what will be printed of the design in hand."""
        desk = self._desk
        if not desk.filing.is_true(say("Nothing to print yet")):
            return
        from rampdraft.app.sheets.dialog import SheetsDialog

        self.close()
        evaluation = desk.document.evaluation
        assert evaluation is not None
        self.dialog = SheetsDialog(evaluation, desk.answers, desk.dialogs.printer, desk.window)
        self.dialog.finished.connect(self._end)
        self.dialog.open()

    def close(self) -> None:
        """Put the dialog away."""
        if self.dialog is not None:
            self.dialog.reject()

    def _end(self) -> None:
        if self.dialog is not None:
            dialog, self.dialog = self.dialog, None
            dialog.deleteLater()
