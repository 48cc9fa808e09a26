"""What follows where nobody types it: in its range whatever the rest is, clear of what it must be clear of,
and never what keeps a ramp from being built.
"""

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Any

import pytest
import shapely
from any_design import any_design
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from shapely import affinity
from tries import tries

from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.geometry.lanes import joint_pairs_mm, knuckle_centres_mm, rail_intervals_mm, stop_intervals_mm
from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.geometry.spacing.along import even_pitch, upstand_ends
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.catalogue import section_rows
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import FieldInfo, value_at, walk, with_value
from rampdraft.model.fields.record import Dim, SectionChoice
from rampdraft.model.fields.values import value_problems
from rampdraft.model.section import parse_section
from rampdraft.model.spacing import GIVEN, SPACINGS, fixed, following, follows, freed, idle
from rampdraft.model.starter import starter_design

NAMES = ("barn-stage", "library-trailer", "orchard-trolley", "reed-ferry", "too-steep", "starter")
SIZED = ("inner_leaf", "outer_leaf", "deck_hinge", "joint", "toe", "stop", "rails")
STEPS = 12


def all_freed(name: str) -> Design:
    """Return a sample of which all follows that can, but for a stop plate over the whole width."""
    found = starter_design() if name == "starter" else load_design(samples_folder() / f"{name}.toml")
    for spacing in SPACINGS:
        if follows(found, spacing.values[0]) or (spacing.rule == "stop.bars" and found.stop.count == 1):
            continue
        found = freed(found, spacing.values[0])
    return settled(found)


# It never stands in the way
# --------------------------------------------------------------------------------------


def over_its_range(info: FieldInfo) -> Iterator[Any]:
    record = info.record
    if isinstance(record, SectionChoice):
        yield from (row.section for row in section_rows())
    elif isinstance(record, Dim) and info.value_type is int:
        yield from range(int(record.low), int(record.high) + 1)
    elif isinstance(record, Dim) and not info.many:
        yield from (record.low + (record.high - record.low) * step / STEPS for step in range(STEPS + 1))


@pytest.mark.parametrize("name", NAMES)
def test_no_size_of_a_ramp_is_contradicted_by_what_follows(name: str):
    design = all_freed(name)
    assert not problems_of(design)
    tried = 0
    for path, info, _ in walk(design):
        if path.partition(".")[0] not in SIZED or follows(design, path):
            continue
        for value in over_its_range(info):
            other = settled(with_value(design, path, value))
            wrong = {problem.key.partition("[")[0] for problem in problems_of(other)}
            assert not wrong & following(other), (path, value)
            tried += 1
    assert tried > 500


def test_a_given_leaf_breaks_when_it_is_shortened_and_one_that_follows_does_not():
    design = fixed_all(all_freed("library-trailer"))
    shorter = with_value(design, "inner_leaf.length_mm", 1100.0)
    assert {problem.key for problem in problems_of(settled(shorter))} >= {"inner_leaf.cross_positions_mm[3]"}
    other = settled(with_value(all_freed("library-trailer"), "inner_leaf.length_mm", 1100.0))
    assert not problems_of(other)
    assert len(other.inner_leaf.cross_positions_mm) == 3


def fixed_all(design: Design) -> Design:
    for spacing in SPACINGS:
        design = fixed(design, spacing.values[0])
    return design


@settings(max_examples=tries(25), deadline=None, suppress_health_check=list(HealthCheck))
@given(design=any_design(), words=st.data())
def test_whatever_the_values_are_what_follows_is_in_its_range_and_stays(design: Design, words: st.DataObject):
    for spacing in SPACINGS:
        design = with_value(design, spacing.rule, words.draw(st.sampled_from((GIVEN, *spacing.by))))
    found = settled(design)
    assert settled(found) is found
    for path, info, value in walk(found):
        if follows(found, path):
            assert not value_problems(path, info, value)
        else:
            assert value == value_at(design, path)


def test_where_nothing_follows_it_is_the_design_itself():
    design = fixed_all(starter_design())
    assert settled(design) is design
    assert not following(design)
    assert idle(design) == {path for spacing in SPACINGS for paths in spacing.by.values() for path in paths}


def test_a_new_document_has_the_figures_that_follow():
    start = starter_design()
    assert settled(start) is start
    assert len(following(start)) == sum(len(spacing.values) for spacing in SPACINGS)


@pytest.mark.parametrize("name", NAMES)
def test_fixed_it_stands_as_it_is_and_freed_it_is_as_it_was(name: str):
    design = all_freed(name)
    given_now = fixed_all(design)
    for path, _, value in walk(design):
        if path not in {spacing.rule for spacing in SPACINGS}:
            assert value_at(given_now, path) == value
    for spacing in SPACINGS:
        if not follows(design, spacing.values[0]):
            continue
        again = settled(freed(given_now, spacing.values[0]))
        for path in spacing.values:
            assert value_at(again, path) == pytest.approx(value_at(design, path), abs=1.0), path


# Slats
# --------------------------------------------------------------------------------------


@given(
    room=st.floats(20, 6000),
    width=st.integers(10, 300),
    gap=st.integers(0, 400).map(lambda tenths: tenths / 10),
)
def test_the_fewest_slats_that_keep_the_gap_fill_the_room(room: float, width: int, gap: float):
    """By trying every number of them."""
    assume(room >= width)
    fitting = [
        count
        for count in range(2, int(room / width) + 1)
        if -1e-9 <= (room - count * width) / (count - 1) <= gap + 1e-9
    ]
    pitch = even_pitch(room, width, gap)
    assert pitch >= width
    count = int((room - width) / pitch + 1e-6) + 1
    if fitting:
        assert count == min(fitting)
        assert 0 <= room - width - (count - 1) * pitch <= 0.01 * count
    elif count > 1:
        assert count == int(room / width + 1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_slats_keep_the_clearance_from_knuckles_and_hinge_lines(name: str):
    """Distances by Shapely, of the first and the last slat from discs."""
    design = all_freed(name)
    for leaf, ends in (
        (design.inner_leaf, ((design.deck_hinge, 0.0), (design.joint, design.inner_leaf.length_mm))),
        (design.outer_leaf, ((design.joint, 0.0),)),
    ):
        starts = slat_starts_mm(leaf)
        slats = shapely.MultiPolygon(
            [shapely.box(at, 0, at + leaf.slat_width_mm, leaf.slat_thickness_mm) for at in starts]
        )
        for hinge, u in ends:
            knuckle = shapely.Point(u, hinge.height_mm).buffer(hinge.knuckle_diameter_mm / 2, quad_segs=256)
            line = shapely.LineString([(u, -500), (u, 500)])
            for thing in (knuckle, line):
                assert slats.distance(thing) >= design.fold.clearance_mm - 1e-3
    outer = design.outer_leaf
    if design.toe.kind != "flap":
        assert starts[-1] + outer.slat_width_mm == pytest.approx(outer.length_mm, abs=0.01 * len(starts))


def test_slats_leave_a_stop_plate_its_place():
    design = all_freed("reed-ferry")
    inner, stop = design.inner_leaf, design.stop
    assert inner.slat_last_gap_mm == stop.fixed_length_mm
    assert design.outer_leaf.slat_first_mm == stop.lap_mm + design.fold.clearance_mm + 1
    longer = settled(with_value(design, "stop.lap_mm", stop.lap_mm + 20))
    assert longer.outer_leaf.slat_first_mm == design.outer_leaf.slat_first_mm + 20


# Rails
# --------------------------------------------------------------------------------------


@settings(max_examples=tries(25), deadline=None)
@given(
    name=st.sampled_from(NAMES),
    count=st.integers(2, 8),
    width=st.floats(300, 1800),
    knuckle=st.floats(5, 80),
    inset=st.floats(0, 60),
)
def test_knuckles_interleave(name: str, count: int, width: float, knuckle: float, inset: float):
    design = with_value(all_freed(name), "rails.count", count)
    for path, value in (
        ("inner_leaf.width_mm", width),
        ("outer_leaf.width_mm", width),
        ("joint.knuckle_length_mm", knuckle),
        ("rails.inset_mm", inset),
    ):
        design = with_value(design, path, value)
    design = settled(design)
    inner, outer = design.inner_leaf.rail_lanes_mm, design.outer_leaf.rail_lanes_mm
    assert 2 <= len(inner) == len(outer) <= count
    assert list(inner) == sorted(inner)
    half = (width - design.inner_leaf.rail_section.width_mm) / 2
    assert max(map(abs, inner)) <= half + 1e-6
    mates = [abs(one - other) for one, other in joint_pairs_mm(design)]
    if not problems_of(design):
        assert min(mates) >= knuckle + design.joint.side_gap_mm - 1e-6
        every = sorted((*knuckle_centres_mm(design.inner_leaf), *knuckle_centres_mm(design.outer_leaf)))
        assert all(right - left >= knuckle - 1e-6 for left, right in pairwise(every))


@pytest.mark.parametrize("section", ["box 30x20x2", "box 50x30x3", "box 60x60x3", "box 80x50x3"])
@pytest.mark.parametrize("leaves", [("inner_leaf",), ("outer_leaf",), ("inner_leaf", "outer_leaf")])
def test_other_rails_leave_butting_bars_beside_both_and_room_for_knuckles(
    section: str, leaves: tuple[str, ...]
):
    design = all_freed("library-trailer")
    for leaf in leaves:
        design = with_value(design, f"{leaf}.rail_section", parse_section(section))
        design = with_value(design, f"{leaf}.cross_section", parse_section("box 20x20x2"))
    design = settled(design)
    assert not problems_of(design)
    bar = design.stop.section.width_mm
    for y0, y1 in stop_intervals_mm(design):
        for leaf in (design.inner_leaf, design.outer_leaf):
            gaps = [max(left - y1, y0 - right) for left, right in rail_intervals_mm(leaf)]
            assert min(gaps) == pytest.approx(0, abs=1e-9)
        assert y1 - y0 == pytest.approx(bar)


def test_fewer_rails_where_knuckles_leave_no_room_and_as_many_stop_bars():
    design = all_freed("library-trailer")
    assert len(design.inner_leaf.rail_lanes_mm) == design.stop.count == 4
    narrow = settled(replace_widths(design, 400.0))
    assert len(narrow.inner_leaf.rail_lanes_mm) == narrow.stop.count < 4
    assert not problems_of(narrow)
    assert len(settled(replace_widths(narrow, 860.0)).inner_leaf.rail_lanes_mm) == 4


def replace_widths(design: Design, width: float) -> Design:
    return replace(
        design,
        inner_leaf=replace(design.inner_leaf, width_mm=width),
        outer_leaf=replace(design.outer_leaf, width_mm=width),
    )


# Cross members and upstands
# --------------------------------------------------------------------------------------


def test_cross_members_stand_half_a_spacing_from_the_ends():
    design = with_value(all_freed("barn-stage"), "inner_leaf.length_mm", 1600.0)
    assert settled(design).inner_leaf.cross_positions_mm == (200, 600, 1000, 1400)
    by_spacing = with_value(design, "inner_leaf.cross_members", "spacing")
    by_spacing = with_value(by_spacing, "inner_leaf.cross_greatest_mm", 320.0)
    assert settled(by_spacing).inner_leaf.cross_positions_mm == (160, 480, 800, 1120, 1440)


def test_cross_members_stand_clear_of_the_taper_and_of_one_another():
    design = all_freed("orchard-trolley")
    taper = design.outer_leaf.length_mm - design.toe.length_mm
    half = design.outer_leaf.cross_section.width_mm / 2
    crowded = settled(with_value(design, "outer_leaf.cross_count", 40))
    places = crowded.outer_leaf.cross_positions_mm
    assert len(places) > 8
    assert max(places) <= taper - half
    assert min(b - a for a, b in pairwise(places)) >= 2 * half
    assert not problems_of(crowded)


@settings(deadline=None)
@given(
    out=st.floats(-50, 150), below=st.floats(-100, 200), stowed=st.floats(60, 120), height=st.floats(20, 150)
)
def test_an_upstand_passes_the_deck_as_the_ramp_is_stowed(
    out: float, below: float, stowed: float, height: float
):
    """The leaf is turned step by step, and the distance from the deck measured by Shapely."""
    design = all_freed("barn-stage")
    design = replace(
        design,
        deck_hinge=replace(design.deck_hinge, out_mm=out, below_mm=below),
        fold=replace(design.fold, stowed_deg=stowed),
        inner_leaf=replace(design.inner_leaf, upstand_height_mm=height),
    )
    near, _ = upstand_ends(design, design.inner_leaf, inner=True)
    leaf = design.inner_leaf
    low, top = -design.deck_hinge.height_mm, leaf.slat_thickness_mm + height - design.deck_hinge.height_mm
    # That the leaf itself clears the deck is another matter: only from the level up.
    upstand = shapely.box(near, low, leaf.length_mm, top)
    deck = shapely.box(-4000, below - 4000, -out, below)
    clear = [
        affinity.rotate(upstand, angle, origin=(0, 0)).distance(deck)
        for angle in (stowed * step / 40 for step in range(41))
    ]
    assert min(clear) >= design.fold.clearance_mm - 1e-6


def test_an_upstand_reaches_no_further_from_the_joint_than_the_slats():
    design = all_freed("library-trailer")
    outer, joint = design.outer_leaf, design.joint
    end = outer.length_mm - outer.upstand_end_gap_mm
    top = outer.slat_thickness_mm + outer.upstand_height_mm - joint.height_mm
    assert math.hypot(end, top) <= math.hypot(outer.length_mm, outer.slat_thickness_mm - joint.height_mm)
    assert outer.upstand_end_gap_mm <= 6


def test_the_last_cross_member_stands_where_the_taper_begins():
    design = with_value(all_freed("library-trailer"), "outer_leaf.cross_count", 3)
    design = with_value(design, "outer_leaf.length_mm", 1330.0)
    design = settled(with_value(design, "toe.length_mm", 600.0))
    half = design.outer_leaf.cross_section.width_mm / 2
    assert design.outer_leaf.cross_positions_mm[-1] == 730 - half
    first, second, third = design.outer_leaf.cross_positions_mm
    assert second - first == pytest.approx(2 * first, abs=2)
    assert third - second == pytest.approx(2 * first, abs=2)
