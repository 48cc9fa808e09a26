"""Checks of the carrier: each limit at 0.99, 1 and 1.01, and the working that an inspector can follow."""

import math
from dataclasses import replace
from functools import cache

import pytest
from timber_ramp import timber_ramp

from rampdraft.checks.demands.steadiness import steadiness_checks
from rampdraft.checks.demands.unladen import unladen_checks
from rampdraft.checks.result import Check, Status, Subjects
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.geometry.buildable.problems import require_buildable
from rampdraft.mechanics.carrier.results import Standing
from rampdraft.mechanics.carrier.standing import carrier_standing
from rampdraft.model.design import Design, Support

CORNERS = (
    ("near left", 250.0, 300.0),
    ("near right", 250.0, -300.0),
    ("far left", 1350.0, 300.0),
    ("far right", 1350.0, -300.0),
)


def wheels(rate: float = 60.0, near_mm: float = 250.0) -> tuple[Support, ...]:
    return tuple(
        Support(
            name=name,
            kind="spring",
            back_mm=near_mm if name.startswith("near") else back,
            across_mm=across,
            rate_n_mm=rate,
            bump_mm=80,
            extension_mm=60,
            unsprung_kg=2,
        )
        for name, back, across in CORNERS
    )


def trolley(supports: tuple[Support, ...] | None = None, **body: float) -> Design:
    start = timber_ramp()
    values = {"body_kg": 300.0, "body_back_mm": 900.0, "twist_mm": 10.0} | body
    return replace(
        start,
        carrier=replace(start.carrier, deck_length_mm=1600.0),
        supports=wheels() if supports is None else supports,
        carrier_body=replace(start.carrier_body, **values),  # pyright: ignore
    )


@cache
def evaluated() -> Evaluation:
    return evaluate(trolley())


def found(design: Design) -> dict[str, Check]:
    """Return the carrier's checks by the last word of their id."""
    whole = evaluated()
    standing = carrier_standing(design, whole.assembly, (0.0,))
    subjects = Subjects(design, {"standing": standing, "unladen": standing})
    checks = (*steadiness_checks(subjects), *unladen_checks(subjects))
    return {check.id.removeprefix("own/carrier-"): check for check in checks}


def test_evaluation_has_the_checks() -> None:
    ids = {check.id for check in evaluated().checks}
    assert {
        f"own/carrier-{name}" for name in ("stands", "tips", "share", "lean", "nod", "twist", "rocks", "drop")
    } <= ids


def test_no_supports_no_checks() -> None:
    assert not found(trolley(()))


def test_what_cannot_stand_exceeds_and_says_the_way_out() -> None:
    checks = found(trolley(wheels()[:2]))
    assert list(checks) == ["stands"]
    assert checks["stands"].status is Status.EXCEEDS
    assert "describe three supports or more" in checks["stands"].why


FACTORS = [(0.99, Status.EXCEEDS), (1.0, Status.CLOSE), (1.01, Status.CLOSE), (1.2, Status.WITHIN)]


@pytest.mark.parametrize(("factor", "status"), FACTORS)
@pytest.mark.parametrize("name", ["lean", "nod"])
def test_turn_of_the_deck_against_its_limit(name: str, factor: float, status: Status) -> None:
    value = found(trolley(lean_limit_deg=20.0))[name].value
    assert value is not None
    assert value > 0.01
    check = found(trolley(lean_limit_deg=value * factor))[name]
    assert check.status is status


@pytest.mark.parametrize(("factor", "status"), FACTORS)
@pytest.mark.parametrize("name", ["share", "twist"])
def test_share_left_against_its_limit(name: str, factor: float, status: Status) -> None:
    value = found(trolley())[name].value
    assert value is not None
    assert 0 < value < 1
    check = found(trolley(least_share_percent=100 * value / factor))[name]
    assert check.status is status
    assert check.source.title == "As given in the design"


@pytest.mark.parametrize(("factor", "status"), FACTORS)
def test_tipping_at_equal_moments(factor: float, status: Status) -> None:
    """A body heavy enough that its moment about the near wheels is so many times what tips it: moments by
    hand.
    """
    supports, near = wheels(near_mm=800.0), 800.0
    design = trolley(supports, body_kg=500.0, body_back_mm=1000.0)
    standing = carrier_standing(design, evaluated().assembly, (0.0,))
    assert isinstance(standing, Standing)
    check = found(design)["tips"]
    assert check.value is not None
    body = next(weight for weight in standing.weights if weight.words == "body")
    arm = -body.x_mm - near
    others = [w for w in standing.weights if w.words != "body" and -w.x_mm > near]
    held = sum(w.force_n * (-w.x_mm - near) for w in others)
    overturning = check.value * (body.force_n * arm + held)
    heavy = 500.0 * (factor * overturning - held) / (body.force_n * arm)
    other = found(trolley(supports, body_kg=heavy, body_back_mm=1000.0))["tips"]
    assert other.value == pytest.approx(1 / factor)
    assert other.status is status
    if factor != 1:  # there the last digit decides
        assert other.why.startswith("It tips over the line through") is (factor < 1)


@pytest.mark.parametrize("out_mm", [-60.0, 44.0])
@pytest.mark.parametrize("near_mm", [100.0, 250.0])
def test_where_it_comes_nearest_to_tipping_is_told(near_mm: float, out_mm: float) -> None:
    design = trolley(wheels(near_mm=near_mm), body_kg=500.0, body_back_mm=1000.0)
    design = replace(design, deck_hinge=replace(design.deck_hinge, out_mm=out_mm))
    standing = carrier_standing(design, evaluated().assembly, (0.0,))
    assert isinstance(standing, Standing)
    climb = standing.most_overturning
    first = float(climb.first_axle_mm[int(climb.overturning.argmax())])
    told = found(design)["tips"].working[0].rpartition(": first axle ")[2]
    if told.startswith("on the ramp"):
        assert told == f"on the ramp, {first:.0f} mm from the deck hinge"
    else:
        assert first < 0
        behind = -first - out_mm
        side = "behind" if behind >= 0 else "before"
        assert told == f"{round(abs(behind), 1):g} mm {side} the deck edge"


def test_tipping_names_line_user_and_moments() -> None:
    checks = found(trolley(wheels(near_mm=900.0), body_kg=200.0, body_back_mm=1150.0))
    tips = checks["tips"]
    assert tips.status is Status.EXCEEDS
    assert "near right and near left" in tips.why
    assert tips.working[0].startswith("moments about the line through near right and near left")
    assert any(" N x " in line and line.startswith("beyond it: ") for line in tips.working)
    assert any(line.startswith("inside it: body 1961 N x 250 mm") for line in tips.working)
    assert checks["share"].status is Status.EXCEEDS
    assert {checks[name].status for name in ("lean", "nod", "drop")} == {Status.UNJUDGED}
    assert all("tips" in checks[name].why for name in ("share", "lean", "nod", "drop"))


def test_working_closes_its_sums() -> None:
    check = found(trolley())["share"]
    sums = next(line for line in check.working if line.startswith("sum of weights"))
    weights, supports = (
        part.split("= ")[1] if "= " in part else part for part in sums.split(", of supports ")
    )
    assert weights == supports.removeprefix("= ")
    moments = next(line for line in check.working if line.startswith("moments about the deck edge"))
    weights, supports = (int(part.split()[-3]) for part in moments.split(","))
    assert weights == pytest.approx(supports, abs=1)


def test_lean_is_the_difference_of_two_drops() -> None:
    check = found(trolley())["lean"]
    numbers = check.working[2].removeprefix("= (").replace(" mm", "").replace(")", "")
    drops, apart = numbers.split(" / ")
    left, right = (float(one) for one in drops.split(" − "))
    assert check.value is not None
    assert math.degrees(abs(left - right) / float(apart)) == pytest.approx(check.value, abs=2e-3)


@pytest.mark.parametrize(("rate", "status"), [(60.0, Status.WITHIN), (2000.0, Status.EXCEEDS)])
def test_rocking_on_twisted_ground(rate: float, status: Status) -> None:
    checks = found(trolley(wheels(rate)))
    assert checks["rocks"].status is status
    assert ("rocks on the others" in checks["rocks"].why) is (status is Status.EXCEEDS)


def test_no_twist_no_check_of_it() -> None:
    assert not {"twist", "rocks"} & set(found(trolley(twist_mm=0.0)))


@pytest.mark.parametrize(("factor", "status"), FACTORS)
def test_deck_edge_against_the_ground(factor: float, status: Status) -> None:
    design = trolley()
    drop = found(design)["drop"].value
    assert drop is not None
    carrier = replace(design.carrier, end_depth_mm=design.carrier.deck_height_mm - drop * factor)
    assert found(replace(design, carrier=carrier))["drop"].status is status


@pytest.mark.parametrize("back_mm", [0.0, 1600.0])
def test_cargo_lies_on_the_deck(back_mm: float) -> None:
    require_buildable(trolley(cargo_kg=100.0, cargo_back_mm=back_mm))
    beyond = back_mm + (0.1 if back_mm else -0.1)
    require_buildable(trolley(cargo_kg=0.0, cargo_back_mm=beyond))
    with pytest.raises(DesignError, match="puts the cargo off the deck"):
        require_buildable(trolley(cargo_kg=100.0, cargo_back_mm=beyond))
