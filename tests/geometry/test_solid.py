"""What cuts leave of a bar: against closed forms, and against slices of the section cut by shapely."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from ramps import base_design

from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.leaves import SQUARE, Notch, cope, rail_outline
from rampdraft.geometry.members.member import EndCut
from rampdraft.geometry.outline import Hole, Outline, Profile, rectangle
from rampdraft.geometry.sections import box_radii_mm, properties, rounded_off
from rampdraft.geometry.solid import solid
from rampdraft.model.section import Section, parse_section

LONG, TAPER, TIP = 1300.0, 600.0, 6.0
KINDS = ("box 60x40x2.5", "box 40x60x4", "flat 60x12", "round 40", "tube 50x3", "timber 45x95")


def tapered(section: Section, tip_mm: float = TIP) -> Profile:
    depth = section.depth_mm
    end = EndCut(kind="taper", height_mm=tip_mm, length_mm=TAPER)
    outline = rail_outline(length_mm=LONG, depth_mm=depth, start=SQUARE, end=end)
    return Profile(Outline(tuple((x, y + depth, bulge) for x, y, bulge in outline.vertices)))


def shape_of(section: Section) -> shapely.Geometry:
    """Return a section as a polygon, its underside at 0, arcs of 512 chords to a quarter."""
    width, depth, wall = section.width_mm, section.depth_mm, section.wall_mm
    if section.kind in ("round", "tube"):
        middle = shapely.Point(0, depth / 2)
        ring = middle.buffer(depth / 2, quad_segs=512)
        return ring.difference(middle.buffer(depth / 2 - wall, quad_segs=512)) if wall else ring
    if section.kind != "box":
        return shapely.box(-width / 2, 0, width / 2, depth)

    def rounded(inset: float, radius: float) -> shapely.Geometry:
        by = inset + radius
        return shapely.box(-width / 2 + by, by, width / 2 - by, depth - by).buffer(radius, quad_segs=512)

    outside, inside = box_radii_mm(section)
    return rounded(0, outside).difference(rounded(wall, inside))


def sliced(section: Section, low: np.ndarray, step: float) -> tuple[float, float]:
    """Return volume and first moment above the underside of slices that begin `low` above it."""
    shape, volume, moment = shape_of(section), 0.0, 0.0
    for cut in low:
        left = shapely.intersection(shape, shapely.box(-500, cut, 500, 500))
        volume += left.area * step
        moment += left.area * left.centroid.y * step
    return volume, moment


@pytest.mark.parametrize("kind", KINDS)
def test_a_taper_by_slices_of_the_section(kind):
    section = parse_section(kind)
    count = 600
    places = (np.arange(count) + 0.5) / count
    volume, moment = sliced(section, places * (section.depth_mm - TIP), TAPER / count)
    whole = properties(section).area_mm2 * (LONG - TAPER)
    found = solid(section, tapered(section))
    assert found.volume_mm3 == pytest.approx(whole + volume, rel=2e-5)
    assert found.centre_mm[1] == pytest.approx(
        (whole * section.depth_mm / 2 + moment) / (whole + volume), rel=2e-5
    )


def test_a_tapered_box_in_closed_form():
    """From the full depth d to t the section loses A(z), so the taper holds L / (d - t) times the integral of
    A from t to d, by parts d A(d) - t A(t) - S(d) + S(t), S the first moment below the top; above t it is a
    top wall and two stumps, with the corners of EN 10219-2.
    """
    section = parse_section("box 60x40x2.5")
    d, t, b, wall = 60.0, 20.0, 40.0, 2.5
    lost, back = rounded_off(5.0), rounded_off(2.5)
    area_t = b * t - (b - 2 * wall) * (t - wall) - 2 * lost.area_mm2 + 2 * back.area_mm2
    first_t = (
        b * t**2 / 2 - (b - 2 * wall) * (t**2 - wall**2) / 2
        - 2 * lost.area_mm2 * lost.from_edge_mm + 2 * back.area_mm2 * (wall + back.from_edge_mm)
    )  # fmt: skip
    area = properties(section).area_mm2
    integral = d * area - t * area_t - area * d / 2 + first_t
    by_hand = area * (LONG - TAPER) + TAPER / (d - t) * integral
    assert solid(section, tapered(section, t)).volume_mm3 == pytest.approx(by_hand, rel=1e-12)
    by_silhouette = area * (LONG - TAPER) + TAPER * area * (d + t) / (2 * d)
    assert abs(by_silhouette - by_hand) > 0.01 * by_hand, "a box has most of its steel in its walls"


@pytest.mark.parametrize("kind", KINDS)
def test_a_whole_bar(kind):
    section = parse_section(kind)
    found = solid(section, Profile(rectangle(0, 0, LONG, section.depth_mm)))
    assert found.volume_mm3 == pytest.approx(properties(section).area_mm2 * LONG, rel=1e-9)
    assert found.centre_mm == pytest.approx((LONG / 2, section.depth_mm / 2))


def test_a_cope_and_a_notch_by_columns_of_the_section():
    """Columns of the profile, each with what its stretches up the depth hold of the section."""
    section = parse_section("box 60x40x2.5")
    end, notch = cope(30.0, -20.0, 60.0), Notch(centre_mm=150.0, width_mm=25.0, depth_mm=20.0)
    outline = rail_outline(length_mm=300.0, depth_mm=60.0, start=end, end=SQUARE, notches=(notch,))
    profile = Profile(Outline(tuple((x, y + 60, bulge) for x, y, bulge in outline.vertices)))
    area, shape = properties(section).area_mm2, shape_of(section)
    volume = area * (300 - 30 - 25)
    volume += 25 * shapely.intersection(shape, shapely.box(-500, 20, 500, 500)).area
    count = 400
    for place in (np.arange(count) + 0.5) / count:
        half = math.sqrt(30**2 - (30 * place) ** 2)
        gone = shapely.box(-500, max(0.0, 40 - half), 500, 40 + half)
        volume += shapely.difference(shape, gone).area * 30 / count
    assert solid(section, profile).volume_mm3 == pytest.approx(volume, rel=2e-5)


def test_a_hole_across_a_pin():
    """Chords of the pin, 20 thick, over a hole of 6: by strips of the hole."""
    section = parse_section("round 20")
    profile = Profile(rectangle(0, 0, 100, 20), (Hole(50, 10, 6),))
    count = 20000
    places = ((np.arange(count) + 0.5) / count - 0.5) * 6
    hole = (2 * np.sqrt(9 - places**2) * 2 * np.sqrt(100 - places**2)).sum() * 6 / count
    assert solid(section, profile).volume_mm3 == pytest.approx(math.pi * 100 * 100 - hole, rel=1e-7)


def test_the_rails_of_a_ramp_weigh_what_is_left_of_them():
    """An open taper of steel box 60x40x2.5: as integrated above, and its centre with it."""
    design = base_design()
    section = parse_section("box 60x40x2.5")
    design = replace(
        design,
        toe=replace(design.toe, kind="taper", length_mm=300.0, thickness_mm=TIP, closed=False),
        outer_leaf=replace(design.outer_leaf, rail_section=section),
    )
    rail = next(one for one in assemble(design).members if one.key == "outer rail 1")
    found = solid(section, rail.piece.profile)
    assert design.made_of.rails.startswith("steel")
    assert rail.mass_kg == pytest.approx(7850e-9 * found.volume_mm3)
    assert rail.centre_mm[2] == pytest.approx(found.centre_mm[1] - 60)


def test_half_lapped_cross_members_hang_lower():
    design = base_design()
    leaf = replace(design.inner_leaf, cross_fitting="half_lap", half_lap_mm=10.0)
    members = assemble(replace(design, inner_leaf=leaf)).members
    cross = next(one for one in members if one.key.startswith("inner cross member"))
    assert cross.centre_mm[2] < cross.silhouette.area_and_centroid()[1][1] - 0.1
