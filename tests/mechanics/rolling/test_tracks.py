"""Off the middle: what is told is the worst of the outermost tracks, each rolled over its whole way apart."""

from dataclasses import replace

import numpy as np
import pytest
from written_starter import all_given

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.about import about_to_roll
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.mechanics.rolling.roll import roll, roll_anywhere, room_mm
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.rolling.tracks import differs_mm, worst_of_all
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class, shape_of


def sample(name: str) -> Evaluation:
    path = next(one for one in sample_paths() if one.stem == name)
    return evaluate(load_design(path), path.parent)


@pytest.fixture(scope="module")
def trailer() -> Evaluation:
    return sample("library-trailer")


def surfaces_of(evaluation: Evaluation, at: int) -> Surfaces:
    return Surfaces(evaluation.design, evaluation.assembly, evaluation.sites[at])


def out_mm(evaluation: Evaluation, user: int) -> float:
    return (room_mm(evaluation.design) - shape_of(evaluation.design.use.users[user - 1]).widest_mm) / 2


def figures(one: Roll) -> dict[str, float]:
    found = {f"low {low.part}": low.value for low in one.lows}
    for way in one.ways:
        for name in ("push", "brake", "bump", "slowed", "grip"):
            worst = getattr(way, name)
            found |= {} if worst is None else {f"{way.way} {name}": worst.value}
    for name in ("tip_back", "tip_forward", "drop"):
        worst = getattr(one, name)
        found |= {} if worst is None else {name: worst.value}
    return found


@pytest.mark.parametrize("at", [3, 6])
@pytest.mark.parametrize("facing", ["deck", "away"])
def test_part_of_the_way_and_one_side_hide_nothing(trailer: Evaluation, at: int, facing) -> None:
    """Ground that slopes across by 1 and by 2 per cent, under a ramp that is alike on both sides."""
    surfaces, pose = surfaces_of(trailer, at), trailer.sites[at]
    for user in (1, 2, 4):
        out = out_mm(trailer, user)
        whole = [roll(trailer.design, user, pose, surfaces, facing, across) for across in (0.0, out, -out)]
        told, every = (
            figures(one)
            for one in (roll_anywhere(trailer.design, user, pose, surfaces, facing), worst_of_all(whole))
        )
        assert told.keys() == every.keys()
        for name, value in every.items():
            if name.startswith("low") and value > 25.0:
                assert told[name] == pytest.approx(value, abs=2 * 0.02 * out)  # the upper side is left out
            else:
                assert told[name] == pytest.approx(value, rel=2e-3, abs=0.02), name


@pytest.mark.parametrize(
    ("name", "user", "facing"),
    [("too-steep", 1, "deck"), ("orchard-trolley", 1, "away"), ("barn-stage", 2, "deck")],
)
def test_no_track_between_those_looked_at_is_worse(name: str, user: int, facing) -> None:
    """Every 7 mm across, each rolled over its whole way: nowhere is anything worse than what is told, and it
    is as bad somewhere, there where it is said to be.
    """
    evaluation = sample(name)
    surfaces, pose, design = surfaces_of(evaluation, 0), evaluation.sites[0], evaluation.design
    assert not design.sites[0].cross_slope_percent
    told = figures(roll_anywhere(design, user, pose, surfaces, facing))
    anywhere = roll_anywhere(design, user, pose, surfaces, facing)
    out = out_mm(evaluation, user)
    across = [*np.arange(-out, out, 7.0).tolist(), out]
    said = {low.across_mm for low in anywhere.lows}
    every = worst_of_all([roll(design, user, pose, surfaces, facing, at) for at in (*across, *said)])
    for what, value in figures(every).items():
        assert told[what] == pytest.approx(value, rel=2e-3, abs=0.02), what
    for low in anywhere.lows:
        there = roll(design, user, pose, surfaces, facing, low.across_mm)
        (same,) = (one.value for one in there.lows if one.part == low.part)
        assert low.value == pytest.approx(same, abs=0.02)


def test_on_level_ground_the_middle_speaks_for_all_who_meet_the_same(trailer: Evaluation) -> None:
    surfaces = surfaces_of(trailer, 0)
    assert surfaces.symmetric
    for user in (1, 2, 3):
        shape = shape_of(trailer.design.use.users[user - 1])
        middle, side = (
            about_to_roll(shape, surfaces, "deck", across) for across in (0.0, out_mm(trailer, user))
        )
        assert differs_mm(middle, side) is None


def test_a_wheel_off_the_rails_falls_into_a_free_end_that_the_middle_rolls_over(trailer: Evaluation) -> None:
    """Rails 137 mm to both sides carry the middle's wheels over a free end of 117 mm; off them is nothing."""
    user = replace(of_class("A", "powered wheelchair"), front_track_mm=300.0, rear_track_mm=300.0)
    given = with_value(all_given(trailer.design), "inner_leaf.slat_last_gap_mm", 110)
    design = with_value(given, "use.users", (user,))
    evaluation = trailer.following(design)
    surfaces, pose = surfaces_of(evaluation, 0), evaluation.sites[0]
    middle = roll(evaluation.design, 1, pose, surfaces, "deck")
    anywhere = roll_anywhere(evaluation.design, 1, pose, surfaces, "deck")
    bumps = [next(bump for bump in one.ways[0].bumps if bump.place == "joint") for one in (middle, anywhere)]
    assert bumps[1].value > 1.2 * bumps[0].value
    assert bumps[0].across_mm == 0.0
    beside = roll(evaluation.design, 1, pose, surfaces, "deck", bumps[1].across_mm)
    (same,) = (one.value for one in beside.ways[0].bumps if one.place == "joint")
    assert bumps[1].value == pytest.approx(same)
    assert (anywhere.front_mm == middle.front_mm).all()  # the charts stay those of the middle
    check = {one.id: one for one in evaluation.rolled}["own/roll-climbs"]
    assert any("its middle" in line for line in check.working)


def test_a_ramp_that_is_not_alike_on_both_sides_is_known() -> None:
    assert not surfaces_of(sample("barn-stage"), 0).symmetric
