"""A toe that is lifted and let go, and a ramp that is thrown up: by the energy of its members one by one, and
where a general optimiser (scipy, SLSQP) comes to rest.
"""

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq, minimize
from written_starter import written_starter

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.linkage import Pose, linkage, placings
from rampdraft.mechanics.folding.folding import toe_corners
from rampdraft.model.design import FREE, NO_ASSIST, ON_THE_ROAD, Assist, Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design
from rampdraft.units import G_M_S2


def over_centre() -> Evaluation:
    """Gas springs near dead centre while the ramp is deployed: each mm that it rises they push harder."""
    assist = replace(
        NO_ASSIST, kind="gas", count=2, force_n=2000.0, carrier_out_mm=350.0, carrier_below_mm=150.0,
        leaf_at_mm=400.0, leaf_above_mm=-100.0,
    )  # fmt: skip
    design = written_starter()
    bare = replace(design, assist=assist, hold_down=FREE, road=ON_THE_ROAD)
    return evaluate(replace(bare, use=replace(design.use, rule_sets=())))


def checked(found: Evaluation) -> dict[str, Check]:
    return {check.id: check for check in found.checks}


def energy_nmm(found: Evaluation, inner_rad: float, fold_rad: float) -> float:
    design, bars = found.design, linkage(found.design)
    places = placings(design, Pose(inner_rad, fold_rad))
    height = sum(
        member.mass_kg * G_M_S2 * places[member.body].point(*member.centre_uw_mm)[1]
        for member in found.assembly.of("inner", "outer")
    )
    spring: Assist = design.assist
    if spring.kind == "none":
        return height
    assert spring.kind == "gas"
    on_carrier = bars.edge[0] + spring.carrier_out_mm, bars.edge[1] - spring.carrier_below_mm
    on_leaf = places["inner"].point(spring.leaf_at_mm, spring.leaf_above_mm)
    return height - spring.count * spring.force_n * math.dist(on_carrier, on_leaf)


def root(of: Callable[[float], float], low: float, high: float) -> float:
    return float(brentq(of, low, high, xtol=1e-13))  # pyright: ignore[reportArgumentType]


def toe_mm(design: Design, inner_rad: float, fold_rad: float) -> float:
    """Return how high the toe is above the ground of the first site, level where it stands."""
    outer, ground = placings(design, Pose(inner_rad, fold_rad))["outer"], design.sites[0].ground_mm[-1][1]
    return min(outer.point(*corner)[1] for corner in toe_corners(design)) - ground


def fold_on_ground(design: Design, inner_rad: float) -> float:
    return root(lambda fold: toe_mm(design, inner_rad, fold), -1.0, 0.3)


def let_go(found: Evaluation, height_mm: float) -> float:
    """Return how high the joint comes to rest above where it was, of a ramp let go with its toe so high."""
    design, down = found.design, found.empty[0].pose
    inner = root(
        lambda at: toe_mm(design, at, down.fold_rad) - height_mm, down.inner_rad - 0.01, down.inner_rad + 0.5
    )
    result = minimize(
        lambda at: energy_nmm(found, *at) / 1e5,
        (inner, fold_on_ground(design, inner)),
        method="SLSQP",
        bounds=((down.inner_rad - 0.05, math.pi / 2), (-math.pi, down.fold_rad)),
        constraints={"type": "ineq", "fun": lambda at: toe_mm(design, *at)},
        options={"maxiter": 500, "ftol": 1e-13},
    )
    joint = linkage(design).joint
    return joint(result.x[0])[1] - joint(down.inner_rad)[1]


def test_springs_near_dead_centre_kick_a_lifted_ramp_into_a_hump() -> None:
    """It takes 73 N to lift the joint, so that it stays down; a toe lifted by 82 mm does not come back."""
    found = over_centre()
    checks = checked(found)
    assert not checks["own/stays-down/joint"].fails
    check = checks["own/falls-back"]
    assert check.fails
    assert checks["own/rebound"].fails
    assert check.value is not None
    assert check.value == pytest.approx(81.2, abs=0.5)
    one = evaluate(replace(found.design, sites=found.design.sites[1:]))
    assert let_go(one, 0.85 * check.value) == pytest.approx(0.0, abs=1.0)
    assert let_go(one, 1.15 * check.value) > 100


def test_the_barrier_is_the_energy_on_the_way() -> None:
    """By a fine walk up with the toe on the ground: no quadrature, no slope."""
    found = over_centre()
    down = found.empty[0].pose
    angles = np.linspace(down.inner_rad, down.inner_rad + 0.2, 201)
    energies = [energy_nmm(found, at, fold_on_ground(found.design, at)) for at in angles]
    risen = max(energies) - energies[0]
    one = found.lifted[0]
    assert one.barrier_nmm == pytest.approx(risen, rel=0.01)


def test_what_holds_a_lifted_toe() -> None:
    """Without springs: weights about the deck hinge over the arm of the toe, the ramp in one piece."""
    found = evaluate(replace(starter_design(), assist=NO_ASSIST, hold_down=FREE))
    one, design, down = found.lifted[0], found.design, found.empty[0].pose
    inner = root(lambda at: toe_mm(design, at, down.fold_rad) - 100.0, down.inner_rad, down.inner_rad + 0.5)
    step = 1e-5
    gained = energy_nmm(found, inner + step, down.fold_rad) - energy_nmm(found, inner, down.fold_rad)
    risen = toe_mm(design, inner + step, down.fold_rad) - toe_mm(design, inner, down.fold_rad)
    assert one.held_n == pytest.approx(gained / risen, rel=1e-4)
    assert one.everywhere
    assert one.barrier_nmm > 10 * one.thrown_nmm
    assert one.back_from_mm == 200.0


@pytest.mark.parametrize("speed", [0.5, 1.0, 2.0])
def test_thrown_leaves_have_the_energy_of_two_bars(speed: float) -> None:
    """Two uniform bars, hinged at deck and toe, the joint between them at v: each point moves by its part of
    it, and half of the sum of m v2 follows.
    """
    found = evaluate(with_value(starter_design(), "hold_down.rebound_m_s", speed))
    parts = (np.arange(1000) + 0.5) / 1000
    by_hand = sum(found.assembly.leaves_kg) / 2 * float((parts**2).mean()) * speed**2
    assert found.lifted[0].thrown_nmm / 1e3 == pytest.approx(by_hand, rel=1e-5)


@pytest.mark.parametrize("share", [0.99, 1.0, 1.01])
def test_both_are_judged_at_their_limit(share: float) -> None:
    found = over_centre()
    borne = min(one.falls_from_mm for one in found.lifted)
    barrier = min(one.barrier_nmm for one in found.lifted)
    # The heights that are looked at follow the one that is asked for: between them forces run straight.
    asked = checked(evaluate(with_value(found.design, "hold_down.toe_held_mm", borne * share)))[
        "own/falls-back"
    ]
    assert asked.ratio == pytest.approx(share, rel=2e-3)
    assert share == 1 or asked.fails is (share > 1)
    speed = math.sqrt(share * barrier / found.lifted[0].thrown_nmm)
    thrown = checked(evaluate(with_value(found.design, "hold_down.rebound_m_s", speed)))["own/rebound"]
    assert thrown.ratio == pytest.approx(share)
    assert thrown.fails is (share > 1)


def test_a_latch_holds_the_joint_of_a_lifted_ramp() -> None:
    """The library trailer's springs lift its joint; its latch keeps the ramp straight as it is lifted. One
    that just holds the joint of springs near dead centre opens under the hand.
    """
    path = next(path for path in sample_paths() if path.stem == "library-trailer")
    found = evaluate(load_design(path), path.parent)
    assert all(one.latched and one.opens_mm is None for one in found.lifted)
    assert not checked(found)["own/falls-back"].fails
    sprung = with_value(over_centre().design, "assist.force_n", 3000.0)
    needed = max(-one.joint_nmm for one in evaluate(sprung).staying)
    held = replace(sprung.hold_down, latch=True, arm_mm=40.0, pull_n=1.1 * needed / 40)
    opened = evaluate(replace(sprung, hold_down=held))
    check = checked(opened)["own/falls-back"]
    assert check.fails
    assert "jumps into a hump" in check.why


def test_nothing_is_told_where_none_is_asked_or_it_does_not_stay_down() -> None:
    design = starter_design()
    held = replace(design.hold_down, toe_held_mm=0.0, rebound_m_s=0.0)
    kinds = {"own/falls-back", "own/rebound"}
    assert kinds <= checked(evaluate(design)).keys()
    assert not kinds & checked(evaluate(replace(design, hold_down=held))).keys()
