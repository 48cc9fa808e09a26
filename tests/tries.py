"""How much of a search is tried each time, and how much only with --soak."""

from collections.abc import Sequence
from typing import Any

import pytest
from hypothesis import settings


def tries(number: int) -> int:
    """Return half of so many tries, of a search that has its own number; with --soak ten times as many."""
    return (number + 1) // 2 if settings.default.max_examples < 100 else 10 * number


def first(number: int, cases: Sequence[Any]) -> list[Any]:
    """Return cases of which only so many, the first ones, are tried each time."""
    return [
        one if place < number else pytest.param(one, marks=pytest.mark.soak)
        for place, one in enumerate(cases)
    ]
