"""What every ramp is held to whatever rule sets it names: the mildest limit of the published rules.

49 CFR 38.23(c)(5): 1:4 to the ground; (c)(6), the number from memory: 5/8 in. Arrêté du 23 août 2013,
annexe 2-6.1: 15 mm, 730 mm. Arrêté du 22 janvier 2015, annexe V: 35 mm from 1200 mm. 36 CFR 1192 App. A:
16 mm. PROWAG 2023, R304.5.2: 13.3 %.
"""

from dataclasses import replace

import pytest
from ramps import all_sloping, base_design, base_poses, checks, sloping, with_leaves
from written_starter import all_given, written_starter

from rampdraft.checks.result import Check, Status
from rampdraft.checks.rules.sets import builtin_rule_sets, floor
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design, WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design

NEAR = ((0.99, False), (1.0, False), (1.01, True))
BARROW = WheeledUser(name="Barrow", kind="barrow", width_mm=500, mass_kg=100)


def judged(design: Design) -> dict[str, Check]:
    return {check.id: check for check in evaluate(design, samples_folder()).checks}


def sample(name: str) -> Design:
    return load_design(samples_folder() / f"{name}.toml")


def pushed(design: Design) -> Design:
    return replace(design, use=replace(design.use, users=(BARROW,)))


@pytest.mark.parametrize(("factor", "fails"), NEAR)
def test_nowhere_steeper_than_one_in_four(factor: float, fails: bool) -> None:
    """Was judged by chosen rules alone: the bad sample's 1:2.84 passes where it names none."""
    check = checks(sites=all_sloping(factor / 4))["floor/slope"]
    assert check.fails is fails
    assert not checks(design=pushed(base_design()), sites=all_sloping(factor / 4))["floor/slope"].fails


def test_a_slope_is_told_of_its_worst_site() -> None:
    steep = tuple(sloping(pose, 0.3) if pose.site_number == 2 else pose for pose in base_poses())
    found = checks(sites=steep)
    assert found["floor/slope"].site_number == 2
    assert found["floor/slope"].value == pytest.approx(0.3)
    assert not [id for id in found if id.startswith("floor/slope/")]


def test_where_it_reaches_nowhere_it_cannot_be_judged() -> None:
    nowhere = tuple(replace(pose, reaches=False) for pose in base_poses())
    assert checks(sites=nowhere)["floor/slope"].status is Status.UNJUDGED


@pytest.mark.parametrize(("factor", "fails"), NEAR)
def test_a_step_no_higher_than_15_mm(factor: float, fails: bool) -> None:
    stood = tuple(replace(pose, toe_step_mm=15 * factor) for pose in base_poses())
    check = checks(sites=stood)["floor/step/toe"]
    assert check.fails is fails


def test_the_samples_steps_and_openings_that_passed() -> None:
    """Wrong before: the ferry's toe with a taper of 10 mm, 18.2 mm on the high bank; the barn's slats at
    105 mm, which left 71 mm bare before the toe flap (1960 - 4 - 17 x 105 - 100 mm). No rule set asked.
    """
    ferry = judged(with_value(sample("reed-ferry"), "toe.thickness_mm", 10.0))["floor/step/toe"]
    assert ferry.fails
    assert ferry.value == pytest.approx(18.2, abs=0.05)
    barn = judged(with_value(all_given(sample("barn-stage")), "outer_leaf.slat_pitch_mm", 105.0))[
        "floor/opening"
    ]
    assert barn.fails
    assert barn.value == pytest.approx(1960 - 4 - 17 * 105 - 100, abs=1e-9)


@pytest.mark.parametrize(("factor", "fails"), NEAR)
def test_an_opening_no_wider_than_16_mm(factor: float, fails: bool) -> None:
    """Across the joint: 1346 mm of leaf, 4 mm to the first slat of either leaf, 12 slats of 100 mm."""
    pitch = (1346 - 100 - 16 * factor) / 11
    found = judged(with_value(written_starter(), "inner_leaf.slat_pitch_mm", pitch))["floor/opening"]
    assert found.value == pytest.approx(16 * factor)
    assert found.fails is fails


@pytest.mark.parametrize(("factor", "fails"), [(0.99, True), (1.0, False), (1.01, False)])
def test_a_clear_width_of_730_mm_where_somebody_rides(factor: float, fails: bool) -> None:
    narrow = with_leaves(base_design(), width_mm=730 * factor)
    assert checks(design=narrow)["floor/clear-width"].fails is fails
    assert "floor/clear-width" not in checks(design=pushed(narrow))


@pytest.mark.parametrize(("factor", "fails"), [(0.99, True), (1.0, False), (1.01, False)])
def test_edges_of_35_mm_on_a_long_ramp(factor: float, fails: bool) -> None:
    low = with_leaves(base_design(), upstand_height_mm=35 * factor)
    assert checks(design=low)["floor/edge/inner-leaf"].fails is fails
    advised = checks(design=pushed(low))["floor/edge/inner-leaf"]
    assert not advised.fails
    assert (advised.status is Status.EXCEEDS) is fails


@pytest.mark.parametrize(("factor", "beyond"), NEAR)
def test_a_change_of_grade_is_advice(factor: float, beyond: bool) -> None:
    """One leaf level after a level deck, the other at the grade; the platform's ground is level."""
    check = checks(sites=all_sloping(0.133 * factor))["floor/change"]
    assert (check.status is Status.EXCEEDS) is beyond
    assert not check.fails


def test_no_limit_is_stricter_than_the_mildest_published_one() -> None:
    published = [limit for rules in builtin_rule_sets() for limit in rules.limits if not limit.steps]
    for limit in floor().limits:
        found = [one.limit for one in published if one.quantity == limit.quantity and one.limit is not None]
        assert limit.limit is not None
        mildest = max(found) if limit.sense == "at most" else min(found)
        assert limit.limit == pytest.approx(mildest, rel=0.01), limit.id


def test_no_rule_set_named_is_itself_not_judged() -> None:
    """Was told nowhere: a design with no rule set had nothing against it."""
    none = judged(with_value(starter_design(), "use.rule_sets", ()))
    assert none["own/rule-sets"].status is Status.UNJUDGED
    assert "own/rule-sets" not in judged(starter_design())
