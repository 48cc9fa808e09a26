"""What metal and timber can take: bending, shear, slenderness of walls, columns. Steel by EN 1993-1-1,
aluminium by EN 1999-1-1, solid timber by EN 1995-1-1.
"""

import math
from typing import Final, Literal

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.sections import properties
from rampdraft.model.design import Material, MaterialKind, ServiceClass
from rampdraft.model.section import Section
from rampdraft.strength.formula import WIDTH, Formula, Symbol
from rampdraft.strength.utilisation import Basis
from rampdraft.units import MM, MM2, MPA, Array, N
from rampdraft.words.figures import measure, mpa, newton
from rampdraft.words.say import say

IMPERFECTION: Final = (0.49, 0.2)
"""Buckling curve c of cold-formed hollow sections and solid bars, and its plateau (EN 1993-1-1, 6.3.1.2,
tables 6.1, 6.2).
"""
IMPERFECTION_ALUMINIUM: Final = (0.32, 0.0)
"""Buckling class B and its plateau (EN 1999-1-1, table 6.6; from memory)."""

_PRESSED: Final = (33.0, 38.0, 42.0)
_BENT: Final = (72.0, 83.0, 124.0)
_TUBE: Final = (50.0, 70.0, 90.0)
"""EN 1993-1-1, table 5.2: greatest c/t of a wall in compression and in bending, and d/t of a tube, of classes
1, 2, 3.
"""
_ALUMINIUM: Final = (9.0, 13.0, 18.0)
"""EN 1999-1-1, table 6.2: greatest slenderness of an internal part with welds, buckling class A (from
memory).
"""


def metal_strength_mpa(material: Material, basis: Basis, *, welded: bool) -> MPA:
    """Return the stress that a metal part may have in elastic bending: fy / gM0, fo / gM1, or the ultimate
    strength.

    EN 1993-1-1, 6.2.5; EN 1999-1-1, 6.2.5: where aluminium is welded the whole section counts as softened.

    Raises StrengthUnknownError where the material holds no such strength.
    """
    softened = welded and material.kind == "aluminium"
    if basis.on == "ultimate":
        strength = material.welded_ultimate_mpa if softened else material.ultimate_mpa
    else:
        strength = material.welded_yield_mpa if softened else material.yield_mpa
    if not strength:
        raise StrengthUnknownError(material.name, strength_words(basis.on, softened=softened))
    return strength / _gamma(material, basis)


def strength_words(on: Literal["yield", "ultimate"], *, softened: bool) -> str:
    """Return what a strength is called."""
    if on == "ultimate":
        return say("ultimate strength in the welded zone") if softened else say("ultimate strength")
    return say("yield strength in the welded zone") if softened else say("yield strength")


def shear_area_mm2(section: Section) -> MM2:
    """Return the area that takes the shear, the depth standing upright.

    EN 1993-1-1, 6.2.6(3): A h / (b + h) of a box, 2 A / pi of a tube. A solid bar elastically, so that its
    greatest shear stress, 1.5 V / A or 4/3 V / A, is at the limit: 2/3 and 3/4 of its area.
    """
    area = properties(section).area_mm2
    if section.kind == "box":
        return area * section.depth_mm / (section.width_mm + section.depth_mm)
    return area * {"tube": 2 / math.pi, "round": 3 / 4}.get(section.kind, 2 / 3)


def bending_with_shear(
    moment_nmm: Array, shear_n: Array, modulus_mm3: Array, shear_area: Array, strength_mpa: MPA
) -> Array:
    """Return how much of its strength a section uses in bending with shear; the arrays broadcast.

    EN 1993-1-1, 6.2.6 and 6.2.8 (EN 1999-1-1 alike): the shear strength is f / sqrt 3, and beyond half of it
    the strength in bending is lowered by (2 V / Vpl - 1)^2.

    With m = M / (W f) and v = V / Vpl, a load s times as great reaches the limit where s m = 1 - (2 s v -
    1)^2. What is returned is 1 / s, which is 1 just where the clause is at its limit, and grows as the load
    does: its inverse is a factor on the load.
    """
    v = shear_n / (shear_area * strength_mpa / math.sqrt(3))
    m = moment_nmm / (modulus_mm3 * strength_mpa)
    sheared = v > m / 2
    return np.where(sheared, v * (4 * v / np.where(sheared, 4 * v - m, 1.0)), m)  # v squared may be nothing


def wall_class(section: Section, yield_mpa: MPA, kind: MaterialKind = "steel") -> int:
    """Return the class of a section bent about its level axis, 1 to 4; a solid bar has 1.

    EN 1993-1-1, table 5.2, with c = b - 3 t. Aluminium by EN 1999-1-1, 6.1.4 and table 6.2, with welds, c = b
    - 2 t of an extruded box, 0.4 c / t of a wall in bending, and 3 sqrt(D / t) of a tube (from memory).
    """
    if not section.wall_mm or not yield_mpa:
        return 1
    if kind == "aluminium":
        walls = _aluminium_walls(section)
        epsilon = math.sqrt(250 / yield_mpa)
    else:
        walls = _steel_walls(section)
        epsilon = math.sqrt(235 / yield_mpa) ** (2 if section.kind == "tube" else 1)
    return max(1 + sum(slenderness > limit * epsilon for limit in limits) for slenderness, limits in walls)


def slender_walls(section: Section, material: Material) -> bool:
    """Return whether a wall of a hollow bar pressed along buckles before it yields (class 4).

    EN 1993-1-1, table 5.2: c / t over 42 epsilon, D / t over 90 epsilon2. Aluminium: EN 1999-1-1, table 6.2,
    internal walls with welds, 18 epsilon (from memory).
    """
    if not section.wall_mm or not material.yield_mpa:
        return False
    slender = (max(section.depth_mm, section.width_mm) - 3 * section.wall_mm) / section.wall_mm
    if material.kind == "aluminium":
        return slender > 18 * math.sqrt(250 / material.yield_mpa)
    if section.kind == "tube":
        return section.depth_mm / section.wall_mm > 90 * 235 / material.yield_mpa
    return slender > 42 * math.sqrt(235 / material.yield_mpa)


def column_resistance_n(section: Section, length_mm: MM, material: Material, basis: Basis) -> N:
    """Return what a bar pinned at both ends carries before it buckles about its weaker axis: EN 1993-1-1,
    6.3.1.

    For an overall factor the same curve with the ultimate strength. Aluminium by EN 1999-1-1, 6.3.1, welded
    at its ends, where the softened section must bear the force too.

    Raises StrengthUnknownError where the material holds no strength or modulus that is needed.
    """
    gamma = basis.gamma_a1 if material.kind == "aluminium" else basis.gamma_m1
    strength = metal_strength_mpa(material, basis, welded=False) * _gamma(material, basis)
    if not material.elastic_mpa:
        raise StrengthUnknownError(material.name, say("modulus of elasticity"))
    turned = Section(
        kind=section.kind, depth_mm=section.width_mm, width_mm=section.depth_mm, wall_mm=section.wall_mm
    )
    area = properties(section).area_mm2
    second = min(properties(section).second_moment_mm4, properties(turned).second_moment_mm4)
    critical = math.pi**2 * material.elastic_mpa * second / length_mm**2
    slender = math.sqrt(area * strength / critical)
    alpha, plateau = IMPERFECTION_ALUMINIUM if material.kind == "aluminium" else IMPERFECTION
    half = 0.5 * (1 + alpha * (slender - plateau) + slender**2)
    reduction = 1.0 if slender <= plateau else 1 / (half + math.sqrt(half**2 - slender**2))
    return area * min(reduction * strength / gamma, metal_strength_mpa(material, basis, welded=True))


def _gamma(material: Material, basis: Basis) -> float:
    return basis.gamma_a1 if material.kind == "aluminium" else basis.gamma_m0


def _steel_walls(section: Section) -> tuple[tuple[float, tuple[float, ...]], ...]:
    """Return the slenderness of each wall and the limits for it."""
    wall = section.wall_mm
    if section.kind == "tube":
        return ((section.depth_mm / wall, _TUBE),)
    return ((section.width_mm / wall - 3, _PRESSED), (section.depth_mm / wall - 3, _BENT))


def _aluminium_walls(section: Section) -> tuple[tuple[float, tuple[float, ...]], ...]:
    wall = section.wall_mm
    if section.kind == "tube":
        return ((3 * math.sqrt(section.depth_mm / wall), _ALUMINIUM),)
    return ((section.width_mm / wall - 2, _ALUMINIUM), (0.4 * (section.depth_mm / wall - 2), _ALUMINIUM))


K_MOD: Final[dict[ServiceClass, float]] = {"1": 0.90, "2": 0.90, "3": 0.70}
"""Solid timber under short-term loads: EN 1995-1-1, table 3.1."""
K_CR: Final = 0.67
"""Part of the width that cracks leave for shear: EN 1995-1-1, 6.1.7(2)."""


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
        raise StrengthUnknownError(material.name, say("bending strength"))
    return k_h(depth_mm) * timber_design_value(material.bending_mpa, basis, service_class)


def timber_shear_strength_mpa(material: Material, basis: Basis, service_class: ServiceClass) -> MPA:
    """Return the shear strength, k_mod fv,k / gM: EN 1995-1-1, 2.4.1; for an overall factor fv,k.

    Raises StrengthUnknownError where the material holds no shear strength.
    """
    if not material.shear_mpa:
        raise StrengthUnknownError(material.name, say("shear strength"))
    return timber_design_value(material.shear_mpa, basis, service_class)


SHEAR: Final = Formula(
    1.5 * Symbol("V", newton) / (K_CR * WIDTH * Symbol("h", measure)), mpa, "EN 1995-1-1, 6.1.7"
)
"""The greatest shear stress of a rectangle, b wide and h deep."""


def timber_design_value(value: float, basis: Basis, service_class: ServiceClass) -> float:
    """Return a design value of timber, k_mod Xk / gM: EN 1995-1-1, 2.4.1; for an overall factor Xk."""
    return value if basis.on == "ultimate" else K_MOD[service_class] * value / basis.gamma_timber


def bending_mpa(
    material: Material, basis: Basis, service_class: ServiceClass, *, depth_mm: MM, welded: bool
) -> MPA:
    """Return the strength in elastic bending of whichever material.

    Raises StrengthUnknownError where the material holds none.
    """
    if material.kind == "timber":
        return bending_strength_mpa(material, basis, service_class, depth_mm=depth_mm)
    return metal_strength_mpa(material, basis, welded=welded)
