"""Figures as text: numbers, and values with their units, in one place; and the working as an inspector writes
it by hand: the formula, the numbers put in, the result with its unit.

How figures are written is a `Style`, handed in where it is not the usual one: another decimal sign, another
minus, other units.
"""

import math
from dataclasses import dataclass
from typing import Final

from rampdraft.units import DEG, KG, MM, MM2, MPA, NMM, N


@dataclass(frozen=True, slots=True)
class Shown:
    """What stands for one of the program's units: its name, so many of it to one, and decimals more."""

    name: str
    times: float = 1.0
    more: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How figures are written."""

    decimal: str = "."
    minus: str = "-"
    units: tuple[tuple[str, Shown], ...] = ()
    """Units that are shown as others, by name; the rest are shown as they are."""

    def written(self, text: str) -> str:
        """Return a number written plainly as this style writes it; nothing has no sign."""
        if text.startswith("-") and not float(text):
            text = text[1:]
        return text if self is PLAIN else text.replace(".", self.decimal).replace("-", self.minus)

    def shown(self, value: float, unit: str, digits: int) -> tuple[float, str, int]:
        """Return a value with unit and decimals as they are shown."""
        for name, shown in self.units:
            if name == unit:
                return value * shown.times, shown.name, digits + shown.more
        return value, unit, digits


PLAIN: Final = Style()
"""As people type it, and files hold it."""
PRINTED: Final = Style(minus="−")
"""As it is shown, drawn and printed."""

_TIGHT: Final = frozenset({"", "°"})
"""Units that follow the figure without a space."""


def number(value: float, digits: int = 1, style: Style = PRINTED) -> str:
    """Return a number with at most `digits` decimals and no idle zeros: 398, 0.5, 15.2."""
    text = f"{value:.{digits}f}"
    return style.written(text.rstrip("0").rstrip(".") if "." in text else text)


def figure(value: float, unit: str, digits: int = 1, style: Style = PRINTED) -> str:
    """Return a value with its unit, with no idle zeros: `398.5 mm`."""
    value, unit, digits = style.shown(value, unit, digits)
    return _with(number(value, digits, style), unit)


def fixed(value: float, digits: int, unit: str = "", style: Style = PRINTED) -> str:
    """Return a value with its unit and just so many decimals: `12.0 kg`."""
    value, unit, digits = style.shown(value, unit, digits)
    return _with(style.written(f"{value:.{digits}f}"), unit)


def digits_that_part(value: float, limit: float, least: int) -> int:
    """Return with how many decimals, `least` or a few more, a value is not written as its limit is, unless
    only rounding parts them.
    """
    if math.isclose(value, limit, rel_tol=1e-9):
        return least
    few = range(least, least + 4)
    return next((digits for digits in few if number(value, digits) != number(limit, digits)), least)


def exact(value: float, unit: str = "", style: Style = PRINTED) -> str:
    """Return a value with its unit, to ten digits: as it was given."""
    value, unit, _ = style.shown(value, unit, 0)
    return _with(style.written(f"{value:.10g}"), unit)


def shortest(value: float) -> str:
    """Return the shortest text that reads back as the very same number; a whole number has no point."""
    value = float(value)
    return (
        str(int(value)) if math.isfinite(value) and value == int(value) and abs(value) < 1e15 else repr(value)
    )


def _with(text: str, unit: str) -> str:
    return f"{text}{unit}" if unit in _TIGHT else f"{text} {unit}"


def mm(value: MM, style: Style = PRINTED) -> str:
    """Return a length: `398.5 mm`."""
    return figure(value, "mm", 1, style)


def kg(value: KG, style: Style = PRINTED) -> str:
    """Return a mass: `120.5 kg`."""
    return figure(value, "kg", 1, style)


def degrees(value: DEG, style: Style = PRINTED) -> str:
    """Return an angle: `8.67°`."""
    return figure(value, "°", 2, style)


def newton(value: N, style: Style = PRINTED) -> str:
    """Return a force: `1240 N`, `24.1 kN`."""
    return figure(value / 1000, "kN", 1, style) if abs(value) >= 1e4 else figure(value, "N", 0, style)


def newton_metre(value: NMM, style: Style = PRINTED) -> str:
    """Return a moment: `999 N m`."""
    return figure(value / 1000, "N m", 0 if abs(value) >= 1e5 else 1, style)


def mpa(value: MPA, style: Style = PRINTED) -> str:
    """Return a stress: `87.3 MPa`."""
    return figure(value, "MPa", 1, style)


def newton_mm(value: float, style: Style = PRINTED) -> str:
    """Return a force along a weld: `120.5 N/mm`."""
    return figure(value, "N/mm", 1, style)


def mm2(value: MM2, style: Style = PRINTED) -> str:
    """Return an area: `120 mm2`."""
    return figure(value, "mm2", 0, style)


def persons_words(count: int) -> str:
    """Return `1 person`, `3 persons`."""
    return f"{count} person{'' if count == 1 else 's'}"


def percent(share: float, style: Style = PRINTED) -> str:
    """Return a share in per cent: `63 %`, `4.7 %`."""
    return figure(100 * share, "%", 1 if abs(share) < 0.1 else 0, style)


def one_in(ratio: float, style: Style = PRINTED) -> str:
    """Return a gradient as rise : going: `1 : 6.56`, or `level`."""
    return f"1 : {number(1 / abs(ratio), 2, style)}" if abs(ratio) > 1e-9 else "level"


def gradient(ratio: float, style: Style = PRINTED) -> str:
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
        f"= {mm(above[1])} / {mm(below[1])} = {number(ratio, 4)}",
        f"= {gradient(ratio)}",
    )


def least(name: str, terms: tuple[tuple[str, MM], ...]) -> tuple[str, ...]:
    """Return the working of a least length of several."""
    return _chosen(name, "least", terms, min(value for _, value in terms))


def greatest(name: str, terms: tuple[tuple[str, MM], ...]) -> tuple[str, ...]:
    """Return the working of a greatest length of several."""
    return _chosen(name, "greatest", terms, max(value for _, value in terms))


def _chosen(name: str, which: str, terms: tuple[tuple[str, MM], ...], value: MM) -> tuple[str, ...]:
    return (
        f"{name} = {which} of ({', '.join(term for term, _ in terms)})",
        f"= {which} of ({', '.join(mm(one) for _, one in terms)})",
        f"= {mm(value)}",
    )


def plain(name: str, formula: str, numbers: str, result: str) -> tuple[str, ...]:
    """Return the working of any formula: names, then numbers, then the result."""
    return f"{name} = {formula}", f"= {numbers}", f"= {result}"


def given(name: str, result: str) -> tuple[str, ...]:
    """Return the working of a value that is stated or measured, not computed."""
    return (f"{name} = {result}",)
