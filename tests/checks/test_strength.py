"""Each family of members at 0.99, 1 and 1.01 of its strength, and figures worked by hand."""

import math
from dataclasses import replace
from functools import cache

import pytest
from timber_ramp import timber_ramp

from rampdraft.checks.demands.strength import strength_checks
from rampdraft.checks.result import Check, Status, Subjects
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.bridge import bridge_reach_mm
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.loading.grillage import grillage
from rampdraft.mechanics.loading.loads import user_loads
from rampdraft.mechanics.loading.slats import sharing_slats
from rampdraft.model.design import Design, Material, Prop, StopBars, Toe, WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.strength.members import fixed_on, members_of, verdicts
from rampdraft.strength.patches import wheels_of
from rampdraft.units import G_M_S2

LAP = StopBars(
    kind="lap",
    count=1,
    section=parse_section("flat 8x800"),
    fixed_to="inner",
    fixed_length_mm=120,
    lap_mm=60,
    arm_mm=40,
    gap_mm=0.4,
)
LEG = Prop(fitted=True, section=parse_section("box 30x30x2"), shortest_mm=100, longest_mm=300, foot_mm=100)

SHARED = (
    "inner-rails",
    "outer-rails",
    "inner-slats",
    "outer-slats",
    "inner-cross",
    "outer-cross",
    "bridge",
    "flap",
    "joint-pins",
    "deck-pins",
    "joint-knuckles",
    "deck-knuckles",
    "bolts",
    "bracket",
)
CASES = [
    *(("butt", key) for key in (*SHARED, "stop")),
    *(("lap", key) for key in ("stop", "joint-pins", "joint-knuckles", "outer-rails")),
    *(("prop", key) for key in (*SHARED, "prop", "foot")),
]


def ramp(kind: str) -> Design:
    design = replace(
        timber_ramp(), toe=replace(timber_ramp().toe, kind="flap", length_mm=180, thickness_mm=4)
    )
    return {"butt": design, "lap": replace(design, stop=LAP), "prop": replace(design, prop=LEG)}[kind]


def bumped(design: Design, factor: float) -> Design:
    return replace(design, use=replace(design.use, bump_factor=factor))


def strength_of(design: Design) -> dict[str, Check]:
    """Return the strength checks alone, of a design whose figures may be beyond what the form takes."""
    assembly = assemble(design)
    frame = grillage(design)
    carried = carry(design, frame, assembly.leaves_kg, tuple(user_loads(design, (0.0,))), 0.0)
    wheels = wheels_of(design, carried, sharing_slats(design, frame))
    reach = bridge_reach_mm(design)
    found, fixed = (
        verdicts(members_of(design, carried, wheels, (reach, reach), (0.0, design.stop.fixed_length_mm))),
        verdicts(fixed_on(design, carried, wheels)),
    )
    subjects = Subjects(design, {"carried": carried, "verdicts": found, "fixed": fixed})
    return {check.id: check for check in strength_checks(subjects)}


@cache
def checks_of(kind: str, factor: float) -> dict[str, Check]:
    return strength_of(bumped(ramp(kind), factor))


@pytest.mark.parametrize(("kind", "key"), CASES)
def test_every_family_is_judged_at_its_limit(kind: str, key: str) -> None:
    """The loads are raised or lowered together until the family is at 0.99, 1 and 1.01 of its strength (EN
    1990, 6.4.3.2).
    """

    def used(factor: float) -> float:
        return checks_of(kind, factor)[f"own/strength/{key}"].ratio or 0.0

    at = [0.5, 1.0]
    for target, status in ((0.99, Status.CLOSE), (1.0, Status.CLOSE), (1.01, Status.EXCEEDS)):
        for _ in range(20):
            (a, b), (fa, fb) = at[-2:], [used(factor) for factor in at[-2:]]
            if abs(fb - target) < 1e-11 or fa == fb:
                break
            at.append(b + (target - fb) * (b - a) / (fb - fa))
        check = checks_of(kind, at[-1])[f"own/strength/{key}"]
        assert check.ratio == pytest.approx(target, abs=1e-9)
        assert check.status is status
        assert check.fails is (status is Status.EXCEEDS)


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_sag_is_judged_at_its_limit(share: float) -> None:
    design = ramp("butt")
    found = checks_of("butt", 1.25)["own/sag"]
    assert found.value is not None
    span = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    limited = replace(design, use=replace(design.use, sag_limit=share * span / found.value))
    check = strength_of(limited)["own/sag"]
    assert check.ratio == pytest.approx(share)
    assert check.status is (Status.EXCEEDS if share > 1 else Status.CLOSE)


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
@pytest.mark.parametrize("key", ["toe-site-1", "prop-site-1"])
def test_ground_is_judged_at_its_limit(key: str, share: float) -> None:
    design = ramp("prop")
    soft = with_value(design, "sites[1].ground_bears_kpa", 1.0)
    pressure = strength_of(soft)[f"own/ground/{key}"].value
    assert pressure is not None
    limited = with_value(design, "sites[1].ground_bears_kpa", pressure / share)
    check = strength_of(limited)[f"own/ground/{key}"]
    assert check.ratio == pytest.approx(share)
    assert check.status is (Status.EXCEEDS if share > 1 else Status.CLOSE)
    assert f"own/ground/{key}" not in checks_of("prop", 1.25), "hard ground is not judged"


def test_overall_factor_is_a_warning_at_its_limit() -> None:
    least = checks_of("butt", 1.25)["own/overall-factor"].value
    assert least is not None
    for factor, status in ((1 / 0.99, Status.EXCEEDS), (1.0, Status.CLOSE), (0.99, Status.CLOSE)):
        design = ramp("butt")
        asked = replace(design, use=replace(design.use, overall_factor=factor * least))
        check = strength_of(asked)["own/overall-factor"]
        assert check.status is status
        assert not check.fails


# By hand


def plain() -> Design:
    """One axle of 100 kg with a single wheel, no bumps, two rails 500 mm apart, one wheel's width of nothing
    much.
    """
    design = ramp("prop")
    user = WheeledUser(
        name="One wheel",
        kind="barrow",
        mass_kg=100,
        width_mm=300,
        wheelbase_mm=100,
        front_share_percent=100,
        front_track_mm=0,
        rear_track_mm=0,
        tyre_width_mm=20,
        tyre_contact_mm=20,
    )
    lanes = {"inner_leaf": (-250.0, 250.0), "outer_leaf": (-206.0, 206.0)}
    for leaf, at in lanes.items():
        design = with_value(design, f"{leaf}.rail_lanes_mm", at)
        design = with_value(design, f"{leaf}.width_mm", 520.0)
    use = replace(design.use, users=(user,), rated_load_kg=100, bump_factor=1.0, rule_sets=())
    return replace(design, use=use, stop=replace(design.stop, count=2))


def check_of(design: Design, key: str) -> Check:
    return next(one for one in evaluate(design).checks if one.id == f"own/strength/{key}")


def test_a_slat_by_hand() -> None:
    """M = 1.5 x 980.665 (2 x 500 - 20) / 8; f = 0.7 x 1.3 x 24 / 1.3 (C24; EN 1995-1-1).

    At the slat's side bears b, 1 / b^2 = 1 / b0^2 + 1 / 95^2, b0 = 30^-0.25 (0.22 x 500 + 38 / 3) + 2 / 3 x
    29: the tyre of 20 mm goes on at 45 degrees to the middle of 18 mm.
    """
    wide = 30**-0.25 * (0.22 * 500 + 38 / 3) + 2 / 3 * 29
    wide = 1 / math.sqrt(1 / wide**2 + 1 / 95**2)
    moment, modulus = 1.5 * 100 * G_M_S2 * (2 * 500 - 20) / 8, wide * 18**2 / 6
    assert check_of(plain(), "inner-slats").ratio == pytest.approx(moment / (modulus * 0.7 * 1.3 * 24 / 1.3))


def test_a_rail_by_hand() -> None:
    """A wheel over a rail in the middle of one leaf on a prop, nothing sharing:
    M = 1.5 P L / 4 x the lever rule, and own weight q L^2 / 8.
    """
    design = replace(plain(), workshop=replace(plain().workshop, slat_screw_mm=0))
    for leaf in ("inner_leaf", "outer_leaf"):
        design = with_value(design, f"{leaf}.cross_positions_mm", ())
    found = evaluate(design)
    length, mass = design.inner_leaf.length_mm, found.assembly.inner.mass_kg
    edge = 520 / 2 - 20 / 2
    lever = 0.5 + edge / 500
    moment = 1.5 * 100 * G_M_S2 * lever * length / 4 + 1.35 * mass * G_M_S2 * length / 8 / 2
    check = next(one for one in found.checks if one.id == "own/strength/inner-rails")
    # 40x20x2: Wel = 2.02 cm3 by EN 10219-2 (40 x 20 x 2); S235.
    assert check.ratio == pytest.approx(moment / (2.0248e3 * 235), rel=2e-3)
    assert any("M = 1.35 x" in line for line in check.working)


def test_a_deck_pin_and_its_bolts_by_hand() -> None:
    """Hinge force 1.5 P x lever + 1.35 own; pin in single shear; two bolts with pull F x out / arm, raised by
    prying of a plate of 10 mm (EN 1993-1-8, table 6.2): m = 25 - 0.8 x 1.41 x 3.5, e = 20, l = 40 + 20.
    """
    design = plain()
    found = evaluate(design)
    lever = 0.5 + (520 / 2 - 10) / 500
    force = 1.5 * 100 * G_M_S2 * lever + 1.35 * found.assembly.inner.mass_kg * G_M_S2 / 2 / 2
    hinge = design.deck_hinge
    d, length, gap = hinge.pin_diameter_mm, hinge.knuckle_length_mm, hinge.side_gap_mm
    k = 3 * (1 + gap / length)
    moment = force * (gap / 2 + length * (3 * k - 1) / (6 * k**2))
    shear, bend = force / (0.6 * math.pi / 4 * d**2 * 360 / 1.25), moment / (1.5 * math.pi / 32 * d**3 * 235)
    assert check_of(design, "deck-pins").ratio == pytest.approx(math.hypot(shear, bend), rel=1e-6)
    joining = design.joining
    area = math.pi / 4 * (10 - 0.9382 * 1.5) ** 2
    one, pull = force / 2, force * hinge.out_mm / joining.bolt_arm_mm / 2
    m, most = 25 - 0.8 * 2**0.5 * 3.5, 2 * 0.9 * 800 * area / 1.25
    pull *= max(1.0, most / ((2 * 60 * 10**2 / 4 * 235 + 20 * most) / (m + 20)))
    used = one / (0.6 * 800 * area / 1.25) + pull / (1.4 * 0.9 * 800 * area / 1.25)
    assert check_of(design, "bolts").ratio == pytest.approx(used, rel=1e-6)


def test_a_lapping_stop_carries_the_whole_moment_at_the_hinge_line() -> None:
    """F = M / g presses at the lap g, so the bar bends at the hinge line with F g = M, whatever the lap."""
    welded = replace(ramp("lap"), joining=replace(ramp("lap").joining, weld_throat_mm=20))
    for leaf in ("inner_leaf", "outer_leaf"):  # walls that the weld does not tear
        welded = with_value(welded, f"{leaf}.rail_section", parse_section("box 40x20x8"))
    short, long = (
        strength_of(replace(welded, stop=replace(LAP, lap_mm=lap, fixed_length_mm=300)))["own/strength/stop"]
        for lap in (40.0, 60.0)
    )
    assert short.ratio == pytest.approx(long.ratio, rel=5e-3), "the bars' own weight differs a little"
    assert "bar at the hinge line" in " ".join(long.working)


def test_screwed_slats_of_aluminium_keep_their_strength_and_welded_ones_lose_it() -> None:
    """EN 1999-1-1, table 3.2b: 6063-T6 fo 160, softened 65 MPa."""
    design = with_value(plain(), "made_of.slats", "aluminium 6063-T6")
    screwed = check_of(design, "inner-slats")
    welded = check_of(with_value(design, "workshop.slat_screw_mm", 0.0), "inner-slats")
    assert screwed.ratio is not None
    assert welded.ratio == pytest.approx(screwed.ratio * 160 / 65)


def test_without_a_hold_the_joint_leaves_nothing_to_judge() -> None:
    design = replace(ramp("butt"), stop=replace(ramp("butt").stop, kind="none"))
    found = {check.id: check for check in evaluate(design).checks}
    for key in ("inner-rails", "joint-pins", "deck-knuckles"):
        check = found[f"own/strength/{key}"]
        assert check.status is Status.UNJUDGED
        assert "folds" in check.why
    assert found["own/sag"].status is Status.UNJUDGED
    assert found["own/held/joint"].fails


def test_a_material_without_strength_cannot_be_judged_and_says_what_to_add() -> None:
    bare = Material(name="mystery bar", kind="steel", density_kg_m3=7850)
    design = replace(
        ramp("butt"), materials=(bare,), made_of=replace(ramp("butt").made_of, rails="mystery bar")
    )
    found = {check.id: check for check in evaluate(design).checks}
    for key in ("inner-rails", "joint-knuckles"):
        check = found[f"own/strength/{key}"]
        assert check.status is Status.UNJUDGED
        assert "mystery bar" in check.why
        assert "Own materials" in check.why
    assert found["own/sag"].status is Status.UNJUDGED
    assert found["own/overall-factor"].status is not Status.WITHIN


def test_an_open_taper_is_weak_and_a_plate_cures_it() -> None:
    toe = Toe(kind="taper", length_mm=300, thickness_mm=3, carried_deg=0)
    opened, closed = (
        check_of(replace(ramp("prop"), toe=replace(toe, closed=shut)), "outer-rails")
        for shut in (False, True)
    )
    assert opened.ratio is not None
    assert closed.ratio is not None
    assert opened.ratio > 1.5 * closed.ratio
    assert "open underneath" in " ".join(opened.working)


def test_every_strength_check_shows_loads_factors_and_clause() -> None:
    for check in checks_of("prop", 1.25).values():
        if check.id.startswith("own/strength/") and check.status is not Status.UNJUDGED:
            text = " ".join(check.working)
            assert "1.5 x" in text or "spread evenly" in text, check.id
            assert "safety factor on ultimate strength" in text, check.id
            assert check.source.clause, check.id
            assert "factor" in check.value_text, check.id
            assert check.member, check.id


def test_a_weld_is_no_stronger_than_the_wall_it_sits_on() -> None:
    """EN 1993-1-1, 6.2.6: t f / sqrt 3 of the wall; more throat than that gains nothing, a thicker wall
    does.
    """
    thin, thick, walled = (
        with_value(
            with_value(ramp("butt"), "joining.weld_throat_mm", throat),
            "inner_leaf.rail_section",
            parse_section(section),
        )
        for throat, section in ((4.0, "box 40x20x2"), (8.0, "box 40x20x2"), (8.0, "box 40x20x4"))
    )
    thin, thick, walled = (
        with_value(one, "outer_leaf.rail_section", one.inner_leaf.rail_section)
        for one in (thin, thick, walled)
    )
    used = [strength_of(one)["own/strength/joint-knuckles"].ratio for one in (thin, thick, walled)]
    assert used[0] == pytest.approx(used[1])
    assert used[2] == pytest.approx((used[1] or 0) / 2, rel=0.02), "twice the wall; the rails weigh more"
    assert "wall 2 mm" in " ".join(strength_of(thick)["own/strength/joint-knuckles"].working)


def test_metals_that_cannot_be_welded_together_are_not_judged() -> None:
    design = with_value(ramp("butt"), "made_of.rails", "aluminium 6063-T6")
    found = strength_of(design)
    for key in ("joint-knuckles", "deck-knuckles", "stop"):
        assert found[f"own/strength/{key}"].status is Status.UNJUDGED
        assert "cannot be welded together" in found[f"own/strength/{key}"].why


def test_fewer_stop_bars_than_pairs_load_the_pairs_beside_them() -> None:
    """All the moment at the joint goes through the bars: with one of them all of it through the pairs next to
    it.
    """
    few, many = (strength_of(with_value(ramp("butt"), "stop.count", count)) for count in (1, 3))
    for key in ("joint-pins", "joint-knuckles", "inner-rails"):
        assert (few[f"own/strength/{key}"].ratio or 0) > 1.5 * (many[f"own/strength/{key}"].ratio or 0)


def test_butting_faces_without_an_arm_are_not_judged() -> None:
    design = with_value(ramp("butt"), "stop.arm_mm", 4.0)
    found = strength_of(design)
    for key in ("stop", "joint-pins", "joint-knuckles"):
        assert found[f"own/strength/{key}"].status is Status.UNJUDGED
        assert "no lever arm" in found[f"own/strength/{key}"].why


def test_a_knuckle_bored_to_a_skin_does_not_hold() -> None:
    design = with_value(ramp("prop"), "joint.pin_diameter_mm", ramp("prop").joint.knuckle_diameter_mm - 0.2)
    assert strength_of(design)["own/strength/joint-pins"].status is Status.EXCEEDS


def test_ground_is_not_judged_under_a_ramp_that_folds() -> None:
    design = with_value(ramp("butt"), "sites[1].ground_bears_kpa", 50.0)
    assert "own/ground/toe-site-1" in strength_of(design)
    assert "own/ground/toe-site-1" not in strength_of(with_value(design, "stop.kind", "none"))


def test_both_wheels_of_a_narrow_axle_stand_in_one_bay() -> None:
    """Two wheels of P at t apart in a bay a, each c across: M = P ((a - t) / 2 + (t - c)^2 / (8 (a - c)))."""
    design = plain()
    twin = replace(design.use.users[0], front_track_mm=60.0, mass_kg=200)
    use = replace(design.use, users=(twin,), rated_load_kg=200)
    found = strength_of(replace(design, use=use))["own/strength/inner-slats"]
    wheel = 1.5 * 200 * G_M_S2 / 2
    moment = wheel * ((500 - 60) / 2 + (60 - 20) ** 2 / (8 * (500 - 20)))
    one = strength_of(plain())["own/strength/inner-slats"]
    alone = 1.5 * 100 * G_M_S2 * (2 * 500 - 20) / 8
    assert found.ratio == pytest.approx((one.ratio or 0) * moment / alone), "on the same part of the slat"


def test_thin_walls_of_a_prop_are_told_and_not_judged() -> None:
    design = with_value(ramp("prop"), "prop.section", parse_section("box 80x80x1"))
    found = strength_of(design)["own/strength/prop"]
    assert found.status is Status.UNJUDGED
    assert "class 4" in found.why
