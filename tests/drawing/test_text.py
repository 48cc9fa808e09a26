"""Figures in words."""

import math

import pytest

from rampdraft.drawing.text import degrees_text, gradient_text, mm_text, one_in
from rampdraft.mechanics.results import LeafGradient


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (1350, "1350"),
        (37.5, "37.5"),
        (0.04, "0"),
        (-0.04, "0"),
        (-12.25, "−12.2"),
        (1e4, "10000"),
        (100, "100"),
    ],
)
def test_lengths_lose_idle_zeros_only(value, text):
    assert mm_text(value) == text


def test_more_decimals_where_they_are_asked_for():
    assert mm_text(79.75, 2) == "79.75"
    assert mm_text(1200, 0) == "1200"


@pytest.mark.parametrize(
    ("rise", "going", "text"),
    [
        (100, 1200, "1 : 12.0 (8.3 %)"),  # 1:12 = 8.33 %, ADA Standards 405.2
        (-100, 600, "1 : 6.0 (−16.7 %)"),
        (0, 900, "level (0.0 %)"),
    ],
)
def test_gradients(rise, going, text):
    assert gradient_text(LeafGradient(rise_mm=rise, going_mm=going)) == text


def test_a_gradient_has_no_sign_as_one_in():
    assert one_in(LeafGradient(rise_mm=-100, going_mm=800)) == "1 : 8.0"


def test_degrees():
    assert degrees_text(math.atan(1 / 12)) == "4.8°"  # 4.76 degrees
