"""Stands in for the dialogs: a dialog that waits for somebody would hang the tests."""

from pathlib import Path

from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QProgressDialog, QWidget

from rampdraft.app.shell.desk import Desk
from rampdraft.app.shell.dialogs import Answer, Conflict, Dialogs
from rampdraft.errors import Problem


class StandIn(Dialogs):
    """Gives the answers that a test has laid out, and keeps what was told."""

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self.open_path: Path | None = None
        self.save_path: Path | None = None
        self.folder: Path | None = None
        self.offered: Path | None = None
        self.amount: float | None = None
        self.leave = Answer.CANCEL
        self.over = Conflict.CANCEL
        self.rules: tuple[str, ...] | None = ()
        self.said: list[tuple[str, str]] = []

    def file_to_open(self) -> Path | None:
        return self.open_path

    def file_to_save(self, suggested: str) -> Path | None:
        return self.save_path

    def picture_to_save(self, suggested: str) -> Path | None:
        return self.save_path

    def folder_for_pack(self, suggested: Path) -> Path | None:
        self.offered = suggested
        return self.folder

    def printer(self) -> QPrinter | None:
        if self.save_path is None:
            return None
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self.save_path))
        return printer

    def rule_file(self) -> Path | None:
        return self.open_path

    def rules_of_place(self) -> tuple[str, ...] | None:
        self.said.append(("place", ""))
        return self.rules

    def unsaved(self, title: str) -> Answer:
        self.said.append(("unsaved", title))
        return self.leave

    def conflict(self, title: str, lines: tuple[str, ...]) -> Conflict:
        self.said.append(("conflict", "\n".join(lines)))
        return self.over

    def report(self, title: str, message: str, details: str) -> None:
        self.said.append((title, details))

    def problems(self, title: str, message: str, problems: tuple[Problem, ...]) -> None:
        self.said.append((title, "\n".join([message, *(problem.text() for problem in problems)])))

    def failure(self, message: str, details: str) -> bool:
        self.said.append((message, details))
        return self.save_path is not None

    def pack_done(self, folder: Path, words: str) -> None:
        self.said.append(("pack", words))

    def told(self, title: str, words: str) -> None:
        self.said.append((title, words))

    def number(self, title: str, words: str, first: float, low: float, high: float) -> float | None:
        self.said.append((title, words))
        return self.amount

    def progress(self, title: str) -> QProgressDialog:
        dialog = QProgressDialog(title, "Cancel", 0, 100)
        dialog.setMinimumDuration(1_000_000)
        return dialog


def answers(desk: Desk) -> StandIn:
    assert isinstance(desk.dialogs, StandIn)
    return desk.dialogs
