"""Strengths and buckling against EN 338, EN 1995-1-1, EN 1993-1-1 and EN 1999-1-1, as published."""

import math

import pytest

from rampdraft.geometry.sections import properties
from rampdraft.model.catalogue import materials
from rampdraft.model.section import parse_section
from rampdraft.strength.resistance import (
    K_CR,
    K_MOD,
    bending_strength_mpa,
    column_resistance_n,
    timber_shear_strength_mpa,
)
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, YIELD

KNOWN = {material.name: material for material in materials()}


def test_recommended_partial_factors():
    # EN 1990, table A1.2(B); EN 1993-1-1, 6.1; EN 1993-1-8, table 2.1; EN 1995-1-1, table 2.3; EN 1999-1-1,
    # 6.1.3
    basis = LIMIT_STATES
    assert (basis.gamma_g, basis.gamma_q) == (1.35, 1.5)
    assert (basis.gamma_m0, basis.gamma_m1, basis.gamma_m2) == (1.0, 1.0, 1.25)
    assert (basis.gamma_timber, basis.gamma_a1) == (1.3, 1.10)


@pytest.mark.parametrize("basis", [ULTIMATE, YIELD], ids=lambda basis: basis.name)
def test_the_other_bases_have_no_factors(basis):
    factors = [getattr(basis, name) for name in basis.__dataclass_fields__ if name.startswith("gamma")]
    assert set(factors) == {1.0}


@pytest.mark.parametrize(
    ("name", "strength", "ultimate"),
    [
        ("steel S235", 235, 360),  # EN 1993-1-1, table 3.1
        ("steel S275", 275, 430),
        ("steel S355", 355, 470),  # 470 to 510 are published; the least, as of hollow sections of EN 10219-1
        ("aluminium 6063-T6", 160, 195),  # EN 1999-1-1, table 3.2b
        ("aluminium 6082-T6", 250, 290),  # from memory: EN 1999-1-1, table 3.2b, extruded, to 5 mm
    ],
)
def test_strengths_of_metal(name: str, strength: float, ultimate: float):
    assert (KNOWN[name].yield_mpa, KNOWN[name].ultimate_mpa) == (strength, ultimate)
    # EN 1993-1-1, 3.2.6 and EN 1999-1-1, 3.2.5
    assert KNOWN[name].elastic_mpa == {"steel": 210_000, "aluminium": 70_000}[KNOWN[name].kind]


@pytest.mark.parametrize(
    ("name", "softened", "ultimate"),
    [
        ("aluminium 6063-T6", 65, 110),
        ("aluminium 6082-T6", 125, 185),
    ],  # EN 1999-1-1, table 3.2b; the second from memory
)
def test_strengths_of_softened_aluminium(name: str, softened: float, ultimate: float):
    assert (KNOWN[name].welded_yield_mpa, KNOWN[name].welded_ultimate_mpa) == (softened, ultimate)


@pytest.mark.parametrize(
    ("name", "bending", "shear", "modulus", "density"),
    [("timber C16", 16, 3.2, 8000, 370), ("timber C24", 24, 4.0, 11000, 420)],  # EN 338:2016, table 1
)
def test_strengths_of_timber(name: str, bending: float, shear: float, modulus: float, density: float):
    timber = KNOWN[name]
    assert (timber.bending_mpa, timber.shear_mpa, timber.elastic_mpa, timber.density_kg_m3) == (
        bending,
        shear,
        modulus,
        density,
    )
    # kmod of service class 3, short term: 0.70; gM 1.3
    assert bending_strength_mpa(timber, LIMIT_STATES, "3", depth_mm=150) == pytest.approx(
        0.70 * bending / 1.3
    )
    assert timber_shear_strength_mpa(timber, LIMIT_STATES, "3") == pytest.approx(0.70 * shear / 1.3)


def test_factors_of_en_1995_1_1():
    # Table 3.1, solid timber, short term: 0.70 in service class 3; 0.90 in 1 and 2 (from memory). 6.1.7(2):
    # 0.67.
    assert [K_MOD["1"], K_MOD["2"], K_MOD["3"]] == [0.90, 0.90, 0.70]
    assert K_CR == 0.67


def test_plywood_has_no_strength_that_was_not_read_in_a_source():
    plywood = KNOWN["birch plywood"]
    assert plywood.bending_mpa == plywood.shear_mpa == plywood.elastic_mpa == 0


@pytest.mark.parametrize(
    ("slenderness", "reduction"), [(0.2, 1.0), (0.5, 0.843), (1.0, 0.540), (1.5, 0.315), (2.0, 0.196)]
)
def test_buckling_curve_c(slenderness: float, reduction: float):
    # Tabulated reduction of curve c after EN 1993-1-1, 6.3.1.2 (from memory: the tables printed in design
    # handbooks)
    section, steel = parse_section("box 40x40x3"), KNOWN["steel S235"]
    area, second = properties(section).area_mm2, properties(section).second_moment_mm4
    length = slenderness * math.pi * math.sqrt(210_000 * second / (area * 235))
    assert column_resistance_n(section, length, steel, LIMIT_STATES) / (area * 235) == pytest.approx(
        reduction, abs=0.0006
    )
