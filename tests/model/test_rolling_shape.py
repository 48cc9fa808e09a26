"""Classes of wheeled users, and what a user is that leaves values to its class."""

from dataclasses import fields, replace
from typing import get_args

import pytest
from timber_ramp import timber_ramp

from rampdraft.geometry.buildable.problems import problems_of
from rampdraft.model.design import UserClass, WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import (
    COMMON,
    FOOT_RADIUS_MM,
    UserClassRow,
    as_class,
    left_to_class,
    mass_centre_height_mm,
    of_class,
    own_values,
    shape_of,
    told,
    user_classes,
)

KINDS = get_args(UserClass)


def test_every_class_is_in_the_catalogue_and_no_other() -> None:
    assert tuple(user_classes()) == KINDS


def test_a_row_has_every_value_of_a_user() -> None:
    told = {info.name for info in fields(UserClassRow)} - {"sources"}
    assert told == {info.name for info in fields(WheeledUser)} - {"name"}


def test_a_source_is_of_a_value_that_stands_there() -> None:
    for row in user_classes().values():
        assert all(getattr(row, name) for name in row.sources)
    assert user_classes()["manual wheelchair"].source("push_height_mm").startswith("1991 ADA")
    assert user_classes()["manual wheelchair"].source("underside_mm") == COMMON


@pytest.mark.parametrize("kind", KINDS)
def test_a_class_is_a_user_that_a_design_takes(kind: UserClass) -> None:
    user = of_class("Somebody", kind)
    assert own_values(user) == ()
    design = with_value(timber_ramp(), "use.users", (user,))
    assert problems_of(design) == ()


@pytest.mark.parametrize("kind", KINDS)
def test_what_is_left_to_the_class_is_as_the_class(kind: UserClass) -> None:
    whole = of_class("Somebody", kind)
    left = replace(
        whole,
        mass_centre_height_mm=0.0,
        front_radius_mm=0.0,
        middle_radius_mm=0.0,
        rear_radius_mm=0.0,
        front_tyre_mm=0.0,
        underside_mm=0.0,
        footrest_ahead_mm=0.0,
        footrest_height_mm=0.0,
        footrest_depth_mm=0.0,
        anti_tip_behind_mm=0.0,
        anti_tip_height_mm=0.0,
        push_height_mm=0.0,
        head_height_mm=0.0,
        driven="class",
        braked="class",
    )
    assert shape_of(left) == shape_of(whole)
    assert own_values(left) == ()


def test_own_values_are_told() -> None:
    user = replace(of_class("Somebody", "scooter"), front_radius_mm=99.0, driven="front")
    assert own_values(user) == ("front_radius_mm", "driven")
    assert shape_of(user).axles[0].radius_mm == 99.0
    assert shape_of(user).driven == "front"


def test_hands_that_carry_a_barrow_are_no_axle() -> None:
    front, hands = shape_of(of_class("Barrow", "barrow")).axles
    assert (front.held, hands.held) == (False, True)
    assert (hands.radius_mm, hands.sides_mm) == (FOOT_RADIUS_MM, (0.0,))
    assert shape_of(of_class("Barrow", "barrow")).wheels == 1
    assert shape_of(of_class("Truck", "sack truck")).wheels == 2


def test_a_middle_drive_has_three_axles_that_share_all_of_it() -> None:
    shape = shape_of(of_class("Chair", "middle-drive wheelchair"))
    assert [axle.name for axle in shape.axles] == ["front", "middle", "rear"]
    assert sum(axle.share for axle in shape.axles) == pytest.approx(1)
    assert shape.centre_behind_mm == pytest.approx(0.6 * 380 + 0.2 * 760)
    assert shape.driven == "middle"


def test_what_hangs_low_can_be_left_out() -> None:
    user = of_class("Chair", "powered wheelchair")
    assert [low.part for low in shape_of(user).lows] == ["footrest", "underside", "anti-tip wheels"]
    bare = replace(user, footrest_height_mm=600.0, anti_tip_height_mm=600.0)
    assert [low.part for low in shape_of(bare).lows] == ["underside"]


def test_a_wheel_of_hardly_any_radius_is_refused_and_none_is_as_the_class() -> None:
    for radius, problems in ((0.0, 0), (9.9, 1), (10.0, 0)):
        user = replace(of_class("Chair", "scooter"), front_radius_mm=radius)
        found = problems_of(with_value(timber_ramp(), "use.users", (user,)))
        assert [one.key for one in found] == ["use.users[1].front_radius_mm"] * problems


def test_the_mass_centre_of_old_classes_is_where_it_was() -> None:
    for kind, height in (("manual wheelchair", 650), ("scooter", 650), ("pushchair", 500), ("barrow", 500)):
        assert mass_centre_height_mm(WheeledUser(name="A", kind=kind, mass_kg=100, width_mm=600)) == height


def test_another_class_fills_all_or_leaves_own_values() -> None:
    user = replace(of_class("Somebody", "manual wheelchair"), mass_kg=131.0, front_radius_mm=0.0)
    assert as_class(user, "scooter", keep=False) == of_class("Somebody", "scooter")
    assert as_class(user, "scooter", keep=True) == replace(of_class("Somebody", "scooter"), mass_kg=131.0)


def test_what_the_class_gives_is_what_the_shape_has() -> None:
    user = of_class("Chair", "middle-drive wheelchair")
    assert left_to_class(user, "wheelbase_mm") is None
    assert left_to_class(user, "driven") == "middle"
    assert left_to_class(user, "middle_radius_mm") == 165.0
    scooter = replace(of_class("Scooter", "scooter"), rear_radius_mm=140.0, tyre_width_mm=70.0)
    assert left_to_class(scooter, "middle_radius_mm") == 140.0, "as the rear wheels"
    assert left_to_class(scooter, "front_tyre_mm") == 70.0, "as the other tyres"
    assert left_to_class(scooter, "push_height_mm") == 0.0
    for name, axle in (("front_radius_mm", 0), ("rear_radius_mm", -1)):
        left = replace(scooter, **{name: 0.0})
        assert shape_of(left).axles[axle].radius_mm == left_to_class(left, name) == told(left, name)
