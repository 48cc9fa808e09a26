"""Where and when what nobody holds any more ends."""

import threading
from collections.abc import Callable
from typing import Any

import pytest
from PySide6.QtCore import QObject, QTimer, QTimerEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from rampdraft.app import cycles


class Ended(QObject):
    """Holds itself, with a timer that runs, and tells on which thread it ends."""

    def __init__(self, tell: Callable[[int], None]) -> None:
        super().__init__()
        self.me, self.tell = self, tell
        self.timer = QTimer(self, interval=0)
        self.timer.start()

    def __del__(self) -> None:
        self.tell(threading.get_ident())


def work() -> list[list[Any]]:
    """Make more objects than any look waits for."""
    return [[number] for number in range(30 * cycles.YOUNG)]


def test_what_is_dead_ends_on_the_ui_thread(qtbot: QtBot, qapp: QApplication) -> None:
    ended: list[int] = []
    Ended(ended.append)
    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert not ended
    held = work()
    qtbot.waitUntil(lambda: bool(ended))
    assert ended == [threading.get_ident()]
    assert len(held) > cycles.YOUNG


def test_a_window_that_is_no_more_ends_though_it_was_kept(qtbot: QtBot, qapp: QApplication) -> None:
    ended: list[int] = []
    Ended(ended.append)
    cycles.keep()
    cycles.keep_anew()
    qtbot.waitUntil(lambda: bool(ended))


def test_all_is_looked_through_once_nobody_does_anything(
    qtbot: QtBot, qapp: QApplication, monkeypatch: pytest.MonkeyPatch
) -> None:
    looks: list[int] = []
    counts = [100]

    def collect(generation: int = 2) -> None:
        looks.append(generation)

    monkeypatch.setattr(cycles.gc, "collect", collect)
    monkeypatch.setattr(cycles.gc, "get_count", lambda: (counts[-1], 0, cycles.LOOKS + 1))
    looker = cycles.Cycles(qapp)
    try:
        for _ in range(3 * cycles.STILL):
            counts.append(counts[-1] + 2 * cycles.STILL_MOST)  # somebody drags
            looker.timerEvent(QTimerEvent(0))
        assert 2 not in looks
        assert 0 in looks
        for _ in range(cycles.STILL):
            assert 2 not in looks
            looker.timerEvent(QTimerEvent(0))
        assert looks[-1] == 2
    finally:
        looker.deleteLater()
