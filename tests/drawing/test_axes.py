"""Axes: figures stand at round values, and values at their places."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.drawing.axes import Axis, Graph, axes, grid, round_ticks, stepped_ticks
from rampdraft.drawing.ink import Label, Path


@given(low=st.floats(-1e4, 1e4), span=st.floats(1e-2, 1e4), most=st.integers(2, 12))
def test_ticks_are_round_few_and_within(low, span, most):
    ticks = round_ticks(low, low + span, most)
    assert len(ticks) <= most
    values = [value for value, _ in ticks]
    assert all(low - 1e-6 * span <= value <= low + span * (1 + 1e-6) for value in values)
    steps = [b - a for a, b in pairwise(values)]
    for step in steps:
        assert step == pytest.approx(steps[0], rel=1e-6)
        digits = step / 10 ** math.floor(math.log10(step * (1 + 1e-9)))
        assert min(abs(digits - round_one) for round_one in (1, 2, 5, 10)) < 1e-6


def test_figures_say_their_values():
    assert stepped_ticks(-35.0, 61.0, 30.0) == ((-30.0, "−30"), (0.0, "0"), (30.0, "30"), (60.0, "60"))
    assert [text for _, text in round_ticks(0.0, 1.0, 6)] == ["0.0", "0.2", "0.4", "0.6", "0.8", "1.0"]


def graph(per_mm=1.0):
    across = Axis(low=0.0, high=100.0, ticks=((0.0, "0"), (50.0, "50")), words="share, %")
    up = Axis(low=-10.0, high=30.0, ticks=((0.0, "0"), (20.0, "20")), words="clearance, mm")
    return Graph(across=across, up=up, frame=(5.0, 6.0, 105.0, 46.0), per_mm=per_mm)


def test_values_have_their_places():
    assert graph().at(0.0, -10.0) == (5.0, 6.0)
    assert graph().at(25.0, 10.0) == pytest.approx((30.0, 26.0))
    assert graph().at(100.0, 30.0) == (105.0, 46.0)


@pytest.mark.parametrize("per_mm", [0.5, 1.0, 3.0])
def test_each_figure_stands_at_its_tick_and_all_is_within_the_box(per_mm):
    drawn = graph(per_mm)
    marks = axes(drawn)
    labels = {mark.text: mark for mark in marks if isinstance(mark, Label)}
    assert set(labels) == {"0", "50", "20", "share, %", "clearance, mm"}
    assert labels["50"].at[0] == pytest.approx(drawn.at(50.0, 0.0)[0])
    assert abs(labels["20"].at[1] - drawn.at(0.0, 20.0)[1]) <= per_mm
    x0, y0, x1, y1 = drawn.box
    points = [mark.at for mark in marks if isinstance(mark, Label)]
    points += [vertex[:2] for mark in marks if isinstance(mark, Path) for vertex in mark.vertices]
    assert all(x0 <= x <= x1 and y0 <= y <= y1 for x, y in points)


def test_the_grid_lies_within_the_frame_only():
    lines = [mark.vertices for mark in grid(graph())]
    assert [(a[0], b[0]) for a, b in lines if a[0] == b[0]] == [(55.0, 55.0)]
    assert [a[1] for a, b in lines if a[1] == b[1]] == pytest.approx([16.0, 36.0])
