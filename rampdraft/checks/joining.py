"""Pins, fillet welds and bolts: EN 1993-1-8."""

import math
from typing import Final

from rampdraft.checks.basis import Basis
from rampdraft.errors import StrengthUnknownError
from rampdraft.model.catalogue import bolts
from rampdraft.model.design import BoltClass, BoltSize, Material
from rampdraft.units import MM, MM2, MM3, MPA, N

CLASSES: Final[dict[BoltClass, tuple[MPA, MPA, float]]] = {
    "4.6": (240, 400, 0.6), "5.6": (300, 500, 0.6), "8.8": (640, 800, 0.6), "10.9": (900, 1000, 0.5),
}  # fmt: skip
"""Yield, ultimate (EN 1993-1-8, table 3.1), and the factor on shear through the threads (table 3.4)."""


def pin_shear_n(area_mm2: MM2, ultimate_mpa: MPA, basis: Basis) -> N:
    """Return the shear resistance of a pin in one plane, 0.6 A fup / gM2: table 3.10."""
    return 0.6 * area_mm2 * ultimate_mpa / basis.gamma_m2


def pin_bearing_n(thickness_mm: MM, diameter_mm: MM, strength_mpa: MPA, basis: Basis) -> N:
    """Return the bearing resistance, 1.5 t d fy / gM0: table 3.10. For an overall factor `strength_mpa` is the ultimate one."""
    return 1.5 * thickness_mm * diameter_mm * strength_mpa / basis.gamma_m0


def pin_moment_nmm(elastic_modulus_mm3: MM3, strength_mpa: MPA, basis: Basis) -> float:
    """Return the bending resistance of a pin, 1.5 Wel fyp / gM0: table 3.10; for an overall factor elastic, Wel fup."""
    return (1.0 if basis.on == "ultimate" else 1.5) * elastic_modulus_mm3 * strength_mpa / basis.gamma_m0


def pin_moment_single_shear_nmm(force_n: N, knuckle_mm: MM, gap_mm: MM) -> float:
    """Return the moment in a pin through two neighbouring knuckles of one length, a gap apart, pulled opposite ways.

    The pressure in each knuckle is taken as straight along the pin, and its two parts balance force and couple:
    p(s) = F / l (1 + k (1 - 2 s / l)), k = 3 (1 + c / l). The shear F (1 - s / l)(1 - k s / l) vanishes at s = l / k, and there
    M = F c / 2 + F l (3 k - 1) / (6 k^2).
    """
    k = 3 * (1 + gap_mm / knuckle_mm)
    return force_n * (gap_mm / 2 + knuckle_mm * (3 * k - 1) / (6 * k**2))


def correlation(material: Material) -> float:
    """Return the correlation factor of a fillet weld: 0.8, 0.85, 0.9 for S235, S275, S355 (table 4.1); 1 for aluminium."""
    if material.kind == "aluminium":
        return 1.0
    return 0.8 if material.ultimate_mpa <= 360 else 0.85 if material.ultimate_mpa <= 430 else 0.9


def weld_strength_mpa(ultimate_mpa: MPA, factor: float, basis: Basis) -> MPA:
    """Return the design shear strength of a fillet weld on its throat, fu / (sqrt 3 bw gM2): 4.5.3.3."""
    if not ultimate_mpa:
        raise StrengthUnknownError("of the weld", "ultimate strength")
    return ultimate_mpa / (math.sqrt(3) * factor * basis.gamma_m2)


def bolt_area_mm2(size: BoltSize) -> MM2:
    """Return the stress area, pi / 4 (d - 0.9382 P)^2: ISO 898-1."""
    bolt = next(bolt for bolt in bolts() if bolt.size == size)
    return math.pi / 4 * (bolt.diameter_mm - 0.9382 * bolt.pitch_mm) ** 2


def bolt_shear_n(size: BoltSize, grade: BoltClass, basis: Basis) -> N:
    """Return the shear resistance through the threads, av fub As / gM2: table 3.4."""
    _, ultimate, factor = CLASSES[grade]
    return factor * ultimate * bolt_area_mm2(size) / basis.gamma_m2


def bolt_tension_n(size: BoltSize, grade: BoltClass, basis: Basis) -> N:
    """Return the tension resistance, 0.9 fub As / gM2: table 3.4."""
    return 0.9 * CLASSES[grade][1] * bolt_area_mm2(size) / basis.gamma_m2


def bolt_combined(shear_n: N, pull_n: N, size: BoltSize, grade: BoltClass, basis: Basis) -> float:
    """Return how much a bolt uses in shear with tension, Fv / Fv,Rd + Ft / (1.4 Ft,Rd): table 3.4."""
    return shear_n / bolt_shear_n(size, grade, basis) + pull_n / (1.4 * bolt_tension_n(size, grade, basis))
