"""Rules between values: each is tried where it just holds and where it just does not.

The limits are plain geometry of the parts, worked out in the comment beside each row for the starter's sizes
set in `START`.
"""

import dataclasses
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from timber_ramp import timber_ramp

from rampdraft.errors import DesignError
from rampdraft.files.design_file import load_design
from rampdraft.geometry.buildable.problems import RULES, problems_of, relation_problems, require_buildable
from rampdraft.model.design import Design, Material, Obstacle
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section

START = load_design(Path(__file__).parent.parent / "files" / "ramp_version_1.toml")
FACES = {"fold.closing": "faces", "joint.height_mm": 60.0, "stop.kind": "none", "toe.kind": "plain"}
HALF_LAP = {f"{leaf}.cross_fitting": "half_lap" for leaf in ("inner_leaf", "outer_leaf")}
BOTH_20 = HALF_LAP | {"inner_leaf.half_lap_mm": 20.0, "outer_leaf.half_lap_mm": 20.0}
TAPER = {"toe.kind": "taper", "toe.length_mm": 150.0, "toe.thickness_mm": 8.0}
TWO_OUTER = {"outer_leaf.rail_lanes_mm": (-342.0, 342.0), "stop.count": 1}
PLAIN_TOE = {"toe.kind": "plain"}


def changed(changes: Mapping[str, Any]) -> Design:
    design = START
    for path, value in changes.items():
        design = with_value(design, path, value)
    return design


LIMITS: list[tuple[Mapping[str, Any], str, Any, Any, str]] = [
    # (what else is set, key, value that just holds, value that just does not, words of the rule)
    #
    # Stowing. Hinge centre 420 - 38 = 382 above the ground, inner leaf 1350: 1732 in all; the flap takes 180
    # of it.
    (
        {},
        "outer_leaf.length_mm",
        1552.0,
        1552.1,
        "the toe flap, as it is carried, would come 0.1 mm below the ground",
    ),
    (
        {"toe.carried_deg": 180.0},
        "outer_leaf.length_mm",
        1732.0,
        1732.1,
        "the toe would come 0.1 mm below the ground",
    ),
    (PLAIN_TOE, "outer_leaf.length_mm", 1732.0, 1732.1, "the toe would come 0.1 mm below the ground"),
    (
        FACES,
        "outer_leaf.length_mm",
        1350.0,
        1350.1,
        "its toe would meet the deck (0.1 mm below the deck hinge)",
    ),
    # Faces together and hung far enough out, the outer leaf hangs before the deck's edge: 2 * 60 + 40 + 20 =
    # 180 reach in.
    (
        FACES | {"outer_leaf.length_mm": 1400.0},
        "deck_hinge.out_mm",
        180.0,
        179.9,
        "its toe would meet the deck",
    ),
    # Stowed hanging, the inner leaf must clear the ground.
    (
        FACES
        | {
            "fold.stowed_deg": -90.0,
            "outer_leaf.length_mm": 300.0,
            "outer_leaf.cross_positions_mm": (150.0,),
            "inner_leaf.cross_positions_mm": (200.0,),
        },
        "inner_leaf.length_mm",
        382.0,
        382.1,
        "the joint would come 0.1 mm",
    ),
    # Stowed at 45 degrees and folded by 150, the outer leaf points to -105: (382 + 1350 sin 45) / sin 105 =
    # 1383.74; with a flap at right angles, pointing to -15, (382 + 1350 sin 45 - 180 sin 15) / sin 105.
    (
        PLAIN_TOE | {"fold.stowed_deg": 45.0, "fold.closed_deg": 150.0},
        "outer_leaf.length_mm",
        1383.7,
        1383.9,
        "the toe would come 0.2 mm below the ground",
    ),
    (
        {"fold.stowed_deg": 45.0, "fold.closed_deg": 150.0, "toe.carried_deg": 90.0},
        "outer_leaf.length_mm",
        1335.5,
        1335.7,
        "the toe flap, as it is carried, would come 0.2 mm below the ground",
    ),
    # It hangs on the deck's side where it is stowed between 45 and 135 degrees.
    (
        FACES | {"outer_leaf.length_mm": 1400.0},
        "fold.stowed_deg",
        135.1,
        135.0,
        "its toe would meet the deck (35.4 mm below",
    ),
    (
        FACES | {"outer_leaf.length_mm": 1400.0},
        "fold.stowed_deg",
        44.9,
        45.0,
        "its toe would meet the deck (35.4 mm below",
    ),
    # Lanes at the joint lie 44 apart (44 - 0 = 386 - 342), and the side gap is 2.
    ({}, "joint.knuckle_length_mm", 42.0, 42.1, "is wider than its lane"),
    ({"joint.knuckle_length_mm": 40.0}, "joint.side_gap_mm", 4.0, 4.1, "is wider than its lane"),
    # Leaves whose rails share lanes, knuckles shifted outboard by s on the outer leaf only: s >= 42 + 2.
    (
        {"outer_leaf.rail_lanes_mm": (-386.0, 0.0, 386.0)},
        "outer_leaf.knuckle_shift_mm",
        44.0,
        43.9,
        "is wider than its lane",
    ),
    # Knuckles of one leaf, 42 long, side by side: each with a partner of the other leaf 44 further out or in.
    (
        {"inner_leaf.rail_lanes_mm": (-386.0, 212.0, 386.0), "stop.kind": "none", "joint.height_mm": -50.0},
        "outer_leaf.rail_lanes_mm",
        (-342.0, 300.0, 342.0),
        (-342.0, 300.1, 342.0),
        "two knuckles of the outer leaf are only 41.9 mm apart",
    ),
    # A pin of 42 + 2 + 42 and two tails of 12 reaches 33 past the middle of its inner knuckle; an outer rail
    # 40 wide, 50 away.
    (
        {
            "stop.kind": "none",
            "inner_leaf.rail_lanes_mm": (-394.0, -300.0),
            "outer_leaf.rail_lanes_mm": (-350.0, -256.0),
            "outer_leaf.rail_section": parse_section("box 40x40x2"),
        },
        "joint.height_mm",
        -46.0,
        -45.9,
        "run into a rail of the outer leaf",
    ),
    # One rail of the outer leaf beside each of the inner leaf.
    (
        {"stop.kind": "none"},
        "outer_leaf.rail_lanes_mm",
        (-342.0, 44.0, 342.0),
        (-342.0, 342.0),
        "do not pair one to one",
    ),
    (
        {"stop.kind": "none"},
        "outer_leaf.rail_lanes_mm",
        (-342.0, 44.0, 342.0),
        (-342.0, 44.0, 144.0, 342.0),
        "do not pair one to one",
    ),
    # A stop bar 24 wide fills the 24 between rails of 20 in lanes 44 apart; a weld bridges 2 on each side.
    (
        {},
        "stop.section",
        parse_section("flat 20x20"),
        parse_section("flat 20x19.9"),
        "cannot bear: a stop bar is beside no rail",
    ),
    (
        {"stop.kind": "lap"},
        "stop.section",
        parse_section("flat 20x24.1"),
        parse_section("flat 20x23.9"),
        "cannot bear: a stop bar lies on no rail",
    ),
    # At the deck the carrier's knuckle stands 42 + 2 inside of each inner one; 42 more are needed to the
    # next.
    ({}, "inner_leaf.rail_lanes_mm", (-386.0, 0.0, 386.0), (-386.0, -300.1, 386.0), "is wider than its lane"),
    # Pins and knuckles of 30.
    ({}, "joint.pin_diameter_mm", 29.9, 30.0, "leaves no wall in a knuckle of 30 mm"),
    ({}, "deck_hinge.pin_diameter_mm", 29.9, 30.0, "leaves no wall in a knuckle of 30 mm"),
    # Rails 20 wide on a surface of 860: lanes within 420.
    (
        {"stop.kind": "none"},
        "inner_leaf.rail_lanes_mm",
        (-420.0, 0.0, 386.0),
        (-420.1, 0.0, 386.0),
        "outside the surface width of 860 mm",
    ),
    (
        {
            "joint.knuckle_length_mm": 5.0,
            "deck_hinge.knuckle_length_mm": 5.0,
            "stop.kind": "none",
            "joint.height_mm": -50.0,
            "outer_leaf.rail_lanes_mm": (-342.0, 44.0, 356.0, 396.0),
        },
        "inner_leaf.rail_lanes_mm",
        (-386.0, 0.0, 366.0, 386.0),
        (-386.0, 0.0, 366.1, 386.0),
        "they overlap",
    ),
    (TWO_OUTER, "inner_leaf.rail_lanes_mm", (-386.0, 386.0), (386.0, -386.0), "must rise"),
    (TWO_OUTER, "inner_leaf.rail_lanes_mm", (-386.0, 386.0), (-386.0,), "must have at least 2 rails"),
    (
        {"inner_leaf.rail_lanes_mm": (-386.0, 386.0), "stop.count": 1},
        "outer_leaf.rail_lanes_mm",
        (-342.0, 342.0),
        (),
        "must have at least 2 rails",
    ),
    # Cross members 20 wide; the outer leaf is 1300 long and has no hinge at its toe.
    ({}, "outer_leaf.cross_positions_mm", (150.0, 1290.0), (150.0, 1290.1), "past the end of the leaf"),
    ({}, "outer_leaf.cross_positions_mm", (150.0, 170.0), (150.0, 169.9), "they overlap"),
    ({}, "outer_leaf.cross_positions_mm", (170.0, 150.0), (169.9, 150.0), "they overlap"),
    # Deck hinge centre 20 below the rails' top, within their depth: half the member 10, knuckle radius 15.
    ({}, "inner_leaf.cross_positions_mm", (25.0,), (24.9,), "the coped rail end at the deck hinge"),
    # Joint centre 43 below the top, 3 below the member: 10 + sqrt(15^2 - 3^2) = 24.697.
    ({}, "outer_leaf.cross_positions_mm", (24.7,), (24.69,), "the coped rail end at the joint"),
    ({}, "inner_leaf.cross_positions_mm", (1325.3,), (1325.31,), "the coped rail end at the joint"),
    # A notch for a half-lap leaves the cope round the other leaf's knuckle alone too, 2 wider: 10 + 17, and
    # 10 + sqrt(17^2 - 3^2) = 26.733.
    (BOTH_20, "inner_leaf.cross_positions_mm", (27.0,), (26.99,), "the coped rail end at the deck hinge"),
    (BOTH_20, "outer_leaf.cross_positions_mm", (26.74,), (26.73,), "the coped rail end at the joint"),
    # Between the rails, a cross member may be as deep as they are, 40.
    (
        {},
        "inner_leaf.cross_section",
        parse_section("box 40x20x2"),
        parse_section("box 40.1x20x2"),
        "is deeper than the rails",
    ),
    # Half-laps of rails and cross members 40 deep: flush at 20.
    (BOTH_20, "inner_leaf.half_lap_mm", 20.0, 20.1, "lifts the cross members 0.2 mm above the rails"),
    (BOTH_20, "inner_leaf.half_lap_mm", 0.1, 0.0, "must be more than 0"),
    (
        BOTH_20 | {"inner_leaf.cross_section": parse_section("flat 15x20")},
        "inner_leaf.half_lap_mm",
        14.9,
        15.0,
        "cuts the cross member through",
    ),
    (
        BOTH_20 | {"outer_leaf.cross_section": parse_section("box 60x20x2")},
        "outer_leaf.half_lap_mm",
        20.0,
        40.0,
        "cuts the rail through",
    ),
    # Slats 95 wide on a leaf of 1350 with 4 free at either end.
    ({}, "inner_leaf.slat_pitch_mm", 95.0, 94.9, "is less than the slat width of 95 mm"),
    (
        {"inner_leaf.slat_pitch_mm": 2000.0},
        "inner_leaf.slat_width_mm",
        1342.0,
        1342.1,
        "leaves no room for a single slat",
    ),
    # Edge upstand from 70 to 1350 - 10.
    (
        {"inner_leaf.length_mm": 1350.0},
        "inner_leaf.upstand_start_mm",
        1339.9,
        1340.0,
        "nothing is left of it",
    ),
    # 860 wide with two upstands of 5.
    ({}, "carrier.opening_width_mm", 870.0, 869.9, "870 mm with its edge upstands, wider than the opening"),
    (
        {f"{leaf}.upstand_height_mm": 0.0 for leaf in ("inner_leaf", "outer_leaf")},
        "carrier.opening_width_mm",
        860.0,
        859.9,
        "makes the leaf 860 mm, wider",
    ),
    # Stop bars.
    ({}, "stop.arm_mm", 0.1, 0.0, "cannot bear: a butting stop below the hinge centre"),
    ({}, "stop.count", 3, 4, "is more than the 3 pairs of rails"),
    (
        {
            "stop.kind": "lap",
            "stop.section": parse_section("flat 20x40"),
            "outer_leaf.length_mm": 400.0,
            "outer_leaf.cross_positions_mm": (150.0,),
        },
        "stop.lap_mm",
        400.0,
        400.1,
        "reaches past the end of the other leaf (400 mm)",
    ),
    (
        {"outer_leaf.length_mm": 400.0, "outer_leaf.cross_positions_mm": (150.0,)},
        "stop.fixed_length_mm",
        399.75,  # and half of the gap of 0.5 mm
        399.85,
        "is longer than the leaf that carries the bar",
    ),
    # Carrier.
    ({}, "carrier.end_depth_mm", 40.0, 39.9, "is less than the deck thickness"),
    (
        {"deck_hinge.below_mm": -10.0},
        "carrier.deck_drop_mm",
        419.9,
        420.0,
        "sinks the loaded deck edge into the ground",
    ),
    (
        {"outer_leaf.length_mm": 1100.0, "outer_leaf.cross_positions_mm": (150.0,)},
        "deck_hinge.below_mm",
        389.9,
        390.0,
        "puts the hinge centre into the ground",
    ),
    # Prop, bridge plate, taper of rails 40 deep on a leaf of 1300 with knuckles of radius 15 and 2 running
    # clearance.
    ({"prop.fitted": True}, "prop.shortest_mm", 200.0, 200.1, "is more than the longest setting of 200 mm"),
    (
        {"prop.fitted": True, "prop.section": parse_section("round 20")},
        "prop.pin_diameter_mm",
        15.5,  # 0.8 of 20 mm, half a millimetre of room in the hole
        15.6,
        "leaves too little of a prop 20 mm thick",
    ),
    ({}, "bridge.over_deck_mm", 159.9, 160.0, "nothing reaches the ramp"),
    (TAPER, "toe.thickness_mm", 39.9, 40.0, "no taper is left"),
    (
        TAPER | {"outer_leaf.length_mm": 500.0, "outer_leaf.cross_positions_mm": ()},
        "toe.length_mm",
        482.9,
        483.0,
        "all the way into the joint",
    ),
    (
        TAPER | BOTH_20,
        "outer_leaf.cross_positions_mm",
        (1140.0,),
        (1140.1,),
        "on the taper of the rails, which begins at 1150",
    ),
]


@pytest.mark.parametrize(
    ("others", "key", "holds", "breaks", "says"), LIMITS, ids=[f"{row[1]} {row[4][:30]}" for row in LIMITS]
)
def test_each_rule_holds_up_to_its_limit(
    others: Mapping[str, Any], key: str, holds: Any, breaks: Any, says: str
):
    assert problems_of(changed({**others, key: holds})) == ()
    problems = problems_of(changed({**others, key: breaks}))
    assert any(says in problem.rule for problem in problems), problems
    assert all(problem.value for problem in problems)


def test_a_stop_bar_that_is_too_narrow_is_told_how_wide_it_must_be():
    # Butting, 24 less two welds that bridge 2 each; lapping, it must lie on rails 24 apart.
    for kind, least in (("butt", "make it 20 mm wide or more"), ("lap", "make it wider than 24 mm")):
        design = changed({"stop.kind": kind, "stop.section": parse_section("flat 20x18")})
        (problem,) = (one for one in problems_of(design) if one.key == "stop.section")
        assert "the next is 3 mm away" in problem.rule
        assert problem.way_out == least


SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (0.0, 10.0))


@pytest.mark.parametrize(
    ("points", "wrong"),
    [
        (((0.0, 0.0), (9.0, 5.0)), False),  # a round thing between two points
        (SQUARE[:3], False),
        (SQUARE, False),
        (SQUARE[::-1], False),
        ((*SQUARE[:3], (8.0, 2.0)), False),  # hollow
        ((SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]), True),  # a bow, as large on one side as on the other
        ((SQUARE[0], SQUARE[2], SQUARE[1], (0.0, 6.0)), True),
        ((SQUARE[2], SQUARE[1], (0.0, 6.0), SQUARE[0]), True),
        ((SQUARE[1], SQUARE[0], SQUARE[2], SQUARE[3]), True),
        ((*SQUARE[:3], (12.0, 12.0), (-2.0, 5.0), (12.0, -2.0)), True),
        ((*SQUARE, (20.0, 5.0)), True),  # the last side but one crosses the second
        ((*SQUARE, (5.0, -5.0)), True),  # the last side but one crosses the first
        (((0.0, 0.0), (4.0, 4.0), (9.0, 9.0)), True),  # no room inside
        (((0.0, 0.0), (9.0, 0.0), (4.0, 0.0)), True),
        ((*SQUARE, SQUARE[0]), True),  # a corner twice
        (SQUARE[:1], True),
        ((), True),
    ],
)
def test_an_obstacle_has_an_outline_that_does_not_cross_itself(points: Any, wrong: bool):
    obstacle = Obstacle(name="lamp", outline_mm=points, left_mm=-400, right_mm=-300)
    problems = problems_of(dataclasses.replace(START, obstacles=(obstacle,)))
    assert {problem.key for problem in problems} == ({"obstacles[1].outline_mm"} if wrong else set())


@pytest.mark.parametrize(("right_mm", "wrong"), [(-399.9, False), (-400.0, True)])
def test_an_obstacle_has_an_extent_across(right_mm: float, wrong: bool):
    obstacle = Obstacle(name="lamp", outline_mm=SQUARE, left_mm=-400, right_mm=right_mm)
    problems = problems_of(dataclasses.replace(START, obstacles=(obstacle,)))
    assert {problem.key for problem in problems} == ({"obstacles[1].right_mm"} if wrong else set())


@pytest.mark.parametrize(
    "changes",
    [
        {"prop.fitted": False, "prop.shortest_mm": 300.0},
        {"bridge.fitted": False, "bridge.over_deck_mm": 500.0},
        {"stop.kind": "none", "stop.arm_mm": -5.0, "stop.count": 12},
        {"inner_leaf.upstand_height_mm": 0.0, "inner_leaf.upstand_start_mm": 2000.0},
        {"inner_leaf.cross_positions_mm": (), "inner_leaf.cross_section": parse_section("box 100x100x3")},
        FACES,
        {"fold.closing": "faces"},  # it folds under its load and clashes: the checks say so
        {"joint.height_mm": 0.0},  # the slats meet: the checks say so
        {"carrier.deck_height_mm": 1900.0},  # far too steep: the checks say so
        {"use.users": (), "use.rule_sets": (), "stock": ()},
    ],
)
def test_what_does_not_matter_or_is_a_result_is_no_problem(changes: Mapping[str, Any]):
    assert problems_of(changed(changes)) == ()


def test_the_starter_can_be_built():
    assert problems_of(timber_ramp()) == ()
    require_buildable(timber_ramp())


def test_names_stand_once():
    site, user = START.sites[0], START.use.users[0]
    own = Material(name="oak", kind="timber", density_kg_m3=700, source="weighed")
    for changes, key in (
        ({"sites": (site, site)}, "sites[2].name"),
        ({"use.users": (user, user)}, "use.users[2].name"),
        ({"materials": (own, own)}, "materials[2].name"),
        ({"use.rule_sets": ("us-vehicle", "own.toml", "us-vehicle")}, "use.rule_sets[3]"),
    ):
        assert [problem.key for problem in problems_of(changed(changes))] == [key]


def test_a_design_has_a_site():
    assert [problem.key for problem in problems_of(changed({"sites": ()}))] == ["sites"]


KERB = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (4000.0, 120.0))


@pytest.mark.parametrize(
    ("points", "key", "says"),
    [
        ((), "", "must have at least one point"),
        ((*KERB, (3999.9, 0.0)), "[5]", "goes back"),
        ((*KERB, (4000.0, 120.0)), "[5]", "is the same as the point before"),
        ((*KERB[:3], (300.0, 200.0)), "[4]", "is a third point at the same x"),
    ],
)
def test_the_ground_goes_outward(points: Any, key: str, says: str):
    assert problems_of(changed({"sites[1].ground_mm": KERB})) == ()
    (problem,) = problems_of(changed({"sites[1].ground_mm": points}))
    assert problem.key == f"sites[1].ground_mm{key}"
    assert says in problem.rule


def test_materials_are_known_by_the_catalogue_or_the_design():
    problems = problems_of(
        changed({"made_of.slats": "oak", "made_of.rails": "steel S236", "stock[2].material": "oak"})
    )
    assert {problem.key: problem.way_out for problem in problems}[
        "made_of.rails"
    ] == "did you mean 'steel S235'?"
    assert [problem.key for problem in problems] == ["made_of.rails", "made_of.slats", "stock[2].material"]
    own = Material(name="oak", kind="timber", density_kg_m3=700, source="weighed")
    assert (
        problems_of(changed({"made_of.slats": "oak", "stock[2].material": "oak", "materials": (own,)})) == ()
    )


def test_everything_wrong_is_raised_at_once():
    design = changed(
        {"carrier.deck_height_mm": float("nan"), "joint.pin_diameter_mm": 40.0, "about.name": ""}
    )
    with pytest.raises(DesignError, match="cannot be built") as caught:
        require_buildable(design)
    assert {problem.key for problem in caught.value.problems} == {
        "carrier.deck_height_mm",
        "joint.pin_diameter_mm",
        "about.name",
    }


@pytest.mark.parametrize(("groups", "rule"), RULES)
def test_a_rule_reads_no_other_groups_than_it_names(groups: tuple[str, ...], rule: Any):
    # A file with a broken group has None in its place while the other rules are tried.
    others = {field.name: None for field in dataclasses.fields(Design) if field.name not in groups}
    assert list(rule(dataclasses.replace(START, **others))) == []  # pyright: ignore[reportArgumentType]


def test_rules_that_read_a_broken_group_are_left_out():
    design = changed({"joint.pin_diameter_mm": 40.0, "bridge.over_deck_mm": 500.0})
    assert [problem.key for problem in relation_problems(design, {"joint"})] == ["bridge.over_deck_mm"]
