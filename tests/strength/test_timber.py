"""Timber: strength by basis, service class and depth; shear between cracks."""

import pytest

from rampdraft.errors import StrengthUnknownError
from rampdraft.model.catalogue import materials
from rampdraft.strength.resistance import K_MOD, SHEAR, bending_strength_mpa, k_h, timber_shear_strength_mpa
from rampdraft.strength.utilisation import LIMIT_STATES, ULTIMATE, YIELD

KNOWN = {material.name: material for material in materials()}
C24, PLYWOOD = KNOWN["timber C24"], KNOWN["birch plywood"]


@pytest.mark.parametrize(("depth", "factor"), [(40, 1.3), (40.39, 1.3), (75, 2**0.2), (150, 1.0), (200, 1.0)])
def test_shallow_timber_gains(depth: float, factor: float):
    # EN 1995-1-1, 3.2(3): (150 / h)^0.2, not above 1.3, which it reaches at 150 / 1.3^5 = 40.4 mm
    assert k_h(depth) == pytest.approx(factor, rel=1e-4)


def test_wet_timber_is_weaker():
    assert K_MOD["3"] < K_MOD["2"] == K_MOD["1"]


def test_each_basis():
    limit, ultimate, standing = (
        bending_strength_mpa(C24, basis, "3", depth_mm=150) for basis in (LIMIT_STATES, ULTIMATE, YIELD)
    )
    assert (limit, ultimate, standing) == pytest.approx((0.70 * 24 / 1.3, 24, 0.70 * 24))
    sheared = [timber_shear_strength_mpa(C24, basis, "3") for basis in (LIMIT_STATES, ULTIMATE, YIELD)]
    assert sheared == pytest.approx([0.70 * 4 / 1.3, 4, 0.70 * 4])


@pytest.mark.parametrize("load", [0.99, 1.0, 1.01])
def test_shear_at_its_limit(load: float):
    # 1.5 V / (0.67 b h) = fv,d
    strength = timber_shear_strength_mpa(C24, LIMIT_STATES, "2")
    bears = 0.90 * 4 / 1.3 * 0.67 * 95 * 28 / 1.5
    assert SHEAR.of(load * bears, 95, 28).value / strength == pytest.approx(load)


def test_a_strength_that_is_not_known_is_said():
    with pytest.raises(StrengthUnknownError, match="'birch plywood' has no bending strength given: add it"):
        bending_strength_mpa(PLYWOOD, LIMIT_STATES, "3", depth_mm=21)
    with pytest.raises(StrengthUnknownError, match="'birch plywood' has no shear strength given: add it"):
        timber_shear_strength_mpa(PLYWOOD, LIMIT_STATES, "3")


def test_metal_bears_nothing_as_timber():
    with pytest.raises(StrengthUnknownError):
        bending_strength_mpa(KNOWN["steel S235"], LIMIT_STATES, "1", depth_mm=40)
