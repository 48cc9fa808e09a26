"""How often a detail bears a range of stress: steel by EN 1993-1-9, aluminium by EN 1999-1-3.

A detail of category C bears the range C 2 million times; to 5 million its life falls with the power m1 of the
range, beyond with m2, and what it bears 100 million times tires it no more.
"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from rampdraft.strength.formula import Formula, Symbol, factor
from rampdraft.units import MM, MPA, Array
from rampdraft.words.figures import mpa
from rampdraft.words.say import say

CLAUSE: Final = "EN 1993-1-9, 7.1, tables 8.4, 8.5"
ALUMINIUM_CLAUSE: Final = "EN 1999-1-3, 6.2, annex J"
GAMMA_MF: Final = 1.15
"""EN 1993-1-9, table 3.1 (from memory): looked at again and again, where people can be hurt."""
ALUMINIUM_GAMMA_MF: Final = 1.2
"""EN 1999-1-3, annex L (from memory): damage-tolerant, where people can be hurt."""
FULL: Final = 2e6
KNEE: Final = 5e6
LAST: Final = 1e8
NO_END: Final = 1e9
"""Told of a range so small that it tires nothing."""
_HAIR: Final = 1e-9
"""A range less than the cut-off by this part only is at it, and tires: rounding decides nothing."""


def crossings(value: float) -> str:
    """Return a number of crossings, rounded as it deserves: `24 000`."""
    if value >= NO_END:
        return say("without end")
    step = 10 ** max(0, len(str(int(value))) - 3)
    return f"{int(value // step * step):,}".replace(",", " ")


_RANGE, _GAMMA = Symbol("ds", mpa), Symbol("gMf", factor)
_PART: Final = Symbol("dsC", mpa) / (_GAMMA * _RANGE)
_LONG: Final = Symbol("dsD", mpa) / (_GAMMA * _RANGE)
LIFE: Final = Formula(FULL * _PART**3, crossings, CLAUSE)
"""Crossings up to 5 million, of a detail of category dsC under the range ds."""
LONG_LIFE: Final = Formula(KNEE * _LONG**5, crossings, CLAUSE)
"""Crossings beyond 5 million, where dsD is 0.737 of the category; none tire below 0.405 of it."""
WELDED_LIFE: Final = Formula(FULL * _PART**3.4, crossings, ALUMINIUM_CLAUSE)
"""The same of welded aluminium: slopes from memory."""
WELDED_LONG_LIFE: Final = Formula(KNEE * _LONG**5.4, crossings, ALUMINIUM_CLAUSE)
"""Where dsD is 0.764 of the category; none tire below 0.439 of it."""
DRILLED_LIFE: Final = Formula(FULL * _PART**4, crossings, ALUMINIUM_CLAUSE)
"""Of aluminium at a screw, on what the hole leaves; none tire below 0.376 of the category (from memory)."""
PLAIN_LIFE: Final = Formula(FULL * _PART**7, crossings, ALUMINIUM_CLAUSE)
"""Of aluminium away from holes and welds; none tire below 0.572 of the category (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Curve:
    """How lives of details of a kind hang on the range of stress."""

    gamma: float
    slopes: tuple[float, float]
    short: Formula
    long: Formula

    @property
    def knee(self) -> float:
        """Return the part of a category that is borne 5 million times."""
        return (FULL / KNEE) ** (1 / self.slopes[0])

    @property
    def last(self) -> float:
        """Return the part of a category that is borne 100 million times."""
        return self.knee * (KNEE / LAST) ** (1 / self.slopes[1])


STEEL: Final = Curve(gamma=GAMMA_MF, slopes=(3, 5), short=LIFE, long=LONG_LIFE)
WELDED: Final = Curve(gamma=ALUMINIUM_GAMMA_MF, slopes=(3.4, 5.4), short=WELDED_LIFE, long=WELDED_LONG_LIFE)
DRILLED: Final = Curve(gamma=ALUMINIUM_GAMMA_MF, slopes=(4, 4), short=DRILLED_LIFE, long=DRILLED_LIFE)
PLAIN: Final = Curve(gamma=ALUMINIUM_GAMMA_MF, slopes=(7, 7), short=PLAIN_LIFE, long=PLAIN_LIFE)


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """A place that tires."""

    category: MPA
    curve: Curve
    words: str

    def tires(self, range_mpa: Array | float) -> NDArray[np.bool_]:
        """Return whether each range tires it at all."""
        curve = self.curve
        return np.asarray(curve.gamma * range_mpa / self.category > curve.last * (1 - _HAIR))

    def life(self, range_mpa: Array) -> Array:
        """Return how many times each range of stress is borne, (...); `inf` where it tires nothing."""
        curve = self.curve
        bounded = np.maximum(range_mpa, 1e-9 * self.category)
        life: Array = curve.short.at(self.category, curve.gamma, bounded)
        past: NDArray[np.bool_] = curve.gamma * bounded / self.category > curve.knee
        if not past.all():
            long: Array = curve.long.at(self._long_category(), curve.gamma, bounded)
            life = np.where(past, life, long)
        return np.where(self.tires(bounded), life, np.inf)

    def line(self, range_mpa: float) -> str:
        """Return the line of the life under one range."""
        curve = self.curve
        if not self.tires(range_mpa):
            return say("so small a range tires nothing")
        if curve.gamma * range_mpa / self.category > curve.knee:
            return f"N = {curve.short.of(self.category, curve.gamma, range_mpa).line}"
        return f"N = {curve.long.of(self._long_category(), curve.gamma, range_mpa).line}"

    def _long_category(self) -> MPA:
        curve = self.curve
        return self.category * (1.0 if curve.long is curve.short else curve.knee)


# Details
# --------------------------------------------------------------------------------------

ROOT: Final = 36.0
"""EN 1993-1-9, table 8.5, detail 3: the root of a fillet weld, by the stress on its throat."""
_TOES: Final = ((50.0, 80.0), (80.0, 71.0), (100.0, 63.0), (np.inf, 56.0))
"""EN 1993-1-9, tables 8.4 and 8.5, detail 1: a wall at the toe of a weld across it, by the length of what is
welded on; beyond 120 mm of walls up to 20 mm.
"""
ALUMINIUM_ROOT: Final = 12.0
"""EN 1999-1-3, table J.9: the lowest that it gives the root of a fillet weld (from memory)."""
_ALUMINIUM_TOES: Final = ((10.0, 23.0), (np.inf, 18.0))
"""EN 1999-1-3, table J.5: a wall at the toe of a weld across it, of something longer than 20 mm, by its
thickness (from memory).
"""
_HOLES: Final = (90.0, 56.0)
"""A plate at a screw, by what the hole leaves: steel, EN 1993-1-9, table 8.1; aluminium, EN 1999-1-3, table
J.15 (from memory).
"""
_PLAINS: Final = (125.0, 90.0)
"""A plate away from holes and welds: EN 1993-1-9, table 8.1; EN 1999-1-3, table J.1 (from memory)."""

Metal = Literal["steel", "aluminium"]


def toe_category(length_mm: MM) -> MPA:
    """Return the category of a steel wall at a weld across it, by the length of what is welded on."""
    return next(category for most, category in _TOES if length_mm <= most)


def root(metal: Metal) -> Detail:
    """Return the root of a fillet weld."""
    words = say("root of the weld, stress on its throat")
    if metal == "steel":
        return Detail(category=ROOT, curve=STEEL, words=words)
    return Detail(category=ALUMINIUM_ROOT, curve=WELDED, words=words)


def toe(metal: Metal, words: str, length_mm: MM, thick_mm: MM) -> Detail:
    """Return a wall of a thickness at the weld of something so long along it."""
    if metal == "steel":
        return Detail(category=toe_category(length_mm), curve=STEEL, words=words)
    category = next(category for most, category in _ALUMINIUM_TOES if thick_mm <= most)
    return Detail(category=category, curve=WELDED, words=words)


def drilled(metal: Metal, words: str) -> Detail:
    """Return a plate at a screw."""
    steel, aluminium = _HOLES
    if metal == "steel":
        return Detail(category=steel, curve=STEEL, words=words)
    return Detail(category=aluminium, curve=DRILLED, words=words)


def plain(metal: Metal, words: str) -> Detail:
    """Return a plate away from holes and welds."""
    steel, aluminium = _PLAINS
    if metal == "steel":
        return Detail(category=steel, curve=STEEL, words=words)
    return Detail(category=aluminium, curve=PLAIN, words=words)
