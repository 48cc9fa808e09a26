"""Metal parts: strengths by basis, bending with shear, slenderness of walls, columns."""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.sections import properties
from rampdraft.model.catalogue import materials
from rampdraft.model.design import Material
from rampdraft.model.section import Section, parse_section
from rampdraft.strength.resistance import (
    bending_with_shear,
    column_resistance_n,
    metal_strength_mpa,
    shear_area_mm2,
    wall_class,
)
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, YIELD, Basis

KNOWN = {material.name: material for material in materials()}
STEEL, ALUMINIUM, PLYWOOD = KNOWN["steel S235"], KNOWN["aluminium 6063-T6"], KNOWN["birch plywood"]
MODULUS_MM3, SHEAR_AREA_MM2 = 4660.0, 210.0


@pytest.mark.parametrize(
    ("material", "basis", "welded", "strength"),
    [
        (STEEL, LIMIT_STATES, True, 235),
        (STEEL, YIELD, True, 235),
        (STEEL, ULTIMATE, True, 360),
        (ALUMINIUM, LIMIT_STATES, False, 160 / 1.1),
        (ALUMINIUM, LIMIT_STATES, True, 65 / 1.1),
        (ALUMINIUM, YIELD, True, 65),
        (ALUMINIUM, ULTIMATE, False, 195),
        (ALUMINIUM, ULTIMATE, True, 110),
    ],
)
def test_strength_of_each_basis(material: Material, basis: Basis, welded: bool, strength: float):
    assert metal_strength_mpa(material, basis, welded=welded) == pytest.approx(strength)


@pytest.mark.parametrize(
    ("material", "basis", "welded", "words"),
    [
        (replace(STEEL, yield_mpa=0), LIMIT_STATES, True, "'steel S235' has no yield strength given: add it"),
        (replace(STEEL, ultimate_mpa=0), ULTIMATE, True, "has no ultimate strength given"),
        (
            replace(ALUMINIUM, welded_yield_mpa=0),
            YIELD,
            True,
            "has no yield strength in the welded zone given",
        ),
        (PLYWOOD, LIMIT_STATES, False, "'birch plywood' has no yield strength given"),
    ],
)
def test_a_strength_that_is_not_known_is_said(material: Material, basis: Basis, welded: bool, words: str):
    with pytest.raises(StrengthUnknownError, match=words):
        metal_strength_mpa(material, basis, welded=welded)


def used(moment_nmm: float, shear_n: float) -> float:
    found = bending_with_shear(
        np.array(moment_nmm), np.array(shear_n), np.array(MODULUS_MM3), np.array(SHEAR_AREA_MM2), 235
    )
    return float(found)


PLASTIC_SHEAR_N = SHEAR_AREA_MM2 * 235 / math.sqrt(3)


@pytest.mark.parametrize("shear", [0.0, 0.3, 0.5, 0.6, 0.8, 0.95])
@pytest.mark.parametrize("load", [0.99, 1.0, 1.01])
def test_bending_with_shear_at_the_limit_of_the_clause(shear: float, load: float):
    # EN 1993-1-1, 6.2.8: no loss up to half the shear strength, then f (1 - rho), rho = (2 V / Vpl - 1)^2.
    rho = (2 * shear - 1) ** 2 if shear > 0.5 else 0.0
    moment = MODULUS_MM3 * 235 * (1 - rho)
    assert used(load * moment, load * shear * PLASTIC_SHEAR_N) == pytest.approx(load)


@pytest.mark.parametrize("load", [0.99, 1.0, 1.01])
def test_shear_alone(load: float):
    assert used(0.0, load * PLASTIC_SHEAR_N) == pytest.approx(load)


def test_nothing_on_it_uses_nothing():
    assert used(0.0, 0.0) == 0.0


@given(st.floats(0, 3e6), st.floats(0, 1e5), st.floats(0.01, 100))
def test_what_is_used_grows_as_the_load_and_is_no_less_than_bending_or_shear_alone(
    moment: float, shear: float, load: float
):
    one = used(moment, shear)
    assert used(load * moment, load * shear) == pytest.approx(load * one, rel=1e-9, abs=1e-12)
    # The squares of what is next to nothing are 0.
    assert one >= max(moment / (MODULUS_MM3 * 235), shear / PLASTIC_SHEAR_N) * (1 - 1e-12) - 1e-12


def test_arrays_broadcast():
    found = bending_with_shear(
        np.ones((2, 3, 4)), np.zeros((2, 3, 4)), np.full(4, 10.0), np.full(4, 5.0), 2.0
    )
    assert found == pytest.approx(np.full((2, 3, 4), 0.05))


@pytest.mark.parametrize(
    ("text", "greatest"),
    [
        # V Q / (I b) at the middle: the greatest shear stress of a solid bar, by any handbook.
        ("flat 30x10", (10 * 30**2 / 8) / (10 * 30**3 / 12 * 10)),
        ("round 20", (2 / 3 * 10**3) / (math.pi / 4 * 10**4 * 20)),
    ],
)
def test_shear_area_of_a_solid_bar_is_elastic(text: str, greatest: float):
    assert 1 / shear_area_mm2(parse_section(text)) == pytest.approx(greatest)


def test_shear_area_of_hollow_sections():
    # EN 1993-1-1, 6.2.6(3) f and g
    assert shear_area_mm2(parse_section("box 60x40x3")) == pytest.approx(
        properties(parse_section("box 60x40x3")).area_mm2 * 0.6
    )
    assert shear_area_mm2(parse_section("tube 30x3")) == pytest.approx(
        2 / math.pi * math.pi * (15**2 - 12**2)
    )


def box(top: float, side: float, corners: float) -> Section:
    """Return a box with walls 2 mm thick of these c / t."""
    return Section(kind="box", depth_mm=2 * (side + corners), width_mm=2 * (top + corners), wall_mm=2)


@pytest.mark.parametrize("yield_mpa", [235.0, 355.0])
@pytest.mark.parametrize(("limit", "number"), [(33, 1), (38, 2), (42, 3)])
def test_class_by_the_wall_in_compression(yield_mpa: float, limit: float, number: int):
    # EN 1993-1-1, table 5.2, sheet 1
    slender = limit * math.sqrt(235 / yield_mpa)
    assert [wall_class(box(slender * by, 10, 3), yield_mpa) for by in (0.99, 1.01)] == [number, number + 1]


@pytest.mark.parametrize(("limit", "number"), [(72, 1), (83, 2), (124, 3)])
def test_class_by_the_wall_in_bending(limit: float, number: int):
    assert [wall_class(box(10, limit * by, 3), 235) for by in (0.99, 1.01)] == [number, number + 1]


@pytest.mark.parametrize("yield_mpa", [235.0, 355.0])
@pytest.mark.parametrize(("limit", "number"), [(50, 1), (70, 2), (90, 3)])
def test_class_of_a_tube(yield_mpa: float, limit: float, number: int):
    # EN 1993-1-1, table 5.2, sheet 3: epsilon squared
    slender = limit * 235 / yield_mpa
    tubes = [
        Section(kind="tube", depth_mm=slender * by, width_mm=slender * by, wall_mm=1) for by in (0.99, 1.01)
    ]
    assert [wall_class(tube, yield_mpa) for tube in tubes] == [number, number + 1]


@pytest.mark.parametrize(("limit", "number"), [(9, 1), (13, 2), (18, 3)])
def test_class_of_aluminium(limit: float, number: int):
    # EN 1999-1-1, table 6.2, internal parts with welds, class A (from memory); epsilon = sqrt(250 / fo), 1.25
    # for 160 MPa
    top, side, tube = limit * 1.25, limit * 1.25 / 0.4, (limit * 1.25 / 3) ** 2
    assert [wall_class(box(top * by, 5, 2), 160, "aluminium") for by in (0.99, 1.01)] == [number, number + 1]
    assert [wall_class(box(5, side * by, 2), 160, "aluminium") for by in (0.99, 1.01)] == [number, number + 1]
    tubes = [Section(kind="tube", depth_mm=tube * by, width_mm=tube * by, wall_mm=1) for by in (0.99, 1.01)]
    assert [wall_class(one, 160, "aluminium") for one in tubes] == [number, number + 1]


def test_a_solid_bar_does_not_buckle_in_its_walls():
    assert wall_class(parse_section("flat 100x5"), 355) == 1


def test_a_short_column_bears_its_area_and_a_long_one_comes_near_euler_s_load():
    section = parse_section("box 40x40x3")
    area, second = properties(section).area_mm2, properties(section).second_moment_mm4
    assert column_resistance_n(section, 50, STEEL, LIMIT_STATES) == pytest.approx(area * 235)
    euler = math.pi**2 * 210000 * second / 20000**2
    assert 0.93 * euler < column_resistance_n(section, 20000, STEEL, LIMIT_STATES) < euler


@pytest.mark.parametrize("text", ["box 60x40x3", "box 40x60x3"])
def test_a_column_buckles_about_its_weaker_axis(text: str):
    # EN 10219-2: I of 60 x 40 x 3 is 25.38 and 13.44 cm4
    weaker = math.pi**2 * 210000 * 13.44e4 / 20000**2
    assert 0.93 * weaker < column_resistance_n(parse_section(text), 20000, STEEL, LIMIT_STATES) < weaker


def test_an_aluminium_column_of_slenderness_2():
    # EN 1999-1-1, 6.3.1.2, class B (from memory): phi = 0.5 (1 + 0.32 x 2 + 2^2) = 2.82
    section = parse_section("box 40x40x3")
    area, second = properties(section).area_mm2, properties(section).second_moment_mm4
    length = 2 * math.pi * math.sqrt(70000 * second / (area * 160))
    reduction = 1 / (2.82 + math.sqrt(2.82**2 - 2**2))
    assert column_resistance_n(section, length, ALUMINIUM, LIMIT_STATES) == pytest.approx(
        reduction * area * 160 / 1.1
    )


def test_an_aluminium_column_bears_no_more_than_its_welded_end():
    section = parse_section("box 40x40x3")
    area = properties(section).area_mm2
    assert column_resistance_n(section, 100, ALUMINIUM, LIMIT_STATES) == pytest.approx(area * 65 / 1.1)


def test_a_column_without_a_modulus_cannot_be_judged():
    with pytest.raises(StrengthUnknownError, match="has no modulus of elasticity given"):
        column_resistance_n(parse_section("box 40x40x3"), 900, replace(STEEL, elastic_mpa=0), LIMIT_STATES)
