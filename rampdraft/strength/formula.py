"""A formula: stated once, computed and printed from that one statement.

    BENT = Formula(M / (W * F), percent)
    BENT.of(999e3, 2000.0, 235.0).line    M / (W f) = 999 N m / (2000 mm3 x 235 MPa) = 213 %

All of it is plain data, equal by value: a working may lie in a result and go to another process.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, Final

from rampdraft.words.figures import measure, mpa, newton, newton_metre, number, percent
from rampdraft.words.manner import manner
from rampdraft.words.say import say

Write = Callable[[float], str]
"""Writes a value with its unit: a function of a module."""
_SUMS: Final = ("+", "-")
_ROOT: Final = 0.5


class Term:
    """A part of a formula: terms are added, multiplied and so on like numbers, and stay written."""

    __slots__ = ()

    def __add__(self, other: "Term") -> "Operation":
        return Operation("+", self, other)

    def __sub__(self, other: "Term") -> "Operation":
        return Operation("-", self, other)

    def __mul__(self, other: "Term") -> "Operation":
        return Operation("*", self, other)

    def __rmul__(self, other: float) -> "Operation":
        return Operation("*", other, self)

    def __truediv__(self, other: "Term | float") -> "Operation":
        return Operation("/", self, other)

    def __pow__(self, other: float) -> "Operation":
        return Operation("**", self, other)


@dataclass(frozen=True, slots=True)
class Symbol(Term):
    """A quantity by its symbol, and how its value is written."""

    name: str
    write: Write


@dataclass(frozen=True, slots=True)
class Operation(Term):
    """Two terms, or a term and a number, with a sign between them."""

    sign: str
    left: Term | float
    right: Term | float


def _code(term: Term | float, places: Mapping[str, str]) -> str:
    """Return a term as Python reads it, the symbols by their places."""
    if isinstance(term, Operation):
        return f"({_code(term.left, places)} {term.sign} {_code(term.right, places)})"
    return places[term.name] if isinstance(term, Symbol) else repr(term)


def _symbols(term: Term | float) -> tuple[Symbol, ...]:
    """Return the symbols as they stand, from left to right; one may stand twice."""
    match term:
        case Symbol():
            return (term,)
        case Operation():
            return (*_symbols(term.left), *_symbols(term.right))
        case _:
            return ()


def _text(term: Term | float, shown: Mapping[str, str]) -> str:
    """Return a term as it is printed, with what is shown of some symbols in their place: `W f`, or `2000 mm3
    x 235 MPa`.
    """
    if not isinstance(term, Operation):
        if isinstance(term, Symbol):
            return shown.get(term.name, term.name)
        return manner().style.written(f"{term:g}")
    left, right = _text(term.left, shown), _text(term.right, shown)
    if term.sign == "**":
        return (
            say("root of {term}", term=left)
            if term.right == _ROOT
            else f"({left}){right}"
            if " " in left
            else f"{left}{right}"
        )
    if term.sign in "*/":
        left = f"({left})" if _sign(term.left) in _SUMS else left
        closed = _SUMS if term.sign == "*" else (*_SUMS, "*", "/")
        right = f"({right})" if _sign(term.right) in closed else right
    if term.sign != "*":
        return f"{left} {'−' if term.sign == '-' else term.sign} {right}"
    beside = {symbol.name for symbol in (*_symbols(term.left)[-1:], *_symbols(term.right))}
    return f"{left} x {right}" if beside & shown.keys() else f"{left} {right}"


@dataclass(frozen=True, slots=True)
class Formula:
    """A term and how its value is written, with the clause it is from."""

    term: Term
    result: Write
    clause: str = ""
    at: Callable[..., Any] = field(init=False, repr=False, compare=False)
    """From values of the symbols, as they first stand, to the formula's; arrays broadcast."""

    def __post_init__(self) -> None:
        """Have Python read the term once: formulas are worked by the hundred at each edit."""
        names = dict.fromkeys(symbol.name for symbol in _symbols(self.term))
        places = {name: f"v{number}" for number, name in enumerate(names)}
        code = f"lambda {', '.join(places.values())}: {_code(self.term, places)}"
        object.__setattr__(self, "at", eval(code))

    def __reduce__(self) -> tuple[Any, ...]:
        """Pickle by what it is made of: what Python read is no data."""
        return Formula, (self.term, self.result, self.clause)

    def of(self, *values: float) -> "Worked":
        """Return the formula worked with the values of its symbols, in the order in which they first
        stand.
        """
        return Worked(self, values, self.at(*values))


@dataclass(frozen=True, slots=True)
class Worked:
    """A formula with the values of its symbols, and the value that follows."""

    formula: Formula
    of: tuple[float, ...]
    value: float

    @property
    def symbols(self) -> str:
        """Return `M / (W f)`."""
        return _text(self.formula.term, {})

    @property
    def numbers(self) -> str:
        """Return `999 N m / (2000 mm3 x 235 MPa)`."""
        return self.numbers_but()

    def numbers_but(self, *kept: str) -> str:
        """Return the numbers put in, but for some symbols that are kept: `F / (2 x 120 mm)`."""
        values = iter(self.of)
        shown = {
            symbol.name: symbol.write(next(values)) for symbol in dict.fromkeys(_symbols(self.formula.term))
        }
        return _text(self.formula.term, {name: text for name, text in shown.items() if name not in kept})

    @property
    def result(self) -> str:
        """Return the value with its unit: `213 %`."""
        return self.formula.result(self.value)

    @property
    def line(self) -> str:
        """Return symbols, numbers and result as an inspector writes them."""
        return f"{self.symbols} = {self.numbers} = {self.result}"

    @property
    def short(self) -> str:
        """Return symbols and result."""
        return f"{self.symbols} = {self.result}"


def _sign(term: Term | float) -> str:
    return term.sign if isinstance(term, Operation) else ""


def mm3(value: float) -> str:
    """Return a section modulus: `2025 mm3`."""
    return f"{number(value, 0)} mm3"


def factor(value: float) -> str:
    """Return a factor: `1.35`."""
    return number(value, 2)


M: Final = Symbol("M", newton_metre)
W: Final = Symbol("W", mm3)
F: Final = Symbol("F", newton)
STRENGTH: Final = Symbol("f", mpa)
WIDTH: Final = Symbol("b", measure)
THICKNESS: Final = Symbol("t", measure)
BENT: Final = Formula(M / (W * STRENGTH), percent)
"""What elastic bending uses of the strength: EN 1993-1-1, 6.2.5; EN 1995-1-1, 6.1.6; EN 1999-1-1, 6.2.5."""
PLATE: Final = Formula(WIDTH * THICKNESS**2 / 6, mm3)
"""Elastic section modulus of a plate, b wide and t thick."""
