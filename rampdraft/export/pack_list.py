"""The file `pack.txt` of a pack: which files belong to it, whether it is complete, and the cautions."""

import re
from collections.abc import Sequence
from pathlib import Path
from typing import Final

from rampdraft.errors import FileError, Problem
from rampdraft.files.text_file import read_text

PACK_LIST: Final = "pack.txt"

_HEAD: Final = "rampdraft pack"
_FILES: Final = "Files:"
_NAME: Final = re.compile(
    r"(?:(?:profiles|rules|views)/)?[^./\\:\x00-\x1f][^./\\:\x00-\x1f]*\.(?:toml|dxf|csv|json|svg|pdf)"
)
"""What may stand in a list: an export takes away no other file, whatever somebody wrote into it."""


def read_pack_list(folder: Path) -> tuple[str, ...]:
    """Return the paths below the folder, with `/`, of what an earlier export wrote into it; none where there
    is no list.

    Raises FileError when the file is not one that an export wrote.
    """
    path = folder / PACK_LIST
    if not path.is_symlink() and not path.exists():
        return ()
    lines = read_text(path).splitlines()
    if not lines or lines[0] != _HEAD or _FILES not in lines or path.is_symlink():
        raise _foreign(path, "is there already and is no list of a pack", "move it, or choose another folder")
    names = [line.strip() for line in lines[lines.index(_FILES) + 1 :] if line.strip()]
    wrong = next((name for name in names if _NAME.fullmatch(name) is None), None)
    if wrong is not None:
        raise _foreign(
            path, f"names {wrong!r}, which is no file of a pack", "move the list, or choose another folder"
        )
    return tuple(names)


def pack_list_text(names: Sequence[str], cautions: Sequence[str], *, complete: bool) -> bytes:
    """Return the list of a pack as UTF-8 text."""
    state = (
        "Complete."
        if complete
        else "NOT COMPLETE: an export was broken off. Export again before using any of it."
    )
    lines = (
        _HEAD,
        "",
        state,
        "These files were written together and belong together. An export into this folder replaces them.",
        "",
        *cautions,
        "",
        _FILES,
        *(f"  {name}" for name in names),
    )
    return ("\n".join(lines) + "\n").encode("utf-8")


def _foreign(path: Path, rule: str, way_out: str) -> FileError:
    return FileError(
        f"{str(path)!r} {rule}.", (Problem(key="file", value=str(path), rule=rule, way_out=way_out),)
    )
