"""All checks together: verdicts, order, ids, deck states."""

import pickle
from dataclasses import replace

import pytest
from ramps import base_assembly, base_design, checks, rule_set, stood

from rampdraft.checks.result import MOST_RATIO, Status, verdict
from rampdraft.checks.rules.sets import builtin_rule_sets, with_floor
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.members.assembly import assemble


@pytest.mark.parametrize(
    ("value", "limit", "sense", "ratio", "status"),
    [
        (94.9, 100, "at most", 0.949, Status.WITHIN), (95, 100, "at most", 0.95, Status.CLOSE),
        (100, 100, "at most", 1.0, Status.CLOSE), (100 + 1e-8, 100, "at most", 1.0, Status.CLOSE),
        (100.001, 100, "at most", 1.00001, Status.EXCEEDS), (0.1 + 0.2, 0.3, "at most", 1.0, Status.CLOSE),
        (200, 100, "at least", 0.5, Status.WITHIN), (100, 95, "at least", 0.95, Status.CLOSE),
        (100, 100, "at least", 1.0, Status.CLOSE), (99.999, 100, "at least", 1.00001, Status.EXCEEDS),
        (0, 51, "at least", MOST_RATIO, Status.EXCEEDS), (-8, 3, "at least", MOST_RATIO, Status.EXCEEDS),
        (0, 0, "at most", 1.0, Status.CLOSE), (1, 0, "at most", MOST_RATIO, Status.EXCEEDS),
        (-1, 0, "at most", 0.0, Status.WITHIN), (5, 0, "at least", 0.0, Status.WITHIN),
        (1, 1, "is", 0.0, Status.WITHIN), (2, 1, "is", MOST_RATIO, Status.EXCEEDS),
    ],
)  # fmt: skip
def test_verdict(value: float, limit: float, sense: str, ratio: float, status: Status) -> None:
    found = verdict(value, limit, sense)  # pyright: ignore[reportArgumentType]
    assert found == (pytest.approx(ratio, abs=1e-9), status)


def test_worst_come_first() -> None:
    """Exceeded, exceeded but a warning only, close, cannot be judged, within; the larger ratio first among
    equals.
    """
    found = Evaluation(base_design(), builtin_rule_sets()).checks
    groups = [
        (
            0
            if check.fails
            else {Status.EXCEEDS: 1, Status.CLOSE: 2, Status.UNJUDGED: 3, Status.WITHIN: 4}[check.status]
        )
        for check in found
    ]
    assert groups == sorted(groups)
    assert set(groups) == {0, 1, 2, 3, 4}, "the ramp of this test has all of them"
    for group in (0, 2, 4):
        # Equal ones may differ by their last digit.
        ratios = [
            round(check.ratio or 0.0, 9) for check, one in zip(found, groups, strict=True) if one == group
        ]
        assert ratios == sorted(ratios, reverse=True)


def test_ids_are_unique_and_stay_put_while_dimensions_and_names_change() -> None:
    design = base_design()
    renamed = replace(design, sites=tuple(replace(site, name="Same name") for site in design.sites))
    longer = replace(renamed, inner_leaf=replace(renamed.inner_leaf, width_mm=700))
    assert set(checks(*builtin_rule_sets())) == set(checks(*builtin_rule_sets(), design=longer))


def test_deck_that_sinks_is_judged_empty_and_loaded() -> None:
    design = replace(base_design(), carrier=replace(base_design().carrier, deck_drop_mm=40))
    assembly = assemble(design)
    found = checks(
        rule_set("france-vehicle"), design=design, assembly=assembly, sites=stood(design, assembly)
    )
    empty, loaded = found["france-vehicle/slope/site-1-empty"], found["france-vehicle/slope/site-1-loaded"]
    assert (empty.subject, loaded.subject) == ("Yard, deck empty", "Yard, deck loaded")
    assert empty.value is not None
    assert loaded.value is not None
    assert loaded.value < empty.value, "the deck comes nearer to the ground"
    fixed = checks(rule_set("france-vehicle"))
    assert fixed["france-vehicle/slope/site-1-empty"].subject == "Yard"
    assert "france-vehicle/slope/site-1-loaded" not in fixed


def test_reference_kerb_is_stood_on_in_earnest() -> None:
    """Singapore's 150 mm kerb: the rise of the ordinary ramp is the deck's height less the kerb, within hinge
    and toe offsets.
    """
    design = replace(base_design(), sites=base_design().sites[:1])
    found = checks(rule_set("singapore-bus"), design=design, sites=stood(design, base_assembly()))
    check = found["singapore-bus/slope-kerb/kerb-150-empty"]
    assert check.site_number == 0
    assert "150 mm kerb" in check.subject
    yard = checks(rule_set("france-vehicle"))["france-vehicle/slope/site-1-empty"]
    assert check.value is not None
    assert yard.value is not None
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    assert yard.value - check.value == pytest.approx(150 / length, rel=0.05)


def test_no_rule_sets_leave_the_programs_own_checks() -> None:
    assert {check.source.rule_set for check in checks().values()} == {"own", "floor"}


def test_every_check_says_in_keys_what_it_is_about():
    for path in sample_paths():
        evaluation = evaluate(load_design(path), path.parent)
        limits = {
            (rules.key, limit.id): limit
            for rules in with_floor(evaluation.rule_sets)
            for limit in rules.limits
        }
        members = {member.key: member for member in evaluation.assembly.members}
        for check in evaluation.checks:
            about = check.about
            if check.source.rule_set == "own":
                words = 3 if check.id.startswith("own/aside/") else 2  # two of its kind: tips, slides
                assert (about.limit, about.kind) == ("", "/".join(check.id.split("/")[:words]))
            else:
                assert limits[check.source.rule_set, about.limit].quantity == about.kind
                assert f"{check.id}/".startswith(f"{check.source.rule_set}/{about.limit}/")
            if about.leaf and check.member:
                assert members[check.member].body == about.leaf
            if about.user:
                name = evaluation.design.use.users[about.user - 1].name
                assert check.subject == name or check.subject.startswith(f"{name}, ")
                if about.part:
                    assert check.subject.endswith(f", {about.part.replace('-', ' ')}")
            if about.state == "loaded":
                assert check.subject.endswith(", deck loaded")
            if about.pair is not None:
                assert about.pair[1].body in ("inner", "outer")
                assert members[check.member].kin == about.pair[0] if check.member in members else True
            assert hash(about) == hash(replace(about))


def test_checks_are_plain_data_that_can_be_sent_and_compared() -> None:
    """Each made twice, so that no working hides a closure or an array."""
    for path in sample_paths():
        one, two = (evaluate(load_design(path), path.parent).checks for _ in range(2))
        assert one == two
        assert pickle.loads(pickle.dumps(one)) == one
        assert [check.working for check in one] == [check.working for check in two]
