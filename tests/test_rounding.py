"""Whole steps in a room and the greatest of several, whatever last digits say."""

from fractions import Fraction

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.rounding import greatest, greatest_along, greatest_at, least_along, steps_over, whole_steps

TENTHS = st.integers(1, 5000)
PARTS = st.sampled_from((1, 10, 100, 1000))


@given(TENTHS, st.integers(0, 400), TENTHS, TENTHS, TENTHS, PARTS)
def test_a_room_that_is_a_number_of_steps_holds_that_number(step, count, first, width, gap, parts) -> None:
    length = (first + width + gap + step * count) / parts
    room = length - gap / parts - first / parts - width / parts
    assert whole_steps(room, step / parts, length) == count
    assert steps_over(room, step / parts, length) == count


@given(TENTHS, st.integers(0, 400), TENTHS, PARTS)
def test_a_thousandth_less_or_more_is_told_apart(step, count, first, parts) -> None:
    length, part = (first + step * count) / parts, step / parts
    room = length - first / parts
    assert whole_steps(room - 1e-3 * part, part, length) == count - 1
    assert steps_over(room - 1e-3 * part, part, length) == count
    assert whole_steps(room + 1e-3 * part, part, length) == count
    assert steps_over(room + 1e-3 * part, part, length) == count + 1
    # As close as a millionth of a millimetre: far above rounding.
    assert whole_steps(room - 1e-6, part, length) == (count - 1 if part > 1e-6 else count)


@given(st.integers(-(10**6), 10**6), st.integers(1, 10**4))
def test_exact_numbers_are_counted_as_fractions_are(room: int, step: int) -> None:
    exact = Fraction(room, step)
    assert whole_steps(float(room), float(step)) == exact.__floor__()
    assert steps_over(float(room), float(step)) == exact.__ceil__()


@pytest.mark.parametrize(("room", "step", "count"), [(550.8, 91.8, 6), (0.3, 0.1, 3), (-0.3, 0.1, -3)])
def test_divisions_that_floats_get_wrong(room: float, step: float, count: int) -> None:
    assert whole_steps(room, step) == count


@given(st.lists(st.integers(-9, 9), min_size=1, max_size=12), st.integers(0, 99))
def test_of_equals_but_for_rounding_the_first_counts(values, seed) -> None:
    noise = 1 + 1e-14 * np.random.default_rng(seed).uniform(-1, 1, len(values))
    shaken = np.array(values, dtype=float) * noise
    first = values.index(max(values))
    assert greatest_at(shaken) == (first,)
    assert greatest(range(len(values)), lambda at: shaken[at]) == first
    assert greatest_along(shaken, shaken.max()) == first
    assert least_along(-shaken, -shaken.max()) == first


def test_what_is_greater_by_more_than_rounding_is_the_greatest() -> None:
    assert greatest_at(np.array([[1.0, 1.0], [1.0 + 1e-8, 1.0]])) == (1, 0)
    assert greatest_at(np.array([1.0, np.inf])) == (1,)
    assert greatest_at(np.array([-np.inf, -np.inf])) == (0,)
