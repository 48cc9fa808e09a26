"""Checks of rolling: each limit at 0.99, 1 and 1.01, whom they are of, and the wrong case of each."""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from rampdraft.checks.demands.rolling import (
    CLOSE_DEG,
    CLOSE_HEAD_MM,
    CLOSE_MM,
    GIVES_MM,
    KEEP_N,
    SINKS_MM,
    START_N,
    TWICE,
    pushing,
    rolling_checks,
    width_checks,
)
from rampdraft.checks.quantities.table import left_open
from rampdraft.checks.result import Check, Result, Subjects
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.ways_out.candidates import candidates_of
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling.grip import RUN_UP_M_S
from rampdraft.mechanics.rolling.lasting import STRETCH_MM, lasting
from rampdraft.mechanics.rolling.results import Roll, Worst
from rampdraft.mechanics.rolling.roll import roll as roll_over
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.model.rolling_shape import of_class
from rampdraft.units import Array

MANUAL, POWERED, PUSHCHAIR = 1, 2, 3


@cache
def sample(name: str) -> Evaluation:
    path = next(one for one in sample_paths() if one.stem == name)
    return evaluate(load_design(path), path.parent)


@cache
def rolls() -> tuple[Roll, ...]:
    return tuple(one for one in sample("barn-stage").rolling if isinstance(one, Roll))


def judged(found: tuple[Roll, ...], design: Design | None = None) -> dict[str, Check]:
    """Return the checks of some rolls by the last word of their id."""
    subjects = Subjects(design or sample("barn-stage").design, {"rolling": found})
    return {check.id.removeprefix("own/roll-"): check for check in rolling_checks(subjects)}


def of(user: int, change: Callable[[Roll], Roll]) -> tuple[Roll, ...]:
    """Return the rolls with those of one user at the second site changed."""
    return tuple(change(one) if (one.user, one.site_number) == (user, 2) else one for one in rolls())


def valued(worst: Worst, value: float) -> Worst:
    return replace(worst, value=value)


def low(part: str, value: float) -> Callable[[Roll], Roll]:
    return lambda roll: replace(
        roll, lows=tuple(valued(one, value) if one.part == part else one for one in roll.lows)
    )


def pushed(newton: float) -> Callable[[Roll], Roll]:
    def change(roll: Roll) -> Roll:
        one, other = roll.ways
        return replace(roll, ways=(replace(one, push=valued(one.push, newton)), other))

    return change


@pytest.mark.parametrize(
    ("value", "result"),
    [
        (-0.01, Result.FAILS),
        (0.0, Result.CLOSE),
        (0.01, Result.CLOSE),
        (0.99 * CLOSE_MM, Result.CLOSE),
        (CLOSE_MM, Result.PASSES),
        (1.01 * CLOSE_MM, Result.PASSES),
    ],
)
@pytest.mark.parametrize("part", ["footrest", "underside"])
def test_what_hangs_low_is_above_what_it_passes(part: str, value: float, result: Result) -> None:
    check = judged(of(MANUAL, low(part, value)))["clears"]
    assert (check.result, check.value) == (result, value)
    assert check.about.user == MANUAL
    assert check.site_number == 2
    assert part in check.value_text


@pytest.mark.parametrize(("value", "result"), [(-0.01, Result.ADVICE), (0.01, Result.PASSES)])
def test_anti_tip_wheels_that_touch_are_advice_and_hide_nothing(value: float, result: Result) -> None:
    found = judged(of(POWERED, low("anti-tip wheels", value)))
    assert (found["anti-tip"].result, found["anti-tip"].about.user) == (result, POWERED)
    assert found["clears"].result is not Result.FAILS
    both = of(POWERED, lambda roll: low("footrest", -1.0)(low("anti-tip wheels", -20.0)(roll)))
    assert (judged(both)["clears"].value, judged(both)["anti-tip"].value) == (-1.0, -20.0)


def test_a_wheel_that_nothing_lifts_fails() -> None:
    def stopped(roll: Roll) -> Roll:
        one, other = roll.ways
        assert one.bump is not None
        return replace(roll, ways=(replace(one, bump=valued(one.bump, math.inf)), other))

    assert judged(rolls())["climbs"].result is Result.PASSES
    check = judged(of(POWERED, stopped))["climbs"]
    assert (check.result, check.about.user) == (Result.FAILS, POWERED)
    assert "radius" in check.why
    assert any("stopped" in line for line in check.working)


def gripping(field: str, value: float) -> Callable[[Roll], Roll]:
    def change(roll: Roll) -> Roll:
        one, other = roll.ways
        worst = getattr(one, field)
        return replace(roll, ways=(replace(one, **{field: replace(worst, value=value, place="toe")}), other))

    return change


@pytest.mark.parametrize(("field", "name"), [("run_up", "drives"), ("slide", "slides")])
@pytest.mark.parametrize(
    ("share", "result"),
    [(0.94, Result.PASSES), (0.99, Result.CLOSE), (1.0, Result.CLOSE), (1.01, Result.FAILS)],
)
def test_a_run_of_walking_pace_is_let_pass_and_no_more(
    field: str, name: str, share: float, result: Result
) -> None:
    check = judged(of(POWERED, gripping(field, share * RUN_UP_M_S)))[name]
    assert (check.result, check.limit, check.about.user) == (result, RUN_UP_M_S, POWERED)
    assert "at the toe" in check.value_text


def test_where_the_grip_is_enough_no_place_is_told_and_a_start_is_advice() -> None:
    alone = tuple(
        gripping("slide", 0.0)(gripping("run_up", 0.0)(one)) for one in rolls() if one.user == POWERED
    )
    still = tuple(replace(one, ways=(one.ways[0], one.ways[0])) for one in alone)
    check = judged(still)["drives"]
    assert (check.result, check.value, check.value_text) == (Result.PASSES, 0.0, "by their grip alone")
    for share, result in ((0.94, Result.PASSES), (0.99, Result.CLOSE), (1.01, Result.ADVICE)):
        found = tuple(gripping("grip", share)(one) for one in still)
        assert judged(tuple(replace(one, ways=one.ways[:1] * 2) for one in found))["spins"].result is result


def test_a_chair_on_small_wheels_or_on_bare_wet_metal_does_not_come_over() -> None:
    """Front wheels of 30 mm need three times their load at the trailer's toe; the wrong case of old."""
    evaluation = sample("library-trailer")
    design = evaluation.design
    user = design.use.users[POWERED - 1]
    small = with_value(design, "use.users", (replace(user, front_radius_mm=30.0),))
    bare = with_value(with_value(design, "use.users", (user,)), "use.wet_grip", 20.0)
    for changed, failing in ((small, {"drives"}), (bare, {"drives", "slides"})):
        found = {one.id: one for one in evaluation.following(changed).rolled}
        assert failing <= {id.removeprefix("own/roll-") for id, one in found.items() if one.fails}
        assert found["own/roll-climbs"].result is Result.PASSES
        assert "+use.wet_grip" in candidates_of(found["own/roll-drives"], changed)


def test_a_motor_is_judged_where_its_push_is_told() -> None:
    design = sample("barn-stage").design
    own = tuple(one for one in rolls() if one.user == POWERED)
    lasts = max(lasting(one, way).value for one in own for way in one.ways)
    for share, result in ((1.07, Result.PASSES), (1.01, Result.CLOSE), (0.99, Result.FAILS)):
        told = with_value(design, "use.users[2].drive_n", share * lasts)
        check = judged(own, told)["motor/user-2"]
        assert (check.result, check.limit) == (result, share * lasts)
    assert judged(own)["motor/user-2"].result is Result.UNJUDGED


@pytest.mark.parametrize(
    ("share", "fails", "guideline"),
    [
        (0.495, Result.PASSES, Result.CLOSE),
        (0.5, Result.PASSES, Result.CLOSE),
        (0.505, Result.PASSES, Result.ADVICE),
        (0.99, Result.CLOSE, Result.ADVICE),
        (1.0, Result.CLOSE, Result.ADVICE),
        (1.01, Result.FAILS, Result.ADVICE),
    ],
)
def test_the_guideline_is_advice_and_twice_of_it_fails(
    share: float, fails: Result, guideline: Result
) -> None:
    """Two people at the pushchair; the readers' own pushes are left out."""
    only = tuple(one for one in of(PUSHCHAIR, pushed(share * 2 * TWICE * START_N)) if one.user == PUSHCHAIR)
    found = judged(only)
    assert found["start"].limit == 2 * TWICE * START_N
    assert (found["start"].result, found["start-guideline"].result) == (fails, guideline)


def test_who_is_pushed_how_many_push_and_who_has_a_motor() -> None:
    found = judged(of(POWERED, pushed(1e6)))
    assert found["start"].about.user == MANUAL
    assert found["motor/user-2"].result is Result.UNJUDGED
    assert {one for one in found if one.startswith("motor")} == {"motor/user-2"}
    assert not left_open(tuple(found.values()))
    design = sample("barn-stage").design
    own = with_value(design, "use.users[2]", of_class("Ann", "self-propelled wheelchair"))
    counts = [(one, pushing(replace_people(own, one), user)) for one in (1, 2, 4) for user in (1, 2)]
    assert counts == [(1, 1), (1, 1), (2, 2), (2, 1), (4, 2), (4, 1)]


def replace_people(design: Design, count: int) -> Design:
    return with_value(design, "hands.people", count)


def on_grade(roll: Roll, grade: Array, resists_n: float = 0.0) -> Roll:
    """Return a roll over made-up grades, rise over going towards the deck, at each place."""
    step = np.diff(roll.middle_mm) * (grade[1:] + grade[:-1]) / 2
    lift = roll.weight_n * grade
    return replace(
        roll,
        climbed_mm=-np.concatenate(([0.0], np.cumsum(step))),
        forwards_n=resists_n + lift,
        backwards_n=resists_n - lift,
    )


def test_what_lasts_is_the_mean_over_half_a_metre() -> None:
    roll = rolls()[0]
    up, down = roll.ways
    assert (up.way, down.way) == ("up forwards", "down backwards")
    count = round(STRETCH_MM / roll.step_mm)
    grade, resists = 0.0 * roll.front_mm, 12.0
    grade[400 : 401 + count] = 0.2
    changed = on_grade(roll, grade, resists)
    assert lasting(changed, up).value == pytest.approx(0.2 * roll.weight_n + resists)
    assert lasting(changed, down).value == pytest.approx(0.2 * roll.weight_n - resists)  # held back
    for way in (up, down):
        middle = roll.front_mm[400 : 401 + count].mean()
        assert lasting(changed, way).front_mm == pytest.approx(middle, abs=2.1)
    limit = 2 * TWICE * KEEP_N
    for share, result in ((0.94, Result.PASSES), (0.99, Result.CLOSE), (1.01, Result.FAILS)):
        even = on_grade(roll, 0 * grade + share * limit / roll.weight_n)
        assert judged((even,))["keep"].result is result


def test_a_kink_counts_by_what_it_lifts_wherever_it_is_looked_at() -> None:
    """A force that is great at one place, and nothing on the way there and on, lifts nobody."""
    roll = rolls()[0]
    for way in roll.ways:
        said = lasting(roll, way)
        at = int(np.abs(roll.front_mm - said.front_mm).argmin())
        force, other = roll.forwards_n.copy(), roll.backwards_n.copy()
        force[at], other[at] = force[at] + 8000.0, other[at] - 8000.0
        assert lasting(replace(roll, forwards_n=force, backwards_n=other), way).value == said.value


def test_what_lasts_grows_smoothly_with_a_leaf() -> None:
    """A kink lies at an even place or does not, a millimetre decides: the mean knows nothing of that."""
    steep = sample("too-steep")
    for state, facing in (("empty", "deck"), ("loaded", "away")):
        told: list[list[float]] = []
        for length in range(2336, 2348):
            one = steep.following(with_value(steep.design, "inner_leaf.length_mm", float(length)))
            pose = one.site_pose(1, state)
            surfaces = Surfaces(one.design, one.assembly, pose)
            found = roll_over(one.design, 1, pose, surfaces, facing, sure=False)
            told.append([lasting(found, way).value for way in found.ways])
        jumps = np.abs(np.diff(np.log(told), axis=0))
        assert jumps.max() < 0.01, (state, facing)


@pytest.mark.parametrize("name", ["barn-stage", "library-trailer"])
def test_what_lasts_is_the_mean_of_a_finer_roll(name: str) -> None:
    """All places 0.1 mm apart and those of every kink: the force itself, added up."""
    evaluation = sample(name)
    pose = evaluation.site_pose(1, "empty")
    surfaces = Surfaces(evaluation.design, evaluation.assembly, pose)
    for facing in ("deck", "away"):
        said = roll_over(evaluation.design, 1, pose, surfaces, facing)
        fine = roll_over(evaluation.design, 1, pose, surfaces, facing, step_mm=0.1, sure=False)
        for way, force in zip(said.ways, (fine.forwards_n, fine.backwards_n), strict=True):
            mean = lasting(said, way)
            there = np.abs(fine.front_mm - mean.front_mm) <= STRETCH_MM / 2 + 0.01
            x, asked = fine.middle_mm[there], force[there]
            work = float(np.sum((asked[1:] + asked[:-1]) / 2 * np.diff(x)))
            assert mean.value == pytest.approx(abs(work) / np.ptp(x), rel=0.01)


def test_a_leaf_of_one_slope_asks_what_the_textbook_says() -> None:
    """W (tan a + c), level, over bumps of slats that come to nothing over half a metre."""
    evaluation, roll = sample("barn-stage"), rolls()[0]
    user, pose = evaluation.design.use.users[MANUAL - 1], evaluation.site_pose(1, "empty")
    along = (roll.front_mm > 600) & (roll.front_mm < 1500)
    names = ("front_mm", "forwards_n", "backwards_n", "climbed_mm", "middle_mm")
    middle = replace(roll, **{name: getattr(roll, name)[along] for name in names})
    asked = 9.80665 * user.mass_kg * (pose.inner.ratio + 0.02)
    assert lasting(middle, roll.ways[0]).value == pytest.approx(asked, rel=0.03)


@pytest.mark.parametrize(
    ("degrees", "result"),
    [
        (-0.01, "beyond"),
        (0.01, Result.CLOSE),
        (0.99 * CLOSE_DEG, Result.CLOSE),
        (1.01 * CLOSE_DEG, Result.PASSES),
    ],
)
@pytest.mark.parametrize("which", ["tip_back", "tip_forward"])
def test_who_tips_fails_alone_and_is_advice_with_hands_at_it(
    which: str, degrees: float, result: Result | str
) -> None:
    def leaning(roll: Roll) -> Roll:
        return replace(roll, **{which: valued(getattr(roll, which), math.radians(degrees))})

    for user, name, beyond in (
        (POWERED, "tips", Result.FAILS),
        (PUSHCHAIR, "tips-held", Result.ADVICE),
    ):
        check = judged(of(user, leaning))[name]
        assert check.value == pytest.approx(degrees)
        assert (check.result, check.about.user) == (beyond if result == "beyond" else result, user)


@pytest.mark.parametrize(
    ("value", "result"),
    [
        (-0.1, Result.FAILS),
        (0.99 * CLOSE_HEAD_MM, Result.CLOSE),
        (1.01 * CLOSE_HEAD_MM, Result.PASSES),
    ],
)
def test_heads_come_in_under_what_hangs_above(value: float, result: Result) -> None:
    assert "head" not in judged(rolls())
    head = valued(rolls()[0].clearance, value)
    check = judged(of(MANUAL, lambda roll: replace(roll, head=head)))["head"]
    assert (check.result, check.value, check.about.user) == (result, value, MANUAL)


@pytest.mark.parametrize(
    ("name", "field", "most"), [("sinks", "drop", SINKS_MM), ("hangs", "hanging", GIVES_MM)]
)
def test_wheels_that_sink_or_hang_are_advice(name: str, field: str, most: float) -> None:
    worst = rolls()[0].clearance
    for share, result in ((0.94, Result.PASSES), (0.99, Result.CLOSE), (1.01, Result.ADVICE)):
        found = judged(
            of(MANUAL, lambda roll, share=share: replace(roll, **{field: valued(worst, share * most)}))
        )
        assert found[name].result is result


def test_wheels_stand_between_the_guards() -> None:
    design = sample("barn-stage").design
    room = 992.0
    for width, result in ((0.94 * room, Result.PASSES), (room, Result.CLOSE), (1.01 * room, Result.FAILS)):
        user = replace(design.use.users[0], rear_track_mm=width - design.use.users[0].tyre_width_mm)
        (check,) = width_checks(Subjects(with_value(design, "use.users[1]", user), {}))
        assert (check.result, check.limit, check.about.user) == (result, room, MANUAL)


def test_nobody_who_rolls_is_not_judged_and_no_user_is_not_asked() -> None:
    (check,) = judged(()).values()
    assert check.result is Result.UNJUDGED
    design = sample("barn-stage").design
    assert not judged((), replace(design, use=replace(design.use, users=())))


@pytest.mark.parametrize("name", ["barn-stage", "orchard-trolley", "reed-ferry", "too-steep"])
def test_samples_are_rolled_over_but_the_one_that_is_meant_to_fail(name: str) -> None:
    found = {check.id for check in sample(name).all_checks if check.fails and "roll-" in check.id}
    steep = {"own/roll-clears", "own/roll-start", "own/roll-keep"}
    assert found == (steep if name == "too-steep" else set())


def test_working_names_the_worst_of_each_user() -> None:
    for check in sample("barn-stage").rolled:
        for user in sample("barn-stage").design.use.users:
            alone = check.id.startswith("own/roll-motor") or check.id in (
                "own/roll-anti-tip", "own/roll-tips", "own/roll-tips-held", "own/roll-start",
                "own/roll-start-guideline", "own/roll-keep", "own/roll-keep-guideline",
                "own/roll-drives", "own/roll-spins", "own/roll-slides",
            )  # fmt: skip
            assert alone or any(line.startswith(user.name) for line in check.working), check.id
