"""A user at one place: the same as the whole way says there, and a body that is whole."""

import math
from functools import cache

import numpy as np
import pytest

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolled import AlongSite
from rampdraft.mechanics.rolling.results import Facing, Roll
from rampdraft.mechanics.rolling.roll import cannot_roll, roll
from rampdraft.mechanics.rolling.surfaces import Surfaces

PATHS = {path.stem: path for path in sample_paths()}
FACINGS: tuple[Facing, Facing] = ("deck", "away")


@cache
def sample(name: str) -> Evaluation:
    return evaluate(load_design(PATHS[name]), PATHS[name].parent)


def rolled(name: str, facing: Facing, number: int = 1, place: int = -1) -> tuple[Roll, AlongSite]:
    evaluation = sample(name)
    pose = evaluation.sites[place]
    surfaces = Surfaces(evaluation.design, evaluation.assembly, pose)
    assert cannot_roll(evaluation.design, number) is None
    found = roll(evaluation.design, number, pose, surfaces, facing, step_mm=20.0)
    return found, AlongSite(evaluation.design, number, pose, surfaces, facing)


@pytest.mark.parametrize("facing", FACINGS)
@pytest.mark.parametrize("name", PATHS)
def test_at_a_place_is_what_the_whole_way_says_there(name: str, facing: Facing) -> None:
    whole, along = rolled(name, facing)
    for at in range(0, len(whole.front_mm), 7):
        user = along.at(float(whole.front_mm[at]))
        assert user.pitch_rad == pytest.approx(whole.pitch_rad[at], abs=1e-9)
        assert user.lean == pytest.approx(whole.lean[at], abs=1e-9)
        assert user.low.clearance_mm == pytest.approx(whole.clearance_mm[at], abs=1e-6)
        assert (user.tip_back_rad is None) == np.isnan(whole.tip_back_rad[at])


@pytest.mark.parametrize("facing", FACINGS)
@pytest.mark.parametrize("name", PATHS)
def test_at_the_worst_places_it_is_as_bad_as_told(name: str, facing: Facing) -> None:
    whole, along = rolled(name, facing)
    least = along.at(whole.clearance.front_mm).low
    assert least.clearance_mm == pytest.approx(whole.clearance.value, abs=1e-6)
    assert (least.part, least.met) == (whole.clearance.part, whole.clearance.met)
    assert least.at[0] == pytest.approx(whole.clearance.x_mm, abs=1e-3)
    if whole.tip_back is not None:
        found = along.at(whole.tip_back.front_mm).tip_back_rad
        assert found == pytest.approx(whole.tip_back.value, abs=1e-6)
    for number, way in enumerate(whole.ways):
        assert along.at(way.push.front_mm).forces_n[number] == pytest.approx(way.push.value, rel=1e-4)


@pytest.mark.parametrize("facing", FACINGS)
def test_wheels_keep_their_distance_and_touch_at_their_radius(facing: Facing) -> None:
    whole, along = rolled("library-trailer", facing)
    shape = along.shape
    for front_mm in np.linspace(whole.front_mm[0], whole.front_mm[-1], 40).tolist():
        user = along.at(front_mm)
        for wheel in user.wheels:
            axle = next(one for one in shape.axles if one.name == wheel.axle)
            x, z = user.point(axle.behind_mm, axle.radius_mm)
            lifted = user.lean * wheel.across_mm
            assert wheel.centre == pytest.approx((x, z + lifted), abs=1e-6)
            reach = math.dist((wheel.centre[0], wheel.centre[1] - wheel.gap_mm), wheel.contact)
            assert reach == pytest.approx(wheel.radius_mm, abs=1e-6)
        assert sum(wheel.share for wheel in user.wheels) == pytest.approx(1.0)


def test_a_wheel_turns_by_what_it_has_come_on_level_ground() -> None:
    whole, along = rolled("barn-stage", "deck", place=0)
    far = float(whole.front_mm[-1])
    a, b = along.at(far - 120.0), along.at(far - 20.0)
    for one, two in zip(a.wheels, b.wheels, strict=True):
        # Away from the deck is to the right: clockwise, negative.
        assert two.turned_rad - one.turned_rad == pytest.approx(-100.0 / one.radius_mm, rel=1e-3)


def test_who_faces_away_turns_its_wheels_alike() -> None:
    whole, along = rolled("barn-stage", "away", place=0)
    far = float(whole.front_mm[-1])
    a, b = along.at(far - 120.0), along.at(far - 20.0)
    front = [user.wheels[0] for user in (a, b)]
    assert front[1].turned_rad - front[0].turned_rad == pytest.approx(-100.0 / front[0].radius_mm, rel=1e-3)


def test_what_hands_hold_neither_tips_back_nor_forward() -> None:
    _, along = rolled("orchard-trolley", "deck")
    user = along.at(1000.0)
    assert user.tip_back_rad is None
    assert user.tip_forward_rad is None
    assert [wheel.held for wheel in user.wheels] == [False, True]


def test_who_rocks_on_two_wheels_lies_as_it_does_on_its_way() -> None:
    """Ground that falls across lets a chair lie on either of two sets of three wheels: near the pitch of its
    way it has the wheel off that the way has.
    """
    evaluation = sample("library-trailer")
    rocking = 0
    for found in evaluation.rolling:
        if not isinstance(found, Roll) or found.hanging is None:
            continue
        pose = evaluation.site_pose(found.site_number, found.state)
        surfaces = Surfaces(evaluation.design, evaluation.assembly, pose)
        hangs = found.hanging
        along = AlongSite(evaluation.design, found.user, pose, surfaces, found.facing, hangs.across_mm)
        front = hangs.front_mm
        own = roll(evaluation.design, found.user, pose, surfaces, found.facing, hangs.across_mm)
        pitch = float(own.pitch_rad[abs(own.front_mm - front).argmin()])
        off = [max(one.gap_mm for one in along.at(front, near).wheels) for near in (pitch, None)]
        assert off[0] == pytest.approx(found.hanging.value, abs=1e-3)
        rocking += abs(off[1] - off[0]) > 0.1
    assert rocking
