"""A design as the text of its file."""

import re
from typing import Any, Final, cast

from rampdraft.figures import shortest
from rampdraft.files.design_names import file_name, unit_text
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo, fields_of
from rampdraft.model.fields.record import Choice
from rampdraft.model.section import Section

FORMAT: Final = "rampdraft design"
VERSION: Final = 1


def design_text(design: Design) -> str:
    """Return a design as the text of its file, with label and unit beside each value."""
    head = f"format = {quoted(FORMAT)}\nversion = {VERSION}\n"
    return head + "".join(_group_text(info, getattr(design, info.name), "") for info in fields_of(Design))


def _group_text(info: FieldInfo, value: Any, prefix: str) -> str:
    name = f"{prefix}{file_name(info)}"
    if info.rows is not None:
        return "".join(f"\n[[{name}]]\n{_table_text(info.rows, row, name)}" for row in value)
    assert info.group is not None, "a design holds groups and rows only"
    return f"\n[{name}]\n{_table_text(info.group, value, name)}"


def _table_text(cls: type, value: Any, name: str) -> str:
    plain = [info for info in fields_of(cls) if info.record is not None]
    inner = [info for info in fields_of(cls) if info.record is None]
    lines = [
        f"{file_name(info)} = {_value_text(getattr(value, info.name))}  # {_remark(info)}\n" for info in plain
    ]
    return "".join(lines) + "".join(
        _group_text(info, getattr(value, info.name), f"{name}.") for info in inner
    )


def _remark(info: FieldInfo) -> str:
    if isinstance(info.record, Choice):
        return f"{info.record.label}: {', '.join(word for word, _ in info.record.options)}"
    return f"{info.record.label if info.record else ''}{unit_text(info)}"


def _value_text(value: Any) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return shortest(value)
    if isinstance(value, tuple):
        return f"[{', '.join(_value_text(item) for item in cast('tuple[Any, ...]', value))}]"
    return quoted(value.text if isinstance(value, Section) else value)


def quoted(text: str) -> str:
    """Return a basic string of TOML 1.0.0."""
    plain = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t")
    return '"' + re.sub(r"[\x00-\x1f\x7f]", lambda match: f"\\u{ord(match[0]):04X}", plain) + '"'
