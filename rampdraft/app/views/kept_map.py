"""The clearance map of the design in hand: the newest that could be made is kept, and an old one is known as
such.
"""

from functools import cache
from typing import Any

from rampdraft.app.answers import Answers
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.evaluation.stage import Stage
from rampdraft.explore.apart import AT_LENGTH
from rampdraft.mechanics.folding.clearance_map import ClearanceMap
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at
from rampdraft.progress import Progress
from rampdraft.words.say import say


class KeptMap:
    """Asks for maps, and holds the newest with the design that it was made of."""

    def __init__(self, answers: Answers) -> None:
        self.line = answers.line("map", AT_LENGTH)
        self.line.came.connect(self._keep)
        self.surface: ClearanceMap | None = None
        self.design: Design | None = None

    @property
    def words(self) -> str:
        """Return what is to be said while the map asked for is not there."""
        return (
            say("The map of this ramp could not be worked out.")
            if self.line.broken is not None
            else say("The map is being worked out for this ramp.")
        )

    def is_of(self, design: Design) -> bool:
        """Return whether the map is true of this design."""
        return self.surface is not None and self.line.answered == parts_read(design, Evaluation.clearance_map)

    def want(self, evaluation: Evaluation) -> None:
        """Have the map of an evaluation made, unless it is there or under way."""
        self.line.want(parts_read(evaluation.design, Evaluation.clearance_map), work_out, evaluation)

    def _keep(self, about: object, made: tuple[Design, ClearanceMap]) -> None:
        self.design, self.surface = made


def parts_read(design: Design, stage: Stage[Any]) -> tuple[Any, ...]:
    """Return the parts of a design that a stage is worked out from: where they are equal, so is it."""
    return tuple(value_at(design, path) for path in _paths_read(stage))


@cache
def _paths_read(stage: Stage[Any]) -> tuple[str, ...]:
    def read(stage: Stage[Any]) -> set[str]:
        return set(stage.reads).union(*(read(need) for need in stage.needs))

    return tuple(sorted(read(stage)))


def work_out(evaluation: Evaluation, progress: Progress) -> tuple[Design, ClearanceMap]:
    """Return the map of an evaluation, with the design that it is of."""
    progress(0.0, "")
    return evaluation.design, evaluation.clearance_map
