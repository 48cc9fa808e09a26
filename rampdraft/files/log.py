"""The program's log, one file for the window and the command line: what went wrong, for whoever mends it."""

import faulthandler
import logging
import os
import sys
from io import TextIOWrapper
from logging.handlers import RotatingFileHandler
from pathlib import Path
from typing import Final

_LARGEST_BYTES: Final = 300_000
_FORM: Final = "%(asctime)s %(levelname)s %(name)s: %(message)s"
LOGGER: Final = logging.getLogger("rampdraft")


def data_folder() -> Path:
    """Return the folder for data of this user's that the program writes by itself.

    XDG Base Directory Specification 0.8; on Windows and macOS the folders that their makers name for it.
    """
    home = os.path.expanduser("~")
    if sys.platform == "win32":
        folder = os.environ.get("LOCALAPPDATA") or os.path.join(home, "AppData", "Local")
    elif sys.platform == "darwin":
        folder = os.path.join(home, "Library", "Application Support")
    else:
        given = os.environ.get("XDG_DATA_HOME", "")
        folder = given if os.path.isabs(given) else os.path.join(home, ".local", "share")
    return Path(folder) / "rampdraft"


def log_file() -> Path:
    """Return the path of the log."""
    return data_folder() / "rampdraft.log"


class _Log(RotatingFileHandler):
    """Takes what is logged, and what the interpreter says of a crash in compiled code."""

    def _open(self) -> TextIOWrapper:
        stream = super()._open()
        faulthandler.enable(stream)
        return stream

    def close(self) -> None:
        faulthandler.disable()
        super().close()


def begin_log() -> logging.Handler | None:
    """Begin to log, and return what takes it; None where no log can be written, or one is written already."""
    if any(isinstance(handler, _Log) for handler in LOGGER.handlers):
        return None
    path = log_file()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        handler = _Log(path, maxBytes=_LARGEST_BYTES, backupCount=1, encoding="utf-8", errors="replace")
    except (OSError, ValueError):  # a home that can only be read, or a name that this system cannot write
        return None
    handler.setFormatter(logging.Formatter(_FORM))
    LOGGER.addHandler(handler)
    return handler


def end_log(handler: logging.Handler | None) -> None:
    """Stop logging to a handler."""
    if handler is not None:
        LOGGER.removeHandler(handler)
        handler.close()


def log_words() -> str:
    """Return where the log lies, or that there is none."""
    return f"the log is {log_file()}" if LOGGER.handlers else f"no log could be written to {log_file()}"
