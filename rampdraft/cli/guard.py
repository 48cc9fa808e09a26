"""Around the whole program: how it ends when something is wrong with it, or with where its words go.

Nothing of the program is imported here but the log, so that what cannot even be loaded is told too.
"""

import contextlib
import os
import sys
import traceback
from collections.abc import Callable
from io import TextIOWrapper
from pathlib import Path
from typing import Final

from rampdraft.files.log import LOGGER, begin_log, end_log, log_words

BAD_INPUT: Final = 2
FAULT: Final = 70
"""As sysexits.h of BSD has it for a fault of the program itself."""


class OutputError(Exception):
    """Standard output takes nothing; the message says why."""


def guarded(main: Callable[[], int]) -> int:
    """Return the exit code of `main`; Ctrl-C and a reader that goes away (`| head`) end it without a word, a
    fault of the program and a standard output that takes nothing with one line.
    """
    _keep_standard_streams_free()
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter shows a question mark instead of stopping the program.
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="replace")
    log = begin_log()
    try:
        return _told(main)
    except KeyboardInterrupt:
        return 130
    except BrokenPipeError:
        _swallow_the_rest()
        return 141
    except OutputError as error:
        _swallow_the_rest()
        complain(str(error))
        return BAD_INPUT
    except Exception as fault:
        LOGGER.exception("the program ends by a fault")
        place = traceback.extract_tb(fault.__traceback__)[-1]
        words = " ".join(f"{type(fault).__name__}: {fault}".split())
        complain(
            f"a fault of the program: {words} ({Path(place.filename).name}, line {place.lineno}). Please"
            f" report it, with the design; {log_words()}"
        )
        return FAULT
    finally:
        end_log(log)


def _told(main: Callable[[], int]) -> int:
    try:
        code = main()
    except SystemExit as left:  # by --help, --version and wrong usage, after telling
        code = left.code if isinstance(left.code, int) else 0
    try:
        if sys.stdout is not None:
            sys.stdout.flush()
    except BrokenPipeError:
        raise
    except OSError as error:
        raise _output_error(error) from None
    return code


def tell(text: str) -> None:
    """Print text. Raises OutputError where standard output takes nothing."""
    if sys.stdout is None:
        raise OutputError("standard output is closed: there is nowhere to tell it")
    try:
        print(text)
    except BrokenPipeError:
        raise
    except OSError as error:
        raise _output_error(error) from None


def complain(text: str) -> None:
    """Say on standard error what is wrong, where it takes anything."""
    if sys.stderr is not None:
        with contextlib.suppress(OSError, ValueError):
            print(f"rampdraft: {text}", file=sys.stderr, flush=True)


def _output_error(error: OSError) -> OutputError:
    return OutputError(f"standard output cannot be written: {error.strerror or error}")


def _keep_standard_streams_free() -> None:
    """Hold the numbers of standard streams that are closed: no file of the program's may get one of them."""
    with contextlib.suppress(OSError):
        while (handle := os.open(os.devnull, os.O_RDWR)) <= 2:
            pass
        os.close(handle)


def _swallow_the_rest() -> None:
    # The interpreter flushes once more on its way out: give it something that takes it.
    if sys.stdout is None:
        return
    with contextlib.suppress(OSError, ValueError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
