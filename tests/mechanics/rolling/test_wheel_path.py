"""The way of a wheel's centre, against shapely's buffer, and against a disc tried by brute force."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely
from hypothesis import example, given, settings
from hypothesis import strategies as st
from tries import first, tries

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.rolling.wheel_path import WheelPath, wheel_path, wheel_paths
from rampdraft.units import Array

SAMPLES = {path.stem: path for path in sample_paths()}


def by_buffer(outline: Array, radius: float, x: Array) -> Array:
    """Return the height of the upper edge of shapely's buffer at each x.

    Of the parts one by one: of a whole line it leaves out hollow corners by up to 1 % of the distance.
    """
    buffer = shapely.union_all(
        shapely.buffer(shapely.linestrings(list(pairwise(outline))), radius, quad_segs=128)
    )
    upright = shapely.linestrings([[(at, -2e4), (at, 2e4)] for at in x])
    return shapely.bounds(shapely.intersection(buffer, upright))[:, 3]


def by_disc(outline: Array, radius: float, at: float) -> float:
    """Return how high a disc at x = `at` is held by points close together on the outline."""
    best = -math.inf
    for (x0, z0), (x1, z1) in pairwise(outline):
        share = np.linspace(0, 1, 400)
        x, z = x0 + share * (x1 - x0), z0 + share * (z1 - z0)
        near = np.abs(x - at) <= radius
        if near.any():
            best = max(best, float((z[near] + np.sqrt(radius**2 - (x[near] - at) ** 2)).max()))
    return best


@pytest.mark.parametrize("name", first(1, list(SAMPLES)))
def test_it_is_the_edge_of_the_buffer(name: str) -> None:
    evaluation = evaluate(load_design(SAMPLES[name]), SAMPLES[name].parent)
    pose = next(pose for pose in evaluation.sites if pose.reaches)
    surfaces = Surfaces(evaluation.design, evaluation.assembly, pose)
    for y in (0.0, -263.0):
        outline = surfaces.under(y).points_mm
        x = np.arange(-300.0, surfaces.tip_mm + 400.0, 7.0)
        for radius in (30.0, 63.5, 100.0, 305.0):
            found = wheel_path(outline, radius).height_mm(x)
            assert np.abs(found - by_buffer(outline, radius, x)).max() < 0.01


@st.composite
def outlines(draw: st.DrawFn) -> Array:
    """Return outlines with steps, pits and slopes either way, as coarse as a ramp's and coarser."""
    steps = draw(
        st.lists(
            st.tuples(st.sampled_from([0.0, 0.0, 1.0, 11.0, 40.0, 200.0]), st.integers(-120, 120)),
            min_size=1,
            max_size=14,
        )
    )
    points = [(-500.0, 0.0), (0.0, 0.0)]
    for going, rise in steps:
        x, z = points[-1]
        points.append((x + going, z + float(rise)))
    points.append((points[-1][0] + 500.0, points[-1][1]))
    found = np.array(points)
    return found[np.append(True, (np.diff(found, axis=0) != 0).any(axis=1))]


FACE: Array = np.array([(-500.0, 0.0), (1082.0, 0.0), (1082.0, -11.0), (1582.0, -11.0)])
"""A face higher than the smallest wheel's radius: its way jumps where a place is looked at."""


@settings(max_examples=tries(60), deadline=None)
@example(FACE, 10.0)
@given(outlines(), st.sampled_from([10.0, 63.5, 100.0, 305.0]))
def test_no_disc_is_held_higher_and_none_lies_below(outline: Array, radius: float) -> None:
    path = wheel_path(outline, radius)
    assert (np.diff(path.breaks_mm) > 0).all()
    for at in np.linspace(-200.0, outline[-1, 0] - 300.0, 40).tolist():
        if np.abs(path.breaks_mm - at).min(initial=np.inf) < 1e-6:
            continue  # where its way jumps, either height is right
        held = by_disc(outline, radius, at)
        found = float(path.height_mm(np.array([at]))[0])
        assert found >= held - 1e-6
        # A point close by may hold it a little higher than the nearest one tried.
        beside = max(by_disc(outline, radius, at + off) for off in (-0.6, 0.6))
        assert found <= max(held, beside) + 0.6


@settings(max_examples=tries(40), deadline=None)
@given(outlines(), st.sampled_from([10.0, 63.5, 305.0]))
def test_its_contact_is_a_radius_away_and_on_the_outline(outline: Array, radius: float) -> None:
    path, line = wheel_path(outline, radius), shapely.LineString(outline)
    x = np.linspace(-200.0, outline[-1, 0] - 300.0, 60)
    at_x, at_z = path.contact_mm(x)
    assert np.hypot(at_x - x, at_z - path.height_mm(x)) == pytest.approx(radius, abs=1e-5)
    assert shapely.distance(shapely.points(at_x, at_z), line).max() < 1e-6


@settings(max_examples=tries(40), deadline=None)
@given(outlines(), st.sampled_from([10.0, 63.5, 305.0]))
def test_a_mirror_changes_nothing_and_a_scale_only_the_size(outline: Array, radius: float) -> None:
    path = wheel_path(outline, radius)
    x = np.linspace(-200.0, outline[-1, 0] - 300.0, 101)
    seen = wheel_path((outline * (-1.0, 1.0))[::-1], radius)
    off_breaks = np.abs(x[:, None] - path.breaks_mm).min(axis=1, initial=np.inf) > 1e-6
    x = x[off_breaks]
    assert seen.height_mm(-x) == pytest.approx(path.height_mm(x), abs=1e-6)
    assert path.mirrored(len(outline)).height_mm(-x) == pytest.approx(path.height_mm(x), abs=1e-9)
    at_x, _ = path.mirrored(len(outline)).contact_mm(-x)
    assert -at_x == pytest.approx(path.contact_mm(x)[0], abs=1e-9)
    larger = wheel_path(2 * outline, 2 * radius)
    assert larger.height_mm(2 * x) == pytest.approx(2 * path.height_mm(x), abs=1e-6)


def test_the_slope_is_that_of_the_way() -> None:
    path = wheel_path(np.array([(-500, 0), (0, 0), (0, 20), (300, 60), (300, 40), (900, 40.0)]), 100.0)
    x = np.linspace(-200, 700, 3001)
    off = np.abs(x[:, None] - path.breaks_mm).min(axis=1) > 1e-3
    rise = (path.height_mm(x + 1e-4) - path.height_mm(x - 1e-4)) / 2e-4
    assert path.at(x)[1][off] == pytest.approx(rise[off], abs=1e-4)


def test_many_at_once_are_as_each_alone() -> None:
    one = np.array([(-500, 0), (0, 0), (0, 20), (300, 60), (300, 40), (900, 40.0)])
    two = np.array([(-500, 0), (0, -30), (5, -200), (20, -200), (20, 10), (900, 0.0)])
    rolled = [(one, 100.0), (two, 100.0), (one, 12.0), (two, 305.0)]
    for found, (outline, radius) in zip(wheel_paths(rolled), rolled, strict=True):
        alone: WheelPath = wheel_path(outline, radius)
        assert found.goes_as(alone)
        assert found.radius_mm == radius
        assert (found.point == alone.point).all()


def test_a_face_higher_than_the_radius_stops_the_centre_beside_it() -> None:
    path = wheel_path(np.array([(-500, 0), (0, 0), (0, 80), (500, 80.0)]), 50.0)
    before, beyond = path.height_mm(np.array([-50.001, -49.999]))
    assert before == pytest.approx(50.0)
    assert beyond == pytest.approx(80.0, abs=0.5)
