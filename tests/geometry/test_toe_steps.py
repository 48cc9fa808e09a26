"""The steps at the toe, against the running surface walked along at every place across."""

import math
from itertools import combinations, pairwise

import pytest
from any_design import buildable_designs
from hypothesis import given, settings
from hypothesis import strategies as st
from plain_clearance import changed, designs
from tries import tries
from written_starter import all_given

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.running_surface import bare_rails_mm, laid_out, running_surface
from rampdraft.mechanics.standing.standing import stand

TRAILER = changed(all_given(designs()["library-trailer"]), outer_leaf__slat_pitch_mm=112)
"""Its last slat ends 106 before the tip."""


def walked(design, number, drop_mm, y):
    """Return the greatest jump of the outline at y from the last slat, or the toe flap, on."""
    site, assembly = design.sites[number - 1], assemble(design)
    pose = stand(design, assembly, site, number, drop_mm)
    laid = laid_out(
        design, ground_line(site), pose.pose, pose.drop_mm, flap_rad=pose.flap_rad, bridge_rad=0.0
    )
    seen = running_surface(assembly, laid, y).stretches
    wanted = "toe flap" if design.toe.kind == "flap" else "slat"
    last = max(place for place, one in enumerate(seen) if one.kind == wanted)
    line = [(*point, one.kind) for one in seen[last:] for point in one.points]
    # An end face that leans is no stretch of its own: what is less than 3 along is one step. A step of the
    # ground beyond the ramp is none of its own.
    pairs = [(a, b) for a, b in combinations(line, 2) if b[0] - a[0] < 3 and a[2] != "ground"]
    return pose, max(abs(b[1] - a[1]) for a, b in pairs)


def places_across(design):
    lanes, half = design.outer_leaf.rail_lanes_mm, design.outer_leaf.rail_section.width_mm / 2
    between = [(a + b) / 2 for a, b in pairwise(lanes) if b - a > 2.5 * half]
    return (*(lane + 0.6 * half for lane in lanes), *between)


@pytest.mark.parametrize("name", [*sorted(designs()), "bare"])
def test_the_greatest_step_is_met_by_some_wheel_and_no_wheel_meets_more(name):
    design = TRAILER if name == "bare" else designs()[name]
    for number in range(1, len(design.sites) + 1):
        for drop_mm in (None, design.carrier.deck_drop_mm):
            found = [walked(design, number, drop_mm, y) for y in places_across(design)]
            pose = found[0][0]
            if pose.reaches and pose.grounds_at_toe:
                assert abs(pose.toe_step_mm) == pytest.approx(max(step for _, step in found), abs=0.3)


@settings(max_examples=tries(10), deadline=None)
@given(buildable_designs(), st.integers(1, 9))
def test_any_ramps_wheels_meet_no_more(design, number):
    if bare_rails_mm(design) <= 0:
        return
    number = min(number, len(design.sites))
    for y in places_across(design):
        pose, step = walked(design, number, None, y)
        if pose.reaches and pose.grounds_at_toe:
            assert step <= abs(pose.toe_step_mm) + 0.3


def test_between_the_rails_the_last_slat_stands_high_over_the_ground():
    """The library trailer with its slats ending at 1224 of 1330: their edge is 106 up the slope from the tip,
    whose 5 and the slat's 8 come on top.
    """
    pose = evaluate(TRAILER).sites[0]
    slope = -(pose.pose.inner_rad + pose.pose.fold_rad)
    # The tip's corner is on the ground: back from there along the leaf, and out of it by the tip and a slat.
    assert pose.toe_step_mm == pytest.approx(106 * math.sin(slope) + (5 + 8) * math.cos(slope))
    assert pose.toe_step_mm == pytest.approx(28.8, abs=0.1)
    (opening,) = (c for c in evaluate(TRAILER).checks if c.id == "us-vehicle-2016/opening")
    assert opening.value == 106
    assert opening.fails


def test_at_the_knee_of_its_taper_it_does_not_stand_on_its_toe():
    """The library trailer's deck at 250: the slope is less than the taper's, 55 in 568, so its knee comes
    down first and the tip hangs.
    """
    design = changed(TRAILER, carrier__deck_height_mm=250)
    pose = evaluate(design).sites[0]
    slope = math.tan(-(pose.pose.inner_rad + pose.pose.fold_rad))
    assert slope < 55 / 568
    assert not pose.grounds_at_toe
    assert pose.short_of_tip
    hangs = (55 - 568 * slope) * math.cos(math.atan(slope))
    assert pose.tip_above_mm == pytest.approx(hangs)
    (check,) = (c for c in evaluate(design).checks if c.id == "own/toe/site-1-empty")
    assert check.fails


def test_a_tip_that_rocks_by_a_hair_stands():
    """As the slope comes near the taper's the tip comes down; up to 2 mm it counts as standing."""
    hangs = [
        (pose.tip_above_mm, pose.grounds_at_toe)
        for height in range(250, 300, 2)
        if (pose := evaluate(changed(TRAILER, carrier__deck_height_mm=height)).sites[0]).reaches
    ]
    assert all(stands == (above <= 2.0) for above, stands in hangs)
    assert {stands for _, stands in hangs} == {True, False}
