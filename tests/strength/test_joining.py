"""Pins, fillet welds and bolts: each basis, what is not known, and the pin in single shear against a
numerical integral.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import cumulative_trapezoid

from rampdraft.errors import StrengthUnknownError
from rampdraft.model.catalogue import materials
from rampdraft.strength.joining import (
    BOLT,
    bolt_area_mm2,
    bolt_shear_n,
    bolt_tension_n,
    correlation,
    pin_bearing_n,
    pin_moment_nmm,
    pin_moment_single_shear_nmm,
    pin_shear_n,
    weld_strength_mpa,
    weld_ultimate_mpa,
)
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, YIELD

KNOWN = {material.name: material for material in materials()}
STEEL, ALUMINIUM = KNOWN["steel S235"], KNOWN["aluminium 6063-T6"]


def integrated_moment_nmm(force: float, length: float, gap: float) -> float:
    """Return the greatest moment in half a pin from the pressure of its knuckle, integrated step by step.

    Pressure p0 + p1 s, s from the inner face: it sums to the force, and its moment about the middle of the
    gap is nothing, since the other half is the same turned about.
    """
    middle = gap / 2
    sums = [
        [length, length**2 / 2],
        [middle * length + length**2 / 2, middle * length**2 / 2 + length**3 / 3],
    ]
    p0, p1 = np.linalg.solve(sums, [force, 0.0])
    s = np.linspace(0, length, 4001)
    shear = force - cumulative_trapezoid(p0 + p1 * s, x=s, initial=0.0)
    moment = force * middle + cumulative_trapezoid(shear, x=s, initial=0.0)
    assert abs(moment[-1]) < 1e-6 * moment.max()  # the far end of the pin is free
    return float(moment.max())


@given(st.floats(10, 1e5), st.floats(5, 120), st.floats(0, 60))
def test_moment_of_a_pin_in_single_shear(force: float, length: float, gap: float):
    assert pin_moment_single_shear_nmm(force, length, gap) == pytest.approx(
        integrated_moment_nmm(force, length, gap), rel=1e-5
    )


def test_neighbouring_knuckles_without_a_gap():
    # k = 3: the moment is 4 / 27 of force times length, a third of the way into the knuckle.
    assert pin_moment_single_shear_nmm(1000, 27, 0) == pytest.approx(4000)


@pytest.mark.parametrize(
    ("basis", "shear", "bearing", "moment"),
    [
        (LIMIT_STATES, 0.6 * 100 * 360 / 1.25, 1.5 * 20 * 12 * 235, 1.5 * 170 * 235),
        (ULTIMATE, 0.6 * 100 * 360, 1.5 * 20 * 12 * 235, 170 * 235),
        (YIELD, 0.6 * 100 * 360, 20 * 12 * 235, 170 * 235),
    ],
)
def test_a_pin_on_each_basis(basis, shear: float, bearing: float, moment: float):
    assert pin_shear_n(100, 360, basis) == pytest.approx(shear)
    assert pin_bearing_n(20, 12, 235, basis) == pytest.approx(bearing)
    assert pin_moment_nmm(170, 235, basis) == pytest.approx(moment)


@pytest.mark.parametrize(
    ("strength", "factor"),
    [(235, 0.8), (235.1, 0.85), (275, 0.85), (275.1, 0.9), (355, 0.9), (355.1, 1.0), (460, 1.0)],
)
def test_correlation_goes_by_the_grade_of_the_steel(strength: float, factor: float):
    """EN 1993-1-8, table 4.1: S355 has 0.9 whether its ultimate strength is 470 or 510."""
    for ultimate in (470, 510):
        assert correlation(replace(STEEL, yield_mpa=strength, ultimate_mpa=ultimate)) == factor


def test_a_weld_on_aluminium_is_judged_by_the_softened_zone():
    strength = weld_strength_mpa(weld_ultimate_mpa(ALUMINIUM), correlation(ALUMINIUM), LIMIT_STATES)
    assert strength == pytest.approx(110 / math.sqrt(3) / 1.25)
    assert weld_ultimate_mpa(STEEL) == 360


@pytest.mark.parametrize(
    ("material", "words"),
    [
        (replace(STEEL, ultimate_mpa=0), "'steel S235' has no ultimate strength given"),
        (
            replace(ALUMINIUM, welded_ultimate_mpa=0),
            "'aluminium 6063-T6' has no ultimate strength in the welded zone given",
        ),
    ],
)
def test_a_weld_on_a_material_without_strength_cannot_be_judged(material, words: str):
    with pytest.raises(StrengthUnknownError, match=words):
        weld_ultimate_mpa(material)


@pytest.mark.parametrize("load", [0.99, 1.0, 1.01])
def test_a_bolt_in_shear_with_tension(load: float):
    shear, pull = bolt_shear_n("M10", "8.8", LIMIT_STATES), bolt_tension_n("M10", "8.8", LIMIT_STATES)
    assert BOLT.of(load * shear, shear, 0, pull).value == pytest.approx(load)
    assert BOLT.of(load * 0.5 * shear, shear, load * 0.7 * pull, pull).value == pytest.approx(load)


def test_a_harder_bolt_bears_less_of_its_strength_in_shear():
    # EN 1993-1-8, table 3.4: av = 0.5 for class 10.9, 0.6 for the others
    area = bolt_area_mm2("M12")
    found = [bolt_shear_n("M12", grade, ULTIMATE) / area for grade in ("4.6", "5.6", "8.8", "10.9")]
    assert found == pytest.approx([240, 300, 480, 500])
