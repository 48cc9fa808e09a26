"""Users over ramps: rest, energy, clearance that no step hides, forces, and what is said of odd users."""

import math
from dataclasses import replace
from typing import get_args

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.about import about_to_roll
from rampdraft.mechanics.rolling.everywhere import roll_everywhere
from rampdraft.mechanics.rolling.lows import clear_of
from rampdraft.mechanics.rolling.resting import Body, Support, rest
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.mechanics.rolling.roll import looked_at, roll
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.rolling.wheel_path import wheel_path
from rampdraft.mechanics.rolling.worst import HARD, SOFT
from rampdraft.model.design import UserClass
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class, shape_of
from rampdraft.units import G_M_S2

SAMPLES = {path.stem: path for path in sample_paths()}
KINDS = get_args(UserClass)


def sample(name: str) -> Evaluation:
    return evaluate(load_design(SAMPLES[name]), SAMPLES[name].parent)


@pytest.fixture(scope="module")
def trailer() -> Evaluation:
    return sample("library-trailer")


def rolled(evaluation: Evaluation, kind: UserClass, facing="deck", *, pose=0, **given) -> Roll:
    design = with_value(evaluation.design, "use.users", (of_class("Somebody", kind),))
    where = evaluation.sites[pose]
    return roll(design, 1, where, Surfaces(design, evaluation.assembly, where), facing, **given)


# Rest
# -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", KINDS)
def test_no_wheel_is_below_its_way_and_as_many_touch_as_it_takes(trailer: Evaluation, kind) -> None:
    for number in (0, 4):
        surfaces = Surfaces(trailer.design, trailer.assembly, trailer.sites[number])
        for facing in ("deck", "away"):
            about = about_to_roll(shape_of(of_class("A", kind)), surfaces, facing, 0.0)
            resting, _, _ = looked_at(about, 10.0)
            body, touching = about.body, np.zeros(len(resting.front_mm))
            assert resting.shares.sum(axis=1) == pytest.approx(1)
            for at, support in enumerate(body.supports):
                x, z = resting.point(body, support.behind_mm, support.radius_mm)
                assert x == pytest.approx(resting.x_mm[:, at], abs=1e-6)
                z = z + resting.lean * support.across_mm
                above = z - support.path.height_mm(x)
                assert above.min() > -1e-4
                touching += above < 1e-4
            flat = all(one.across_mm == 0 for one in body.supports)
            assert touching.min() >= (2 if flat else 3)


def test_four_wheels_on_odd_ground_rest_on_three_and_one_hangs() -> None:
    flat, low = (np.array([(-5000.0, z), (5000.0, z)]) for z in (0.0, -12.0))
    body = Body(
        supports=tuple(
            Support(
                axle=axle,
                behind_mm=behind,
                radius_mm=radius,
                across_mm=across,
                path=wheel_path(low if (axle, across) == (0, 250.0) else flat, radius),
            )
            for axle, behind, radius in ((0, 0.0, 100.0), (1, 450.0, 300.0))
            for across in (-250.0, 250.0)
        ),
        centre_behind_mm=270.0,
        centre_height_mm=650.0,
    )
    found = rest(body, np.array([0.0, 100.0]))
    # The mass lies behind the middle, so both rear wheels and one front wheel carry.
    assert found.gaps_mm[0] == pytest.approx([0, 12.0, 0, 0], abs=1e-6)
    assert found.shares[0] == pytest.approx([0.4, 0.0, 0.1, 0.5], abs=1e-9)
    assert found.lean == pytest.approx(0.0)


def test_on_a_side_slope_it_leans_by_it() -> None:
    body = Body(
        supports=tuple(
            Support(
                axle=axle,
                behind_mm=behind,
                radius_mm=100.0,
                across_mm=across,
                path=wheel_path(np.array([(-5000.0, 0.02 * across), (5000.0, 0.02 * across)]), 100.0),
            )
            for axle, behind in ((0, 0.0), (1, 450.0))
            for across in (-250.0, 250.0)
        ),
        centre_behind_mm=270.0,
        centre_height_mm=650.0,
    )
    found = rest(body, np.array([0.0]))
    assert found.lean[0] == pytest.approx(0.02)
    assert found.gaps_mm.max() < 1e-9


def test_a_middle_drive_lifts_the_castor_that_the_mass_leaves() -> None:
    path = {
        radius: wheel_path(np.array([(-900, 90.0), (0, 0), (5000, 0.0)]), radius) for radius in (75.0, 165.0)
    }
    shape = shape_of(of_class("A", "middle-drive wheelchair"))
    body = Body(
        supports=tuple(
            Support(
                axle=number,
                behind_mm=axle.behind_mm,
                radius_mm=axle.radius_mm,
                across_mm=0.0,
                path=path[axle.radius_mm],
            )
            for number, axle in enumerate(shape.axles)
        ),
        centre_behind_mm=shape.centre_behind_mm,
        centre_height_mm=shape.centre_height_mm,
    )
    found = rest(body, np.array([-120.0, 600.0]))
    assert found.gaps_mm[0].argmax() == 1  # over a hollow the middle hangs between front and rear
    assert found.gaps_mm[1] == pytest.approx(0, abs=1e-6)


# Energy and force
# -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["manual wheelchair", "barrow", "scooter", "middle-drive wheelchair"])
def test_the_force_adds_up_to_the_height_gained_and_the_rolling_loss(trailer: Evaluation, kind) -> None:
    surfaces = Surfaces(trailer.design, trailer.assembly, trailer.sites[0])
    shape = shape_of(of_class("A", kind))
    about = about_to_roll(shape, surfaces, "deck", 0.0)
    resting, _, _ = looked_at(about, 0.5)
    x = resting.middle_mm
    weight = shape.mass_kg * G_M_S2
    gained = resting.centre(about.body)[1]
    force = -weight * resting.climbing + HARD * weight
    # Going to -x, from the last place to the first; a way that jumps at a corner jumps in no step of it.
    work = float(np.sum((force[1:] + force[:-1]) / 2 * np.diff(x)))
    lost = HARD * weight * (x[-1] - x[0])
    asked = weight * (gained[0] - gained[-1]) + lost
    jumps = float(np.abs(np.diff(gained))[np.diff(resting.front_mm) < 1e-3].sum()) * weight
    assert asked > 0.3 * weight  # it climbs to the deck
    assert work == pytest.approx(asked, rel=1e-3, abs=2 * jumps + 1)


def test_soft_ground_takes_more(trailer: Evaluation) -> None:
    """On the gravel, all wheels on the level ground beyond the toe, going out: loss less the fall."""
    found = rolled(trailer, "manual wheelchair", "away", pose=3)
    weight = 150 * G_M_S2
    at = int(np.argmax(found.front_mm))
    assert found.forwards_n[at] == pytest.approx(weight * (SOFT - 20 / 4000), rel=1e-3)


def test_up_needs_what_down_gives_but_for_the_loss(trailer: Evaluation) -> None:
    found = rolled(trailer, "powered wheelchair")
    weight = 220 * G_M_S2
    assert found.forwards_n + found.backwards_n == pytest.approx(2 * HARD * weight)
    up, down = found.ways
    assert (up.way, down.way) == ("up forwards", "down backwards")
    assert up.push.value >= found.forwards_n.max() - 1e-6
    assert down.brake.value >= -found.backwards_n.min() - 1e-6


# Clearance
# -----------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SAMPLES)
@pytest.mark.parametrize("facing", ["deck", "away"])
def test_coarser_steps_hide_no_worse_place(name: str, facing) -> None:
    evaluation = sample(name)
    for kind in ("manual wheelchair", "powered wheelchair", "three-wheeled scooter"):
        if not any(pose.reaches for pose in evaluation.sites):
            continue
        pose = next(at for at, pose in enumerate(evaluation.sites) if pose.reaches)
        fine = rolled(evaluation, kind, facing, pose=pose, step_mm=0.5)
        for step in (2.0, 17.0):
            coarse = rolled(evaluation, kind, facing, pose=pose, step_mm=step)
            assert coarse.clearance.value == pytest.approx(fine.clearance.value, abs=0.02)
            assert coarse.clearance.value <= fine.clearance_mm.min() + 0.02
            for one, other in zip(coarse.ways, fine.ways, strict=True):
                assert one.push.value == pytest.approx(other.push.value, rel=2e-3, abs=1)
                assert one.bump == other.bump
            assert coarse.tip_back is not None
            assert fine.tip_back is not None
            assert coarse.tip_back.value == pytest.approx(fine.tip_back.value, abs=2e-4)


def test_clearance_is_what_trying_every_point_gives(trailer: Evaluation) -> None:
    surfaces = Surfaces(trailer.design, trailer.assembly, trailer.sites[0])
    about = about_to_roll(shape_of(of_class("A", "powered wheelchair")), surfaces, "deck", 0.0)
    resting = rest(about.body, np.arange(-300.0, 3000.0, 43.0))
    for under in about.belows:
        found = clear_of(under, about.body, resting).clearance_mm
        line = under.surface.points_mm
        tried = np.full(len(found), np.inf)
        for u in np.linspace(under.low.from_mm, under.low.to_mm, 2001):
            x, z = resting.point(about.body, u, under.low.height_mm)
            tried = np.minimum(tried, z - np.interp(x, *line.T))
        assert (found <= tried + 1e-9).all()
        assert (tried <= found + 0.3).all()


def test_a_crest_leaves_what_the_closed_form_says(trailer: Evaluation) -> None:
    """A point midway needs (L / 2) tan(gamma / 2), wheels of hardly any size (model: breakover)."""
    half, length = math.radians(8.0), 500.0
    outline = np.array([(-900, -900 * math.tan(half)), (0, 0), (900, -900 * math.tan(half))])
    path = wheel_path(outline, 1e-6)
    body = Body(
        supports=tuple(
            Support(axle=axle, behind_mm=behind, radius_mm=1e-6, across_mm=0.0, path=path)
            for axle, behind in ((0, 0.0), (1, length))
        ),
        centre_behind_mm=length / 2,
        centre_height_mm=600.0,
    )
    found = rest(body, np.array([-length / 2]))
    sunk = 0.0 - found.point(body, length / 2, 0.0)[1][0]
    assert sunk == pytest.approx(length / 2 * math.tan(half), rel=1e-9)


# Mirror
# -----------------------------------------------------------------------------------------------------------


def test_facing_away_is_facing_the_deck_seen_from_the_other_side(trailer: Evaluation) -> None:
    """Backwards up for one whose front is like its rear is forwards up."""
    design = trailer.design
    user = replace(
        of_class("A", "hand trolley"), front_share_percent=50.0, front_track_mm=460.0, rear_track_mm=460.0
    )
    design = with_value(design, "use.users", (user,))
    surfaces = Surfaces(design, trailer.assembly, trailer.sites[0])
    there, away = (roll(design, 1, trailer.sites[0], surfaces, facing) for facing in ("deck", "away"))
    assert away.clearance.value == pytest.approx(there.clearance.value, abs=0.02)
    assert away.ways[1].push.value == pytest.approx(there.ways[0].push.value, rel=1e-6)
    assert away.ways[0].brake.value == pytest.approx(there.ways[1].brake.value, rel=1e-6)
    assert away.tip_back is not None
    assert there.tip_forward is not None
    assert away.tip_back.value == pytest.approx(there.tip_forward.value, abs=1e-6)


# Odd users
# -----------------------------------------------------------------------------------------------------------


def test_a_user_wider_than_the_ramp_is_told_and_not_rolled(trailer: Evaluation) -> None:
    user = replace(of_class("Wide", "scooter"), front_track_mm=1400.0)
    design = with_value(trailer.design, "use.users", (user, of_class("B", "scooter")))
    found = roll_everywhere(
        design, trailer.assembly, trailer.sites, trailer.straight, trailer.at_rest, trailer.props_set
    )
    first, *others = found
    assert first == CannotRoll(user=1, why="wider than the ramp", width_mm=1475.0, room_mm=850.0)
    assert all(isinstance(one, Roll) and one.user == 2 for one in others)
    assert len(others) == 2 * len(trailer.sites)


def test_what_is_odd_of_a_user_is_told(trailer: Evaluation) -> None:
    assert rolled(trailer, "barrow").remarks == ("held by hands",)
    assert rolled(trailer, "barrow").tip_back is None
    assert rolled(trailer, "scooter").remarks == ()
    user = replace(of_class("A", "scooter"), front_track_mm=0.0, rear_track_mm=0.0, wheelbase_mm=2900.0)
    design = with_value(trailer.design, "use.users", (user,))
    surfaces = Surfaces(design, trailer.assembly, trailer.sites[0])
    told = roll(design, 1, trailer.sites[0], surfaces, "deck").remarks
    assert told == ("wheels in line", "longer than the ramp")


def test_a_design_without_users_rolls_nobody() -> None:
    evaluation = evaluate(with_value(timber_ramp(), "use.users", ()))
    assert evaluation.rolling == ()


@settings(max_examples=tries(10), deadline=None)
@given(st.sampled_from(KINDS), st.floats(-3.0, 3.0), st.sampled_from(["deck", "away"]))
def test_on_any_cross_slope_everybody_comes_through(kind, slope: float, facing) -> None:
    evaluation = evaluate(timber_ramp())
    site = replace(evaluation.design.sites[0], cross_slope_percent=slope)
    design = with_value(evaluation.design, "sites", (site,))
    design = with_value(design, "use.users", (of_class("A", kind),))
    pose = evaluation.sites[0]
    found = roll(design, 1, pose, Surfaces(design, evaluation.assembly, pose), facing)
    for values in (found.pitch_rad, found.lean, found.clearance_mm, found.forwards_n):
        assert np.isfinite(values).all()
    # Off the ramp all wheels stand on the sloping ground, and it leans as the ground does.
    if len({len(axle.sides_mm) for axle in shape_of(of_class("A", kind)).axles}) == 1 and found.lean.any():
        assert found.lean[np.argmax(found.front_mm)] == pytest.approx(-slope / 100, abs=1e-3)
