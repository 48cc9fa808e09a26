"""Long work off the UI thread: the newest job wins, progress comes back, and the pool is waited for at
close.
"""

from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QRunnable, QThreadPool, Signal

from rampdraft.progress import Cancelled, Progress


class Job(QObject):
    """One piece of work. Lives on the UI thread, so that its signals arrive there whichever thread emits
    them.
    """

    progressed = Signal(float, str)
    done = Signal(object)
    failed = Signal(object)
    ended = Signal()
    """Last of all, also for a cancelled job, which neither is done nor fails."""
    _came = Signal(object)
    _broke = Signal(object)

    def __init__(self, work: Callable[[Progress], Any], parent: QObject) -> None:
        super().__init__(parent)
        self._work = work
        self._cancelled = False
        self._came.connect(self._deliver)
        self._broke.connect(self._tell)

    def cancel(self) -> None:
        """Let the job stop at its next progress, and drop its result if it does not."""
        self._cancelled = True

    def _progress(self, share: float, words: str = "") -> None:
        if self._cancelled:
            raise Cancelled
        self.progressed.emit(share, words)

    def run(self) -> None:
        """Do the work; called on a pool thread. Called off while it waited, it is not begun at all."""
        try:
            if self._cancelled:
                raise Cancelled
            result = self._work(self._progress)
        except Cancelled:
            pass
        except Exception as fault:  # an exception in QRunnable.run would only be printed
            self._broke.emit(fault)
        else:
            self._came.emit(result)
        self.ended.emit()

    # On the UI thread: what was called off while it was on its way is dropped.

    def _deliver(self, result: object) -> None:
        if not self._cancelled:
            self.done.emit(result)

    def _tell(self, fault: object) -> None:
        if not self._cancelled:
            self.failed.emit(fault)


class Jobs(QObject):
    """Runs one job at a time; a newer one takes the place of the one before."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._pool.setMaxThreadCount(1)
        self._job: Job | None = None

    def new(self, work: Callable[[Progress], Any]) -> Job:
        """Return a job for `work`, not started yet, so that its signals can be connected first."""
        return Job(work, self)

    def start(self, job: Job) -> None:
        """Start a job and cancel the one before."""
        self.cancel()
        self._job = job
        job.ended.connect(job.deleteLater)
        self._pool.start(_Run(job))

    def cancel(self) -> None:
        """Cancel the job at work, if any."""
        if self._job is not None:
            self._job._cancelled = True
            self._job = None

    def close(self) -> None:
        """Cancel and wait: no thread outlives the window."""
        self.cancel()
        self._pool.waitForDone()


class _Run(QRunnable):
    def __init__(self, job: Job) -> None:
        super().__init__()
        self._job = job

    def run(self) -> None:
        self._job.run()
