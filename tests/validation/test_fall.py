"""The ramp let go: a bar that falls from upright has its tip at (3 g L)^0.5 when it lies (any textbook of
dynamics; here by integrating its motion besides), and the energy of every member's height.
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from written_starter import written_starter

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.geometry.linkage import Pose, placings
from rampdraft.mechanics.handling.fall import Fall, caught_j, inertia_kg_m2
from rampdraft.model.design import NO_ASSIST, Design
from rampdraft.model.fields.paths import with_value
from rampdraft.units import G_M_S2


def judged(design: Design) -> dict[str, Check]:
    return {check.id: check for check in evaluate(design).checks}


def test_a_bar_that_falls_from_upright() -> None:
    length, mass = 2.4, 60.0
    energy = mass * G_M_S2 * length / 2
    fall = Fall(
        number=1,
        at=1.0,
        energy_j=energy,
        mass_kg=mass,
        reach_mm=1000 * length,
        inertia_kg_m2=mass * length**2 / 3,
    )
    assert fall.speed_m_s == pytest.approx(math.sqrt(3 * G_M_S2 * length))
    assert fall.height_mm == pytest.approx(1000 * length / 2)

    def motion(_: float, state: tuple[float, float]) -> tuple[float, float]:
        return state[1], -1.5 * G_M_S2 / length * math.cos(state[0])

    def lies(_: float, state: tuple[float, float]) -> float:
        return state[0]

    lies.terminal = True  # pyright: ignore[reportFunctionMemberAccess]
    found = solve_ivp(motion, (0, 20), (math.pi / 2 - 1e-6, 0.0), events=lies, rtol=1e-10, atol=1e-12)
    assert length * abs(found.y[1, -1]) == pytest.approx(fall.speed_m_s, rel=1e-5)


def test_energy_of_every_member() -> None:
    design = replace(written_starter(), assist=NO_ASSIST)
    found = evaluate(design)
    down, up = (placings(design, pose) for pose in (found.deployed, found.stowed.pose))
    raised = sum(
        one.mass_kg
        * G_M_S2
        * (up[one.body].point(*one.centre_uw_mm)[1] - down[one.body].point(*one.centre_uw_mm)[1])
        for one in found.assembly.of("inner", "outer")
    )
    assert found.falls[-1].energy_j == pytest.approx(raised / 1000, rel=1e-9)


def test_inertia_by_adding_up_short_pieces() -> None:
    """Rails and upstands cut into a thousand pieces along their leaf, all else where its centre is."""
    found = evaluate(written_starter())
    straight, total = placings(found.design, Pose(0.0, 0.0)), 0.0
    x0, z0 = (
        found.design.deck_hinge.out_mm,
        found.design.carrier.deck_height_mm - found.design.deck_hinge.below_mm,
    )
    for one in found.assembly.of("inner", "outer"):
        long = (
            one.piece.length_mm
            if one.role in ("rail", "edge upstand", "taper plate", "stop bar", "latch", "latch hook")
            else 0.0
        )
        at = (np.arange(1000) + 0.5) / 1000 - 0.5
        x, z = straight[one.body].point(*one.centre_uw_mm)
        total += one.mass_kg / 1000 * float(((x - x0 + long * at) ** 2 + (z - z0) ** 2).sum()) / 1e6
    assert inertia_kg_m2(found.design, found.assembly) == pytest.approx(total, rel=1e-5)


def test_let_go_it_falls_on_somebody_unless_a_stay_holds_it() -> None:
    """Wrong before: nothing was said of the energy, 870 J, that the new ramp, without springs, lets go."""
    design = replace(written_starter(), assist=NO_ASSIST, hands=replace(written_starter().hands, stay=False))
    check = judged(design)["own/fall/stage-2"]
    assert check.fails
    assert check.value == pytest.approx(870, abs=1)
    assert "damper" in check.why
    held = judged(with_value(design, "hands.stay", True))["own/fall/stage-2"]
    assert not held.fails
    assert "870 J taken by the damper or stay" in held.value_text


@pytest.mark.parametrize(("factor", "fails"), [(0.99, True), (1.0, False), (1.01, False)])
def test_what_hands_stop(factor: float, fails: bool) -> None:
    design = with_value(with_value(written_starter(), "hands.stay", False), "hands.people", 3)
    energy = evaluate(design).falls[-1].energy_j
    person = factor * energy / (3 / 2 * 0.5)
    assert caught_j(3, person) == pytest.approx(factor * energy)
    assert judged(with_value(design, "hands.person_n", person))["own/fall/stage-2"].fails is fails
