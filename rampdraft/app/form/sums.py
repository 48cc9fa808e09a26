"""What people type into a number field: sums, units, feet and inches, fractions.

`1.7 m`, `2*850 - 12`, `5 ft 6 in`, `4 1/2 in`, `(1200 + 80)/2`. A small recursive reader; nothing is
evaluated as code. A bare number counts in the unit that the field is shown in.
"""

import math
import re
from dataclasses import dataclass
from typing import Final

from rampdraft.units import KG_PER_POUND, MM_PER_INCH
from rampdraft.words.say import say

LONGEST: Final = 200
"""Characters; longer input is a slip."""

UNITS: Final[dict[str, dict[str, float]]] = {
    "mm": {
        "mm": 1.0, "cm": 10.0, "m": 1000.0,
        "in": MM_PER_INCH, '"': MM_PER_INCH, "″": MM_PER_INCH,
        "ft": 12 * MM_PER_INCH, "'": 12 * MM_PER_INCH, "′": 12 * MM_PER_INCH,
    },
    "kg": {"kg": 1.0, "g": 0.001, "lb": KG_PER_POUND},
    "deg": {"deg": 1.0, "°": 1.0},
}  # fmt: skip
"""Units that a field of each unit understands, as factors to it; others understand themselves. Inch and pound
are exact (units.py).
"""

DEEPEST: Final = 20
"""Brackets in brackets; nobody needs more, and the reader must not run out of stack."""


class SumError(ValueError):
    """Text that is no number; the message says why, as a phrase."""


@dataclass(frozen=True, slots=True)
class _Amount:
    value: float
    measured: bool
    """Whether a unit was given; a bare number may scale a measured one."""


def value_of(text: str, unit: str, decimal: str = ".", *, bare: float = 1.0) -> float:
    """Return what `text` comes to, in `unit`. `decimal` is the decimal sign in use besides the point, `bare`
    how many of the unit a number counts that has none.

    Raises SumError.
    """
    if not text.strip():
        raise SumError(say("is empty"))
    if len(text) > LONGEST:
        raise SumError(say("is too long for a number"))
    units = UNITS.get(unit, {unit: 1.0} if unit else {})
    value = _Reader(text, units, unit, decimal, bare).whole().value
    if not math.isfinite(value):
        raise SumError(say("is too large"))
    return round(value, 9)  # clears the noise that feet and inches leave in the last bits


class _Reader:
    def __init__(self, text: str, units: dict[str, float], unit: str, decimal: str, bare: float) -> None:
        names = "|".join(sorted((re.escape(name) for name in units), key=len, reverse=True))
        sign = r"\." if decimal == "." else rf"[.{re.escape(decimal)}]"
        # A unit that is a word must end where the word ends: "1 min" is no minute of length.
        unit_pattern = rf"(?P<unit>(?:{names})(?![a-zA-Z]))" if names else r"(?P<unit>(?!))"
        number = rf"(?P<number>\d+(?:{sign}\d*)?|{sign}\d+)"
        self._token = re.compile(
            rf"\s*(?:{number}|{unit_pattern}|(?P<mark>[-+*/()−×·÷])|(?P<other>[^\W\d_]+|.))", re.ASCII
        )
        self._units, self._bare = units, bare
        self._unit = next((name for name, size in units.items() if size == bare), unit)
        self._grouped = re.compile(r"[1-9]\d{0,2}\.\d{3}" if decimal != "." else r"(?!)")
        self._tokens = [self._kept(match) for match in self._token.finditer(text.rstrip())]
        self._at = self._depth = 0

    def _kept(self, match: re.Match[str]) -> tuple[str, str]:
        kind, text = match.lastgroup or "other", match[match.lastgroup or "other"]
        if kind == "other":
            known = ", ".join(self._units)
            raise SumError(
                say("has '{text}' in it, which is no number", text=text)
                + (say(" and no unit (units here: {units})", units=known) if known else "")
            )
        if self._grouped.fullmatch(text):
            raise SumError(
                say(
                    "has '{text}' in it, which can be read in two ways: write {whole} or {parts}",
                    text=text,
                    whole=text.replace(".", ""),
                    parts=text.replace(".", ","),
                )
            )
        return kind, {"−": "-", "×": "*", "·": "*", "÷": "/"}.get(text, text)

    def whole(self) -> _Amount:
        amount = self._sized(self._sum())
        if self._at < len(self._tokens):
            raise SumError(
                say("has '{text}' where nothing more was expected", text=self._tokens[self._at][1])
            )
        return amount

    def _peek(self, ahead: int = 0) -> tuple[str, str]:
        index = self._at + ahead
        return self._tokens[index] if index < len(self._tokens) else ("end", "")

    def _take(self, *marks: str) -> str:
        kind, text = self._peek()
        if kind == "mark" and text in marks:
            self._at += 1
            return text
        return ""

    def _sum(self) -> _Amount:
        total = self._product()
        while mark := self._take("+", "-"):
            other = self._product()
            if total.measured != other.measured:
                total, other = self._sized(total), self._sized(other)
            sign = 1 if mark == "+" else -1
            total = _Amount(total.value + sign * other.value, total.measured or other.measured)
        return total

    def _sized(self, amount: _Amount) -> _Amount:
        """Return a size; a bare number is one in the unit in use."""
        return amount if amount.measured else _Amount(amount.value * self._bare, True)

    def _product(self) -> _Amount:
        total = self._signed()
        while mark := self._take("*", "/"):
            other = self._signed()
            if mark == "*":
                if total.measured and other.measured:
                    raise SumError(
                        say("multiplies two sizes; a size in {unit} was expected", unit=self._unit)
                    )
                total = _Amount(total.value * other.value, total.measured or other.measured)
            else:
                if other.value == 0:
                    raise SumError(say("divides by zero"))
                if other.measured and not total.measured:
                    raise SumError(say("divides by a size; a size in {unit} was expected", unit=self._unit))
                total = _Amount(total.value / other.value, total.measured and not other.measured)
        return total

    def _signed(self) -> _Amount:
        sign = 1
        while mark := self._take("-", "+"):
            sign = -sign if mark == "-" else sign
        amount = self._run()
        return _Amount(sign * amount.value, amount.measured)

    def _run(self) -> _Amount:
        """Read sizes that stand side by side and add up: `5 ft 6 in`."""
        total = self._size()
        while total.measured and self._peek()[0] == "number":
            other = self._size()
            if not other.measured:
                raise SumError(say("has a size with a unit followed by a number without one"))
            total = _Amount(total.value + other.value, True)
        return total

    def _size(self) -> _Amount:
        if self._take("("):
            self._depth += 1
            if self._depth > DEEPEST:
                raise SumError(say("has too many brackets in one another"))
            inside = self._sum()
            self._depth -= 1
            if not self._take(")"):
                raise SumError(say("has a bracket that is not closed"))
            return self._with_unit(inside.value, inside.measured)
        return self._with_unit(self._number(), False)

    def _number(self) -> float:
        """Read a number, a mixed number (`4 1/2`) or a fraction that a unit follows (`1/2 in`)."""
        value = self._digits()
        if self._fraction(ahead=0):
            top = self._digits()
            self._at += 1
            return value + self._over(top)
        if self._peek() == ("mark", "/") and self._peek(1)[0] == "number" and self._peek(2)[0] == "unit":
            self._at += 1
            return self._over(value)
        return round(value, 9)  # clears the noise that feet and inches leave in the last bits

    def _fraction(self, ahead: int) -> bool:
        kinds = (self._peek(ahead)[0], self._peek(ahead + 1), self._peek(ahead + 2)[0])
        return kinds == ("number", ("mark", "/"), "number")

    def _over(self, top: float) -> float:
        bottom = self._digits()
        if bottom == 0:
            raise SumError(say("divides by zero"))
        return top / bottom

    def _digits(self) -> float:
        kind, text = self._peek()
        if kind != "number":
            raise SumError(
                say("ends where a number was expected")
                if kind == "end"
                else say("has '{text}' where a number was expected", text=text)
            )
        self._at += 1
        return float(re.sub(r"[^\d.]", ".", text))

    def _with_unit(self, value: float, measured: bool) -> _Amount:
        kind, text = self._peek()
        if kind != "unit":
            return _Amount(value, measured)
        if measured:
            raise SumError(say("has two units in a row"))
        self._at += 1
        return _Amount(value * self._units[text], True)
