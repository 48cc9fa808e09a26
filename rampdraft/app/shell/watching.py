"""Notices what others do with the files of the document in hand: the design's own, and its rule files."""

import hashlib
import os
from pathlib import Path
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QFileSystemWatcher, QLockFile, QObject, QTimer

from rampdraft.app.differences import difference_lines
from rampdraft.app.shell import settings
from rampdraft.errors import FileError
from rampdraft.files.design_file import read_design
from rampdraft.files.rule_files import is_own, refusal
from rampdraft.files.text_file import read_text
from rampdraft.words.say import say

if TYPE_CHECKING:
    from rampdraft.app.shell.desk import Desk

SETTLED_MS: Final = 200
"""Whoever saves writes more than once: looked at is what is there a moment later."""


class Watch(QObject):
    """Tells when the file in hand is another one on the disk, or open twice; has results by an old rule
    worked out again.
    """

    def __init__(self, desk: "Desk") -> None:
        super().__init__(desk)
        self._desk, self._document = desk, desk.document
        self._watcher = QFileSystemWatcher(self)
        self._timer = QTimer(self, interval=SETTLED_MS, singleShot=True)
        self._lock: QLockFile | None = None
        self._locked: Path | None = None
        self._rules: tuple[str | None, ...] = ()
        self._told = ""
        self._watcher.fileChanged.connect(self._timer.start)
        self._watcher.directoryChanged.connect(self._timer.start)
        self._timer.timeout.connect(self.look)
        self._document.renamed.connect(self._renamed)
        self._document.changed.connect(self._follow)

    def look(self) -> None:
        """Look at all files now."""
        self._follow()
        self.look_at_rules()
        self._look_at_design()

    def look_at_rules(self) -> None:
        """Have the design judged anew where one of its rule files is not what it was judged by."""
        document, now = self._document, self._rules_now()
        evaluation = document.evaluation
        if evaluation is None or document.stale:
            other = now != self._rules
        else:
            other = tuple(dict.fromkeys(now)) != tuple(one.text for one in evaluation.rule_sets if one.text)
        self._rules = now
        if other:
            document.work_out_again()

    def changed_text(self) -> str | None:
        """Return the text of the design's file where it is not what was read or saved last, or None."""
        path = self._document.path
        if path is None or not path.exists():
            return None
        try:
            text = read_text(path)
        except FileError:
            return ""
        return None if text == self._document.text else text

    def differences(self, text: str) -> tuple[str, ...]:
        """Return what a text on the disk says otherwise than the design in hand, line by line."""
        design, path = self._document.design, self._document.path
        try:
            other = read_design(text, path.name if path is not None else "", consistent=False)
        except FileError as wrong:
            return tuple(str(wrong).splitlines())
        lines = difference_lines(other, design) if design is not None else ()
        return lines or (say("No value differs: only remarks or the order are other."),)

    def _look_at_design(self) -> None:
        text, path = self.changed_text(), self._document.path
        if text is None or text == self._told or path is None:
            return
        self._told = text
        lost = say(", and lose what is not saved here") if self._document.modified else ""
        self._desk.notice.tell(
            say("Somebody else has changed “{name}” on the disk since it was read.", name=path.name),
            (
                ("", say("What differs…"), self._show_differences),
                ("", say("Reload it{lost}", lost=lost), self.reload),
                ("", say("Keep what is in hand"), self._desk.notice.dismiss),
            ),
        )

    def _show_differences(self) -> None:
        text, path = self.changed_text(), self._document.path
        if text is not None and path is not None:
            words = say("From what is on the disk to what is in hand:")
            self._desk.dialogs.report(path.name, words, "\n".join(self.differences(text)))

    def reload(self) -> None:
        """Take what is on the disk into hand."""
        if self._document.path is not None:
            self._desk.notice.dismiss()
            self._desk.filing.load(self._document.path)

    def _rules_now(self) -> tuple[str | None, ...]:
        return tuple(_text_of(path) for path in self._rule_paths())

    def _rule_paths(self) -> tuple[Path, ...]:
        design, folder = self._document.design, self._document.folder
        if design is None or folder is None:
            return ()
        names = design.use.rule_sets
        return tuple(folder / name for name in names if is_own(name) and not refusal(name, folder)[0])

    def _follow(self) -> None:
        """Watch the files in hand, and their folders: a file that is put in the place of another is new."""
        own = (self._document.path,) if self._document.path is not None else ()
        paths = (*own, *self._rule_paths())
        wanted = {str(path) for path in paths if path.exists()}
        wanted |= {str(path.parent) for path in paths if path.parent.is_dir()}
        watched = {*self._watcher.files(), *self._watcher.directories()}
        if watched - wanted:
            self._watcher.removePaths(list(watched - wanted))
        if wanted - watched:
            self._watcher.addPaths(list(wanted - watched))

    def _renamed(self) -> None:
        self._told = ""
        self._rules = self._rules_now()
        path = self._document.path.resolve() if self._document.path is not None else None
        if path == self._locked:
            return
        self._let_go()
        if path is None:
            return
        folder = settings.folder() / "open"
        folder.mkdir(parents=True, exist_ok=True)
        name = hashlib.sha256(os.fsencode(path)).hexdigest()[:32]
        lock = QLockFile(str(folder / f"{name}.lock"))
        lock.setStaleLockTime(0)
        if lock.tryLock(0):
            self._lock, self._locked = lock, path
        else:
            self._desk.notice.tell(
                say(
                    "“{name}” is open in another window too. Before one saves over the other, you"
                    " are told what differs.",
                    name=path.name,
                )
            )

    def _let_go(self) -> None:
        if self._lock is not None:
            self._lock.unlock()
        self._lock = self._locked = None

    def end(self) -> None:
        """Stop watching."""
        self._timer.stop()
        self._let_go()


def _text_of(path: Path) -> str | None:
    try:
        return read_text(path)
    except FileError:
        return None
