"""Unit aliases for signatures, and exact factors.

Inside the program: mm, N, kg, MPa (N/mm2), radians in computation, degrees in documents and on screen.
"""

import math
from typing import Final

MM = float
MM2 = float
MM3 = float
MM4 = float
KG = float
N = float
MPA = float
RAD = float
DEG = float

G_M_S2 = 9.80665
"""Standard gravity, exact (3rd CGPM, 1901)."""

MM_PER_INCH = 25.4
"""Exact (international inch, 1959)."""

KG_PER_POUND = 0.45359237
"""Exact (international pound, 1959)."""

_ROUNDINGS: Final = 8
"""A size typed in is off by half a last digit, each sum and product by another half: so many are let pass."""


def whole_steps(room: float, step: float, *sizes: float) -> int:
    """Return how many steps go into a room, below 0 rounded down; a last one that just fits counts.

    `sizes` are the numbers the room is the sum or difference of: their last binary digits are its rounding.
    """
    return math.floor(room / step + _slack(room, step, sizes))


def steps_over(room: float, step: float, *sizes: float) -> int:
    """Return how many steps cover a room; what is left over by rounding alone takes none.

    `sizes` as in `whole_steps`.
    """
    return math.ceil(room / step - _slack(room, step, sizes))


def _slack(room: float, step: float, sizes: tuple[float, ...]) -> float:
    """Return the rounding of a room over a step, in steps."""
    return _ROUNDINGS * (math.ulp(max(map(abs, (room, *sizes)))) / abs(step) + math.ulp(room / step))
