"""The worst of many rolls: that nothing rolled is worse than what is told, and that it is somebody's."""

from dataclasses import replace
from functools import cache
from itertools import chain

import pytest
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.mechanics.rolling.results import CannotRoll, Worst
from rampdraft.mechanics.rolling.summary import PLACES, Extreme, extremes, gone, summed
from rampdraft.mechanics.rolling.words import odd_words
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class


@cache
def rolled() -> Evaluation:
    wide = replace(of_class("Wide", "pushchair"), rear_track_mm=1400.0, width_mm=1450.0)
    users = (
        of_class("Aunt", "manual wheelchair"),
        of_class("Uncle", "powered wheelchair"),
        of_class("Coal", "barrow"),
        wide,
    )
    return evaluate(with_value(timber_ramp(), "use.users", users))


@cache
def found() -> dict[str, Extreme]:
    return {one.key: one for one in extremes(rolled().design, rolled().rolling)}


def values(key: str) -> list[float]:
    """Return the figure of every roll and way, read another way."""
    told: list[Worst | None] = []
    for one in rolled().rolling:
        if isinstance(one, CannotRoll):
            continue
        name = rolled().design.use.users[one.user - 1].name
        forces = {"Aunt": ("push", "brake"), "Uncle": ("drive", "brake"), "Coal": ("push", "hold")}[name]
        for way in one.ways:
            told += {
                forces[0]: [way.push], forces[1]: [way.brake], "slowed": [way.slowed],
            }.get(key, [bump for bump in way.bumps if bump.place == key])  # fmt: skip
        if key in ("clearance", "tip_back", "tip_forward", "drop", "hanging"):
            told.append(getattr(one, key))
    return [one.value for one in told if one is not None]


@pytest.mark.parametrize("key", ["clearance", "tip_back", "tip_forward", "slowed"])
def test_nobody_has_less(key: str) -> None:
    assert found()[key].worst.value == pytest.approx(min(values(key)), rel=1e-8)


@pytest.mark.parametrize("key", ["push", "drive", "hold", "brake", *PLACES, "drop"])
def test_nobody_has_more(key: str) -> None:
    assert values(key)
    assert found()[key].worst.value == pytest.approx(max(values(key)), rel=1e-8)


def test_what_nobody_has_is_not_told() -> None:
    assert ("hanging" in found()) == bool(values("hanging"))
    assert extremes(rolled().design, [one for one in rolled().rolling if isinstance(one, CannotRoll)]) == ()


def test_an_extreme_names_the_ways_that_it_is_met_on() -> None:
    assert len(found()["clearance"].ways) == 2
    assert set(found()["clearance"].ways) == {way.way for way in found()["clearance"].roll.ways}
    (way,) = found()["push"].ways
    assert found()["push"].worst in [one.push for one in found()["push"].roll.ways if one.way == way]


def test_each_way_has_the_greatest_bump_of_each_place_over_the_states_of_the_deck() -> None:
    seen = 0
    for one in summed(rolled().rolling):
        of_way = [
            each.worst
            for each in gone(rolled().rolling)
            if (each.roll.user, each.roll.site_number, each.worst.way) == (one.user, one.site_number, one.way)
        ]
        for place in PLACES:
            met = [
                bump.value for bump in chain.from_iterable(way.bumps for way in of_way) if bump.place == place
            ]
            assert (place in one.bumps) == bool(met)
            if met:
                assert one.bumps[place][1].value == pytest.approx(max(met), rel=1e-8)
                seen += 1
    assert seen > 10


def test_who_is_too_wide_and_where_nobody_comes_is_said() -> None:
    evaluation = rolled()
    pose = replace(evaluation.sites[-1], reaches=False)
    told = odd_words(evaluation.design, evaluation.rolling, (*evaluation.sites, pose))
    assert [words for words in told if words.startswith("Wide is not rolled: its wheels are 14")]
    assert f"nobody rolls at {pose.site}, deck {pose.state}: the ramp does not reach the ground" in told
    assert "Coal: held by hands" in told
    assert odd_words(with_value(evaluation.design, "use.users", ()), (), ()) == ("the design names no user",)
