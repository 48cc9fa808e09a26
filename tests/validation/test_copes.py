"""Copes and half-laps against what is common practice in the workshop, and against shapely."""

from math import pi

import pytest
from shapely import Point, Polygon, box
from timber_ramp import timber_ramp

from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.leaves import SQUARE, cope, rail_outline
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section


def test_a_40_mm_hole_saw_on_the_top_corner_of_a_20_mm_rail():
    """Common practice: it cuts exactly from 20 mm back at the top to the bottom corner."""
    cut = cope(20, 0, 20)
    assert (cut.kind, cut.length_mm) == ("cope", 20)
    outline = rail_outline(length_mm=500, depth_mm=20, start=SQUARE, end=cut)
    corners = {(round(x, 9), round(y, 9)) for x, y, _ in outline.vertices}
    assert corners == {(0, 0), (0, -20), (500, -20), (480, 0)}
    # A quarter of the circle is gone, and nothing else.
    assert outline.area_and_centroid()[0] == pytest.approx(500 * 20 - pi * 20**2 / 4, abs=1e-9)


def test_a_half_lap_10_mm_deep_sets_a_20_mm_cross_member_flush():
    """Common practice: half the depth from each of two members 20 mm deep."""
    design = timber_ramp()
    for leaf in ("inner_leaf", "outer_leaf"):
        for name, value in {
            "rail_section": parse_section("flat 20x20"),
            "cross_section": parse_section("flat 20x20"),
            "cross_fitting": "half_lap",
            "half_lap_mm": 10,
        }.items():
            design = with_value(design, f"{leaf}.{name}", value)
    members = {member.key: member for member in assemble(design).members}
    rail, crossing = members["inner rail 1"], members["inner cross member 2"]
    _, rail_low, _, rail_top = rail.silhouette.box
    _, low, _, top = crossing.silhouette.box
    assert (low, top) == pytest.approx((rail_low, rail_top), abs=1e-9)
    # Each gives up half: together they fill the crossing once, with no gap and nothing twice.
    notch = Polygon(box(*crossing.silhouette.box)).difference(Polygon(rail.silhouette.points(0.01)))
    assert notch.area == pytest.approx(20 * 10, abs=1e-6)
    lanes = len(design.inner_leaf.rail_lanes_mm)
    length = crossing.piece.length_mm
    assert crossing.piece.profile.outline.area_and_centroid()[0] == pytest.approx(
        length * 20 - lanes * 20 * 10, abs=1e-6
    )


@pytest.mark.parametrize("height", [-43, -40, -30, -20, -5, 0, 7, 14])
@pytest.mark.parametrize("radius", [12, 15, 17, 25])
def test_a_coped_rail_is_the_bar_less_the_circle_of_the_hole_saw(radius, height):
    """Second opinion by shapely: material is left where (u - u_h)^2 + (w - w_h)^2 >= R^2."""
    ends = cope(radius, height, 40), cope(radius, height, 40)
    outline = rail_outline(length_mm=400, depth_mm=40, start=ends[0], end=ends[1])
    bar = box(0, -40, 400, 0)
    for u in (0, 400):
        bar = bar.difference(Point(u, height).buffer(radius, quad_segs=20000))
    assert outline.area_and_centroid()[0] == pytest.approx(bar.area, abs=1e-4)
    drawn = Polygon(outline.points(1e-6))
    assert drawn.is_valid
    # A saw that leaves tips above and below cuts a bay: shapely and the outline agree on it.
    assert drawn.symmetric_difference(bar).area == pytest.approx(0, abs=2e-2)


@pytest.mark.parametrize(
    "height", [-25, -24.999999999999996, -25.000000000000004, -15, -14.999999999999998, -15.000000000000002]
)
def test_a_hole_saw_that_just_touches_an_edge_cuts_its_half_circle(height):
    """Rounding at the tangent neither fails nor loses the arc."""
    outline = rail_outline(length_mm=400, depth_mm=40, start=cope(15, height, 40), end=SQUARE)
    assert outline.area_and_centroid()[0] == pytest.approx(400 * 40 - pi * 15**2 / 2, abs=1e-6)
