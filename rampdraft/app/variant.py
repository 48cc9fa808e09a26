"""A ramp that is kept beside the one in hand, to be compared with it."""

from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QObject, Signal

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.model.design import Design
from rampdraft.progress import Progress
from rampdraft.words.say import say


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """A kept ramp as another desk takes it over, to be worked out in the words of that."""

    design: Design
    folder: Path | None
    number: int
    """Of the edit that it was kept after, by its place in the stack; 0 before any."""
    rolled: bool
    """Whether rolling is worked out of it."""
    ghost: bool


class Variant(QObject):
    """Holds at most one; another document begins without."""

    changed = Signal()
    """Another one is kept, none, or its ghost is shown or not."""

    def __init__(self, document: Document, answers: Answers) -> None:
        super().__init__(answers)
        self._document = document
        self.evaluation: Evaluation | None = None
        self.name = ""
        self._number = 0
        self.ghost = True
        """Whether it stands on the views."""
        self._line = answers.line("kept ramp", AT_LENGTH)
        self._line.came.connect(self._came)
        self._taken_over: Kept | None = None
        """What is being worked out anew."""
        document.opened.connect(self.forget)

    @property
    def shown(self) -> Evaluation | None:
        """Return what is to stand on the views as a ghost; None where it is as the ramp in hand."""
        kept, now = self.evaluation, self._document.evaluation
        if kept is None or not self.ghost or (now is not None and now.design == kept.design):
            return None
        return kept

    def keep(self) -> None:
        """Keep the ramp in hand, once all is worked out."""
        document = self._document
        if not document.whole:
            return
        self._line.call_off()
        self._taken_over = None
        self.evaluation = document.judged
        self._call(document.undo_stack.index())
        self.changed.emit()

    def _call(self, number: int) -> None:
        """Name it after the edit of a number."""
        self._number = number
        last = self._document.undo_stack.text(number - 1) if number else ""
        self.name = say("as after “{last}”", last=last) if last else say("as opened")

    def forget(self) -> None:
        """Keep none any more."""
        self._line.call_off()
        self._taken_over = None
        if self.evaluation is not None:
            self.evaluation, self.name = None, ""
            self.changed.emit()

    def show_ghost(self, shown: bool) -> None:
        """Let it stand on the views, or not."""
        self.ghost = shown
        self.changed.emit()

    def take(self) -> None:
        """Take it into hand, as an edit that can be undone."""
        if self.evaluation is not None:
            self._document.replace(self.evaluation.design, say("the kept ramp"))

    # From one desk to the next

    @property
    def kept(self) -> Kept | None:
        """Return what another desk takes over; None for none."""
        if self.evaluation is None:
            return self._taken_over
        return Kept(
            design=self.evaluation.design,
            folder=self._document.folder,
            number=self._number,
            rolled=self.evaluation.stands(Evaluation.rolled),
            ghost=self.ghost,
        )

    def take_over(self, kept: Kept | None) -> None:
        """Keep what another desk kept, once it is worked out in the words of this one."""
        self._taken_over = kept
        if kept is not None:
            self.ghost = kept.ghost
            self._line.ask(kept, work_out, kept)

    def _came(self, kept: Kept, evaluation: Evaluation) -> None:
        self._taken_over, self.evaluation = None, evaluation
        self._call(kept.number)
        self.changed.emit()


def work_out(kept: Kept, progress: Progress) -> Evaluation:
    """Return the evaluation of a kept ramp, as far as it was worked out."""
    evaluation = evaluate(kept.design, kept.folder).complete(progress)
    if kept.rolled:
        progress(0.0, "")
        _ = evaluation.all_checks
    return evaluation
