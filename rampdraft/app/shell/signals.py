"""What the system tells the program to do: to end, by a signal or at the end of a session."""

import contextlib
import logging
import os
import signal
from typing import TYPE_CHECKING, Final

from PySide6.QtCore import QObject, QSocketNotifier
from PySide6.QtGui import QGuiApplication

if TYPE_CHECKING:
    from rampdraft.app.shell.window import Window

_AT_ONCE: Final = tuple(
    number for name in ("SIGTERM", "SIGHUP") if (number := getattr(signal, name, None)) is not None
)
"""Signals that leave no time to ask anybody."""


class Signals(QObject):
    """Closes the window on SIGINT as Quit does; notes the work and ends on SIGTERM and SIGHUP. On Windows,
    where a window gets none of them, it only listens to the end of the session.
    """

    def __init__(self, window: "Window") -> None:
        super().__init__()
        self._window = window
        self._before: dict[int, object] = {}
        self._pipe: tuple[int, int] | None = None
        self._notifier: QSocketNotifier | None = None

    def install(self) -> None:
        """Begin to listen."""
        app = QGuiApplication.instance()
        if isinstance(app, QGuiApplication):
            app.commitDataRequest.connect(self._session_ends)
        if os.name != "posix":
            return
        self._pipe = os.pipe()
        for end in self._pipe:
            os.set_blocking(end, False)
        # Python's own handlers wait until Python runs; Qt waits on the pipe and wakes it.
        signal.set_wakeup_fd(self._pipe[1], warn_on_full_buffer=False)
        self._notifier = QSocketNotifier(self._pipe[0], QSocketNotifier.Type.Read, self)
        self._notifier.activated.connect(self._told)
        for number in (signal.SIGINT, *_AT_ONCE):
            # Nothing is done here: the pipe tells.
            self._before[number] = signal.signal(number, lambda *_: None)

    def remove(self) -> None:
        """Stop listening."""
        for number, handler in self._before.items():
            signal.signal(number, handler)  # pyright: ignore[reportArgumentType]
        self._before.clear()
        if self._notifier is not None and self._pipe is not None:
            self._notifier.setEnabled(False)
            signal.set_wakeup_fd(-1)
            for end in self._pipe:
                os.close(end)
            self._notifier = self._pipe = None

    def _told(self) -> None:
        numbers = b""
        if self._pipe is not None:
            with contextlib.suppress(BlockingIOError):
                numbers = os.read(self._pipe[0], 64)
        for number in numbers:
            if number in _AT_ONCE:
                self.end_at_once(number)
            elif number == signal.SIGINT:
                self._window.close()

    def end_at_once(self, number: int) -> None:
        """Note the work and end the program; nothing is asked, and nothing waited for."""
        try:
            self._note()
        finally:
            logging.shutdown()
            os._exit(128 + number)

    def _session_ends(self) -> None:
        self._note()

    def _note(self) -> None:
        if self._window.desk is not None:
            self._window.desk.journal.now()
