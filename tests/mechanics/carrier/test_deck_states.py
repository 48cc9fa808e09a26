"""Who stands where while a gradient is judged: nobody; somebody starting up, the cargo aboard; the heaviest
user on the deck edge. A deck edge that rises steepens the ramp.
"""

from dataclasses import replace

import numpy as np
import pytest
from plain_clearance import designs

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.model.design import Support
from rampdraft.units import G_M_S2

TRAILER = designs()["library-trailer"]
SPRINGS = (
    Support(name="left wheel", kind="spring", back_mm=1200, across_mm=700, rate_n_mm=40),
    Support(name="right wheel", kind="spring", back_mm=1200, across_mm=-700, rate_n_mm=40),
    Support(name="nose", kind="spring", back_mm=3600, across_mm=0, rate_n_mm=30),
)


def loaded(cargo_kg, back_mm):
    body = replace(TRAILER.carrier_body, cargo_kg=cargo_kg, cargo_back_mm=back_mm)
    return evaluate(replace(TRAILER, supports=SPRINGS, carrier_body=body))


def edge_sinks_mm(*weights):
    """Return how far the edge sinks, by the stiffness of a rigid bar on two springs: [sum k, sum k b; ...] of
    (sinking at the edge, sinking a mm back).
    """
    rates, backs = np.array((80.0, 30.0)), np.array((1200.0, 3600.0))
    stiff = np.array([[rates.sum(), rates @ backs], [rates @ backs, rates @ backs**2]])
    force = np.array([sum(n for n, _ in weights), sum(n * back for n, back in weights)])
    return float(np.linalg.solve(stiff, force)[0])


@pytest.mark.parametrize(("cargo_kg", "back_mm"), [(300.0, 2600.0), (200.0, 2550.0), (200.0, 1500.0)])
def test_the_cargo_alone_lowers_or_raises_the_edge(cargo_kg, back_mm):
    found = loaded(cargo_kg, back_mm)
    expected = edge_sinks_mm((G_M_S2 * cargo_kg, back_mm))
    assert found.starting_drop_mm == pytest.approx(expected, abs=1e-6)
    assert (expected < 0) == (back_mm > 2500)


def test_a_deck_edge_that_rises_steepens_the_ramp():
    """300 kg at 2.6 m behind the edge, the axle at 1.2 m: it rises by 5.6 mm while somebody starts up, and
    the hinge with it. What was told was the ramp with the deck empty and with it sunk.
    """
    found = loaded(300.0, 2600.0)
    poses = {pose.state: pose for pose in found.sites if pose.site_number == 1}
    assert list(poses) == ["empty", "starting", "loaded"]
    assert poses["starting"].drop_mm == pytest.approx(-5.62, abs=0.01)
    assert poses["starting"].joint[1] > poses["empty"].joint[1]
    ratios = [abs(poses[state].whole.ratio) for state in ("starting", "empty", "loaded")]
    assert ratios == sorted(ratios, reverse=True)
    # The rise is what the hinge stands higher, over the same length of ramp.
    rise = poses["starting"].whole.rise_mm - poses["empty"].whole.rise_mm
    assert rise == pytest.approx(5.62, abs=0.01)
    check = next(one for one in found.checks if one.id == "us-vehicle-2016/slope-ground/site-1-starting")
    assert check.value == pytest.approx(abs(poses["starting"].steepest.ratio))
    assert check.about.state == "starting"
    assert "5.6 mm higher than empty" in check.working[0]


def test_it_may_rise_even_with_the_heaviest_user_on_its_edge():
    """A tonne far back over a soft nose."""
    body = replace(TRAILER.carrier_body, cargo_kg=1000.0, cargo_back_mm=2600.0)
    stiff = tuple(replace(one, rate_n_mm=rate) for one, rate in zip(SPRINGS, (400, 400, 100), strict=True))
    found = evaluate(replace(TRAILER, supports=stiff, carrier_body=body))
    assert found.edge_drop_mm == found.drop_mm
    loaded_pose = found.site_pose(1, "loaded")
    assert loaded_pose.drop_mm == found.drop_mm
    assert found.starting_drop_mm < found.drop_mm < 0


def test_without_cargo_or_supports_there_are_two_states():
    for design in (replace(TRAILER, supports=()), without_cargo()):
        states = [pose.state for pose in evaluate(design).sites if pose.site_number == 1]
        assert states == ["empty", "loaded"]


def without_cargo():
    return replace(TRAILER, carrier_body=replace(TRAILER.carrier_body, cargo_kg=0.0))
