"""The ground line and the strokes below it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.drawing.surroundings import ground_marks
from rampdraft.geometry.ground_line import GroundLine

points = st.lists(
    st.tuples(st.floats(0, 4000, width=32), st.floats(-400, 400, width=32)),
    min_size=2,
    max_size=6,
    unique_by=lambda point: point[0],
).map(lambda found: tuple(sorted(found)))


def line_of(points):
    (_, first), (_, last) = points[0], points[-1]
    return GroundLine(((-1e5, first), *points, (1e5, last)))


@given(points)
def test_every_stroke_lies_in_the_earth(points):
    ground = line_of(points)
    line, *strokes = ground_marks(ground, -200, 4200, per_mm=10)
    assert line.vertices == tuple((x, z, 0.0) for x, z in ground.between(-200, 4200))
    for stroke in strokes:
        (x, z, _), (foot_x, foot_z, _) = stroke.vertices
        assert z == pytest.approx(ground.beyond_mm(x))
        assert foot_z < ground.beyond_mm(foot_x)


def test_a_level_yard_is_strewn_with_strokes_in_threes():
    strokes = ground_marks(line_of(((0.0, 0.0), (1.0, 0.0))), 0, 1000, per_mm=10)[1:]
    assert len(strokes) == 33
