"""Where and when what nobody holds any more ends."""

import threading
from collections.abc import Callable
from typing import Any

from PySide6.QtCore import QObject, QTimer
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
