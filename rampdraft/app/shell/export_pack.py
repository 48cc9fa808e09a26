"""Writes the workshop pack off the UI thread, with progress and a way to cancel."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QProgressDialog

from rampdraft.errors import RampdraftError
from rampdraft.progress import Progress

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk
    from rampdraft.evaluation.evaluate import Evaluation


class PackExport(QObject):
    """One export at a time; the evaluation is frozen, so the form may go on changing meanwhile."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self._dialog: QProgressDialog | None = None
        self._line = desk.answers.line("pack")
        self._line.progressed.connect(self._progress)
        self._line.came.connect(self._done)
        self._line.failed.connect(self._failed)

    def start(self, evaluation: "Evaluation", folder: Path) -> None:
        """Write the pack of an evaluation into a folder."""
        self._end_dialog()
        self._dialog = self._desk.dialogs.progress("Writing the workshop pack…")
        self._dialog.canceled.connect(self._cancel)
        self._line.ask(folder, work_out, evaluation, folder)

    def close(self) -> None:
        """Show nothing any more."""
        self._end_dialog()

    def _progress(self, share: float, words: str) -> None:
        if self._dialog is not None:
            self._dialog.setLabelText(
                f"Writing the workshop pack: {words}" if words else "Writing the workshop pack…"
            )
            self._dialog.setValue(round(100 * share))

    def _cancel(self) -> None:
        self._line.call_off()
        self._end_dialog()
        self._desk.say("The export was called off.")

    def _done(self, folder: Path, written: tuple[Path, ...]) -> None:
        self._end_dialog()
        self._desk.dialogs.pack_done(folder, f"{len(written)} files for the workshop.")

    def _failed(self, folder: Path, fault: Exception) -> None:
        self._end_dialog()
        if isinstance(fault, RampdraftError):
            self._desk.dialogs.problems(
                "The pack was not written", str(fault).partition("\n")[0], fault.problems
            )

    def _end_dialog(self) -> None:
        if self._dialog is not None:
            dialog, self._dialog = self._dialog, None
            dialog.canceled.disconnect(self._cancel)
            dialog.close()
            dialog.deleteLater()


def work_out(evaluation: "Evaluation", folder: Path, progress: Progress) -> tuple[Path, ...]:
    """Write the pack of an evaluation and return the paths of its files."""
    from rampdraft.export.pack import write_pack

    return write_pack(evaluation, folder, progress)
