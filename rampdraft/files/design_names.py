"""How the fields of a design are spelled in its file."""

import re
from collections.abc import Iterator, Mapping
from typing import Final

from rampdraft.files.toml_lines import KeyPath
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo, fields_of
from rampdraft.model.fields.record import Dim


def file_name(info: FieldInfo) -> str:
    """Return a field's key in the file: rows stand under their name in the singular."""
    return info.name.removesuffix("s") if info.rows is not None else info.name


def _row_names(cls: type) -> Iterator[tuple[str, str]]:
    for info in fields_of(cls):
        inner = info.group or info.rows
        if info.rows is not None:
            yield info.name, file_name(info)
        if inner is not None:
            yield from _row_names(inner)


_ROW_NAMES: Final[dict[str, str]] = dict(_row_names(Design))


def file_path(key: str) -> KeyPath:
    """Return the file's path of a design's dotted path: `sites[2].name` is ("site", 1, "name")."""
    return steps_of(key, _ROW_NAMES)


def steps_of(key: str, names: Mapping[str, str]) -> KeyPath:
    """Return a dotted path as steps, its words spelled as `names` says and its rows counted from 0."""
    steps = (step for step in re.split(r"[.\[\]]+", key) if step)
    return tuple(int(step) - 1 if step.isdigit() else names.get(step, step) for step in steps)


def dotted(path: KeyPath) -> str:
    """Return a path as it stands in the brackets of a table, without the numbers of rows."""
    return ".".join(step for step in path if isinstance(step, str))


def unit_text(info: FieldInfo) -> str:
    """Return what follows a label: a comma and the unit, or nothing."""
    return f", {info.record.unit}" if isinstance(info.record, Dim) and info.record.unit else ""
