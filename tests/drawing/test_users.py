"""Wheeled users as ink: true to their shape, and every size of the form on the drawing under its letter."""

from dataclasses import replace
from typing import get_args

import pytest
from hypothesis import given
from hypothesis import strategies as st
from inked import owners, texts

from rampdraft.drawing.ink import Label, Path
from rampdraft.drawing.users.measured import LETTERS, measured_view
from rampdraft.drawing.users.silhouette import box_of, main_figures, user_picture
from rampdraft.model.design import UserClass, WheeledUser
from rampdraft.model.fields.paths import fields_of
from rampdraft.model.fields.record import Dim
from rampdraft.model.rolling_shape import of_class, shape_of

KINDS = get_args(UserClass)
PATH = "use.users[1]"


def rings(marks) -> set[tuple[float, float, float]]:
    """Return the circles of some marks: middle along, middle up, radius."""
    found = set()
    for mark in marks:
        if isinstance(mark, Path) and mark.closed and len(mark.vertices) == 2:
            (x0, z, _), (x1, _, _) = mark.vertices
            found.add((round((x0 + x1) / 2, 6), round(z, 6), round((x1 - x0) / 2, 6)))
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_wheels_stand_on_the_ground_where_the_shape_has_them(kind: UserClass) -> None:
    shape = shape_of(of_class("Somebody", kind))
    picture = user_picture(shape)
    wheels = {(axle.behind_mm, axle.radius_mm, axle.radius_mm) for axle in shape.axles if not axle.held}
    assert wheels <= rings(picture.marks)
    assert picture.box[1] == pytest.approx(0, abs=0.02), "nothing below the ground"
    hanging = [low for low in shape.lows if low.part == "footrest"]
    lines = [mark for mark in picture.marks if isinstance(mark, Path) and not mark.closed]
    for low in hanging:
        ends = ((low.from_mm, low.height_mm, 0.0), (low.to_mm, low.height_mm, 0.0))
        assert ends in [mark.vertices for mark in lines]


def test_no_two_classes_look_alike() -> None:
    marks = {user_picture(shape_of(of_class("Somebody", kind))).marks for kind in KINDS}
    assert len(marks) == len(KINDS)


def test_whoever_walks_behind_is_drawn_and_goes() -> None:
    chair = of_class("Chair", "manual wheelchair")
    heads = [user_picture(shape_of(replace(chair, attendant_kg=mass))).box[3] for mass in (0.0, 75.0)]
    assert heads[0] < 1400
    assert heads[1] > 1650


def test_the_main_figures() -> None:
    assert main_figures(shape_of(of_class("A", "manual wheelchair"))) == (
        "150 kg, wheelbase 450",
        "wheels 100 / 305 mm",
    )
    assert main_figures(shape_of(of_class("A", "barrow")))[1] == "wheel 200 mm"


def test_every_letter_is_on_the_drawing_of_some_class() -> None:
    drawn = {text.partition(" ")[0] for kind in KINDS for text in texts(view(kind))}
    assert drawn == set(LETTERS.values())


def view(kind: UserClass, **changes):
    return measured_view(replace(of_class("Somebody", kind), **changes), PATH, 12.0)


@pytest.mark.parametrize("kind", KINDS)
def test_a_size_stands_under_its_letter_and_can_be_pointed_at(kind: UserClass) -> None:
    user = of_class("Somebody", kind)
    picture = view(kind)
    said = {mark.owner: mark.text for mark in picture.marks if isinstance(mark, Label)}
    assert said[f"{PATH}.wheelbase_mm"] == f"B {user.wheelbase_mm:g}"
    assert said[f"{PATH}.width_mm"] == f"V {user.width_mm:g}"
    assert said[f"{PATH}.front_radius_mm"] == f"v {user.front_radius_mm:g}"
    assert set(said) <= owners(picture), "each value has lines of its own"


def test_what_is_left_to_the_class_stands_in_brackets() -> None:
    own = texts(view("powered wheelchair"))
    left = texts(view("powered wheelchair", front_radius_mm=0.0, push_height_mm=0.0))
    assert {"v 100", "Y 915"} <= set(own)
    assert {"v (100)", "Y (915)"} <= set(left)
    assert not {"v 100", "Y 915", "v 0", "Y 0"} & set(left)


def test_what_there_is_none_of_is_not_drawn() -> None:
    bare = texts(view("powered wheelchair", footrest_height_mm=600.0, anti_tip_height_mm=600.0))
    assert not [text for text in bare if text[0] in "EzdNn"]


SIZES = {
    info.name: st.one_of(
        st.sampled_from((info.record.low, info.record.high)), st.floats(info.record.low, info.record.high)
    )
    for info in fields_of(WheeledUser)
    if isinstance(info.record, Dim)
}


@given(kind=st.sampled_from(KINDS), sizes=st.fixed_dictionaries(SIZES))
def test_any_user_that_a_form_takes_is_drawn_within_the_box(kind: UserClass, sizes: dict[str, float]) -> None:
    user = replace(of_class("Somebody", kind), **sizes)
    for picture in (user_picture(shape_of(user)), measured_view(user, PATH, 12.0)):
        x0, z0, x1, z1 = picture.box
        a, b, c, d = box_of(picture.marks)
        assert x0 <= a < c <= x1
        assert z0 <= b < d <= z1
