"""Pins, fillet welds and bolts: EN 1993-1-8."""

import math
from dataclasses import dataclass
from typing import Final

from rampdraft.errors import StrengthUnknownError
from rampdraft.model.catalogue import bolt_row
from rampdraft.model.design import BoltClass, BoltSize, Material
from rampdraft.model.section import Section
from rampdraft.strength.formula import Formula, Symbol
from rampdraft.strength.resistance import metal_strength_mpa, strength_words
from rampdraft.strength.utilisation import Basis
from rampdraft.units import MM, MM2, MM3, MPA, N
from rampdraft.words.figures import measure, mpa, newton, percent
from rampdraft.words.say import say

CLASSES: Final[dict[BoltClass, tuple[MPA, MPA, float]]] = {
    "4.6": (240, 400, 0.6), "5.6": (300, 500, 0.6), "8.8": (640, 800, 0.6), "10.9": (900, 1000, 0.5),
}  # fmt: skip
"""Yield, ultimate (EN 1993-1-8, table 3.1), and the factor on shear through the threads (table 3.4)."""


_TENSION, _TENSION_RD = Symbol("Ft", newton), Symbol("Ft,Rd", newton)
BOLT: Final = Formula(
    Symbol("Fv", newton) / Symbol("Fv,Rd", newton) + _TENSION / (1.4 * _TENSION_RD),
    percent,
    "EN 1993-1-8, table 3.4",
)
"""What a bolt uses in shear with tension."""
BOLT_PULLED: Final = Formula(_TENSION / _TENSION_RD, percent, "EN 1993-1-8, table 3.4")


def pin_shear_n(area_mm2: MM2, ultimate_mpa: MPA, basis: Basis) -> N:
    """Return the shear resistance of a pin in one plane, 0.6 A fup / gM2: table 3.10."""
    return 0.6 * area_mm2 * ultimate_mpa / basis.gamma_m2


def pin_bearing_n(thickness_mm: MM, diameter_mm: MM, strength_mpa: MPA, basis: Basis) -> N:
    """Return the bearing resistance of a pin or of the knuckle round it, 1.5 t d fy / gM0: table 3.10.

    `strength_mpa` is the lower yield strength of both; for an overall factor the ultimate one. For no
    permanent set without the 1.5, which allows for a hole that widens.
    """
    return (
        (1.0 if basis.name == "no permanent set" else 1.5)
        * thickness_mm
        * diameter_mm
        * strength_mpa
        / basis.gamma_m0
    )


def pin_moment_nmm(elastic_modulus_mm3: MM3, strength_mpa: MPA, basis: Basis) -> float:
    """Return the bending resistance of a pin, 1.5 Wel fyp / gM0: table 3.10.

    1.5 stands for the plastic reserve of a round bar. For no permanent set none is left, and the ultimate
    strength uses it up: both elastic, Wel fyp or Wel fup.
    """
    return (
        (1.5 if basis.name == "limit states" else 1.0) * elastic_modulus_mm3 * strength_mpa / basis.gamma_m0
    )


def pin_moment_single_shear_nmm(force_n: N, knuckle_mm: MM, gap_mm: MM) -> float:
    """Return the moment in a pin through two neighbouring knuckles of one length, a gap apart, pulled
    opposite ways.

    The pressure in each knuckle is taken as straight along the pin, and its two parts balance force and
    couple: p(s) = F / l (1 + k (1 - 2 s / l)), k = 3 (1 + c / l). The shear F (1 - s / l)(1 - k s / l)
    vanishes at s = l / k, and there M = F c / 2 + F l (3 k - 1) / (6 k^2).
    """
    k = 3 * (1 + gap_mm / knuckle_mm)
    return force_n * (gap_mm / 2 + knuckle_mm * (3 * k - 1) / (6 * k**2))


def correlation(material: Material) -> float:
    """Return the correlation factor of a fillet weld: EN 1993-1-8, table 4.1, by the grade of the steel,
    which its yield strength names.

    0.8 for S235, 0.85 for S275, 0.9 for S355, 1 for stronger steel. Aluminium has none, so 1 (EN 1999-1-1,
    8.6.3.3).
    """
    if material.kind == "aluminium":
        return 1.0
    return next(
        (factor for most, factor in ((235, 0.8), (275, 0.85), (355, 0.9)) if material.yield_mpa <= most),
        1.0,
    )


def weld_ultimate_mpa(material: Material) -> MPA:
    """Return the ultimate strength that a fillet weld on a material is judged by: of aluminium that of the
    softened zone.

    EN 1999-1-1, 8.6.3, takes the filler's strength for the throat and the softened zone's for the edge of the
    weld. The design knows no filler; the softened zone is the weaker with the usual ones, and is taken for
    both.

    Raises StrengthUnknownError where the material holds no such strength.
    """
    softened = material.kind == "aluminium"
    strength = material.welded_ultimate_mpa if softened else material.ultimate_mpa
    if not strength:
        raise StrengthUnknownError(material.name, strength_words("ultimate", softened=softened))
    return strength


def weld_strength_mpa(ultimate_mpa: MPA, factor: float, basis: Basis) -> MPA:
    """Return the design shear strength of a fillet weld on its throat, whichever way it is pulled, fu / (sqrt
    3 bw gM2): 4.5.3.3.

    Aluminium alike, with gMw = 1.25 (EN 1999-1-1, table 6.1 and 8.6.3.3; gM2 has the same value).
    """
    return ultimate_mpa / (math.sqrt(3) * factor * basis.gamma_m2)


def fillet_mpa(material: Material, basis: Basis) -> MPA:
    """Return what a fillet weld on a material bears on its throat; for no permanent set the parent's yield in
    shear.
    """
    if basis.name == "no permanent set":
        return metal_strength_mpa(material, basis, welded=True) / math.sqrt(3)
    return weld_strength_mpa(weld_ultimate_mpa(material), correlation(material), basis)


def bolt_area_mm2(size: BoltSize) -> MM2:
    """Return the stress area of a coarse thread, pi / 4 (d - 0.9382 P)^2: ISO 898-1."""
    bolt = bolt_row(size)
    return math.pi / 4 * (bolt.diameter_mm - 0.9382 * bolt.pitch_mm) ** 2


def bolt_shear_n(size: BoltSize, grade: BoltClass, basis: Basis) -> N:
    """Return the shear resistance through the threads, av fub As / gM2: table 3.4; on yield for no permanent
    set.
    """
    return CLASSES[grade][2] * _bolt_mpa(grade, basis) * bolt_area_mm2(size) / basis.gamma_m2


def bolt_tension_n(size: BoltSize, grade: BoltClass, basis: Basis) -> N:
    """Return the tension resistance, 0.9 fub As / gM2: table 3.4; on yield for no permanent set."""
    return 0.9 * _bolt_mpa(grade, basis) * bolt_area_mm2(size) / basis.gamma_m2


def _bolt_mpa(grade: BoltClass, basis: Basis) -> MPA:
    yielding, ultimate, _ = CLASSES[grade]
    return yielding if basis.name == "no permanent set" else ultimate


@dataclass(frozen=True, slots=True, kw_only=True)
class Seam:
    """What a mm of fillet weld bears: its throat, or the wall that it sits on where that is weaker."""

    what: str
    thickness_mm: MM
    strength_mpa: MPA

    @property
    def n_mm(self) -> float:
        """Return the force a mm."""
        return self.strength_mpa * self.thickness_mm

    @property
    def words(self) -> str:
        """Return `throat 4 mm x 207.8 MPa`."""
        return f"{self.what} {measure(self.thickness_mm)} x {mpa(self.strength_mpa)}"


def unweldable(*materials: Material) -> str:
    """Return why parts of these materials cannot be welded together; empty where they can."""
    kinds = {material.kind for material in materials}
    if len(kinds) == 1 and kinds <= {"steel", "aluminium"}:
        return ""
    named = say(" and ").join(say(kind) for kind in sorted(kinds))
    return say(
        "{materials} cannot be welded together; no other way to join them is judged.",
        materials=f"{named[:1].upper()}{named[1:]}",
    )


def seam(throat_mm: MM, basis: Basis, *parents: tuple[Material, Section]) -> Seam:
    """Return what a fillet weld of this throat bears between these parts.

    EN 1993-1-8, 4.5.3.3 for the throat; a wall of a hollow section gives t f / sqrt 3 (EN 1993-1-1, 6.2.6),
    however thick the weld is.
    """
    found = [(say("throat"), throat_mm, fillet_mpa(material, basis)) for material, _ in parents]
    found += [
        (say("wall"), section.wall_mm, metal_strength_mpa(material, basis, welded=True) / math.sqrt(3))
        for material, section in parents
        if section.wall_mm
    ]
    what, thick, strength = min(found, key=lambda one: one[1] * one[2])
    return Seam(what=what, thickness_mm=thick, strength_mpa=strength)
