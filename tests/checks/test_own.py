"""What the program itself demands: fold, joint, stop, stowed size, toe, prop, users."""

import math
from dataclasses import replace

import pytest
from ramps import base_assembly, base_design, base_fold, base_poses, checks, rule_set, with_leaves

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding.folding import stages_of
from rampdraft.mechanics.results import FoldResult, PairClearance
from rampdraft.model.design import Design, Obstacle, WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import Section


def fold_with(*pairs: PairClearance) -> FoldResult:
    fold = base_fold()
    return replace(fold, clearance=replace(fold.clearance, pairs=pairs))


def pair(
    certified_mm: float, clearance_mm: float | None = None, what: str = "inner slat - outer slat"
) -> PairClearance:
    first = base_fold().clearance.tightest
    sampled = certified_mm if clearance_mm is None else clearance_mm
    return replace(
        first,
        what=what,
        certified_mm=certified_mm,
        clearance_mm=sampled,
        member_a="inner slat 3",
        member_b="outer slat 2",
        at=0.4,
    )


def evaluated(design: Design) -> dict[str, Check]:
    return {check.id: check for check in evaluate(design).checks}


def demanding(clearance_mm: float) -> Design:
    return replace(base_design(), fold=replace(base_design().fold, clearance_mm=clearance_mm))


def statuses(found: dict[str, Check], start: str) -> dict[str, Status]:
    return {name: check.status for name, check in found.items() if name.startswith(start)}


@pytest.mark.parametrize(
    ("factor", "status"),
    [(0.99, Status.EXCEEDS), (1, Status.CLOSE), (1.01, Status.CLOSE), (2, Status.WITHIN)],
)
def test_certified_clearance_is_judged(factor: float, status: Status) -> None:
    found = checks(design=demanding(3), fold=fold_with(pair(3 * factor, clearance_mm=9)))
    check = found["own/clearance/inner-slat-outer-slat"]
    assert (check.status, check.value, check.limit) == (status, pytest.approx(3 * factor), 3)
    assert (check.share, check.member) == (0.4, "inner slat 3")


def test_clash_names_members_and_angles() -> None:
    check = checks(design=demanding(3), fold=fold_with(pair(-7)))["own/clearance/inner-slat-outer-slat"]
    assert check.status is Status.EXCEEDS
    assert "inner slat 3 and outer slat 2 overlap by 7 mm" in check.why
    assert "inner leaf at" in check.why
    assert "joint at" in check.why


def test_every_pair_that_comes_too_near_is_told_and_the_tightest_always() -> None:
    found = checks(
        design=demanding(3), fold=fold_with(pair(1), pair(2, what="rail - rail"), pair(9, what="pin - slat"))
    )
    assert statuses(found, "own/clearance") == {
        "own/clearance/inner-slat-outer-slat": Status.EXCEEDS,
        "own/clearance/rail-rail": Status.EXCEEDS,
    }
    assert list(statuses(checks(fold=fold_with(pair(9, what="pin - slat"))), "own/clearance")) == [
        "own/clearance/pin-slat"
    ]


def test_clearance_that_could_not_be_proved_is_not_judged_but_a_clash_seen_is_told() -> None:
    name = "own/clearance/inner-slat-outer-slat"
    unproved = checks(design=demanding(3), fold=fold_with(pair(-math.inf, clearance_mm=5)))[name]
    assert (unproved.status, unproved.value, unproved.share) == (Status.UNJUDGED, None, 0.4)
    assert "It is 5 mm there, but no bound could be proved" in unproved.why
    seen = checks(design=demanding(3), fold=fold_with(pair(-math.inf, clearance_mm=2.9)))[name]
    assert (seen.status, seen.value) == (Status.EXCEEDS, 2.9)


def test_no_clearance_demanded_still_refuses_a_clash() -> None:
    name = "own/clearance/inner-slat-outer-slat"
    assert checks(design=demanding(0), fold=fold_with(pair(0.5)))[name].status is Status.WITHIN
    assert checks(design=demanding(0), fold=fold_with(pair(-0.5)))[name].status is Status.EXCEEDS


def with_stages(inner_off_deg: float = 0.0, fold_off_deg: float = 0.0) -> Design:
    """Return the ordinary ramp with its usual sequence as the user's own, its end turned off the stowed
    pose.
    """
    *others, last = stages_of(base_fold().path)
    last = replace(last, inner_deg=last.inner_deg + inner_off_deg, fold_deg=last.fold_deg + fold_off_deg)
    return replace(base_design(), fold_stages=(*others, last))


@pytest.mark.parametrize("sign", [-1, 1])
@pytest.mark.parametrize(
    ("off_deg", "status"),
    [(0, Status.WITHIN), (0.99 * 0.5, Status.CLOSE), (0.5, Status.CLOSE), (1.01 * 0.5, Status.EXCEEDS)],
)
def test_own_stages_must_end_stowed(off_deg: float, status: Status, sign: int) -> None:
    assert (base_design().fold.stowed_deg, base_design().fold.closed_deg) == (90, 180)
    designs = [with_stages(inner_off_deg=sign * off_deg)]
    if sign > 0 or off_deg == 0:  # the joint cannot turn beyond 180 degrees
        designs.append(with_stages(fold_off_deg=off_deg))
    for design in designs:
        check = evaluated(design)["own/ends-stowed"]
        assert (check.status, check.limit) == (status, 0.5)
        assert check.value == pytest.approx(off_deg, abs=1e-9)


def test_own_stages_that_end_elsewhere_are_told_where_they_should() -> None:
    check = evaluated(with_stages(inner_off_deg=-42, fold_off_deg=10))["own/ends-stowed"]
    assert (check.status, check.value_text, check.share) == (Status.EXCEEDS, "42°", 1.0)
    assert "leaves the inner leaf at 48°, joint at −170°" in check.why
    assert "stowed pose, inner leaf at 90°, joint at −180°" in check.why
    assert "own/ends-stowed" not in checks(), "the usual sequence ends stowed by itself"


def test_an_obstacle_in_the_way_is_a_clash_that_names_it() -> None:
    """A lamp 100 to 160 mm out, 40 mm below the deck, stands where the right rail comes down; beside the ramp
    it is clear.
    """
    at = ((100, -140), (160, -140), (160, -40), (100, -40))
    lamp = Obstacle(name="rear lamp", outline_mm=at, left_mm=-400, right_mm=-300)
    found = evaluated(replace(base_design(), obstacles=(lamp,)))
    check = found["own/clearance/obstacle-rear-lamp-inner-rail"]
    assert (check.status, check.title, check.subject) == (
        Status.EXCEEDS,
        "Clearance while folding",
        "obstacle rear lamp - inner rail",
    )
    assert check.why.startswith("obstacle rear lamp and inner rail 1 overlap by ")
    assert (check.member, check.limit) == ("obstacle rear lamp", base_design().fold.clearance_mm)
    beside = replace(lamp, left_mm=-700, right_mm=-600)
    assert statuses(evaluated(replace(base_design(), obstacles=(beside,))), "own/clearance") == statuses(
        checks(), "own/clearance"
    )


def test_joint_that_nothing_holds_fails_with_the_plain_words() -> None:
    fold = base_fold()
    loose = replace(
        fold, joint=replace(fold.joint, held=False, by="nothing", words="The load folds the joint.")
    )
    check = checks(fold=loose)["own/held/joint"]
    assert (check.status, check.why) == (Status.EXCEEDS, "The load folds the joint.")
    assert checks()["own/held/joint"].status is Status.WITHIN


@pytest.mark.parametrize(
    ("closing", "arm_mm", "status"),
    [
        ("backs", 1, Status.WITHIN), ("backs", 0, Status.EXCEEDS), ("backs", -1, Status.EXCEEDS),
        ("faces", -1, Status.WITHIN), ("faces", 0, Status.EXCEEDS), ("faces", 1, Status.EXCEEDS),
    ],
)  # fmt: skip
def test_butting_faces_where_they_cannot_bear_are_an_error(
    closing: str, arm_mm: float, status: Status
) -> None:
    """model.md 3: backs together a butting face bears above the hinge centre, below it the faces open."""
    design = replace(
        base_design(),
        fold=replace(base_design().fold, closing=closing),
        stop=replace(base_design().stop, kind="butt", arm_mm=arm_mm),
    )
    assert checks(design=design)["own/stop"].status is status


@pytest.mark.parametrize(
    ("name", "room", "size"),
    [
        ("own/stowed/height", "stow_height_mm", "above_deck_mm"), ("own/stowed/out", "stow_out_mm", "out_mm"),
        ("own/stowed/in", "stow_in_mm", "over_deck_mm"),
    ],
)  # fmt: skip
@pytest.mark.parametrize(
    ("factor", "status"), [(0.99, Status.CLOSE), (1, Status.CLOSE), (1.01, Status.EXCEEDS)]
)
def test_stowed_ramp_must_fit_its_room(
    name: str, room: str, size: str, factor: float, status: Status
) -> None:
    design = replace(base_design(), carrier=replace(base_design().carrier, **{room: 200}))
    fold = replace(base_fold(), stowed=replace(base_fold().stowed, **{size: 200 * factor}))
    assert checks(design=design, fold=fold)[name].status is status


def test_ramp_in_the_air_fails_and_its_gradient_is_not_judged() -> None:
    first, *others = base_poses()
    found = checks(rule_set("us-building"), sites=(replace(first, reaches=False), *others))
    assert found["own/toe/site-1-empty"].status is Status.EXCEEDS
    assert "does not reach" in found["own/toe/site-1-empty"].why
    gradient = found["us-building/running-slope/site-1-empty"]
    assert (gradient.status, gradient.value) == (Status.UNJUDGED, None)
    assert found["own/toe/site-2-empty"].status is Status.WITHIN


def test_grounding_at_the_joint_is_named() -> None:
    first, *others = base_poses()
    aground = replace(first, grounds_at_toe=False, touches_with="inner joint knuckle 1")
    check = checks(sites=(aground, *others))["own/toe/site-1-empty"]
    assert (check.status, check.member, check.site_number) == (Status.EXCEEDS, "inner joint knuckle 1", 1)
    assert "inner joint knuckle 1" in check.why


@pytest.mark.parametrize(
    ("factor", "status"), [(0.99, Status.CLOSE), (1, Status.CLOSE), (1.01, Status.EXCEEDS)]
)
def test_users_must_fit_and_be_within_the_rated_load(factor: float, status: Status) -> None:
    user = WheeledUser(
        name="Visitor", kind="scooter", width_mm=860 * factor, mass_kg=225 * factor, attendant_kg=75 * factor
    )
    design = replace(base_design(), use=replace(base_design().use, rated_load_kg=300, users=(user,)))
    found = checks(design=with_leaves(design, width_mm=860))
    assert found["own/user-width/user-1"].status is status
    assert found["own/user-load/user-1"].status is status
    assert found["own/user-width/user-1"].subject == "Visitor"


@pytest.mark.parametrize(
    ("factor", "status"), [(0.99, Status.CLOSE), (1, Status.CLOSE), (1.01, Status.EXCEEDS)]
)
def test_ramp_must_fit_the_opening(factor: float, status: Status) -> None:
    half = max(max(-one.y0_mm, one.y1_mm) for one in base_assembly().of("inner", "outer"))
    design = replace(
        base_design(), carrier=replace(base_design().carrier, opening_width_mm=2 * half / factor)
    )
    assert checks(design=design)["own/opening"].status is status


def test_ramp_for_barrows_only_is_spared_the_widths_of_chairs() -> None:
    barrow = WheeledUser(name="Barrow", kind="barrow", width_mm=500, mass_kg=100)
    chair = WheeledUser(name="Visitor", kind="manual wheelchair", width_mm=700, mass_kg=150)
    for users, told in (((), True), ((barrow,), False), ((barrow, chair), True)):
        found = checks(design=replace(base_design(), use=replace(base_design().use, users=users)))
        assert ("own/survey-width/scooter" in found) is told
        assert ("own/usual-width" in found) is told


def test_stop_plate_as_wide_as_the_surface_closes_the_joint_and_narrow_bars_do_not() -> None:
    """The starter leaves about 100 mm between the leaves' last and first slats; a plate over it leaves only
    the slats' gaps.
    """
    # The last slat ends at the toe, so that no bare rails beyond it open wider.
    base = replace(
        base_design(), outer_leaf=replace(base_design().outer_leaf, length_mm=1254, slat_last_gap_mm=0)
    )
    stop = replace(
        base.stop, kind="lap", count=1, fixed_to="inner", fixed_length_mm=200, lap_mm=200, gap_mm=0
    )
    bars = assemble(replace(base, stop=replace(stop, section=Section(kind="flat", depth_mm=16, width_mm=24))))
    plate = assemble(
        replace(base, stop=replace(stop, section=Section(kind="flat", depth_mm=16, width_mm=860)))
    )
    rules = rule_set("us-vehicle-2016"), rule_set("us-vehicle")
    open_joint, closed = (checks(*rules, design=base, assembly=one) for one in (bars, plate))
    leaf = base_design().inner_leaf
    assert closed["us-vehicle-2016/opening"].value == pytest.approx(leaf.slat_pitch_mm - leaf.slat_width_mm)
    assert (open_joint["us-vehicle-2016/opening"].value or 0) > 50
    assert closed["us-vehicle/protrusion/joint"].value == pytest.approx(leaf.slat_thickness_mm - 16), (
        "the plate lies lower"
    )
    assert "across the joint" in " ".join(open_joint["us-vehicle-2016/opening"].working)


def test_no_check_says_in_its_subject_what_its_title_says() -> None:
    stop = replace(base_design().stop, kind="butt", arm_mm=1)
    found = checks(design=replace(base_design(), stop=stop))
    for name in ("own/held/joint", "own/stop", "own/stowed/height", "own/stowed/out", "own/stowed/in"):
        assert found[name].subject == ""


def test_of_gaps_that_are_equal_the_first_one_is_named() -> None:
    """Whatever the last digit of a sum says: 4 + 105.1 k is not 10.1 from the one before each time."""
    design = with_leaves(base_design(), slat_pitch_mm=105.1, slat_last_gap_mm=0.0)
    joined = replace(design, outer_leaf=replace(design.outer_leaf, slat_first_mm=-90.0, length_mm=1266.2))
    found = checks(rule_set("us-vehicle-2016"), design=joined, assembly=assemble(joined))
    assert found["us-vehicle-2016/opening"].member == "inner slat 2"


def test_a_bar_that_is_narrower_than_the_surface_closes_no_opening() -> None:
    """Beside the bars the joint is as open as it is without any; a rule asks for the widest opening."""
    bare = with_value(base_design(), "stop.kind", "none")
    rules = rule_set("us-vehicle-2016")
    ramps = (base_design(), bare)
    found = [checks(rules, design=design, assembly=assemble(design)) for design in ramps]
    one, none = (checks["us-vehicle-2016/opening"] for checks in found)
    assert one.value == none.value
    assert one.working == none.working
