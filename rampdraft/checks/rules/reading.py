"""From the text of a rule file to a rule set, or to every problem found in it, with key and line."""

from typing import Any, Final, get_args

from rampdraft.checks.quantities.table import (
    QUANTITIES,
    LoadQuantity,
    Quantity,
    SiteQuantity,
    UnknownQuantity,
)
from rampdraft.checks.result import Sense
from rampdraft.checks.rules.rule import NUMBERS, Condition, Limit, Relief, RuleLoad, RuleSet, Standing, Step
from rampdraft.checks.rules.toml_table import TableReader, WrongError
from rampdraft.checks.rules.units import FACTORS, limit_words, to_base, units_for
from rampdraft.errors import FileError
from rampdraft.files.toml_lines import KeyPath, parse_toml
from rampdraft.model.design import SiteKind
from rampdraft.model.fields.nearest import did_you_mean
from rampdraft.units import G_M_S2

VERSION: Final = 1
"""Of the rule file's form."""

_SET_KEYS: Final = (
    "version",
    "key",
    "title",
    "status",
    "jurisdiction",
    "publication",
    "note",
    "warning_only",
    "limit",
)
_LIMIT_KEYS: Final = (
    "id",
    "title",
    "clause",
    "quantity",
    "sense",
    "limit",
    "unit",
    "words",
    "by",
    "by_unit",
    "steps",
    "sites",
    "kerb_mm",
    "when",
    "reliefs",
    "load",
    "note",
)
_LEAST_GRADIENT: Final = 0.001
"""In the unit that is written: less is a slip of the pen."""

_LOAD_KEYS: Final = (
    "mass",
    "unit",
    "force_kn",
    "across_mm",
    "along_mm",
    "anywhere",
    "kn_per_metre",
    "times_rated",
)
_STEP_KEYS: Final = ("up_to", "limit", "words")
_BOUNDS: Final = ("over", "at_least", "up_to", "under")
_WHEN_KEYS: Final = ("number", *_BOUNDS, "unit")
_RELIEF_KEYS: Final = ("number", *_BOUNDS, "number_unit", "limit", "words")


def parse_rule_set(text: str, name: str) -> RuleSet:
    """Return the rule set that `text` holds; `name` is the file's, for messages.

    Raises FileError with every problem found, each with key, line and way out.
    """
    parsed = parse_toml(text, name)
    reader = _RuleReader(parsed)
    rule_set = reader.rule_set(parsed.data)
    if reader.problems or rule_set is None:
        raise FileError(f"{name} cannot be used as a rule file.", reader.problems)
    return rule_set


class _RuleReader(TableReader):
    """Reads a rule set."""

    def rule_set(self, data: dict[str, Any]) -> RuleSet | None:
        """Return the rule set, or None where what it needs is wrong; then there are problems."""
        try:
            self._version(data)
        except WrongError:
            return None  # the rest of a later version may mean anything
        self.known((), data, _SET_KEYS)
        rows = self.tables(data, ("limit",))
        limits = [
            limit
            for place, row in enumerate(rows)
            if (limit := self._limit(row, ("limit", place))) is not None
        ]
        self._unique(rows)
        try:
            return RuleSet(
                key=self.slug(data, ("key",)),
                title=self.text(data, ("title",)),
                status=self.choice(data, ("status",), get_args(Standing)),  # pyright: ignore[reportArgumentType]
                jurisdiction=self.text(data, ("jurisdiction",)),
                publication=self.text(data, ("publication",)),
                limits=tuple(limits),
                note=self.text(data, ("note",), ""),
                warning_only=self.flag(data, ("warning_only",)),
            )
        except WrongError:
            return None

    def _version(self, data: dict[str, Any]) -> None:
        version = self.number(data, ("version",))
        if version > VERSION:
            way_out = "use a newer version of the program"
            raise self.wrong(("version",), f"is later than this program reads, {VERSION}", version, way_out)
        if version != VERSION:
            raise self.wrong(("version",), f"must be {VERSION}", version)

    def _limit(self, row: dict[str, Any], at: KeyPath) -> Limit | None:
        self.known(at, row, _LIMIT_KEYS)
        try:
            name = self.choice(row, (*at, "quantity"), QUANTITIES)
            quantity = QUANTITIES[name]
            unit = self._unit(row, at, quantity)
            for key in ("by", "steps", "reliefs"):
                if key in row and quantity.unit in ("none", "yes/no", "share"):
                    raise self.wrong((*at, key), f"has no meaning for '{name}', which is no number")
            by, steps = self._steps(row, at, quantity, unit)
            limit, words = self._value(row, at, quantity, unit, tabled=bool(steps))
            kerb = self.number(row, (*at, "kerb_mm"), low=0) if "kerb_mm" in row else None
            if kerb is not None and not isinstance(quantity, SiteQuantity):
                raise self.wrong(
                    (*at, "kerb_mm"), f"has no meaning for '{name}', which is no quantity of a site", kerb
                )
            when, reliefs = self._when(row, at, quantity), self._reliefs(row, at, quantity, unit)
            numbers = (by, when.number if when else "", *(relief.condition.number for relief in reliefs))
            if kerb is None and "floor_above_kerb" in numbers:
                raise self.wrong(
                    (*at, "kerb_mm"), "is missing: floor_above_kerb needs the height of the reference kerb"
                )
            return Limit(
                id=self.slug(row, (*at, "id")),
                title=self.text(row, (*at, "title")),
                clause=self.text(row, (*at, "clause")),
                quantity=name,
                sense=self._sense(row, at, quantity),
                limit=limit,
                words=words,
                by=by,
                steps=steps,
                sites=self._sites(row, at, quantity),
                kerb_mm=kerb,
                when=when,
                reliefs=reliefs,
                load=self._load(row, at, quantity),
                note=self.text(row, (*at, "note"), ""),
            )
        except WrongError:
            return None

    def _load(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> RuleLoad | None:
        path = (*at, "load")
        if "load" not in row:
            return None
        if not isinstance(quantity, LoadQuantity):
            raise self.wrong(
                path,
                "has no meaning for this quantity, which is measured without a load",
                way_out="leave it out",
            )
        table = self.table(row, path)
        self.known(path, table, _LOAD_KEYS)
        kinds = [key for key in ("mass", "force_kn", "kn_per_metre", "times_rated") if key in table]
        if len(kinds) != 1:
            raise self.wrong(path, "must say one of mass, force_kn, kn_per_metre and times_rated")
        (kind,) = kinds
        amount = self.number(table, (*path, kind), low=0)
        if not amount:
            raise self.wrong((*path, kind), "must be more than 0", amount)
        if kind in ("kn_per_metre", "times_rated"):
            for key in ("unit", "across_mm", "along_mm", "anywhere"):
                if key in table:
                    raise self.wrong((*path, key), f"has no meaning beside {kind}", way_out="leave it out")
            return RuleLoad(n_mm=amount) if kind == "kn_per_metre" else RuleLoad(times_rated=amount)
        unit = self.choice(table, (*path, "unit"), FACTORS["kg"]) if "unit" in table else "kg"
        force = to_base(amount, unit, "kg") * G_M_S2 if kind == "mass" else 1000 * amount
        sides = [
            self.number(table, (*path, key), low=1) if key in table else 0.0
            for key in ("across_mm", "along_mm")
        ]
        if bool(sides[0]) != bool(sides[1]):
            raise self.wrong(path, "must give both across_mm and along_mm of its patch, or neither")
        anywhere = self.flag(table, (*path, "anywhere"))
        if anywhere and not sides[0]:
            raise self.wrong((*path, "anywhere"), "needs the patch: across_mm and along_mm")
        return RuleLoad(force_n=force, across_mm=sides[0], along_mm=sides[1], anywhere=anywhere)

    def _unit(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> str:
        allowed = units_for(quantity.unit)
        if "unit" not in row and quantity.unit in allowed:
            return quantity.unit
        if allowed in ((), ("",)):
            if "unit" in row:
                raise self.wrong(
                    (*at, "unit"), "has no meaning for this quantity", row["unit"], "leave it out"
                )
            return ""
        return self.choice(row, (*at, "unit"), allowed)

    def _value(
        self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str, *, tabled: bool
    ) -> tuple[float | None, str]:
        worded = isinstance(quantity, UnknownQuantity) or quantity.unit == "share"
        if worded or tabled:
            if "limit" in row:
                way_out = "write it in words" if worded else "it stands in steps"
                raise self.wrong((*at, "limit"), "has no meaning here", row["limit"], way_out)
            return None, self.text(row, (*at, "words"), "" if tabled else None)
        path = (*at, "limit")
        if quantity.unit == "yes/no":
            if not isinstance(row.get("limit"), bool):
                raise self.wrong(path, "must be true or false", row.get("limit"))
            limit = float(row["limit"])
            return limit, self.text(row, (*at, "words"), limit_words(limit, unit, quantity.unit))
        limit = self._limit_number(row, path, quantity, unit)
        return to_base(limit, unit, quantity.unit), self.text(
            row, (*at, "words"), limit_words(limit, unit, quantity.unit)
        )

    def _limit_number(self, row: dict[str, Any], path: KeyPath, quantity: Quantity, unit: str) -> float:
        limit = self.number(row, path, low=0)
        if quantity.unit == "gradient" and not (limit >= _LEAST_GRADIENT and (unit != "deg" or limit < 90)):
            raise self.wrong(
                path, f"must be at least {_LEAST_GRADIENT:g} and, in degrees, less than 90", limit
            )
        return limit

    def _sense(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> Sense:
        if isinstance(quantity, UnknownQuantity) and "sense" not in row:
            return "is"
        if isinstance(quantity, LoadQuantity) and "sense" not in row:
            return "at least" if quantity.unit == "factor" else "at most"
        sense: Sense = self.choice(row, (*at, "sense"), get_args(Sense))  # pyright: ignore[reportAssignmentType]
        if quantity.unit == "yes/no" and sense != "is":
            raise self.wrong((*at, "sense"), "must be 'is' for a quantity that is yes or no", sense)
        return sense

    def _steps(
        self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str
    ) -> tuple[str, tuple[Step, ...]]:
        if "steps" not in row and "by" not in row:
            return "", ()
        by = self._plain_number(row, (*at, "by"), quantity)
        by_unit = self.choice(row, (*at, "by_unit"), FACTORS["mm"]) if "by_unit" in row else "mm"
        steps: list[Step] = []
        rows = self.tables(row, (*at, "steps"))
        for place, one in enumerate(rows):
            path = (*at, "steps", place)
            self.known(path, one, _STEP_KEYS)
            up_to = None
            if "up_to" in one:
                up_to = to_base(self.number(one, (*path, "up_to")), by_unit, "mm")
            elif place + 1 < len(rows):
                raise self.wrong((*path, "up_to"), "is missing; only the last step may go without")
            if steps and up_to is not None and steps[-1].up_to is not None and up_to <= steps[-1].up_to:
                raise self.wrong((*path, "up_to"), "must be more than in the step before", one["up_to"])
            limit = self._limit_number(one, (*path, "limit"), quantity, unit)
            steps.append(
                Step(
                    up_to=up_to,
                    limit=to_base(limit, unit, quantity.unit),
                    words=self.text(one, (*path, "words"), limit_words(limit, unit, quantity.unit)),
                )
            )
        return by, tuple(steps)

    def _when(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> Condition | None:
        if "when" not in row:
            return None
        path = (*at, "when")
        table = self.table(row, path)
        self.known(path, table, _WHEN_KEYS)
        return self._condition(table, path, quantity, "unit")

    def _reliefs(self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str) -> tuple[Relief, ...]:
        reliefs: list[Relief] = []
        for place, one in enumerate(self.tables(row, (*at, "reliefs")) if "reliefs" in row else ()):
            path = (*at, "reliefs", place)
            self.known(path, one, _RELIEF_KEYS)
            reliefs.append(
                Relief(
                    condition=self._condition(one, path, quantity, "number_unit"),
                    limit=to_base(
                        self._limit_number(one, (*path, "limit"), quantity, unit), unit, quantity.unit
                    ),
                    words=self.text(one, (*path, "words")),
                )
            )
        return tuple(reliefs)

    def _condition(self, table: dict[str, Any], at: KeyPath, quantity: Quantity, unit_key: str) -> Condition:
        number = self._plain_number(table, (*at, "number"), quantity)
        unit = self.choice(table, (*at, unit_key), FACTORS["mm"]) if unit_key in table else "mm"
        bounds = {key: to_base(self.number(table, (*at, key)), unit, "mm") for key in _BOUNDS if key in table}
        if not bounds:
            raise self.wrong(at, f"says no bound: one of {', '.join(_BOUNDS)}")
        return Condition(number=number, **bounds)

    def _plain_number(self, table: dict[str, Any], path: KeyPath, quantity: Quantity) -> str:
        name = self.choice(table, path, NUMBERS)
        if not isinstance(quantity, SiteQuantity) and not NUMBERS[name].of_ramp:
            rule = f"'{name}' is a number of each site, and the quantity belongs to the whole ramp"
            raise self.wrong(path, rule, name, "use ramp_length")
        return name

    def _sites(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> tuple[SiteKind, ...]:
        kinds: tuple[SiteKind, ...] = get_args(SiteKind)
        if "sites" not in row:
            return () if "kerb_mm" in row else kinds
        path = (*at, "sites")
        if not isinstance(quantity, SiteQuantity):
            raise self.wrong(path, "has no meaning for a quantity of the whole ramp", way_out="leave it out")
        value = row["sites"]
        if not isinstance(value, list):
            raise self.wrong(path, f"must be a list of {', '.join(kinds)}", repr(value))  # pyright: ignore[reportUnknownArgumentType]
        words: list[Any] = list(value)  # pyright: ignore[reportUnknownArgumentType]
        if not words and "kerb_mm" not in row:
            raise self.wrong(
                path, "must name at least one kind of site", way_out=f"use one of: {', '.join(kinds)}"
            )
        for place, word in enumerate(words):
            if word not in kinds:
                raise self.wrong((*path, place), "is no kind of site", word, did_you_mean(str(word), kinds))
        return tuple(words)

    def _unique(self, rows: list[dict[str, Any]]) -> None:
        seen: list[object] = []
        for place, row in enumerate(rows):
            name = row.get("id")
            if name is not None and name in seen:
                self.wrong(("limit", place, "id"), "stands twice", name, "give each limit its own id")
            seen.append(name)
