"""The clearance map of the design in hand, worked out off the UI thread: the newest edit wins, an old one is
known as such.
"""

from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from rampdraft.app.jobs import Jobs
from rampdraft.model.design import NO_ASSIST, Design
from rampdraft.progress import Progress

if TYPE_CHECKING:
    from rampdraft.evaluation.evaluate import Evaluation
    from rampdraft.mechanics.folding.clearance_map import ClearanceMap


class MapJob(QObject):
    """Holds the newest map that could be made."""

    changed = Signal()
    """There is another map."""
    failed = Signal()
    """It could not be made."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.surface: ClearanceMap | None = None
        self.evaluation: Evaluation | None = None
        """What the map was made of."""
        self._jobs = Jobs(self)
        self._asked: Evaluation | None = None
        self._broken = False

    @property
    def words(self) -> str:
        """Return what is to be said while the map asked for is not there."""
        return (
            "The map of this ramp could not be worked out."
            if self._broken
            else "The map is being worked out for this ramp."
        )

    def is_of(self, evaluation: "Evaluation") -> bool:
        """Return whether the map is true of this evaluation."""
        return self.evaluation is not None and _same(self.evaluation, evaluation)

    def ask(self, evaluation: "Evaluation") -> None:
        """Have the map of an evaluation made, unless it is there or under way."""
        if self.is_of(evaluation):
            self._jobs.cancel()
            self._asked = None
        elif self._asked is None or not _same(self._asked, evaluation):
            self._asked, self._broken = evaluation, False
            job = self._jobs.new(_Work(evaluation))
            job.done.connect(self._done)
            job.failed.connect(self._failed)
            self._jobs.start(job)

    def close(self) -> None:
        """Cancel and wait."""
        self._jobs.close()

    def _done(self, made: "tuple[Evaluation, ClearanceMap]") -> None:
        self.evaluation, self.surface = made
        self._asked = None
        self.changed.emit()

    def _failed(self, fault: Exception) -> None:
        self._broken = True  # still asked for, so that it is not tried again until the ramp changes
        self.failed.emit()
        raise fault


class _Work:
    def __init__(self, evaluation: "Evaluation") -> None:
        self._evaluation = evaluation

    def __call__(self, progress: Progress) -> "tuple[Evaluation, ClearanceMap]":
        from rampdraft.mechanics.folding.clearance_map import clearance_map

        one = self._evaluation
        return one, clearance_map(one.design, one.assembly, one.design.sites[0], one.sites[0].pose.inner_rad)


def _same(one: "Evaluation", other: "Evaluation") -> bool:
    """Return whether two ramps have one map: the map knows nothing of the stages, handles and springs."""
    return one is other or _bare(one.design) == _bare(other.design)


def _bare(design: Design) -> Design:
    return replace(design, fold_stages=(), assist=NO_ASSIST, handles=(), stock=())
