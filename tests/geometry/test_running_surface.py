"""The running surface at a place across: outlines worked out by hand, and any ramp's against shapely."""

import math
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely
from any_design import buildable_designs
from hypothesis import given, settings
from hypothesis import strategies as st
from plain_clearance import changed, designs, ground_area, placed, polygon
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.geometry.bridge import bridge_placing
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Pose, moved
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.running_surface import (
    HAIR_MM,
    Gap,
    RunningSurface,
    Stretch,
    gaps,
    laid_out,
    laid_straight,
    running_surface,
    strips_mm,
    treads,
)
from rampdraft.mechanics.standing.standing import stand
from rampdraft.model.design import Site
from rampdraft.model.section import parse_section

TIMBER = timber_ramp()
FERRY = changed(
    designs()["reed-ferry"],
    stop__section=parse_section("flat 10x900"),
    stop__fixed_length_mm=213,
    stop__lap_mm=96,
    outer_leaf__slat_width_mm=120,
    outer_leaf__slat_pitch_mm=132,
)
YARD = Site(name="Yard", kind="ground", ground_mm=((0, 0), (4000, 0)))


def straight(design, y):
    return running_surface(assemble(design), laid_straight(design), y)


def told(stretches):
    return [
        (one.owner, *(tuple(round(value, 6) for value in point) for point in one.points)) for one in stretches
    ]


def test_timber_slats_between_the_rails():
    """Slats of 95 at a pitch of 105 from 4, on both leaves of 1350 and 1300; the flap at the end."""
    surface = straight(TIMBER, 250.0)
    starts = (("inner", 0), ("outer", 1350))
    slats = [(f"{leaf} slat {k + 1}", start + 4 + 105 * k) for leaf, start in starts for k in range(12)]
    expected = [(name, (x, 18.0), (x + 95, 18.0)) for name, x in slats]
    assert told(surface.treads) == [*expected, ("outer toe flap", (2650, 18.0), (2830, 18.0))]
    widths = [gap.width_mm for gap in gaps(surface.treads)]
    assert widths == pytest.approx([*[10] * 11, 100, *[10] * 11, 46])


def test_on_a_rail_it_lies_in_the_gaps_and_goes_on_bare_beyond_the_last_slat():
    plain = changed(TIMBER, toe__kind="plain")
    on_rail = told(straight(plain, 44.0).stretches)  # a lane of the outer leaf, 20 wide
    assert ("outer rail 2", (1449, 0), (1459, 0)) in on_rail
    assert on_rail[-2:] == [("outer slat 12", (2509, 18), (2604, 18)), ("outer rail 2", (2604, 0), (2650, 0))]
    beside = told(straight(plain, 60.0).stretches)
    assert beside[-1] == ("outer slat 12", (2509, 18), (2604, 18))


def test_stop_bars_at_the_joint_where_y_meets_them():
    """Between lanes 386 and 342 a bar of 24 lies about 364; its edge is 40 above a centre of -43: at -3. The
    gap of 0.5 is shared, and slats begin 4 beyond the hinge line.
    """
    surface = straight(TIMBER, 364.0)
    assert ("inner stop bar 3", (1269.75, -3), (1349.75, -3)) in told(surface.treads)
    seen = told(surface.stretches)
    first = [owner for owner, *_ in seen].index("inner slat 12")
    owners = [owner for owner, *_ in seen[first : first + 5]]
    shown = ["inner slat 12", "inner stop bar 3", "joint washer 3", "outer stop bar 3", "outer slat 1"]
    assert owners == shown
    assert ("outer stop bar 3", (1350.25, -3), (1354, -3)) in seen
    assert (1350, -28) in seen[first + 2]
    widths = {(gap.before.owner, gap.after.owner): gap.width_mm for gap in gaps(surface.treads)}
    assert widths["inner slat 12", "inner stop bar 3"] == pytest.approx(15.75)
    assert widths["inner stop bar 3", "outer stop bar 3"] == pytest.approx(0.5)
    assert widths["outer stop bar 3", "outer slat 1"] < 0


def test_the_ferrys_stop_plate_closes_the_joint():
    """A plate 10 thick at 0.4 from 213 before the hinge line to 96 beyond it; slats 6 thick end at 1124 and
    go on at 1343 + 104.
    """
    surface = straight(FERRY, 0.0)
    plate = ("inner stop bar 1", (1130, 10.4), (1439, 10.4))
    assert plate in told(surface.stretches)
    widths = [gap.width_mm for gap in gaps(surface.treads)]
    assert widths == pytest.approx([*[5] * 8, 6, 8, *[12] * 8])


def test_a_level_ramp_from_the_deck_to_the_ground():
    """Level at a deck height of 420 with its hinge 44 out, the slats are flush; the bridge plate of 160 by 4
    is half of it a strip on the deck, and the flap ends at 44 + 1350 + 1300 + 180.
    """
    laid = laid_out(TIMBER, ground_line(YARD), Pose(0.0, 0.0), 0.0, flap_rad=0.0, bridge_rad=0.0)
    found = told(running_surface(assemble(TIMBER), laid, 250.0).stretches)
    deck = -TIMBER.carrier.deck_length_mm
    assert found[:6] == [
        ("deck", (deck, 420), (-80, 420)),
        ("bridge strip", (-80, 424), (0, 424)),
        ("bridge plate", (0, 424), (80, 424)),
        ("inner slat 1", (80, 420), (143, 420)),
        ("ground", (143, 0), (153, 0)),
        ("inner slat 2", (153, 420), (248, 420)),
    ]
    assert found[-2:] == [
        ("outer toe flap", (2694, 420), (2874, 420)),
        ("ground", (2874, 0), (4000, 0), (104000, 0)),
    ]


def test_beyond_the_slats_there_is_nothing_but_an_upstand_until_the_ground():
    laid = laid_out(TIMBER, ground_line(YARD), Pose(0.0, 0.0), 0.0, flap_rad=0.0, bridge_rad=0.0)
    bare = changed(TIMBER, inner_leaf__rail_lanes_mm=(-386, 0, 450))
    for design, y, owners in (
        (TIMBER, 500.0, ["deck", "ground"]),
        (TIMBER, 432.0, ["deck", "ground", "inner edge upstand right"]),
        (bare, 455.0, ["deck", "ground", "inner rail 3"]),
    ):
        surface = running_surface(assemble(design), laid, y)
        seen = [one.owner for one in surface.stretches]
        assert set(owners) <= set(seen)
        assert not any("slat" in owner for owner in seen)
        assert [one.owner for one in surface.treads] == ["deck"]


def test_what_lies_in_a_gap_is_cut_off_at_its_ends():
    surface = straight(TIMBER, 44.0)
    gap = next(gap for gap in gaps(surface.treads) if gap.before.owner == "outer slat 3")
    assert told(surface.within(gap)) == [("outer rail 2", (1659, 0), (1669, 0))]
    laid = laid_out(TIMBER, ground_line(YARD), Pose(0.0, 0.0), 0.0, flap_rad=0.0, bridge_rad=0.0)
    between = running_surface(assemble(TIMBER), laid, 250.0)
    gap = next(gap for gap in gaps(between.treads) if gap.before.owner == "outer slat 3")
    assert told(between.within(gap)) == [("ground", (44 + 1659, 0), (44 + 1669, 0))]


@pytest.mark.parametrize(
    ("ends", "points"),
    [
        ((4.0, 16.0), [(4, 10), (10, 25), (16, 10)]),
        ((-5.0, 30.0), [(0, 0), (10, 25), (20, 0)]),
        ((10.0, 12.0), [(10, 25), (12, 20)]),
        ((20.0, 30.0), None),
        ((-9.0, 0.0), None),
    ],
)
def test_a_ridge_in_a_gap_is_cut_where_the_gap_ends(ends, points):
    def tread(x: float) -> Stretch:
        return Stretch(owner="slat", kind="slat", points=((x, 9.0), (x, 9.0)))

    ridge = Stretch(owner="knuckle", kind="knuckle", points=((0.0, 0.0), (10.0, 25.0), (20.0, 0.0)))
    surface = RunningSurface(y_mm=0.0, treads=(), stretches=(ridge,))
    gap = Gap(before=tread(ends[0]), after=tread(ends[1]), width_mm=ends[1] - ends[0])
    found = [list(one.points) for one in surface.within(gap)]
    assert found == ([] if points is None else [points])


def test_strips_are_told_apart_by_stop_bars_and_slivers_are_left_out():
    """Three bars of 24 about -364, 22 and 364 on slats from -430 to 430."""
    assert strips_mm(assemble(TIMBER), 10.0) == (-403.0, -364.0, -171.0, 22.0, 193.0, 364.0, 403.0)
    assert strips_mm(assemble(TIMBER), 54.0) == (-171.0, 193.0)


@given(
    buildable_designs() | st.sampled_from(sorted(designs())).map(designs().get),
    st.floats(-1.1, 1.1),
    st.booleans(),
    st.data(),
)
@settings(max_examples=tries(25), deadline=None)
def test_it_is_the_upper_edge_of_all_that_y_meets(design, across, sinks, data):
    assembly, site = assemble(design), data.draw(st.sampled_from(design.sites))
    found = stand(design, assembly, site, 1, 20.0 if sinks else None)
    y = across * max(design.inner_leaf.width_mm, design.outer_leaf.width_mm) / 2
    laid = laid_out(
        design,
        ground_line(site),
        found.pose,
        found.drop_mm,
        flap_rad=found.flap_rad,
        bridge_rad=found.bridge_lie.angle_rad if found.bridge_lie else 0.0,
    )
    surface = running_surface(assembly, laid, y)
    met = {
        one.key: one
        for one in assembly.of("carrier", "inner", "outer")
        if one.y0_mm - HAIR_MM <= y <= one.y1_mm + HAIR_MM
    }

    for before, after in pairwise(surface.stretches):
        assert before.points[-1][0] <= after.points[0][0] + 1e-9
    for one in surface.stretches:
        assert one.owner in ("deck", "ground") or one.kind == met[one.owner].role
        assert all(a[0] <= b[0] for a, b in pairwise(one.points))

    shapes = [shape_of(design, member, found) for member in met.values()]
    low, high = laid.deck.points
    shapes += [ground_area(site), shapely.box(low[0], -3e4, high[0], high[1])]
    whole = shapely.union_all([shapely.make_valid(shape) for shape in shapes])
    for one in surface.stretches:
        for (x0, z0), (x1, z1) in pairwise(one.points):
            if x1 - x0 > 0.01:
                x, z = (x0 + x1) / 2, (z0 + z1) / 2
                line = whole.intersection(shapely.LineString(((x, -2e4), (x, 1e5))))
                assert line.bounds[3] == pytest.approx(z, abs=0.06 * math.hypot(1, (z1 - z0) / (x1 - x0))), (
                    one.owner,
                    x,
                )


def shape_of(design, member, found):
    if member.role == "bridge plate":
        return polygon(
            moved(member.silhouette, bridge_placing(design, assemble(design), found.pose, found.drop_mm))
        )
    shape = flap_outline(design, found.flap_rad) if member.role == "toe flap" else member.silhouette
    return placed(design, polygon(shape), member.body, found.pose, found.drop_mm)


def test_treads_are_the_same_whole_however_it_lies():
    laid = laid_out(TIMBER, ground_line(YARD), Pose(-0.14, 0.0), 10.0, flap_rad=0.2, bridge_rad=0.0)
    lying = [one for one in treads(assemble(TIMBER), laid, 0.0) if one.kind == "slat"]
    flat = [one for one in treads(assemble(TIMBER), laid_straight(TIMBER), 0.0) if one.kind == "slat"]
    assert [one.owner for one in lying] == [one.owner for one in flat]
    for one, other in zip(lying, flat, strict=True):
        assert math.dist(*one.points) == pytest.approx(math.dist(*other.points))
    assert replace(lying[0], points=()) == replace(flat[0], points=())
