"""Reading values from the tables of a rule file; each that is wrong is noted with key, line and way out."""

import re
from collections.abc import Iterable
from typing import Any, Final

from rampdraft.errors import Problem
from rampdraft.files.toml_lines import KeyPath, ParsedToml
from rampdraft.model.fields.nearest import did_you_mean

_KEY: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LONGEST: Final = 2000
_GREATEST: Final = 1e6
_MOST: Final = 200
"""Rows in one list."""


class WrongError(Exception):
    """A value that is wrong; the problem is noted already."""


class TableReader:
    """Reads the tables of one parsed file and gathers its problems. A path ends in the key that is read."""

    def __init__(self, parsed: ParsedToml) -> None:
        self.problems: list[Problem] = []
        self._toml = parsed

    def known(self, at: KeyPath, table: dict[str, Any], allowed: tuple[str, ...]) -> None:
        """Note every key of a table that is not allowed, with the nearest that is."""
        for key in table:
            if key not in allowed:
                self.wrong((*at, key), "is no key of a rule file", None, did_you_mean(key, allowed))

    def tables(self, table: dict[str, Any], path: KeyPath) -> list[dict[str, Any]]:
        """Return a list of tables, or nothing, noted, where it is none."""
        rows: Any = table.get(str(path[-1]))
        if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):  # pyright: ignore[reportUnknownVariableType]
            self.wrong(path, "must be a list of tables, at least one", None if rows is None else str(rows))  # pyright: ignore[reportUnknownArgumentType]
            return []
        if len(rows) > _MOST:  # pyright: ignore[reportUnknownArgumentType]
            self.wrong(path, f"must hold no more than {_MOST}")
            return []
        return rows  # pyright: ignore[reportUnknownVariableType]

    def table(self, table: dict[str, Any], path: KeyPath) -> dict[str, Any]:
        """Return a table."""
        value = table[str(path[-1])]
        if not isinstance(value, dict):
            raise self.wrong(path, "must be a table", value)
        return value  # pyright: ignore[reportUnknownVariableType]

    def text(self, table: dict[str, Any], path: KeyPath, default: str | None = None) -> str:
        """Return one line of text; `default` where the key is missing, if there is one."""
        key = str(path[-1])
        if key not in table:
            if default is None:
                raise self.wrong(path, "is missing")
            return default
        value = table[key]
        if not isinstance(value, str) or len(value) > _LONGEST or (default is None and not value.strip()):
            raise self.wrong(path, f"must be text, not empty, of at most {_LONGEST} characters", value)
        if not value.isprintable():
            raise self.wrong(path, "must be one line without control characters", value)
        return value

    def slug(self, table: dict[str, Any], path: KeyPath) -> str:
        """Return a key for ids: small letters, digits and hyphens."""
        value = self.text(table, path)
        if _KEY.fullmatch(value) is None or len(value) > 60:
            raise self.wrong(path, "must be small letters, digits and hyphens, at most 60", value)
        return value

    def flag(self, table: dict[str, Any], path: KeyPath) -> bool:
        """Return yes or no, no where the key is missing."""
        value = table.get(str(path[-1]), False)
        if not isinstance(value, bool):
            raise self.wrong(path, "must be true or false", value)
        return value

    def choice(self, table: dict[str, Any], path: KeyPath, allowed: Iterable[str]) -> str:
        """Return one word of those allowed."""
        value = self.text(table, path)
        words = tuple(allowed)
        if value not in words:
            raise self.wrong(path, "is not among what is allowed", value, did_you_mean(value, words))
        return value

    def number(self, table: dict[str, Any], path: KeyPath, low: float = -_GREATEST) -> float:
        """Return a finite number."""
        value = table.get(str(path[-1]))
        if value is None:
            raise self.wrong(path, "is missing")
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self.wrong(
                path, "must be a number", value, "write it without quotes" if isinstance(value, str) else ""
            )
        if not low <= value <= _GREATEST:  # which no NaN is, nor an infinity
            raise self.wrong(path, f"must be from {low:.0f} to {_GREATEST:.0f}", value)
        return float(value)

    def wrong(self, path: KeyPath, rule: str, value: object = None, way_out: str = "") -> WrongError:
        """Note a problem and return what to raise where reading cannot go on."""
        shown = "" if value is None else repr(value)[:80]
        self.problems.append(self._toml.problem(path, rule, value=shown, way_out=way_out))
        return WrongError()
