"""The holder of background work: the newest question wins, an old answer is never told, a fault is, and
nothing outlives its closing.
"""

import threading
from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from rampdraft.app.answers import Answers, Line
from rampdraft.errors import DesignError
from rampdraft.progress import Progress


@pytest.fixture
def answers(alone: None) -> Iterator[Answers]:
    made = Answers()
    yield made
    made.close()


@pytest.fixture
def gate() -> Iterator[threading.Event]:
    """A gate that slow work waits at; opened at the end, whatever a test did."""
    event = threading.Event()
    yield event
    event.set()


def listened(line: Line) -> list[tuple[str, object, object]]:
    seen: list[tuple[str, object, object]] = []
    line.came.connect(lambda about, answer: seen.append(("came", about, answer)))
    line.failed.connect(lambda about, fault: seen.append(("failed", about, str(fault))))
    line.progressed.connect(lambda share, words: seen.append(("progressed", share, words)))
    return seen


def doubled(number: int, progress: Progress) -> int:
    progress(0.5, "half")
    return 2 * number


def slow(begun: threading.Event, gate: threading.Event, progress: Progress) -> str:
    begun.set()
    assert gate.wait(10)
    return "slow"


def watched(begun: threading.Event, left: threading.Event, progress: Progress) -> None:
    begun.set()
    try:
        while True:
            progress(0.0, "")
    finally:
        left.set()


def faulty(fault: Exception, progress: Progress) -> None:
    raise fault


def test_an_answer_arrives_on_the_ui_thread_with_what_was_asked(answers: Answers, qtbot: QtBot) -> None:
    line = answers.line("sums")
    seen, threads = listened(line), []
    line.came.connect(lambda *_: threads.append(threading.get_ident()))
    line.ask("seven", doubled, 7)
    assert line.asked == "seven"
    qtbot.waitUntil(lambda: len(threads) == 1)
    assert seen == [("progressed", 0.5, "half"), ("came", "seven", 14)]
    assert threads == [threading.get_ident()]
    assert (line.asked, line.answered) == (None, "seven")


def test_the_newest_wins_and_those_between_never_begin(
    answers: Answers, qtbot: QtBot, gate: threading.Event
) -> None:
    line, begun, never = answers.line("sums"), threading.Event(), threading.Event()
    seen = listened(line)
    line.ask("old", slow, begun, gate)
    assert begun.wait(5)
    line.ask("between", slow, never, gate)
    line.ask("new", doubled, 1)
    gate.set()
    qtbot.waitUntil(lambda: line.answered == "new")
    assert [about for what, about, _ in seen if what == "came"] == ["new"]
    assert not never.is_set()


def test_what_was_called_off_is_never_told_though_it_is_ready(
    answers: Answers, qtbot: QtBot, gate: threading.Event
) -> None:
    line, begun = answers.line("sums"), threading.Event()
    seen = listened(line)
    line.ask("slow", slow, begun, gate)
    assert begun.wait(5)
    gate.set()
    answers._pool.waitForDone()  # its answer is on its way
    line.call_off()
    qtbot.wait(20)
    assert not seen
    assert (line.asked, line.answered) == (None, None)


def test_one_kind_does_not_wait_for_another(answers: Answers, qtbot: QtBot, gate: threading.Event) -> None:
    begun = threading.Event()
    answers.line("slow").ask("slow", slow, begun, gate)
    assert begun.wait(5)
    quick = answers.line("quick")
    quick.ask("one", doubled, 1)
    qtbot.waitUntil(lambda: quick.answered == "one")
    assert answers.line("slow").asked == "slow"


def test_what_is_wanted_again_is_asked_once(answers: Answers, qtbot: QtBot) -> None:
    line = answers.line("sums")
    seen = listened(line)
    for _ in range(2):
        line.want((1, "a"), doubled, 1)
    qtbot.waitUntil(lambda: line.answered is not None)
    line.want((1, "a"), doubled, 1)
    qtbot.wait(20)
    assert [about for what, about, _ in seen if what == "came"] == [(1, "a")]
    line.want((2, "a"), doubled, 1)
    qtbot.waitUntil(lambda: line.answered == (2, "a"))


def test_a_fault_is_told_and_raised_and_not_asked_for_again(answers: Answers, qtbot: QtBot) -> None:
    line = answers.line("sums")
    seen = listened(line)
    with qtbot.captureExceptions() as raised:
        line.want("a", faulty, ZeroDivisionError("on purpose"))
        qtbot.waitUntil(lambda: bool(seen))
        line.want("a", faulty, ZeroDivisionError("again"))
        qtbot.wait(20)
    assert seen == [("failed", "a", "on purpose")]
    assert [kind for kind, _, _ in raised] == [ZeroDivisionError]


def test_what_a_rule_forbids_is_told_but_no_fault_of_the_program(answers: Answers, qtbot: QtBot) -> None:
    line = answers.line("sums")
    seen = listened(line)
    line.ask("a", faulty, DesignError("cannot be"))
    qtbot.waitUntil(lambda: seen == [("failed", "a", "cannot be")])
    line.ask("b", doubled, 1)
    qtbot.waitUntil(lambda: line.answered == "b")


def test_closing_calls_all_off_and_waits(answers: Answers, qtbot: QtBot) -> None:
    left = []
    for kind in ("one", "two", "three"):
        begun, gone = threading.Event(), threading.Event()
        answers.line(kind).ask(kind, watched, begun, gone)
        assert begun.wait(5)
        left.append(gone)
    seen = [listened(answers.line(kind)) for kind in ("one", "two", "three")]
    answers.close()
    assert all(gone.is_set() for gone in left)
    qtbot.wait(20)
    assert seen == [[], [], []]
