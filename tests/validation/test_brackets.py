"""The carrier's brackets by hand: springs, prying, edges, the stub and its welds."""

import itertools
import math
from dataclasses import replace

import pytest
import shapely
from timber_ramp import timber_ramp

from rampdraft.checks.result import Check, Status
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.proposals.cures.joints import narrower_plate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.members.brackets import bracket_members
from rampdraft.model.design import NO_ASSIST, Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import parse_section
from rampdraft.model.starter import starter_design
from rampdraft.strength.bracket import Bolts


def check_of(design: Design, id: str) -> Check:
    return next(one for one in evaluate(design).checks if one.id == f"own/{id}")


def used(design: Design, key: str) -> float:
    ratio = check_of(design, f"strength/{key}").ratio
    assert ratio is not None
    return ratio


def sprung(rate: float, count: int = 4) -> Design:
    design = starter_design()
    assist = replace(design.assist, kind="torsion", count=count, rate_nmm_deg=rate, slack_deg=90.0)
    return replace(design, assist=assist)


def unsprung() -> Design:
    return replace(starter_design(), assist=NO_ASSIST)


def test_the_springs_pull_at_the_bolts() -> None:
    """A torsion spring at each of four brackets, slack at 90 degrees: on the steepest slope it turns its
    bracket with rate x (90 + slope), the same way as the load does. No such moment was in the bolts.
    """
    bare, with_springs = unsprung(), sprung(2000.0)
    grade = max(leaf.ratio for site in evaluate(bare).sites for leaf in (site.inner, site.outer))
    moment = 2000.0 * (90 + math.degrees(math.atan(grade)))
    joining, hinge = bare.joining, bare.deck_hinge
    more_n = 1.35 * moment * 4 / (bare.inner_leaf.length_mm + bare.outer_leaf.length_mm) / 4
    pull = (1.35 * moment + more_n * hinge.out_mm) / joining.bolt_arm_mm / 2
    area = math.pi / 4 * (10 - 0.9382 * 1.5) ** 2
    tension, shear = 0.9 * 800 * area / 1.25, 0.6 * 800 * area / 1.25
    m = 25 - 0.8 * math.sqrt(2) * 3.5
    prying = 2 * tension / ((2 * 60 * 10**2 / 4 * 355 + 20 * 2 * tension) / (m + 20))
    more = more_n / 2 / shear + prying * pull / (1.4 * tension)
    assert used(with_springs, "bolts") == pytest.approx(used(bare, "bolts") + more, rel=1e-6)
    assert used(with_springs, "bracket") > used(bare, "bracket")


def test_a_spring_that_is_slack_when_down_brings_nothing() -> None:
    design = sprung(2000.0)
    slack = replace(design, assist=replace(design.assist, slack_deg=-60.0))
    assert used(slack, "bolts") == pytest.approx(used(unsprung(), "bolts"))


def test_a_gas_spring_presses_on_the_hinge() -> None:
    design = unsprung()
    gas = replace(design, assist=replace(design.assist, kind="gas", count=2, force_n=1000.0))
    assert used(gas, "bolts") > used(design, "bolts")


def test_a_thin_plate_pries() -> None:
    """EN 1993-1-8, table 6.2: mode 1 alone, 4 Mp / m, where the plate is thin: it goes by the square of its
    thickness. Was no check.
    """
    thin, thinner = (
        used(with_value(timber_ramp(), "joining.bracket_plate_mm", plate), "bolts") for plate in (3.0, 2.0)
    )
    assert thinner / thin == pytest.approx(9 / 4, rel=1e-6)
    thick = used(with_value(timber_ramp(), "joining.bracket_plate_mm", 40.0), "bolts")
    assert thick < used(timber_ramp(), "bolts") < thin


def test_the_stub_and_its_weld() -> None:
    """M = F out on two lines of weld h = 60 mm: 3 M / h^2 with F / 2 h, on 3.5 mm of throat and a wall of 4
    in S355.
    """
    design = unsprung()
    check = check_of(design, "strength/bracket")
    force = evaluate(design).carried
    hinge = 1.35 * force.self_weight_hinge_n + 1.5 * max(
        float(force.hinge_n[number].max()) for number, load in enumerate(force.loads) if not load.demanded
    )
    line = math.hypot(3 * hinge * 44 / 60**2, hinge / 2 / 60)
    strength = min(3.5 * 470 / (0.9 * 1.25), 4 * 355) / math.sqrt(3)
    assert "weld to its plate" in " ".join(check.working)
    assert check.ratio == pytest.approx(line / strength, rel=1e-6)


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_bolts_keep_from_the_edge_of_their_plate(share: float) -> None:
    """EN 1993-1-8, table 3.3: 1.2 of a hole of 11 mm for M10."""
    check = check_of(with_value(starter_design(), "joining.bolt_edge_mm", 13.2 / share), "bolt-edge")
    assert check.ratio == pytest.approx(share)
    assert check.status is (Status.EXCEEDS if share > 1 else Status.CLOSE)
    large = with_value(starter_design(), "joining.bolt_size", "M16")
    assert check_of(large, "bolt-edge").limit == pytest.approx(1.2 * 18)


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_bolts_keep_from_the_weld_of_their_stub(share: float) -> None:
    """Half a washer of 20 mm for M10 (ISO 7089, from memory), and the leg of a weld, root 2 of its throat."""
    design = starter_design()
    least = 10 + math.sqrt(2) * design.joining.weld_throat_mm
    check = check_of(with_value(design, "joining.bolt_beside_mm", least / share), "bolt-beside")
    assert check.ratio == pytest.approx(share)
    assert check.status is (Status.EXCEEDS if share > 1 else Status.CLOSE)
    large = with_value(with_value(design, "joining.bolt_size", "M16"), "joining.bolt_beside_mm", 8.0)
    assert check_of(large, "bolt-beside").fails


@pytest.mark.parametrize(("lower", "beside"), [(-0.5, True), (0.5, False)])
def test_bolts_all_below_their_stub_keep_from_nothing(lower: float, beside: bool) -> None:
    """A stub 30 mm deep with the leg of its weld below it, and the upper edge of a washer just there."""
    design = with_value(starter_design(), "joining.bracket_section", parse_section("box 30x20x2"))
    leg = math.sqrt(2) * design.joining.weld_throat_mm
    edge = 30 + leg + 10 + lower  # from the plate's upper edge down to the bolts
    found = evaluate(with_value(design, "joining.bolt_edge_mm", edge))
    assert any(one.id == "own/bolt-beside" for one in found.checks) is beside


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_plates_of_neighbours_lie_beside_each_other(share: float) -> None:
    """By hand: each bracket is a knuckle and its gap nearer to the middle than its rail, so two of four are
    nearer to each other than their rails by twice as much. A plate is two bolts beside a stub 30 mm wide,
    with 20 mm to either edge: 2 (15 + beside + 20).
    """
    design = with_value(starter_design(), "joining.bracket_section", parse_section("box 60x30x3"))
    design = evaluate(with_value(design, "rails.count", 4)).design
    _, left, right, _ = design.inner_leaf.rail_lanes_mm
    step = design.deck_hinge.knuckle_length_mm + design.deck_hinge.side_gap_mm
    middle = right - left - 2 * step
    beside = (middle - 1 / share) / 2 - 15 - 20
    check = check_of(with_value(design, "joining.bolt_beside_mm", beside), "bracket-apart")
    assert check.value == pytest.approx(1 / share)
    assert check.status is (Status.EXCEEDS if share > 1 else Status.CLOSE)


def test_plates_that_lie_over_each_other_are_found_and_cured() -> None:
    """Five rails on the library trailer, by shapely: plates as boxes across. Was no check."""
    path = next(path for path in sample_paths() if path.stem == "library-trailer")
    design = with_value(load_design(path), "rails.count", 5)
    found = evaluate(design, path.parent)
    plates = [one for one in bracket_members(found.design) if one.role == "bracket plate"]
    boxes = [shapely.box(one.y0_mm, 0, one.y1_mm, 1) for one in plates]
    over = max(a.intersection(b).area for a, b in itertools.combinations(boxes, 2))
    check = next(one for one in found.checks if one.id == "own/bracket-apart")
    assert check.fails
    assert check.value == pytest.approx(-over)
    cured = narrower_plate(found, check)
    assert cured is not None
    again = next(one for one in evaluate(cured, path.parent).checks if one.id == "own/bracket-apart")
    assert again.value is not None
    assert check.value is not None
    assert again.value > check.value


@pytest.mark.parametrize(("deep", "arm"), [(200.0, 40.0), (85.0, 40.0), (65.0, 20.0)])
def test_a_bracket_presses_no_lower_than_the_carriers_end(deep: float, arm: float) -> None:
    """By hand: its bolts are 45 mm below the deck, 20 mm below the hinge line, and its lower edge 85 mm."""
    design = with_value(unsprung(), "deck_hinge.below_mm", 25.0)
    assert (design.joining.bolt_edge_mm, design.joining.bolt_arm_mm) == (20, 40)
    whole = with_value(design, "carrier.end_depth_mm", 500.0)
    found = evaluate(with_value(design, "carrier.end_depth_mm", deep))
    (bolts,) = [part for family, part in found.strengths.parts if family.key == "bolts"]
    assert isinstance(bolts, Bolts)
    assert bolts.bracket.arm_mm == pytest.approx(arm)
    assert (used(found.design, "bolts") > used(whole, "bolts")) is (arm < 40)


def test_bolts_below_the_carriers_end_hold_nothing() -> None:
    design = with_value(unsprung(), "deck_hinge.below_mm", 25.0)
    found = evaluate(with_value(design, "carrier.end_depth_mm", 44.0))
    check = next(one for one in found.checks if one.id == "own/strength/bolts")
    assert check.status is Status.UNJUDGED
    assert "below the carrier's end" in check.why
