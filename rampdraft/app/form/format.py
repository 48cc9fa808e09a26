"""Values <-> text, by the system's locale: the one door for every number that the window shows or reads.

Lists are written `-386, 0, 386` (with `;` where the comma is the decimal sign), ground points `(0, 0), (300,
120)`.
"""

from collections.abc import Iterable
from functools import cache
from typing import Any, get_origin

from PySide6.QtCore import QLocale

from rampdraft.app.form.sums import SumError, value_of
from rampdraft.errors import DesignError
from rampdraft.model.fields.paths import FieldInfo, info_of, label_of
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, SectionChoice, Switch, Words
from rampdraft.model.section import parse_section
from rampdraft.words.figures import exact, fixed
from rampdraft.words.manner import Style

UNIT_WORDS = {"deg": "°", "kg/m3": "kg/m³", "N mm/deg": "N mm/°"}
"""Units as the screen writes them, where that differs from the record."""


@cache
def decimal_sign() -> str:
    """Return the decimal sign of the system's locale."""
    return QLocale().decimalPoint()


def number(value: float, decimals: int | None = None) -> str:
    """Return a number as text: exactly (to ten digits), or with a count of decimals."""
    if decimals is None:
        return exact(value, style=Style(decimal=decimal_sign()))
    return fixed(value, decimals, style=Style(decimal=decimal_sign(), minus="−"))


def text_of(info: FieldInfo, value: Any) -> str:
    """Return a field's value as the text of its editor."""
    match info.record:
        case Dim() if not info.many:
            return number(value)
        case Dim():
            points = _holds_points(info)
            return _joined(f"({_joined(map(number, part))})" if points else number(part) for part in value)
        case SectionChoice():
            return value.text
        case Choice(options=options):
            return dict(options).get(value, str(value))
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
                raise SumError("must be a whole number")
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
            raise ValueError("is not typed as text")


def numbers_text(values: Iterable[float]) -> str:
    """Return numbers as one text."""
    return _joined(map(number, values))


def numbers_from(text: str, unit: str, count: int) -> tuple[float, ...]:
    """Return so many numbers of one text. Raises ValueError as `value_from`."""
    values = tuple(_value(part, unit) for part in _parts(text))
    if len(values) != count:
        raise SumError(f"needs {count} numbers: {numbers_text((0.0,) * count)}")
    return values


def range_text(record: Dim) -> str:
    """Return the range of a dimension in words."""
    unit = unit_text(record.unit)
    space = "" if unit in ("", "°") else " "
    return f"{number(record.low)} to {number(record.high)}{space}{unit}"


def unit_text(unit: str) -> str:
    """Return a record's unit as the screen writes it."""
    return UNIT_WORDS.get(unit, unit)


def value_words(path: str, value: Any) -> str:
    """Return a value as a sentence writes it, without its unit."""
    info = info_of(path)
    if isinstance(value, bool) or info is None:
        return ("no", "yes")[value] if isinstance(value, bool) else str(value)
    text = text_of(info, value)
    return text.replace("-", "−") if isinstance(info.record, Dim) else text


def value_with_unit(path: str, value: Any) -> str:
    """Return a value as it stands by itself: `800 mm`."""
    return f"{value_words(path, value)}{_unit_of(path)}"


def change_words(path: str, before: Any, after: Any) -> str:
    """Return a change of one value: `Inner leaf length 800 → 1652 mm`, `Prop under the joint: no → yes`."""
    info = info_of(path)
    record = info.record if info is not None else None
    name = f"{record.label}:" if isinstance(record, Switch) else label_of(path)
    return f"{name} {value_words(path, before)} → {value_words(path, after)}{_unit_of(path)}"


def _unit_of(path: str) -> str:
    """Return the unit of a value with the space before it."""
    info = info_of(path)
    record = info.record if info is not None else None
    unit = unit_text(record.unit) if isinstance(record, Dim) else ""
    return f"{'' if unit in ('', '°') else ' '}{unit}"


def _holds_points(info: FieldInfo) -> bool:
    return info.many and get_origin(info.item_type) is tuple


def _separators() -> str:
    return ";" if decimal_sign() == "," else ",;"


def _joined(parts: Any) -> str:
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
    return value_of(text, unit, decimal_sign())


def _point(text: str, unit: str) -> tuple[float, float]:
    text = text.strip()
    pair = _parts(text[1:-1]) if text.startswith("(") and text.endswith(")") else []
    if len(pair) != 2:
        raise SumError(
            f"needs points in brackets, x then z: (0{_separators()[0]} 0){_separators()[0]}"
            f" (300{_separators()[0]} 120)"
        )
    x, z = (value_of(part, unit, decimal_sign()) for part in pair)
    return x, z
