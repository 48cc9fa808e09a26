"""What is changed by a proposal's moves takes with it what has to follow."""

from dataclasses import replace

import pytest

from rampdraft.explore.proposals import alter
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design, Handle
from rampdraft.model.starter import starter_design


@pytest.fixture(scope="module")
def design() -> Design:
    start = starter_design()
    return replace(
        start,
        handles=(
            Handle(name="joint", leaf="inner", at_mm=start.inner_leaf.length_mm, above_mm=0),
            Handle(name="half way", leaf="outer", at_mm=600, above_mm=0),
            Handle(name="toe", leaf="outer", at_mm=start.outer_leaf.length_mm, above_mm=300),
        ),
    )


@pytest.mark.parametrize(("inner", "outer"), [(1400, 1380), (1100, 900), (700, 500)])
def test_handles_at_the_ends_stay_at_the_ends(design: Design, inner: int, outer: int) -> None:
    found = alter.with_lengths(design, inner, outer)
    assert [one.at_mm for one in found.handles] == [inner, min(600, outer), outer]


def test_every_change_comes_out_settled(design: Design) -> None:
    found = [
        alter.with_lengths(design, 1200, 1100),
        alter.with_rail_count(design, 3),
        alter.with_width(design, 800),
        alter.with_crosses(design, "inner_leaf", 4),
        alter.put(design, joint__knuckle_diameter_mm=50.0),
    ]
    for one in found:
        assert one is not None
        assert settled(one) == one
        assert one != design


def test_more_than_finds_room_is_no_change(design: Design) -> None:
    assert alter.with_rail_count(design, 12) is None
    assert alter.with_crosses(design, "inner_leaf", 40) is None
    assert alter.with_width(design, design.carrier.opening_width_mm + 1) is None
