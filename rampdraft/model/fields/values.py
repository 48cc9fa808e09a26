"""What one value may be, by the record that stands beside its field. Form and file both ask here."""

import datetime
import difflib
import math
import unicodedata
from collections.abc import Collection, Iterable, Iterator
from typing import Final, cast, get_origin

from rampdraft.errors import DesignError, Problem
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo, value_at
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, Record, SectionChoice, Switch, Words
from rampdraft.model.section import Section, parse_section
from rampdraft.words.figures import shortest
from rampdraft.words.say import say

MOST_ROWS: Final = 200
"""No ramp has more rails, slats' supports, sites or stock lengths than this; a file that says so is
broken.
"""

_LONGEST_SHOWN: Final = 60
_LONGEST_NAME: Final = 40
_NOT_PRINTED: Final = frozenset(("Cc", "Cs", "Zl", "Zp"))
"""Unicode categories of control characters, halves of characters, and line and paragraph separators."""


def value_problems(path: str, info: FieldInfo, value: object) -> tuple[Problem, ...]:
    """Return what is wrong with one plain value by its record: type, range, words. Nothing means that it is
    allowed.
    """
    record = info.record
    if record is None:
        return ()
    if not info.many:
        if (
            type(value) is float
            and isinstance(record, Dim)
            and info.item_type is float
            and record.low <= value <= record.high
        ):
            return ()  # as nearly every number of a design is: the questions further on are for messages
        return _item_problems(path, info, record, value)
    items = _items(value)
    if items is None:
        return (
            Problem(
                key=path,
                value=shown(value),
                rule=say("must be a list, not {kind}", kind=kind_of(value)),
                way_out=say("put the values in [ ], with commas between"),
            ),
        )
    if len(items) > MOST_ROWS:
        return (
            Problem(
                key=path,
                value=say("{count} values", count=len(items)),
                rule=say("must have at most {most} values", most=MOST_ROWS),
            ),
        )
    return tuple(
        problem
        for number, item in enumerate(items, start=1)
        for problem in _item_problems(f"{path}[{number}]", info, record, item)
    )


def _items(value: object) -> tuple[object, ...] | None:
    return cast("tuple[object, ...]", value) if isinstance(value, tuple) else None


def shown(value: object) -> str:
    """Return a value as a message shows it: short, in quotes where it is text."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, int | float):
        return shortest(value) if isinstance(value, float) or abs(value) < 1e15 else say("a huge number")
    if isinstance(value, str):
        return repr(value) if len(value) <= _LONGEST_SHOWN else f"{value[:_LONGEST_SHOWN]!r}..."
    if isinstance(value, Section):
        return repr(value.text)
    if isinstance(value, tuple | list):
        items = cast("tuple[object, ...] | list[object]", value)
        inside = ", ".join(shown(item) for item in items[:3])
        return f"[{inside}, ...]" if len(items) > 3 else f"[{inside}]"
    return kind_of(value)


def kind_of(value: object) -> str:
    """Return what sort of thing a value is, in words."""
    return say(next(words for kind, words in KINDS if isinstance(value, kind)))


KINDS: Final[tuple[tuple[type | tuple[type, ...], str], ...]] = (
    (bool, "true or false"),
    ((int, float), "a number"),
    (str, "text"),
    ((tuple, list), "a list"),
    (dict, "a table"),
    ((datetime.date, datetime.time), "a date or time"),
    (Section, "a section"),
    (type(None), "nothing"),
    (object, "something else"),
)


def _item_problems(path: str, info: FieldInfo, record: Record, value: object) -> tuple[Problem, ...]:
    match record:
        case Dim():
            if info.many and get_origin(info.item_type) is tuple:
                return tuple(_point_problems(path, record, value))
            wrong = _number_fault(record, value, whole=info.item_type is int)
        case Choice():
            wrong = _choice_fault(record, value)
        case Words():
            blank = not (info.required or info.many)
            wrong = _text_fault(value, longest=record.longest, lines=record.lines, blank=blank)
        case MaterialChoice():
            wrong = _text_fault(value, longest=_LONGEST_NAME, lines=False, blank=False)
        case Switch():
            wrong = (
                None
                if isinstance(value, bool)
                else (
                    say("must be true or false, not {kind}", kind=kind_of(value)),
                    say("write true or false"),
                )
            )
        case SectionChoice():
            wrong = _section_fault(value)
    if wrong is None:
        return ()
    return (Problem(key=path, value=shown(value), rule=wrong[0], way_out=wrong[1]),)


_Fault = tuple[str, str] | None
"""(rule, way out), or None when the value is allowed."""


def _number_fault(record: Dim, value: object, *, whole: bool) -> _Fault:
    if isinstance(value, bool) or not isinstance(value, int | float):
        way_out = say("write it without quotes") if isinstance(value, str) else ""
        kind = kind_of(value)
        if whole:
            return say("must be a whole number, not {kind}", kind=kind), way_out
        return say("must be a number, not {kind}", kind=kind), way_out
    if isinstance(value, float) and not math.isfinite(value):
        return say("must be a finite number"), say("give a number {reach}", reach=_reach(record))
    if whole and not isinstance(value, int):
        return say("must be a whole number"), say("write it without a point")
    if not record.low <= value <= record.high:
        return say("must be {reach}", reach=_reach(record)), ""
    return None


def _reach(record: Dim) -> str:
    unit = f" {record.unit}" if record.unit else ""
    return say("from {low} to {high}{unit}", low=shortest(record.low), high=shortest(record.high), unit=unit)


def _choice_fault(record: Choice, value: object) -> _Fault:
    words = dict(record.options)
    if isinstance(value, str) and value in words:
        return None
    near = nearest(value, words) if isinstance(value, str) else None
    rule = say("must be one of: {words}", words=", ".join(f"'{word}'" for word in words))
    return rule, say("did you mean '{near}'?", near=near) if near else ""


def _text_fault(value: object, *, longest: int, lines: bool, blank: bool) -> _Fault:
    if not isinstance(value, str):
        return say("must be text, not {kind}", kind=kind_of(value)), (
            say("put it in quotes") if isinstance(value, int | float) else ""
        )
    if not value.strip() and not blank:
        return say("must not be empty"), ""
    if len(value) > longest:
        rule = say("must have at most {longest} characters, not {given}", longest=longest, given=len(value))
        return rule, say("shorten it")
    allowed = "\n\t" if lines else ""
    if not value.isprintable() and any(
        unicodedata.category(mark) in _NOT_PRINTED and mark not in allowed for mark in value
    ):
        of_lines = "\n" in value and not lines
        rule = say("must be text on one line" if of_lines else "must not hold control characters")
        return rule, say("delete them")
    return None


def _section_fault(value: object) -> _Fault:
    if not isinstance(value, str | Section):
        like_this = say("write it like 'box 40x20x2', in quotes")
        return say("must be a section, not {kind}", kind=kind_of(value)), like_this
    try:
        read = parse_section(value if isinstance(value, str) else value.text)
    except DesignError as error:
        problem = error.problems[0]
        return problem.rule, problem.way_out
    if read == value:
        return None
    return say("has sizes that do not go with its kind"), say("use {section}", section=read.text)


def _point_problems(path: str, record: Dim, value: object) -> Iterator[Problem]:
    numbers = _items(value)
    if numbers is None or len(numbers) != 2:
        yield Problem(
            key=path,
            value=shown(value),
            rule=say("must be a point: two numbers"),
            way_out=say("write it like [300, 0]"),
        )
        return
    for number, part in enumerate(numbers, start=1):
        fault = _number_fault(record, part, whole=False)
        if fault is not None:
            yield Problem(key=f"{path}[{number}]", value=shown(part), rule=fault[0], way_out=fault[1])


def wrong(design: Design, key: str, rule: str, way_out: str = "") -> Problem:
    """Return the problem of the value at `key`."""
    return Problem(key=key, value=shown(value_at(design, key)), rule=rule, way_out=way_out)


def numbered(name: str, taken: Collection[str]) -> str:
    """Return a name that is not taken: itself, or with the first free number from 2 on behind it."""
    tries = (f"{name} {count}" for count in range(2, len(taken) + 3))
    return name if name not in taken else next(one for one in tries if one not in taken)


def nearest(word: str, allowed: Iterable[str]) -> str | None:
    """Return the allowed word most like `word`, or None when none is like it."""
    by_lower = {one.lower(): one for one in allowed}
    found = difflib.get_close_matches(word[:200].lower(), by_lower, n=1, cutoff=0.6)
    return by_lower[found[0]] if found else None


def did_you_mean(word: str, allowed: Iterable[str]) -> str:
    """Return a way out: the nearest word, or the whole list of what is allowed."""
    words = tuple(allowed)
    near = nearest(word, words)
    if near is not None:
        return say("did you mean '{near}'?", near=near)
    return say("use one of: {words}", words=", ".join(words)) if words else ""
