"""Users who tip sideways: static stability of a rigid body on its wheels, by hand."""

from dataclasses import replace

import pytest

from rampdraft.checks.demands.sideways import beside_mm
from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.model.design import Design
from rampdraft.model.rolling_shape import shape_of
from rampdraft.model.starter import starter_design


def sloping(percent: float) -> Design:
    design = starter_design()
    sites = tuple(replace(site, cross_slope_percent=percent) for site in design.sites)
    user = replace(
        design.use.users[0], front_track_mm=400.0, rear_track_mm=600.0, wheelbase_mm=500.0,
        middle_share_percent=0.0, front_share_percent=40.0, mass_centre_height_mm=650.0,
    )  # fmt: skip
    return replace(design, sites=sites, use=replace(design.use, users=(user,)))


def sideways(design: Design) -> list[Check]:
    return [check for check in evaluate(design).checks if check.about.kind == "own/tips-sideways"]


def test_a_chair_by_hand() -> None:
    """60 % on the rear axle: 300 mm behind the front, half of the track there 200 + 100 x 0.6 = 260; over
    650 it tips at 0.4.
    """
    (check,) = sideways(sloping(5.0))
    assert check.value == pytest.approx(260 / 650)
    assert check.limit == pytest.approx(0.1)
    assert not check.fails


@pytest.mark.parametrize(("percent", "fails"), [(-19.9, False), (20.0, False)])
def test_either_way_across(percent: float, fails: bool) -> None:
    """0.4 is borne: twice the 20 % that a ground may slope across."""
    (check,) = sideways(sloping(percent))
    assert check.fails is fails


def test_a_tall_user_on_a_bank_fails() -> None:
    """Wrong before: a mass centre of 1300 mm tips at 20 %, and ground of 11 % was let pass."""
    design = sloping(11.0)
    tall = replace(design.use.users[0], mass_centre_height_mm=1300.0)
    (check,) = sideways(replace(design, use=replace(design.use, users=(tall,))))
    assert check.value == pytest.approx(0.2)
    assert check.fails


def test_wheels_in_the_middle_count_where_they_stand_out() -> None:
    """A wide middle axle under a narrow front and rear: as far out as that lets the line run."""
    user = replace(
        sloping(1.0).use.users[0], middle_share_percent=60.0, front_share_percent=20.0, middle_behind_mm=250.0
    )
    shape = shape_of(user)
    assert shape.centre_behind_mm == pytest.approx(250.0)
    assert beside_mm(shape) == pytest.approx(300.0)


def test_level_ground_tells_nothing() -> None:
    assert not sideways(sloping(0.0))
