"""The ways out of a failing check, worked out off the UI thread when somebody opens it: the newest question
wins.
"""

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from rampdraft.app.jobs import Jobs
from rampdraft.progress import Progress

if TYPE_CHECKING:
    from rampdraft.evaluation.evaluate import Evaluation
    from rampdraft.explore.ways_out.results import WayOut


class WaysJob(QObject):
    """Holds the ways found for the checks of one evaluation; those of the one before are dropped."""

    changed = Signal()
    """There is an answer, or there will be none."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._jobs = Jobs(self)
        self._evaluation: Evaluation | None = None
        self._found: dict[str, tuple[WayOut, ...]] = {}
        self._asked = ""
        self._broken: set[str] = set()

    def found(self, evaluation: "Evaluation", check_id: str) -> "tuple[WayOut, ...] | None":
        """Return the ways out of a check, None while they are not known."""
        return self._found.get(check_id) if evaluation is self._evaluation else None

    def is_broken(self, evaluation: "Evaluation", check_id: str) -> bool:
        """Return whether the ways out of a check could not be worked out."""
        return evaluation is self._evaluation and check_id in self._broken

    def ask(self, evaluation: "Evaluation", check_id: str) -> None:
        """Have the ways out of a check worked out, unless they are there or under way."""
        if evaluation is not self._evaluation:
            self.drop()
            self._evaluation = evaluation
        if check_id in self._found or check_id in self._broken or check_id == self._asked:
            return
        self._asked = check_id
        job = self._jobs.new(_Work(evaluation, check_id))
        job.done.connect(self._done)
        job.failed.connect(self._failed)
        self._jobs.start(job)

    def call_off(self) -> None:
        """Call off what is under way; what was found stays."""
        self._jobs.cancel()
        self._asked = ""

    def drop(self) -> None:
        """Call off what is under way and forget what was found."""
        self.call_off()
        self._evaluation = None
        self._found.clear()
        self._broken.clear()

    def close(self) -> None:
        """Cancel and wait."""
        self._jobs.close()

    def _done(self, found: "dict[str, tuple[WayOut, ...]]") -> None:
        self._found |= found
        self._asked = ""
        self.changed.emit()

    def _failed(self, fault: Exception) -> None:
        self._broken.add(self._asked)
        self._asked = ""
        self.changed.emit()
        raise fault


class _Work:
    def __init__(self, evaluation: "Evaluation", check_id: str) -> None:
        self._evaluation, self._check_id = evaluation, check_id

    def __call__(self, progress: Progress) -> "dict[str, tuple[WayOut, ...]]":
        from rampdraft.explore.ways_out.ways import ways_out

        return ways_out(self._evaluation, self._check_id, progress)
