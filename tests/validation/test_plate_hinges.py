"""Hinges of bridge plate and toe flap, and the strip's screws, by hand: EN 1993-1-8, tables 3.4, 3.10."""

import math

import pytest

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.bridge import bridge_reach_mm
from rampdraft.mechanics.loading.loads import Rolling
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.starter import starter_design

PATHS = {path.stem: path for path in sample_paths()}


def flapped() -> Design:
    return load_design(PATHS["barn-stage"])


def checked(found: Evaluation, key: str) -> Check:
    return next(check for check in found.checks if check.id == f"own/strength/{key}")


def heaviest(found: Evaluation) -> tuple[float, float]:
    """Return the heaviest wheel of users and rated load, and the heaviest axle."""
    loads = [load for load in found.carried.loads if isinstance(load, Rolling) and not load.demanded]
    axles = [axle for load in loads for way in load.ways for axle in way]
    return max(axle.wheel_n for axle in axles), max(axle.force_n for axle in axles)


@pytest.mark.parametrize("pin", [6.0, 8.0, 12.0])
def test_a_pin_by_hand(pin: float) -> None:
    """S355: MRd = 1.5 Wel fy, Fv,Rd = 0.6 A fu / 1.25 (table 3.10), knuckle 20, gaps 0.5; the wheel pushes
    with half of its weight besides.
    """
    found = evaluate(with_value(starter_design(), "bridge.hinge_pin_mm", pin))
    assert found.design.made_of.fittings == "steel S355"
    wheel, _ = heaviest(found)
    force = 1.5 * math.hypot(wheel, wheel / 2)
    moment = force / 8 * (20 + 4 * 0.5 + 2 * 10)
    bent = moment / (1.5 * math.pi * pin**3 / 32 * 355)
    sheared = force / 2 / (0.6 * math.pi * pin**2 / 4 * 490 / 1.25)
    check = checked(found, "bridge-hinge")
    assert check.value == pytest.approx(math.hypot(bent, sheared), rel=0.01)
    assert check.fails is (math.hypot(bent, sheared) > 1)


def test_a_toe_flap_on_a_thin_pin_fails() -> None:
    """Wrong before: nothing was said of the hinge of a flap, whatever it was."""
    design = flapped()
    assert not checked(evaluate(design, PATHS["barn-stage"].parent), "flap-hinge").fails
    thin = evaluate(with_value(design, "toe.hinge_pin_mm", 6.0), PATHS["barn-stage"].parent)
    check = checked(thin, "flap-hinge")
    assert check.fails
    assert "on the hinge, which pushes with 50 %" in " ".join(check.working)
    long = evaluate(with_value(design, "toe.hinge_knuckle_mm", 60.0), PATHS["barn-stage"].parent)
    assert checked(long, "flap-hinge").fails


def test_screws_of_the_strip_by_hand() -> None:
    """M6 of class 8.8: 0.6 fub As / 1.25 and 0.9 fub As / 1.25 with As = 20.1; the strip pries to twice the
    uplift of a wheel at the plate's end.
    """
    found = evaluate(starter_design())
    design = found.design
    _, axle = heaviest(found)
    nearest = min(one.bridge_lie.bears_mm for one in found.sites if one.bridge_lie is not None)
    out = max(0.0, bridge_reach_mm(design) - nearest)
    shear = 1.5 * 0.5 * axle / design.bridge.screws / (0.6 * 800 * 20.1 / 1.25)
    pull = 2 * 1.5 * axle * out / nearest / design.bridge.screws / (0.9 * 800 * 20.1 / 1.25)
    assert checked(found, "bridge-screws").value == pytest.approx(shear + pull / 1.4, rel=0.01)


def test_few_thin_screws_fail_and_no_strip_is_not_judged() -> None:
    design = with_value(with_value(starter_design(), "bridge.screws", 1), "bridge.screw_size", "M5")
    soft = with_value(design, "joining.bolt_class", "4.6")
    assert checked(evaluate(soft), "bridge-screws").fails
    bare = with_value(starter_design(), "bridge.over_deck_mm", 0.0)
    check = checked(evaluate(bare), "bridge-screws")
    assert check.value is None
    assert "no strip" in check.why
