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
from rampdraft.checks.rules.rule import (
    NUMBERS,
    Authority,
    Bound,
    Condition,
    Limit,
    Relief,
    Riders,
    RuleLoad,
    RuleSet,
    Step,
)
from rampdraft.checks.rules.toml_table import (
    FACTORS,
    TableReader,
    WrongError,
    to_base,
    units_for,
)
from rampdraft.errors import FileError
from rampdraft.files.toml_lines import KeyPath, parse_toml
from rampdraft.model.design import SiteKind
from rampdraft.model.fields.values import did_you_mean, shown
from rampdraft.units import G_M_S2
from rampdraft.words.say import say

VERSION: Final = 1
"""Of the rule file's form."""

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
    "riders",
    "advice",
    "worst_only",
)
_LEAST_GRADIENT: Final = 0.001
"""In the unit that is written: less is a slip of the pen."""

_RIDERS: Final = tuple(word for word in get_args(Riders) if word)
_BOUNDS: Final = ("over", "at_least", "up_to", "under")


def parse_rule_set(text: str, name: str) -> RuleSet:
    """Return the rule set that `text` holds; `name` is the file's, for messages.

    Raises FileError with every problem found, each with key, line and way out.
    """
    parsed = parse_toml(text, name)
    reader = _RuleReader(parsed)
    rule_set = reader.rule_set(parsed.data)
    if reader.problems or rule_set is None:
        raise FileError(say("{name} cannot be used as a rule file.", name=name), reader.problems)
    return rule_set


class _RuleReader(TableReader):
    def rule_set(self, data: dict[str, Any]) -> RuleSet | None:
        """Return the rule set, or None where what it needs is wrong; then there are problems."""
        try:
            self._version(data)
        except WrongError:
            return None  # the rest of a later version may mean anything
        self.known(
            (),
            data,
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
                status=self.choice(data, ("status",), get_args(Authority)),  # pyright: ignore[reportArgumentType]
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
        way_out, later = (
            say("use a newer version of the program"),
            say("is later than this program reads, {version}", version=VERSION),
        )
        self.must(version <= VERSION, ("version",), later, version, way_out)
        self.must(version == VERSION, ("version",), say("must be {version}", version=VERSION), version)

    def _limit(self, row: dict[str, Any], at: KeyPath) -> Limit | None:
        self.known(at, row, *_LIMIT_KEYS)
        try:
            name = self.choice(row, (*at, "quantity"), QUANTITIES)
            quantity = QUANTITIES[name]
            unit = self._unit(row, at, quantity)
            for key in ("by", "steps", "reliefs"):
                numbered = key not in row or quantity.unit not in ("none", "yes/no", "share")
                self.must(
                    numbered, (*at, key), say("has no meaning for '{name}', which is no number", name=name)
                )
            by, steps = self._steps(row, at, quantity, unit)
            limit, told = self._value(row, at, quantity, unit, tabled=bool(steps))
            kerb = self.number(row, (*at, "kerb_mm"), low=0) if "kerb_mm" in row else None
            self.must(
                kerb is None or isinstance(quantity, SiteQuantity),
                (*at, "kerb_mm"),
                say("has no meaning for '{name}', which is no quantity of a site", name=name),
                kerb,
            )
            when, reliefs = self._when(row, at, quantity), self._reliefs(row, at, quantity, unit)
            numbers = (by, when.number if when else "", *(relief.condition.number for relief in reliefs))
            self.must(
                kerb is not None or "floor_above_kerb" not in numbers,
                (*at, "kerb_mm"),
                say("is missing: floor_above_kerb needs the height of the reference kerb"),
            )
            return Limit(
                id=self.slug(row, (*at, "id")),
                title=self.text(row, (*at, "title")),
                clause=self.text(row, (*at, "clause")),
                quantity=name,
                sense=self._sense(row, at, quantity),
                limit=limit,
                told=told,
                by=by,
                steps=steps,
                sites=self._sites(row, at, quantity),
                kerb_mm=kerb,
                when=when,
                reliefs=reliefs,
                load=self._load(row, at, quantity),
                note=self.text(row, (*at, "note"), ""),
                riders=self.choice(row, (*at, "riders"), _RIDERS) if "riders" in row else "",  # pyright: ignore[reportArgumentType]
                advice=self.flag(row, (*at, "advice")),
                worst_only=self._worst_only(row, at, quantity),
            )
        except WrongError:
            return None

    def _worst_only(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> bool:
        path, worst = (*at, "worst_only"), self.flag(row, (*at, "worst_only"))
        sited = isinstance(quantity, SiteQuantity) and "steps" not in row
        self.must(
            sited or not worst,
            path,
            say("needs one limit for a quantity of a site"),
            way_out=say("leave it out"),
        )
        return worst

    def _load(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> RuleLoad | None:
        path = (*at, "load")
        if "load" not in row:
            return None
        self.must(
            isinstance(quantity, LoadQuantity),
            path,
            say("has no meaning for this quantity, which is measured without a load"),
            way_out=say("leave it out"),
        )
        table = self.table(row, path)
        self.known(
            path,
            table,
            "mass",
            "unit",
            "force_kn",
            "across_mm",
            "along_mm",
            "anywhere",
            "kn_per_metre",
            "times_rated",
        )
        kinds = [key for key in ("mass", "force_kn", "kn_per_metre", "times_rated") if key in table]
        self.must(len(kinds) == 1, path, say("must say one of mass, force_kn, kn_per_metre and times_rated"))
        (kind,) = kinds
        amount = self.number(table, (*path, kind), low=0)
        self.must(amount, (*path, kind), say("must be more than 0"), amount)
        if kind in ("kn_per_metre", "times_rated"):
            for key in ("unit", "across_mm", "along_mm", "anywhere"):
                rule = say("has no meaning beside {kind}", kind=kind)
                self.must(key not in table, (*path, key), rule, way_out=say("leave it out"))
            return RuleLoad(n_mm=amount) if kind == "kn_per_metre" else RuleLoad(times_rated=amount)
        unit = self.choice(table, (*path, "unit"), FACTORS["kg"]) if "unit" in table else "kg"
        force = to_base(amount, unit, "kg") * G_M_S2 if kind == "mass" else 1000 * amount
        across, along = (
            self.number(table, (*path, key), low=1) if key in table else 0.0
            for key in ("across_mm", "along_mm")
        )
        both = bool(across) == bool(along)
        self.must(both, path, say("must give both across_mm and along_mm of its patch, or neither"))
        anywhere = self.flag(table, (*path, "anywhere"))
        self.must(across or not anywhere, (*path, "anywhere"), say("needs the patch: across_mm and along_mm"))
        return RuleLoad(force_n=force, across_mm=across, along_mm=along, anywhere=anywhere)

    def _unit(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> str:
        allowed = units_for(quantity.unit)
        if "unit" not in row and quantity.unit in allowed:
            return quantity.unit
        if allowed in ((), ("",)):
            idle, unit = say("has no meaning for this quantity"), row.get("unit")
            self.must("unit" not in row, (*at, "unit"), idle, unit, say("leave it out"))
            return ""
        return self.choice(row, (*at, "unit"), allowed)

    def _value(
        self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str, *, tabled: bool
    ) -> tuple[float | None, Bound]:
        worded = isinstance(quantity, UnknownQuantity) or quantity.unit == "share"
        if worded or tabled:
            way_out = say("write it in words") if worded else say("it stands in steps")
            self.must(
                "limit" not in row, (*at, "limit"), say("has no meaning here"), row.get("limit"), way_out
            )
            return None, Bound(self.text(row, (*at, "words"), "" if tabled else None))
        path = (*at, "limit")
        if quantity.unit == "yes/no":
            self.must(
                isinstance(row.get("limit"), bool), path, say("must be true or false"), row.get("limit")
            )
            limit = base = float(row["limit"])
        else:
            limit = self._limit_number(row, path, quantity, unit)
            base = to_base(limit, unit, quantity.unit)
        return base, self._told(row, at, limit, unit, quantity)

    def _told(self, row: dict[str, Any], at: KeyPath, limit: float, unit: str, quantity: Quantity) -> Bound:
        return Bound(self.text(row, (*at, "words"), ""), limit, unit, quantity.unit)

    def _limit_number(self, row: dict[str, Any], path: KeyPath, quantity: Quantity, unit: str) -> float:
        limit = self.number(row, path, low=0)
        slope = limit >= _LEAST_GRADIENT and (unit != "deg" or limit < 90)
        rule = say("must be at least {least:g} and, in degrees, less than 90", least=_LEAST_GRADIENT)
        self.must(slope or quantity.unit != "gradient", path, rule, limit)
        return limit

    def _sense(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> Sense:
        if isinstance(quantity, UnknownQuantity) and "sense" not in row:
            return "is"
        if isinstance(quantity, LoadQuantity) and "sense" not in row:
            return "at least" if quantity.unit == "factor" else "at most"
        sense: Sense = self.choice(row, (*at, "sense"), get_args(Sense))  # pyright: ignore[reportAssignmentType]
        fits = sense == "is" or quantity.unit != "yes/no"
        self.must(fits, (*at, "sense"), say("must be 'is' for a quantity that is yes or no"), sense)
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
            self.known(path, one, "up_to", "limit", "words")
            up_to = None
            if "up_to" in one:
                up_to = to_base(self.number(one, (*path, "up_to")), by_unit, "mm")
                rises = not steps or steps[-1].up_to is None or up_to > steps[-1].up_to
                self.must(rises, (*path, "up_to"), say("must be more than in the step before"), one["up_to"])
            last = place + 1 == len(rows)
            self.must(
                last or up_to is not None,
                (*path, "up_to"),
                say("is missing; only the last step may go without"),
            )
            limit = self._limit_number(one, (*path, "limit"), quantity, unit)
            steps.append(
                Step(
                    up_to=up_to,
                    limit=to_base(limit, unit, quantity.unit),
                    told=self._told(one, path, limit, unit, quantity),
                )
            )
        return by, tuple(steps)

    def _when(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> Condition | None:
        if "when" not in row:
            return None
        path = (*at, "when")
        table = self.table(row, path)
        self.known(path, table, "number", *_BOUNDS, "unit")
        return self._condition(table, path, quantity, "unit")

    def _reliefs(self, row: dict[str, Any], at: KeyPath, quantity: Quantity, unit: str) -> tuple[Relief, ...]:
        reliefs: list[Relief] = []
        for place, one in enumerate(self.tables(row, (*at, "reliefs")) if "reliefs" in row else ()):
            path = (*at, "reliefs", place)
            self.known(path, one, "number", *_BOUNDS, "number_unit", "limit", "words")
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
        self.must(bounds, at, say("says no bound: one of {bounds}", bounds=", ".join(_BOUNDS)))
        return Condition(number=number, **bounds)

    def _plain_number(self, table: dict[str, Any], path: KeyPath, quantity: Quantity) -> str:
        name = self.choice(table, path, NUMBERS)
        judged = isinstance(quantity, SiteQuantity) or NUMBERS[name].of_ramp
        rule = say("'{name}' is a number of each site, and the quantity belongs to the whole ramp", name=name)
        self.must(judged, path, rule, name, say("use ramp_length"))
        return name

    def _sites(self, row: dict[str, Any], at: KeyPath, quantity: Quantity) -> tuple[SiteKind, ...]:
        kinds: tuple[SiteKind, ...] = get_args(SiteKind)
        if "sites" not in row:
            return () if "kerb_mm" in row else kinds
        path = (*at, "sites")
        rule = say("has no meaning for a quantity of the whole ramp")
        self.must(isinstance(quantity, SiteQuantity), path, rule, way_out=say("leave it out"))
        words: Any = row["sites"]
        self.must(
            isinstance(words, list), path, say("must be a list of {kinds}", kinds=", ".join(kinds)), words
        )
        self.must(
            words or "kerb_mm" in row,
            path,
            say("must name at least one kind of site"),
            way_out=say("use one of: {words}", words=", ".join(kinds)),
        )
        for place, word in enumerate(words):
            way_out = did_you_mean(shown(word), kinds)
            self.must(word in kinds, (*path, place), say("is no kind of site"), word, way_out)
        return tuple(words)

    def _unique(self, rows: list[dict[str, Any]]) -> None:
        seen: list[object] = []
        for place, row in enumerate(rows):
            name = row.get("id")
            if name is not None and name in seen:
                self.wrong(
                    ("limit", place, "id"), say("stands twice"), name, say("give each limit its own id")
                )
            seen.append(name)
