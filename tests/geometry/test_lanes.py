"""What lies where across the ramp, by the starter's lanes: -386, 0, 386 of the inner leaf, -342, 44, 342."""

from dataclasses import replace

import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.lanes import (
    bays_mm,
    deck_bracket_centres_mm,
    joined_mm,
    prop_rails,
    rail_intervals_mm,
    stop_intervals_mm,
)
from rampdraft.model.fields.paths import with_value

RAMP = timber_ramp()


def test_props_stand_under_the_outer_rails_or_all():
    under_outer = with_value(with_value(RAMP, "prop.fitted", value=True), "prop.under", "outer")
    assert prop_rails(under_outer) == (0, 2)
    assert prop_rails(with_value(under_outer, "prop.under", "all")) == (0, 1, 2)
    assert prop_rails(with_value(under_outer, "prop.fitted", value=False)) == ()


def test_brackets_stand_inside_the_knuckles_of_the_leaf():
    """42 wide with 2 between; the middle one to the left, as if it lay left of the middle."""
    step = RAMP.deck_hinge.knuckle_length_mm + RAMP.deck_hinge.side_gap_mm
    assert deck_bracket_centres_mm(RAMP) == (-386 + step, step, 386 - step)


def test_rails_that_touch_leave_no_bay():
    leaf = replace(RAMP.outer_leaf, rail_lanes_mm=(-20.0, 0.0, 342.0, 382.0))
    assert rail_intervals_mm(leaf) == ((-30, -10), (-10, 10), (332, 352), (372, 392))
    assert joined_mm(rail_intervals_mm(leaf)) == ((-30, 10), (332, 352), (372, 392))
    assert bays_mm(leaf) == ((10, 332), (352, 372))


@pytest.mark.parametrize(
    ("count", "middles"),
    [(1, (22.0,)), (2, (-364.0, 364.0)), (3, (-364.0, 22.0, 364.0)), (5, (-364.0, 22.0, 364.0))],
)
def test_stop_bars_lie_in_the_middle_of_pairs(count, middles):
    butting = replace(RAMP, stop=replace(RAMP.stop, count=count))
    assert stop_intervals_mm(butting) == tuple((middle - 12, middle + 12) for middle in middles)
    lapping = replace(butting, stop=replace(butting.stop, kind="lap"))
    middles = (0.0,) if count == 1 else middles
    assert stop_intervals_mm(lapping) == tuple((middle - 12, middle + 12) for middle in middles)
