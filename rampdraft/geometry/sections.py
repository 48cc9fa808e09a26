"""Properties of a section from its sizes: area, second moment and moduli for bending about the level axis.

What a cut leaves of it: a notch or a taper that takes the underside away, a screw hole in the top.

Hollow sections with the corner radii and formulas of EN 10219-2:2006, annex B; solid ones by the formulas of
any handbook.
"""

import math
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from typing import Final

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


def box_radii_mm(section: Section) -> tuple[MM, MM]:
    """Return (outside, inside) corner radius of a box, no more than it has room for."""
    depth, width, wall = section.depth_mm, section.width_mm, section.wall_mm
    outside, inside = corner_radii_mm(wall)
    return (
        min(outside, depth / 2, width / 2),
        max(0.0, min(inside, depth / 2 - wall, width / 2 - wall)),
    )


def _box(section: Section) -> SectionProperties:
    depth, width, wall = section.depth_mm, section.width_mm, section.wall_mm
    outside, inside = box_radii_mm(section)
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


@lru_cache(maxsize=1024)
def torsion_constant_mm4(section: Section, *, depth_mm: MM | None = None, closed: bool = True) -> MM4:
    """Return the torsion constant of a section, or of what a taper leaves of it, `depth_mm` deep from the
    top.

    Hollow: EN 10219-2:2006, annex B, T3 h / 3 + 2 K Ah with K = 2 Ah T / h; round ones twice the second
    moment. Solid: Roark, table 10.1, a b3 (1/3 - 0.21 b/a (1 - b4 / 12 a4)). An open box: the sum of its
    walls, b T3 / 3.
    """
    depth = section.depth_mm if depth_mm is None else depth_mm
    width, wall = section.width_mm, section.wall_mm
    if section.kind in ("round", "tube"):
        return 2 * _round(depth, min(wall, depth / 2)).second_moment_mm4
    if section.kind != "box":
        a, b = max(depth, width), min(depth, width)
        return a * b**3 * (1 / 3 - 0.21 * b / a * (1 - b**4 / (12 * a**4)))
    if not closed or depth <= 2 * wall:
        return (width + 2 * max(0.0, depth - wall)) * wall**3 / 3
    radius = min(1.5 * wall, (depth - wall) / 2, (width - wall) / 2)
    around = 2 * (depth - wall + width - wall) - 2 * radius * (4 - math.pi)
    within = (depth - wall) * (width - wall) - radius**2 * (4 - math.pi)
    return wall**3 * around / 3 + 4 * within**2 * wall / around


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


_RISE: Final = 0.5 - math.sqrt(0.5**2 - 0.2**2)
"""How deep an arc is, of its diameter, where its chord is 0.4 of that: what is counted of a round bar that is
cut.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class NetSection:
    """What is left of a section, bent about the level axis through its own centroid."""

    area_mm2: MM2
    second_moment_mm4: MM4
    elastic_modulus_mm3: MM3
    """The lesser of both sides."""
    depth_mm: MM


@lru_cache(maxsize=4096)  # of a design's rails, asked at every place along them
def cut_from_below(section: Section, depth_left_mm: MM, *, closed: bool = False) -> NetSection:
    """Return what is left of a section of which only the top `depth_left_mm` remain.

    A box keeps its top wall and stumps of its sides, with the corners of EN 10219-2; `closed` says that a
    plate of the wall's thickness is welded between them. Of a tube or round bar, and of a box cut into its
    upper corners, only a plate between the corners is counted, and of a closed box both plates, held apart by
    what is left of the sides.
    """
    depth = min(depth_left_mm, section.depth_mm)
    if depth >= section.depth_mm:
        whole = properties(section)
        return NetSection(
            area_mm2=whole.area_mm2,
            second_moment_mm4=whole.second_moment_mm4,
            elastic_modulus_mm3=whole.elastic_modulus_mm3,
            depth_mm=depth,
        )
    outside, inside = _radii(section)
    wall, width = section.wall_mm, section.width_mm
    deep = depth >= (2 * wall + inside if closed else max(outside, wall + inside))
    if section.kind == "box" and deep:
        hollow = width - 2 * wall
        corner, back = rounded_off(outside), rounded_off(inside)
        # Parts (area, distance of the centroid below the top, second moment about it); what is cut away
        # counts negative.
        parts = (
            (width * depth, depth / 2, width * depth**3 / 12),
            (-hollow * (depth - wall), (depth + wall) / 2, -hollow * (depth - wall) ** 3 / 12),
            (-2 * corner.area_mm2, corner.from_edge_mm, -2 * corner.second_moment_mm4),
            (2 * back.area_mm2, wall + back.from_edge_mm, 2 * back.second_moment_mm4),
        )
        if closed:
            parts += ((hollow * wall, depth - wall / 2, hollow * wall**3 / 12),)
        return _composed(parts, depth)
    if section.kind in ("flat", "timber"):
        return _composed(((width * depth, depth / 2, width * depth**3 / 12),), depth)
    plate = max(width - 2 * outside, 0.2 * width)
    if section.kind == "box" and closed and depth >= 2 * wall:
        hollow = width - 2 * wall
        below = (hollow * wall, depth - wall / 2, hollow * wall**3 / 12)
        return _composed(((plate * wall, wall / 2, plate * wall**3 / 12), below), depth)
    thick = min(depth, 2 * wall if closed else wall) if wall else depth
    if section.kind == "round":  # the plate begins where the arc is as wide as it
        thick = max(depth - _RISE * section.depth_mm, 0.01 * depth)
    left = _composed(((plate * thick, thick / 2, plate * thick**3 / 12),), thick)
    if section.kind != "box":
        return left
    # What hangs from the plate stiffens it little, but is strained first: it is as far from the middle.
    farthest = max(thick / 2, depth - thick / 2)
    return replace(left, elastic_modulus_mm3=left.second_moment_mm4 / farthest)


def holed(section: Section, hole_mm: MM) -> NetSection:
    """Return what a hole through the top wall leaves of a box; another section is taken as whole.

    A screw fills its hole in a solid bar or a timber on the side in compression (EN 1993-1-1, 6.2.5(6); EN
    1995-1-1, 5.2).
    """
    whole = properties(section)
    gross = (whole.area_mm2, section.depth_mm / 2, whole.second_moment_mm4)
    if section.kind != "box" or hole_mm <= 0:
        return _composed((gross,), section.depth_mm)
    hole, wall = min(hole_mm, section.width_mm - 2 * section.wall_mm), section.wall_mm
    return _composed((gross, (-hole * wall, wall / 2, -hole * wall**3 / 12)), section.depth_mm)


def _radii(section: Section) -> tuple[MM, MM]:
    if section.kind == "box":
        return corner_radii_mm(section.wall_mm)
    return (section.depth_mm * 0.3, 0.0) if section.kind in ("round", "tube") else (0.0, 0.0)


def _composed(parts: tuple[tuple[MM2, MM, MM4], ...], depth: MM) -> NetSection:
    """Return a section made of parts: (area, depth of its centroid, second moment about it)."""
    area = sum(part for part, _, _ in parts)
    centre = sum(part * at for part, at, _ in parts) / area
    second = sum(own + part * (at - centre) ** 2 for part, at, own in parts)
    return NetSection(
        area_mm2=area,
        second_moment_mm4=second,
        elastic_modulus_mm3=second / max(centre, depth - centre),
        depth_mm=depth,
    )
