"""Words beside a window: clear of it and of each other, whatever they are and wherever they point."""

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, box
from tries import tries

from rampdraft.drawing.placing import Wanted, crosses, overlap, stands

WINDOW = (0.0, 0.0, 80.0, 60.0)
points = st.tuples(st.floats(0, 80), st.floats(0, 60))
wanted = st.lists(
    st.builds(
        lambda tip, wide, tall: Wanted(tips=(tip,), size=(wide, tall)),
        points,
        st.floats(2, 60),
        st.floats(3, 9),
    ),
    max_size=8,
)


@settings(max_examples=tries(15))
@given(wanted)
def test_words_are_clear_of_the_window_and_of_each_other(found: list[Wanted]) -> None:
    placed = stands(found, WINDOW, 5.0)
    assert len(placed) == len(found)
    shapes = [box(*one.box) for one in placed]
    assert all(shape.intersection(box(*WINDOW)).area < 1e-9 for shape in shapes)
    assert all(a.intersection(b).area < 1e-9 for a, b in itertools.combinations(shapes, 2))
    for one, stand in zip(found, placed, strict=True):
        x0, y0, x1, y1 = stand.box
        assert (x1 - x0, y1 - y0) == pytest.approx(one.size)


@settings(max_examples=tries(15))
@given(wanted)
def test_the_same_words_stand_in_the_same_places(found: list[Wanted]) -> None:
    assert stands(found, WINDOW, 5.0) == stands(found, WINDOW, 5.0)


def test_words_keep_off_what_is_taken() -> None:
    taken = ((85.0, -100.0, 300.0, 200.0),)
    (stand,) = stands([Wanted(tips=((70.0, 30.0),), size=(20.0, 5.0))], WINDOW, 5.0, taken)
    assert stand.box[2] <= 0.0


def test_leaders_to_places_above_each_other_do_not_cross() -> None:
    found = [Wanted(tips=((60.0, 10.0 * k),), size=(15.0, 5.0)) for k in range(6)]
    lines = [
        (one.tips[0], stand.from_point) for one, stand in zip(found, stands(found, WINDOW, 5.0), strict=True)
    ]
    assert not any(crosses(a, b) for a, b in itertools.combinations(lines, 2))


@given(points, points, points, points)
def test_crossing_is_what_shapely_says(a, b, c, d) -> None:
    if crosses((a, b), (c, d)):
        assert LineString((a, b)).distance(LineString((c, d))) < 1e-9


def test_boxes_that_touch_do_not_overlap() -> None:
    assert not overlap((0, 0, 1, 1), (1, 0, 2, 1))
    assert overlap((0, 0, 1, 1), (1, 0, 2, 1), apart=0.1)
    assert overlap((0, 0, 1, 1), (0.9, 0.9, 2, 2))
