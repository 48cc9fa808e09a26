"""Opens the start, and does what is chosen there."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QDialog

from rampdraft.app.shell import settings

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk
    from rampdraft.app.start.dialog import StartDialog


class StartWork(QObject):
    """Holds the start while it is open."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self.dialog: StartDialog | None = None
        """While it is open."""
        self._after: Callable[[], object] | None = None

    def open(self, after: Callable[[], object] | None = None) -> None:
        """Show it; `after` is called once it is closed with the plain ramp or a design in hand."""
        from rampdraft.app.start.dialog import StartDialog
        from rampdraft.files.samples import sample_paths

        self.close()
        self._after = after
        self.dialog = StartDialog(sample_paths(), settings.recent_files(), self._desk.window)
        self.dialog.chose.connect(self._take)
        self.dialog.finished.connect(self._end)
        self.dialog.open()

    def close(self) -> None:
        """Put it away."""
        self._after = None
        if self.dialog is not None:
            self.dialog.reject()

    def _take(self, chosen: str, path: Path | None) -> None:
        desk = self._desk
        desk.notice.dismiss()
        if chosen == "survey":
            desk.propose_work.for_document()
            if desk.propose_work.dialog is not None:
                desk.propose_work.dialog.finished.connect(self._go_on)
            return
        if chosen == "open":
            desk.filing.open()
        elif chosen == "sample" and path is not None:
            desk.filing.open_sample(path)
        elif path is not None:
            desk.filing.open_path(path)
        self._go_on()

    def _end(self, result: int) -> None:
        if self.dialog is not None:
            dialog, self.dialog = self.dialog, None
            dialog.deleteLater()
        if result == QDialog.DialogCode.Rejected:
            self._go_on()

    def _go_on(self) -> None:
        after, self._after = self._after, None
        if after is not None:
            after()
