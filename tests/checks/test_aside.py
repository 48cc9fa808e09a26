"""Users on what leans: each limit at 0.99, 1 and 1.01, and whose it is."""

import math
from dataclasses import replace

import pytest
from timber_ramp import timber_ramp

from rampdraft.checks.demands.aside import RESERVE_DEG
from rampdraft.checks.result import Check, Result
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.carrier.results import Standing
from rampdraft.mechanics.rolling.grip import ROAD_VALUE, friction
from rampdraft.mechanics.rolling.sideways import side_tip_rad
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class, shape_of


def found(design: Design) -> dict[str, Check]:
    return {check.id: check for check in evaluate(design).aside}


def across(percent: float, *users: str) -> Design:
    design = timber_ramp()
    site = replace(design.sites[0], cross_slope_percent=percent)
    people = tuple(of_class(f"User {kind}", kind) for kind in users)  # pyright: ignore[reportArgumentType]
    return with_value(with_value(design, "sites", (site,)), "use.users", people)


@pytest.mark.parametrize(
    ("share", "result"),
    [(1.06, Result.PASSES), (1.01, Result.CLOSE), (1.0001, Result.CLOSE), (0.99, Result.FAILS)],
)
def test_the_reserve_is_left_on_the_ground_across(share: float, result: Result) -> None:
    tall = replace(of_class("Tall", "manual wheelchair"), mass_centre_height_mm=1400.0)
    tips = side_tip_rad(shape_of(tall), 0.0)
    assert tips is not None
    slope = 100 * math.tan(tips - math.radians(share * RESERVE_DEG))
    design = with_value(across(slope, "manual wheelchair"), "use.users", (tall,))
    check = found(design)["own/aside/tips"]
    assert (check.result, check.about.user, check.site_number) == (result, 1, 1)
    assert check.value == pytest.approx(share * RESERVE_DEG)


def test_the_worst_of_several_users_and_of_the_slope_down_either_side() -> None:
    design = across(-8.0, "manual wheelchair", "three-wheeled scooter", "barrow")
    check = found(design)["own/aside/tips"]
    assert check.about.user == 2
    assert (
        check.value
        == found(across(8.0, "manual wheelchair", "three-wheeled scooter"))["own/aside/tips"].value
    )
    assert len([line for line in check.working if line.startswith("User ")]) == 2  # hands hold the barrow


@pytest.mark.parametrize(("wet_grip", "result"), [(40.0, Result.PASSES), (1.0, Result.FAILS)])
def test_wheels_slide_where_it_slopes_across_more_than_its_friction(wet_grip: float, result: Result) -> None:
    """The ground across at its steepest; the trolley's deck that leans, on a surface like ice."""
    check = found(across(20.0, "barrow"))["own/aside/slides"]
    assert (check.value, check.limit) == (pytest.approx(0.2), pytest.approx(friction(ROAD_VALUE)))
    path = next(one for one in sample_paths() if one.stem == "orchard-trolley")
    design = with_value(load_design(path), "use.wet_grip", wet_grip)
    (slides,) = [one for one in evaluate(design, path.parent).aside if one.id == "own/aside/slides"]
    assert (slides.result, slides.about.user) == (result, 1)


def test_a_deck_that_leans_counts_with_the_grade_of_the_ramp() -> None:
    path = next(one for one in sample_paths() if one.stem == "orchard-trolley")
    evaluation = evaluate(load_design(path), path.parent)
    assert isinstance(evaluation.standing, Standing)
    lean = max(
        float(abs(one.stances.lean_rad).max()) for one in evaluation.standing.climbs if one.user_number == 1
    )
    slides = {check.id: check for check in evaluation.aside}["own/aside/slides"]
    assert slides.value == pytest.approx(math.tan(lean))
    assert slides.limit == pytest.approx(friction(evaluation.design.use.wet_grip))


def test_nobody_is_asked_nothing() -> None:
    assert not found(with_value(timber_ramp(), "use.users", ()))
