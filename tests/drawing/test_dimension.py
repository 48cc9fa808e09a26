"""Dimensions by ISO 129-1: where the line, the arrows and the value stand."""

import math
from itertools import pairwise

import pytest
from inked import as_text

from rampdraft.drawing import dimension
from rampdraft.drawing.ink import Label, Path


def label_of(marks):
    return next(mark for mark in marks if isinstance(mark, Label))


def arrows_of(marks):
    return [mark for mark in marks if isinstance(mark, Path) and len(mark.vertices) == 3]


def test_a_length_as_ink():
    marks = dimension.level((0, 0), (50, 0), "50", at=-10, per_mm=1, owner="inner_leaf.length_mm")
    assert as_text(marks) == (
        "open dimension <inner_leaf.length_mm> (0, -0.8) (0, -11.2)\n"
        "open dimension <inner_leaf.length_mm> (50, -0.8) (50, -11.2)\n"
        "open dimension <inner_leaf.length_mm> (0, -10) (50, -10)\n"
        "open dimension <inner_leaf.length_mm> (2.2, -10.6) (0, -10) (2.2, -9.4)\n"
        "open dimension <inner_leaf.length_mm> (47.8, -9.4) (50, -10) (47.8, -10.6)\n"
        "text '50' centre (25, -9.2) <inner_leaf.length_mm>"
    )


def test_arrows_keep_their_size_on_paper():
    for per_mm in (1.0, 10.0):
        marks = dimension.level((0, 0), (500, 0), "500", at=-80, per_mm=per_mm)
        left, tip, _ = arrows_of(marks)[0].vertices
        assert left[0] - tip[0] == pytest.approx(dimension.ARROW_MM * per_mm)
        assert 2 * abs(left[1] - tip[1]) / (left[0] - tip[0]) == pytest.approx(2 * math.tan(math.radians(15)))


def test_a_short_length_has_its_arrows_and_its_value_outside():
    marks = dimension.level((0, 0), (3, 0), "3.25", at=-10, per_mm=1)
    first, second = arrows_of(marks)
    assert first.vertices[1][0] == 0
    assert first.vertices[0][0] < 0, "the arrow at the left points right, from outside"
    assert second.vertices[1][0] == 3
    assert second.vertices[0][0] > 3
    assert label_of(marks).at[0] > 3
    assert label_of(marks).anchor == "left"
    before = dimension.level((0, 0), (3, 0), "3.25", at=-10, per_mm=1, outside="before")
    assert label_of(before).at[0] < 0
    assert label_of(before).anchor == "right"


@pytest.mark.parametrize("turn", range(0, 360, 15))
def test_values_are_read_from_below_or_from_the_right(turn):
    end = (80 * math.cos(math.radians(turn)), 80 * math.sin(math.radians(turn)))
    label = label_of(dimension.aligned((0, 0), end, "80", offset_mm=6, per_mm=1))
    assert -90 < label.angle_deg <= 90.0001
    assert (label.angle_deg - turn) % 180 == pytest.approx(0, abs=1e-6) or (
        label.angle_deg - turn
    ) % 180 == pytest.approx(180)


@pytest.mark.parametrize("offset", [6, -6])
def test_an_aligned_dimension_lies_beside_what_it_measures(offset):
    marks = dimension.aligned((0, 0), (30, 40), "50", offset_mm=offset, per_mm=1)
    ends = [arrow.vertices[1] for arrow in arrows_of(marks)]
    assert math.dist(ends[0][:2], ends[1][:2]) == pytest.approx(50)
    assert ends[0][:2] == pytest.approx((-0.8 * offset, 0.6 * offset)), "to the left of the way from a to b"


def test_upright_dimensions_do_not_depend_on_the_order_of_their_ends():
    up = dimension.upright((0, 0), (0, 40), "40", at=9, per_mm=1)
    down = dimension.upright((0, 40), (0, 0), "40", at=9, per_mm=1)
    assert as_text(up) == as_text(down)
    assert label_of(up).angle_deg == 90
    assert label_of(up).at[0] < 9, "read from the right, so the value stands left of its line"


def test_running_dimensions_start_at_a_ring_and_their_values_make_way_for_each_other():
    places = tuple(((x, 0.0), f"{x:g}") for x in (30.0, 31.0, 31.5, 32.0, 32.5, 60.0))
    marks = dimension.running((0, 0), places, at=5, per_mm=1)
    rings = [mark for mark in marks if isinstance(mark, Path) and mark.closed]
    assert len(rings) == 1
    assert rings[0].vertices[0][1] == 5
    assert len(arrows_of(marks)) == 6, "each place keeps its arrow"
    values = [mark for mark in marks if isinstance(mark, Label)]
    assert [value.text for value in values] == ["0", "30", "31", "31.5", "60"], (
        "what would stray too far is left out"
    )
    gaps = [b.at[0] - a.at[0] for a, b in pairwise(values)]
    assert min(gaps) >= 2.8 - 1e-9, "8 point letters, 2.8 mm, side by side"
    assert values[1].at[0] - 30 == values[4].at[0] - 60 == values[0].at[0], (
        "where there is room they stand at their place"
    )


def test_running_dimensions_of_nothing_are_only_the_origin():
    marks = dimension.running((0, 0), (), at=5, per_mm=1)
    assert [mark.text for mark in marks if isinstance(mark, Label)] == ["0"]


@pytest.mark.parametrize(("to", "anchor"), [((10, 5), "left"), ((-10, 5), "right")])
def test_a_leader_points_at_its_tip(to, anchor):
    marks = dimension.leader((0, 0), to, "R 15", per_mm=1)
    assert arrows_of(marks)[0].vertices[1][:2] == (0, 0)
    assert label_of(marks).anchor == anchor


def test_a_dimension_of_nothing_draws_nothing():
    assert dimension.level((4, 0), (4, 9), "0", at=3, per_mm=1) == ()


def test_room_above_the_line_decides_how_high_an_upright_dimension_reaches():
    assert dimension.upright_reach(0, 100, "100", per_mm=1) == 100
    assert dimension.upright_reach(0, 4, "100", per_mm=1) > 4 + dimension.ARROW_MM


def test_a_value_between_others_stands_across_its_line_where_it_has_no_room():
    assert dimension.in_chain(1) == ("before",)
    assert dimension.in_chain(4) == ("before", "across", "across", "after")
    above, below = (
        dimension.level((0, 0), (10, 0), text, at=0, per_mm=1.0, outside="across")[-1]
        for text in ("10", "10 31/32")
    )
    assert above.anchor == below.anchor == "centre"
    assert above.at[0] == below.at[0] == 5
    assert above.at[1] > 0 > below.at[1]
