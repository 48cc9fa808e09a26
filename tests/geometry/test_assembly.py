"""The list of members: closed shapes, masses another way, mirrored hands, and what a larger scale does to all
of it.
"""

import math
from collections import Counter
from dataclasses import fields, is_dataclass, replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import shapely
from any_design import buildable_designs
from hypothesis import HealthCheck, given, settings
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.files.design_file import load_design
from rampdraft.geometry.lanes import PIN_TAIL_MM
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Member
from rampdraft.geometry.outline import Outline, Profile
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.catalogue import material_named, section_rows
from rampdraft.model.design import FREE, ON_THE_ROAD, Design, Site
from rampdraft.model.fields.paths import fields_of, with_value
from rampdraft.model.fields.record import Dim
from rampdraft.model.section import Section

SAMPLES = sorted((Path(__file__).parents[2] / "samples").glob("*.toml"))
NAMES = [*(path.stem for path in SAMPLES), "starter", "half-lapped", "under", "propped"]


@cache
def design_named(name: str) -> Design:
    for path in SAMPLES:
        if path.stem == name:
            return load_design(path)
    design = timber_ramp()
    if name == "propped":
        return with_value(design, "prop.fitted", value=True)
    if name in ("half-lapped", "under"):
        for leaf in ("inner_leaf", "outer_leaf"):
            design = with_value(
                design, f"{leaf}.cross_fitting", "half_lap" if name == "half-lapped" else "under"
            )
            design = with_value(design, f"{leaf}.half_lap_mm", 12.0)
    return design


def polygon(outline: Outline, within_mm: float = 1e-4) -> shapely.Polygon:
    return shapely.Polygon(outline.points(within_mm))


def assert_shapes_are_closed_simple_and_counter_clockwise(design: Design, within_mm: float = 1e-4):
    seen: set[Outline] = set()
    for member in assemble(design).members:
        for outline in {member.silhouette, member.piece.profile.outline} - seen:
            seen.add(outline)
            shape = polygon(outline, within_mm)
            assert shape.is_valid, member.key
            assert shape.exterior.is_ccw, member.key
            corners = [(x, y) for x, y, _ in outline.vertices]
            assert all(math.dist(*side) > 1e-6 for side in pairwise((*corners, corners[0]))), member.key
            assert outline.area_and_centroid()[0] == pytest.approx(shape.area, rel=within_mm)
            assert outline.area_and_centroid()[0] > 0
        assert member.y0_mm < member.y1_mm
        assert member.mass_kg > 0
        for hole in member.piece.profile.holes:
            assert polygon(member.piece.profile.outline, within_mm).contains(
                shapely.Point(hole.x_mm, hole.y_mm).buffer(hole.diameter_mm / 2)
            )


@pytest.mark.parametrize("name", NAMES)
def test_every_shape_is_closed_simple_and_counter_clockwise(name):
    assert_shapes_are_closed_simple_and_counter_clockwise(design_named(name))


@settings(max_examples=tries(15), deadline=None, suppress_health_check=list(HealthCheck))
@given(design=buildable_designs())
def test_every_shape_of_any_ramp_is_closed_simple_and_counter_clockwise(design: Design):
    assert_shapes_are_closed_simple_and_counter_clockwise(design, within_mm=0.01)


TOUCHING_RAILS = {"outer_leaf.rail_lanes_mm": (-20.0, 0.0, 342.0)}
ADJOINING = {"outer_leaf.cross_positions_mm": (150.0, 170.0)}
AT_THE_END = {"outer_leaf.cross_positions_mm": (150.0, 1290.0)}


@pytest.mark.parametrize("name", ["between", "half-lapped", "under"])
@pytest.mark.parametrize("changes", [TOUCHING_RAILS, ADJOINING, AT_THE_END])
def test_where_parts_touch_no_shape_has_a_side_of_no_length(name, changes):
    design = design_named(name)
    for path, value in changes.items():
        design = with_value(design, path, value)
    assert_shapes_are_closed_simple_and_counter_clockwise(design)


def test_cross_members_stand_only_between_rails_that_leave_room():
    design = with_value(timber_ramp(), "outer_leaf.rail_lanes_mm", (-20.0, 0.0, 342.0))
    crosses = [m for m in assemble(design).members if m.key.startswith("outer cross member 1")]
    assert [(m.y0_mm, m.y1_mm) for m in crosses] == [(10.0, 332.0)]


def test_notches_that_touch_are_one():
    design = with_value(design_named("half-lapped"), "outer_leaf.cross_positions_mm", (150.0, 170.0))
    rail = next(m for m in assemble(design).members if m.key == "outer rail 1")
    roof = {x for x, y, _ in rail.silhouette.vertices if y == -40 + 12 and x}
    assert roof == {140.0, 180.0}
    assert [mark.what for mark in rail.piece.marks] == ["notch 40 wide 12 deep, underside, centre"]


@pytest.mark.parametrize("leaf", ["inner_leaf", "outer_leaf"])
def test_notches_of_rail_and_cross_member_are_marked_where_they_meet(leaf):
    """Each from the datum end of its own piece: the rail's hinge centre is not its end."""
    design = design_named("half-lapped")
    one, body = getattr(design, leaf), leaf.partition("_")[0]
    members = {member.key: member for member in assemble(design).members}
    cross = members[f"{body} cross member 1"]
    first = one.rail_lanes_mm[0] - one.rail_section.width_mm / 2
    assert cross.y0_mm == first
    assert [mark.at_mm for mark in cross.piece.marks] == pytest.approx([y - first for y in one.rail_lanes_mm])
    assert {mark.what for mark in cross.piece.marks} == {"notch 20 wide 12 deep, top, centre"}
    for number in range(1, len(one.rail_lanes_mm) + 1):
        rail = members[f"{body} rail {number}"]
        datum = min(x for x, _, _ in rail.silhouette.vertices)
        assert [mark.at_mm for mark in rail.piece.marks] == pytest.approx(
            [at - datum for at in one.cross_positions_mm]
        )


def test_screws_of_a_slat_are_over_the_rails():
    design = design_named("starter")
    slat = next(member for member in assemble(design).members if member.key == "inner slat 1")
    leaf = design.inner_leaf
    assert [mark.at_mm for mark in slat.piece.marks] == [y + leaf.width_mm / 2 for y in leaf.rail_lanes_mm]
    assert {mark.what.partition(",")[0] for mark in slat.piece.marks} == {"2 holes Ø5.5 through"}
    assert {(hole.x_mm, hole.y_mm) for hole in slat.piece.profile.holes} == {
        (y + leaf.width_mm / 2, across) for y in leaf.rail_lanes_mm for across in (23.75, 71.25)
    }


def test_pins_are_drilled_for_split_pins_half_way_along_their_tails():
    pins = [member for member in assemble(timber_ramp()).members if member.role == "pin"]
    assert pins
    for pin in pins:
        holes = sorted(hole.x_mm for hole in pin.piece.profile.holes)
        assert holes == pytest.approx([PIN_TAIL_MM / 2, pin.piece.length_mm - PIN_TAIL_MM / 2])
        assert [mark.at_mm for mark in pin.piece.marks] == pytest.approx(holes)


def test_a_taper_plate_lies_flush_with_the_cut_and_is_as_thick_as_the_wall():
    """From the rail's underside, 40 deep, to 10 at the tip, 300 further out."""
    design = timber_ramp()
    assert design.outer_leaf.rail_section == Section(kind="box", depth_mm=40, width_mm=20, wall_mm=2)
    toe = replace(design.toe, kind="taper", length_mm=300.0, thickness_mm=10.0, closed=True)
    plates = [m for m in assemble(replace(design, toe=toe)).members if m.role == "taper plate"]
    assert len(plates) == 3
    long = math.hypot(300, 30)
    for plate in plates:
        shape = polygon(plate.silhouette)
        cut = shapely.LineString(((1000, -40), (1300, -10)))
        assert shape.exterior.intersection(cut.buffer(1e-6)).length == pytest.approx(long, abs=1e-3)
        assert shape.area == pytest.approx(2 * long)
        assert shape.minimum_rotated_rectangle.area == pytest.approx(2 * long)
        assert plate.piece.length_mm == pytest.approx(long)
        assert plate.y1_mm - plate.y0_mm == pytest.approx(20 - 2 * 2)


def test_butting_bars_share_their_gap():
    """Bars are cut to 80 mm, and set with a feeler: half of the gap of 0.5 lies before either."""
    design = timber_ramp()
    bars = [member for member in assemble(design).members if member.role == "stop bar"]
    assert {member.key.rpartition(" ")[0] for member in bars} == {"inner stop bar", "outer stop bar"}
    assert {bar.piece.length_mm for bar in bars} == {80}
    ends = {
        bar.body: (min(x for x, *_ in bar.silhouette.vertices), max(x for x, *_ in bar.silhouette.vertices))
        for bar in bars
    }
    assert ends == {"inner": (1269.75, 1349.75), "outer": (0.25, 80.25)}


@pytest.mark.parametrize(
    ("under", "keys"),
    [("outer", ["prop left", "prop right"]), ("all", ["prop left", "prop 2", "prop right"])],
)
def test_props_are_named_left_and_right_and_by_number_between(under, keys):
    design = with_value(design_named("propped"), "prop.under", under)
    members = assemble(design).members
    assert [member.key for member in members if member.role == "prop"] == keys
    feet = [member.key for member in members if member.role == "prop foot"]
    assert feet == [key.replace("prop", "prop foot") for key in keys]
    numbers = [member.tag.number for member in members if member.role == "prop"]
    assert numbers == [2 if key == "prop 2" else 0 for key in keys]


@pytest.mark.parametrize(("knuckle_mm", "thick_mm"), [(40.0, 4.0), (43.5, 0.5), (43.6, None)])
def test_washers_fill_the_gap_between_knuckles_from_half_a_mm(knuckle_mm, thick_mm):
    """Lanes at the joint lie 44 apart."""
    design = with_value(timber_ramp(), "joint.knuckle_length_mm", knuckle_mm)
    washers = [m for m in assemble(design).members if m.role == "washer" and m.tag.hinge == "joint"]
    assert len(washers) == (0 if thick_mm is None else 3)
    for washer, middle in zip(washers, (-364.0, 22.0, 364.0), strict=False):
        assert (washer.y0_mm, washer.y1_mm) == pytest.approx((middle - thick_mm / 2, middle + thick_mm / 2))
        assert washer.piece.length_mm == pytest.approx(thick_mm)


@pytest.mark.parametrize("name", NAMES)
def test_keys_are_unique_and_each_member_lies_in_its_leaf(name):
    design = design_named(name)
    members = assemble(design).members
    assert len({member.key for member in members}) == len(members)
    widest = design.carrier.opening_width_mm / 2
    for member in members:
        if member.body in ("inner", "outer") and member.role not in ("pin", "knuckle", "washer"):
            assert -widest - 1e-6 <= member.y0_mm
            assert member.y1_mm <= widest + 1e-6


# Masses
# ----------------------------------------------------------------------------------------------------------

ACROSS_THE_PROFILE = {
    "rail": "width",
    "cross member": "width",
    "edge upstand": "width",
    "stop bar": "width",
    "latch": "width",
    "latch hook": "width",
    "prop": "width",
    "slat": "depth",
    "taper plate": "depth",
    "toe flap": "depth",
    "bridge plate": "depth",
    "bridge strip": "depth",
    "prop foot": "depth",
}
"""Which size of the section stands square to the profile."""


LAYERS = 1200


@cache
def by_layers(section: Section, profile: Profile) -> tuple[float, float, float]:
    """Return volume and centre of a box or round bar, by thin layers of its profile, each with the mean width
    of the section there.

    Walls up to 6 mm: corners 2 T outside, 1 T inside (EN 10219-2, annex B).
    """
    wall, depth, width = section.wall_mm, section.depth_mm, section.width_mm
    if section.kind == "box":
        assert wall <= 6
        around = shapely.box(2 * wall, 2 * wall, width - 2 * wall, depth - 2 * wall)
        across = around.buffer(2 * wall, quad_segs=200).difference(around.buffer(wall, quad_segs=200))
    else:
        assert section.kind == "round"
        across = shapely.Point(width / 2, depth / 2).buffer(depth / 2, quad_segs=400)
    low = np.arange(LAYERS) * depth / LAYERS
    layers = shapely.box(-1e4, low, 1e4, low + depth / LAYERS)
    along = polygon(profile.outline)
    for hole in profile.holes:
        along = along.difference(shapely.Point(hole.x_mm, hole.y_mm).buffer(hole.diameter_mm / 2, 200))
    parts = shapely.intersection(along, layers)
    volume = shapely.area(parts) * shapely.area(shapely.intersection(across, layers)) / (depth / LAYERS)
    centres = shapely.centroid(parts)
    moments = (np.nansum(volume * axis(centres)) for axis in (shapely.get_x, shapely.get_y))
    whole = float(volume.sum())
    return whole, *(float(moment) / whole for moment in moments)


def mass_another_way(design: Design, member: Member) -> float:
    """Return kg from the drawn profile: by layers for box sections and pins, a plate of its thickness for
    solids.
    """
    piece, density = member.piece, material_named(design, member.piece.material).density_kg_m3
    holes = sum(math.pi * hole.diameter_mm**2 / 4 for hole in piece.profile.holes)
    area = polygon(piece.profile.outline).area - holes
    if piece.section.kind == "box" or member.role == "pin":  # drawn from its side
        return by_layers(piece.section, piece.profile)[0] * density * 1e-9
    if piece.section.kind == "round":
        return area * piece.length_mm * density * 1e-9  # drawn from its end
    across = piece.section.width_mm if ACROSS_THE_PROFILE[member.role] == "width" else piece.section.depth_mm
    return area * across * density * 1e-9


@pytest.mark.parametrize("name", NAMES)
def test_masses_from_the_profiles(name):
    design = design_named(name)
    for member in assemble(design).members:
        assert member.mass_kg == pytest.approx(mass_another_way(design, member), rel=1e-4), member.key


def test_rails_by_the_published_mass_of_a_metre():
    """kg/m of EN 10219-2 as the catalogue holds it, three digits, times what the drawn profile has of the
    depth.
    """
    published = {row.section: row.mass_kg_m for row in section_rows() if row.mass_kg_m}
    tried = 0
    for name in NAMES:
        for member in assemble(design_named(name)).members:
            if (
                member.role == "rail"
                and member.piece.section in published
                and "steel" in member.piece.material
            ):
                area = polygon(member.piece.profile.outline).area
                metres = area / member.piece.section.depth_mm / 1000
                assert member.mass_kg == pytest.approx(published[member.piece.section] * metres, rel=5e-3), (
                    member.key
                )
                tried += 1
    assert tried > 10


@pytest.mark.parametrize("name", NAMES)
def test_bodies_are_the_sums_of_their_members(name):
    assembly = assemble(design_named(name))
    for body, sum_ in (("inner", assembly.inner), ("outer", assembly.outer)):
        members = assembly.of(body)
        assert sum_.mass_kg == pytest.approx(math.fsum(member.mass_kg for member in members))
        for axis in range(3):
            moment = math.fsum(member.mass_kg * member.centre_mm[axis] for member in members)
            assert sum_.centre_mm[axis] * sum_.mass_kg == pytest.approx(moment)
    apart = [
        member for member in assembly.members if member.body == "loose" or member.kin.words[0] == "bridge"
    ]
    assert assembly.loose_kg == pytest.approx(math.fsum(member.mass_kg for member in apart))
    counted = {member.key for member in (*assembly.of("inner", "outer"), *apart)}
    left = {member.role for member in assembly.members if member.key not in counted}
    assert left <= {"knuckle"}, "only the carrier's own knuckles belong to no mass of the ramp"


@pytest.mark.parametrize("name", NAMES)
def test_centres_lie_where_polygons_have_them(name):
    for member in assemble(design_named(name)).members:
        u, w = polygon(member.silhouette).centroid.coords[0]
        y = (member.y0_mm + member.y1_mm) / 2
        piece, low = member.piece, polygon(member.silhouette).bounds
        if piece.section.kind == "box" and member.role == "rail":
            _, along, up = by_layers(piece.section, piece.profile)
            u, w = low[0] + along, up - piece.section.depth_mm
        elif member.role == "cross member":
            if piece.section.kind == "box":
                _, along, up = by_layers(piece.section, piece.profile)
            else:
                along, up = polygon(piece.profile.outline).centroid.coords[0]
            y, w = member.y0_mm + along, low[1] + up
        assert math.dist(member.centre_mm, (u, y, w)) < 0.01, member.key


# Mirror
# ----------------------------------------------------------------------------------------------------------


def is_mirrored(lanes: tuple[float, ...]) -> bool:
    return 0 not in lanes and sorted(lanes) == sorted(-lane for lane in lanes)


def hand(member: Member, sense: int) -> tuple[object, ...]:
    y = sorted((round(sense * member.y0_mm, 6), round(sense * member.y1_mm, 6)))
    return member.role, member.body, member.silhouette, member.piece.length_mm, *y, round(member.mass_kg, 9)


@pytest.mark.parametrize("name", [*NAMES, "two rails"])
def test_a_symmetric_ramp_has_the_same_members_left_and_right(name):
    if name == "two rails":
        design = with_value(
            with_value(timber_ramp(), "inner_leaf.rail_lanes_mm", (-386, 386)), "stop.count", 2
        )
        design = with_value(design, "outer_leaf.rail_lanes_mm", (-342, 342))
    else:
        design = design_named(name)
    if not (is_mirrored(design.inner_leaf.rail_lanes_mm) and is_mirrored(design.outer_leaf.rail_lanes_mm)):
        pytest.skip("its rails are not laid out symmetrically")
    assembly = assemble(replace(design, hold_down=FREE, road=ON_THE_ROAD))  # latches are on one side
    assert Counter(hand(member, 1) for member in assembly.members) == Counter(
        hand(member, -1) for member in assembly.members
    )
    assert assembly.inner.centre_mm[1] == pytest.approx(0, abs=1e-9)
    assert assembly.outer.centre_mm[1] == pytest.approx(0, abs=1e-9)


def test_some_ramps_are_symmetric():
    assert sum(is_mirrored(design_named(name).outer_leaf.rail_lanes_mm) for name in NAMES) >= 3


# Scale
# ----------------------------------------------------------------------------------------------------------


def scaled(group, factor: float):
    """Return a group of a design with every length, wherever its record says mm, and every section larger by
    a factor.
    """
    changes: dict[str, object] = {}
    for info in fields_of(type(group)):
        value = getattr(group, info.name)
        if isinstance(value, Section):
            changes[info.name] = replace(
                value,
                depth_mm=value.depth_mm * factor,
                width_mm=value.width_mm * factor,
                wall_mm=value.wall_mm * factor,
            )
        elif info.group is not None:
            changes[info.name] = scaled(value, factor)
        elif info.rows is not None:
            changes[info.name] = tuple(scaled(row, factor) for row in value)
        elif isinstance(info.record, Dim) and info.record.unit == "mm":
            changes[info.name] = times(value, factor)
    return replace(group, **changes)


def times(value, factor: float):
    return tuple(times(one, factor) for one in value) if isinstance(value, tuple) else value * factor


OF_FIXED_SIZE = ("pin", "prop foot", "prop", "prop inner tube", "bridge strip", "latch", "latch hook")
"""A latch is as large as its load wants; a pin's tail for its split pin, the plate of a prop's foot, the tube
that is sold to go into another and the holes of screws do not grow with the ramp.
"""


@pytest.mark.parametrize("factor", [1.5, 2.0])
@pytest.mark.parametrize("name", NAMES)
def test_a_ramp_k_times_as_large_weighs_k_cubed(name, factor):
    design = with_value(design_named(name), "workshop.slat_screw_mm", 0.0)
    small, large = (
        [member for member in assemble(one).members if member.role not in OF_FIXED_SIZE]
        for one in (design, scaled(design, factor))
    )
    assert [member.key for member in small] == [member.key for member in large]
    for a, b in zip(small, large, strict=True):
        assert b.mass_kg == pytest.approx(a.mass_kg * factor**3, rel=1e-9), a.key
        for one, other in ((a.silhouette, b.silhouette), (a.piece.profile.outline, b.piece.profile.outline)):
            assert len(one.vertices) == len(other.vertices)
            for (x, y, bulge), (xk, yk, bulge_k) in zip(one.vertices, other.vertices, strict=True):
                assert (xk, yk, bulge_k) == pytest.approx((x * factor, y * factor, bulge), abs=1e-6)
        assert (b.y0_mm, b.y1_mm) == pytest.approx((a.y0_mm * factor, a.y1_mm * factor))


@pytest.mark.parametrize("name", NAMES)
def test_a_ramp_twice_as_large_stands_at_the_same_angle(name):
    design = design_named(name)
    large = scaled(design, 2.0)
    for site, twice in zip(design.sites, large.sites, strict=True):
        a, b = (
            stand(design, assemble(design), site, 1, 20.0),
            stand(large, assemble(large), twice, 1, 40.0),
        )
        assert b.pose.inner_rad == pytest.approx(a.pose.inner_rad, abs=1e-9)
        assert b.whole.rise_mm == pytest.approx(2 * a.whole.rise_mm)
        assert b.toe_step_mm == pytest.approx(2 * a.toe_step_mm, abs=1e-6)


def test_every_length_of_a_design_has_a_record_in_mm():
    """Or the scaled design above would not be one; the names of fields say their unit."""

    def look(group) -> int:
        seen = 0
        for field, info in zip(fields(group), fields_of(type(group)), strict=True):
            value = getattr(group, field.name)
            if is_dataclass(value) and not isinstance(value, Section):
                seen += look(value)
            elif isinstance(info.record, Dim):
                assert (info.record.unit == "mm") == field.name.endswith("_mm"), field.name
                seen += 1
        return seen

    assert look(timber_ramp()) > 60
    assert look(Site(name="a", kind="ground", ground_mm=((0, 0),))) == 3
