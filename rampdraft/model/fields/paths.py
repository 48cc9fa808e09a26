"""Every field of a design by its dotted path (`inner_leaf.length_mm`, `sites[1].name`): the record that
stands beside it, what it is called, its value, and designs with it changed.

One record drives form, file, report and docs; nothing here is written twice. Some paths stand for several
values: `both_leaves.width_mm` in both leaves, `supports[*].rate_n_mm` in all springs.
"""

import re
from collections.abc import Iterator
from collections.abc import Set as AbstractSet
from dataclasses import MISSING, dataclass, fields, replace
from functools import cache, lru_cache
from typing import Any, Final, cast, get_args, get_origin, get_type_hints

from rampdraft.errors import DesignError, Problem
from rampdraft.model.design import Design
from rampdraft.model.fields.record import Record
from rampdraft.words.manner import manner
from rampdraft.words.say import say

GROUP_LABELS: Final[dict[str, str]] = {
    "about": "About",
    "carrier": "Carrier",
    "rails": "Rails",
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
    "hands": "Hands",
    "road": "Stowed and held",
    "obstacles": "Obstacles",
    "fold_stages": "Fold stages",
    "materials": "Own materials",
    "stock": "Stock",
    "prices": "Prices",
    "joining": "Welds and bolts",
    "carrier_body": "Carrier's weight",
    "supports": "Supports",
    "wishes": "Wishes",
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
    default: Any
    """What it is where it is left out; `MISSING` where it may not be."""
    many: bool
    """Whether it holds a tuple: of plain values, or of rows."""
    item_type: Any
    """The bare type of one value: that of the items where there are many."""

    @property
    def required(self) -> bool:
        """Return whether it may not be left out."""
        return self.default is MISSING

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
    for field in fields(cls):
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
                default=field.default,
                many=many,
                item_type=get_args(hint)[0] if many else hint,
            )
        )
    return tuple(found)


def walk(design: Design, but: AbstractSet[str] = frozenset()) -> Iterator[tuple[str, FieldInfo, Any]]:
    """Yield (dotted path, field, value) of every plain value of a design, without those of the groups `but`;
    rows are numbered from 1: `sites[1].name`.
    """
    yield from _walk("", design, but)


def _walk(
    prefix: str, group: object, but: AbstractSet[str] = frozenset()
) -> Iterator[tuple[str, FieldInfo, Any]]:
    for info in fields_of(type(group)):
        if info.name in but:
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


def value_at(design: Design, path: str) -> Any:
    """Return the value at `path`. Raises DesignError when the design has no such path."""
    value: Any = design
    for name, row in _steps(path):
        value = _step(value, name, row, path)
    return value


def with_value(design: Design, path: str, value: Any) -> Design:
    """Return `design` with the value at `path` replaced; the rest is shared with the old one.

    The value is not checked here: `problems_of` does that. Raises DesignError when the design has no such
    path.
    """
    return _replaced(design, _steps(path), value, path)


@lru_cache(maxsize=1024)
def _steps(path: str) -> tuple[tuple[str, int | None], ...]:
    steps: list[tuple[str, int | None]] = []
    for part in path.split("."):
        match = re.fullmatch(r"(\w+)(?:\[(\d+)\])?", part)
        if match is None:
            raise _no_path(path)
        steps.append((match[1], int(match[2]) - 1 if match[2] else None))
    return tuple(steps)


def _step(group: Any, name: str, row: int | None, path: str) -> Any:
    if name not in getattr(
        group, "__dataclass_fields__", ()
    ):  # as `fields` reads them, without making a list of them
        raise _no_path(path)
    value = getattr(group, name)
    if row is None:
        return value
    rows = cast("tuple[Any, ...]", value) if isinstance(value, tuple) else ()
    if not 0 <= row < len(rows):
        raise _no_path(path)
    return rows[row]


def _replaced(group: Any, steps: tuple[tuple[str, int | None], ...], value: Any, path: str) -> Any:
    (name, row), rest = steps[0], steps[1:]
    inner = _step(group, name, row, path)
    new = _replaced(inner, rest, value, path) if rest else value
    if row is not None:
        rows = getattr(group, name)
        new = (*rows[:row], new, *rows[row + 1 :])
    return replace(group, **{name: new})


def _no_path(path: str) -> DesignError:
    rule = "is no value of a design"
    return DesignError(f"'{path}' {rule}", (Problem(key=path, value="", rule=rule),))


BOTH_LEAVES: Final = "both_leaves."
SPRINGS: Final = "supports[*].rate_n_mm"
"""The rate of all springs of the carrier: what fewer leaves, or another maker, change."""


def paths_of(design: Design, path: str) -> tuple[str, ...]:
    """Return the paths of the values that a path stands for: itself, for most."""
    if path == SPRINGS:
        springs = (
            number for number, support in enumerate(design.supports, start=1) if support.kind == "spring"
        )
        return tuple(path.replace("*", str(number)) for number in springs)
    if path.startswith(BOTH_LEAVES):
        return tuple(path.replace(BOTH_LEAVES, leaf) for leaf in ("inner_leaf.", "outer_leaf."))
    return (path,)


def value_of(design: Design, path: str) -> Any:
    """Return the value at a path, None where there is none or where those that it stands for differ."""
    values = {value_at(design, one) for one in paths_of(design, path)}
    return values.pop() if len(values) == 1 else None


def changed(design: Design, path: str, value: Any) -> Design:
    """Return a design with the values that a path stands for replaced."""
    for one in paths_of(design, path):
        design = with_value(design, one, value)
    return design


ONE: Final[dict[str, str]] = {
    "sites": "Site",
    "users": "Wheeled user",
    "handles": "Handle",
    "obstacles": "Obstacle",
    "fold_stages": "Stage",
    "materials": "Material",
    "stock": "Stock length",
    "prices": "Price",
    "supports": "Support",
}
"""What one row of a list of rows is called."""


def one_called(path: str) -> str:
    """Return what one row of the rows at `path` is called, for people to read."""
    return say(ONE[path.rpartition(".")[2]])


def label_of(path: str) -> str:
    """Return the name of a value with its group, or of a group, or `The design`, for people to read: `Inner
    leaf length`; in another language than English the group stands behind, since it does not go before there.
    """
    info = info_of(path)
    if info is None:
        return say("The design")
    if info.record is None:
        return say(GROUP_LABELS.get(info.name, info.name))
    group, label = _group_of(path), info.record.label
    small = f"{label[0].lower()}{label[1:]}"
    if small.startswith(f"{group.lower()} ") or f"{group.lower()}'s" in small:
        return say(label)  # a bridge plate's thickness needs no second bridge plate
    if manner().language == "en":
        first, _, rest = small.partition(" ")
        return f"{group} {rest if rest and group.endswith(first) else small}"  # nor a hinge a second hinge
    words, _, number = group.rpartition(" ")
    if number.isdigit():
        return f"{say(label)} ({say(words)} {number})"
    return say(label) if say(group) in say(label) else f"{say(label)} ({say(group)})"


def _group_of(path: str) -> str:
    group = path.rpartition(".")[0]
    row = re.search(r"(\w+)\[(\d+|\*)\]$", group)
    if group == "both_leaves":
        return "Both leaves"
    if row and row[2] == "*":
        return f"All {GROUP_LABELS[row[1]].lower()}"
    return f"{ONE[row[1]]} {row[2]}" if row else GROUP_LABELS.get(group.rpartition(".")[2], group)
