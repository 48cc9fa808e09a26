"""Starts the window. What is imported here stands between the user and the window, so it is little."""

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtGui import QIcon
from PySide6.QtWidgets import QApplication

from rampdraft.app import cycles, looks, read_out, speech
from rampdraft.app.cycles import Cycles
from rampdraft.app.focus_ring import FocusRings
from rampdraft.app.shell.window import Window
from rampdraft.drawing.style import icon_path

if TYPE_CHECKING:
    from rampdraft.app.shell.failures import Failures
    from rampdraft.app.shell.signals import Signals


def run(path: Path | str | None, *, show_for_ms: int | None = None) -> int:
    """Show the window, with the design in `path` or a new one, until it is closed; return the exit code.

    `show_for_ms` closes it by itself that long after it is furnished: for tests, pictures and benchmarks.
    """
    app = application()
    window = Window()
    opening = _Opening(window, Path(path) if path is not None else None, show_for_ms)
    window.painted.connect(opening.open, Qt.ConnectionType.QueuedConnection)
    window.show()
    try:
        return app.exec()
    finally:
        opening.end()


def application() -> QApplication:
    """Return the application, dressed in this program's palette."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    app.setApplicationName("rampdraft")
    app.setApplicationDisplayName("Rampdraft")
    app.setDesktopFileName("rampdraft")
    app.setWindowIcon(QIcon(str(icon_path())))
    app.setStyle("Fusion")
    speech.begin()
    looks.dress()
    read_out.begin(app)
    if not app.findChildren(FocusRings):
        FocusRings(app)
        Cycles(app)
    app.styleHints().colorSchemeChanged.connect(looks.dress)
    return app


class _Opening:
    """Furnishes the window once it stands, and opens a file or begins a new design."""

    def __init__(self, window: Window, path: Path | None, show_for_ms: int | None) -> None:
        self._window, self._path, self._show_for_ms = window, path, show_for_ms
        self._failures: Failures | None = None
        self._signals: Signals | None = None

    def open(self) -> None:
        from rampdraft.app.shell.failures import Failures
        from rampdraft.app.shell.signals import Signals

        desk = self._window.furnish()
        self._signals = Signals(self._window)
        self._signals.install()
        self._failures = Failures(self._tell_failure)
        self._failures.install()
        if self._show_for_ms is not None:
            QTimer.singleShot(self._show_for_ms, self._window, self._window.close_unasked)
        opened = self._path is not None and desk.filing.load(self._path)
        if not opened:
            desk.filing.begin_and_offer()
        cycles.keep()
        if desk.recovery.offer() or self._show_for_ms is not None:
            return
        if opened:
            desk.tour_work.begin_once()
        else:
            desk.start_work.open(after=desk.tour_work.begin_once)

    def _tell_failure(self, message: str, details: str) -> None:
        """Tell it at the desk that is there now: another language brings another one."""
        if self._window.desk is not None:
            self._window.desk.tell_failure(message, details)

    def end(self) -> None:
        if self._signals is not None:
            self._signals.remove()
        if self._failures is not None:
            self._failures.remove()
