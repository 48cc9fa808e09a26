"""Reading values from the tables of a rule file, each that is wrong noted with key, line and way out; their
units, to the base unit of the quantity, exactly, and back to words.
"""

import math
import re
from collections.abc import Iterable
from typing import Any, Final

from rampdraft.checks.values import Unit
from rampdraft.errors import Problem
from rampdraft.files.design_reader import MOST_TOLD
from rampdraft.files.toml_lines import KeyPath, ParsedToml
from rampdraft.model.fields.values import did_you_mean, shown
from rampdraft.units import KG_PER_POUND, MM_PER_INCH
from rampdraft.words.figures import figure, number
from rampdraft.words.say import say

FACTORS: Final[dict[Unit, dict[str, float]]] = {
    "mm": {"mm": 1.0, "m": 1000.0, "in": MM_PER_INCH},
    "kg": {"kg": 1.0, "lb": KG_PER_POUND},
    "N": {"N": 1.0},
    "count": {"": 1.0},
    "factor": {"": 1.0},
    "yes/no": {"": 1.0},
}
"""Base unit -> unit word -> base units in one; a gradient has no factor."""


def units_for(unit: Unit) -> tuple[str, ...]:
    """Return the unit words that a rule file may write for a quantity of this base unit."""
    return ("1:N", "%", "deg") if unit == "gradient" else tuple(FACTORS.get(unit, {}))


def to_base(value: float, word: str, unit: Unit) -> float:
    """Return `value` in the base unit; a gradient as rise over going."""
    if unit == "gradient":
        return {
            "1:N": lambda: 1 / value,
            "%": lambda: value / 100,
            "deg": lambda: math.tan(math.radians(value)),
        }[word]()
    return value * FACTORS[unit][word]


def limit_words(value: float, word: str, unit: Unit) -> str:
    """Return a limit as it is written on a check sheet: `1:12`, `25 %`, `7°`, `36 in (914.4 mm)`."""
    if unit == "gradient":
        return {"1:N": f"1:{number(value, 2)}", "%": f"{number(value, 2)} %", "deg": f"{number(value, 2)}°"}[
            word
        ]
    if word in ("in", "lb"):
        return f"{number(value, 3)} {word} ({number(to_base(value, word, unit), 1)} {unit})"
    if unit == "yes/no":
        return say("yes" if value else "no")
    return figure(value, word, 1 if value.is_integer() else 3)


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

    def known(self, at: KeyPath, table: dict[str, Any], *allowed: str) -> None:
        """Note every key of a table that is not allowed, with the nearest that is."""
        unknown = [key for key in table if key not in allowed]
        for key in unknown[:MOST_TOLD]:
            self.wrong((*at, key), say("is no key of a rule file"), None, did_you_mean(key, allowed))
        if len(unknown) > MOST_TOLD:
            more = len(unknown) - MOST_TOLD
            self.wrong(
                (*at, unknown[MOST_TOLD]),
                say("and {more} more are none of a rule file either", more=more - 1),
            )

    def tables(self, table: dict[str, Any], path: KeyPath) -> list[dict[str, Any]]:
        """Return a list of tables, or nothing, noted, where it is none."""
        rows: Any = table.get(str(path[-1]))
        if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):  # pyright: ignore[reportUnknownVariableType]
            self.wrong(path, say("must be a list of tables, at least one"), rows)  # pyright: ignore[reportUnknownArgumentType]
            return []
        if len(rows) > _MOST:  # pyright: ignore[reportUnknownArgumentType]
            self.wrong(path, say("must hold no more than {most}", most=_MOST))
            return []
        return rows  # pyright: ignore[reportUnknownVariableType]

    def table(self, table: dict[str, Any], path: KeyPath) -> dict[str, Any]:
        """Return a table."""
        value: Any = table[str(path[-1])]
        self.must(isinstance(value, dict), path, say("must be a table"), value)
        return value

    def text(self, table: dict[str, Any], path: KeyPath, default: str | None = None) -> str:
        """Return one line of text; `default` where the key is missing, if there is one."""
        value: Any = table.get(str(path[-1]), default)
        self.must(value is not None, path, say("is missing"))
        right = isinstance(value, str) and len(value) <= _LONGEST and (default is not None or value.strip())
        self.must(
            right,
            path,
            say("must be text, not empty, of at most {longest} characters", longest=_LONGEST),
            value,
        )
        self.must(value.isprintable(), path, say("must be one line without control characters"), value)
        return value

    def slug(self, table: dict[str, Any], path: KeyPath) -> str:
        """Return a key for ids: small letters, digits and hyphens."""
        value = self.text(table, path)
        right = _KEY.fullmatch(value) is not None and len(value) <= 60
        self.must(right, path, say("must be small letters, digits and hyphens, at most 60"), value)
        return value

    def flag(self, table: dict[str, Any], path: KeyPath) -> bool:
        """Return yes or no, no where the key is missing."""
        value: Any = table.get(str(path[-1]), False)
        self.must(isinstance(value, bool), path, say("must be true or false"), value)
        return value

    def choice(self, table: dict[str, Any], path: KeyPath, allowed: Iterable[str]) -> str:
        """Return one word of those allowed."""
        value, words = self.text(table, path), tuple(allowed)
        if value not in words:
            raise self.wrong(path, say("is not among what is allowed"), value, did_you_mean(value, words))
        return value

    def number(self, table: dict[str, Any], path: KeyPath, low: float = -_GREATEST) -> float:
        """Return a finite number."""
        value: Any = table.get(str(path[-1]))
        self.must(value is not None, path, say("is missing"))
        if isinstance(value, bool) or not isinstance(value, int | float):
            way_out = say("write it without quotes") if isinstance(value, str) else ""
            raise self.wrong(path, say("must be a number"), value, way_out)
        # Neither a NaN nor an infinity is within.
        self.must(
            low <= value <= _GREATEST,
            path,
            say("must be from {low:.0f} to {greatest:.0f}", low=low, greatest=_GREATEST),
            value,
        )
        return float(value)

    def must(self, holds: object, path: KeyPath, rule: str, value: object = None, way_out: str = "") -> None:
        """Note a problem and raise it where something does not hold."""
        if not holds:
            raise self.wrong(path, rule, value, way_out)

    def wrong(self, path: KeyPath, rule: str, value: object = None, way_out: str = "") -> WrongError:
        """Note a problem and return what to raise where reading cannot go on."""
        value_shown = "" if value is None else shown(value)
        self.problems.append(self._toml.problem(path, rule, value=value_shown, way_out=way_out))
        return WrongError()
