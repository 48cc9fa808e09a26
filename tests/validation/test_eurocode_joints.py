"""Pins, welds and bolts against worked examples and tables of EN 1993-1-8 and ISO 898-1."""

import math
from dataclasses import replace

import pytest

from rampdraft.model.catalogue import bolts, materials
from rampdraft.strength.joining import (
    CLASSES,
    bolt_area_mm2,
    bolt_shear_n,
    bolt_tension_n,
    correlation,
    pin_bearing_n,
    pin_moment_nmm,
    pin_shear_n,
    weld_strength_mpa,
)
from rampdraft.strength.utilisation import LIMIT_STATES

KNOWN = {material.name: material for material in materials()}


def test_worked_example_of_a_pin():
    # EN 1993-1-8, table 3.10, a published worked example with the factors of its national annex, gM0 1.15 and
    # gM2 1.3: fy 355, fup 460, d 150, t 15, A 5104 mm2, Wel 4.84e5 mm3 give 1084 kN, 1042 kN, 224 kN m.
    basis = replace(LIMIT_STATES, gamma_m0=1.15, gamma_m2=1.3)
    assert pin_shear_n(5104, 460, basis) / 1e3 == pytest.approx(1084, abs=0.5)
    assert pin_bearing_n(15, 150, 355, basis) / 1e3 == pytest.approx(1042, abs=0.5)
    assert pin_moment_nmm(4.84e5, 355, basis) / 1e6 == pytest.approx(224, abs=0.5)


def test_fillet_weld_on_s355():
    # EN 1993-1-8, 4.5.3.3: fu 470, bw 0.9, gM2 1.25 give 241.2 N/mm2; leg 6 (throat 4.2) bears 1.01 kN a mm
    # along.
    steel = KNOWN["steel S355"]
    strength = weld_strength_mpa(steel.ultimate_mpa, correlation(steel), LIMIT_STATES)
    assert strength == pytest.approx(241.2, abs=0.05)
    assert 4.2 * strength / 1e3 == pytest.approx(1.01, abs=0.005)


def test_the_directional_method_allows_more_across_a_weld():
    # EN 1993-1-8, 4.5.3.2: pulled across, sigma = tau = q / (sqrt 2 a), and sqrt(sigma^2 + 3 tau^2) reaches
    # fu / (bw gM2) at 1.24 kN a mm of a leg of 6. The simplified method of this program takes 1.01 whichever
    # way it is pulled.
    steel = KNOWN["steel S355"]
    simplified = 4.2 * weld_strength_mpa(steel.ultimate_mpa, correlation(steel), LIMIT_STATES)
    stress_a_newton = math.hypot(1, math.sqrt(3)) / (math.sqrt(2) * 4.2)
    across = steel.ultimate_mpa / (correlation(steel) * 1.25) / stress_a_newton
    assert across / 1e3 == pytest.approx(1.24, abs=0.005)
    assert simplified < across


@pytest.mark.parametrize(("name", "factor"), [("steel S235", 0.8), ("steel S275", 0.85), ("steel S355", 0.9)])
def test_correlation_of_en_1993_1_8_table_4_1(name: str, factor: float):
    assert correlation(KNOWN[name]) == factor


@pytest.mark.parametrize(
    ("size", "published"),
    [("M5", "14.2"), ("M6", "20.1"), ("M8", "36.6"), ("M10", "58.0"), ("M12", "84.3"), ("M16", "157")],
)
def test_stress_areas_of_iso_898_1(size, published: str):
    digits = len(published.partition(".")[2])
    assert round(bolt_area_mm2(size), digits) == float(published)
    assert next(bolt for bolt in bolts() if bolt.size == size).area_mm2 == float(published)


def test_every_size_of_the_catalogue_is_tested():
    assert [bolt.size for bolt in bolts()] == ["M5", "M6", "M8", "M10", "M12", "M16"]


def test_m16_8_8_in_single_shear_through_its_threads():
    # 60.3 kN with the stress area of 157 mm2, which is rounded from 156.7: half a mm2 of it is 0.2 kN.
    assert bolt_shear_n("M16", "8.8", LIMIT_STATES) / 1e3 == pytest.approx(60.3, abs=0.2)


def test_m16_8_8_in_tension():
    # 90.4 kN (from memory: design tables after EN 1993-1-8, table 3.4, k2 = 0.9)
    assert bolt_tension_n("M16", "8.8", LIMIT_STATES) / 1e3 == pytest.approx(90.4, abs=0.3)


def test_a_bolt_s_class_says_its_strengths():
    # ISO 898-1: the first figure is a hundredth of the tensile strength, the second ten times the ratio of
    # yield to it.
    for grade, (yielding, ultimate, _) in CLASSES.items():
        first, _, second = grade.partition(".")
        assert ultimate == 100 * int(first)
        assert yielding == pytest.approx(ultimate * int(second) / 10)
