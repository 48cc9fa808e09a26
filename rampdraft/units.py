"""Unit aliases for signatures, exact factors, and records that hold arrays.

Inside the program: mm, N, kg, MPa (N/mm2), radians in computation, degrees in documents and on screen.
"""

from collections.abc import Callable
from dataclasses import fields
from functools import cache
from operator import attrgetter
from typing import Any, TypeVar

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Kind = TypeVar("Kind", bound=np.generic)

MM = float
MM2 = float
MM3 = float
MM4 = float
KG = float
N = float
NMM = float
MPA = float
RAD = float
DEG = float

G_M_S2 = 9.80665
"""Standard gravity, exact (3rd CGPM, 1901)."""

MM_PER_INCH = 25.4
"""Exact (international inch, 1959)."""

KG_PER_POUND = 0.45359237
"""Exact (international pound, 1959)."""


def of_each_row(reach: np.ufunc, values: NDArray[Kind]) -> NDArray[Kind]:
    """Return what `reach` (`np.maximum`, `np.add`) makes of each row of few values, (..., n): (...).

    As `reach.reduce` along the last axis does, but that sets out anew for each row: laid out the other way
    numpy runs along the rows, some ten times as fast over a thousand of them.
    """
    return reach.reduce(values.T.copy()).T


class ArrayRecord:
    """Base of frozen dataclasses (`eq=False`) that hold arrays: read-only, equal by value, in another
    process too.
    """

    __slots__ = ()

    def __post_init__(self) -> None:
        """Make the arrays read-only."""
        for value in _values(self):
            if isinstance(value, np.ndarray):
                value.setflags(write=False)

    def __eq__(self, other: object) -> bool:
        """Return whether both are of one kind with equal fields; arrays are equal with shape and values."""
        if type(self) is not type(other):
            return NotImplemented
        return all(
            np.array_equal(one, two)  # pyright: ignore[reportUnknownArgumentType]
            if isinstance(one, np.ndarray)
            else one == two
            for one, two in zip(_values(self), _values(other), strict=True)
        )

    __hash__ = None  # pyright: ignore[reportAssignmentType]

    def __reduce__(self) -> tuple[Any, ...]:
        """Pickle by the fields, so that what comes back is read-only too."""
        return _remade, (type(self), _values(self))


@cache
def _names(kind: type[Any]) -> tuple[str, ...]:
    return tuple(field.name for field in fields(kind))


@cache
def _reader(kind: type[Any]) -> Callable[[Any], tuple[Any, ...]]:
    names = _names(kind)
    read = attrgetter(*names)
    return read if len(names) > 1 else lambda record: (read(record),)


def _values(record: Any) -> tuple[Any, ...]:
    return _reader(record.__class__)(record)


def _remade(kind: Any, values: tuple[Any, ...]) -> Any:
    return kind(**dict(zip(_names(kind), values, strict=True)))
