"""An exception that nobody caught: to the log, and to the screen in plain words with a way to save. Nothing
is lost.
"""

import logging
import sys
import traceback
from collections.abc import Callable
from types import TracebackType

from rampdraft.files.log import begin_log, end_log, log_words
from rampdraft.words.say import say

Hook = Callable[[type[BaseException], BaseException, TracebackType | None], object]


class Failures:
    """Catches what slots let through while it is installed."""

    def __init__(self, tell: Callable[[str, str], None]) -> None:
        self._tell = tell
        self._telling = False
        self._before: Hook = sys.excepthook
        self._handler: logging.Handler | None = None

    def install(self) -> None:
        """Begin to catch and to log."""
        self._before = sys.excepthook
        sys.excepthook = self._caught
        self._handler = begin_log()

    def remove(self) -> None:
        """Stop catching."""
        sys.excepthook = self._before
        end_log(self._handler)
        self._handler = None

    def _caught(self, kind: type[BaseException], fault: BaseException, trace: TracebackType | None) -> None:
        if issubclass(kind, KeyboardInterrupt):
            self._before(kind, fault, trace)
            return
        details = "".join(traceback.format_exception(kind, fault, trace))
        logging.getLogger("rampdraft").error("not caught:\n%s", details)
        if self._telling:  # a fault while telling of one must not pile up dialogs
            return
        self._telling = True
        try:
            where = say("\n\nThis is also in the log; {log}", log=log_words())
            self._tell(
                say(
                    "A fault in the program stopped what you just did. The design is as it was;"
                    " save it to be sure."
                ),
                details + where,
            )
        finally:
            self._telling = False
