"""Values <-> text, in the manner that holds: the one door for every number that the form shows or reads.

A length is shown and read in the unit that is chosen, and kept in mm as it was given. Lists are written
`-386, 0, 386` (with `;` where the comma is the decimal sign), ground points `(0, 0), (300, 120)`.
"""

from collections.abc import Iterable
from fractions import Fraction
from functools import partial
from typing import Any, Final, get_origin

from rampdraft.app.form.sums import SumError, value_of
from rampdraft.errors import DesignError
from rampdraft.model.fields.paths import FieldInfo, info_of, label_of
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, SectionChoice, Switch, Words
from rampdraft.model.section import parse_section
from rampdraft.units import MM
from rampdraft.words.figures import exact, fixed
from rampdraft.words.manner import Style, manner
from rampdraft.words.say import say

UNIT_WORDS = {"deg": "°", "kg/m3": "kg/m³", "N mm/deg": "N mm/°"}
"""Units as the screen writes them, where that differs from the record."""

FRACTION_MM: Final = 0.01
DECIMALS_MORE: Final = 4
"""Of an inch: 0.0025 mm."""


def decimal_sign() -> str:
    """Return the decimal sign that is shown, and read besides the point."""
    return manner().style.decimal


def number(value: float) -> str:
    """Return a number as text, exactly (to ten digits)."""
    return exact(value, style=Style(decimal=decimal_sign()))


def typed(value: float, unit: str) -> str:
    """Return a value of a record's unit as it is typed, without the unit: a length in inches as a fraction
    where that is the length within 0.01 mm, which nobody can measure in a workshop.
    """
    shown = manner().style.unit(unit)
    if shown is None:
        return number(value)
    parts = round(abs(value) * shown.times * shown.parts)
    if abs(abs(value) - parts / shown.parts / shown.times) > FRACTION_MM:
        return number(round(value * shown.times, DECIMALS_MORE))
    whole, rest = divmod(parts, shown.parts)
    fraction = str(Fraction(rest, shown.parts)) if rest else ""
    text = " ".join(filter(None, (str(whole) if whole else "", fraction))) or "0"
    return f"-{text}" if value < 0 and parts else text


def length(value_mm: MM, digits: int) -> str:
    """Return a length without its unit, which stands at the head of its column."""
    return fixed(value_mm, digits, "mm").removesuffix(f" {unit_text('mm')}")


def text_of(info: FieldInfo, value: Any) -> str:
    """Return a field's value as the text of its editor."""
    match info.record:
        case Dim() if not info.many:
            return typed(value, info.record.unit)
        case Dim():
            texts = partial(_texts, unit=info.record.unit)
            parts = (f"({_joined(texts(part))})" for part in value) if _holds_points(info) else texts(value)
            return _joined(parts)
        case SectionChoice():
            return value.text
        case Choice(options=options):
            return say(dict(options).get(value, str(value)))
        case Words() if info.many:
            return "; ".join(value)
        case _:
            return str(value)


def value_from(info: FieldInfo, text: str) -> Any:
    """Return the value that an editor's text stands for. Raises ValueError whose message says why it is none,
    as a phrase.
    """
    match info.record:
        case Dim(unit=unit) if info.many:
            read = _point if _holds_points(info) else _value
            return tuple(read(part, unit) for part in _parts(text))
        case Dim(unit=unit):
            value = _value(text, unit)
            if info.value_type is int and value != int(value):
                raise SumError(say("must be a whole number"))
            return info.value_type(value)
        case SectionChoice():
            try:
                return parse_section(text.replace("×", "x"))
            except DesignError as wrong:
                raise ValueError(
                    "; ".join(f"{problem.rule}: {problem.way_out}" for problem in wrong.problems)
                ) from None
        case Words() if info.many:
            return tuple(part.strip() for part in text.split(";") if part.strip())
        case Words() | MaterialChoice():
            return text.strip()
        case _:
            raise ValueError(say("is not typed as text"))


def numbers_text(values: Iterable[float], unit: str) -> str:
    """Return numbers of a unit as one text."""
    return _joined(_texts(values, unit=unit))


def numbers_from(text: str, unit: str, count: int) -> tuple[float, ...]:
    """Return so many numbers of one text. Raises ValueError as `value_from`."""
    values = tuple(_value(part, unit) for part in _parts(text))
    if len(values) != count:
        raise SumError(
            say("needs {count} numbers: {numbers}", count=count, numbers=numbers_text((0.0,) * count, unit))
        )
    return values


def range_text(record: Dim) -> str:
    """Return the range of a dimension in words."""
    low, high = (_bound(value, record.unit) for value in (record.low, record.high))
    return say("{low} to {high}", low=low, high=f"{high}{_spaced(record.unit)}")


def step_of(record: Dim) -> float:
    """Return by how much a key changes a value: in inches by about as many 16ths as it is mm."""
    shown = manner().style.unit(record.unit)
    if shown is None:
        return record.step
    half = shown.parts // 2
    return max(round(record.step * shown.times * half), 1) / half / shown.times


def _bound(value: float, unit: str) -> str:
    """Return an end of a range, to two decimals where it is shown in another unit than it is given in."""
    shown = manner().style.unit(unit)
    return number(value) if shown is None else number(round(value * shown.times, shown.more))


def unit_text(unit: str) -> str:
    """Return a record's unit as the screen writes it."""
    shown = manner().style.unit(unit)
    return shown.name if shown is not None else UNIT_WORDS.get(unit, unit)


def _spaced(unit: str) -> str:
    """Return a unit with the space before it."""
    text = unit_text(unit)
    return text if text in ("", "°") else f" {text}"


def value_words(path: str, value: Any) -> str:
    """Return a value as a sentence writes it, without its unit."""
    info = info_of(path)
    if isinstance(value, bool) or info is None:
        return (say("no"), say("yes"))[value] if isinstance(value, bool) else str(value)
    text = text_of(info, value)
    return text.replace("-", "−") if isinstance(info.record, Dim) else text


def value_with_unit(path: str, value: Any) -> str:
    """Return a value as it stands by itself: `800 mm`."""
    return f"{value_words(path, value)}{_unit_of(path)}"


def change_words(path: str, before: Any, after: Any) -> str:
    """Return a change of one value: `Inner leaf length 800 → 1652 mm`, `Prop under the joint: no → yes`."""
    info = info_of(path)
    record = info.record if info is not None else None
    name = f"{say(record.label)}:" if isinstance(record, Switch) else label_of(path)
    return f"{name} {value_words(path, before)} → {value_words(path, after)}{_unit_of(path)}"


def _unit_of(path: str) -> str:
    """Return the unit of a value with the space before it."""
    info = info_of(path)
    record = info.record if info is not None else None
    return _spaced(record.unit) if isinstance(record, Dim) else ""


def _holds_points(info: FieldInfo) -> bool:
    return info.many and get_origin(info.item_type) is tuple


def _separators() -> str:
    return ";" if decimal_sign() == "," else ",;"


def _texts(values: Iterable[float], *, unit: str) -> Iterable[str]:
    return (typed(value, unit) for value in values)


def _joined(parts: Iterable[str]) -> str:
    return f"{_separators()[0]} ".join(parts)


def _parts(text: str) -> list[str]:
    """Split at separators that stand outside brackets."""
    found, depth = [""], 0
    for sign in text:
        depth += (sign == "(") - (sign == ")")
        if sign in _separators() and depth == 0:
            found.append("")
        else:
            found[-1] += sign
    return [part for part in found if part.strip()]


def _value(text: str, unit: str) -> float:
    shown = manner().style.unit(unit)
    return value_of(text, unit, decimal_sign(), bare=1.0 if shown is None else 1 / shown.times)


def _point(text: str, unit: str) -> tuple[float, float]:
    text = text.strip()
    pair = _parts(text[1:-1]) if text.startswith("(") and text.endswith(")") else []
    if len(pair) != 2:
        raise SumError(
            say(
                "needs points in brackets, x then z: (0{sign} 0){sign} (300{sign} 120)",
                sign=_separators()[0],
            )
        )
    x, z = (_value(part, unit) for part in pair)
    return x, z
