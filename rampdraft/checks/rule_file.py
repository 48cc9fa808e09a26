"""From the text of a rule file to a rule set, or to every problem found in it, with key and line."""

import re
from collections.abc import Iterable
from typing import Any, Final, get_args

from rampdraft.checks.numbers import NUMBERS
from rampdraft.checks.quantities import QUANTITIES, Quantity, RampQuantity, UnknownQuantity
from rampdraft.checks.result import Sense
from rampdraft.checks.rule import Condition, Limit, Relief, RuleSet, Standing, Step
from rampdraft.checks.units_of_rules import FACTORS, limit_words, to_base, units_for
from rampdraft.errors import FileError, Problem
from rampdraft.files.toml_lines import KeyPath, ParsedToml, parse_toml
from rampdraft.model.design import SiteKind
from rampdraft.model.nearest import did_you_mean

VERSION: Final = 1
"""Of the rule file's form."""

_SET_KEYS: Final = ("version", "key", "title", "status", "jurisdiction", "publication", "note", "warning_only", "limit")
_LIMIT_KEYS: Final = (
    "id", "title", "clause", "quantity", "sense", "limit", "unit", "words", "by", "by_unit", "steps", "sites", "kerb_mm",
    "when", "reliefs", "note",
)  # fmt: skip
_STEP_KEYS: Final = ("up_to", "limit", "words")
_BOUNDS: Final = ("over", "at_least", "up_to", "under")
_WHEN_KEYS: Final = ("number", *_BOUNDS, "unit")
_RELIEF_KEYS: Final = ("number", *_BOUNDS, "number_unit", "limit", "words")
_KEY: Final = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")
_LONGEST: Final = 2000
_GREATEST: Final = 1e6
_MOST: Final = 200
"""Limits in one file; steps or reliefs in one limit."""


def parse_rule_set(text: str, name: str) -> RuleSet:
    """Return the rule set that `text` holds; `name` is the file's, for messages.

    Raises FileError with every problem found, each with key, line and way out.
    """
    parsed = parse_toml(text, name)
    reader = _Reader(parsed)
    rule_set = reader.rule_set()
    if reader.problems or rule_set is None:
        raise FileError(f"{name} cannot be used as a rule file.", reader.problems)
    return rule_set


class _WrongError(Exception):
    """A value that is wrong; the problem is noted already."""


class _Reader:
    """Reads one parsed file and gathers its problems."""

    def __init__(self, parsed: ParsedToml) -> None:
        self.problems: list[Problem] = []
        self._parsed = parsed

    def rule_set(self) -> RuleSet | None:
        data: dict[str, Any] = self._parsed.data
        try:
            self._version(data)
        except _WrongError:
            return None  # the rest of a later version may mean anything
        self._known((), data, _SET_KEYS)
        rows = self._tables(data, ("limit",))
        limits = [limit for place, row in enumerate(rows) if (limit := self._limit(row, ("limit", place))) is not None]
        self._unique(rows)
        try:
            return RuleSet(
                key=self._slug(data, ("key",)),
                title=self._text(data, ("title",)),
                status=self._choice(data, ("status",), get_args(Standing)),  # pyright: ignore[reportArgumentType]
                jurisdiction=self._text(data, ("jurisdiction",)),
                publication=self._text(data, ("publication",)),
                limits=tuple(limits),
                note=self._text(data, ("note",), ""),
                warning_only=self._flag(data, ("warning_only",)),
            )
        except _WrongError:
            return None

    def _version(self, data: dict[str, Any]) -> None:
        version = self._number(data, ("version",))
        if version > VERSION:
            way_out = "use a newer version of the program"
            raise self._wrong(("version",), f"is later than this program reads, {VERSION}", version, way_out)
        if version != VERSION:
            raise self._wrong(("version",), f"must be {VERSION}", version)

    def _limit(self, row: dict[str, Any], at: KeyPath) -> Limit | None:
        self._known(at, row, _LIMIT_KEYS)
        try:
            name = self._choice(row, (*at, "quantity"), QUANTITIES)
            quantity = QUANTITIES[name]
            unit = self._unit(row, at, quantity)
            by, steps = self._steps(row, at, quantity, unit)
            limit, words = self._value(row, at, quantity, unit, tabled=bool(steps))
            kerb = self._number(row, (*at, "kerb_mm"), low=0) if "kerb_mm" in row else None
            if kerb is not None and isinstance(quantity, RampQuantity | UnknownQuantity):
                raise self._wrong((*at, "kerb_mm"), f"has no meaning for '{name}', which is no quantity of a site", kerb)
            if by == "floor_above_kerb" and kerb is None:
                raise self._wrong((*at, "by"), "needs kerb_mm, the height of the reference kerb", by)
            return Limit(
                id=self._slug(row, (*at, "id")),
                title=self._text(row, (*at, "title")),
                clause=self._text(row, (*at, "clause")),
                quantity=name,
                sense=self._sense(row, at, quantity),
                limit=limit,
                words=words,
                by=by,
                steps=steps,
                sites=self._sites(row, at, quantity),
                kerb_mm=kerb,
                when=self._when(row, at, quantity),
                reliefs=self._reliefs(row, at, quantity, unit),
                note=self._text(row, (*at, "note"), ""),
            )
        except _WrongError:
            return None

    def _unit(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> str:
        allowed = units_for(quantity.unit)
        if "unit" not in row and quantity.unit in allowed:
            return quantity.unit
        if allowed in ((), ("",)):
            if "unit" in row:
                raise self._wrong((*at, "unit"), "has no meaning for this quantity", row["unit"], "leave it out")
            return ""
        return self._choice(row, (*at, "unit"), allowed)

    def _value(
        self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str, *, tabled: bool
    ) -> tuple[float | None, str]:
        if isinstance(quantity, UnknownQuantity) or tabled:
            if "limit" in row:
                way_out = "write it in words" if isinstance(quantity, UnknownQuantity) else "it stands in steps"
                raise self._wrong((*at, "limit"), "has no meaning here", row["limit"], way_out)
            return None, self._text(row, (*at, "words"), "" if tabled else None)
        path = (*at, "limit")
        if quantity.unit == "yes/no":
            if not isinstance(row.get("limit"), bool):
                raise self._wrong(path, "must be true or false", row.get("limit"))
            limit = float(row["limit"])
            return limit, self._text(row, (*at, "words"), limit_words(limit, unit, quantity.unit))
        limit = self._limit_number(row, path, quantity, unit)
        return to_base(limit, unit, quantity.unit), self._text(row, (*at, "words"), limit_words(limit, unit, quantity.unit))

    def _limit_number(self, row: dict[str, Any], path: KeyPath, quantity: Quantity, unit: str) -> float:
        limit = self._number(row, path, low=0)
        if quantity.unit == "gradient" and (limit == 0 or (unit == "deg" and limit >= 90)):
            raise self._wrong(path, "must be more than 0 and, in degrees, less than 90", limit)
        return limit

    def _sense(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> Sense:
        if isinstance(quantity, UnknownQuantity) and "sense" not in row:
            return "is"
        sense: Sense = self._choice(row, (*at, "sense"), get_args(Sense))  # pyright: ignore[reportAssignmentType]
        if quantity.unit == "yes/no" and sense != "is":
            raise self._wrong((*at, "sense"), "must be 'is' for a quantity that is yes or no", sense)
        return sense

    def _steps(self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str) -> tuple[str, tuple[Step, ...]]:
        if "steps" not in row and "by" not in row:
            return "", ()
        by = self._plain_number(row, (*at, "by"), quantity)
        by_unit = self._choice(row, (*at, "by_unit"), FACTORS["mm"]) if "by_unit" in row else "mm"
        steps: list[Step] = []
        rows = self._tables(row, (*at, "steps"))
        for place, one in enumerate(rows):
            path = (*at, "steps", place)
            self._known(path, one, _STEP_KEYS)
            up_to = None
            if "up_to" in one:
                up_to = to_base(self._number(one, (*path, "up_to")), by_unit, "mm")
            elif place + 1 < len(rows):
                raise self._wrong((*path, "up_to"), "is missing; only the last step may go without")
            if steps and up_to is not None and steps[-1].up_to is not None and up_to <= steps[-1].up_to:
                raise self._wrong((*path, "up_to"), "must be more than in the step before", one["up_to"])
            limit = self._limit_number(one, (*path, "limit"), quantity, unit)
            words = self._text(one, (*path, "words"), limit_words(limit, unit, quantity.unit))
            steps.append(Step(up_to=up_to, limit=to_base(limit, unit, quantity.unit), words=words))
        return by, tuple(steps)

    def _when(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> Condition | None:
        if "when" not in row:
            return None
        path = (*at, "when")
        table = self._table(row, path)
        self._known(path, table, _WHEN_KEYS)
        return self._condition(table, path, quantity, "unit")

    def _reliefs(self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str) -> tuple[Relief, ...]:
        reliefs: list[Relief] = []
        for place, one in enumerate(self._tables(row, (*at, "reliefs")) if "reliefs" in row else ()):
            path = (*at, "reliefs", place)
            self._known(path, one, _RELIEF_KEYS)
            limit = self._limit_number(one, (*path, "limit"), quantity, unit)
            reliefs.append(
                Relief(
                    condition=self._condition(one, path, quantity, "number_unit"),
                    limit=to_base(limit, unit, quantity.unit),
                    words=self._text(one, (*path, "words")),
                )
            )
        return tuple(reliefs)

    def _condition(self, table: dict[str, Any], at: KeyPath, quantity: Quantity, unit_key: str) -> Condition:
        number = self._plain_number(table, (*at, "number"), quantity)
        unit = self._choice(table, (*at, unit_key), FACTORS["mm"]) if unit_key in table else "mm"
        bounds = {key: to_base(self._number(table, (*at, key)), unit, "mm") for key in _BOUNDS if key in table}
        if not bounds:
            raise self._wrong(at, f"says no bound: one of {', '.join(_BOUNDS)}")
        return Condition(number=number, **bounds)

    def _plain_number(self, table: dict[str, Any], path: KeyPath, quantity: Quantity) -> str:
        name = self._choice(table, path, NUMBERS)
        if isinstance(quantity, RampQuantity | UnknownQuantity) and not NUMBERS[name].of_ramp:
            rule = f"'{name}' is a number of each site, and the quantity belongs to the whole ramp"
            raise self._wrong(path, rule, name, "use ramp_length")
        return name

    def _sites(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> tuple[SiteKind, ...]:
        kinds: tuple[SiteKind, ...] = get_args(SiteKind)
        if "sites" not in row:
            return () if "kerb_mm" in row else kinds
        path = (*at, "sites")
        if isinstance(quantity, RampQuantity | UnknownQuantity):
            raise self._wrong(path, "has no meaning for a quantity of the whole ramp", way_out="leave it out")
        value = row["sites"]
        if not isinstance(value, list):
            raise self._wrong(path, f"must be a list of {', '.join(kinds)}", repr(value))  # pyright: ignore[reportUnknownArgumentType]
        words: list[Any] = list(value)  # pyright: ignore[reportUnknownArgumentType]
        for place, word in enumerate(words):
            if word not in kinds:
                raise self._wrong((*path, place), "is no kind of site", word, did_you_mean(str(word), kinds))
        return tuple(words)

    def _known(self, at: KeyPath, table: dict[str, Any], allowed: tuple[str, ...]) -> None:
        for key in table:
            if key not in allowed:
                self._wrong((*at, key), "is no key of a rule file", None, did_you_mean(key, allowed))

    def _tables(self, table: dict[str, Any], path: KeyPath) -> list[dict[str, Any]]:
        rows: Any = table.get(str(path[-1]))
        if not isinstance(rows, list) or not rows or not all(isinstance(row, dict) for row in rows):  # pyright: ignore[reportUnknownVariableType]
            self._wrong(path, "must be a list of tables, at least one", None if rows is None else str(rows))  # pyright: ignore[reportUnknownArgumentType]
            return []
        if len(rows) > _MOST:  # pyright: ignore[reportUnknownArgumentType]
            self._wrong(path, f"must hold no more than {_MOST}")
            return []
        return rows  # pyright: ignore[reportUnknownVariableType]

    def _table(self, table: dict[str, Any], path: KeyPath) -> dict[str, Any]:
        value = table[str(path[-1])]
        if not isinstance(value, dict):
            raise self._wrong(path, "must be a table", value)
        return value  # pyright: ignore[reportUnknownVariableType]

    def _text(self, table: dict[str, Any], path: KeyPath, default: str | None = None) -> str:
        key = str(path[-1])
        if key not in table:
            if default is None:
                raise self._wrong(path, "is missing")
            return default
        value = table[key]
        if not isinstance(value, str) or len(value) > _LONGEST or (default is None and not value.strip()):
            raise self._wrong(path, f"must be text, not empty, of at most {_LONGEST} characters", value)
        if not value.isprintable():
            raise self._wrong(path, "must be one line without control characters", value)
        return value

    def _slug(self, table: dict[str, Any], path: KeyPath) -> str:
        value = self._text(table, path)
        if _KEY.fullmatch(value) is None or len(value) > 60:
            raise self._wrong(path, "must be small letters, digits and hyphens, at most 60", value)
        return value

    def _flag(self, table: dict[str, Any], path: KeyPath) -> bool:
        value = table.get(str(path[-1]), False)
        if not isinstance(value, bool):
            raise self._wrong(path, "must be true or false", value)
        return value

    def _choice(self, table: dict[str, Any], path: KeyPath, allowed: Iterable[str]) -> str:
        value = self._text(table, path)
        words = tuple(allowed)
        if value not in words:
            raise self._wrong(path, "is not among what is allowed", value, did_you_mean(value, words))
        return value

    def _number(self, table: dict[str, Any], path: KeyPath, low: float = -_GREATEST) -> float:
        value = table.get(str(path[-1]))
        if value is None:
            raise self._wrong(path, "is missing")
        if isinstance(value, bool) or not isinstance(value, int | float):
            raise self._wrong(path, "must be a number", value, "write it without quotes" if isinstance(value, str) else "")
        if not low <= value <= _GREATEST:  # which no NaN is, nor an infinity
            raise self._wrong(path, f"must be from {low:.0f} to {_GREATEST:.0f}", value)
        return float(value)

    def _unique(self, rows: list[dict[str, Any]]) -> None:
        seen: list[object] = []
        for place, row in enumerate(rows):
            name = row.get("id")
            if name is not None and name in seen:
                self._wrong(("limit", place, "id"), "stands twice", name, "give each limit its own id")
            seen.append(name)

    def _wrong(self, path: KeyPath, rule: str, value: object = None, way_out: str = "") -> _WrongError:
        shown = "" if value is None else repr(value)[:80]
        self.problems.append(self._parsed.problem(path, rule, value=shown, way_out=way_out))
        return _WrongError()
