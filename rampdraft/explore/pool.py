"""Many designs at once: the same question asked of each, on several processors."""

import multiprocessing
import os
import threading
from collections.abc import Callable, Generator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing.synchronize import Event
from pathlib import Path
from typing import Final, TypeVar

from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.model.design import Design
from rampdraft.progress import Progress, nobody
from rampdraft.words.manner import Manner, manner, speak

Answer = TypeVar("Answer")

_AT_ONCE: Final = 16
"""Designs sent to a process together: fewer wait on one another, more take less sending."""


AFRESH: Final = multiprocessing.get_context("spawn")


def stop_sign() -> Event:
    """Return what ends the processes of a pool within a moment, whatever they are at, once it is set."""
    return AFRESH.Event()


@contextmanager
def pool(processes: int, stop: Event | None = None) -> Generator[ProcessPoolExecutor]:
    """Yield processes that are begun afresh, so that no thread or window of this one is copied into them.

    Once `stop` is set they end, and what they were asked raises BrokenProcessPool.
    """
    executor = ProcessPoolExecutor(
        processes, mp_context=AFRESH, initializer=_begin, initargs=(manner(), stop)
    )
    try:
        yield executor
    finally:
        executor.shutdown(wait=True, cancel_futures=True)


def _begin(spoken: Manner, stop: Event | None) -> None:
    """Let this process speak as the one that began it does, and end with it."""
    speak(spoken)
    if stop is not None:
        _end_at(stop)


def _end_at(stop: Event) -> None:
    """Let this process end once a sign is set: work under way looks at nothing of the kind itself."""

    def wait() -> None:
        stop.wait()
        os._exit(1)

    threading.Thread(target=wait, daemon=True).start()


def ask_each(
    designs: Sequence[Design],
    question: Callable[[Evaluation], Answer],
    folder: Path | None = None,
    *,
    workers: ProcessPoolExecutor | None = None,
    progress: Progress = nobody,
) -> list[Answer | DesignError]:
    """Return what a question has for answer for each design, in their order; the error of one that cannot be
    built.

    `question` is a function of a module, its answer plain data. Without `workers` all is done here. Raises
    what `progress` raises, and FileError where a rule set is not to be had.
    """
    lots = [designs[start : start + _AT_ONCE] for start in range(0, len(designs), _AT_ONCE)]
    count = len(lots)
    each = (map if workers is None else workers.map)(_ask, lots, [question] * count, [folder] * count)
    answers: list[Answer | DesignError] = []
    for number, found in enumerate(each, start=1):
        answers += found
        progress(number / count, "")
    return answers


def _ask(
    designs: Sequence[Design], question: Callable[[Evaluation], Answer], folder: Path | None
) -> list[Answer | DesignError]:
    answers: list[Answer | DesignError] = []
    before: Evaluation | None = None
    for design in designs:
        try:
            before = evaluate(design, folder, before)
            answers.append(question(before))
        except DesignError as wrong:
            answers.append(wrong)
    return answers
