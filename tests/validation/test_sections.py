"""Hollow sections against the published rows of EN 10219-2:2006, annex B (cold formed): kg/m, cm2, cm4, cm3.

Each value must agree to half a unit of its last published digit.
"""

import math

import pytest

from rampdraft.geometry.sections import (
    corner_radii_mm,
    cut_from_below,
    holed,
    properties,
    torsion_constant_mm4,
)
from rampdraft.model.section import Section, parse_section

STEEL_KG_M3 = 7850
"""EN 10219-2:2006, 7: the density that the masses of its tables are computed with."""


def agrees(found: float, published: str) -> bool:
    digits = len(published.partition(".")[2])
    return abs(found - float(published)) <= 0.5 * 10**-digits + 1e-9


# depth first: the row of a rectangular section gives the strong axis (h upright) and the weak one (b upright)
ROWS = [
    ("box 20x20x2", "1.34", "0.692", "0.692", "0.877"),
    ("box 40x40x3", "4.21", "9.32", "4.66", "5.72"),
    ("box 60x40x3", "5.41", "25.38", "8.46", "10.53"),
    ("box 40x60x3", "5.41", "13.44", "6.72", "7.94"),
]


@pytest.mark.parametrize(("text", "area_cm2", "second_moment_cm4", "elastic_cm3", "plastic_cm3"), ROWS)
def test_rows_of_en_10219_2(
    text: str, area_cm2: str, second_moment_cm4: str, elastic_cm3: str, plastic_cm3: str
) -> None:
    found = properties(parse_section(text))
    assert agrees(found.area_mm2 / 1e2, area_cm2)
    assert agrees(found.second_moment_mm4 / 1e4, second_moment_cm4)
    assert agrees(found.elastic_modulus_mm3 / 1e3, elastic_cm3)
    assert agrees(found.plastic_modulus_mm3 / 1e3, plastic_cm3)


@pytest.mark.parametrize(("text", "mass_kg_m"), [("box 20x20x2", "1.05"), ("box 40x40x3", "3.30")])
def test_mass_of_a_metre_in_en_10219_2(text: str, mass_kg_m: str) -> None:
    found = properties(parse_section(text))
    assert agrees(found.area_mm2 * 1e-6 * STEEL_KG_M3, mass_kg_m)


def test_a_published_value_wrong_by_one_digit_is_noticed() -> None:
    found = properties(parse_section("box 40x40x3")).second_moment_mm4 / 1e4
    assert agrees(found, "9.32")
    assert not agrees(found, "9.33")


@pytest.mark.parametrize(
    ("wall_mm", "outside", "inside"),
    [(2, 4, 2), (6, 12, 6), (6.01, 15.025, 9.015), (10, 25, 15), (12.5, 37.5, 25)],
)
def test_corner_radii_of_en_10219_2(wall_mm: float, outside: float, inside: float) -> None:
    assert corner_radii_mm(wall_mm) == pytest.approx((outside, inside))


def test_solid_sections_by_the_formulas_of_any_handbook() -> None:
    flat = properties(Section(kind="flat", depth_mm=30, width_mm=10))
    assert (
        flat.area_mm2,
        flat.second_moment_mm4,
        flat.elastic_modulus_mm3,
        flat.plastic_modulus_mm3,
    ) == pytest.approx((300, 10 * 30**3 / 12, 10 * 30**2 / 6, 10 * 30**2 / 4))
    tube = properties(parse_section("tube 30x3"))
    bar, bore = properties(parse_section("round 30")), properties(parse_section("round 24"))
    assert tube.area_mm2 == pytest.approx(bar.area_mm2 - bore.area_mm2)
    assert tube.second_moment_mm4 == pytest.approx(bar.second_moment_mm4 - bore.second_moment_mm4)
    assert tube.plastic_modulus_mm3 == pytest.approx(bar.plastic_modulus_mm3 - bore.plastic_modulus_mm3)
    assert bar.plastic_modulus_mm3 == pytest.approx(30**3 / 6)


def test_a_hole_in_the_top_takes_its_width_times_the_wall() -> None:
    """By the parallel axis theorem: 11 x 2 mm taken out 19 mm above the middle of a box 40x20x2."""
    box = parse_section("box 40x20x2")
    whole, found = properties(box), holed(box, 11)
    area = whole.area_mm2 - 22
    down = 22 * 19 / area
    second = whole.second_moment_mm4 - 11 * 2**3 / 12 - 22 * 19**2 - area * down**2
    assert found.area_mm2 == pytest.approx(area)
    assert found.second_moment_mm4 == pytest.approx(second)
    assert found.elastic_modulus_mm3 == pytest.approx(second / (20 + down))
    assert holed(box, 30) == holed(box, 16)  # no more than is between the walls


@pytest.mark.parametrize(("text", "hole_mm"), [("box 40x20x2", 0), ("flat 40x20", 11), ("tube 40x2", 11)])
def test_without_a_hole_or_in_another_bar_all_is_left(text: str, hole_mm: float) -> None:
    section = parse_section(text)
    whole, found = properties(section), holed(section, hole_mm)
    assert (found.area_mm2, found.second_moment_mm4, found.elastic_modulus_mm3) == pytest.approx(
        (whole.area_mm2, whole.second_moment_mm4, whole.elastic_modulus_mm3)
    )


@pytest.mark.parametrize(
    ("text", "torsion_cm4"),
    [
        ("box 40x40x3", "15.8"),
        ("box 60x40x3", "29.3"),
    ],
)
def test_torsion_constants_of_en_10219_2(text: str, torsion_cm4: str) -> None:
    """From memory: the column It of the rows above."""
    assert agrees(torsion_constant_mm4(parse_section(text)) / 1e4, torsion_cm4)


@pytest.mark.parametrize(
    ("sides", "factor"), [(1, 0.1406), (1.5, 0.196), (2, 0.229), (3, 0.263), (4, 0.281), (10, 0.312)]
)
def test_torsion_of_rectangles(sides: float, factor: float) -> None:
    """Timoshenko and Goodier, Theory of Elasticity, article 109: J = factor a b^3 (from memory)."""
    for depth, width in ((10 * sides, 10), (10, 10 * sides)):
        flat = Section(kind="flat", depth_mm=depth, width_mm=width)
        assert torsion_constant_mm4(flat) == pytest.approx(factor * sides * 10**4, rel=0.006)


def test_torsion_of_round_bars_and_of_open_boxes() -> None:
    """Twice the second moment of a round bar; of an open box each wall by itself, l t^3 / 3."""
    for text in ("round 20", "tube 30x3"):
        section = parse_section(text)
        assert torsion_constant_mm4(section) == pytest.approx(2 * properties(section).second_moment_mm4)
    box = parse_section("box 40x20x2")
    assert torsion_constant_mm4(box, depth_mm=30, closed=False) == pytest.approx((20 + 2 * 28) * 8 / 3)
    assert torsion_constant_mm4(box, depth_mm=3.9) == pytest.approx((20 + 2 * 1.9) * 8 / 3)


def test_torsion_of_a_closed_taper_is_that_of_a_box_so_deep() -> None:
    whole, left = parse_section("box 60x40x3"), parse_section("box 40x40x3")
    assert torsion_constant_mm4(whole, depth_mm=40) == pytest.approx(torsion_constant_mm4(left))


@pytest.mark.parametrize("text", ["box 10x10x3", "box 12x10x3", "box 10x14x3"])
def test_corners_of_thick_boxes_are_no_wider_than_their_walls_leave_room_for(text: str) -> None:
    """K and h of EN 10219-2, annex B, with the middle line's corners of (b - T) / 2 instead of 1.5 T."""
    section = parse_section(text)
    wall, depth, width = (
        section.wall_mm,
        section.depth_mm - section.wall_mm,
        section.width_mm - section.wall_mm,
    )
    radius = min(depth, width) / 2
    assert radius < 1.5 * wall
    around = 2 * (depth + width) - (8 - 2 * math.pi) * radius
    within = depth * width - (4 - math.pi) * radius**2
    torsion = wall**3 * around / 3 + 4 * within**2 * wall / around
    assert torsion_constant_mm4(section) == pytest.approx(torsion)


def test_of_a_closed_taper_no_deeper_than_its_corners_two_plates_are_left() -> None:
    """A box 60x40x3, corners 6 outside and 3 inside, cut to 8: the plate between the corners, 28 x 3, and the
    one that closes it, 34 x 3, 5 mm apart.
    """
    found = cut_from_below(parse_section("box 60x40x3"), 8.0, closed=True)
    upper, lower = 28 * 3, 34 * 3
    middle = (upper * 1.5 + lower * 6.5) / (upper + lower)
    second = (28 + 34) * 27 / 12 + upper * (middle - 1.5) ** 2 + lower * (6.5 - middle) ** 2
    assert found.area_mm2 == pytest.approx(upper + lower)
    assert found.second_moment_mm4 == pytest.approx(second)
    assert found.elastic_modulus_mm3 == pytest.approx(second / max(middle, 8 - middle))
