"""Has all that follows from the document's design worked out off the UI thread, after each edit.

The newest edit wins, but an evaluation that is nearly there is let come: while somebody types or steps the
checks follow, greyed, a moment behind; while something is dragged, as soon as the hand rests.
"""

from typing import Final

from PySide6.QtCore import QObject, QTimer

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_ONCE
from rampdraft.explore.judging import judge

GRACE_MS: Final = 60
"""So long an evaluation that is outdated may take until it is called off, which takes LEAVE_S at most."""


class Judging(QObject):
    """Completes the document's evaluation."""

    def __init__(self, document: Document, answers: Answers, parent: QObject) -> None:
        super().__init__(parent)
        self._document = document
        self._asked: Evaluation | None = None
        self.line = answers.line("judging", AT_ONCE)
        self.line.raises = False  # a fault stands in the form, where it can be undone
        self.line.came.connect(self._came)
        self.line.failed.connect(self._failed)
        self._grace = QTimer(self, singleShot=True, interval=GRACE_MS)
        self._grace.timeout.connect(self._ask)
        document.changed.connect(self._follow)

    def stop(self) -> None:
        """Ask nothing any more."""
        self._grace.stop()

    def _follow(self) -> None:
        evaluation = self._document.evaluation
        if evaluation is None or evaluation is self._document.judged or evaluation is self._asked:
            return
        if self._asked is None:
            self._ask()
        elif not self._grace.isActive():
            self._grace.start()

    def _ask(self) -> None:
        self._grace.stop()
        evaluation = self._document.evaluation
        if self._document.moving:  # it is asked once the hand rests
            return
        if evaluation is not None and evaluation is not self._document.judged:
            self._asked = evaluation
            self.line.ask(evaluation, judge, evaluation.design, evaluation.rule_sets)

    def _came(self, about: Evaluation, whole: Evaluation) -> None:
        self._asked = None
        self._document.judge(about.take(whole))
        self._ask()

    def _failed(self, about: Evaluation, fault: Exception) -> None:
        self._asked = None
        if about is self._document.evaluation:
            self._document.fail(fault)
        else:
            self._ask()
