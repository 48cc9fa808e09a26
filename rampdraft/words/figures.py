"""Figures as text: numbers, and values with their units, in one place; and the working as an inspector writes
it by hand: the formula, the numbers put in, the result with its unit.

How figures are written is the `Style` of the manner that holds, or one that is handed in: another decimal
sign, another minus, other units.
"""

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Final

from rampdraft.units import DEG, KG, MM, MM2, MPA, NMM, N
from rampdraft.words.manner import Style, in_decimals, manner
from rampdraft.words.say import counted, say

_TIGHT: Final = frozenset({"", "°"})
"""Units that follow the figure without a space."""


def number(value: float, digits: int = 1, style: Style | None = None) -> str:
    """Return a number with at most `digits` decimals and no idle zeros: 398, 0.5, 15.2."""
    return (style or manner().style).written(_short(value, digits))


def figure(value: float, unit: str, digits: int = 1, style: Style | None = None) -> str:
    """Return a value with its unit, with no idle zeros: `398.5 mm`, `15 11/16 in`."""
    return _in_unit(value, unit, digits, style, _short)


def fixed(value: float, digits: int, unit: str = "", style: Style | None = None) -> str:
    """Return a value with its unit and just so many decimals: `12.0 kg`."""
    return _in_unit(value, unit, digits, style, _whole_length)


def _short(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def _whole_length(value: float, digits: int) -> str:
    return f"{value:.{digits}f}"


def _in_unit(
    value: float, unit: str, digits: int, style: Style | None, plain: Callable[[float, int], str]
) -> str:
    style = style or manner().style
    shown = style.unit(unit)
    if shown is None:
        return _with(style.written(plain(value, digits)), unit)
    value *= shown.times
    in_parts = _in_parts(value, shown.parts, style) if digits <= 1 else ""
    return _with(in_parts or style.written(plain(value, digits + shown.more)), shown.name)


def _in_parts(value: float, parts: int, style: Style) -> str:
    """Return a number as it is read off a rule that is divided into so many parts: `15 3/4`; nothing where it
    is less than half of one.
    """
    whole, rest = divmod(round(abs(value) * parts), parts) if parts else (0, 0)
    if not whole and not rest:
        return "" if value or not parts else "0"
    part = str(Fraction(rest, parts)) if rest else ""
    return f"{style.minus if value < 0 else ''}{f'{whole} ' if whole and rest else whole or ''}{part}"


def digits_that_part(value: float, limit: float, least: int) -> int:
    """Return with how many decimals, `least` or a few more, a value is not written as its limit is, unless
    only rounding parts them.
    """
    if math.isclose(value, limit, rel_tol=1e-9):
        return least
    few = range(least, least + 4)
    return next((digits for digits in few if number(value, digits) != number(limit, digits)), least)


def exact(value: float, unit: str = "", style: Style | None = None) -> str:
    """Return a value with its unit, to ten digits: as it was given. In another unit than that it was given in
    there is no exact one: there it has four decimals.
    """
    style = style or manner().style
    shown = style.unit(unit)
    if shown is not None:
        return _with(number(value * shown.times, 4, style), shown.name)
    return _with(style.written(f"{value:.10g}"), unit)


def shortest(value: float) -> str:
    """Return the shortest text that reads back as the very same number; a whole number has no point."""
    value = float(value)
    return (
        str(int(value)) if math.isfinite(value) and value == int(value) and abs(value) < 1e15 else repr(value)
    )


def _with(text: str, unit: str) -> str:
    return f"{text}{unit}" if unit in _TIGHT else f"{text} {unit}"


def mm(value: MM, style: Style | None = None) -> str:
    """Return a length: `398.5 mm`."""
    return figure(value, "mm", 1, style)


def size(value: MM, style: Style | None = None) -> str:
    """Return a length as the workshop writes it: in mm without the unit, `6.6`; in another unit with it."""
    style = style or manner().style
    return figure(value, "mm", 2, style) if style.unit("mm") else style.written(f"{value:g}")


def measure(value: MM) -> str:
    """Return a length that is reckoned with: `398.5 mm`, `15.689 in`."""
    return figure(value, "mm", 1, in_decimals(manner()).style)


def kg(value: KG, style: Style | None = None) -> str:
    """Return a mass: `120.5 kg`."""
    return figure(value, "kg", 1, style)


def degrees(value: DEG, style: Style | None = None) -> str:
    """Return an angle: `8.67°`."""
    return figure(value, "°", 2, style)


def newton(value: N, style: Style | None = None) -> str:
    """Return a force: `1240 N`, `24.1 kN`."""
    return figure(value / 1000, "kN", 1, style) if abs(value) >= 1e4 else figure(value, "N", 0, style)


def newton_metre(value: NMM, style: Style | None = None) -> str:
    """Return a moment: `999 N m`."""
    return figure(value / 1000, "N m", 0 if abs(value) >= 1e5 else 1, style)


def mpa(value: MPA, style: Style | None = None) -> str:
    """Return a stress: `87.3 MPa`."""
    return figure(value, "MPa", 1, style)


def newton_mm(value: float, style: Style | None = None) -> str:
    """Return a force along a weld: `120.5 N/mm`."""
    return figure(value, "N/mm", 1, style)


def mm2(value: MM2, style: Style | None = None) -> str:
    """Return an area: `120 mm2`."""
    return figure(value, "mm2", 0, style)


def persons_words(count: int) -> str:
    """Return `1 person`, `3 persons`."""
    return counted(count, "{count} person", "{count} persons")


def percent(share: float, style: Style | None = None) -> str:
    """Return a share in per cent: `63 %`, `4.7 %`."""
    return figure(100 * share, "%", 1 if abs(share) < 0.1 else 0, style)


def one_in(ratio: float, style: Style | None = None) -> str:
    """Return a gradient as rise : going: `1 : 6.56`, or `level`."""
    return f"1 : {number(1 / abs(ratio), 2, style)}" if abs(ratio) > 1e-9 else say("level")


def gradient(ratio: float, style: Style | None = None) -> str:
    """Return a gradient in all three ways: `1 : 6.56 = 15.2 % = 8.67°`."""
    share, angle = abs(ratio), math.degrees(math.atan(abs(ratio)))
    return f"{one_in(ratio, style)} = {figure(100 * share, '%', 2, style)} = {degrees(angle, style)}"


def quotient(name: str, above: tuple[str, MM], below: tuple[str, MM]) -> tuple[str, ...]:
    """Return the working of a gradient: `gradient = rise / going`, `= 398 mm / 2611 mm = 0.1524`, `= 1 : 6.56
    = ...`.
    """
    ratio = above[1] / below[1]
    return (
        f"{name} = {above[0]} / {below[0]}",
        f"= {measure(above[1])} / {measure(below[1])} = {number(ratio, 4)}",
        f"= {gradient(ratio)}",
    )


def least(name: str, terms: tuple[tuple[str, MM], ...]) -> tuple[str, ...]:
    """Return the working of a least length of several."""
    return _chosen(name, say("least of"), terms, min(value for _, value in terms))


def greatest(name: str, terms: tuple[tuple[str, MM], ...]) -> tuple[str, ...]:
    """Return the working of a greatest length of several."""
    return _chosen(name, say("greatest of"), terms, max(value for _, value in terms))


def _chosen(name: str, which: str, terms: tuple[tuple[str, MM], ...], value: MM) -> tuple[str, ...]:
    return (
        f"{name} = {which} ({', '.join(term for term, _ in terms)})",
        f"= {which} ({', '.join(mm(one) for _, one in terms)})",
        f"= {mm(value)}",
    )


def plain(name: str, formula: str, numbers: str, result: str) -> tuple[str, ...]:
    """Return the working of any formula: names, then numbers, then the result."""
    return f"{name} = {formula}", f"= {numbers}", f"= {result}"


def given(name: str, result: str) -> tuple[str, ...]:
    """Return the working of a value that is stated or measured, not computed."""
    return (f"{name} = {result}",)
