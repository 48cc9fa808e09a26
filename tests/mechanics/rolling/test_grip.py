"""What driven and braked wheels give: the free body solved apart, closed forms of a slope, a run-up."""

import math
from dataclasses import replace
from typing import Any, cast

import numpy as np
import pytest

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.about import about_to_roll
from rampdraft.mechanics.rolling.grip import Going, brake, drive
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.mechanics.rolling.roll import looked_at
from rampdraft.mechanics.rolling.surfaces import Place, Surface, Surfaces
from rampdraft.mechanics.rolling.wheel_path import WheelPath, wheel_paths
from rampdraft.model.design import WheeledUser
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class, shape_of
from rampdraft.units import G_M_S2, Array

MU = 0.5


@pytest.fixture(scope="module")
def trailer() -> Evaluation:
    path = next(one for one in sample_paths() if one.stem == "library-trailer")
    return evaluate(load_design(path), path.parent)


class Even:
    """One outline everywhere across."""

    def __init__(self, points: list[tuple[float, float]]) -> None:
        self.tip_mm = 3000.0
        self.place = Place(edge_mm=0.0, joint_mm=1500.0, tip_mm=3000.0)
        owner = np.zeros(len(points), dtype=np.intp)
        self.one = Surface(points_mm=np.array(points), owner=owner, owners=("deck",))

    def under(self, _: float) -> Surface:
        return self.one

    def ways(self, rolled: list[tuple[Surface, float]]) -> tuple[WheelPath, ...]:
        return wheel_paths([(one.points_mm, radius) for one, radius in rolled])

    def between(self, *_: object) -> Surface:
        return self.one


def going(
    user: WheeledUser, surfaces: Any, *, mu: float = MU, forwards: bool = True, loss: float = 0.0
) -> Going:
    rolling = about_to_roll(shape_of(user), cast(Surfaces, surfaces), "deck", 0.0)
    resting, _, _ = looked_at(rolling, 5.0)
    weight, way = user.mass_kg * G_M_S2, -1.0 if forwards else 1.0
    every = np.ones_like(resting.x_mm)
    return Going(
        rolling=rolling,
        resting=resting,
        resistance=loss * every,
        friction=mu * every,
        effort_n=weight * (loss + way * resting.climbing),
        forwards=forwards,
    )


def solved(one: Going, axle: int) -> tuple[Array, Array]:
    """Return traction and load of the driven axle by the three equations of the free body: level, upright,
    moments about the front axle's centre.
    """
    resting, body = one.resting, one.rolling.body
    weight, way = one.rolling.shape.mass_kg * G_M_S2, -1.0 if one.forwards else 1.0
    assert len(body.supports) == 2
    found: list[Array] = []
    for at in range(len(resting.front_mm)):
        columns: list[tuple[float, float, float]] = []
        for number, support in enumerate(body.supports):
            angle = math.atan(resting.slope[at, number])
            x, z = (float(each[at]) for each in resting.point(body, support.behind_mm, support.radius_mm))
            normal, along = (
                (-math.sin(angle), math.cos(angle)),
                (way * math.cos(angle), way * math.sin(angle)),
            )
            foot = x - support.radius_mm * normal[0], z - support.radius_mm * normal[1]
            for force in (normal, along) if number == axle else (normal,):
                columns.append((*force, foot[0] * force[1] - foot[1] * force[0]))
        centre = float(resting.centre(body)[0][at])
        loads = np.linalg.solve(np.array(columns).T, np.array([0.0, weight, centre * weight]))
        found.append(loads[[2, 1] if axle else [1, 0]])
    traction, load = np.array(found).T
    return traction, load


@pytest.mark.parametrize("kind", ["powered wheelchair", "front-drive wheelchair", "scooter"])
@pytest.mark.parametrize("forwards", [True, False])
def test_traction_and_load_are_those_of_the_free_body(trailer: Evaluation, kind, forwards: bool) -> None:
    surfaces = Surfaces(trailer.design, trailer.assembly, trailer.sites[0])
    user = of_class("A", kind)
    one = going(user, surfaces, forwards=forwards)
    axle = 0 if kind == "front-drive wheelchair" else 1
    traction, load = solved(one, axle)
    name = "front" if axle == 0 else "rear"
    weight = user.mass_kg * G_M_S2
    found = drive(one, name)
    assert np.abs(found.asked_n - traction).max() < 1e-6 * weight
    assert np.abs(brake(one, name).asked_n + traction).max() < 1e-6 * weight
    assert np.abs(found.most_n - MU * np.maximum(load, 0.0)).max() < 1e-6 * weight
    if forwards:
        assert (found.share > 1).any()
        assert (found.share < 1).any()


def slope(grade: float) -> Even:
    return Even([(-9000.0, 9000.0 * grade), (9000.0, -9000.0 * grade)])


@pytest.mark.parametrize("forwards", [True, False])
@pytest.mark.parametrize("grade", [0.05, 0.16, 0.3])
def test_on_a_slope_a_rear_drive_has_what_the_textbook_says(grade: float, forwards: bool) -> None:
    """N = W (cos a (share) + sin a h / b), T = W sin a: statics of two axles on a slope, the drive at the
    lower one going up forwards and at the lower one too going down backwards (it faces uphill both times).
    """
    user = of_class("A", "powered wheelchair")
    one = going(user, slope(grade), forwards=forwards)
    shape, weight, angle = shape_of(user), user.mass_kg * G_M_S2, math.atan(grade)
    load = weight * (math.cos(angle) * 0.6 + math.sin(angle) * shape.centre_height_mm / shape.wheelbase_mm)
    sense = 1.0 if forwards else -1.0
    found = drive(one, "rear")
    assert found.asked_n == pytest.approx(sense * weight * math.sin(angle), rel=1e-6)
    assert found.most_n == pytest.approx(MU * load, rel=1e-6)
    assert brake(one, "rear").most_n == pytest.approx(MU * load, rel=1e-6)


def test_a_slope_beyond_the_grip_needs_the_energy_that_lacks() -> None:
    user, grade, mu = of_class("A", "powered wheelchair"), 0.2, 0.1
    one = going(user, slope(grade), mu=mu)
    found = drive(one, "rear")
    assert (found.share > 1).all()
    way = (one.resting.front_mm[-1] - one.resting.front_mm[0]) * math.hypot(1.0, grade) / 1000
    lacks = float(found.asked_n[0] - found.most_n[0])
    assert found.short_j[-1] == pytest.approx(lacks * way, rel=1e-6)  # at the foot of it
    assert found.short_j[0] == 0.0
    # Holding it back on the way down it slides, and has picked up as much at the foot.
    down = going(user, slope(grade), mu=mu, forwards=False)
    assert brake(down, "rear").short_j[-1] == pytest.approx(lacks * way, rel=1e-6)


def test_a_kink_takes_of_the_run(trailer: Evaluation) -> None:
    """Before a kink there must be so much more as it takes: what is needed beyond over the share left."""
    surfaces = Surfaces(trailer.design, trailer.assembly, trailer.sites[0])
    user = replace(of_class("A", "powered wheelchair"), front_radius_mm=30.0)
    found = drive(going(user, surfaces), "rear")
    assert (found.short_j[1:] >= 0).all()
    jumps = found.short_j[1:] - found.short_j[:-1]
    assert jumps.max() > 1.0


def test_rolling_resistance_of_its_own_is_not_asked_of_the_grip() -> None:
    """Level ground, going on: the wheels' rims bear all resistance, the contact but that of the others."""
    user = of_class("A", "powered wheelchair")
    found = drive(going(user, slope(0.0), loss=0.02), "rear")
    assert found.asked_n == pytest.approx(0.02 * 0.4 * user.mass_kg * G_M_S2, rel=1e-6)


def test_a_motor_gives_no_more_than_its_push() -> None:
    one = going(of_class("A", "powered wheelchair"), slope(0.1), loss=0.02)
    free, weak = drive(one, "rear"), drive(one, "rear", 300.0)
    share = 0.6 + 0.1 * 650 / 500  # W h tan / b moves to the lower axle
    assert weak.most_n == pytest.approx(300.0 - 0.02 * share * 220 * G_M_S2, rel=1e-3)
    assert (free.most_n > weak.most_n).all()


def test_middle_wheels_that_hang_give_nothing_and_rockers_keep_them_down() -> None:
    def most(depth: float) -> Array:
        hollow = Even([(-9000.0, 0.0), (1000.0, 0.0), (1380.0, -depth), (1760.0, 0.0), (9000.0, 0.0)])
        return drive(going(of_class("A", "middle-drive wheelchair"), hollow), "middle").most_n

    weight = 220 * G_M_S2
    assert most(20.0).min() > 0.9 * MU * 0.6 * weight
    assert most(150.0).min() == 0.0


def rolled(evaluation: Evaluation, user: WheeledUser, wet_grip: float) -> list[Roll]:
    design = with_value(with_value(evaluation.design, "use.users", (user,)), "use.wet_grip", wet_grip)
    return [one for one in evaluation.following(design).rolling if isinstance(one, Roll)]


def run_up(rolls: list[Roll]) -> float:
    return max(way.run_up.value for roll in rolls for way in roll.ways if way.run_up is not None)


def test_more_grip_needs_no_more_run_and_small_wheels_need_more(trailer: Evaluation) -> None:
    user = of_class("A", "powered wheelchair")
    runs = [run_up(rolled(trailer, user, value)) for value in (20.0, 36.0, 60.0)]
    assert runs[0] > runs[1] > runs[2]
    assert run_up(rolled(trailer, replace(user, front_radius_mm=30.0), 60.0)) > 1.0 > runs[2]


def test_of_who_is_pushed_nothing_is_asked_of_the_grip(trailer: Evaluation) -> None:
    for user in (
        of_class("A", "manual wheelchair"),
        replace(of_class("A", "self-propelled wheelchair"), attendant_kg=75.0),
    ):
        for one in rolled(trailer, user, 60.0):
            assert all(way.grip is way.run_up is way.slide is None for way in one.ways)
    alone = rolled(trailer, of_class("A", "self-propelled wheelchair"), 60.0)
    assert all(way.grip is not None and way.slide is not None for one in alone for way in one.ways)
