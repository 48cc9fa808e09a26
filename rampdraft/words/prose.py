"""Prose that is written when it is shown: words take longer than the sums, and most are never read."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

Lines = tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Prose:
    """Lines yet to be written: a function of a module, and the values that it writes of.

    Two are equal where both are; the values are plain data without arrays, so that prose can be compared and
    sent to another process.
    """

    write: Callable[..., Lines]
    of: tuple[Any, ...] = ()

    def lines(self) -> Lines:
        """Write it."""
        return self.write(*self.of)


def prose(write: Callable[..., Lines], *of: Any) -> Prose:
    """Return the prose that `write` makes of these values."""
    return Prose(write, of)


def stated(*lines: str) -> Prose:
    """Return prose whose lines stand already."""
    return Prose(_as_they_are, lines)


def _as_they_are(*lines: str) -> Lines:
    return lines
