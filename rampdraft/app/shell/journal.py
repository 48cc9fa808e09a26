"""Notes the work in hand beside the settings, soon after each edit and off the UI thread; offers at the next
start what was lost.
"""

import datetime
import os
import secrets
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QLockFile, QObject, QTimer

from rampdraft.app.differences import difference_lines, in_short
from rampdraft.app.document import Document
from rampdraft.app.shell import settings
from rampdraft.errors import FileError
from rampdraft.files.journal import ENDING, Note, design_before, drop_note, keep_note, read_note
from rampdraft.model.starter import starter_design
from rampdraft.progress import Progress
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk

SOON_MS: Final = 1000
"""From the first edit that is not noted to its note: no edit older than 2 s is ever lost."""


def folder() -> Path:
    """Return where the notes lie."""
    return settings.folder() / "journal"


class Journal(QObject):
    """Keeps a note of the document in hand while it holds what is in no file."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._document = desk.document
        self._line = desk.answers.line("journal")
        self._line.failed.connect(self._failed)
        self._say = desk.say
        self.file = folder() / f"{os.getpid()}-{secrets.token_hex(6)}{ENDING}"
        self._lock = _lock(self.file)
        self._noted = False
        self._timer = QTimer(self, interval=SOON_MS, singleShot=True)
        self._timer.timeout.connect(self._write)
        self._document.changed.connect(self._follow)
        self._document.renamed.connect(self._follow)
        self._document.undo_stack.cleanChanged.connect(self._follow)

    def _follow(self) -> None:
        if self._document.modified and self._document.design is not None:
            if not self._timer.isActive():
                self._timer.start()
            return
        self._timer.stop()
        if self._noted:
            self._noted = False
            self._line.ask("drop", _drop, self.file)

    def _write(self) -> None:
        note = note_of(self._document)
        if note is not None and self._locked():
            self._noted = True
            self._line.ask(note, _keep, self.file, note)

    def _locked(self) -> bool:
        """Return whether the note is marked as that of a program that runs."""
        folder().mkdir(parents=True, exist_ok=True)
        return self._lock.isLocked() or self._lock.tryLock(0)

    def _failed(self, _: object, fault: Exception) -> None:
        self._say(
            say("The work in hand cannot be noted against loss: {why}", why=str(fault).partition("\n")[0])
        )

    def now(self) -> None:
        """Note the work at once, on this thread: the program is about to end."""
        note = note_of(self._document) if self._document.modified else None
        if note is not None and self._locked():
            keep_note(self.file, note)

    def end(self) -> None:
        """Take the note away: all is saved or given up. No write may be under way any more."""
        self._timer.stop()
        drop_note(self.file)
        self._lock.unlock()


def note_of(document: Document) -> Note | None:
    """Return a note of what is in hand, or None for nothing."""
    design = document.decided
    if design is None:
        return None
    return Note(
        design=design,
        path=document.path,
        folder=document.folder,
        text=document.text,
        unread=tuple((path, one.value, one.rule) for path, one in document.unread.items()),
        when=datetime.datetime.now().isoformat(sep=" ", timespec="minutes"),
    )


def _keep(file: Path, note: Note, _: Progress) -> None:
    keep_note(file, note)


def _drop(file: Path, _: Progress) -> None:
    drop_note(file)


def _lock(file: Path) -> QLockFile:
    """Return the lock of a note. Whoever holds it runs: Qt tells a process that is gone."""
    lock = QLockFile(f"{file}.lock")
    lock.setStaleLockTime(0)
    return lock


class Recovery(QObject):
    """Offers what was lost when the program ended without asking."""

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk = desk
        self._lost: dict[Path, Note] = {}
        self._locks: dict[Path, QLockFile] = {}
        self._shown = False

    def offer(self) -> bool:
        """Offer all that was lost, a row a document; return whether there is anything."""
        self._find()
        self._show()
        return bool(self._lost)

    def _find(self) -> None:
        files = sorted(folder().glob(f"*{ENDING}")) if folder().is_dir() else []
        for file in files:
            lock = _lock(file)
            if file == self._desk.journal.file or not lock.tryLock(0):
                continue
            try:
                self._lost[file], self._locks[file] = read_note(file), lock
            except FileError as wrong:
                # Not taken away: somebody may still make sense of it.
                lock.unlock()
                self._desk.say(str(wrong).partition("\n")[0])

    def _show(self) -> None:
        notice = self._desk.notice
        if not self._lost:
            if self._shown:
                notice.dismiss()
            return
        self._shown = True
        offers = [
            offer
            for file, note in self._lost.items()
            for offer in (
                (_told(note), say("Take it back"), partial(self._take_back, file)),
                ("", say("Throw it away"), partial(self._let_go, file)),
            )
        ]
        notice.tell(say("The program ended last time before this was saved."), tuple(offers))

    def _take_back(self, file: Path) -> None:
        if not self._desk.filing.may_leave():
            return
        note, document = self._lost[file], self._desk.document
        before = design_before(note) or starter_design()
        document.open(before, note.path, note.folder, text=note.text)
        document.replace(note.design, say("Take back what was not saved"))
        for path, text, rule in note.unread:
            document.refuse(path, text, rule)
        self._desk.journal.now()
        self._let_go(file)

    def _let_go(self, file: Path) -> None:
        drop_note(file)
        del self._lost[file]
        self._locks.pop(file).unlock()
        self._show()

    def end(self) -> None:
        """Leave what was not decided on for the next start."""
        for lock in self._locks.values():
            lock.unlock()
        self._locks.clear()
        self._lost.clear()


def _told(note: Note) -> str:
    name = note.path.name if note.path is not None else note.design.about.name
    before = design_before(note)
    if before is None:
        return say("“{name}”, {when}: never saved", name=name, when=note.when)
    lines = (
        *difference_lines(before, note.design),
        *(say("half typed: {text}", text=text) for _, text, _ in note.unread),
    )
    return f"“{name}”, {note.when}: {in_short(lines) or say('nothing differs')}"
