"""Signed separation of grown convex polygons against shapely, and the depth of an overlap against all
directions tried.
"""

import math

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

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
    found = separations(corners_a[None], np.array([radius_a]), corners_b[None], np.array([radius_b]))
    return float(found.distance_mm[0]), found.direction[0]


def core(corners):
    return shapely.MultiPoint(corners).convex_hull


def along(a, b, directions):
    """Return min n.b - max n.a less both radii, for each direction n."""
    reach_a, reach_b = directions @ a[0].T, directions @ b[0].T
    return reach_b.min(axis=1) - reach_a.max(axis=1) - a[1] - b[1]


@given(a=bodies(), b=bodies())
@settings(max_examples=400)
def test_apart_it_is_the_distance_of_shapely(a, b):
    distance = core(a[0]).distance(core(b[0]))
    assume(distance > 1e-6)  # the cores lie apart; their radii may still meet
    assert measured(a, b)[0] == pytest.approx(distance - a[1] - b[1], abs=1e-9)


@given(a=bodies(), b=bodies())
@settings(max_examples=400)
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
@settings(max_examples=300, suppress_health_check=[HealthCheck.filter_too_much])
def test_pushed_apart_by_its_depth_they_just_touch(a, b, by):
    distance, direction = measured(a, b)
    assume(distance < -1e-3)
    moved = b[0] - direction * distance
    assert measured(a, (moved, b[1]))[0] == pytest.approx(0, abs=1e-6)
    pushed = measured(a, (moved + direction * by, b[1]))[0]
    assert pushed == pytest.approx(by, abs=1e-6)


@given(a=bodies(), b=bodies())
@settings(max_examples=100)
def test_it_does_not_matter_which_is_first(a, b):
    assert measured(a, b)[0] == pytest.approx(measured(b, a)[0], abs=1e-9)


def test_many_pairs_at_once_are_the_pairs_one_by_one():
    rng = np.random.default_rng(7)
    box = np.array([[0.0, 0.0], [60.0, 0.0], [60.0, 20.0], [0.0, 20.0]])
    a = box + rng.uniform(-50, 50, (200, 1, 2))
    b = np.where(rng.random((200, 1, 1)) < 0.5, box[:1], box) + rng.uniform(-90, 90, (200, 1, 2))
    radius_a, radius_b = rng.choice([0.0, 5.0], 200), rng.choice([0.0, 15.0], 200)
    found = separations(a, radius_a, b, radius_b)
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
