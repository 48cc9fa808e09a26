"""Strength of metal parts: bending with shear, slenderness of walls, columns. Steel by EN 1993-1-1, aluminium by EN 1999-1-1."""

import math
from typing import Final

import numpy as np

from rampdraft.checks.basis import Basis
from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.beam import Array
from rampdraft.model.design import Material
from rampdraft.model.section import Section
from rampdraft.units import MM, MM2, MPA, N

IMPERFECTION: Final = 0.49
"""Buckling curve c: cold-formed hollow sections and solid bars (EN 1993-1-1, tables 6.1 and 6.2)."""
IMPERFECTION_ALUMINIUM: Final = (0.32, 0.0)
"""Buckling class B and its plateau (EN 1999-1-1, table 6.6; from memory)."""


def metal_strength_mpa(material: Material, basis: Basis, *, welded: bool) -> MPA:
    """Return the stress that a metal part may have in elastic bending: fy / gM0, fo / gM1, or the ultimate strength.

    EN 1993-1-1, 6.2.5; EN 1999-1-1, 6.2.5, with the strength of the softened zone where it is welded.

    Raises StrengthUnknownError where the material holds no such strength.
    """
    ultimate = basis.on == "ultimate"
    plain = material.ultimate_mpa if ultimate else material.yield_mpa
    if welded and material.kind == "aluminium":
        plain = material.welded_ultimate_mpa if ultimate else material.welded_yield_mpa
    if not plain:
        what = ("ultimate" if ultimate else "yield") + (" strength in the welded zone" if welded else " strength")
        raise StrengthUnknownError(material.name, what)
    if ultimate:
        return plain
    return plain / (basis.gamma_a1 if material.kind == "aluminium" else basis.gamma_m0)


def shear_area_mm2(section: Section) -> MM2:
    """Return the area that takes the shear, the depth standing upright.

    EN 1993-1-1, 6.2.6(3): A h / (b + h) of a box, 2 A / pi of a tube. A solid bar elastically, so that its greatest shear stress,
    1.5 V / A or 4/3 V / A, is at the limit: 2/3 and 3/4 of its area.
    """
    area = properties(section).area_mm2
    if section.kind == "box":
        return area * section.depth_mm / (section.width_mm + section.depth_mm)
    return area * {"tube": 2 / math.pi, "round": 3 / 4}.get(section.kind, 2 / 3)


def bending_with_shear(moment_nmm: Array, shear_n: Array, modulus_mm3: Array, shear_area: Array, strength_mpa: MPA) -> Array:
    """Return how much of its strength a section uses in bending with shear; the arrays broadcast.

    EN 1993-1-1, 6.2.8: beyond half the shear resistance the strength in bending is lowered by (2 V / Vpl - 1)^2.
    """
    sheared = shear_n / (shear_area * strength_mpa / math.sqrt(3))
    lowered = 1 - np.clip(2 * sheared - 1, 0.0, 1.0) ** 2
    bent = moment_nmm / (modulus_mm3 * strength_mpa)
    return np.maximum(sheared, bent / np.maximum(lowered, 1e-3))


def wall_class(section: Section, yield_mpa: MPA) -> int:
    """Return the class of a section bent about its level axis, 1 to 4: EN 1993-1-1, table 5.2; solid bars have 1."""
    if not section.wall_mm or not yield_mpa:
        return 1
    epsilon = math.sqrt(235 / yield_mpa)
    if section.kind == "tube":
        slender = section.depth_mm / section.wall_mm / epsilon**2
        return 1 + sum(slender > limit for limit in (50, 70, 90))
    top, side = ((size - 3 * section.wall_mm) / section.wall_mm / epsilon for size in (section.width_mm, section.depth_mm))
    return max(
        1 + sum(top > limit for limit in (33, 38, 42)), 1 + sum(side > limit for limit in (72, 83, 124))
    )  # fmt: skip


def column_resistance_n(section: Section, length_mm: MM, material: Material, basis: Basis) -> N:
    """Return what a bar pinned at both ends carries before it buckles about its weaker axis: EN 1993-1-1, 6.3.1.2."""
    strength = metal_strength_mpa(material, basis, welded=False)
    if not material.elastic_mpa:
        raise StrengthUnknownError(material.name, "modulus of elasticity")
    turned = Section(kind=section.kind, depth_mm=section.width_mm, width_mm=section.depth_mm, wall_mm=section.wall_mm)
    area = properties(section).area_mm2
    second = min(properties(section).second_moment_mm4, properties(turned).second_moment_mm4)
    critical = math.pi**2 * material.elastic_mpa * second / length_mm**2
    slender = math.sqrt(area * strength / critical)
    alpha, plateau = IMPERFECTION_ALUMINIUM if material.kind == "aluminium" else (IMPERFECTION, 0.2)
    half = 0.5 * (1 + alpha * (slender - plateau) + slender**2)
    reduction = min(1.0, 1 / (half + math.sqrt(max(0.0, half**2 - slender**2))))
    return reduction * area * strength / basis.gamma_m1
