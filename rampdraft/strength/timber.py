"""Strength of solid timber: EN 1995-1-1."""

from typing import Final

from rampdraft.errors import StrengthUnknownError
from rampdraft.figures import mm, mpa, newton
from rampdraft.model.design import Material, ServiceClass
from rampdraft.strength.basis import Basis
from rampdraft.strength.formula import WIDTH, Formula, Symbol
from rampdraft.units import MM, MPA

K_MOD: Final[dict[ServiceClass, float]] = {"1": 0.90, "2": 0.90, "3": 0.70}
"""Solid timber under short-term loads: EN 1995-1-1, table 3.1."""
K_CR: Final = 0.67
"""Part of the width that cracks leave for shear: EN 1995-1-1, 6.1.7(2)."""


def k_mod(service_class: ServiceClass) -> float:
    """Return the factor for short-term load and moisture: EN 1995-1-1, table 3.1."""
    return K_MOD[service_class]


def k_h(depth_mm: MM) -> float:
    """Return what shallow timber gains in bending: EN 1995-1-1, 3.2(3)."""
    return min((150 / depth_mm) ** 0.2, 1.3) if depth_mm < 150 else 1.0


def bending_strength_mpa(
    material: Material, basis: Basis, service_class: ServiceClass, *, depth_mm: MM
) -> MPA:
    """Return the bending strength, k_mod k_h fm,k / gM: EN 1995-1-1, 2.4.1 and 3.2(3).

    For an overall factor k_h fm,k: what a dry board bears in a short test. For no permanent set gM is 1,
    k_mod stays.

    Raises StrengthUnknownError where the material holds no bending strength.
    """
    if not material.bending_mpa:
        raise StrengthUnknownError(material.name, "bending strength")
    return k_h(depth_mm) * _design_value(material.bending_mpa, basis, service_class)


def timber_shear_strength_mpa(material: Material, basis: Basis, service_class: ServiceClass) -> MPA:
    """Return the shear strength, k_mod fv,k / gM: EN 1995-1-1, 2.4.1; for an overall factor fv,k.

    Raises StrengthUnknownError where the material holds no shear strength.
    """
    if not material.shear_mpa:
        raise StrengthUnknownError(material.name, "shear strength")
    return _design_value(material.shear_mpa, basis, service_class)


SHEAR: Final = Formula(
    1.5 * Symbol("V", newton) / (K_CR * WIDTH * Symbol("h", mm)), mpa, "EN 1995-1-1, 6.1.7"
)
"""The greatest shear stress of a rectangle, b wide and h deep."""


def _design_value(value: MPA, basis: Basis, service_class: ServiceClass) -> MPA:
    return value if basis.on == "ultimate" else k_mod(service_class) * value / basis.gamma_timber
