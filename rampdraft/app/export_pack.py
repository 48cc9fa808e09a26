"""Writes the workshop pack off the UI thread, with progress and a way to cancel."""

from pathlib import Path
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QProgressDialog

from rampdraft.app.jobs import Jobs
from rampdraft.errors import RampdraftError
from rampdraft.progress import Progress

if TYPE_CHECKING:
    from rampdraft.app.desk import Desk
    from rampdraft.evaluation.evaluate import Evaluation


class PackExport(QObject):
    """One export at a time; the evaluation is frozen, so the form may go on changing meanwhile."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self._jobs = Jobs(self)
        self._dialog: QProgressDialog | None = None
        self._folder = Path()

    def start(self, evaluation: "Evaluation", folder: Path) -> None:
        """Write the pack of an evaluation into a folder."""
        self._end_dialog()
        self._folder = folder
        job = self._jobs.new(_Work(evaluation, folder))
        job.progressed.connect(self._progress)
        job.done.connect(self._done)
        job.failed.connect(self._failed)
        self._dialog = self._desk.dialogs.progress("Writing the workshop pack…")
        self._dialog.canceled.connect(self._cancel)
        self._jobs.start(job)

    def close(self) -> None:
        """Cancel what is being written and wait for it."""
        self._jobs.close()
        self._end_dialog()

    def _progress(self, share: float, words: str) -> None:
        if self._dialog is not None:
            self._dialog.setLabelText(
                f"Writing the workshop pack: {words}" if words else "Writing the workshop pack…"
            )
            self._dialog.setValue(round(100 * share))

    def _cancel(self) -> None:
        self._jobs.cancel()
        self._end_dialog()
        self._desk.say("The export was called off.")

    def _done(self, written: Any) -> None:
        self._end_dialog()
        self._desk.dialogs.pack_done(self._folder, f"{len(written)} files for the workshop.")

    def _failed(self, fault: Exception) -> None:
        self._end_dialog()
        if isinstance(fault, RampdraftError):
            self._desk.dialogs.problems(
                "The pack was not written", str(fault).partition("\n")[0], fault.problems
            )
        else:
            raise fault

    def _end_dialog(self) -> None:
        if self._dialog is not None:
            dialog, self._dialog = self._dialog, None
            dialog.canceled.disconnect(self._cancel)
            dialog.close()
            dialog.deleteLater()


class _Work:
    def __init__(self, evaluation: "Evaluation", folder: Path) -> None:
        self._evaluation, self._folder = evaluation, folder

    def __call__(self, progress: Progress) -> Any:
        from rampdraft.export.pack import write_pack

        return write_pack(self._evaluation, self._folder, progress)
