"""One question after the other answered by a process of its own: whatever it is at, nobody here is held up,
since it shares no interpreter lock, and it can be ended within a moment.
"""

import os
import pickle
import signal
import threading
import time
import traceback
from collections.abc import Callable, Generator
from contextlib import contextmanager, suppress
from importlib import import_module
from multiprocessing.connection import Connection
from typing import Any, Final

from rampdraft.errors import RampdraftError
from rampdraft.explore.pool import AFRESH
from rampdraft.progress import Cancelled, Progress
from rampdraft.words.manner import manner, speak

LOOK_S: Final = 0.02
"""So often it is looked whether the answer is still wanted."""
LEAVE_S: Final = 0.07
"""So long whoever calls work off waits for it to end: the next question may find its process free."""
LINGER_S: Final = 2.0
"""So long it may go on behind their backs until its process is ended."""
TELL_S: Final = 0.03
"""Progress is told no oftener."""

_ANSWER: Final = "answer"
_FAULT: Final = "fault"
_PROGRESS: Final = "progress"


class GoneError(RuntimeError):
    """The process ended before it answered: the system has ended it, or there was a fault in a library."""


class Apart:
    """A process that answers one question at a time, begun afresh so that no thread or window of this one is
    copied into it. It ends with this one.
    """

    def __init__(self, *, behind: bool) -> None:
        """Begin it; `behind` others that the system has work for."""
        self._here, there = AFRESH.Pipe()
        self._process = AFRESH.Process(target=_serve, args=(there, behind), daemon=True)
        self._process.start()
        self._begun = False
        """Whether it has said that it listens: what is sent before waits until it is read."""
        self._called_off: float | None = None
        """When the work that is still under way was called off; None for none."""
        there.close()

    @property
    def alive(self) -> bool:
        """Return whether it runs."""
        return self._process.is_alive()

    @property
    def free(self) -> bool:
        """Return whether it can be asked: what was called off has ended."""
        self._leave(0.0)
        return self._called_off is None and self.alive

    @property
    def lost(self) -> bool:
        """Return whether it is to be ended: it has ended, or what was called off goes on and on."""
        since = self._called_off
        return not self.alive or (since is not None and time.monotonic() > since + LINGER_S)

    def answer(
        self, work: Callable[..., Any], given: tuple[Any, ...], progress: Progress, wanted: Callable[[], bool]
    ) -> Any:
        """Return `work(*given, progress)`: a function of a module, given plain data.

        Raises what it raises; GoneError where the process ended; Cancelled within 0.1 s once `wanted` says no
        or `progress` raises it: work that does not look goes on until its process is `lost`.
        """
        question = pickle.dumps((manner(), work, given), protocol=5)
        asked = False
        try:
            self._wait_until_begun(wanted)
            self._here.send_bytes(question)
            asked = True
            kind, told = self._heard(progress, wanted)
        except Cancelled:
            if not asked:
                raise
            self._called_off = time.monotonic()
            with suppress(EOFError, ConnectionError):
                self._here.send_bytes(b"")
            self._leave(LEAVE_S)
            raise
        except (EOFError, ConnectionError) as gone:
            self._process.join(1.0)  # it is on its way out
            code = self._process.exitcode
            self.end()
            raise GoneError(f"the process that worked it out has ended ({code})") from gone
        except BaseException:
            self.end()
            raise
        if kind == _FAULT:
            raise told
        return told

    def _wait_until_begun(self, wanted: Callable[[], bool]) -> None:
        while wanted():
            if self._begun:
                return
            if self._here.poll(LOOK_S):
                self._here.recv_bytes()
                self._begun = True
        raise Cancelled

    def _heard(self, progress: Progress, wanted: Callable[[], bool]) -> tuple[str, Any]:
        """Return what comes last of a question: its answer, or a fault."""
        while wanted():
            if self._here.poll(LOOK_S):
                kind, told = pickle.loads(self._here.recv_bytes())
                if kind != _PROGRESS:
                    return kind, told
                progress(*told)
        raise Cancelled

    def _leave(self, seconds: float) -> None:
        """Hear whether what was called off has ended."""
        until = time.monotonic() + seconds
        with suppress(EOFError, ConnectionError):
            while self._called_off is not None and self._here.poll(max(0.0, until - time.monotonic())):
                if pickle.loads(self._here.recv_bytes())[0] != _PROGRESS:
                    self._called_off = None

    def end(self) -> None:
        """End the process, whatever it is at."""
        self._process.kill()
        self._process.join()
        self._here.close()


class Crew:
    """Processes that stand ready for questions of some kinds. Any thread may take one."""

    def __init__(self, *, ready: int, behind: bool = False) -> None:
        """Keep up to `ready` that have nothing to do, so that the next question need not wait for one to
        begin.
        """
        self._ready, self._behind = ready, behind
        self._idle: list[Apart] = []
        self._lock = threading.Lock()

    @contextmanager
    def one(self) -> Generator[Apart]:
        """Yield a process that nobody else asks meanwhile."""
        with self._lock:
            found = next((one for one in self._idle if one.free), None)
            self._idle = [one for one in self._idle if one is not found]
        apart = found or Apart(behind=self._behind)
        try:
            yield apart
        finally:
            with self._lock:
                self._idle.insert(0, apart)
                surplus = [one for one in self._idle if one.lost]
                kept = [one for one in self._idle if one not in surplus]
                surplus += [one for one in kept if one.free][self._ready :]
                self._idle = [one for one in kept if one not in surplus]
            for one in surplus:
                one.end()

    def end(self) -> None:
        """End those that nobody asks."""
        with self._lock:
            idle, self._idle = self._idle, []
        for one in idle:
            one.end()

    def end_lingering(self) -> None:
        """End those that go on with what was called off."""
        with self._lock:
            lingering = [one for one in self._idle if not one.free]
            self._idle = [one for one in self._idle if one not in lingering]
        for one in lingering:
            one.end()


AT_ONCE: Final = Crew(ready=1)
"""For what is awaited at each edit."""
AT_LENGTH: Final = Crew(ready=2, behind=True)
"""For what takes its time."""


def _serve(there: Connection, behind: bool) -> None:
    """Answer until nobody asks any more; called in the process."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # it is told to whoever asks, who ends this
    if behind and hasattr(os, "nice"):
        os.nice(5)
    import_module("rampdraft.evaluation.evaluate")  # before anybody waits for it

    with suppress(EOFError, ConnectionError):
        there.send_bytes(b"")
        while True:
            question = there.recv_bytes()
            if question:  # else a call that came too late to call anything off
                _answer(there, question)


def _answer(there: Connection, question: bytes) -> None:
    last = 0.0

    def progress(share: float, words: str) -> None:
        nonlocal last
        if there.poll():
            there.recv_bytes()
            raise Cancelled
        if time.monotonic() - last > TELL_S:
            last = time.monotonic()
            there.send_bytes(pickle.dumps((_PROGRESS, (share, words)), protocol=5))

    try:
        spoken, work, given = pickle.loads(question)
        speak(spoken)
        told = pickle.dumps((_ANSWER, work(*given, progress)), protocol=5)
    except (EOFError, ConnectionError):
        raise  # nobody is there any more
    except BaseException as fault:
        told = _told_fault(fault)
    there.send_bytes(told)


def _told_fault(fault: BaseException) -> bytes:
    """Return a fault with where it happened, in a form that can be sent."""
    if not isinstance(fault, RampdraftError | Cancelled):
        fault.add_note(f"In the process that worked it out:\n{''.join(traceback.format_exception(fault))}")
    try:
        told = pickle.dumps((_FAULT, fault), protocol=5)
        pickle.loads(told)
    except Exception:  # one that cannot be sent as it is
        words = f"{type(fault).__name__}: {fault}"
        plain = RampdraftError(str(fault)) if isinstance(fault, RampdraftError) else RuntimeError(words)
        told = pickle.dumps((_FAULT, plain), protocol=5)
    return told
