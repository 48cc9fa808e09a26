"""The one holder of background work for the window: a question of a kind is worked out off the UI thread, and
its answer arrives on it with what was asked.

The newest question of a kind wins: the one before is called off, and its answer is never told. Two of a kind
never run at once, so what does not notice that it is called off holds up its own kind only. Sums are done in
a process of their own (`crew`): a thread would hold the interpreter's lock while the window wants it, and
cannot be ended.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Any

from PySide6.QtCore import QObject, QThreadPool, Signal

from rampdraft.errors import RampdraftError
from rampdraft.explore.apart import Crew
from rampdraft.progress import Cancelled


@dataclass(frozen=True, slots=True, kw_only=True)
class _Question:
    serial: int
    about: Any
    work: Callable[..., Any]
    given: tuple[Any, ...]


class Line(QObject):
    """The questions of one kind. `about` is what an answer is true of, a value that is compared by `==`, or a
    number that counts.
    """

    came = Signal(object, object)
    """What was asked about, and the answer."""
    failed = Signal(object, object)
    """What was asked about, and the fault: for words where the answer would stand. A fault that is no
    RampdraftError is raised after that, to be told and logged as any other.
    """
    progressed = Signal(float, str)
    _told = Signal(object, float, str)
    _ended = Signal(object, object, object)

    def __init__(self, pool: QThreadPool, parent: QObject, crew: Crew | None) -> None:
        super().__init__(parent)
        self.asked: Any = None
        """What the question under way is about; None for none."""
        self.answered: Any = None
        """What the last answer is about."""
        self.broken: Any = None
        """What the last question is about that could not be answered."""
        self.raises = True
        """Whether a fault of the program is raised; else whoever listens tells of it."""
        self._pool, self.crew, self._busy, self._serial = pool, crew, False, 0
        self._next: _Question | None = None
        # The signals are told on this object's thread, whichever thread emits them.
        self._told.connect(self._tell)
        self._ended.connect(self._deliver)

    def ask(self, about: Any, work: Callable[..., Any], *given: Any) -> None:
        """Have `work(*given, progress)` worked out: a function of a module, with plain data, which nobody
        changes in place.
        """
        self.call_off()
        self.asked, self.broken = about, None
        self._next = _Question(serial=self._serial, about=about, work=work, given=given)
        if not self._busy:
            self._begin()

    def want(self, about: Any, work: Callable[..., Any], *given: Any) -> None:
        """Ask, unless it is under way, was answered last, or cannot be answered."""
        if about == self.answered:
            self.call_off()
        elif about not in (self.asked, self.broken):
            self.ask(about, work, *given)

    def call_off(self) -> None:
        """Let the question under way stop at its next progress, and drop its answer if it does not."""
        self._serial += 1
        self.asked = self._next = None

    def _begin(self) -> None:
        question, self._next = self._next, None
        if question is not None:
            self._busy = True
            self._pool.start(partial(self._work_out, question))

    def _work_out(self, question: _Question) -> None:
        """Answer a question, or have it answered by a process; called on a pool thread."""

        def wanted() -> bool:
            return question.serial == self._serial

        def progress(share: float, words: str) -> None:
            if not wanted():
                raise Cancelled
            self._told.emit(question.serial, share, words)

        answer = fault = None
        try:
            if self.crew is None:
                answer = question.work(*question.given, progress)
            elif wanted():
                with self.crew.one() as process:
                    answer = process.answer(question.work, question.given, progress, wanted)
        except Cancelled:
            pass
        except Exception as wrong:  # an exception on a pool thread would only be printed
            fault = wrong
        self._ended.emit(question, answer, fault)

    def _tell(self, serial: int, share: float, words: str) -> None:
        if serial == self._serial:
            self.progressed.emit(share, words)

    def _deliver(self, question: _Question, answer: Any, fault: Exception | None) -> None:
        self._busy = False
        if question.serial != self._serial:
            self._begin()
            return
        self.asked = None
        if fault is None:
            self.answered = question.about
            self.came.emit(question.about, answer)
            return
        self.broken = question.about
        self.failed.emit(question.about, fault)
        if self.raises and not isinstance(fault, RampdraftError):
            raise fault


class Answers(QObject):
    """Holds all background work of a window."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._pool = QThreadPool(self)
        self._lines: dict[str, Line] = {}

    def line(self, kind: str, crew: Crew | None = None) -> Line:
        """Return the line of a kind of questions: `map`, `ways out`. They are answered by a process of a
        crew, or without one by a thread: for what only waits, for a disk or for processes of its own.
        """
        if kind not in self._lines:
            self._lines[kind] = Line(self._pool, self, crew)
            self._pool.setMaxThreadCount(len(self._lines))
        return self._lines[kind]

    def close(self) -> None:
        """Call everything off and wait for it, 0.1 s for what a process is at: no thread outlives the
        window.
        """
        for line in self._lines.values():
            line.call_off()
        self._pool.waitForDone()
        for crew in {line.crew for line in self._lines.values() if line.crew is not None}:
            crew.end_lingering()
