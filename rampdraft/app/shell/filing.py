"""New, open, save, export: what the menus do with files."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from rampdraft.app.shell import settings
from rampdraft.app.shell.dialogs import Answer
from rampdraft.app.shell.export_pack import PackExport
from rampdraft.errors import FileError
from rampdraft.files.design_file import load_design, save_design
from rampdraft.model.starter import starter_design

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk


class Filing(QObject):
    """Moves designs between the document and files; nothing unsaved is put away without asking."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self._document = desk.document
        self._pack = PackExport(desk)

    def new(self) -> None:
        """Begin a new design."""
        if self.may_leave():
            self.begin()

    def begin(self) -> None:
        """Take the starter design into hand."""
        self._document.open(starter_design(), None)

    def open(self) -> None:
        """Ask for a file and open it."""
        if self.may_leave():
            path = self._desk.dialogs.file_to_open()
            if path is not None:
                self.load(path)

    def open_path(self, path: Path) -> None:
        """Open a file, after asking about unsaved changes."""
        if self.may_leave():
            self.load(path)

    def open_sample(self, path: Path) -> None:
        """Open a copy of a sample: the sample itself stays as it is."""
        if self.may_leave():
            self.load(path, keep=False)

    def load(self, path: Path, *, keep: bool = True) -> bool:
        """Open a file; values that contradict each other are let in, and explained in the form."""
        try:
            design = load_design(path, consistent=False)
        except FileError as wrong:
            self._desk.dialogs.problems("This file cannot be opened", _first_line(wrong), wrong.problems)
            return False
        self._document.open(design, path if keep else None, path.parent)
        if keep:
            settings.remember_file(path)
        self._desk.say(f"Opened {path}" if keep else f"A copy of the sample {path.stem}")
        return True

    def save(self) -> bool:
        """Save in the document's file, or ask for one; return whether it is saved."""
        self._desk.settle()
        if self._document.path is None:
            return self.save_as()
        return self._save_in(self._document.path)

    def save_as(self) -> bool:
        """Ask for a file and save in it; return whether it is saved."""
        self._desk.settle()
        if self._document.design is None:
            return False
        path = self._desk.dialogs.file_to_save(f"{file_stem(self._document.title)}.toml")
        return path is not None and self._save_in(path)

    def _save_in(self, path: Path) -> bool:
        if self._document.design is None:
            return False
        try:
            save_design(self._document.design, path)
        except FileError as wrong:
            self._desk.dialogs.problems("Not saved", _first_line(wrong), wrong.problems)
            return False
        self._document.saved(path)
        settings.remember_file(path)
        refused = len(self._document.refused)
        left_out = f"; without {refused} marked in the form, which can't be" if refused else ""
        self._desk.say(f"Saved {path}{left_out}")
        return True

    def export(self) -> None:
        """Write the workshop pack of the design in hand."""
        self._desk.settle()
        if self._document.stale or self._document.evaluation is None:
            words = (
                "The workshop pack is written from figures that are true of the design in hand. Mend these"
                " values first."
            )
            self._desk.dialogs.problems("Nothing to export yet", words, self._document.problems)
            return
        folder = self._desk.dialogs.folder_for_pack()
        if folder is not None:
            self._pack.start(self._document.evaluation, folder)

    def may_leave(self) -> bool:
        """Return whether the document may be put away, after asking about changes."""
        self._desk.settle()
        if not self._document.modified:
            return True
        match self._desk.dialogs.unsaved(self._document.title):
            case Answer.SAVE:
                return self.save()
            case Answer.DISCARD:
                return True
            case _:
                return False

    def finish(self) -> None:
        """Show nothing of what is being written any more."""
        self._pack.close()


def file_stem(name: str) -> str:
    """Return a name that every file system takes, from words a person typed."""
    kept = "".join(sign if sign.isalnum() or sign in "-_ " else " " for sign in name.removesuffix(".toml"))
    return "-".join(kept.split())[:60].lower() or "ramp"


def _first_line(wrong: FileError) -> str:
    return str(wrong).partition("\n")[0]
