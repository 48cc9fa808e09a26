"""The hand force against closed forms of statics.

Virtual work, after Meriam and Kraige, Engineering Mechanics: Statics, chapter 7 (method; the numbers here are
the closed forms themselves). A torsion spring's moment is rate times angle and its energy half of that times
the angle (any handbook).
"""

import math
from dataclasses import replace

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.linkage import Pose, placings
from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.folding.folding import path_of_legs
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.handling.lifting import (
    energy_nmm,
    handle_mm,
    slope_nmm,
    usual_handles,
    weighed_linkage,
)
from rampdraft.model.design import Assist, Handle
from rampdraft.units import G_M_S2

DESIGN = timber_ramp()
PARTS = assemble(DESIGN)
BARS = weighed_linkage(DESIGN, PARTS)


def spring(**values: float | str) -> Assist:
    return replace(DESIGN.assist, **values)


def test_energy_is_weight_times_height_of_each_centre() -> None:
    for inner, fold in ((-0.15, 0.0), (0.4, -1.2), (1.5, -3.0)):
        placed = placings(DESIGN, Pose(inner, fold))
        plain = sum(
            body.mass_kg * G_M_S2 * placed[name].point(body.centre_mm[0], body.centre_mm[2])[1]
            for name, body in (("inner", PARTS.inner), ("outer", PARTS.outer))
        )
        assert float(energy_nmm(BARS, np.array(inner), np.array(fold))) == pytest.approx(plain, rel=1e-12)


def test_a_level_leaf_lifted_at_its_end_needs_its_weight_times_the_share_of_the_arm() -> None:
    """A bar hinged at one end and lifted at the other, square to it: F = W a / L (half the weight for an even
    bar).
    """
    alone = replace(PARTS, outer=replace(PARTS.outer, mass_kg=1e-12))
    length = DESIGN.inner_leaf.length_mm
    handle = Handle(name="end", leaf="inner", at_mm=length, above_mm=DESIGN.deck_hinge.height_mm)
    path = path_of_legs(Pose(0.0, 0.0), [("up", [Pose(1e-6, 0.0)])])
    found = hand_force(replace(DESIGN, handles=(handle,)), alone, path)
    expected = alone.inner.mass_kg * G_M_S2 * alone.inner.centre_mm[0] / length
    assert found.force_n[0] == pytest.approx(expected, rel=1e-6)


def test_two_level_bars_lifted_at_the_joint_while_the_toe_slides() -> None:
    """Two bars in a shallow roof: the joint carries the share of each, F = Wi a / A + Wo (B - b) / B."""
    even = replace(DESIGN, joint=replace(DESIGN.joint, height_mm=DESIGN.deck_hinge.height_mm))
    parts = assemble(even)
    bars = weighed_linkage(even, parts)
    a, b = even.inner_leaf.length_mm, even.outer_leaf.length_mm
    inner = 1e-6
    fold = -math.asin(a * math.sin(inner) / b) - inner  # the toe's point at joint height slides on the level
    rate = -a / b - 1.0
    by_inner, by_fold = slope_nmm(bars, np.array(inner), np.array(fold))
    centre_i, centre_o = parts.inner.centre_mm[0], parts.outer.centre_mm[0]
    expected = (parts.inner.mass_kg * centre_i / a + parts.outer.mass_kg * (b - centre_o) / b) * G_M_S2
    assert float(by_inner + rate * by_fold) / a == pytest.approx(expected, rel=1e-3)


def test_slopes_are_those_of_the_energy() -> None:
    for assist in (
        spring(kind="none"),
        spring(kind="torsion", count=2, rate_nmm_deg=900, slack_deg=80),
        spring(kind="gas", count=2, force_n=700, carrier_out_mm=10, carrier_below_mm=200, leaf_at_mm=300),
    ):
        bars = weighed_linkage(replace(DESIGN, assist=assist), PARTS)
        inner, fold = np.meshgrid(np.linspace(-0.3, 1.3, 9), np.linspace(-3.1, 0.0, 7))
        by_inner, by_fold = slope_nmm(bars, inner, fold)
        step = 1e-6
        numeric_inner = (energy_nmm(bars, inner + step, fold) - energy_nmm(bars, inner - step, fold)) / (
            2 * step
        )
        numeric_fold = (energy_nmm(bars, inner, fold + step) - energy_nmm(bars, inner, fold - step)) / (
            2 * step
        )
        assert by_inner == pytest.approx(numeric_inner, rel=1e-5, abs=50)
        assert by_fold == pytest.approx(numeric_fold, rel=1e-5, abs=50)


def test_a_torsion_spring_takes_rate_times_angle_off_the_moment() -> None:
    rate, slack, count = 1000.0, 90.0, 2
    helped = weighed_linkage(
        replace(DESIGN, assist=spring(kind="torsion", rate_nmm_deg=rate, slack_deg=slack, count=count)), PARTS
    )
    angle = math.radians(-10.0)
    plain = slope_nmm(BARS, np.array(angle), np.array(0.0))[0]
    with_spring = slope_nmm(helped, np.array(angle), np.array(0.0))[0]
    assert float(plain - with_spring) == pytest.approx(count * rate * (slack - -10.0))
    stored = energy_nmm(helped, np.array(angle), np.array(0.0)) - energy_nmm(
        BARS, np.array(angle), np.array(0.0)
    )
    assert float(stored) == pytest.approx(count * rate * 100.0 * math.radians(100.0) / 2)
    beyond = math.radians(95.0)  # slack: no push, no pull
    assert float(energy_nmm(helped, np.array(beyond), np.array(0.0))) == float(
        energy_nmm(BARS, np.array(beyond), np.array(0.0))
    )


def test_a_gas_springs_moment_is_its_force_times_its_distance_from_the_hinge() -> None:
    force = 500.0
    assist = spring(
        kind="gas",
        count=1,
        force_n=force,
        carrier_out_mm=0,
        carrier_below_mm=250,
        leaf_at_mm=350,
        leaf_above_mm=-20,
    )
    helped = weighed_linkage(replace(DESIGN, assist=assist), PARTS)
    for angle in (-0.15, 0.5, 1.2):
        placed = placings(DESIGN, Pose(angle, 0.0))
        hinge = np.array(placed["inner"].point(0.0, DESIGN.deck_hinge.height_mm))
        low = np.array((0.0, DESIGN.carrier.deck_height_mm - 250.0))
        high = np.array(placed["inner"].point(350.0, -20.0))
        along = (high - low) / np.linalg.norm(high - low)
        arm = (high - hinge)[0] * along[1] - (high - hinge)[1] * along[0]
        took = (
            slope_nmm(BARS, np.array(angle), np.array(0.0))[0]
            - slope_nmm(helped, np.array(angle), np.array(0.0))[0]
        )
        assert float(took) == pytest.approx(force * arm, rel=1e-9)


def test_handles_move_as_their_leaf_does() -> None:
    for handle in usual_handles(DESIGN):
        for inner, fold in ((-0.2, 0.1), (0.7, -2.0)):
            placed = placings(DESIGN, Pose(inner, fold))[handle.leaf].point(handle.at_mm, handle.above_mm)
            found, with_inner, with_fold = handle_mm(BARS, handle, np.array(inner), np.array(fold))
            assert (float(found.real), float(found.imag)) == pytest.approx(placed)
            step = 1e-6
            ahead = handle_mm(BARS, handle, np.array(inner + step), np.array(fold))[0]
            turned = handle_mm(BARS, handle, np.array(inner), np.array(fold + step))[0]
            assert complex(with_inner) == pytest.approx(complex((ahead - found) / step), abs=1e-2)
            assert complex(with_fold) == pytest.approx(complex((turned - found) / step), abs=1e-2)
