"""The rule files of a person's own that a design names: they lie beside it, and go where it goes."""

import os
from collections.abc import Iterable
from pathlib import Path

from rampdraft.errors import FileError, Problem
from rampdraft.files.text_file import read_text, write_whole


def is_own(name: str) -> bool:
    """Return whether the name of a rule set is that of a file."""
    return name.endswith(".toml")


def carry_rule_files(names: Iterable[str], source: Path | None, target: Path) -> tuple[str, ...]:
    """Copy those of a design's rule sets that are files beside it from its old folder to its new one. Return
    the names of those that are not to be had.

    A file that is named with its whole path stays where it is. Raises FileError, and copies nothing, where
    another file of the same name is there already; and where one cannot be written.
    """
    beside = [name for name in names if is_own(name) and not os.path.isabs(name)]
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
            rule=f"{str(target / name)!r} is there already and holds other rules",
            way_out="move one of them, or save in another folder",
        )
        for name, text in texts.items()
        if os.path.lexists(target / name) and _text_of(target / name) != text
    ]
    if taken:
        raise FileError("Nothing was saved: the rule files of the design go with it.", taken)
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
            rule=f"cannot be made: {error.strerror or error}",
            way_out="save in another folder",
        )
        raise FileError("Nothing was saved: the rule files of the design go with it.", (problem,)) from None
    write_whole(path, text.encode("utf-8"))
