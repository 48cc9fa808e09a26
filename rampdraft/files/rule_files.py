"""The rule files of a person's own that a design names: they lie beside it, and go where it goes."""

import os
import re
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path
from typing import Final

from rampdraft.errors import FileError, Problem
from rampdraft.files.log import data_folder
from rampdraft.files.text_file import read_text, write_whole
from rampdraft.words.say import say

_NO_PLAIN_PATH: Final = re.compile(
    r"[/\\]{2}|[a-z][a-z0-9+.-]+:|(?:.*[/\\])?(?:con|prn|aux|nul|com\d|lpt\d)\.[^/\\]*$|.*\0", re.I | re.S
)
"""Begins as another computer or a device is called, or names one: looking at it may fetch something."""


def is_own(name: str) -> bool:
    """Return whether the name of a rule set is that of a file."""
    return name.endswith(".toml")


def added_folders() -> tuple[Path, ...]:
    """Return the folders elsewhere that this user has added as places of rule files."""
    try:
        lines = read_text(_list_of_folders()).splitlines()
    except FileError:
        return ()
    return tuple(Path(line) for line in lines if os.path.isabs(line))


def add_folder(folder: Path) -> None:
    """Add a folder as a place of rule files. Raises FileError where that cannot be kept."""
    folders = added_folders()
    if folder.resolve() not in folders:
        with suppress(OSError):  # told by what follows
            data_folder().mkdir(parents=True, exist_ok=True)
        lines = "".join(f"{one}\n" for one in (*folders, folder.resolve()))
        write_whole(_list_of_folders(), lines.encode("utf-8"))


def _list_of_folders() -> Path:
    return data_folder() / "rule-folders.txt"


def name_of(path: Path, folder: Path | None) -> str:
    """Return the name by which a design in a folder names a rule file that its user has chosen, and remember
    the folder of one that lies elsewhere. Raises FileError as `add_folder` does.
    """
    if folder is not None and path.resolve().is_relative_to(folder.resolve()):
        return path.resolve().relative_to(folder.resolve()).as_posix()
    add_folder(path.parent)
    return str(path)


def refusal(name: str, folder: Path | None) -> tuple[str, str]:
    """Return why the rule file that a design in a folder names is not looked at, with a way out; or nothing
    twice.
    """
    if _NO_PLAIN_PATH.match(name):
        return say("names another computer or a device"), say("copy the file beside the design")
    if folder is None and not os.path.isabs(name):
        return say("is looked for beside the design file, and the design has none yet"), say("save it first")
    path = (folder or Path()).joinpath(name).resolve()
    places = (*((folder,) if folder is not None else ()), *added_folders())
    if any(path.is_relative_to(place.resolve()) for place in places):
        return "", ""
    rule = say("lies outside the folder of the design, where nobody has looked for rules yet")
    return rule, say("copy it beside the design, or add it in the window, under Use, or with --rules-from")


def carry_rule_files(names: Iterable[str], source: Path | None, target: Path) -> tuple[str, ...]:
    """Copy those of a design's rule sets that are files beside it from its old folder to its new one. Return
    the names of those that are not to be had.

    A file that is named with its whole path stays where it is. Raises FileError, and copies nothing, where
    another file of the same name is there already; and where one cannot be written.
    """
    beside = [
        name for name in names if is_own(name) and not os.path.isabs(name) and not refusal(name, source)[0]
    ]
    if source is None or source.resolve() == target.resolve():
        return ()
    texts, missing = dict[str, str](), list[str]()
    for name in beside:
        try:
            texts[name] = read_text(source / name)
        except FileError:
            missing.append(name)
    taken = [
        Problem(
            key="use.rule_sets",
            value=repr(name),
            rule=say("{file!r} is there already and holds other rules", file=str(target / name)),
            way_out=say("move one of them, or save in another folder"),
        )
        for name, text in texts.items()
        if os.path.lexists(target / name) and _text_of(target / name) != text
    ]
    if taken:
        raise FileError(say("Nothing was saved: the rule files of the design go with it."), taken)
    for name, text in texts.items():
        if not os.path.lexists(target / name):
            _write(target / name, text)
    return tuple(missing)


def _text_of(path: Path) -> str | None:
    try:
        return read_text(path)
    except FileError:
        return None


def _write(path: Path, text: str) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        problem = Problem(
            key="file",
            value=repr(str(path.parent)),
            rule=say("cannot be made: {reason}", reason=error.strerror or error),
            way_out=say("save in another folder"),
        )
        raise FileError(
            say("Nothing was saved: the rule files of the design go with it."), (problem,)
        ) from None
    write_whole(path, text.encode("utf-8"))
