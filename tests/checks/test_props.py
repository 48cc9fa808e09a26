"""A prop that is kicked, and stands by friction alone or is tied; and one that its holes leave short."""

import math
from dataclasses import replace

import pytest
import shapely
from ramps import base_design, base_poses, checks, rule_set, standing_in

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths, samples_folder
from rampdraft.geometry.linkage import moved, placings
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section


def kicked(least_prop_n: float, *, tied: bool) -> Check:
    """Return the check of a prop that the empty ramp presses down so hard."""
    design = with_value(with_value(base_design(), "prop.fitted", value=True), "prop.tied", tied)
    found = evaluate(replace(design, use=replace(design.use, rule_sets=())))
    joint = replace(found.carried.joint, least_prop_n=least_prop_n)
    there = standing_in(found, carried=replace(found.carried, joint=joint))
    return next(check for check in there.checks if check.id == "own/prop-kick")


@pytest.mark.parametrize(("factor", "stands"), [(0.5, False), (0.99, False), (1.0, True), (1.01, True)])
def test_a_prop_stands_a_push_of_200_newtons(factor: float, stands: bool) -> None:
    """By friction of 0.3 on a wet foot plate (common practice)."""
    check = kicked(factor * 200 / 0.3, tied=False)
    assert check.status is (Status.WITHIN if stands else Status.EXCEEDS)
    assert f"F = mu N = 0.3 x {round(factor * 200 / 0.3)} N = {round(200 * factor)} N" in check.working[1]


def test_a_tied_prop_stands_however_light_the_ramp() -> None:
    check = kicked(0.0, tied=True)
    assert check.status is Status.WITHIN
    assert check.value_text == "tied at both ends"


def propped(*, slack_mm: float, cross_slope_percent: float = 0.0) -> Design:
    design = base_design()
    prop = replace(
        design.prop, fitted=True, section=parse_section("box 40x40x3"), shortest_mm=225, longest_mm=360,
        pin_diameter_mm=12, slack_mm=slack_mm,
    )  # fmt: skip
    sites = tuple(replace(site, cross_slope_percent=cross_slope_percent) for site in design.sites)
    return replace(design, prop=prop, sites=sites)


def at_rooms(design: Design, *rooms_mm: float) -> dict[str, Check]:
    sites = tuple(replace(one, joint_room_mm=rooms_mm[one.site_number - 1]) for one in base_poses())
    return checks(rule_set("us-building"), design=design, sites=sites)


@pytest.mark.parametrize(
    ("room", "status"),
    [
        (0.99 * 225, Status.EXCEEDS), (225, Status.WITHIN), (300, Status.WITHIN), (0.99 * 360, Status.CLOSE),
        (360, Status.CLOSE), (1.01 * 360, Status.EXCEEDS),
    ],
)  # fmt: skip
def test_prop_must_reach_at_each_site(room: float, status: Status) -> None:
    found = at_rooms(propped(slack_mm=0), room, room, room)
    reach = {key: check.status for key, check in found.items() if key.startswith("own/prop/")}
    assert reach == {f"own/prop/site-{number}-empty": status for number in (1, 2, 3)}


@pytest.mark.parametrize(
    ("factor", "status"), [(0.99, Status.CLOSE), (1.0, Status.CLOSE), (1.01, Status.EXCEEDS)]
)
def test_a_prop_may_stand_short_by_what_strength_is_worked_out_with(factor: float, status: Status) -> None:
    """Two pairs of walls of a box take two settings near to each other, a third has to share a hole: holes of
    one pair stand 2.2 d0 = 27.5 mm apart (EN 1993-1-8, table 3.3, from memory).
    """
    off = factor * (4 + 1)  # the pins' play, common practice
    found = at_rooms(propped(slack_mm=4), 300, 300 + off, 300 + 2 * off)
    short = {number: found[f"own/prop-short/site-{number}-empty"] for number in (1, 2, 3)}
    assert [one.value for one in short.values()] == pytest.approx([0, off, 0])
    assert short[2].status is status
    assert bool(short[2].why) is (status is Status.EXCEEDS)
    gentle, dropped = base_poses()[2].inner, found["us-building/running-slope/site-2-empty"].value
    rise, length = gentle.rise_mm + off, math.hypot(gentle.rise_mm, gentle.going_mm)
    assert dropped == pytest.approx(rise / math.sqrt(length**2 - rise**2)), "the joint drops so much"


def test_ground_that_falls_across_asks_for_props_of_two_lengths() -> None:
    """2 % over the way from one rail to the other; the toe stands on its higher corner."""
    design = propped(slack_mm=0, cross_slope_percent=2)
    found = at_rooms(design, 300, 300, 300)["own/prop-short/site-1-empty"]
    lanes, half = design.inner_leaf.rail_lanes_mm, design.outer_leaf.width_mm / 2
    lines = [f"rail {n}: room {300 + 0.02 * (lanes[n - 1] + half):.1f} mm" for n in (1, len(lanes))]
    for line in lines:
        assert any(one.startswith(line.replace(".0 mm", " mm")) for one in found.working), found.working
    assert found.value == 0, "each prop is drilled for its own side"


def test_a_prop_that_reaches_under_one_rail_only_does_not_reach() -> None:
    design = propped(slack_mm=0, cross_slope_percent=2)
    below = 360 - 0.02 * design.outer_leaf.width_mm / 2 - 1
    found = at_rooms(design, below, 300, 300)
    assert found["own/prop/site-1-empty"].status is Status.EXCEEDS
    assert "own/prop-short/site-1-empty" not in found


@pytest.mark.parametrize(
    ("factor", "reaches"), [(0.99, False), (1 - 1e-15, True), (1.0, True), (1 + 1e-15, True), (1.01, True)]
)
def test_a_prop_of_one_piece_goes_under_where_there_is_room(factor: float, reaches: bool) -> None:
    """Whatever range is given: with no pin nothing makes it shorter."""
    design = with_value(propped(slack_mm=0), "prop.pin_diameter_mm", 0.0)
    found = at_rooms(design, 360 * factor, 360, 360)
    reach = found["own/prop/site-1-empty"]
    assert reach.status is (Status.CLOSE if reaches else Status.EXCEEDS)
    assert ("one piece" in reach.why) is not reaches
    assert ("own/prop-short/site-1-empty" in found) is reaches


@pytest.mark.parametrize(("factor", "stands"), [(0.99, True), (1.0, True), (1.01, False)])
def test_two_sites_that_ask_for_two_heights_fail_a_prop_of_one_piece(factor: float, stands: bool) -> None:
    """A solid one, pin or not: it is cut to the lower of them, and stands short at the other."""
    design = with_value(propped(slack_mm=4), "prop.section", parse_section("round 40"))
    design = with_value(design, "prop.longest_mm", 300.0)
    off = factor * (4 + 1)  # the pins' play, common practice
    found = at_rooms(design, 300, 300 + off, 300)
    short = found["own/prop-short/site-2-empty"]
    assert short.value == pytest.approx(off)
    assert short.status is (Status.CLOSE if stands else Status.EXCEEDS)
    assert ("one piece" in short.why) is not stands
    assert found["own/prop/site-2-empty"].status is Status.CLOSE, "it goes under"


def test_the_worse_of_two_props_of_one_piece_tells_whether_they_go_under() -> None:
    """On ground that falls across one has room to spare, while the other does not go under."""
    design = with_value(propped(slack_mm=0, cross_slope_percent=2), "prop.pin_diameter_mm", 0.0)
    lanes, half = design.inner_leaf.rail_lanes_mm, design.outer_leaf.width_mm / 2
    rooms = [0.02 * (lane + half) for lane in (min(lanes), max(lanes))]
    between = 360 - sum(rooms) / 2
    found = at_rooms(design, between, 400, 400)["own/prop/site-1-empty"]
    assert found.status is Status.EXCEEDS
    assert found.value == pytest.approx(between + rooms[0])


def sinking(sinks_mm: float) -> Evaluation:
    """Return the trolley with its springs left out, whose deck edge sinks by so much once loaded."""
    path = next(path for path in sample_paths() if path.stem == "orchard-trolley")
    trolley = load_design(path)
    carrier = replace(trolley.carrier, deck_drop_mm=sinks_mm)
    return evaluate(replace(trolley, carrier=carrier, supports=()), path.parent)


@pytest.mark.parametrize("sinks_mm", [10.0, 40.0, 80.0])
def test_a_prop_that_stays_set_holds_the_joint_up_as_the_deck_sinks(sinks_mm: float) -> None:
    """On level ground the joint stays where it is, so the outer leaf lies as it did with the deck empty, and
    the inner one alone is gentler: by plane geometry.
    """
    found = sinking(sinks_mm)
    empty, loaded = (found.site_pose(1, state) for state in ("empty", "loaded"))
    borne = found.props_set.borne(loaded)
    assert found.props_set.borne(empty) == empty
    assert borne.outer.ratio == pytest.approx(empty.outer.ratio, rel=2e-3)
    assert loaded.outer.ratio < 0.98 * empty.outer.ratio, "straight on it would be gentler"
    length = math.hypot(empty.inner.rise_mm, empty.inner.going_mm)
    rise = length * math.sin(math.atan(empty.inner.ratio)) - sinks_mm
    assert borne.inner.ratio == pytest.approx(math.tan(math.asin(rise / length)), abs=1e-3)
    where = placings(found.design, borne.pose, borne.drop_mm)
    foot = found.design.outer_leaf.length_mm, -found.design.outer_leaf.rail_section.depth_mm
    assert where["outer"].z_mm == pytest.approx(placings(found.design, empty.pose)["outer"].z_mm, abs=1)
    assert where["outer"].angle_rad == pytest.approx(empty.pose.inner_rad + empty.pose.fold_rad, abs=1e-3)
    assert where["outer"].point(*foot)[1] == pytest.approx(
        placings(found.design, empty.pose)["outer"].point(*foot)[1], abs=1.5
    )
    check = next(one for one in found.checks if one.id == "own/prop-short/site-1-loaded")
    assert (check.value, check.status) == (0.0, Status.WITHIN)
    assert any("holds the joint up by" in line for line in check.working)
    assert not any(one.id == "own/prop/site-1-loaded" for one in found.checks), "nobody sets it anew then"


def test_users_roll_over_the_joint_where_its_props_hold_it() -> None:
    """The props' length does not change, so wherever the deck is the joint stands as high above level ground
    as with the deck empty, and the toe stays on it. Was rolled over as if both leaves lay straight on.
    """
    path = next(path for path in sample_paths() if path.stem == "orchard-trolley")
    found = evaluate(load_design(path), path.parent)
    set_mm = next(one.set_mm for one in found.props_set.sets if one.site_number == 1)
    states: set[str] = set()
    for roll in found.rolling:
        assert isinstance(roll, Roll)
        if roll.site_number == 1:
            for pose in (stretch.pose for stretch in roll.stretches):
                states.add(pose.state)
                assert pose.joint_room_mm == pytest.approx(set_mm, abs=0.15)
                assert pose.toe_step_mm == pytest.approx(found.sites[0].toe_step_mm, abs=0.5)
                surfaces = Surfaces(found.design, found.assembly, pose)
                points = surfaces.under(0.0).points_mm
                joint = pose.joint[0]
                hump = max(z for x, z in points if abs(x - joint) < 40)
                first = Surfaces(found.design, found.assembly, found.sites[0]).under(0.0).points_mm
                was = found.sites[0].joint[0]
                assert hump == pytest.approx(max(z for x, z in first if abs(x - was) < 40), abs=1.0)
    assert states == {"empty", "sinking", "loaded"}


def test_a_flap_and_a_bridge_plate_lie_on_as_the_leaves_turn_on_their_props() -> None:
    """As a deck sinks so far that the inner leaf turns by 3 degrees and the outer one hardly: the flap's end
    stays on the ground, and the plate's free end on the leaf.
    """
    trolley = sinking(40.0).design
    design = replace(
        trolley,
        outer_leaf=replace(trolley.outer_leaf, length_mm=700.0),
        toe=replace(trolley.toe, kind="flap", length_mm=200.0, thickness_mm=6.0),
        bridge=replace(trolley.bridge, fitted=True),
    )
    found = evaluate(design, samples_folder())
    borne = found.props_set.borne(found.site_pose(1, "loaded"))
    assert borne != found.site_pose(1, "loaded")
    assert borne.flap is not None
    outer = placings(found.design, borne.pose, borne.drop_mm)["outer"]
    leaf = found.design.outer_leaf
    pivot = outer.point(leaf.length_mm, leaf.slat_thickness_mm)
    angle = outer.angle_rad + borne.flap_rad
    # The under side of the flap's far end, by plane geometry, on level ground at the toe's site.
    low = pivot[1] + 200 * math.sin(angle) - 6 * math.cos(angle)
    assert low == pytest.approx(0.0, abs=1e-6)
    straight = found.site_pose(1, "loaded")
    assert borne.bridge_lie is not None
    assert straight.bridge_lie is not None
    assert borne.bridge_lie.angle_rad > straight.bridge_lie.angle_rad, "the inner leaf lies flatter"
    slope = next(
        one for one in found.checks if one.id.endswith("site-1-loaded") and one.about.kind == "gradient"
    )
    assert any("toe flap" in line for line in slope.working), "the steepest of all, and named"
    assert slope.value == pytest.approx(abs(borne.flap.ratio))


def test_gradients_and_changes_of_grade_take_the_joint_where_its_props_hold_it() -> None:
    found = sinking(60.0)
    borne = found.props_set.borne(found.site_pose(1, "loaded"))
    slopes = {one.id: one for one in found.checks if one.about.kind in ("gradient", "grade_change")}
    steepest = [one.value for id, one in slopes.items() if id.endswith("site-1-loaded") and "slope" in id]
    assert steepest
    assert steepest == pytest.approx([borne.outer.ratio] * len(steepest))


@pytest.mark.parametrize(("factor", "stands"), [(0.99, True), (1.01, False)])
def test_a_deck_that_rises_leaves_its_props_short(factor: float, stands: bool) -> None:
    """They are set for the deck empty, before cargo behind the axle lifts its edge."""
    poses = [replace(one, joint_room_mm=300.0) for one in base_poses()]
    off = factor * (4 + 1)  # the pins' play, common practice
    raised = replace(poses[0], state="starting", joint_room_mm=300.0 + off)
    found = checks(rule_set("us-building"), design=propped(slack_mm=4), sites=(*poses, raised))
    short = found["own/prop-short/site-1-starting"]
    assert short.value == pytest.approx(off)
    assert short.status is (Status.CLOSE if stands else Status.EXCEEDS)
    assert ("once the deck has moved" in short.why) is not stands
    assert "own/prop/site-1-starting" not in found, "nobody sets it anew"


@pytest.mark.parametrize(("from_end_mm", "free"), [(30.0, True), (20.0, True), (16.0, False), (14.0, False)])
def test_leaves_that_meet_as_a_prop_holds_the_joint_up_are_told(from_end_mm: float, free: bool) -> None:
    """Cross members below a joint that is at the top, so near to it that they meet the other leaf's rails
    once the deck has sunk by 120 mm, though they fold past each other: by shapely, member by member.
    """
    trolley = sinking(120.0).design
    inner, outer = trolley.inner_leaf, trolley.outer_leaf
    places = (150.0, 450.0, inner.length_mm - from_end_mm), (from_end_mm, 290.0)
    design = replace(
        trolley,
        inner_leaf=replace(inner, cross_members="given", cross_positions_mm=places[0]),
        outer_leaf=replace(outer, cross_members="given", cross_positions_mm=places[1]),
    )
    found = evaluate(design, samples_folder())
    assert not any(one.fails for one in found.clearances), "it folds"
    check = next(one for one in found.checks if one.id == "own/prop-free")
    assert (check.status is Status.WITHIN) is free
    borne = min((found.props_set.borne(one) for one in found.sites), key=lambda one: one.pose.fold_rad)
    where = placings(design, borne.pose, borne.drop_mm)
    shapes = {
        body: [
            (one, shapely.Polygon(moved(one.silhouette, where[body]).points(0.05)))
            for one in found.assembly.members
            if one.tag.body == body and one.role in ("rail", "cross member", "slat")
        ]
        for body in ("inner", "outer")
    }
    meet = [
        (one.key, other.key)
        for one, shape in shapes["inner"]
        for other, beside in shapes["outer"]
        if min(one.y1_mm, other.y1_mm) - max(one.y0_mm, other.y0_mm) > 0.1
        and shape.intersection(beside).area > 1
    ]
    assert (not meet) is free
    assert free or any(check.why.lower().startswith(f"{one} and {other}") for one, other in meet)
