"""Files put into a folder all at once: whatever is killed, the folder is as it was or as it is meant to be,
never a mixture.

The whole folder is made anew beside the old one, and the two change places in one step of the system:
renameat2(2) with RENAME_EXCHANGE on Linux 3.15 and later, renamex_np(2) with RENAME_SWAP on macOS. Elsewhere
it takes two steps; a kill between them leaves the old folder under another name, and `clear_up` puts it back.
What is in the folder and is nobody's business here goes along, as a second link to the same file.
"""

import contextlib
import ctypes
import os
import re
import secrets
import shutil
import sys
from collections.abc import Collection, Generator, Mapping
from pathlib import Path
from typing import Final

from rampdraft.errors import FileError, Problem
from rampdraft.files.text_file import may_run, settle, write_whole
from rampdraft.words.say import say

MOST_OTHERS: Final = 2000
"""Files and folders of others that go along; a folder with more was not made for a pack."""

_AT_FDCWD: Final = -100
_EXCHANGE: Final = 2
"""RENAME_EXCHANGE of linux/fs.h, and RENAME_SWAP of macOS."""

_NAME: Final = re.compile(r"\.(?P<name>.+)\.(?P<process>\d+)-[0-9a-f]{12}\.(?P<kind>new|old)")


def swap_in(folder: Path, files: Mapping[str, bytes], stale: Collection[str]) -> None:
    """Put `files`, by their path below the folder, into it, and take away those that are `stale`.

    Raises FileError or OSError, and leaves the folder as it was, where that cannot be done.
    """
    target = Path(os.path.realpath(folder))
    new, old = (_beside(target, kind) for kind in ("new", "old"))
    try:
        with _told_of_target(new, target):
            new.mkdir(parents=True)
            if target.exists():
                _take_along(target, new, {name.casefold() for name in (*files, *stale)})
                shutil.copymode(target, new)
            for name, data in files.items():
                (new / name).parent.mkdir(parents=True, exist_ok=True)
                write_whole(new / name, data)
            _put_in_place(new, target, old)
    finally:
        for left in (new, old):
            shutil.rmtree(left, ignore_errors=True)


def rehearse(folder: Path, names: Collection[str]) -> None:
    """Find out whether files of these names can be put into a folder, and leave nothing behind.

    Raises FileError or OSError as `swap_in` does where no folder can be made there, or the oddest of the
    names cannot be given.
    """
    target = Path(os.path.realpath(folder))
    there = next(one for one in target.parents if os.path.lexists(one))
    trial = there / _beside(target, "new").name
    oddest = max(names, key=lambda name: (not name.isascii(), len(name)))
    try:
        with _told_of_target(trial, target):
            trial.mkdir()
            write_whole(trial / Path(oddest).name, b"")
    finally:
        shutil.rmtree(trial, ignore_errors=True)


def clear_up(folder: Path) -> None:
    """Take away what runs left beside a folder that were killed, and put back a folder that one of them had
    in its hands.
    """
    target = Path(os.path.realpath(folder))
    with contextlib.suppress(OSError):
        for left in sorted(target.parent.iterdir()):
            match = _NAME.fullmatch(left.name)
            if match is None or match["name"] != target.name or may_run(int(match["process"])):
                continue
            if match["kind"] == "old" and not target.exists():
                left.rename(target)
            else:
                shutil.rmtree(left, ignore_errors=True)


def refusal(folder: Path) -> Problem | None:
    """Return why a folder cannot change places with another, or nothing."""
    target = Path(os.path.realpath(folder))
    if not target.exists():
        return None
    if not target.is_dir():
        rule, way_out = say("is a file and no folder"), say("choose another name")
        return Problem(key="folder", value=repr(str(folder)), rule=rule, way_out=way_out)
    here = Path.cwd()
    if os.path.ismount(target):
        rule = say("is a whole disk and no folder")
    elif here == target or target in here.parents:
        rule = say("is the folder that this program stands in, which cannot be put in the place of another")
    elif _locked(target):
        rule = say("is write-protected")
    elif sum(1 for _ in target.glob("**/*")) > MOST_OTHERS:
        rule = say("holds more than {count} files, so it is none for a pack alone", count=MOST_OTHERS)
    else:
        return None
    return Problem(
        key="folder", value=repr(str(folder)), rule=rule, way_out=say("choose a new folder below it")
    )


def first_locked(folder: Path, names: Collection[str]) -> Path | None:
    """Return the first of these files below a folder that is write-protected, if any is."""
    return next((folder / name for name in names if _locked(folder / name)), None)


def _locked(path: Path) -> bool:
    """Return whether somebody has protected a file; for the system's own administrator nothing else shows
    it.
    """
    return path.exists() and (not path.stat().st_mode & 0o222 or not os.access(path, os.W_OK))


def _beside(target: Path, kind: str) -> Path:
    return target.with_name(f".{target.name}.{os.getpid()}-{secrets.token_hex(6)}.{kind}")


@contextlib.contextmanager
def _told_of_target(new: Path, target: Path) -> Generator[None]:
    """Have what goes wrong in the folder that is made told of the one whose place it takes."""
    try:
        yield
    except FileError as error:
        problems = [_told_of(problem, new, target) for problem in error.problems]
        raise FileError(str(error).partition("\n")[0].replace(str(new), str(target)), problems) from None
    except OSError as error:
        place = str(error.filename or target).replace(str(new), str(target))
        raise OSError(error.errno, error.strerror or str(error), place) from None


def _told_of(problem: Problem, new: Path, target: Path) -> Problem:
    value = problem.value.replace(str(new), str(target))
    return Problem(key=problem.key, value=value, rule=problem.rule, way_out=problem.way_out)


def _take_along(target: Path, new: Path, but: Collection[str]) -> None:
    """Link all that is below a folder into another, but the files named: by small letters, relative to it."""
    folders = list[Path]()
    for path in sorted(target.rglob("*")):
        name = path.relative_to(target).as_posix()
        if path.is_dir() and not path.is_symlink():
            (new / name).mkdir()
            folders.append(path)
        elif name.casefold() not in but:
            _link(path, new / name)
    for folder in reversed(folders):
        shutil.copymode(folder, new / folder.relative_to(target))


def _link(path: Path, beside: Path) -> None:
    try:
        os.link(path, beside, follow_symlinks=False)
    except OSError:  # a disk that knows no second link, or a system that makes none to a link
        shutil.copy2(path, beside, follow_symlinks=False)


def _put_in_place(new: Path, target: Path, old: Path) -> None:
    """Let a folder change places with another, or take the place of one that is not there."""
    if not target.exists():
        new.rename(target)
    elif not _exchanged(new, target):
        target.rename(old)
        try:
            new.rename(target)
        except OSError:
            old.rename(target)
            raise
    settle(target.parent)


def _exchanged(one: Path, other: Path) -> bool:
    """Let two folders change places in one step; return whether the system can do that here."""
    first, second = os.fsencode(one), os.fsencode(other)
    if sys.platform == "linux":
        call = getattr(_libc(), "renameat2", None)
        return call is not None and call(_AT_FDCWD, first, _AT_FDCWD, second, _EXCHANGE) == 0
    if sys.platform == "darwin":
        call = getattr(_libc(), "renamex_np", None)
        return call is not None and call(first, second, _EXCHANGE) == 0
    return False


def _libc() -> ctypes.CDLL:
    return ctypes.CDLL(None)
