"""Walls of a bar that is pressed along, at 0.99 and 1.01 of the slenderness from which they buckle first."""

import math
from dataclasses import replace

import pytest

from rampdraft.model.catalogue import materials
from rampdraft.model.section import Section, parse_section
from rampdraft.strength.resistance import slender_walls

KNOWN = {material.name: material for material in materials()}
STEEL, ALUMINIUM = KNOWN["steel S235"], KNOWN["aluminium 6063-T6"]


def box(slender: float, *, upright: bool) -> Section:
    """Return a box with walls of 2 mm, its wider wall of c / t as given, c = b - 3 t."""
    wide = 2 * (slender + 3)
    depth, width = (wide, 20.0) if upright else (20.0, wide)
    return Section(kind="box", depth_mm=depth, width_mm=width, wall_mm=2)


@pytest.mark.parametrize("upright", [False, True])
@pytest.mark.parametrize("strength", [235.0, 355.0])
def test_the_wider_wall_of_a_steel_box(strength: float, upright: bool):
    # EN 1993-1-1, table 5.2, sheet 1: 42 epsilon
    steel = replace(STEEL, yield_mpa=strength)
    limit = 42 * math.sqrt(235 / strength)
    assert [slender_walls(box(by * limit, upright=upright), steel) for by in (0.99, 1.01)] == [False, True]


@pytest.mark.parametrize("upright", [False, True])
def test_the_wider_wall_of_an_aluminium_box(upright: bool):
    # EN 1999-1-1, table 6.2, internal parts with welds (from memory): 18 epsilon, epsilon = sqrt(250 / 160)
    limit = 18 * 1.25
    assert [slender_walls(box(by * limit, upright=upright), ALUMINIUM) for by in (0.99, 1.01)] == [
        False,
        True,
    ]


@pytest.mark.parametrize("strength", [235.0, 355.0])
def test_a_steel_tube(strength: float):
    # EN 1993-1-1, table 5.2, sheet 3: 90 epsilon squared
    limit = 90 * 235 / strength
    tubes = [Section(kind="tube", depth_mm=by * limit, width_mm=by * limit, wall_mm=1) for by in (0.99, 1.01)]
    assert [slender_walls(tube, replace(STEEL, yield_mpa=strength)) for tube in tubes] == [False, True]


def test_a_solid_bar_has_no_walls():
    assert not slender_walls(parse_section("flat 300x5"), STEEL)
