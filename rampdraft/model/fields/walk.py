"""Every field of a design, by its dotted path, with the record that stands beside it.

One record drives form, file, report and docs; nothing here is written twice.
"""

import dataclasses
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any, Final, get_args, get_origin, get_type_hints

from rampdraft.model.design import Design
from rampdraft.model.fields.record import Record

GROUP_LABELS: Final[dict[str, str]] = {
    "about": "About",
    "carrier": "Carrier",
    "inner_leaf": "Inner leaf",
    "outer_leaf": "Outer leaf",
    "deck_hinge": "Deck hinge",
    "joint": "Joint",
    "fold": "Fold",
    "stop": "Stop bars",
    "prop": "Prop",
    "toe": "Toe",
    "bridge": "Bridge plate",
    "use": "Use",
    "made_of": "Materials",
    "workshop": "Workshop",
    "sites": "Sites",
    "assist": "Assist spring",
    "hold_down": "Held down",
    "handles": "Handles",
    "obstacles": "Obstacles",
    "fold_stages": "Fold stages",
    "materials": "Own materials",
    "stock": "Stock",
    "joining": "Welds and bolts",
    "carrier_body": "Carrier's weight",
    "supports": "Supports",
    "users": "Wheeled users",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldInfo:
    """A field of one of the design's classes."""

    name: str
    value_type: Any
    """The bare type: float, int, str, bool, Section, a Literal, a tuple of them, a dataclass or a tuple of
    dataclasses.
    """
    record: Record | None
    """None for a group or a list of groups."""
    required: bool
    many: bool
    """Whether it holds a tuple: of plain values, or of rows."""
    item_type: Any
    """The bare type of one value: that of the items where there are many."""

    @property
    def group(self) -> type | None:
        """Return the dataclass that the field holds, once, or None."""
        return self.item_type if self.record is None and not self.many else None

    @property
    def rows(self) -> type | None:
        """Return the dataclass that the field holds many of, or None."""
        return self.item_type if self.record is None and self.many else None


@cache
def fields_of(cls: type) -> tuple[FieldInfo, ...]:
    """Return the fields of one of the design's dataclasses, in the order they are declared."""
    hints = get_type_hints(cls, include_extras=True)
    found: list[FieldInfo] = []
    for field in dataclasses.fields(cls):
        hint = hints[field.name]
        record: Record | None = None
        if hasattr(hint, "__metadata__"):
            record = hint.__metadata__[0]
            hint = hint.__origin__
        many = get_origin(hint) is tuple
        found.append(
            FieldInfo(
                name=field.name,
                value_type=hint,
                record=record,
                required=field.default is dataclasses.MISSING,
                many=many,
                item_type=get_args(hint)[0] if many else hint,
            )
        )
    return tuple(found)


def walk(design: Design, only: str = "") -> Iterator[tuple[str, FieldInfo, Any]]:
    """Yield (dotted path, field, value) of every plain value of a design, or of the group `only`; rows are
    numbered from 1: `sites[1].name`.
    """
    yield from _walk("", design, only)


def _walk(prefix: str, group: object, only: str = "") -> Iterator[tuple[str, FieldInfo, Any]]:
    for info in fields_of(type(group)):
        if only not in ("", info.name):
            continue
        path, value = f"{prefix}{info.name}", getattr(group, info.name)
        if info.record is not None:
            yield path, info, value
        elif info.many:
            for number, row in enumerate(value, start=1):
                yield from _walk(f"{path}[{number}].", row)
        else:
            yield from _walk(f"{path}.", value)


def info_of(path: str) -> FieldInfo | None:
    """Return the record of the value at a dotted path, None for a path of no value.

    List items, and `[*]` for all of them, count as their list, `both_leaves` as a leaf.
    """
    group: type | None = Design
    info = None
    for name in re.sub(r"\[(\d+|\*)\]", "", path).replace("both_leaves", "inner_leaf").split("."):
        if group is None:
            return None
        info = next((info for info in fields_of(group) if info.name == name), None)
        if info is None:
            return None
        group = info.group or info.rows
    return info
