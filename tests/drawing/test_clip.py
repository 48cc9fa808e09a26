"""What lies in a frame is what shapely says lies in it, and stands in the detail where the frame puts it."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import LineString, Point, Polygon, box

from rampdraft.drawing.clip import Enlarged, cut
from rampdraft.drawing.ink import Label, line, polygon, polyline, ring

FRAME = (10.0, 5.0, 50.0, 35.0)
PLACES = st.tuples(st.integers(-20, 80), st.integers(-20, 60))


def polygon_of(mark) -> Polygon:
    return Polygon([(x, y) for x, y, _ in mark.vertices])


@given(st.lists(PLACES, min_size=3, max_size=3, unique=True))
def test_an_area_is_cut_as_shapely_cuts_it(corners: list[tuple[int, int]]) -> None:
    whole = Polygon(corners)
    if whole.area < 1.0:
        return
    parts = list(cut(polygon(corners, "thin", "inner", "a"), FRAME, 0.1))
    assert all(part.owner == "a" and part.closed for part in parts)
    wanted = whole.intersection(box(*FRAME)).area
    assert sum(polygon_of(part).area for part in parts) == pytest.approx(wanted, abs=1e-6)


@given(st.lists(PLACES, min_size=2, max_size=8, unique=True))
def test_a_line_is_cut_as_shapely_cuts_it(places: list[tuple[int, int]]) -> None:
    parts = list(cut(polyline(places, "thin"), FRAME, 0.1))
    legs = pairwise(places)
    wanted = sum(LineString(leg).intersection(box(*FRAME)).length for leg in legs)
    found = sum(LineString([(x, y) for x, y, _ in part.vertices]).length for part in parts)
    assert found == pytest.approx(wanted, abs=1e-6)


def test_what_lies_within_is_left_as_it_is_and_what_lies_without_is_gone() -> None:
    inside, outside = ring((30.0, 20.0), 5.0), ring((80.0, 20.0), 5.0)
    assert list(cut(inside, FRAME, 0.1)) == [inside]
    assert not list(cut(outside, FRAME, 0.1))


def test_an_arc_that_is_cut_stays_within_the_sagitta() -> None:
    parts = list(cut(ring((50.0, 20.0), 10.0, fill="none"), FRAME, 0.05))
    assert not any(part.closed for part in parts)
    points = [(x, y) for part in parts for x, y, _ in part.vertices]
    legs = [LineString([(x, y) for x, y, _ in part.vertices]) for part in parts]
    assert max(math.dist((50.0, 20.0), point) for point in points) < 10.001
    assert min(leg.distance(Point(50.0, 20.0)) for leg in legs) > 10.0 - 0.051
    assert sum(leg.length for leg in legs) == pytest.approx(10.0 * math.pi, rel=0.01)
    assert max(x for x, _ in points) <= FRAME[2] + 1e-9


def test_the_frame_shows_the_window_enlarged_and_no_words() -> None:
    detail = Enlarged(window=FRAME, frame=(100.0, 100.0, 220.0, 190.0))
    assert detail.times == 3.0
    assert detail.at((10.0, 5.0)) == (100.0, 100.0)
    marks = [line((20.0, 10.0), (200.0, 10.0), "thin", "a"), Label(text="x", at=(20.0, 10.0))]
    (shown,) = detail.marks(marks, 0.1)
    assert shown.vertices == ((130.0, 115.0, 0.0), (220.0, 115.0, 0.0))
    assert shown.owner == "a"
