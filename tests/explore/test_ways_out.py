"""Ways out: the value told just passes, the one before it does not, and what else it does is what the whole
evaluation says.
"""

import math
from dataclasses import replace
from functools import partial
from typing import Any

import pytest

from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.quantities.table import QUANTITIES, RampQuantity, SiteQuantity
from rampdraft.checks.result import Check, CheckTopic, Demand, Measured, Status, compose
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.ways_out import candidates
from rampdraft.explore.ways_out import levers as levers_module
from rampdraft.explore.ways_out.candidates import candidates_of
from rampdraft.explore.ways_out.levers import Follow, Lever, levers_of
from rampdraft.explore.ways_out.results import Value, WayOut
from rampdraft.explore.ways_out.trial import again
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.ways_out.words import effect_words
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.members.member import Kin
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design, Stock
from rampdraft.model.fields.paths import changed, info_of, value_of
from rampdraft.model.fields.record import Dim
from rampdraft.model.section import Section, parse_section
from rampdraft.model.sold import sold_sizes
from rampdraft.model.spacing import freed
from rampdraft.progress import Cancelled
from rampdraft.words.prose import stated

SLOPE = "us-vehicle-2016/slope-ground/site-1-empty"
TOO_STEEP = next(path for path in sample_paths() if path.stem == "too-steep")


@pytest.fixture(scope="module")
def steep() -> Evaluation:
    return evaluate(load_design(TOO_STEEP), TOO_STEEP.parent)


@pytest.fixture(scope="module")
def found(steep: Evaluation) -> dict[str, tuple[WayOut, ...]]:
    """Return the ways out of every other failing check and of some more, what they do to rolling left out:
    that takes four times as long, and is tried at one check each below and in `test_rolling_ways.py`.
    """
    return ways_out(steep, asked(steep), rolling=False)


def asked(steep: Evaluation) -> frozenset[str]:
    failing = [check.id for check in steep.all_checks if check.fails]
    return frozenset((*failing[::2], SLOPE, "us-vehicle-2016/opening", "floor/slope"))


def judged(design: Design, *, rolling: bool = False) -> dict[str, Check]:
    evaluation = evaluate(design, TOO_STEEP.parent)
    return {check.id: check for check in (evaluation.all_checks if rolling else evaluation.checks)}


def moved(design: Design, check: Check, way: WayOut, value: Value) -> Design:
    """Return the design with the lead of a way at another value, and what follows it."""
    levers = [Lever(lead=way.path), *levers_of(check, design)]
    paths = [change.path for change in way.changes]
    found = [lever.changes(design, value) for lever in levers if lever.lead == way.path]
    changes = next(one for one in found if one and [change.path for change in one] == paths)
    for change in changes:
        design = changed(design, change.path, change.after)
    return design


def number(value: Value) -> float:
    assert isinstance(value, int | float)
    return value


def fails(checks: dict[str, Check], id: str) -> bool:
    return id in checks and checks[id].fails


def leaves_unbuilt(before: Evaluation, design: Design) -> bool:
    """Return whether a member of a design is held by nothing or in another's place, and was not before."""
    was = {check.id for check in before.attaching if check.fails}
    return any(check.fails and check.id not in was for check in before.following(design).attaching)


def less_than(design: Design, way: WayOut, grid: float) -> float | None:
    """Return a change one size or one step of the grid less; None where there is none between."""
    assert isinstance(way.before, int | float)
    assert isinstance(way.after, int | float)
    up = way.after > way.before
    sizes = sold_sizes(design, way.path)
    if not sizes:
        return way.after - grid if up else way.after + grid
    assert way.after in sizes
    between = [one for one in sizes if min(way.before, way.after) < one < max(way.before, way.after)]
    return (max if up else min)(between, default=None)


def test_each_failing_check_has_its_answer_and_no_other_has(
    steep: Evaluation, found: dict[str, tuple[WayOut, ...]]
) -> None:
    assert set(found) == asked(steep)
    assert sum(map(len, found.values())) > 10
    assert all(list(ways) == sorted(ways, key=lambda way: (way.breaks, way.share)) for ways in found.values())


def test_the_value_told_just_passes_and_one_step_less_does_not(
    steep: Evaluation, found: dict[str, tuple[WayOut, ...]]
) -> None:
    tried, checks = 0, {check.id: check for check in steep.all_checks}
    for id, ways in found.items():
        judge = partial(judged, rolling=isinstance(checks[id].found, Rolled))
        for way in ways:
            info = info_of(way.path)
            assert info is not None
            after_it = judge(way.taken(steep.design))
            assert id not in after_it or not after_it[id].fails, (id, way.path)
            if sizes := sold_sizes(steep.design, way.path):
                assert way.after in sizes
                low, high = sorted((number(way.before), number(way.after)))
                between = [moved(steep.design, checks[id], way, size) for size in sizes if low < size < high]
                assert all(fails(judge(one), id) for one in between), (id, way.path)
            elif isinstance(info.record, Dim):
                grid = min(info.record.step, 1.0)
                after, before = number(way.after), number(way.before)
                less = after - grid if after > before else after + grid
                assert after / grid == pytest.approx(round(after / grid))
                design = moved(steep.design, checks[id], way, type(after)(less))
                assert fails(judge(design), id) or leaves_unbuilt(steep, design), (id, way.path)
                tried += 1
    assert tried > 10


CHANGES: tuple[tuple[str, Value], ...] = (
    ("inner_leaf.length_mm", 900.0),
    ("joint.pin_diameter_mm", 13.0),
    ("inner_leaf.upstand_height_mm", 55.0),
    ("made_of.rails", "steel S355"),
    ("carrier_body.ballast_kg", 100.0),
    ("joining.weld_throat_mm", 5.0),
    ("outer_leaf.slat_first_mm", 12.0),
    ("deck_hinge.below_mm", 50.0),
    ("bridge.fitted", True),
    ("prop.fitted", True),
)


@pytest.mark.parametrize(
    ("sample", "path", "value"),
    [
        pytest.param(
            name, *change, marks=() if (number + other) % len(sample_paths()) == 0 else pytest.mark.soak
        )
        for number, change in enumerate(CHANGES)
        for other, name in enumerate(path.stem for path in sample_paths())
    ],
)
def test_a_trial_says_what_the_whole_evaluation_says(sample: str, path: str, value: Value) -> None:
    """Each change in one of the samples; in all of them with --soak."""
    file = next(one for one in sample_paths() if one.stem == sample)
    base = evaluate(load_design(file), file.parent)
    try:
        trial = base.changed(path, value)
    except DesignError:
        return
    alone = [again(trial, base, check) for check in base.checks]
    fresh = {check.id: check for check in evaluate(trial.design, file.parent).checks}
    assert [check for check in alone if check and not check.id.startswith("own/clearance")] == [
        fresh[check.id]
        for check in base.checks
        if check.id in fresh and not check.id.startswith("own/clearance")
    ]
    assert {check.id: check for check in trial.checks} == fresh


def test_what_else_a_way_does_is_told(steep: Evaluation, found: dict[str, tuple[WayOut, ...]]) -> None:
    assert told_besides(steep, found) > 2


def test_what_a_way_does_to_rolling_is_told(steep: Evaluation) -> None:
    """Of one that breaks nothing else; of one that does it is told that it is not rolled over."""
    ways = ways_out(steep, SLOPE)
    told_besides(steep, ways)
    assert all(way.rolls or way.breaks for way in ways[SLOPE])
    unrolled = [way for way in ways[SLOPE] if not way.rolls]
    assert unrolled
    assert all(effect_words(way)[-1] == "Not rolled over." for way in unrolled)


def told_besides(steep: Evaluation, found: dict[str, tuple[WayOut, ...]]) -> int:
    """Hold what the ways out of every third check are said to do besides against a fresh evaluation, and
    return how much.
    """
    told = 0
    for id, ways in [*found.items()][::3]:
        for way in ways:
            before = {check.id: check for check in (steep.all_checks if way.rolls else steep.checks)}
            after = judged(way.taken(steep.design), rolling=way.rolls)
            cured = {
                one for one, check in before.items() if check.fails and one != id and not fails(after, one)
            }
            unjudged = {one for one in cured if one in after and after[one].status is Status.UNJUDGED}
            assert {effect.before.id for effect in way.cures if effect.before} == cured - unjudged
            broken = {one for one in after if fails(after, one) and not fails(before, one)}
            assert way.breaks == bool(broken)
            assert broken <= {effect.after.id for effect in way.worsens if effect.after}
            told += len(broken)
    return told


def test_a_longer_leaf_is_told_to_stand_too_high_when_stowed(found: dict[str, tuple[WayOut, ...]]) -> None:
    (way,) = found[SLOPE]
    assert way.path == "inner_leaf.length_mm"
    assert any(
        effect.words.startswith("stowed height above the deck: ")
        and effect.words.endswith(" times its limit")
        for effect in way.worsens
    )


def test_what_nothing_cures_has_no_way(found: dict[str, tuple[WayOut, ...]]) -> None:
    """Both leaves have gaps wider than 16 mm, so no one pitch, width or end closes them."""
    assert found["us-vehicle-2016/opening"] == ()


def test_a_slope_is_cured_by_the_length_that_makes_it_one_in_so_many(steep: Evaluation) -> None:
    """Whole and gradient of a straight ramp: sin = rise over length, so a slope of 1 : 6 needs the length of
    its diagonal.
    """
    way = ways_out(steep, SLOPE, rolling=False)[SLOPE][0]
    assert isinstance(way.after, float)
    gradient = judged(way.taken(steep.design))[SLOPE]
    assert gradient.value == pytest.approx(1 / 6, rel=1e-3)
    assert gradient.value is not None
    assert gradient.value <= 1 / 6 * (1 + 1e-9)


def test_slats_are_cured_by_the_least_board_that_is_sold_and_thick_enough(steep: Evaluation) -> None:
    """Strength goes with the square of the thickness; no board of the catalogue is thick enough, so that only
    those help that lie in the shop.
    """
    id = "own/strength/outer-slats"
    check = next(check for check in steep.checks if check.id == id)
    assert check.ratio is not None
    needed = 20 * check.ratio**0.5
    assert not [way for way in ways_out(steep, id)[id] if way.path == "outer_leaf.slat_thickness_mm"]
    thick = [math.ceil(needed) - 5.0, math.ceil(needed) + 1.0, math.ceil(needed) + 9.0]
    boards = (
        Stock(
            section=Section(kind="timber", depth_mm=size, width_mm=95),
            material=steep.design.made_of.slats,
            length_mm=4000,
        )
        for size in thick
    )
    base = evaluate(replace(steep.design, stock=tuple(boards)), TOO_STEEP.parent)
    ways = {way.path: way.after for way in ways_out(base, id)[id]}
    assert ways["outer_leaf.slat_thickness_mm"] == thick[1]


def test_work_called_off_says_nothing(steep: Evaluation) -> None:
    asked: list[float] = []

    def progress(share: float, words: str) -> None:
        asked.append(share)
        if len(asked) == 3:
            raise Cancelled

    with pytest.raises(Cancelled):
        ways_out(steep, progress=progress)
    assert len(asked) == 3


def tried_for(base: Evaluation, kind: str, **about: Any) -> tuple[str, ...]:
    demand = replace(Demand.own("x", "X", "at most", "mm", 1.0, "1 mm"), kind=kind)
    found = Measured(key="", subject="", value=2.0, working=stated(), **about)
    return candidates_of(compose(demand, found), base.design)


def test_every_quantity_of_a_rule_has_its_own_line_and_every_path_is_one_of_a_design(
    steep: Evaluation,
) -> None:
    judged_ones = {name for name, one in QUANTITIES.items() if isinstance(one, SiteQuantity | RampQuantity)}
    assert judged_ones - {"step"} <= set(candidates._TABLE)
    lines = [
        *candidates._TABLE.values(),
        *candidates._STEP.values(),
        *(paths for _, paths in candidates.OF_PAIR),
    ]
    lines += [candidates._FALLBACK, *candidates._STEADY.values()]
    for line in lines:
        for path in line:
            bare = path.lstrip("+-~").replace("{leaf}", "inner_leaf")
            info = info_of(bare)
            assert info is not None, path
            assert info.record is not None, path


def test_only_what_strengthens_the_worst_member_is_tried_for_a_load(steep: Evaluation) -> None:
    tried = tried_for(steep, kind="strength", part="outer-rails", leaf="outer")
    assert "outer_leaf.rail_section" in tried
    assert "both_leaves.rail_section" in tried
    assert "inner_leaf.rail_section" not in tried
    assert not [path for path in tried if "slat" in path]


def test_a_pair_of_the_fold_is_cured_by_what_parts_it(steep: Evaluation) -> None:
    slats = (Kin("inner", "slat"), Kin("outer", "slat"))
    deck = (Kin("carrier", "deck"), Kin("outer", "rail"))
    assert tried_for(steep, kind="own/clearance", pair=slats)[0] == "+joint.height_mm"
    assert tried_for(steep, kind="own/clearance", pair=deck)[0] == "+deck_hinge.out_mm"


def test_a_check_that_nobody_has_thought_of_has_the_usual_dimensions(steep: Evaluation) -> None:
    assert "+inner_leaf.length_mm" in tried_for(steep, kind="own/something-new")


@pytest.mark.parametrize("name", ["Dinner trolley", "Router cart"])
def test_the_name_of_a_user_says_nothing_of_a_leaf(steep: Evaluation, name: str) -> None:
    wide = replace(steep.design.use.users[0], name=name, width_mm=1500)
    use = replace(steep.design.use, users=(wide,), rule_sets=())
    base = evaluate(replace(steep.design, use=use))
    check = next(check for check in base.checks if check.id == "own/user-width/user-1")
    assert check.about == CheckTopic(kind="own/user-width", user=1)
    tried = candidates_of(check, base.design)
    assert {"+inner_leaf.width_mm", "+outer_leaf.width_mm", "+both_leaves.width_mm"} == set(tried)


def test_a_stop_lamp_is_no_stop_bar(steep: Evaluation) -> None:
    check = next(check for check in steep.checks if check.about.pair is not None)
    pair = (Kin("carrier", "obstacle", number=1), Kin("outer", "rail"))
    tried = {
        candidates_of(
            replace(check, found=replace(check.found, pair=pair, subject=f"obstacle {name} - outer rail")),
            steep.design,
        )
        for name in ("stop lamp", "lamp", "inner slat")
    }
    assert len(tried) == 1
    assert "stop.fixed_length_mm" not in next(iter(tried))


def test_what_is_tried_is_read_from_keys(steep: Evaluation) -> None:
    for check in steep.checks:
        demand = replace(check.demand, title="Inner stop")
        bare = {"member": ""} if check.member else {}
        found = replace(check.found, subject="outer slat - inner deck", **bare)
        renamed = replace(check, id="x", demand=demand, found=found)
        tried = candidates_of(renamed, steep.design)
        assert tried == candidates_of(check, steep.design), check.id


@pytest.mark.parametrize(
    ("sample", "path", "value", "id", "cures"),
    [
        pytest.param(
            "reed-ferry",
            "use.users[1].footrest_height_mm",
            49.0,
            "own/roll-clears",
            {"toe.thickness_mm"},
            marks=pytest.mark.soak,
        ),
        pytest.param(
            "barn-stage",
            "use.users[1].footrest_height_mm",
            50.0,
            "own/roll-clears",
            {"toe.length_mm"},
            marks=pytest.mark.soak,
        ),
        pytest.param(
            "orchard-trolley",
            "hands.people",
            1,
            "own/roll-keep",
            {"hands.people", "inner_leaf.length_mm"},
            marks=pytest.mark.soak,
        ),
    ],
)
def test_a_failing_roll_is_cured_where_it_fails_and_stays_cured_for_all(
    sample: str, path: str, value: Value, id: str, cures: set[str]
) -> None:
    file = next(one for one in sample_paths() if one.stem == sample)
    base = evaluate(changed(load_design(file), path, value), file.parent)
    check = next(one for one in base.rolled if one.id == id)
    ways = ways_out(base, id)[id]
    assert cures <= {way.path for way in ways}
    for way in ways:
        info = info_of(way.path)
        assert info is not None
        if not (isinstance(info.record, Dim) and isinstance(way.after, float)):
            continue
        less = less_than(base.design, way, min(info.record.step, 1.0))
        for there, fails in ((way.after, False), *(((less, True),) if less is not None else ())):
            trial = base.following(moved(base.design, check, way, there))
            rolled = {one.id: one for one in trial.rolled}
            assert rolled[id].fails is fails, (way.path, there)


def test_what_follows_is_changed_by_what_it_is_worked_out_from_alone() -> None:
    base = load_design(TOO_STEEP)
    (opening,) = [one for one in evaluate(base, TOO_STEEP.parent).checks if one.about.kind == "opening"][:1]
    assert "-inner_leaf.slat_pitch_mm" in candidates_of(opening, base)
    inner = settled(freed(freed(base, "inner_leaf.slat_pitch_mm"), "inner_leaf.slat_first_mm"))
    tried = candidates_of(opening, inner)
    assert "-inner_leaf.slat_greatest_gap_mm" in tried
    assert "-outer_leaf.slat_pitch_mm" in tried
    ruled_out = {"slat_pitch_mm", "slat_last_gap_mm", "slat_first_mm"}
    assert not {f"inner_leaf.{name}" for name in ruled_out} & {one.lstrip("+-") for one in tried}
    assert not [one for one in tried if one.lstrip("+-") == "both_leaves.slat_pitch_mm"]
    both = settled(freed(inner, "outer_leaf.slat_pitch_mm"))
    assert "-both_leaves.slat_greatest_gap_mm" in candidates_of(opening, both) or opening.about.leaf


def test_a_way_out_keeps_what_follows_in_step(steep: Evaluation) -> None:
    design = freed(freed(steep.design, "inner_leaf.slat_pitch_mm"), "inner_leaf.cross_positions_mm")
    base = evaluate(design, TOO_STEEP.parent)
    assert base.design == settled(design)
    longer = base.changed("inner_leaf.length_mm", 1200.0).design
    assert longer == settled(longer)
    assert longer.inner_leaf.cross_positions_mm != base.design.inner_leaf.cross_positions_mm


def test_both_leaves_grow_where_one_alone_would_have_to_grow_more(
    steep: Evaluation, found: dict[str, tuple[WayOut, ...]]
) -> None:
    both, alone = found["floor/slope"]
    assert [change.path for change in both.changes] == ["inner_leaf.length_mm", "outer_leaf.length_mm"]
    grown = {number(change.after) - number(change.before) for change in both.changes}
    assert len(grown) == 1
    assert min(grown) > 0
    assert (alone.path, alone.beside) == ("inner_leaf.length_mm", ())
    assert both.share < alone.share


def test_several_are_told_only_where_no_single_one_leaves_the_others_alone(
    found: dict[str, tuple[WayOut, ...]],
) -> None:
    told = 0
    for ways in found.values():
        single = [way for way in ways if not way.beside]
        for way in ways:
            if way.beside:
                told += 1
                assert len(way.changes) <= 3
                assert all(one.breaks for one in single)
                assert not single or not way.breaks or way.share < min(one.share for one in single)
    assert told


def test_no_way_leaves_a_part_held_by_nothing(
    steep: Evaluation, found: dict[str, tuple[WayOut, ...]]
) -> None:
    before = {check.id for check in steep.attaching if check.fails}
    for ways in found.values():
        for way in ways:
            after = steep.following(way.taken(steep.design)).attaching
            assert {check.id for check in after if check.fails} <= before, way


def test_every_lever_has_at_most_three_values_of_a_design() -> None:
    levers = [lever for some in levers_module._TABLE.values() for lever in some] + [*levers_module._PAIRS]
    for lever in levers:
        assert len(lever.follow) <= 2
        for path in (lever.lead.replace("{leaf}", "inner_leaf"), *(one.path for one in lever.follow)):
            info = info_of(path)
            assert info is not None, path
            assert info.record is not None, path
        for one in lever.follow:
            assert (one.times != 0) != (one.takes is not None), one


def test_a_deeper_rail_takes_the_joint_and_the_stop_with_it() -> None:
    """Backs together the joint stays as far below the rails' underside, the butting edge as high over their
    top.
    """
    file = next(one for one in sample_paths() if one.stem == "library-trailer")
    design = load_design(file)
    lever = next(one for one in levers_module._RAILS if one.lead == "both_leaves.rail_section")
    changes = lever.changes(design, parse_section("box 80x40x3"))
    assert changes is not None
    deeper = 80 - design.inner_leaf.rail_section.depth_mm
    assert {change.path: change.after for change in changes[1:]} == {
        "joint.height_mm": design.joint.height_mm - deeper,
        "stop.arm_mm": design.stop.arm_mm + deeper,
    }
    faces = next(one for one in sample_paths() if one.stem == "orchard-trolley")
    other = replace(load_design(faces), outer_leaf=load_design(faces).inner_leaf)
    alone = lever.changes(other, parse_section("box 80x40x3"))
    assert alone is not None
    assert len(alone) == 1


def test_a_follower_without_a_value_of_its_own_makes_no_way(steep: Evaluation) -> None:
    lever = Lever(lead="inner_leaf.length_mm", follow=(Follow(path="both_leaves.length_mm", times=1.0),))
    assert value_of(steep.design, "both_leaves.length_mm") is None
    assert lever.changes(steep.design, 900.0) is None
