"""Outlines of lines and arcs against shapely: area, centroid, points; rails against a bar with discs and
notches cut out.
"""

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from tries import tries

from rampdraft.geometry.members.leaves import SQUARE, Notch, cope, rail_outline
from rampdraft.geometry.members.member import EndCut
from rampdraft.geometry.outline import Outline, arc_of, bulge_of, disc, rectangle

FINE_MM = 1e-4


def polygon(outline: Outline, sagitta_mm: float = FINE_MM) -> shapely.Polygon:
    return shapely.Polygon(outline.points(sagitta_mm))


def round_bar(x: float, y: float, radius: float) -> shapely.Polygon:
    return shapely.Point(x, y).buffer(radius, quad_segs=400)


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 10), round(high * 10)).map(lambda value: value / 10)


def assert_same(outline: Outline, expected: shapely.Polygon) -> None:
    """The outline covers what is expected, to the chords of its arcs, and its exact area and centroid are
    theirs.
    """
    drawn = polygon(outline)
    assert drawn.is_valid
    assert drawn.exterior.is_ccw
    slack = 2e-3 * max(1.0, drawn.length) * 0.1
    assert drawn.symmetric_difference(expected).area < slack
    area, (x, y) = outline.area_and_centroid()
    assert area == pytest.approx(expected.area, abs=slack)
    assert math.dist((x, y), expected.centroid.coords[0]) < 1e-3 * max(1.0, math.sqrt(area)) * 0.1
    assert outline.box == pytest.approx(expected.bounds, abs=0.02)


def cuts(depth: float) -> st.SearchStrategy[EndCut]:
    copes = st.builds(cope, tenths(4, 60), tenths(-90, 60), st.just(depth))
    tapers = st.builds(
        lambda length, share: EndCut(kind="taper", height_mm=depth * share, length_mm=length),
        tenths(10, 190),
        st.floats(0.05, 0.9),
    )
    return st.one_of(st.just(SQUARE), copes, tapers)


@st.composite
def rails(draw):
    depth = draw(st.sampled_from((20.0, 40.0, 55.5)))
    length = draw(tenths(500, 2000))
    notches = tuple(
        Notch(centre_mm=length * share, width_mm=width, depth_mm=depth * deep)
        for share, width, deep in zip(
            (0.45, 0.6),
            draw(st.tuples(tenths(5, 40), tenths(5, 40))),
            draw(st.tuples(st.floats(0.1, 0.8), st.floats(0.1, 0.8))),
            strict=True,
        )
    )[: draw(st.integers(0, 2))]
    return depth, length, draw(cuts(depth)), draw(cuts(depth)), notches


def bar(depth, length, start, end, notches) -> shapely.Polygon:
    """Return what a saw, a hole saw and a file leave of a bar."""
    left = shapely.box(0, -depth, length, 0)
    for at, inward, cut in ((0, 1, start), (length, -1, end)):
        if cut.kind == "cope":
            left = left.difference(round_bar(at, cut.height_mm, cut.radius_mm))
        elif cut.kind == "taper":
            below = [
                (at, -cut.height_mm),
                (at, -depth - 1),
                (at + inward * cut.length_mm, -depth - 1),
                (at + inward * cut.length_mm, -depth),
            ]
            left = left.difference(shapely.Polygon(below))
    for notch in notches:
        half = notch.width_mm / 2
        left = left.difference(
            shapely.box(notch.centre_mm - half, -depth, notch.centre_mm + half, notch.depth_mm - depth)
        )
    return left


@given(rail=rails())
@settings(max_examples=tries(100))
def test_a_rail_is_a_bar_with_discs_tapers_and_notches_cut_out(rail):
    depth, length, start, end, notches = rail
    expected = bar(*rail)
    assume(expected.geom_type == "Polygon")
    assert_same(
        rail_outline(length_mm=length, depth_mm=depth, start=start, end=end, notches=notches), expected
    )


@given(x=tenths(-500, 500), y=tenths(-500, 500), diameter=tenths(1, 300))
def test_a_disc_is_a_circle(x, y, diameter):
    outline = disc(x, y, diameter)
    area, centroid = outline.area_and_centroid()
    assert area == pytest.approx(math.pi * diameter**2 / 4)
    assert centroid == pytest.approx((x, y), abs=1e-9)
    assert_same(outline, round_bar(x, y, diameter / 2))


@given(angle=st.integers(1, 359), radius=tenths(1, 200), start=st.integers(0, 359), inward=st.booleans())
@settings(max_examples=tries(60))
def test_a_segment_of_any_angle_more_than_half_a_circle_too(angle, radius, start, inward):
    """A chord with its arc: area r^2 (a - sin a) / 2, centroid 4 r sin^3(a / 2) / (3 (a - sin a)) from the
    centre.
    """
    sweep, turn = math.radians(angle), math.radians(start)
    a, b = ((radius * math.cos(t), radius * math.sin(t)) for t in (turn, turn + sweep))
    outline = Outline(((*a, math.tan(sweep / 4)), (*b, 0.0)))
    area, (x, y) = outline.area_and_centroid()
    assert area == pytest.approx(radius**2 * (sweep - math.sin(sweep)) / 2, rel=1e-6, abs=1e-9)
    if area > 1e-3:
        reach = 4 * radius * math.sin(sweep / 2) ** 3 / (3 * (sweep - math.sin(sweep)))
        middle = turn + sweep / 2
        assert (x, y) == pytest.approx(
            (reach * math.cos(middle), reach * math.sin(middle)), abs=1e-6 * radius
        )
    bite = Outline(((*b, -math.tan(sweep / 4)), (*a, 0.0))) if inward else outline
    assert bite.area_and_centroid()[0] == pytest.approx(-area if inward else area)


@given(angle=st.integers(1, 359), radius=tenths(1, 200), start=st.integers(0, 359), clockwise=st.booleans())
def test_bulge_and_arc_are_two_ways_to_say_the_same(angle, radius, start, clockwise):
    turn, sweep = math.radians(start), math.radians(angle) * (-1 if clockwise else 1)
    a, b = ((7 + radius * math.cos(t), 3 + radius * math.sin(t)) for t in (turn, turn + sweep))
    bulge = bulge_of(a, b, (7, 3), clockwise)
    assert bulge == pytest.approx(math.tan(sweep / 4))
    centre, found, at, swept = arc_of(a, b, bulge)
    assert centre == pytest.approx((7, 3), abs=1e-6 * max(1, radius))
    assert found == pytest.approx(radius, rel=1e-6)
    assert swept == pytest.approx(sweep)
    assert math.cos(at - turn) == pytest.approx(1)


@given(rail=rails(), sagitta=st.sampled_from((0.5, 0.02, 0.001)))
@settings(max_examples=tries(25))
def test_points_stay_within_the_sagitta_of_the_arcs(rail, sagitta):
    depth, length, start, end, notches = rail
    outline = rail_outline(length_mm=length, depth_mm=depth, start=start, end=end, notches=notches)
    fine = shapely.LinearRing(outline.points(1e-5))
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in pairwise(outline.points(sagitta))]
    assert max(fine.distance(shapely.points(middles))) <= sagitta + 2e-5


@pytest.mark.parametrize(
    ("height", "radius", "depth"), [(20, 20, 40), (60, 20, 40), (-60, 20, 40), (-90, 20, 40)]
)
def test_a_hole_saw_that_misses_leaves_the_end_square(height, radius, depth):
    assert cope(radius, height, depth) == SQUARE


def test_a_rectangle_is_counter_clockwise():
    area, centroid = rectangle(1, 2, 5, 9).area_and_centroid()
    assert area == 28
    assert centroid == pytest.approx((3, 5.5))
