"""Every user rolled over the ramp in hand, off the UI thread and once for all who show it: the newest edit
wins, and while something is dragged nothing is asked.
"""

from typing import Literal

from rampdraft.app.answers import Answers
from rampdraft.app.document import Document
from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.mechanics.rolling.everywhere import roll_everywhere
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.progress import Progress

Rolled = tuple[tuple[Roll | CannotRoll, ...], tuple[Check, ...]]
"""What rolls, and its checks."""


class KeptRolling:
    """Asks for rolling and its checks, so that they stand in the document's evaluation."""

    def __init__(self, document: Document, answers: Answers) -> None:
        self._document = document
        self.line = answers.line("rolling", AT_LENGTH)
        self.line.came.connect(self._keep)

    @property
    def state(self) -> Literal["there", "working", "waiting", "broken"]:
        """Return how far it is; `waiting` for somebody who drags. Where there is no ramp, nothing misses."""
        evaluation = self._document.evaluation
        if evaluation is None or evaluation.shares(Evaluation.rolled):
            return "there"
        if self._document.previewing:
            return "waiting"
        return "broken" if self.line.broken == self._document.made else "working"

    def want(self) -> None:
        """Have it worked out, unless it is there, under way, or somebody drags."""
        evaluation = self._document.evaluation
        if self.state in ("there", "waiting") or self._document.judged is not evaluation:
            self.line.call_off()  # first what every edit asks for
        else:
            self.line.want(self._document.made, work_out, evaluation)

    def _keep(self, about: object, found: Rolled) -> None:
        evaluation = self._document.evaluation
        if about == self._document.made and evaluation is not None:
            rolls, rolled = found
            evaluation.keep(Evaluation.rolling, rolls)
            evaluation.keep(Evaluation.rolled, rolled)


def work_out(evaluation: Evaluation, progress: Progress) -> Rolled:
    """Return rolling and its checks, worked out for an evaluation."""
    if not evaluation.stands(Evaluation.rolling):
        given = (
            evaluation.assembly,
            evaluation.sites,
            evaluation.straight,
            evaluation.at_rest,
            evaluation.props_set,
        )
        rolls = roll_everywhere(evaluation.design, *given, progress)
        evaluation.keep(Evaluation.rolling, rolls)
    return evaluation.rolling, evaluation.made(Evaluation.rolled)
