"""Text on the disk: read with a plain word for whatever is wrong, written so that a failure leaves the old
file whole.
"""

import contextlib
import os
import re
import secrets
import stat
import sys
from pathlib import Path
from typing import Final

from rampdraft.errors import FileError, Problem
from rampdraft.words.say import say

LARGEST_BYTES: Final = 500_000
"""A design is some 10 kB, with every list as long as it may be 250 kB; what is larger is something else."""

_DRAFT: Final = re.compile(r"\.(?P<process>\d+)-[0-9a-f]{12}\.part")


def read_text(path: str | os.PathLike[str]) -> str:
    """Return the UTF-8 text of a file, without the mark that some editors put in front.

    Raises FileError when there is no such file, when it is a folder, may not be read, is too large or is no
    text.
    """
    try:
        status = os.stat(path)
        if stat.S_ISDIR(status.st_mode):
            raise _unreadable(path, say("is a folder"), say("name a file in it"))
        if not stat.S_ISREG(status.st_mode):
            raise _unreadable(path, say("is no ordinary file"), say("name a file"))
        if status.st_size > LARGEST_BYTES:
            raise _unreadable(
                path,
                say("is larger than {most} kB", most=LARGEST_BYTES // 1000),
                say("it is no design or rule file"),
            )
        data = Path(path).read_bytes()
    except FileNotFoundError:
        raise _unreadable(path, say("does not exist"), say("check name and folder")) from None
    except PermissionError:
        raise _unreadable(
            path, say("may not be read"), say("ask for the right to read it, or copy it elsewhere")
        ) from None
    except (OSError, ValueError) as error:  # ValueError: a zero byte in the name
        raise _unreadable(
            path, say("cannot be read: {reason}", reason=_reason(error)), say("check name and disk")
        ) from None
    if b"\0" in data:
        raise _unreadable(
            path, say("is no text file"), say("it holds zero bytes"), _line_at(data, data.index(b"\0"))
        )
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        rule = say("is not UTF-8 text (byte 0x{byte:02x})", byte=data[error.start])
        raise _unreadable(path, rule, say("save it as UTF-8"), _line_at(data, error.start)) from None


def write_whole(path: str | os.PathLike[str], data: bytes) -> None:
    """Put `data` in the file at `path`, all of it or nothing: an old file stays as it was when anything
    fails.

    A link is followed and stays a link; the permissions of an old file are kept. Raises FileError that says
    why not.
    """
    try:
        target = Path(os.path.realpath(path))
        if target.is_dir():
            raise _unwritable(path, say("is a folder"), say("name a file in it"))
        if target.exists() and not os.access(target, os.W_OK):
            raise _unwritable(path, say("is write-protected"), say("save under another name"))
        _replace(target, data)
    except FileNotFoundError:
        raise _unwritable(
            path, say("lies in a folder that does not exist"), say("make the folder or choose another")
        ) from None
    except PermissionError:
        raise _unwritable(path, say("may not be written"), say("save in another folder")) from None
    except UnicodeEncodeError:
        rule = say(
            "has a name that cannot be written here: file names are {letters}",
            letters=sys.getfilesystemencoding(),
        )
        raise _unwritable(
            path, rule, say("use plain letters in the name, or set the locale to UTF-8")
        ) from None
    except (OSError, ValueError) as error:
        raise _unwritable(
            path,
            say("cannot be written: {reason}", reason=_reason(error)),
            say("the old file, if any, is untouched"),
        ) from None


def keep_previous(path: str | os.PathLike[str], data: bytes) -> None:
    """Put the file that `data` is about to replace aside as `NAME.bak`: the version before, once. Where that
    cannot be done, nothing happens: it must not stand in the way of saving.
    """
    target = Path(os.path.realpath(path))
    with contextlib.suppress(OSError, ValueError, FileError):
        before = target.read_bytes()
        if before != data:
            write_whole(target.with_name(f"{target.name}.bak"), before)


def _replace(target: Path, data: bytes) -> None:
    _clear_drafts(target.parent)
    # Beside the target, since a rename cannot cross disks.
    draft = target.with_name(f".{os.getpid()}-{secrets.token_hex(6)}.part")
    handle = os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o666)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if target.exists():
            os.chmod(draft, stat.S_IMODE(target.stat().st_mode))
        os.replace(draft, target)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(draft)
        raise
    settle(target.parent)


def _clear_drafts(folder: Path) -> None:
    """Take away what runs that were killed left in a folder."""
    with contextlib.suppress(OSError):
        for left in folder.glob(".*.part"):
            match = _DRAFT.fullmatch(left.name)
            if match is not None and not may_run(int(match["process"])):
                left.unlink(missing_ok=True)


def may_run(process: int) -> bool:
    """Return whether a process may still run: elsewhere than on POSIX there is no asking without harm."""
    if os.name != "posix":
        return True
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        pass
    return True


def settle(folder: Path) -> None:
    """Ask the system to keep the rename through a power cut, where it knows how for a folder."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _reason(error: Exception) -> str:
    return (error.strerror if isinstance(error, OSError) else None) or str(error)


def _line_at(data: bytes, offset: int) -> int:
    return data.count(b"\n", 0, offset) + 1


def _unreadable(path: str | os.PathLike[str], rule: str, way_out: str, line: int | None = None) -> FileError:
    problem = Problem(key="file", value="", rule=rule, way_out=way_out, line=line)
    return FileError(say("Cannot read {path!r}.", path=os.fspath(path)), (problem,))


def _unwritable(path: str | os.PathLike[str], rule: str, way_out: str) -> FileError:
    problem = Problem(key="file", value=repr(os.fspath(path)), rule=rule, way_out=way_out)
    return FileError(say("Nothing was saved in {path!r}.", path=os.fspath(path)), (problem,))
