"""The ground line: both sides of a step, the one that is met, the grade, against shapely and by hand."""

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from plain_clearance import ground_area

from rampdraft.geometry.ground_line import FAR_MM, ground_line
from rampdraft.model.design import Site

DOWN = Site(name="Off the pavement", kind="kerb", ground_mm=((0, 120), (300, 120), (300, 0), (4000, 0)))
UP = Site(name="Kerb", kind="kerb", ground_mm=((0, 0), (300, 0), (300, 120), (4000, 120)))
TENTHS = st.integers(-2000, 20000).map(lambda tenths: tenths / 10)
GROUNDS = st.lists(st.tuples(TENTHS, TENTHS), min_size=1, max_size=7, unique_by=lambda point: point[0]).map(
    lambda points: tuple(sorted(points))
)


@pytest.mark.parametrize(
    ("site", "x", "before", "beyond"),
    [
        (DOWN, 299.9, 120, 120),
        (DOWN, 300, 120, 0),
        (DOWN, 300 - 1e-9, 120, 0),
        (DOWN, 300 + 1e-9, 120, 0),
        (DOWN, 300.1, 0, 0),
        (UP, 300, 0, 120),
        (UP, -9e9, 0, 0),
        (UP, 9e9, 120, 120),
    ],
)
def test_both_sides_of_a_face(site, x, before, beyond):
    ground = ground_line(site)
    assert (ground.before_mm(x), ground.beyond_mm(x)) == (before, beyond)
    assert ground.height_mm(x) == max(before, beyond)


@given(GROUNDS, st.lists(TENTHS, min_size=1, max_size=9))
def test_what_stands_on_it_stands_on_the_earth(points, places):
    site = Site(name="Rough", kind="ground", ground_mm=points)
    ground, area = ground_line(site), ground_area(site)
    for x in places:
        z = ground.height_mm(x)
        assert area.boundary.distance(shapely.Point(x, z)) < 1e-6
        assert not area.contains(shapely.Point(x, z + 1e-3))
    assert ground.heights_mm(np.array(places)) == pytest.approx([ground.height_mm(x) for x in places])
    assert ground.all_beyond_mm(np.array(places)) == pytest.approx([ground.beyond_mm(x) for x in places])


@pytest.mark.parametrize(("x", "grade"), [(-1, 0), (0, 0.1), (999, 0.1), (1000 - 1e-9, 0), (5000, 0)])
def test_the_grade_is_that_of_the_stretch_ahead(x, grade):
    ramp = Site(name="Slope", kind="ground", ground_mm=((0, 0), (1000, 100)))
    assert ground_line(ramp).grade_beyond(x) == pytest.approx(grade)


def test_a_stretch_holds_both_sides_of_the_faces_within_it():
    ground = ground_line(UP)
    assert ground.between(-500, 5000) == ((-500, 0), (0, 0), (300, 0), (300, 120), (4000, 120), (5000, 120))
    assert ground.between(250, 300) == ((250, 0), (300, 0))
    assert ground.between(300, 350) == ((300, 120), (350, 120))
    slope = ground_line(Site(name="Slope", kind="ground", ground_mm=((0, 0), (1000, 100))))
    assert slope.between(250, 750) == ((250, 25), (750, 75))


def test_it_goes_on_level_beyond_its_ends():
    assert ground_line(UP).points[0] == (-FAR_MM, 0)
    assert ground_line(UP).points[-1] == (4000 + FAR_MM, 120)
    assert ground_line(UP).corners == UP.ground_mm
