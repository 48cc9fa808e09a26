"""Designs with one value changed, and one value read, by dotted path (`inner_leaf.length_mm`,
`sites[1].name`).
"""

import dataclasses
import re
from functools import lru_cache
from typing import Any, cast

from rampdraft.errors import DesignError, Problem
from rampdraft.model.design import Design


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
    return dataclasses.replace(group, **{name: new})


def _no_path(path: str) -> DesignError:
    rule = "is no value of a design"
    return DesignError(f"'{path}' {rule}", (Problem(key=path, value="", rule=rule),))
