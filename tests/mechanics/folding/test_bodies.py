"""Outlines in the convex parts that clearance is measured between: they fill it, once, and no more."""

import math

import pytest
import shapely

from rampdraft.geometry.outline import Outline, disc
from rampdraft.mechanics.folding.bodies import convex_parts

ANGLE = ((0, 0), (10, 0), (10, 2), (2, 2), (2, 9), (0, 9))
CHANNEL = ((0, 0), (10, 0), (10, 2), (2, 2), (2, 8), (10, 8), (10, 10), (0, 10))
COMB = ((0, 0), (3, 0), (3, 15), (0, 15), (0, 13), (2, 12), (1, 9), (1, 8), (2, 5), (0, 3))
ARROW = ((0, 0), (10, 4), (0, 8), (4, 4))
TURNED_ARROW = ((10, 0), (6, 4), (10, 8), (0, 4))


@pytest.mark.parametrize("corners", [ANGLE, CHANNEL, COMB, ARROW, TURNED_ARROW])
def test_the_parts_fill_a_hollow_outline_and_do_not_overlap(corners):
    whole = shapely.Polygon(corners)
    parts = convex_parts(Outline(tuple((x, z, 0.0) for x, z in corners)))
    shapes = [shapely.Polygon(part) for part, radius in parts if radius == 0.0]
    assert len(shapes) == len(parts)
    assert all(shape.area == pytest.approx(shape.convex_hull.area) for shape in shapes)
    assert sum(shape.area for shape in shapes) == pytest.approx(whole.area)
    assert shapely.symmetric_difference(shapely.union_all(shapes), whole).area == pytest.approx(0, abs=1e-6)


def test_a_convex_quadrilateral_is_one_part():
    corners = ((0, 0), (10, 1), (9, 5), (-1, 4))
    assert convex_parts(Outline(tuple((x, z, 0.0) for x, z in corners))) == ((corners, 0.0),)


def test_a_quadrilateral_with_a_round_side_is_more_than_its_corners():
    half = Outline(((0, 0, 0.0), (10, 0, 1.0), (10, 4, 0.0), (0, 4, 0.0)))
    shapes = [shapely.Polygon(part) for part, _ in convex_parts(half)]
    assert sum(shape.area for shape in shapes) == pytest.approx(40 + math.pi * 2**2 / 2, rel=0.01)


def test_a_disc_is_its_centre_grown():
    assert convex_parts(disc(3.0, -2.0, 14.0)) == ((((3.0, -2.0),), 7.0),)
