"""What is told besides the checks."""

from dataclasses import replace

import pytest

from rampdraft.checks.notes import PINCH, PROPS, UNJUDGED, notes
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design


def of_steel(design: Design, *families: str) -> Design:
    for family in families:
        design = with_value(design, f"made_of.{family}", "steel S235")
    return design


def test_steel_on_aluminium_is_told_with_the_pairs() -> None:
    told, *_, pinch = notes(starter_design())
    assert "rails and slats" in told
    assert "rails and edge upstands" in told
    assert "rails and cross members" not in told
    assert pinch == PINCH
    plain = notes(of_steel(starter_design(), "slats", "upstands"))
    assert not any("aluminium" in one for one in plain)


@pytest.mark.parametrize(
    ("section", "hollow"), [("box 60x40x3", True), ("tube 40x3", True), ("flat 60x10", False)]
)
def test_hollow_steel_is_drained(section: str, hollow: bool) -> None:
    from rampdraft.model.section import parse_section

    design = starter_design()
    for leaf in ("inner_leaf", "outer_leaf"):
        design = with_value(design, f"{leaf}.rail_section", parse_section(section))
        design = with_value(design, f"{leaf}.cross_section", parse_section("flat 20x10"))
    assert any("drain hole" in one for one in notes(design)) is hollow


def test_what_is_not_judged_is_a_list_of_sentences() -> None:
    assert len(set(UNJUDGED)) == len(UNJUDGED) > 5
    assert all(one.endswith(".") for one in UNJUDGED)


def test_latches_are_told_with_what_they_bear() -> None:
    design = starter_design()
    road = replace(design.road, latch_n=0.0, second_n=0.0)
    bare = replace(design, hold_down=replace(design.hold_down, latch=False), road=road)
    assert not [note for note in notes(bare) if note.startswith("Buy latches")]
    held = replace(design.hold_down, latch=True, pull_n=2500.0, arm_mm=50.0)
    (note,) = [
        note
        for note in notes(replace(bare, hold_down=held, road=replace(road, second_n=1500.0)))
        if note.startswith("Buy latches")
    ]
    assert "one across the joint, 2500 N at 50 mm from its centre" in note
    assert "a second lock for the stowed pack and one for the outer leaf, 1500 N each" in note
    assert "; one for the stowed pack" not in note


@pytest.mark.parametrize(
    ("fitted", "stop", "told"), [(True, "none", True), (True, "butt", False), (False, "none", False)]
)
def test_a_joint_that_props_alone_hold_says_so(fitted: bool, stop: str, told: bool) -> None:
    """One left out lets the joint drop; common practice."""
    design = with_value(with_value(starter_design(), "prop.fitted", fitted), "stop.kind", stop)
    assert (PROPS in notes(design)) is told
