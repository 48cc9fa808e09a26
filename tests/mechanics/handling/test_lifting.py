"""Where people take hold of a ramp, and how its springs pull."""

import math
from dataclasses import replace

import numpy as np
import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.members.assembly import assemble
from rampdraft.mechanics.handling.lifting import (
    energy_nmm,
    spring_slope_nmm,
    usual_handles,
    weighed_linkage,
)
from rampdraft.model.design import Assist, Handle

RAMP = timber_ramp()


def test_without_handles_people_take_hold_of_joint_and_toe():
    assert usual_handles(RAMP) == (
        Handle(name="joint", leaf="inner", at_mm=1350.0, above_mm=0.0),
        Handle(name="toe", leaf="outer", at_mm=1300.0, above_mm=0.0),
    )
    strap = Handle(name="strap", leaf="outer", at_mm=900.0, above_mm=20.0)
    assert usual_handles(replace(RAMP, handles=(strap,))) == (strap,)


@pytest.mark.parametrize("inner_deg", [-15.0, 20.0, 59.0, 61.0])
@pytest.mark.parametrize("kind", ["none", "torsion", "gas"])
def test_energy_and_pull_of_springs_by_hand(kind, inner_deg):
    """Torsion: rate times the angle that it is wound by. Gas: its force times the way that it comes out."""
    assist = Assist(
        kind=kind, count=2, rate_nmm_deg=500.0, slack_deg=60.0, force_n=300.0,
        carrier_out_mm=10.0, carrier_below_mm=200.0, leaf_at_mm=400.0, leaf_above_mm=-30.0,
    )  # fmt: skip
    design, turn = replace(RAMP, assist=assist), math.radians(inner_deg)
    weighed, bare = (weighed_linkage(one, assemble(one)) for one in (design, RAMP))
    at, still = np.array([turn, math.radians(60.0)]), np.zeros(2)
    by_springs = energy_nmm(weighed, at, still) - energy_nmm(bare, at, still)
    wound = max(60.0 - inner_deg, 0.0)
    hinge = design.deck_hinge
    eye = complex(10.0 - hinge.out_mm, hinge.below_mm - 200.0)
    arm = complex(400.0, -30.0 - hinge.height_mm)

    def long(rad: float) -> float:
        return abs(arm * complex(math.cos(rad), math.sin(rad)) - eye)

    energy = {
        "none": 0.0,
        "torsion": 2 * 500.0 * wound * math.radians(wound) / 2,
        "gas": 2 * 300.0 * (long(at[1]) - long(turn)),
    }[kind]
    assert by_springs[0] - by_springs[1] == pytest.approx(energy)
    step = 1e-5
    lifts = {
        "none": 0.0,
        "torsion": -2 * 500.0 * wound,
        "gas": -2 * 300.0 * (long(turn + step) - long(turn - step)) / (2 * step),
    }[kind]
    assert spring_slope_nmm(weighed, at)[0] == pytest.approx(lifts, rel=1e-6)
