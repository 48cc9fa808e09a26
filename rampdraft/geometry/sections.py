"""Properties of a section from its sizes: area, second moment and moduli for bending about the level axis.

Hollow sections with the corner radii and formulas of EN 10219-2:2006, annex B; solid ones by the formulas of
any handbook.
"""

import math
from dataclasses import dataclass
from functools import cache

from rampdraft.model.section import Section
from rampdraft.units import MM, MM2, MM3, MM4


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionProperties:
    """Area and bending properties, the depth standing upright."""

    area_mm2: MM2
    second_moment_mm4: MM4
    elastic_modulus_mm3: MM3
    plastic_modulus_mm3: MM3


@cache
def properties(section: Section) -> SectionProperties:
    """Return the properties of a section."""
    if section.kind == "box":
        return _box(section)
    if section.kind in ("round", "tube"):
        return _round(section.depth_mm, section.wall_mm)
    area, depth = section.depth_mm * section.width_mm, section.depth_mm
    return SectionProperties(
        area_mm2=area,
        second_moment_mm4=area * depth**2 / 12,
        elastic_modulus_mm3=area * depth / 6,
        plastic_modulus_mm3=area * depth / 4,
    )


def corner_radii_mm(wall_mm: MM) -> tuple[MM, MM]:
    """Return (outside, inside) corner radius of a cold-formed hollow section.

    EN 10219-2:2006, annex B: 2.0 T and 1.0 T up to T = 6 mm, 2.5 T and 1.5 T up to 10 mm, 3.0 T and 2.0 T
    above.
    """
    outside = 2.0 if wall_mm <= 6 else 2.5 if wall_mm <= 10 else 3.0
    return outside * wall_mm, (outside - 1) * wall_mm


def _box(section: Section) -> SectionProperties:
    depth, width, wall = section.depth_mm, section.width_mm, section.wall_mm
    outside, inside = corner_radii_mm(wall)
    outside, inside = (
        min(outside, depth / 2, width / 2),
        max(0.0, min(inside, depth / 2 - wall, width / 2 - wall)),
    )
    area = 2 * wall * (width + depth - 2 * wall) - (4 - math.pi) * (outside**2 - inside**2)
    lost, back = rounded_off(outside), rounded_off(inside)
    lost_arm, back_arm = depth / 2 - lost.from_edge_mm, depth / 2 - wall - back.from_edge_mm
    second_moment = (
        (width * depth**3 - (width - 2 * wall) * (depth - 2 * wall) ** 3) / 12
        - 4 * (lost.second_moment_mm4 + lost.area_mm2 * lost_arm**2)
        + 4 * (back.second_moment_mm4 + back.area_mm2 * back_arm**2)
    )
    plastic = (
        (width * depth**2 - (width - 2 * wall) * (depth - 2 * wall) ** 2) / 4
        - 4 * lost.area_mm2 * lost_arm
        + 4 * back.area_mm2 * back_arm
    )
    return SectionProperties(
        area_mm2=area,
        second_moment_mm4=second_moment,
        elastic_modulus_mm3=2 * second_moment / depth,
        plastic_modulus_mm3=plastic,
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class RoundedOff:
    """What rounding takes from a square corner."""

    area_mm2: MM2
    from_edge_mm: MM
    """Its centroid from the edges of the corner."""
    second_moment_mm4: MM4
    """About its own centroid."""


def rounded_off(radius_mm: MM) -> RoundedOff:
    """Return what a radius takes from a square corner (EN 10219-2:2006, annex B)."""
    return RoundedOff(
        area_mm2=(1 - math.pi / 4) * radius_mm**2,
        from_edge_mm=(10 - 3 * math.pi) / (12 - 3 * math.pi) * radius_mm,
        second_moment_mm4=(1 / 3 - math.pi / 16 - 1 / (3 * (12 - 3 * math.pi))) * radius_mm**4,
    )


def _round(diameter: MM, wall: MM) -> SectionProperties:
    bore = diameter - 2 * wall if wall else 0.0
    second_moment = math.pi / 64 * (diameter**4 - bore**4)
    return SectionProperties(
        area_mm2=math.pi / 4 * (diameter**2 - bore**2),
        second_moment_mm4=second_moment,
        elastic_modulus_mm3=2 * second_moment / diameter,
        plastic_modulus_mm3=(diameter**3 - bore**3) / 6,
    )
