"""How many slats a leaf gets where they just fit."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from timber_ramp import timber_ramp

from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.model.design import Leaf

TENTHS = st.integers(400, 1500)


def leaf(**sizes: Any) -> Leaf:
    return replace(timber_ramp().inner_leaf, **sizes)


@given(TENTHS, st.integers(0, 300), st.integers(0, 300), st.integers(0, 20), st.integers(0, 500))
def test_a_last_slat_that_just_fits_is_there_and_a_tenth_less_takes_it_away(
    width, first, last_gap, spaces, gap
) -> None:
    """All sizes in tenths of a mm, as they are typed; counted in whole numbers."""
    pitch = width + gap
    length = first + pitch * spaces + width + last_gap
    sizes = {
        "slat_width_mm": width / 10,
        "slat_pitch_mm": pitch / 10,
        "slat_first_mm": first / 10,
        "slat_last_gap_mm": last_gap / 10,
    }
    starts = slat_starts_mm(leaf(length_mm=length / 10, **sizes))
    assert len(starts) == spaces + 1
    assert starts[-1] + width / 10 + last_gap / 10 == pytest.approx(length / 10)
    assert len(slat_starts_mm(leaf(length_mm=(length - 1) / 10, **sizes))) == spaces
    assert len(slat_starts_mm(leaf(length_mm=length / 10 - 1e-6, **sizes))) == spaces
    assert len(slat_starts_mm(leaf(length_mm=(length + 1) / 10, **sizes))) == spaces + 1


def test_no_room_for_one_slat_is_none() -> None:
    assert slat_starts_mm(leaf(length_mm=200.0, slat_width_mm=500.0, slat_pitch_mm=100.0)) == ()
