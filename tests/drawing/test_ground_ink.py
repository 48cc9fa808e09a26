"""The ground line and the strokes below it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.drawing.ground import ground_line, ground_marks, height_at

KERB = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (4000.0, 120.0))


def test_the_ground_goes_on_level_beyond_its_points():
    assert ground_line(KERB, -500, 5000) == (
        (-500, 0),
        (0, 0),
        (300, 0),
        (300, 120),
        (4000, 120),
        (5000, 120),
    )


def test_the_ground_is_cut_where_the_view_ends():
    slope = ((0.0, 0.0), (1000.0, 100.0))
    assert ground_line(slope, 250, 750) == ((250, 25), (750, 75))


def test_ground_beyond_the_view_is_not_drawn():
    assert ground_line(((0.0, 0.0), (100.0, 50.0)), 200, 400) == ((200, 50), (400, 50))


@pytest.mark.parametrize(("x", "height"), [(-9, 0), (150, 0), (299.9, 0), (300, 120), (9000, 120)])
def test_height_at_a_step_is_that_of_its_right_side(x, height):
    assert height_at(ground_line(KERB, -10, 10000), x) == height


points = st.lists(
    st.tuples(st.floats(0, 4000, width=32), st.floats(-400, 400, width=32)),
    min_size=2,
    max_size=6,
    unique_by=lambda point: point[0],
).map(lambda found: tuple(sorted(found)))


@given(points)
def test_every_stroke_lies_in_the_earth(ground):
    shown = ground_line(ground, -200, 4200)
    assert shown[0][0] == -200
    assert shown[-1][0] == 4200
    line, *strokes = ground_marks(shown, per_mm=10)
    assert line.vertices == tuple((x, z, 0.0) for x, z in shown)
    for stroke in strokes:
        (x, z, _), (foot_x, foot_z, _) = stroke.vertices
        assert z == pytest.approx(height_at(shown, x))
        assert foot_z < height_at(shown, foot_x)


def test_a_level_yard_is_strewn_with_strokes_in_threes():
    strokes = ground_marks(ground_line(((0.0, 0.0), (1.0, 0.0)), 0, 1000), per_mm=10)[1:]
    assert len(strokes) == 33
