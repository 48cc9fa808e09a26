"""Work that is in no file of its owner's yet: one note a window, written while somebody works, taken away
when all is saved or given up. What is found at the next start was lost.
"""

import json
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

from rampdraft.errors import FileError
from rampdraft.files.design_file import design_text, read_design
from rampdraft.files.text_file import read_text, write_whole
from rampdraft.model.design import Design
from rampdraft.words.say import say

_FORMAT: Final = "rampdraft journal"
_VERSION: Final = 1
ENDING: Final = ".journal"


@dataclass(frozen=True, slots=True, kw_only=True)
class Note:
    """The work of one window as it was last noted."""

    design: Design
    path: Path | None
    """Of the design's file; None for one that was never saved."""
    folder: Path | None
    """Where its rule files lie."""
    text: str
    """Of the file, as it was read or saved last."""
    unread: tuple[tuple[str, str, str], ...] = ()
    """Half-typed texts: path of the value, text, and why it is no value."""
    when: str = ""
    """Date and time, for people."""


def keep_note(file: Path, note: Note) -> None:
    """Write a note, whole or not at all. Raises FileError where that cannot be done."""
    data = {
        "format": _FORMAT,
        "version": _VERSION,
        "path": None if note.path is None else str(note.path),
        "folder": None if note.folder is None else str(note.folder),
        "when": note.when,
        "unread": note.unread,
        "text": note.text,
        "design": design_text(note.design),
    }
    with suppress(OSError):  # a folder that cannot be made is told by what follows
        file.parent.mkdir(parents=True, exist_ok=True)
    write_whole(file, json.dumps(data, indent=1).encode("utf-8"))


def drop_note(file: Path) -> None:
    """Take a note away, where there is one and it can be."""
    with suppress(OSError):
        file.unlink(missing_ok=True)


def read_note(file: Path) -> Note:
    """Return a note. Raises FileError where the file holds none that this program reads."""
    try:
        data: dict[str, Any] = json.loads(read_text(file))
        if (data["format"], data["version"]) != (_FORMAT, _VERSION):
            raise FileError(say("{name} is no note of unsaved work that this program reads.", name=file.name))
        return Note(
            design=read_design(data["design"], file.name, consistent=False),
            path=None if data["path"] is None else Path(data["path"]),
            folder=None if data["folder"] is None else Path(data["folder"]),
            text=str(data["text"]),
            unread=tuple((str(key), str(text), str(rule)) for key, text, rule in data["unread"]),
            when=str(data["when"]),
        )
    except (ValueError, KeyError, TypeError, RecursionError) as wrong:
        if isinstance(wrong, FileError):
            raise
        raise FileError(say("{name} is no note of unsaved work that can be read.", name=file.name)) from None


def design_before(note: Note) -> Design | None:
    """Return the design as it was saved last, or None for one that was never saved."""
    with suppress(FileError):
        return read_design(note.text, "", consistent=False) if note.text else None
    return None
