"""What rolls over the ramp and how lanes share it: equilibrium, plain means, the same thing both ways
round.
"""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from timber_ramp import timber_ramp
from tries import tries

from rampdraft.mechanics.loading.loads import (
    FOOT_MM,
    Axle,
    axle_shares,
    axles_of,
    lateral_places_mm,
    lever_shares,
    rolling_kg,
    spread_shares,
    user_loads,
)
from rampdraft.model.design import Design, WheeledUser
from rampdraft.units import G_M_S2

DESIGN = timber_ramp()
CHAIR = WheeledUser(
    name="chair",
    kind="manual wheelchair",
    mass_kg=120,
    width_mm=700,
    attendant_kg=80,
    wheelbase_mm=460,
    front_share_percent=35,
    front_track_mm=480,
    rear_track_mm=560,
    tyre_width_mm=30,
    tyre_contact_mm=40,
    attendant_behind_mm=450,
)


def with_use(**values: object) -> Design:
    return replace(DESIGN, use=replace(DESIGN.use, **values))


@st.composite
def lanes_of(draw, least: int = 2) -> tuple[float, ...]:
    gaps = draw(st.lists(st.floats(40, 600), min_size=least - 1, max_size=4))
    first = draw(st.floats(-600, 0))
    return tuple((first + np.cumsum([0.0, *gaps])).tolist())


ACROSS = st.lists(st.floats(-900, 900), min_size=1, max_size=6)


@settings(max_examples=tries(60))
@given(lanes_of(), ACROSS)
def test_lanes_carry_a_load_in_equilibrium(lanes, across):
    """Sum of forces, and of moments about the middle; only the two lanes beside the load, or the outer two,
    have any.
    """
    shares = lever_shares(lanes, np.array(across))
    assert shares.shape == (len(across), len(lanes))
    assert shares.sum(axis=-1) == pytest.approx(np.ones(len(across)))
    assert shares @ np.array(lanes) == pytest.approx(np.array(across), abs=1e-6)
    for place, row in zip(across, shares, strict=True):
        beside = {int(np.clip(np.searchsorted(lanes, place), 1, len(lanes) - 1)) - step for step in (0, 1)}
        assert set(np.flatnonzero(row).tolist()) <= beside
        if lanes[0] <= place <= lanes[-1]:
            assert row.min() >= 0.0


def test_by_the_lever_rule():
    """By hand, lanes at -300, 0, 300: a third and two thirds, a load on its lane, and one 150 beyond the
    outer one.
    """
    lanes = (-300.0, 0.0, 300.0)
    shares = lever_shares(lanes, np.array([100.0, -300.0, 0.0, 450.0]))
    assert shares == pytest.approx(np.array([[0, 2 / 3, 1 / 3], [1, 0, 0], [0, 1, 0], [0, -0.5, 1.5]]))


def test_one_lane_has_it_all():
    assert lever_shares((120.0,), np.array([-50.0, 700.0])).tolist() == [[1.0], [1.0]]
    assert spread_shares((120.0,), -400, 400).tolist() == [1.0]


@settings(max_examples=tries(40))
@given(lanes_of(), st.floats(-800, 700), st.floats(1, 900))
def test_a_load_spread_across_is_the_mean_of_its_strips(lanes, start, wide):
    count = 4000
    middles = start + wide * (np.arange(count) + 0.5) / count
    found = spread_shares(lanes, start, start + wide)
    assert found == pytest.approx(lever_shares(lanes, middles).mean(axis=0), abs=1e-3)
    assert found.sum() == pytest.approx(1)
    assert found @ np.array(lanes) == pytest.approx(start + wide / 2, abs=1e-6)


def test_a_load_spread_over_three_lanes_by_hand():
    """Lanes at -300, 0, 300 under an even load from -300 to 300: a quarter, half, a quarter."""
    assert spread_shares((-300.0, 0.0, 300.0), -300.0, 300.0) == pytest.approx([0.25, 0.5, 0.25])


@settings(max_examples=tries(25))
@given(
    lanes_of(),
    st.lists(st.floats(0, 700), min_size=3, max_size=3),
    st.lists(st.floats(-300, 300), min_size=2, max_size=2),
)
def test_an_axle_is_shared_as_its_two_wheels(lanes, tracks, across):
    found = axle_shares(lanes, np.array([tracks]), np.array([across]))
    assert found.shape == (1, 2, len(lanes), 3)
    for place, middle in enumerate(across):
        for axle, track in enumerate(tracks):
            left, right = (lever_shares(lanes, np.array(middle + side * track / 2)) for side in (-1, 1))
            assert found[0, place, :, axle] == pytest.approx((left + right) / 2)
    assert found.sum(axis=2) == pytest.approx(np.ones((1, 2, 3)))


def test_trains_are_shared_each_at_its_own_places():
    lanes = (-300.0, 300.0)
    found = axle_shares(lanes, np.array([[0.0], [200.0]]), np.array([[0.0, 100.0], [-100.0, 300.0]]))
    assert found[:, :, 1, 0] == pytest.approx(np.array([[1 / 2, 2 / 3], [1 / 3, 1]]))


def test_a_user_as_axles():
    """Front axle first, then the rear one and the attendant's feet; forces by the share on the front axle."""
    front, rear, feet = axles_of(CHAIR)
    assert [axle.offset_mm for axle in (front, rear, feet)] == [0, 460, 910]
    weights = [0.35 * 120 * G_M_S2, 0.65 * 120 * G_M_S2, 80 * G_M_S2]
    assert [axle.force_n for axle in (front, rear, feet)] == pytest.approx(weights)
    assert [axle.track_mm for axle in (front, rear, feet)] == [480, 560, 0]
    assert front.patch_mm == rear.patch_mm == (30, 40)
    assert feet.patch_mm == FOOT_MM
    assert [axle.wheel_n for axle in (front, rear, feet)] == pytest.approx(
        [weights[0] / 2, weights[1] / 2, weights[2]]
    )
    assert len(axles_of(replace(CHAIR, attendant_kg=0))) == 2


AXLES = st.builds(
    Axle, offset_mm=st.floats(0, 3000), force_n=st.floats(1, 5000), track_mm=st.floats(0, 900),
    patch_mm=st.tuples(st.floats(5, 300), st.floats(5, 300)),
)  # fmt: skip


def test_backwards_the_attendant_leads():
    feet, rear, front = axles_of(CHAIR, forwards=False)
    assert [axle.offset_mm for axle in (feet, rear, front)] == [0, 450, 910]
    assert (feet.track_mm, rear.track_mm, front.track_mm) == (0, 560, 480)


@settings(max_examples=tries(25))
@given(st.lists(AXLES, min_size=1, max_size=4), st.floats(300, 1500), st.floats(300, 1500))
def test_against_an_edge_the_outer_tyre_is_on_the_surface_and_at_its_edge(axles, inner_mm, outer_mm):
    design = replace(
        DESIGN,
        inner_leaf=replace(DESIGN.inner_leaf, width_mm=inner_mm),
        outer_leaf=replace(DESIGN.outer_leaf, width_mm=outer_mm),
    )
    right, middle, left = lateral_places_mm(design, tuple(axles))
    narrow = min(inner_mm, outer_mm)
    reach = max(axle.track_mm / 2 + axle.patch_mm[0] / 2 for axle in axles)
    assert middle == 0
    assert right == -left <= 0
    if 2 * reach <= narrow:
        assert left + reach == pytest.approx(narrow / 2)
    else:
        assert left == 0  # wider than the ramp: there is no other place than the middle


def test_the_bump_factor_raises_every_axle_and_is_told():
    still, bumped = (
        list(user_loads(with_use(users=(CHAIR, CHAIR), bump_factor=factor), (0.0,))) for factor in (1.0, 1.4)
    )
    assert [load.key for load in bumped] == ["user-1", "user-2", "rated#1", "rated#2", "walker"]
    for plain, raised in zip(still, bumped, strict=True):
        assert raised.factor == 1.4
        assert [axle.force_n for axle in raised.axles] == pytest.approx(
            [1.4 * axle.force_n for axle in plain.axles]
        )
    assert still[0].force_n == pytest.approx(200 * G_M_S2)


def test_somebody_on_foot_is_one_foot_that_hands_nothing_to_another():
    (walker,) = (
        load for load in user_loads(with_use(users=(), bump_factor=1.0), (0.1, 0.0)) if load.key == "walker"
    )
    foot = Axle(offset_mm=0.0, force_n=100 * G_M_S2, track_mm=0.0, patch_mm=FOOT_MM)
    assert walker.ways == ((foot,),) * 4
    assert (walker.mass_centre_mm, walker.grade, walker.user, walker.demanded) == (0.0, 0.0, 0, "")
    assert foot.wheel_n == foot.force_n


def test_the_rated_load_rolls_on_the_wheels_of_everybody_who_rides_all_of_it_in_the_chair():
    scooter = replace(CHAIR, name="scooter", mass_kg=150, attendant_kg=0, wheelbase_mm=900)
    barrow = replace(CHAIR, name="barrow", kind="barrow")
    rated = list(
        rolling_kg(with_use(users=(scooter, CHAIR, barrow)), (0.0,), 300, "rated", "rated load, 300 kg")
    )
    assert [load.key for load in rated] == ["rated#1", "rated#2"]
    assert rated[1].words == f"rated load, 300 kg, on the wheels of: {CHAIR.name}"
    for load, user in zip(rated, (scooter, CHAIR), strict=True):
        alone = axles_of(replace(user, attendant_kg=0))
        assert load.force_n == pytest.approx(300 * G_M_S2)
        assert [axle.offset_mm for axle in load.axles] == [axle.offset_mm for axle in alone]
        shares = [axle.force_n / load.force_n for axle in load.axles]
        assert shares == pytest.approx([axle.force_n / (user.mass_kg * G_M_S2) for axle in alone])


def test_an_attendant_changes_nothing_of_the_rated_load():
    """Or a heavier user would leave the ramp less loaded than a lighter one."""
    light, heavy = (with_use(users=(replace(CHAIR, attendant_kg=kg),)) for kg in (0, 120))
    assert list(rolling_kg(light, (0.0,), 300, "rated", "")) == list(
        rolling_kg(heavy, (0.0,), 300, "rated", "")
    )


def test_where_nobody_rides_the_barrow_and_who_pushes_it_bring_the_rated_load():
    barrow = replace(CHAIR, kind="barrow", mass_kg=150, attendant_kg=50)
    (rated,) = rolling_kg(with_use(users=(barrow,)), (0.0,), 300, "rated", "")
    assert [axle.force_n for axle in rated.axles] == pytest.approx(
        [1.5 * axle.force_n for axle in axles_of(barrow)]
    )


def test_a_rated_load_without_users_still_rolls():
    (rated,) = rolling_kg(with_use(users=()), (0.0,), 250, "rated", "")
    assert rated.force_n == pytest.approx(250 * G_M_S2)
    assert len(rated.axles) == 2


def test_whoever_holds_the_handles_stands_on_their_share_of_the_load_too():
    barrow = replace(
        CHAIR, kind="barrow", mass_kg=100, front_share_percent=60, attendant_kg=80, attendant_behind_mm=0
    )
    wheel, feet = axles_of(barrow)
    assert wheel.force_n == pytest.approx(60 * G_M_S2)
    assert feet.force_n == pytest.approx((40 + 80) * G_M_S2)
    assert (feet.track_mm, feet.patch_mm) == (0, FOOT_MM)
