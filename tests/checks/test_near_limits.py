"""Limits of the program's own that no other test tries from both sides: each at 0.99 and 1.01, and how far a
real ramp is from them does not change with the limit.
"""

import math
from functools import cache

import pytest

from rampdraft.checks.result import Check, Result
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.strength.bracket import least_edge_mm

NEAR = ((0.99, False), (1.0, False), (1.01, True))
"""What is used of the limit, and whether that is too much."""
TIRING = {
    "library-trailer": (
        "inner-rails", "outer-rails", "inner-slats", "outer-slats", "inner-upstands", "outer-upstands",
        "joint-knuckles", "stop",
    ),
    "orchard-trolley": ("deck-knuckles",),
}  # fmt: skip


@cache
def sample(name: str) -> Evaluation:
    path = next(path for path in sample_paths() if path.stem == name)
    return evaluate(load_design(path), path.parent)


def of(stage: str, id: str, there: Evaluation) -> Check:
    """Return a check of one stage; no other stage is worked out for it."""
    return next(check for check in getattr(there, stage) if check.id == id)


def value_of(check: Check) -> float:
    assert check.value is not None
    return check.value


def assert_near(check: Check, used: float, beyond: bool, *, advice: bool = False) -> None:
    assert check.ratio == pytest.approx(used, rel=1e-6)
    assert check.result is ((Result.ADVICE if advice else Result.FAILS) if beyond else Result.CLOSE)


@pytest.mark.parametrize(("used", "beyond"), NEAR)
@pytest.mark.parametrize(("name", "part"), [(name, part) for name, parts in TIRING.items() for part in parts])
def test_crossings_meant_are_all_that_it_bears(name: str, part: str, used: float, beyond: bool) -> None:
    id, before = f"own/crossings/{part}", sample(name)
    bears = value_of(of("tiring", id, before))
    check = of("tiring", id, before.changed("use.crossings", bears * used))
    assert check.value == pytest.approx(bears), "what it bears does not hang on what is meant"
    assert_near(check, used, beyond)


@pytest.mark.parametrize(("used", "beyond"), NEAR)
@pytest.mark.parametrize("part", ["joint", "toe"])
def test_what_lifts_the_empty_ramp_is_as_much_as_demanded(part: str, used: float, beyond: bool) -> None:
    id, before = f"own/stays-down/{part}", sample("library-trailer")
    lifts = value_of(of("stays_down", id, before))
    check = of("stays_down", id, before.changed("hold_down.demanded_n", lifts * used))
    assert check.value == pytest.approx(lifts)
    assert_near(check, used, beyond)


@pytest.mark.parametrize(("used", "beyond"), NEAR)
def test_a_crowd_is_as_heavy_as_the_rated_load(used: float, beyond: bool) -> None:
    before = sample("orchard-trolley")
    crowd = value_of(of("crowded", "own/crowd", before))
    check = of("crowded", "own/crowd", before.changed("use.rated_load_kg", crowd / used))
    assert_near(check, used, beyond, advice=True)


@pytest.mark.parametrize(("used", "beyond"), NEAR)
def test_hands_lift_as_much_as_the_guideline_says(used: float, beyond: bool) -> None:
    before = sample("too-steep")
    check, person = of("handled", "own/hands-guideline", before), before.design.hands.person_n
    there = before.changed("hands.person_n", person * value_of(check) / 0.5 / used)
    assert_near(of("handled", "own/hands-guideline", there), used, beyond, advice=True)


@pytest.mark.parametrize(("used", "beyond"), NEAR)
def test_a_step_asks_for_as_much_as_the_wheels_load(used: float, beyond: bool) -> None:
    """(2 r h - h2) / (r - h)2 = s2, by moments about the step's edge, solved for r / h: at s = 1 a wheel of
    2 + root 2 times the step.
    """
    before = sample("library-trailer").changed("use.users[1].front_radius_mm", 40.0)
    step = 40.0 / over_step(value_of(of("bumpy", "own/bump", before)))
    there = before.changed("use.users[1].front_radius_mm", step * over_step(used))
    assert_near(of("bumpy", "own/bump", there), used, beyond, advice=True)


def over_step(share: float) -> float:
    s2 = share * share
    return (s2 + 1 + math.sqrt(s2 + 1)) / s2


@pytest.mark.parametrize(("used", "beyond"), NEAR)
def test_a_bolt_is_1_2_of_its_hole_from_the_edge(used: float, beyond: bool) -> None:
    """EN 1993-1-8, table 3.3: e >= 1.2 d0; a bolt M10 goes through a hole of 11 (EN 1090-2; both from
    memory).
    """
    before = sample("too-steep")
    assert least_edge_mm(before.design.joining) == pytest.approx(1.2 * 11)
    check = of("bolted", "own/bolt-edge", before.changed("joining.bolt_edge_mm", 1.2 * 11 / used))
    assert_near(check, used, beyond)
