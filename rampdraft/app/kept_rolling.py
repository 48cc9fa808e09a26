"""Every user rolled over the ramp in hand, off the UI thread and once for all who show it: the newest edit
wins, and while something is dragged nothing is asked.
"""

from typing import Literal

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.rolling.everywhere import roll_everywhere
from rampdraft.progress import Progress


class KeptRolling:
    """Asks for rolling and its checks, so that they stand in the document's evaluation."""

    def __init__(self, document: Document, answers: Answers) -> None:
        self._document = document
        self.line = answers.line("rolling")

    @property
    def state(self) -> Literal["there", "working", "waiting", "broken"]:
        """Return how far it is; `waiting` for somebody who drags. Where there is no ramp, nothing misses."""
        evaluation = self._document.evaluation
        if evaluation is None or evaluation.stands(Evaluation.rolled):
            return "there"
        if self._document.previewing:
            return "waiting"
        return "broken" if self.line.broken == self._document.made else "working"

    def want(self) -> None:
        """Have it worked out, unless it is there, under way, or somebody drags."""
        if self.state in ("there", "waiting"):
            self.line.call_off()
        else:
            self.line.want(self._document.made, work_out, self._document.evaluation)


def work_out(evaluation: Evaluation, progress: Progress) -> None:
    """Have rolling and its checks worked out, so that they stand in the evaluation."""
    if not evaluation.stands(Evaluation.rolling):
        given = evaluation.assembly, evaluation.sites, evaluation.straight, evaluation.at_rest
        rolls = roll_everywhere(evaluation.design, *given, progress)
        evaluation.keep(Evaluation.rolling, rolls)
    evaluation.made(Evaluation.rolled)
