"""Checks of two ramps side by side: what came out otherwise, the worse first."""

from dataclasses import replace

from rampdraft.checks.compared import changed_checks
from rampdraft.checks.result import Check, Demand, Measured, compose
from rampdraft.words.prose import Prose


def check(id: str, value: float, limit: float = 100.0) -> Check:
    demand = Demand.own(id, id, "at most", "mm", limit, f"{limit:g} mm")
    found = Measured(key="", subject="", value=value, working=Prose(lambda: ()))
    return compose(demand, found)


def turns(before: tuple[Check, ...], after: tuple[Check, ...]) -> list[tuple[str, str]]:
    return [(one.check.title, one.turn) for one in changed_checks(before, after)]


def test_what_is_alike_is_not_told():
    assert changed_checks((check("a", 50), check("b", 120)), (check("b", 120), check("a", 50))) == ()


def test_what_fails_now_stands_before_what_passes_now_and_figures_come_last():
    before = check("mended", 120), check("nearer", 40), check("broken", 50), check("farther", 60)
    after = check("farther", 50), check("nearer", 60), check("mended", 80), check("broken", 130)
    assert turns(before, after) == [
        ("broken", "worse"), ("mended", "better"), ("nearer", "worse"), ("farther", "better")
    ]  # fmt: skip


def test_close_is_worse_than_passing_and_better_than_failing():
    passes, close, fails = check("a", 50), check("a", 98), check("a", 120)
    assert turns((passes,), (close,)) == [("a", "worse")]
    assert turns((fails,), (close,)) == [("a", "better")]


def test_checks_that_only_one_of_them_has():
    assert turns((check("old", 50),), (check("new", 50),)) == [("new", "new"), ("old", "gone")]


def test_another_limit_is_told_too():
    (one,) = changed_checks((check("a", 50, 100),), (check("a", 50, 80),))
    assert one.turn == "worse"
    assert not one.verdict_changed
    assert replace(one, after=check("a", 90, 80)).verdict_changed
