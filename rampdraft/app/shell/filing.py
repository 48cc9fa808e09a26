"""New, open, save, export: what the menus do with files; the workshop pack is written off the UI thread."""

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject
from PySide6.QtWidgets import QProgressDialog

from rampdraft.app.shell import settings
from rampdraft.app.shell.dialogs import Answer, Conflict
from rampdraft.app.shell.pack_folder import new_folder
from rampdraft.errors import FileError, RampdraftError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.export.file_names import safe_stem
from rampdraft.files.design_file import read_design, save_design
from rampdraft.files.rule_files import carry_rule_files
from rampdraft.files.text_file import read_text
from rampdraft.model.starter import starter_design
from rampdraft.progress import Progress
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk


class Filing(QObject):
    """Moves designs between the document and files; nothing unsaved is put away without asking."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self._document = desk.document
        self.pack = PackExport(desk)

    def new(self) -> None:
        """Begin a new design with its survey."""
        if self.may_leave():
            self._desk.propose_work.begin()

    def begin(self) -> None:
        """Take the starter design into hand."""
        self._document.open(starter_design(), None)

    def begin_and_offer(self) -> None:
        """Take the starter design into hand, and offer the survey: nobody is held up who only looks."""
        self.begin()
        self._desk.notice.tell(
            say(
                "A new ramp. Say where it will be used and by whom, and ramps are proposed; until"
                " then it is judged by the rules that it begins with."
            ),
            (("", say("Ramps for a survey…"), self._survey),),
        )

    def _survey(self) -> None:
        self._desk.notice.dismiss()
        self._desk.propose_work.for_document()

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
            text = read_text(path)
            design = read_design(text, path.name, consistent=False)
        except FileError as wrong:
            self._desk.dialogs.problems(say("This file cannot be opened"), _first_line(wrong), wrong.problems)
            return False
        self._document.open(design, path if keep else None, path.parent, text=text)
        if keep:
            settings.remember_file(path)
        self._desk.say(
            say("Opened {path}", path=path) if keep else say("A copy of the sample {name}", name=path.stem)
        )
        return True

    def save(self) -> bool:
        """Save in the document's file, or ask for one; return whether it is saved."""
        self._desk.settle()
        if self._document.path is None:
            return self.save_as()
        return self._save_over() if self._desk.watch.changed_text() is not None else self._save_in()

    def _save_over(self) -> bool:
        """Ask what becomes of a file that somebody else has changed; return whether the design is saved."""
        text, watch = self._desk.watch.changed_text() or "", self._desk.watch
        match self._desk.dialogs.conflict(self._document.title, watch.differences(text)):
            case Conflict.OVERWRITE:
                return self._save_in()
            case Conflict.SAVE_AS:
                return self.save_as()
            case Conflict.RELOAD:
                watch.reload()
                return False
            case _:
                return False

    def save_as(self) -> bool:
        """Ask for a file and save in it; return whether it is saved."""
        self._desk.settle()
        if self._document.design is None:
            return False
        stem = safe_stem(self._document.title.removesuffix(".toml")).lower()
        path = self._desk.dialogs.file_to_save(f"{stem}.toml")
        return path is not None and self._save_in(path)

    def _save_in(self, path: Path | None = None) -> bool:
        document, design = self._document, self._document.design
        path = path or document.path
        if design is None or path is None:
            return False
        try:
            missing = carry_rule_files(design.use.rule_sets, document.folder, path.parent)
            text = save_design(design, path, over=document.text)
        except FileError as wrong:
            self._desk.dialogs.problems(say("Not saved"), _first_line(wrong), wrong.problems)
            return False
        document.saved(path, text)
        settings.remember_file(path)
        refused = len(document.unread)
        left_out = (
            say("; without {count} marked in the form, which can't be", count=refused) if refused else ""
        )
        lost = (
            say("; without {files}, not found in {folder}", files=", ".join(missing), folder=document.folder)
            if missing
            else ""
        )
        self._desk.say(say("Saved {path}{left_out}{lost}", path=path, left_out=left_out, lost=lost))
        return True

    def export(self) -> None:
        """Write the workshop pack of the design in hand."""
        if not self.is_true(say("Nothing to export yet")) or self._document.evaluation is None:
            return
        name = say("{title}, workshop pack", title=safe_stem(self._document.title.removesuffix(".toml")))
        folder = self._desk.dialogs.folder_for_pack(new_folder(Path(settings.last_folder()), name))
        if folder is not None:
            self.pack.start(self._document.evaluation, folder)

    def is_true(self, otherwise: str) -> bool:
        """Return whether the figures are those of the design in hand; tell it under a title otherwise."""
        self._desk.settle()
        self._desk.watch.look_at_rules()
        if not self._document.stale and self._document.evaluation is not None:
            return True
        words = say(
            "The workshop pack is written from figures that are true of the design in"
            " hand. Correct these values first."
        )
        self._desk.dialogs.problems(otherwise, words, self._document.problems)
        return False

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


class PackExport(QObject):
    """One export at a time; the evaluation is frozen, so the form may go on changing meanwhile."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self._dialog: QProgressDialog | None = None
        self._line = desk.answers.line("pack", AT_LENGTH)
        self._line.progressed.connect(self._progress)
        self._line.came.connect(self._done)
        self._line.failed.connect(self._failed)

    def start(self, evaluation: Evaluation, folder: Path) -> None:
        """Write the pack of an evaluation into a folder."""
        self.close()
        self._dialog = self._desk.dialogs.progress(say("Writing the workshop pack…"))
        self._dialog.canceled.connect(self._cancel)
        self._line.ask(folder, work_out, evaluation, folder)

    def _progress(self, share: float, words: str) -> None:
        if self._dialog is not None:
            self._dialog.setLabelText(
                say("Writing the workshop pack: {words}", words=words)
                if words
                else say("Writing the workshop pack…")
            )
            self._dialog.setValue(round(100 * share))

    def _cancel(self) -> None:
        self._line.call_off()
        self.close()
        self._desk.say(say("The export was called off."))

    def _done(self, folder: Path, written: tuple[Path, ...]) -> None:
        self.close()
        self._desk.dialogs.pack_done(folder, say("{count} files for the workshop.", count=len(written)))

    def _failed(self, folder: Path, fault: Exception) -> None:
        self.close()
        if isinstance(fault, RampdraftError):
            self._desk.dialogs.problems(say("The pack was not written"), _first_line(fault), fault.problems)

    def close(self) -> None:
        """Show nothing any more."""
        if self._dialog is not None:
            dialog, self._dialog = self._dialog, None
            dialog.canceled.disconnect(self._cancel)
            dialog.close()
            dialog.deleteLater()


def work_out(evaluation: Evaluation, folder: Path, progress: Progress) -> tuple[Path, ...]:
    """Write the pack of an evaluation and return the paths of its files."""
    from rampdraft.export.pack import write_pack

    return write_pack(evaluation, folder, progress)


def _first_line(wrong: RampdraftError) -> str:
    return str(wrong).partition("\n")[0]
