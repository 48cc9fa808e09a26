"""A value of the design, or a change of one, as the screen writes it."""

from typing import Any

from rampdraft.app.form import format
from rampdraft.model.fields.paths import info_of, label_of
from rampdraft.model.fields.record import Dim, Switch


def value_words(path: str, value: Any) -> str:
    """Return a value as a sentence writes it, without its unit."""
    info = info_of(path)
    if isinstance(value, bool) or info is None:
        return ("no", "yes")[value] if isinstance(value, bool) else str(value)
    return (
        format.text_of(info, value).replace("-", "−")
        if isinstance(info.record, Dim)
        else format.text_of(info, value)
    )


def change_words(path: str, before: Any, after: Any) -> str:
    """Return a change of one value: `Inner leaf length 800 → 1652 mm`, `Prop under the joint: no → yes`."""
    info = info_of(path)
    record = info.record if info is not None else None
    unit = format.unit_text(record.unit) if isinstance(record, Dim) else ""
    name = f"{record.label}:" if isinstance(record, Switch) else label_of(path)
    space = "" if unit in ("", "°") else " "
    return f"{name} {value_words(path, before)} → {value_words(path, after)}{space}{unit}"
