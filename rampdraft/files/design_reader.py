"""Data of a design file -> design, with every problem on the way, its key and its line."""

from dataclasses import MISSING, fields, replace
from typing import Any, Final, cast, get_origin

from rampdraft.errors import DesignError, Problem
from rampdraft.files.design_names import dotted, file_name, file_path, steps_of, unit_text
from rampdraft.files.toml_lines import KeyPath, ParsedToml
from rampdraft.geometry.buildable.problems import relation_problems
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo, fields_of
from rampdraft.model.fields.record import SectionChoice
from rampdraft.model.fields.values import MOST_ROWS, did_you_mean, kind_of, nearest, shown, value_problems
from rampdraft.model.section import parse_section
from rampdraft.model.spacing import GIVEN, SPACINGS
from rampdraft.model.starter import starter_design
from rampdraft.model.survey import DESIGNED, OPTIONAL, SURVEYED, usual_materials
from rampdraft.words.say import say


def read_groups(
    toml: ParsedToml, data: dict[str, Any], *, consistent: bool
) -> tuple[Design, tuple[Problem, ...]]:
    """Return the design that `data` holds, and every problem; with a problem the design is not whole.

    With `consistent` false, the rules between values are not tried.
    """
    reader = _Reader(toml)
    groups: dict[str, Any] = {}
    broken: set[str] = set()
    reader.refuse_unknown((), Design, data)
    reader.follows = _following(data)
    for info in fields_of(Design):
        before = len(reader.problems)
        reader.field((), info, data, groups)
        if len(reader.problems) > before:
            # No rule that reads a broken group is tried, so nobody meets this None.
            groups[info.name] = None
            broken.add(info.name)
    design = Design(**groups)
    if not broken:
        design = settled(design)
    elif reader.follows:  # without the rest, what follows is not known
        broken |= {path.partition(".")[0] for path in reader.follows}
    for problem in relation_problems(design, broken) if consistent else ():
        reader.note(file_path(problem.key), problem.rule, problem.value, problem.way_out)
    return design, tuple(sorted(reader.problems, key=lambda problem: problem.line or 0))


def read_surveyed(toml: ParsedToml, data: dict[str, Any]) -> tuple[Design, tuple[Problem, ...]]:
    """Return the survey that `data` holds, with the ramp of a new document in place of its own, and every
    problem; with a problem it is not whole.

    Tables of the ramp may stand there or not, and are not looked at.
    """
    reader = _Reader(toml)
    groups: dict[str, Any] = {}
    broken = set(DESIGNED)
    reader.refuse_unknown((), Design, data)
    for info in fields_of(Design):
        before = len(reader.problems)
        if info.name in SURVEYED and (file_name(info) in data or info.name not in OPTIONAL):
            reader.field((), info, data, groups)
        if len(reader.problems) > before:
            groups[info.name] = None
            broken.add(info.name)
    survey = replace(starter_design(), **(_NOTHING | groups))
    if not broken.intersection(("wishes", "stock", "materials")) and "made_of" not in groups:
        survey = replace(survey, made_of=usual_materials(survey.wishes, survey.stock, survey.materials))
    for problem in relation_problems(survey, broken):
        reader.note(file_path(problem.key), problem.rule, problem.value, problem.way_out)
    return survey, tuple(sorted(reader.problems, key=lambda problem: problem.line or 0))


_NOTHING: Final[dict[str, Any]] = {
    info.name: field.default
    for info, field in zip(fields_of(Design), fields(Design), strict=True)
    if info.name in SURVEYED and field.default is not MISSING
}
"""What a survey has of the groups that it may leave out: not what a new document begins with."""


def read_rows(
    toml: ParsedToml, data: dict[str, Any], name: str, cls: type
) -> tuple[tuple[Any, ...], tuple[Problem, ...]]:
    """Return the rows of a class that stand under `name` in `data`, where nothing else may stand, and every
    problem.
    """
    reader = _Reader(toml)
    for key in data:
        if key != name:
            reader.note(
                (key,), say("does not belong here"), way_out=say("write [[{name}]] for each", name=name)
            )
    rows = reader.rows((name,), cls, data.get(name, []))
    return rows, tuple(sorted(reader.problems, key=lambda problem: problem.line or 0))


MOST_TOLD: Final = 20
"""Unknown keys of a table that are told one by one."""


class _Reader:
    def __init__(self, toml: ParsedToml) -> None:
        self.problems: list[Problem] = []
        self.follows: dict[str, str] = {}
        """What follows from the rest of the design, with the choice that says so as it stands in the file."""
        self._toml = toml

    def note(self, path: KeyPath, rule: str, value: str = "", way_out: str = "") -> None:
        self.problems.append(self._toml.problem(path, rule, value=value, way_out=way_out))

    def refuse_unknown(self, path: KeyPath, cls: type, table: dict[str, Any]) -> None:
        known = [file_name(info) for info in fields_of(cls)]
        unknown = [key for key in table if key not in known]
        for key in unknown[:MOST_TOLD]:
            what = "table" if isinstance(table[key], dict | list) and not path else "key"
            near = nearest(key, known)
            way_out = (
                say("did you mean '{near}'?", near=near)
                if near
                else (say("delete it") if path else did_you_mean(key, known))
            )
            self.note((*path, key), say("is no {what} of a design", what=what), way_out=way_out)
        if len(unknown) > MOST_TOLD:
            more = len(unknown) - MOST_TOLD
            self.note(
                (*path, unknown[MOST_TOLD]), say("and {more} more are none of a design either", more=more - 1)
            )

    def field(self, path: KeyPath, info: FieldInfo, table: dict[str, Any], into: dict[str, Any]) -> None:
        """Put the value of one field into `into`, or note its problems; nothing for one that may be left out
        and is.
        """
        name = file_name(info)
        here = (*path, name)
        choice = self.follows.get(dotted(here))
        if choice is not None and len(here) == 2:
            if name in table:
                self.note(
                    here,
                    say("follows from {choice}", choice=choice),
                    shown(table[name]),
                    way_out=say("delete one of the two"),
                )
            into[info.name] = () if info.many else _NOT_YET
            return
        if name not in table:
            if info.required:
                self.note(here, _missing(info, here))
            return
        raw = table[name]
        if info.group is not None:
            into[info.name] = self._table(here, info.group, raw)
        elif info.rows is not None:
            into[info.name] = self.rows(here, info.rows, raw)
        else:
            into[info.name] = value = _value(info, raw)
            for problem in value_problems(info.name, info, value):
                self.note((*path, *steps_of(problem.key, {})), problem.rule, problem.value, problem.way_out)

    def _table(self, path: KeyPath, cls: type, raw: object) -> Any:
        if not isinstance(raw, dict):
            way_out = say("write [{table}] once, and its values below", table=dotted(path))
            self.note(path, say("must be a table, not {kind}", kind=kind_of(raw)), shown(raw), way_out)
            return None
        table = cast("dict[str, Any]", raw)
        before, values = len(self.problems), dict[str, Any]()
        self.refuse_unknown(path, cls, table)
        for info in fields_of(cls):
            self.field(path, info, table, values)
        return cls(**values) if len(self.problems) == before else None

    def rows(self, path: KeyPath, cls: type, raw: object) -> tuple[Any, ...]:
        if not isinstance(raw, list):
            rule = say("may stand many times: must be a list of tables, not {kind}", kind=kind_of(raw))
            self.note(
                path,
                rule,
                way_out=say("write [[{table}]] for each, and its values below", table=dotted(path)),
            )
            return ()
        rows = cast("list[object]", raw)
        if len(rows) > MOST_ROWS:
            self.note(path, say("must stand at most {most} times", most=MOST_ROWS), f"{len(rows)} rows")
            return ()
        return tuple(self._table((*path, number), cls, row) for number, row in enumerate(rows))


_NOT_YET: Final = 0
"""Stands for a number that follows from the rest, until that is read."""


def _following(data: dict[str, Any]) -> dict[str, str]:
    """Return the paths of what follows from the rest of a design, each with the choice that says so."""
    found: dict[str, str] = {}
    for spacing in SPACINGS:
        group, name = spacing.rule.split(".")
        table = data.get(group)
        word = cast("dict[str, Any]", table).get(name, GIVEN) if isinstance(table, dict) else GIVEN
        if word != GIVEN:
            found |= dict.fromkeys(spacing.values, f"{spacing.rule} = {shown(word)}")
    return found


def _missing(info: FieldInfo, path: KeyPath) -> str:
    if info.group is not None:
        return say("is missing: the file needs a table [{table}]", table=dotted(path))
    if info.rows is not None:
        return say("is missing: the file needs at least one [[{table}]]", table=dotted(path))
    return (
        say("is missing: {label}{unit}", label=say(info.record.label), unit=unit_text(info))
        if info.record is not None
        else say("is missing")
    )


def _value(info: FieldInfo, raw: object) -> Any:
    """Return what TOML gave in the type of the field, where it can be; else as it is, for `value_problems` to
    name.
    """
    if info.many and isinstance(raw, list):
        return tuple(_item(info.item_type, info, item) for item in cast("list[object]", raw))
    return _item(info.value_type, info, raw)


def _item(value_type: Any, info: FieldInfo, raw: object) -> Any:
    if get_origin(value_type) is tuple and isinstance(raw, list):
        return tuple(_item(float, info, part) for part in cast("list[object]", raw))
    if value_type is float and isinstance(raw, int) and not isinstance(raw, bool) and abs(raw) < 1e15:
        return float(raw)
    if isinstance(info.record, SectionChoice) and isinstance(raw, str):
        try:
            return parse_section(raw)
        except DesignError:
            return raw
    return raw
