"""Influence lines of the plain beam, against statics done by hand."""

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tries import tries

from rampdraft.mechanics.loading.beam import Spans, hinge_line, moment_line

RAMP = Spans(length_mm=2650, joint_mm=1350, propped=False)
PROPPED = Spans(length_mm=2650, joint_mm=1350, propped=True)
BOTH = pytest.mark.parametrize("spans", [RAMP, PROPPED], ids=["one span", "over a prop"])


@st.composite
def spans_of(draw) -> Spans:
    length = draw(st.floats(1000, 8000))
    return Spans(length_mm=length, joint_mm=length * draw(st.floats(0.15, 0.85)), propped=draw(st.booleans()))


@settings(max_examples=tries(80))
@given(spans_of(), st.floats(0.01, 0.99), st.floats(0, 1))
def test_the_moment_is_that_of_the_forces_on_one_side(spans: Spans, part: float, share: float) -> None:
    x, at = part * spans.length_mm, share * spans.length_mm
    low, high = next(span for span in spans.ends_mm if span[0] <= x <= span[1])
    assume(abs(at - x) > 1e-6)
    by_hand = 0.0
    if low <= at <= high:
        near = (high - at) / (high - low)
        by_hand = near * (x - low) - max(0.0, x - at)
    assert float(moment_line(spans, x, np.array(at))) == pytest.approx(by_hand, rel=1e-9, abs=1e-6)


@BOTH
def test_what_is_beside_the_ramp_weighs_nothing(spans: Spans) -> None:
    beside = np.array([-300.0, -0.001, 2650.001, 4000.0])
    for x in (10.0, 1349.0, 1351.0, 2640.0):
        assert not moment_line(spans, x, beside).any()
    assert not hinge_line(spans, beside).any()


@BOTH
def test_the_deck_hinge_carries_what_stands_on_it_and_half_of_what_is_half_way(spans: Spans) -> None:
    end = spans.ends_mm[0][1]
    assert hinge_line(spans, np.array([0.0, end / 2, end])) == pytest.approx([1.0, 0.5, 0.0])


def test_over_a_prop_there_is_no_moment() -> None:
    at = np.array([100.0, 1000.0, 1349.0, 1351.0, 2000.0])
    assert moment_line(PROPPED, 1350.0, at) == pytest.approx(0, abs=1e-9)
