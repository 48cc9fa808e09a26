"""Below the count of the checks: what mends all that fails, worked out when asked for, shown before it is
taken, and taken as one edit.
"""

from html import escape
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.app.furniture import across, button, column, label, page
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.explore.mending import Mending
from rampdraft.progress import Progress
from rampdraft.words.say import say

WORKING: Final = "Looking for what corrects all…"
BROKEN: Final = "It could not be worked out: a fault in the program."
NAME: Final = "Correct all"


class MendPanel(QWidget):
    """Offers to mend what fails of the document's evaluation; hidden where nothing does."""

    told = Signal(str)
    """What was done, in words."""

    def __init__(self, document: Document, answers: Answers, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._made = -1
        """Counts the evaluation that the answer is true of."""
        self._found: Mending | None = None
        self._line = answers.line("mending", AT_LENGTH)
        self._line.came.connect(self._keep)
        self._line.failed.connect(self._fail)
        self._line.progressed.connect(self._progress)
        self.ask = button(
            f"{say(NAME)}…",
            self._ask,
            self,
            say("Looks for edits after which nothing fails, and shows them first"),
        )
        self.words = label("", self)
        self.edits = page(say("What corrects all"), self, minimumHeight=6 * self.fontMetrics().lineSpacing())
        self.take = button(
            say("Apply all"), self._take, self, say("Makes all these edits; one undo takes them back")
        )
        self.leave = button(say("Stop"), self.drop, self)
        row = across(
            (self.ask, 0), (self.words, 1), (self.take, 0), (self.leave, 0), margins=(10, 0, 10, 4), spacing=6
        )
        column(self, (row, 0), (self.edits, 1))
        self.drop()
        document.changed.connect(self._follow)

    def drop(self) -> None:
        """Call the search off, or put its answer away."""
        self._line.call_off()
        self._found = None
        self._show("")

    def offer(self, fails: bool) -> None:
        """Be seen where something fails."""
        self.setVisible(fails)
        self.ask.setEnabled(fails and not self._document.stale)

    def _follow(self) -> None:
        if self._document.made != self._made or self._document.stale:
            self.drop()

    def _ask(self) -> None:
        evaluation = self._document.evaluation
        if evaluation is not None and not self._document.stale:
            self._made = self._document.made
            self._line.ask(self._made, work_out, evaluation)
            self._show(say(WORKING))

    def _progress(self, share: float, words: str) -> None:
        self._show(f"{say(WORKING)} {words}, {share:.0%}")

    def _keep(self, about: object, found: tuple[Mending, str, str]) -> None:
        if about != self._document.made:
            return
        self._found, head, html = found
        self.edits.setHtml(html)
        self._show(f"{say(NAME)}: {head}.")

    def _fail(self, _about: object, _fault: object) -> None:
        self._show(say(BROKEN))

    def _show(self, words: str) -> None:
        found = self._found
        self.words.setText(words)
        self.ask.setVisible(not words)
        self.leave.setVisible(bool(words))
        self.leave.setText(say("Stop") if self._line.asked is not None else say("Close"))
        self.take.setVisible(found is not None and bool(found.edits))
        self.edits.setVisible(found is not None and bool(found.edits or found.left))

    def _take(self) -> None:
        found = self._found
        if found is None or self._document.made != self._made or self._document.stale:
            return
        count = len(found.edits)
        self._document.replace(found.design, say(NAME))
        self.told.emit(
            say(
                "{name}: {count} edit made. Undo takes them back."
                if count == 1
                else "{name}: {count} edits made. Undo takes them back.",
                name=say(NAME),
                count=count,
            )
        )


def work_out(evaluation: Evaluation, progress: Progress) -> tuple[Mending, str, str]:
    """Return what mends an evaluation, with its head and its edits in words."""
    from rampdraft.explore.mend_words import edit_words, head_words, left_words
    from rampdraft.explore.mending import mend

    found = mend(evaluation, progress)
    rows = [f"{number}. {edit_words(edit)}" for number, edit in enumerate(found.edits, start=1)]
    rows += [say("Still failing: {left}", left=left_words(evaluation, left)) for left in found.left]
    html = "".join(f"<p style='margin: 0 0 4px 0'>{escape(row)}</p>" for row in rows)
    return found, head_words(found), html
