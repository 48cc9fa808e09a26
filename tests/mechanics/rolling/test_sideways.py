"""Tipping to a side by plane geometry, heads under what hangs above the way in."""

import math
from dataclasses import replace

import numpy as np
import pytest

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.heads import ATTENDANT_MM, HEAD_HALF_MM
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.mechanics.rolling.roll import roll
from rampdraft.mechanics.rolling.sideways import side_tip_rad
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.model.design import WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class, shape_of


def tips(user: WheeledUser, grade: float = 0.0) -> float:
    found = side_tip_rad(shape_of(user), grade)
    assert found is not None
    return found


def box(**changes: float) -> WheeledUser:
    return replace(of_class("A", "hand trolley"), **changes)


def test_four_wheels_on_one_track_tip_at_half_of_it_over_the_height() -> None:
    for grade in (0.0, 0.2):
        user = box(front_track_mm=500.0, rear_track_mm=500.0, mass_centre_height_mm=600.0)
        assert tips(user, grade) == pytest.approx(math.atan(250 / 600))


def test_three_wheels_tip_over_the_side_of_their_triangle() -> None:
    """Distance from a point to a line through two others: twice the triangle's area over the side."""
    user = replace(of_class("A", "three-wheeled scooter"), mass_centre_height_mm=600.0)
    base, half = user.wheelbase_mm, user.rear_track_mm / 2
    for grade in (0.0, 0.15):
        at = (1 - user.front_share_percent / 100) * base - 600.0 * grade  # the front wheel down the grade
        area = abs(base * 0.0 - half * at) / 2
        assert tips(user, grade) == pytest.approx(math.atan(2 * area / math.hypot(base, half) / 600.0))
    assert tips(user, 0.15) < tips(user)
    assert tips(user, -0.15) == tips(user, 0.15)  # it may face either way


def test_a_wider_middle_axle_is_the_line_and_a_narrower_one_is_none() -> None:
    user = of_class("A", "middle-drive wheelchair")
    narrow = replace(user, rear_track_mm=300.0, front_track_mm=500.0)
    shape = shape_of(narrow)
    assert [axle.track_mm for axle in shape.axles] == [500.0, 300.0, 300.0]
    height = shape.centre_height_mm
    grows = (300.0 - 500.0) / 2 / shape.wheelbase_mm
    aside = (250.0 + grows * shape.centre_behind_mm) / math.hypot(1.0, grows)
    # The line from front to rear lies outside the middle wheels: it is the one.
    assert tips(narrow) == pytest.approx(math.atan(aside / height))


def test_what_hands_keep_upright_has_none_and_who_is_past_it_has_nothing() -> None:
    assert side_tip_rad(shape_of(of_class("A", "barrow")), 0.0) is None
    assert side_tip_rad(shape_of(box(front_track_mm=0.0, rear_track_mm=0.0)), 0.0) is None
    scooter = replace(of_class("A", "three-wheeled scooter"), mass_centre_height_mm=2000.0)
    assert tips(scooter, 0.9) == 0.0


# Heads
# -----------------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def trailer() -> Evaluation:
    path = next(one for one in sample_paths() if one.stem == "library-trailer")
    return evaluate(load_design(path), path.parent)


def under(trailer: Evaluation, user: WheeledUser, room: float, facing="deck") -> Roll:
    design = with_value(with_value(trailer.design, "use.users", (user,)), "carrier.head_room_mm", room)
    pose = trailer.sites[0]
    return roll(design, 1, pose, Surfaces(design, trailer.assembly, pose), facing)


def test_nothing_hangs_where_no_height_is_given(trailer: Evaluation) -> None:
    assert under(trailer, of_class("A", "manual wheelchair"), 0.0).head is None
    assert under(trailer, of_class("A", "walking frame"), 0.0).head is None


def test_on_the_level_deck_a_head_has_the_room_less_its_height(trailer: Evaluation) -> None:
    """Whoever leans back less than the way in is high comes up to it on the deck or before."""
    user = replace(of_class("A", "manual wheelchair"), attendant_kg=0.0)
    found = under(trailer, user, 1600.0).head
    assert found is not None
    assert found.part == "head"
    assert found.value == pytest.approx(200.0, abs=45.0)
    assert found.value <= 200.0 - 4.0 + 1e-6  # on the bridge plate it stands 4 mm higher


def test_it_is_the_least_of_all_places_where_the_head_is_under_it(trailer: Evaluation) -> None:
    user = replace(of_class("A", "powered wheelchair"), attendant_kg=0.0)
    shape = shape_of(user)
    for facing in ("deck", "away"):
        one = under(trailer, user, 1600.0, facing)
        sign = 1.0 if facing == "deck" else -1.0
        back, up = sign * shape.centre_behind_mm, shape.head_height_mm
        least = math.inf
        for front, pitch in zip(one.front_mm, one.pitch_rad, strict=True):
            x = front + back * math.cos(pitch) + sign * (up - 100.0) * math.sin(pitch)
            if x <= HEAD_HALF_MM:
                # The front axle's height, from its own wheel on the middle's way.
                z = float(one.wheels[0].path.height_mm(np.array([front]))[0])
                head = z - shape.centre_behind_mm * math.sin(pitch) + (up - 100.0) * math.cos(pitch)
                least = min(least, 420.0 + 1600.0 - head)
        assert one.head is not None
        assert one.head.value == pytest.approx(least, abs=0.5)


def test_whoever_pushes_walks_upright(trailer: Evaluation) -> None:
    found = under(trailer, of_class("A", "pushchair"), 1850.0).head
    assert found is not None
    assert (found.part, found.value) == ("attendant's head", 1850.0 - ATTENDANT_MM)
    assert found.place in ("edge", "deck")
