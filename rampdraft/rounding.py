"""Decisions that may not hang on the last digit: whole steps in a room, the greatest of several."""

import math
from collections.abc import Callable, Iterable
from typing import Final, TypeVar

import numpy as np
from numpy.typing import NDArray

Item = TypeVar("Item")

_ALIKE: Final = 1e-9
"""Share of the greatest by which another may be less and yet as great."""
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


def greatest(items: Iterable[Item], key: Callable[[Item], float]) -> Item:
    """Return the first of the items that are greatest but for rounding; ValueError where there are none."""
    found = tuple(items)
    values = [key(item) for item in found]
    least = _as_great(max(values))
    return next(item for value, item in zip(values, found, strict=True) if value >= least)


def as_great(values: NDArray[np.float64]) -> NDArray[np.bool_]:
    """Return which values are the greatest but for rounding."""
    return values >= _as_great(float(values.max()))


def greatest_at(values: NDArray[np.float64]) -> tuple[int, ...]:
    """Return the index of the first value that is greatest but for rounding."""
    first = int(as_great(values).argmax())
    place: list[int] = []
    for size in reversed(values.shape):
        first, at = divmod(first, size)
        place.insert(0, at)
    return tuple(place)


def greatest_along(values: NDArray[np.float64], most: NDArray[np.float64]) -> NDArray[np.intp]:
    """Return the indices along axis 0 of the first values that are `most`, the greatest, but for rounding."""
    return (values >= most - _ALIKE * np.abs(most)).argmax(axis=0)


def least_along(values: NDArray[np.float64], least: NDArray[np.float64]) -> NDArray[np.intp]:
    """Return the indices along axis 0 of the first values that are `least`, but for rounding."""
    return (values <= least + _ALIKE * np.abs(least)).argmax(axis=0)


def _as_great(most: float) -> float:
    return most - _ALIKE * abs(most) if math.isfinite(most) else most
