"""The stowed ramp on the road and in the wind.

EN 12195-1, as quoted by the CTU Code: 0.8 g forward, 0.5 g backward and sideways. EN 1991-1-4: q = rho v^2 /
2 with 1.25 kg/m3 (4.5), c_f = 1.8 of a board (7.4.3 (2)); figures of a published worked example of a
signboard: 33 m/s give 0.68 kN/m2, and 1.61 kN/m2 on 5 x 7 m give 101.43 kN.
"""

from dataclasses import replace

import pytest

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.geometry.linkage import linkage, placings
from rampdraft.mechanics.handling.stowed import BOARD, pressure_pa
from rampdraft.model.design import FREE, NO_ASSIST, Design, Road
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.units import G_M_S2


def judged(design: Design) -> dict[str, Check]:
    return {check.id: check for check in evaluate(design).checks}


def unsprung(road: Road) -> Evaluation:
    return evaluate(replace(starter_design(), assist=NO_ASSIST, hold_down=FREE, road=road))


def test_wind_by_the_worked_example() -> None:
    assert pressure_pa(33) / 1000 == pytest.approx(0.68, abs=0.005)
    assert pytest.approx(101.43, abs=0.005) == BOARD * 1.61 * 5 * 7


def test_the_default_is_the_standards() -> None:
    road = Road()
    assert (road.forward_g, road.backward_g, road.sideways_g) == (0.8, 0.5, 0.5)


@pytest.mark.parametrize(
    ("end", "out_g", "in_g"), [("rear", 0.5, 0.8), ("front", 0.8, 0.5), ("side", 0.7, 0.7)]
)
@pytest.mark.parametrize("wind", [0.0, 30.0])
def test_the_latch_by_moments_of_every_member(end: str, out_g: float, in_g: float, wind: float) -> None:
    """Each member's weight, level and upright, and the wind on the pack's height, about the deck hinge."""
    found = unsprung(replace(Road(sideways_g=0.7, wind_m_s=wind), end=end))  # pyright: ignore[reportArgumentType]
    design, bars = found.design, linkage(found.design)
    placed = placings(design, found.stowed.pose)
    out = level = 0.0
    for member in found.assembly.of("inner", "outer"):
        x, z = placed[member.body].point(*member.centre_uw_mm)
        out += member.mass_kg * G_M_S2 * (x - bars.hinge[0])
        level += member.mass_kg * G_M_S2 * (z - bars.hinge[1])
    high = found.stowed.above_deck_mm + design.deck_hinge.below_mm
    gale = BOARD * pressure_pa(wind) * design.inner_leaf.width_mm * high / 1e6 * high / 2
    worst = max(out_g * level + gale + out, in_g * level + gale - out)
    pack = found.shaken[0]
    assert pack.latch_n * design.inner_leaf.length_mm == pytest.approx(worst, rel=1e-9)
    assert pack.way == ("out" if out_g * level + out > in_g * level - out else "in")


@pytest.mark.parametrize("wind", [0.0, 30.0])
def test_the_outer_leaf_is_thrown_off_the_inner_one(wind: float) -> None:
    """The wind presses on twice the height of its mass centre, no more than its length."""
    found = unsprung(Road(wind_m_s=wind))
    bars, placed = linkage(found.design), placings(found.design, found.stowed.pose)
    joint = bars.joint(found.stowed.pose.inner_rad)
    moment = centre = 0.0
    for member in found.assembly.of("outer"):
        x, z = placed["outer"].point(*member.centre_uw_mm)
        # Hanging outside the inner leaf, weight pulls it shut where its centre is outside the joint's line.
        moment += member.mass_kg * G_M_S2 * (0.5 * (joint[1] - z) - (x - joint[0]))
        centre += member.mass_kg * (joint[1] - z) / found.assembly.outer.mass_kg
    high = min(2 * centre, found.design.outer_leaf.length_mm)
    moment += BOARD * pressure_pa(wind) * found.design.outer_leaf.width_mm * high / 1e6 * high / 2
    assert found.shaken[1].latch_n == pytest.approx(moment / found.design.outer_leaf.length_mm, rel=1e-9)


def test_no_latch_fails_and_one_that_holds_does_not() -> None:
    """Wrong before: a ramp of 99 kg stood upright behind a trailer, nothing said of a latch."""
    bare = judged(replace(starter_design(), road=Road()))
    wanted = ("own/stow-latch/pack", "own/stow-latch/leaf", "own/second-lock/pack", "own/second-lock/leaf")
    assert all(bare[id].fails for id in wanted)
    assert not any(judged(starter_design())[id].fails for id in wanted)


@pytest.mark.parametrize(("factor", "fails"), [(0.99, True), (1.0, False), (1.01, False)])
@pytest.mark.parametrize(
    ("field", "id"), [("latch_n", "own/stow-latch/pack"), ("second_n", "own/second-lock/pack")]
)
def test_latch_at_its_limit(field: str, id: str, factor: float, fails: bool) -> None:
    needed = evaluate(starter_design()).shaken[0].latch_n
    assert judged(with_value(starter_design(), f"road.{field}", needed * factor))[id].fails is fails


def test_a_carrier_that_never_travels_indoors_needs_no_latch_but_against_leaning() -> None:
    still = Road(forward_g=0, backward_g=0, sideways_g=0, wind_m_s=0)
    found = unsprung(still)
    assert found.shaken[0].latch_n == pytest.approx(found.leaning_nmm / found.design.inner_leaf.length_mm)
    assert found.shaken[1].latch_n == 0
    leans = {check.id: check for check in found.checks}["own/stow-leans"]
    assert leans.warning_only
    assert "falls outward" in leans.value_text
