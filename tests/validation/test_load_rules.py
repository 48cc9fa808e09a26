"""Loads that published rules demand: each is put on the ramp as the source gives it, and judged at 0.99, 1
and 1.01 of its limit.

Sources: 49 CFR 38.23(c)(1); 36 CFR 1192 App. A T302, T402; arretes of 23 Aug 2013 (2-6.1), 22 Jan 2015 (annex
V) and 18 Jan 2008 (3.1); Singapore Road Traffic rules 97E.
"""

from dataclasses import replace

import pytest
from ramps import base_design, checks, rule_set, with_leaves

from rampdraft.checks.result import CLOSE_FROM, Status
from rampdraft.checks.rules.rule import RuleLoad, RuleSet, all_loads
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.loading.loads import Footprint, Load, PerMetre, Rolling, is_of
from rampdraft.model.fields.paths import with_value
from rampdraft.strength.utilisation import ULTIMATE, Utilisation
from rampdraft.units import G_M_S2

LOADS = (
    "us-vehicle/design-load",
    "us-vehicle-2016/design-load",
    "france-vehicle/load",
    "france-tourist-train/load",
    "france-guided-transport/point-load",
    "france-guided-transport/line-load",
    "singapore-bus/proof-load",
)


def load(key: str) -> Load:
    return next(
        one
        for one in all_loads(base_design(), (rule_set(key.split("/", maxsplit=1)[0]),), (0.0,))
        if is_of(one, key)
    )


def test_600_pounds_stand_on_26_by_26_inches_in_the_middle() -> None:
    """49 CFR 38.23(c)(1): 600 lb on an area of 26 x 26 in at the centroid; 1 lb = 0.45359237 kg, 1 in = 25.4
    mm.
    """
    found = load("us-vehicle/design-load")
    assert isinstance(found, Footprint)
    assert found.force_n == pytest.approx(600 * 0.45359237 * 9.80665)
    assert (found.across_mm, found.along_mm) == pytest.approx((26 * 25.4, 26 * 25.4))


@pytest.mark.parametrize(
    ("key", "kg"),
    [("us-vehicle-2016/design-load", 273), ("france-vehicle/load", 300), ("france-tourist-train/load", 300)],
)
def test_a_mass_without_a_patch_rolls_on_the_wheels_of_a_user(key: str, kg: float) -> None:
    found = load(key)
    assert isinstance(found, Rolling)
    assert found.force_n == pytest.approx(kg * 9.80665)
    assert found.factor == 1, "loads of rules go as given, without the bump factor"


def test_2_kilonewtons_on_100_by_200_mm_anywhere() -> None:
    """Arrete of 18 Jan 2008, 3.1."""
    found = load("france-guided-transport/point-load")
    assert isinstance(found, Rolling)
    axles = [(axle.offset_mm, axle.force_n, sorted(axle.patch_mm), axle.track_mm) for axle in found.axles]
    assert axles == [(0, 2000, [100, 200], 0)]


def test_4_kilonewtons_a_metre() -> None:
    """Arrete of 18 Jan 2008, 3.1."""
    found = load("france-guided-transport/line-load")
    assert isinstance(found, PerMetre)
    assert found.n_mm == 4


def test_proof_load_of_125_per_cent_spread() -> None:
    """Singapore, 97E: 125 % of the rated load, spread."""
    found, design = load("singapore-bus/proof-load"), base_design()
    assert isinstance(found, PerMetre)
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    assert found.n_mm * length == pytest.approx(1.25 * design.use.rated_load_kg * 9.80665)


def scaled(rules: RuleSet, key: str, factor: float) -> RuleSet:
    """Return the rule set with one load so many times as heavy."""

    def heavier(one: RuleLoad) -> RuleLoad:
        return replace(
            one, force_n=factor * one.force_n, n_mm=factor * one.n_mm, times_rated=factor * one.times_rated
        )  # fmt: skip

    limits = (
        replace(limit, load=heavier(limit.load)) if limit.load and key == f"{rules.key}/{limit.id}" else limit
        for limit in rules.limits
    )
    return replace(rules, limits=tuple(limits))


@pytest.mark.parametrize("key", LOADS)
def test_each_load_is_judged_at_its_limit(key: str) -> None:
    """The load is raised or lowered until the worst member is at 0.99, 1 and 1.01 of what it bears; own
    weight is not scaled.
    """
    rules = rule_set(key.split("/", maxsplit=1)[0])
    # The secant finds the load: how much is used is own weight and a multiple of the load, straight while one
    # member governs.
    factors, ratios = [0.3, 0.6], []
    for target, status in ((0.99, Status.CLOSE), (1.0, Status.CLOSE), (1.01, Status.EXCEEDS)):
        ratios = [checks(scaled(rules, key, factor))[key].ratio or 0.0 for factor in factors]
        for _ in range(12):
            (a, b), (fa, fb) = factors[-2:], ratios[-2:]
            if abs(fb - target) < 1e-10 or fa == fb:
                break
            factors.append(b + (target - fb) * (b - a) / (fb - fa))
            ratios.append(checks(scaled(rules, key, factors[-1]))[key].ratio or 0.0)
        found = checks(scaled(rules, key, factors[-1]))[key]
        assert found.ratio == pytest.approx(target, abs=1e-8)
        assert found.status is status
        factors = factors[-2:]
    assert CLOSE_FROM < 0.99


def test_a_short_ramp_is_judged_under_300_pounds() -> None:
    """49 CFR 38.23(c)(1): ramps shorter than 30 in."""
    short = with_leaves(base_design(), length_mm=360.0)
    (found,) = (one for one in all_loads(short, (rule_set("us-vehicle"),), (0.0,)) if "/" in one.key)
    assert is_of(found, "us-vehicle/design-load-short"), "and not under the load of a long one"
    assert isinstance(found, Rolling)
    assert found.force_n == pytest.approx(300 * 0.45359237 * G_M_S2)
    assert "us-vehicle/design-load-short" not in checks(rule_set("us-vehicle"))


def test_a_safety_factor_is_the_inverse_of_what_is_used_on_ultimate_strength() -> None:
    """49 CFR 38.23(c)(1): at least 3 on ultimate; the heavier the load, the less is left."""
    rules, key = rule_set("us-vehicle"), "us-vehicle/design-load"
    design = with_value(base_design(), "prop.fitted", value=True)
    one, half = (checks(scaled(rules, key, factor), design=design)[key] for factor in (1.0, 0.5))
    found = Evaluation(design, (rules,))
    loads = tuple(number for number, load in enumerate(found.carried.loads) if is_of(load, key))
    used = found.strengths.utilisations(ULTIMATE, loads)
    assert one.value == pytest.approx(1 / max(each.ratio for each in used if isinstance(each, Utilisation)))
    assert (one.limit, one.ratio) == (3, pytest.approx(3 / (one.value or 1)))
    assert (half.value or 0) > (one.value or 0)


@pytest.mark.parametrize(("factor", "status"), [(0.2, Status.UNJUDGED), (9.0, Status.EXCEEDS)])
@pytest.mark.parametrize("key", ["us-vehicle/design-load", "france-vehicle/load"])
def test_what_cannot_be_judged_keeps_a_load_from_passing_unless_another_member_fails(
    key: str, factor: float, status: Status
) -> None:
    """By a safety factor, and by what leaves no permanent set."""
    rules = rule_set(key.split("/", maxsplit=1)[0])
    design = with_value(
        with_value(base_design(), "prop.fitted", value=True), "made_of.slats", "birch plywood"
    )
    found = checks(scaled(rules, key, factor), design=design)[key]
    assert found.status is status
    if status is Status.UNJUDGED:
        assert found.about.part == "inner-slats"
        assert "birch plywood" in found.why
    else:
        assert " governs." in found.why


def test_a_rule_file_without_a_load_cannot_be_judged_and_says_so() -> None:
    rules = rule_set("us-vehicle-2016")
    bare = replace(rules, limits=tuple(replace(limit, load=None) for limit in rules.limits))
    found = checks(bare)["us-vehicle-2016/design-load"]
    assert (found.status, found.value, found.ratio) == (Status.UNJUDGED, None, None)
    assert "gives no load" in found.why
