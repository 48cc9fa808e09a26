"""The loads that rules demand, as they go over the ramp."""

import pytest
from ramps import base_design, rule_set

from rampdraft.checks.rules.rule import all_loads
from rampdraft.mechanics.loading.loads import Axle, Footprint, Load, PerMetre, Rolling
from rampdraft.model.fields.paths import with_value
from rampdraft.units import G_M_S2


def demanded(key: str) -> dict[str, Load]:
    loads = all_loads(base_design(), (rule_set(key),), (0.1, 0.0))
    return {load.key: load for load in loads if load.demanded}


def test_a_wheel_anywhere_and_a_load_by_the_metre():
    """Arrete of 18 January 2008, 3.1: 2 kN on 100 x 200 mm anywhere; 4 kN per metre.

    Its longer side is taken across.
    """
    found = demanded("france-guided-transport")
    wheel, spread = found["france-guided-transport/point-load"], found["france-guided-transport/line-load"]
    assert isinstance(wheel, Rolling)
    (axle,) = {axle for axles in wheel.ways for axle in axles}
    assert axle == Axle(offset_mm=0.0, force_n=2000.0, track_mm=0.0, patch_mm=(200.0, 100.0))
    assert len(wheel.ways) == 4
    assert isinstance(spread, PerMetre)
    assert spread.n_mm == 4.0


def test_a_patch_in_the_middle():
    """49 CFR 38.23(c): 600 lb on 26 x 26 in."""
    (patch,) = demanded("us-vehicle").values()
    assert isinstance(patch, Footprint)
    assert patch.force_n == pytest.approx(600 * 0.45359237 * G_M_S2, rel=1e-3)
    assert (patch.across_mm, patch.along_mm) == pytest.approx((660.4, 660.4))


def test_a_proof_load_is_spread_over_the_ramp():
    """Singapore, Road Traffic rules 97E: 125 % of the rated load."""
    design = with_value(base_design(), "use.rated_load_kg", 320.0)
    (proof,) = (
        load
        for load in all_loads(design, (rule_set("singapore-bus"),), (0.1, 0.0))
        if load.key == "singapore-bus/proof-load"
    )
    assert isinstance(proof, PerMetre)
    assert proof.n_mm == pytest.approx(1.25 * 320 * G_M_S2 / (1350 + 1300))
