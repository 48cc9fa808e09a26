"""Grips: pulling one moves it as it says, on every sample and on designs of any kind.

Outside check: where a grip is drawn comes from the linkage of the design changed, drawn in the same pose;
where it says that it goes comes from the grip alone.
"""

import math
from dataclasses import replace
from functools import cache

import pytest
from any_design import designs
from timber_ramp import timber_ramp

from rampdraft.drawing.clip import Enlarged
from rampdraft.drawing.grips.end import end_grips
from rampdraft.drawing.grips.grip import Grip, Slide, Turn, enlarged, with_room, within_details
from rampdraft.drawing.grips.ground import GroundGrip, between, ground_grips, with_point, without_point
from rampdraft.drawing.grips.measured import measured
from rampdraft.drawing.grips.plan import plan_grips
from rampdraft.drawing.grips.ramp import folding_grips, standing_grips
from rampdraft.drawing.grips.way_points import way_point_grips
from rampdraft.drawing.ink import Label, Path
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Pose, linkage
from rampdraft.geometry.spacing.settled import settled
from rampdraft.mechanics.folding.folding import closed_pose
from rampdraft.model.design import Design, Stock
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import Section

RANDOM = 12


@cache
def evaluations() -> tuple[Evaluation, ...]:
    samples = (evaluate(load_design(path), path.parent) for path in sample_paths())
    return (*samples, *(evaluate(design) for design in designs(RANDOM, seed=5)))


NUMBERS = range(len(sample_paths()) + RANDOM)


@cache
def ramp(*changes: tuple[str, object]) -> Evaluation:
    design = timber_ramp()
    for path, value in changes:
        design = with_value(design, path, value)
    return evaluate(design)


def standing(evaluation: Evaluation) -> dict[str, Grip]:
    return {grip.key: grip for grip in standing_grips(evaluation, evaluation.sites[0])}


def tried(grip: Grip) -> list[tuple[float, ...]]:
    """Return values to try: each way by itself and all together, a little and a lot, within its range."""
    found: list[tuple[float, ...]] = []
    for by in (0.1, -3.0, 41.0):
        moved = [way.value + by for way in grip.ways]
        sold = [min(way.sizes, key=lambda size, to=to: abs(size - to)) if way.sizes else to
                for way, to in zip(grip.ways, moved, strict=True)]  # fmt: skip
        inside = [min(max(to, way.low), way.high) for way, to in zip(grip.ways, sold, strict=True)]
        found.append(tuple(inside))
        found.extend(
            tuple(to if at == number else way.value for at, way in enumerate(grip.ways))
            for number, to in enumerate(inside)
        )
    return found


def assert_goes_where_it_says(before: Grip, values: tuple[float, ...], after: dict[str, Grip]) -> None:
    if before.key in after:  # a pitch may leave no second slat
        assert math.dist(after[before.key].at, before.moved(values)) < 1e-6, (before, values)
        assert after[before.key].values == pytest.approx(values)


@pytest.mark.parametrize("number", NUMBERS)
def test_a_grip_goes_where_it_says_as_the_leaves_lie_still(number: int) -> None:
    evaluation = evaluations()[number]
    for site in evaluation.sites:
        for grip in standing_grips(evaluation, site):
            for values in tried(grip):
                design = settled(grip.put(evaluation.design, values))
                after = standing_grips(_of(design), site)
                assert_goes_where_it_says(grip, values, {one.key: one for one in after})


def _of(design: object) -> Evaluation:
    """Return an evaluation that nothing is asked of but its design, built or not."""
    return Evaluation(design, ())  # type: ignore[arg-type]


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("pose", [Pose(0.7, -1.2), Pose(-0.1, 0.0)])
def test_a_grip_goes_where_it_says_anywhere_on_the_fold(number: int, pose: Pose) -> None:
    design = evaluations()[number].design
    for grip in folding_grips(design, pose, 1):
        for values in tried(grip):
            after = folding_grips(settled(grip.put(design, values)), pose, 1)
            assert_goes_where_it_says(grip, values, {one.key: one for one in after})


@pytest.mark.parametrize("number", NUMBERS)
def test_the_stowed_angle_goes_round_the_deck_hinge(number: int) -> None:
    design = evaluations()[number].design
    (grip,) = (one for one in folding_grips(design, closed_pose(design), 1) if one.key == "fold.stowed_deg")
    for values in tried(grip):
        stowed = grip.put(design, values)
        after = folding_grips(stowed, closed_pose(stowed), 1)
        assert_goes_where_it_says(grip, values, {one.key: one for one in after})


@pytest.mark.parametrize("number", NUMBERS)
def test_pulled_to_where_values_put_it_a_grip_has_those_values(number: int) -> None:
    evaluation = evaluations()[number]
    stowed = folding_grips(evaluation.design, closed_pose(evaluation.design), 1)
    for grip in (*standing_grips(evaluation, evaluation.sites[0]), *stowed):
        tenths = [(math.ceil(10 * way.low) / 10, math.floor(10 * way.high) / 10) for way in grip.ways]
        if all(low <= high for low, high in tenths):
            by_tenths = zip((round(10 * way.value) / 10 + 0.3 for way in grip.ways), tenths, strict=True)
            values = tuple(min(max(to, low), high) for to, (low, high) in by_tenths)
            assert grip.pulled(grip.moved(values), fine=True) == pytest.approx(values)


@pytest.mark.parametrize("number", range(len(sample_paths())))
def test_a_way_point_goes_where_it_is_pulled_on_the_map(number: int) -> None:
    evaluation = evaluations()[number]
    grips = way_point_grips(evaluation.design, evaluation.path)
    assert len(grips) == len(evaluation.path.poses) - 2
    for grip in grips[1 :: max(len(grips) // 3, 1)]:
        closing, inner = grip.values
        assert closing > 3
        values = grip.pulled((closing - 2.2, inner + 3.4))
        assert values == (round(closing - 2.2), round(inner + 3.4))
        after = evaluation.following(grip.put(evaluation.design, values))
        moved = way_point_grips(after.design, after.path)[grip.number - 1]
        assert moved.at == pytest.approx(grip.moved(values), abs=1e-6)
        assert len(after.path.poses) == len(evaluation.path.poses)
        assert grip.put(evaluation.design, grip.values) is evaluation.design


def test_a_dimension_is_drawn_from_where_the_value_counts_to_the_grip() -> None:
    evaluation = ramp()
    stowed = folding_grips(evaluation.design, closed_pose(evaluation.design), 1)
    for grip in (*standing_grips(evaluation, evaluation.sites[0]), *stowed):
        for path in grip.paths:
            marks = measured(grip, path, 8.0)
            texts = [mark.text for mark in marks if isinstance(mark, Label)]
            ways = [way for way in grip.ways if way.path == path]
            shown = [way for way in ways if way.value or isinstance(way, Turn)]
            assert [text.rstrip("°").split()[-1] for text in texts] == [mm_text(way.value) for way in shown]
            assert {mark.owner for mark in marks} <= {path}
    (first,) = (one for one in stowed if one.key == "inner_leaf.slat_first_mm")
    line = max(
        (mark for mark in measured(first, first.key, 0.001) if isinstance(mark, Path)),
        key=lambda mark: math.dist(mark.vertices[0][:2], mark.vertices[-1][:2]),
    )
    length = math.dist(line.vertices[0][:2], line.vertices[-1][:2])
    assert length == pytest.approx(abs(first.values[0]), abs=0.02)


def test_every_kind_of_grip_is_met() -> None:
    lap, butt = [("stop.kind", "lap"), ("toe.kind", "taper")], [("stop.kind", "butt"), ("toe.kind", "flap")]
    met: set[str] = set()
    for changes in (lap, [*butt, ("prop.fitted", True)]):
        design = timber_ramp()
        for path, value in changes:
            design = with_value(design, path, value)
        met |= {grip.key.partition("[")[0] for grip in standing_grips(_of(design), ramp().sites[0])}
    assert met == {
        "carrier.deck_height_mm", "inner_leaf.length_mm", "outer_leaf.length_mm", "deck_hinge",
        "deck_hinge.height_mm", "joint.height_mm", "stop.lap_mm", "stop.arm_mm", "inner_leaf.rail_section",
        "outer_leaf.rail_section", "inner_leaf.slat_first_mm", "inner_leaf.slat_pitch_mm",
        "outer_leaf.slat_first_mm", "outer_leaf.slat_pitch_mm", "inner_leaf.slat_width_mm",
        "outer_leaf.slat_width_mm", "inner_leaf.slat_thickness_mm", "outer_leaf.slat_thickness_mm",
        "toe.length_mm", "prop.shortest_mm",
        "prop.longest_mm", "sites",
    }  # fmt: skip


def test_the_deck_follows_its_height_while_the_toe_stays_on_the_ground() -> None:
    before = ramp()
    grip = standing(before)["carrier.deck_height_mm"]
    after = before.following(grip.put(before.design, (grip.values[0] + 20,)))
    assert standing(after)["carrier.deck_height_mm"].at[1] - grip.at[1] == pytest.approx(20)
    assert after.sites[0].contact[1] == pytest.approx(0, abs=1e-6)


def slide(**given: object) -> Grip:
    way = {"path": "inner_leaf.length_mm", "value": 100.4, "toward": (2.0, 0.0), "low": 50.0, "high": 120.2}
    return Grip(key="one", at=(0.0, 0.0), ways=(Slide(**(way | given)),))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("given", "to_mm", "fine", "value"),
    [
        ({}, 6.0, False, 103.0),  # 100.4 + 6 / 2, in whole mm
        ({}, 6.16, True, 103.5),
        ({}, 80.0, False, 120.2),
        ({}, -400.0, False, 50.0),
        ({"sizes": (95.0, 110.0, 140.0)}, 8.0, False, 110.0),
        ({"sizes": (95.0, 110.0, 140.0)}, 8.0, True, 104.4),
    ],
)
def test_a_hand_sets_whole_mm_tenths_or_what_is_sold(
    given: dict[str, object], to_mm: float, fine: bool, value: float
) -> None:
    assert slide(**given).pulled((to_mm, 50.0), fine=fine) == pytest.approx((value,))


@pytest.mark.parametrize(
    ("given", "across", "up", "fine", "value"),
    [
        ({}, 1, 0, False, 101.0),
        ({}, -1, 0, False, 100.0),
        ({}, 1, 0, True, 100.5),
        ({}, 0, 1, False, 100.4),
        ({"toward": (0.0, -1.0)}, 0, 1, False, 100.0),
        ({"value": 100.0}, 1, 0, False, 101.0),
        ({"value": 120.2}, 1, 0, False, 120.2),
        ({"sizes": (95.0, 110.0, 140.0)}, 1, 0, False, 110.0),
        ({"sizes": (95.0, 110.0, 140.0)}, -1, 0, False, 95.0),
        ({"sizes": (95.0, 110.0, 140.0), "value": 140.0}, 1, 0, False, 140.0),
    ],
)
def test_an_arrow_moves_what_lies_in_its_direction(
    given: dict[str, object], across: int, up: int, fine: bool, value: float
) -> None:
    assert slide(**given).stepped(across, up, fine=fine) == pytest.approx((value,))


def test_a_turn_takes_the_short_way_round() -> None:
    way = Turn(path="fold.stowed_deg", value=170.0, centre=(0.0, 0.0), low=-90.0, high=180.0)
    grip = Grip(key="angle", at=(math.cos(math.radians(170)), math.sin(math.radians(170))), ways=(way,))
    beyond = (math.cos(math.radians(178)), math.sin(math.radians(178)))
    assert grip.pulled(beyond) == (178.0,)
    assert grip.pulled((math.cos(math.radians(-175)), math.sin(math.radians(-175)))) == (180.0,)
    assert grip.stepped(0, -1) == (171.0,)  # to the left of its centre, down is counter-clockwise


def test_a_value_that_followed_is_given_once_it_is_pulled_and_others_go_on_following() -> None:
    before = ramp(("inner_leaf.slats", "even"), ("inner_leaf.slat_ends", "clear"))
    pitch = standing(before)["inner_leaf.slat_pitch_mm"]
    after = pitch.put(before.design, (pitch.values[0] + 3,))
    assert after.inner_leaf.slats == "given"
    assert after.inner_leaf.slat_ends == "clear"
    length = standing(before)["inner_leaf.length_mm"]
    longer = settled(length.put(before.design, (length.values[0] + 37,)))
    assert longer.inner_leaf.slats == "even"
    assert longer.inner_leaf.slat_pitch_mm != before.design.inner_leaf.slat_pitch_mm


def test_rails_are_pulled_to_depths_that_are_sold_or_lie_in_the_shop() -> None:
    own = Section(kind="box", depth_mm=47.0, width_mm=20.0, wall_mm=2.0)
    design = with_value(timber_ramp(), "inner_leaf.rail_section", replace(own, depth_mm=40.0))
    design = replace(design, stock=(Stock(section=own, material="steel S235", length_mm=3000),))
    (grip,) = (
        one for one in folding_grips(design, Pose(0.0, 0.0), 1) if one.key == "inner_leaf.rail_section"
    )
    assert 47.0 in grip.ways[0].sizes
    deeper = grip.put(design, grip.pulled((grip.at[0], grip.at[1] - 6.8)))
    assert deeper.inner_leaf.rail_section == own
    by_hand = grip.put(design, grip.pulled((grip.at[0], grip.at[1] - 3.3), fine=True))
    assert by_hand.inner_leaf.rail_section == replace(own, depth_mm=43.3)


def test_a_point_of_the_ground_stays_between_its_neighbours() -> None:
    ground = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (4000.0, 120.0))
    before = ramp(("sites", (replace(timber_ramp().sites[0], ground_mm=ground),)))
    grip = standing(before)["sites[1].ground_mm[2]"]
    assert grip.pulled((900.0, 7.4)) == (300.0, 7.0)
    after = grip.put(before.design, (250.0, 7.0))
    assert after.sites[0].ground_mm == (ground[0], (250.0, 7.0), *ground[2:])


@pytest.mark.parametrize("number", NUMBERS)
def test_across_a_grip_goes_where_the_members_lie(number: int) -> None:
    """Outside check: rails as the assembly has them, each leaf's own; a grip moved by itself."""
    design = evaluations()[number].design
    for grip in plan_grips(design):
        for values in tried(grip):
            changed = grip.put(design, values)
            (after,) = (one for one in plan_grips(changed) if one.key == grip.key)
            assert after.at == pytest.approx(grip.moved(values))
            assert after.values == pytest.approx(values)
    members = evaluations()[number].assembly.members
    for group in ("inner", "outer"):
        rails = sorted(
            (one.y0_mm + one.y1_mm) / 2 for one in members if (one.body, one.role) == (group, "rail")
        )
        grips = [one for one in plan_grips(design) if one.key.startswith(f"{group}_leaf.rail_lanes_mm")]
        assert sorted(one.at[1] for one in grips) == pytest.approx(rails)
        (width,) = (one for one in plan_grips(design) if one.key == f"{group}_leaf.width_mm")
        slats = [one.y1_mm for one in members if (one.body, one.role) == (group, "slat")]
        assert width.at[1] == pytest.approx(max(slats))


@pytest.mark.parametrize("number", NUMBERS)
def test_from_the_toe_a_grip_goes_where_the_linkage_has_it(number: int) -> None:
    evaluation = evaluations()[number]
    design, site = evaluation.design, evaluation.sites[0]
    grips = tuple(end_grips(design, site.pose, site.drop_mm))
    for grip in grips:
        for values in tried(grip):
            after = end_grips(grip.put(design, values), site.pose, site.drop_mm)
            assert_goes_where_it_says(grip, values, {one.key: one for one in after})
    bars = linkage(design, site.drop_mm)
    (deck,) = (one for one in grips if one.key == "carrier.deck_height_mm")
    assert deck.at[1] == pytest.approx(bars.edge[1])
    lanes = [one.at[0] for one in grips if one.key.startswith("outer_leaf.rail_lanes_mm")]
    assert lanes == pytest.approx(list(design.outer_leaf.rail_lanes_mm))


KERB = ((0.0, 0.0), (300.0, 0.0), (300.0, 120.0), (4000.0, 200.0))


def on_ground(number: int, ground: tuple[tuple[float, float], ...] = KERB) -> tuple[Design, GroundGrip]:
    design = with_value(timber_ramp(), "sites", (replace(timber_ramp().sites[0], ground_mm=ground),))
    return design, list(ground_grips(design, 1))[number - 1]


@pytest.mark.parametrize(
    ("place", "at", "point"),
    [
        ((150.0, 3.0), 1, (150.0, 0.0)),
        ((303.0, 60.4), 2, (300.0, 60.0)),
        ((2150.0, 161.0), 3, (2150.0, 160.0)),  # half the way up from 120 to 200
        ((5200.4, 197.0), 4, (5200.0, 200.0)),  # the ground goes on level
        ((-70.0, 1.0), 0, (-70.0, 0.0)),
    ],
)
def test_a_point_is_set_on_the_line_of_the_ground(
    place: tuple[float, float], at: int, point: tuple[float, float]
) -> None:
    design, beside = on_ground(1)
    found = with_point(design, beside, place, 5.0)
    assert found is not None
    after, key = found
    assert after.sites[0].ground_mm == (*KERB[:at], point, *KERB[at:])
    assert key == f"sites[1].ground_mm[{at + 1}]"
    # Outside check: the ground's own heights, at the place and far from it.
    before_line, after_line = ground_line(design.sites[0]), ground_line(after.sites[0])
    for x in (-900.0, 100.0, 250.0, 400.0, 2150.0, 3000.0, 4500.0, 9000.0):
        assert after_line.height_mm(x) == pytest.approx(before_line.height_mm(x), abs=0.5)
    assert without_point(after, list(ground_grips(after, 1))[at]) == design


def test_no_point_is_set_far_from_the_line_and_by_keys_it_stands_halfway() -> None:
    design, first = on_ground(1)
    assert with_point(design, first, (150.0, 8.0), 5.0) is None
    halfway = [between(design, on_ground(number)[1]) for number in (1, 3, 4)]
    assert halfway == [(150.0, 0.0), (2150.0, 160.0), (2150.0, 160.0)]
    alone, only = on_ground(1, ((0.0, 5.0),))
    found = with_point(alone, only, between(alone, only), 1.0)
    assert found is not None
    length = alone.inner_leaf.length_mm + alone.outer_leaf.length_mm
    assert found[0].sites[0].ground_mm == ((0.0, 5.0), (round(length), 5.0))


def test_in_a_detail_a_grip_goes_as_the_detail_shows_it() -> None:
    evaluation = ramp()
    grips = standing(evaluation)
    (x, z), (left, low) = grips["deck_hinge"].at, (900.0, -700.0)
    detail = Enlarged(
        window=(x - 60.0, z - 40.0, x + 60.0, z + 40.0), frame=(left, low, left + 600.0, low + 400.0)
    )
    shown = {grip.key: grip for grip in within_details(tuple(grips.values()), (detail,))}
    assert shown["deck_hinge"].at == pytest.approx((left + 300.0, low + 200.0))
    assert shown["inner_leaf.length_mm"] is grips["inner_leaf.length_mm"]
    for key in ("deck_hinge", "deck_hinge.height_mm"):
        for values in tried(grips[key]):
            assert shown[key].moved(values) == pytest.approx(detail.at(grips[key].moved(values)))
    stowed = folding_grips(evaluation.design, closed_pose(evaluation.design), 1)
    (angle,) = (grip for grip in stowed if grip.key == "fold.stowed_deg")
    assert enlarged(angle, detail).moved((70.0,)) == pytest.approx(detail.at(angle.moved((70.0,))))


def test_of_grips_without_room_beside_one_another_the_lesser_rank_is_shown() -> None:
    at = {"a": (0.0, 2), "b": (5.0, 0), "c": (9.0, 1), "d": (40.0, 3)}
    grips = tuple(Grip(key=key, at=(x, 0.0), ways=(), rank=rank) for key, (x, rank) in at.items())
    assert [grip.key for grip in with_room(grips, 8.0)] == ["b", "d"]
    assert [grip.key for grip in with_room(grips, 8.0, keep="a")] == ["a", "c", "d"]
    assert with_room(grips, 1.0) == grips
