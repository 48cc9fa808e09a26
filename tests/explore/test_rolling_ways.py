"""Ways out of checks of rolling: what a search finds that rolls one user near one place is what the slow way
finds that rolls all of them over everything at each trial; and it rolls little.
"""

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.result import Check
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.least_change import Outcome, least_change, outcome_of
from rampdraft.explore.ways_out import rolled
from rampdraft.explore.ways_out.results import Value
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.mechanics.rolling import roll
from rampdraft.mechanics.rolling.results import Roll
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import changed, info_of, value_of
from rampdraft.model.sold import sold_sizes

CASES = (
    pytest.param("orchard-trolley", "joint.height_mm", 30.0, "own/roll-start", {"joint.height_mm": -1},
                 marks=pytest.mark.soak),
    pytest.param("orchard-trolley", "joint.knuckle_diameter_mm", 70.0, "own/roll-start",
                 {"joint.knuckle_diameter_mm": -1}, marks=pytest.mark.soak),
    ("barn-stage", "toe.thickness_mm", 40.0, "own/roll-start", {"toe.thickness_mm": -1}),
    pytest.param("barn-stage", "toe.length_mm", 250.0, "own/roll-clears", {"toe.length_mm": 1},
                 marks=pytest.mark.soak),
    pytest.param("reed-ferry", "toe.length_mm", 100.0, "own/roll-start", {"toe.length_mm": 1},
                 marks=pytest.mark.soak),
    pytest.param("barn-stage", "deck_hinge.below_mm", 130.0, "own/roll-start", {"deck_hinge.below_mm": -1},
                 marks=pytest.mark.soak),
)  # fmt: skip


@cache
def broken(sample: str, path: str, value: float, users: int = 1) -> Evaluation:
    """A sample with one value that is wrong, its first users and two sites alone."""
    file = next(one for one in sample_paths() if one.stem == sample)
    design = changed(load_design(file), path, value)
    few = replace(design, use=replace(design.use, users=design.use.users[:users]), sites=design.sites[:2])
    return evaluate(few, file.parent)


def check_of(base: Evaluation, id: str) -> Check:
    return next(check for check in base.rolled if check.id == id)


def slowly(base: Evaluation, id: str, path: str, sign: int) -> Value | None:
    """Search with everything rolled at each trial."""

    def trial(value: Value) -> Evaluation | None:
        try:
            return base.changed(path, value)
        except DesignError:
            return None

    def judge(value: Value) -> Outcome | None:
        one = trial(value)
        return None if one is None else outcome_of(check_of(one, id))

    info, check = info_of(path), check_of(base, id)
    assert info is not None
    start = value_of(base.design, path)
    return least_change(start, sign, info, check, judge, lambda value: trial(value) is not None, bends=True)


def first_sold(design: Design, path: str, value: float, sign: int) -> float:
    """The first size that is sold from a value on; the value where it is cut to any size."""
    sizes = sold_sizes(design, path) or (value,)
    return min((size for size in sizes if (size - value) * sign >= 0), key=lambda size: abs(size - value))


@pytest.mark.parametrize(("sample", "path", "value", "id", "cures"), CASES)
def test_the_quick_search_finds_what_the_slow_one_finds(
    sample: str, path: str, value: float, id: str, cures: dict[str, int]
) -> None:
    base = broken(sample, path, value)
    assert check_of(base, id).fails
    found = {way.path: way.after for way in ways_out(base, id)[id]}
    for cure, sign in cures.items():
        slow = slowly(base, id, cure, sign)
        assert isinstance(slow, float)
        assert found[cure] == first_sold(base.design, cure, slow, sign), cure


def counted(monkeypatch: pytest.MonkeyPatch) -> list[tuple[float, float]]:
    """Note how far each trial rolls."""
    rolls: list[tuple[float, float]] = []
    really: Callable[..., Roll] = rolled.roll_anywhere

    def noted(*given: object, **more: object) -> Roll:
        found = really(*given, **more)
        rolls.append((float(found.front_mm.min()), float(found.front_mm.max())))
        return found

    monkeypatch.setattr(rolled, "roll_anywhere", noted)
    return rolls


def test_a_trial_rolls_one_user_near_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    base = broken("barn-stage", "toe.thickness_mm", 40.0)
    check = check_of(base, "own/roll-start")
    assert isinstance(check.found, Rolled)
    trial, rolls = base.changed("toe.thickness_mm", 30.0), counted(monkeypatch)
    near = rolled.RolledAgain(base, check).alone(trial, check, near=True)
    ((first, last),) = rolls
    assert last - first <= 2 * rolled.NEAR_MM + 4
    assert first <= check.found.worst.front_mm <= last
    assert "rolling" not in trial.worked
    told = check.found
    (same,) = (
        one
        for one in trial.rolling
        if isinstance(one, Roll)
        and (one.user, one.site_number, one.state, one.facing)
        == (told.user, told.site_number, told.state, told.facing)
    )
    whole = rolled.check_of(trial, same, check)
    assert near is not None
    assert whole is not None
    assert near.value == pytest.approx(whole.value, rel=1e-9)


def test_who_meets_the_same_is_not_rolled_again(monkeypatch: pytest.MonkeyPatch) -> None:
    """Higher upstands and a heavier carrier change nothing that wheels meet on a deck that lies still; a
    joint that is higher does. The checks are what a fresh evaluation says each time.
    """
    base = broken("barn-stage", "toe.thickness_mm", 40.0)
    again = rolled.AllRolled(base)
    again.checks(base.changed("joint.height_mm", base.design.joint.height_mm + 2))
    over: list[str] = []
    really = roll.rolled

    def counted(*given: Any, **more: Any) -> roll.Part:
        over.append(given[2].state)
        return really(*given, **more)

    monkeypatch.setattr(roll, "rolled", counted)
    for path, value, rolls in (
        ("inner_leaf.upstand_height_mm", base.design.inner_leaf.upstand_height_mm + 10, False),
        ("carrier_body.ballast_kg", base.design.carrier_body.ballast_kg + 1, False),
        ("joint.height_mm", base.design.joint.height_mm + 1, True),
    ):
        over.clear()
        found = again.checks(base.changed(path, value))
        assert ("empty" in over) is rolls, path
        assert found == base.following(changed(base.design, path, value)).rolled, path


def test_whoever_fails_besides_is_taken_up(monkeypatch: pytest.MonkeyPatch) -> None:
    """A toe too thick and a bridge plate too thick, both a hard push: a thinner toe lets the worst one pass,
    and the one at the deck edge, which it does nothing for, is found before it is offered.
    """
    base = broken("barn-stage", "toe.thickness_mm", 40.0)
    both = base.changed("bridge.thickness_mm", 30.0)
    taken_up: list[Check | None] = []
    really = rolled.RolledAgain.beyond

    def beyond(again: rolled.RolledAgain, trial: Evaluation) -> Check | None:
        taken_up.append(really(again, trial))
        return taken_up[-1]

    monkeypatch.setattr(rolled.RolledAgain, "beyond", beyond)
    id = "own/roll-start"
    assert "toe.thickness_mm" in {way.path for way in ways_out(base, id)[id]}
    assert not any(taken_up)
    assert ways_out(both, id)[id] == ()
    assert any(one is not None and one.about.part == "edge" for one in taken_up)


@pytest.mark.parametrize(
    ("sample", "kind"),
    [("barn-stage", "flap"), pytest.param("reed-ferry", "taper", marks=pytest.mark.soak)],
)
def test_a_wheel_stopped_at_a_plain_toe_gets_one_of_another_kind_as_long_as_it_must_be(
    sample: str, kind: str
) -> None:
    """A wheel of 40 mm before rails of 60 mm and more, and a toe length of 60 mm that nothing had: another
    kind of toe alone is too short to work, a length alone does nothing.
    """
    whole = broken(sample, "toe.length_mm", 60.0).design
    user = replace(whole.use.users[0], front_radius_mm=40.0)
    plain = replace(
        whole,
        toe=replace(whole.toe, kind="plain"),
        use=replace(whole.use, users=(user,)),
        sites=whole.sites[:1],
    )
    base = evaluate(plain, broken(sample, "toe.length_mm", 60.0).folder)
    assert check_of(base, "own/roll-climbs").fails
    way = ways_out(base, "own/roll-climbs")["own/roll-climbs"][0]
    assert {one.path: one.after for one in way.changes}.keys() == {"toe.length_mm", "toe.kind"}
    cured = base.following(way.taken(plain))
    assert (cured.design.toe.kind, way.breaks) == (kind, False)
    assert not check_of(cured, "own/roll-climbs").fails
    failing = {check.id for check in base.all_checks if check.fails}
    assert {check.id for check in cured.all_checks if check.fails} <= failing


@pytest.mark.soak
def test_what_only_the_other_toe_brings_is_told_where_it_fails() -> None:
    """A flap of 2 mm is as long as it must be, and too weak: a check that the plain toe has not."""
    whole = broken("barn-stage", "toe.length_mm", 60.0)
    user = replace(whole.design.use.users[0], front_radius_mm=40.0)
    design = replace(
        whole.design,
        toe=replace(whole.design.toe, kind="plain", thickness_mm=2.0),
        use=replace(whole.design.use, users=(user,)),
        sites=whole.design.sites[:1],
    )
    base = evaluate(design, whole.folder)
    found = ways_out(base, "own/roll-climbs")["own/roll-climbs"]
    flap = next(
        one for one in found if ("toe.kind", "flap") in {(each.path, each.after) for each in one.changes}
    )
    assert [one.after.id for one in flap.worsens if one.breaks and one.after] == ["own/strength/flap"]
