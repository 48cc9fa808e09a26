"""What holds every member, judged: EN 1993-1-8, 4.5.1(2) and table 3.3 (from memory), common practice."""

from dataclasses import replace

import pytest
from ramps import base_design, checks
from timber_ramp import timber_ramp
from written_starter import all_given

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.geometry.members.assembly import assemble
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import Section
from rampdraft.model.starter import starter_design


def judged(design: Design) -> dict[str, Check]:
    return {
        check.id: check for check in evaluate(replace(design, use=replace(design.use, rule_sets=()))).checks
    }


def of_kind(found: dict[str, Check], kind: str) -> dict[str, Check]:
    return {name: check for name, check in found.items() if check.about.kind == kind}


def test_of_the_starter_everything_is_held_and_nothing_in_anothers_place() -> None:
    found = judged(starter_design())
    held, through = of_kind(found, "own/attached"), of_kind(found, "own/through")
    assert len(held) == 13
    assert len(through) == 2
    assert {check.status for check in (*held.values(), *through.values())} == {Status.WITHIN}


def test_a_stop_bar_that_floats_is_held_by_nothing_and_bears_nothing() -> None:
    """The wrong case: at 100 mm the bars float 17 mm above the rails, and their welds seemed to gain."""
    found = judged(with_value(starter_design(), "stop.arm_mm", 100.0))
    check = found["own/attached/inner-stop"]
    assert (check.status, check.value, check.limit, check.member) == (
        Status.EXCEEDS,
        pytest.approx(-17),
        30,
        "inner stop bar 1",
    )
    assert check.why == "Nothing holds it: there are 17 mm of air between it and the rail."
    assert "air between them = 17 mm" in check.working
    assert found["own/strength/stop"].status is Status.UNJUDGED
    assert "nothing holds it" in found["own/strength/stop"].why


@pytest.mark.parametrize(
    ("length", "status"), [(29.7, "EXCEEDS"), (30, "CLOSE"), (30.3, "CLOSE"), (60, "WITHIN")]
)
def test_a_weld_is_30_mm_long_at_least(length: float, status: str) -> None:
    """EN 1993-1-8, 4.5.1(2), from memory: 30 mm or six throats; here 6 x 3.5 = 21 mm."""
    stop = replace(starter_design().stop, fixed_length_mm=float(length), gap_mm=0.0)
    check = judged(replace(starter_design(), stop=stop))["own/attached/inner-stop"]
    assert check.value == pytest.approx(length)
    assert check.status is Status[status]
    assert "needed: 30 mm or 6 a = 6 x 3.5 mm = 21 mm, whichever is more = 30 mm" in check.working


def test_a_thick_weld_asks_for_six_throats() -> None:
    design = with_value(starter_design(), "joining.weld_throat_mm", 8.0)
    assert judged(design)["own/attached/inner-stop"].limit == pytest.approx(48)


@pytest.mark.parametrize(
    ("factor", "status"), [(0.99, "EXCEEDS"), (1, "CLOSE"), (1.01, "CLOSE"), (2, "WITHIN")]
)
def test_the_screws_of_a_slat_are_clear_of_the_end_of_the_rail(factor: float, status: str) -> None:
    """1.2 x 5.5 = 6.6 mm from the rail's end (EN 1993-1-8, table 3.3, from memory); a slat of 100 has its
    outer screws 25 mm from its edge.
    """
    first = 6.6 * factor - 25
    check = judged(with_value(all_given(starter_design()), "inner_leaf.slat_first_mm", first))[
        "own/attached/inner-slats"
    ]
    assert check.value == pytest.approx(6.6 * factor)
    assert check.status is Status[status]


@pytest.mark.parametrize(
    ("first", "words"),
    [
        (-0.5, "stands out over the end of inner rail 4, o = 0.5 mm"),
        (0.0, "ends before the end of"),
        (3.0, "ends before the end of"),
    ],
)
def test_a_slat_over_the_end_of_its_rail_is_told(first: float, words: str) -> None:
    found = judged(with_value(all_given(starter_design()), "inner_leaf.slat_first_mm", first))
    assert words in found["own/attached/inner-slats"].working[0]


def test_a_screw_in_timber_keeps_five_diameters_from_the_end() -> None:
    """Common practice; a screw of 5 mm goes through a hole of 5.5 mm."""
    design = with_value(timber_ramp(), "made_of.rails", "timber C24")
    check = judged(design)["own/attached/inner-slats"]
    assert check.limit == pytest.approx(5 * 5.0)
    assert judged(timber_ramp())["own/attached/inner-slats"].limit == pytest.approx(1.2 * 5.5)


def test_slats_that_are_welded_lie_on_the_rails_by_half() -> None:
    design = with_value(all_given(starter_design()), "workshop.slat_screw_mm", 0.0)
    found = judged(with_value(design, "inner_leaf.slat_first_mm", -51.0))["own/attached/inner-slats"]
    assert (found.status, found.value, found.limit) == (Status.EXCEEDS, pytest.approx(49), 50)
    assert judged(design)["own/attached/inner-slats"].status is Status.WITHIN


@pytest.mark.parametrize(("arm", "status"), [(63.5, "WITHIN"), (63.6, "EXCEEDS"), (68, "EXCEEDS")])
def test_a_bar_may_stand_half_a_mm_into_a_slat(arm: float, status: str) -> None:
    check = judged(with_value(all_given(starter_design()), "stop.arm_mm", float(arm)))["own/through/inner"]
    assert check.value == pytest.approx(arm - 63)
    assert check.fails == (status == "EXCEEDS")
    if arm == 68:
        assert check.why == "inner slat 12 and inner stop bar 1 pass through each other."
        assert check.member == "inner stop bar 1"
        assert any("56.1 mm x 5 mm x 12 mm" in line for line in check.working)


def test_a_lap_plate_through_the_slats_of_its_own_leaf_is_told() -> None:
    """The wrong case: a plate on the rails, and slats on the rails, in one place."""
    stop = replace(
        base_design().stop,
        kind="lap",
        count=1,
        fixed_length_mm=200.0,
        section=Section(kind="flat", depth_mm=12, width_mm=600),
    )
    design = replace(base_design(), stop=stop)
    check = checks(design=design, assembly=assemble(design))["own/through/inner"]
    assert check.fails
    assert check.about.part == "stop-bar"


def test_ways_out_leave_no_part_held_by_nothing() -> None:
    """The wrong case: `butt height 63 -> 91` lifted the bars off the rails and was offered."""
    weak = with_value(with_value(starter_design(), "joining.weld_throat_mm", 1.0), "use.rated_load_kg", 700)
    design = replace(weak, use=replace(weak.use, rule_sets=()))
    evaluation = evaluate(design)
    assert any(check.fails for check in evaluation.checks if check.id == "own/strength/stop")
    for way in ways_out(evaluation, "own/strength/stop")["own/strength/stop"]:
        after = evaluation.changed(way.path, way.after).checks
        kinds = {check.about.kind for check in after if check.fails}
        assert not kinds & {"own/attached", "own/through"}, way.path


def test_a_floating_bar_is_told_how_to_be_let_down() -> None:
    """To below the slats, which stay where they are: higher up it would be held, but run through them."""
    design = with_value(all_given(starter_design()), "stop.arm_mm", 100.0)
    design = replace(design, use=replace(design.use, rule_sets=()))
    ways = {
        way.path: way
        for way in ways_out(evaluate(design), "own/attached/inner-stop")["own/attached/inner-stop"]
    }
    assert ways["stop.arm_mm"].after == 63
