"""A formula computes what it prints: symbols, numbers put in, result."""

import pickle

import numpy as np
import pytest

from rampdraft.strength.formula import BENT, PLATE, Formula, Symbol
from rampdraft.words.figures import mm, newton, newton_metre, newton_mm, percent
from rampdraft.words.manner import manner_of, speaking

FORCE, LENGTH, OFF = Symbol("F", newton), Symbol("l", mm), Symbol("off", mm)
SHEAR, PRESSED = Symbol("V", newton), Symbol("M / e", newton)


def test_symbols_numbers_and_result_stand_as_an_inspector_writes_them():
    worked = BENT.of(100e3, 2000.0, 235.0)
    assert worked.line == "M / (W f) = 100 N m / (2000 mm3 x 235 MPa) = 21 %"
    assert worked.short == "M / (W f) = 21 %"
    assert worked.value == pytest.approx(100e3 / (2000 * 235))
    assert PLATE.of(95.0, 18.0).numbers == "95 mm x (18 mm)2 / 6"
    assert PLATE.of(95.0, 18.0).value == 95 * 18**2 / 6


def test_some_symbols_may_stay():
    turned = Formula(6 * FORCE * OFF / (2 * LENGTH**2), newton_mm).of(1000.0, 20.0, 50.0)
    assert turned.numbers_but("F", "l") == "6 F x 20 mm / (2 l2)"
    assert turned.result == "24 N/mm"
    assert Formula(FORCE / (2 * LENGTH), newton_mm).of(1000.0, 50.0).numbers_but("F") == "F / (2 x 50 mm)"


def test_sums_are_bracketed_in_products_and_names_of_several_words_in_powers():
    gross, hole = Symbol("K", mm), Symbol("P", mm)
    pulled = Formula(FORCE / ((gross - hole) * LENGTH), newton_mm).of(1000.0, 20.0, 10.0, 50.0)
    assert pulled.line == "F / ((K − P) l) = 1000 N / ((20 mm − 10 mm) x 50 mm) = 2 N/mm"
    both = Formula((SHEAR**2 + PRESSED**2) ** 0.5, newton).of(3.0, 4.0)
    assert both.short == "root of V2 + (M / e)2 = 5 N"
    assert Formula(SHEAR + PRESSED, newton).of(3.0, 4.0).short == "V + M / e = 7 N"


def test_a_symbol_that_stands_twice_has_one_value():
    square = Formula(LENGTH / (LENGTH + OFF), percent)
    assert square.of(1.0, 3.0).line == "l / (l + off) = 1 mm / (1 mm + 3 mm) = 25 %"
    with pytest.raises(TypeError, match="missing"):
        square.of(1.0)


def test_arrays_are_worked_too():
    assert BENT.at(np.array([1.0, 2.0]), 2.0, np.array([1.0, 0.5])).tolist() == [0.5, 2.0]


def test_it_is_plain_data_and_equal_by_value():
    worked = BENT.of(100e3, 2000.0, 235.0)
    assert worked == BENT.of(100e3, 2000.0, 235.0) != BENT.of(100e3, 2000.0, 236.0)
    assert pickle.loads(pickle.dumps(worked)) == worked


def test_moments_and_forces_have_the_digits_that_are_read():
    assert (newton_metre(99_900.0), newton_metre(1_234_500.0), newton(9_999.4), newton(24_060.0)) == (
        "99.9 N m", "1234 N m", "9999 N", "24.1 kN",
    )  # fmt: skip


def test_a_formula_is_told_in_the_manner_that_holds():
    """`Wurzel aus` and the comma, ISO 80000-1, 7.3.2; lengths in inches to be reckoned with."""
    both = Formula(0.5 * (SHEAR**2 + PRESSED**2) ** 0.5, newton).of(3.0, 4.0)
    with speaking(manner_of("de")):
        assert both.symbols == "0,5 Wurzel aus V2 + (M / e)2"
    with speaking(manner_of("en", "in")):
        assert PLATE.of(95.0, 3.0).numbers == "3.74 in x (0.118 in)2 / 6"
