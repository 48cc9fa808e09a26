"""Signed separation of grown convex polygons against shapely, and the depth of an overlap against all
directions tried.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, example, given, settings
from hypothesis import strategies as st
from tries import tries

from rampdraft.geometry.outline import Outline
from rampdraft.mechanics.folding.bodies import convex_parts
from rampdraft.mechanics.folding.separation import separations

NUMBERS = st.integers(-1200, 1200).map(lambda tenths: tenths / 10)
DIRECTIONS = np.stack((np.cos(ways := np.linspace(0, 2 * math.pi, 7201)[:-1]), np.sin(ways)), axis=1)


@st.composite
def bodies(draw):
    """Corners (four, the last one repeated where there are fewer) of a convex polygon, and its radius."""
    kind = draw(st.sampled_from(("quad", "disc", "triangle")))
    x, y = draw(NUMBERS), draw(NUMBERS)
    if kind == "disc":
        return np.array([[x, y]] * 4), draw(st.integers(1, 900)) / 10
    count = 4 if kind == "quad" else 3
    angles = sorted(draw(st.lists(st.integers(0, 359), min_size=count, max_size=count, unique=True)))
    size = draw(st.integers(5, 2500)) / 10
    corners = [[x + size * math.cos(math.radians(a)), y + size * math.sin(math.radians(a))] for a in angles]
    return np.array(corners + [corners[-1]] * (4 - count)), draw(st.sampled_from((0.0, 0.0, 3.5)))


def measured(a, b):
    (corners_a, radius_a), (corners_b, radius_b) = a, b
    found = separations(
        corners_a.T[..., None], np.array([radius_a]), corners_b.T[..., None], np.array([radius_b])
    )
    return float(found.distance_mm[0]), found.direction[:, 0]


def core(corners):
    return shapely.MultiPoint(corners).convex_hull


def overlap(first, second):
    """Return the area two shapes share, in mm2, by shapely on a grid of 1e-9 mm: without one it takes two
    triangles whose common side is off by rounding for the same triangle, one way round and not the other.
    """
    return shapely.intersection(first, second, grid_size=1e-9).area


def along(a, b, directions):
    """Return min n.b - max n.a less both radii, for each direction n."""
    reach_a, reach_b = directions @ a[0].T, directions @ b[0].T
    return reach_b.min(axis=1) - reach_a.max(axis=1) - a[1] - b[1]


@given(a=bodies(), b=bodies())
@settings(max_examples=tries(160))
def test_apart_it_is_the_distance_of_shapely(a, b):
    distance = core(a[0]).distance(core(b[0]))
    assume(distance > 1e-6)  # the cores lie apart; their radii may still meet
    assert measured(a, b)[0] == pytest.approx(distance - a[1] - b[1], abs=1e-9)


@given(a=bodies(), b=bodies())
@settings(max_examples=tries(160))
def test_it_is_the_greatest_over_all_directions(a, b):
    """Apart or overlapping; with directions every 0.05 degrees the best one tried falls short by at most
    reach x angle.
    """
    distance, direction = measured(a, b)
    tried = along(a, b, DIRECTIONS).max()
    short = 2000 * math.radians(0.05)
    assert distance >= tried - 1e-9
    assert distance <= tried + short
    assert np.hypot(*direction) == pytest.approx(1)
    assert along(a, b, direction[None])[0] == pytest.approx(distance, abs=1e-9)


@given(a=bodies(), b=bodies(), by=st.floats(0.01, 1))
@settings(max_examples=tries(120), suppress_health_check=[HealthCheck.filter_too_much])
def test_pushed_apart_by_its_depth_they_just_touch(a, b, by):
    distance, direction = measured(a, b)
    assume(distance < -1e-3)
    moved = b[0] - direction * distance
    assert measured(a, (moved, b[1]))[0] == pytest.approx(0, abs=1e-6)
    pushed = measured(a, (moved + direction * by, b[1]))[0]
    assert pushed == pytest.approx(by, abs=1e-6)


@given(a=bodies(), b=bodies())
@settings(max_examples=tries(40))
def test_it_does_not_matter_which_is_first(a, b):
    assert measured(a, b)[0] == pytest.approx(measured(b, a)[0], abs=1e-9)


# Sides that rounding leaves
# --------------------------------------------------------------------------------------------------


def parts_of(*corners):
    """Return an obstacle's outline cut into parts, each padded to four corners."""
    outline = Outline(tuple((x, z, 0.0) for x, z in corners))
    return [np.array((*part, *(part[-1:] * (4 - len(part))))) for part, _ in convex_parts(outline)]


SLIVERS = st.sampled_from((1e-13, 1e-11, 1e-9, 1e-7, 1e-5, 1e-3))


@st.composite
def wedges(draw):
    """The corners of a triangle in tenths, some as thin as rounding allows."""
    (x0, y0), (x1, y1) = ((draw(NUMBERS), draw(NUMBERS)) for _ in range(2))
    assume(math.hypot(x1 - x0, y1 - y0) > 1)
    if draw(st.booleans()):
        return (x0, y0), (x1, y1), (draw(NUMBERS), draw(NUMBERS))
    off = draw(SLIVERS) * draw(st.sampled_from((-1, 1)))
    return (x0, y0), (x1, y1), (x1 - off * (y1 - y0), y1 + off * (x1 - x0))


@st.composite
def slivered(draw):
    """A quadrilateral with two corners next to each other, or with long sides that are nearly parallel."""
    width, lean, end = draw(st.integers(1, 1200)) / 10, draw(SLIVERS), draw(SLIVERS)
    height = draw(st.one_of(SLIVERS, st.integers(1, 300).map(lambda tenths: tenths / 10)))
    far = lean + end + height * draw(st.booleans())
    corners = np.array([[0.0, 0.0], [width, lean], [width, far], [0.0, height]])
    turn = math.radians(draw(st.integers(0, 359)))
    cos, sin = math.cos(turn), math.sin(turn)
    return corners @ np.array([[cos, sin], [-sin, cos]]) + np.array([draw(NUMBERS), draw(NUMBERS)])


def assert_as_shapely(a, b):
    """Convex cores without radii: overlapping, apart by what shapely says, and never more than along the way
    told.
    """
    first, second = core(a), core(b)
    distance, direction = measured((a, 0.0), (b, 0.0))
    # Apart, the way is that between two points: turned by root eps it is no longer to sixteen figures.
    rough = 1e-5 if distance > 0 else 1e-9
    assert along((a, 0.0), (b, 0.0), direction[None])[0] >= distance - rough
    if overlap(first, second) > 1e-6:
        assert distance < 0
    elif (apart := first.distance(second)) > 1e-6:
        assert distance == pytest.approx(apart, abs=1e-9)
    assert distance >= along((a, 0.0), (b, 0.0), DIRECTIONS).max() - 1e-9


@example(corners=((-0.2, 1.1), (0.0, 0.0), (0.0, -0.1)), other=((-0.2, 1.1), (0.0, -0.1), (0.0, -0.2)))
@given(corners=wedges(), other=st.one_of(wedges(), slivered()))
@settings(max_examples=tries(240))
def test_a_wedge_in_parts_by_shapely(corners, other):
    if isinstance(other, tuple):
        ring = shapely.geometry.polygon.orient(shapely.Polygon(other)).exterior.coords
        other = np.array(ring)
    parts = parts_of(*corners)
    for part in parts:
        assert_as_shapely(part, other)
        assert_as_shapely(other, part)
    whole = shapely.Polygon(corners)
    if overlap(whole, core(other)) > 1e-6:
        assert min(measured((part, 0.0), (other, 0.0))[0] for part in parts) < 0


@given(a=slivered(), b=slivered())
@settings(max_examples=tries(240))
def test_slivers_and_nearly_parallel_sides_by_shapely(a, b):
    assert_as_shapely(a, b)


def test_a_side_that_rounding_left_separates_nothing():
    """The right half of the wedge (47.2, 224.5), (166.5, 195.7), (67.8, 377.4) as it was once cut: its point
    is two corners 4e-14 mm apart.
    """
    point = (166.5, 195.7), (166.5, 195.69999999999996)
    half = np.array([(67.8, 219.52699077954736), *point, (67.8, 377.4)])
    bar = np.array([[60.0, 200.0], [160.0, 200.0], [160.0, 260.0], [60.0, 260.0]])
    assert overlap(core(half), core(bar)) > 3900
    # Out of each other the shortest way: down along the normal of the half's lower side.
    down = np.array([half[1, 1] - half[0, 1], half[0, 0] - half[1, 0]]) / math.dist(half[0], half[1])
    depth = (bar @ down).min() - (half @ down).max()
    for turn in np.radians(np.arange(0, 360, 7)):
        cos, sin = math.cos(turn), math.sin(turn)
        turned = [corners @ np.array([[cos, sin], [-sin, cos]]) for corners in (half, bar)]
        assert_as_shapely(*turned)
        assert measured((turned[0], 0.0), (turned[1], 0.0))[0] == pytest.approx(depth, abs=1e-9)


@pytest.mark.parametrize("end", [1e-13, 1e-11, 1e-9, 1e-6, 1e-3])
@pytest.mark.parametrize("lean", [-1.0, -0.3, 0.2, 0.9])
def test_a_pointed_end_however_its_last_side_leans(end, lean):
    """The point stands 5 mm deep in the bar, its last side as short as `end` and turned any way."""
    point = np.array([[0.0, 10.0], [100.0, 0.0], [100.0 + lean * end, end], [0.0, 12.0]])
    bar = np.array([[95.0, -30.0], [140.0, -30.0], [140.0, 30.0], [95.0, 30.0]])
    assert measured((point, 0.0), (bar, 0.0))[0] == pytest.approx(-5, abs=2 * end + 1e-9)
    assert measured((bar, 0.0), (point, 0.0))[0] == pytest.approx(-5, abs=2 * end + 1e-9)


@pytest.mark.parametrize("lean", [9e-7, 3e-8, 6e-9])
@pytest.mark.parametrize("x", [0.1234567894999, 0.1234567885001, 700.1234567894])
def test_parts_cover_a_nearly_upright_side(x, lean):
    """Upright lines are drawn through rounded places: a steep side must not be carried on beyond its ends."""
    corners = ((x, 0.0), (x + lean, 1000.0), (x - 50.0, 300.0))
    parts = parts_of(*corners)
    whole = shapely.Polygon(corners)
    for corner in corners:
        assert min(core(part).distance(shapely.Point(corner)) for part in parts) < 1e-8
    assert max(shapely.Point(corner).distance(whole) for part in parts for corner in part) < 1e-8


def test_many_pairs_at_once_are_the_pairs_one_by_one():
    rng = np.random.default_rng(7)
    box = np.array([[0.0, 0.0], [60.0, 0.0], [60.0, 20.0], [0.0, 20.0]])
    a = box + rng.uniform(-50, 50, (200, 1, 2))
    b = np.where(rng.random((200, 1, 1)) < 0.5, box[:1], box) + rng.uniform(-90, 90, (200, 1, 2))
    radius_a, radius_b = rng.choice([0.0, 5.0], 200), rng.choice([0.0, 15.0], 200)
    found = separations(a.T, radius_a, b.T, radius_b)
    for k in range(200):
        assert found.distance_mm[k] == measured((a[k], radius_a[k]), (b[k], radius_b[k]))[0]
    assert (found.distance_mm < 0).any()
    assert (found.distance_mm > 0).any()


@pytest.mark.parametrize(
    ("shift", "expected"), [(0, -10), (4, -10), (60, -10), (69, -1), (70, 0), (70.5, 0.5), (80, 10)]
)
def test_a_square_drawn_out_of_a_bar(shift, expected):
    bar = np.array([[-60.0, -5.0], [60.0, -5.0], [60.0, 5.0], [-60.0, 5.0]])
    square = np.array([[-10.0, -5.0], [10.0, -5.0], [10.0, 5.0], [-10.0, 5.0]]) + np.array([shift, 0])
    assert measured((bar, 0.0), (square, 0.0))[0] == pytest.approx(expected)


def test_two_discs_on_one_centre():
    centre = np.zeros((4, 2))
    distance, direction = measured((centre, 15.0), (centre, 4.0))
    assert distance == -19
    assert np.hypot(*direction) == 1
