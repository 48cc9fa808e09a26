"""Why not: bounds against published gradients, ramps that are known to be, and a coarse grid of ramps."""

from dataclasses import replace
from random import Random

import pytest
from ramps import rule_set
from wished import Survey, any_survey, held_to, impossible, possible, reach_on_a_grid

from rampdraft.checks.rules.rule import RuleSet
from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.wishes.demanded import grades, steps_mm
from rampdraft.explore.wishes.room import ANY, USUAL
from rampdraft.explore.wishes.slopes import case_of, needed_mm, possible_mm
from rampdraft.explore.wishes.why import clashes, why_not
from rampdraft.explore.wishes.words import why_not_words
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Design, Site


def sample(stem: str) -> Design:
    return load_design(next(path for path in sample_paths() if path.stem == stem))


def on_level(design: Design, deck_mm: float, **room: float) -> Design:
    carrier = replace(design.carrier, deck_height_mm=deck_mm, deck_drop_mm=0.0, **room)
    site = Site(name="Market", kind="ground", ground_mm=((0.0, 0.0), (4000.0, 0.0)))
    return replace(design, carrier=carrier, sites=(site,), supports=())


@pytest.fixture(scope="module")
def not_to_be_had() -> list[Survey]:
    return list(impossible(10, seed=2))


def goings(design: Design, *rules: RuleSet) -> dict[str, float]:
    steps = steps_mm(design, rules)
    return {one.rule: needed_mm(case_of(design, one, steps, ANY)) for one in grades(design, rules)}


@pytest.mark.parametrize(
    ("key", "rule", "in_ones", "step"),
    [
        # 2010 ADA Standards, 405.2: 1:12; 303.2: up to 6.4 mm upright.
        ("us-building", "us-building/running-slope", 12.0, 6.4),
        # 36 CFR 1192 App. A, T402: 1:6 to road or kerb; no step but that of every ramp, 15 mm.
        ("us-vehicle-2016", "us-vehicle-2016/slope-ground", 6.0, 15.0),
        # Arrêté du 23 août 2013: 25 %, steps up to 15 mm.
        ("france-vehicle", "france-vehicle/slope", 4.0, 15.0),
    ],
)
def test_the_going_needed_follows_from_the_published_gradient(
    key: str, rule: str, in_ones: float, step: float
) -> None:
    found = goings(on_level(sample("library-trailer"), 510.0), rule_set(key))[rule]
    square = (1 + 1 / in_ones**2) ** 0.5  # a step is measured square to a surface that slopes
    assert found == pytest.approx(in_ones * (510 - 3 * step * square))


def test_ground_that_falls_away_needs_more_going_and_a_kerb_less() -> None:
    design = on_level(sample("library-trailer"), 510.0)
    falling = Site(name="Falls", kind="ground", ground_mm=((0.0, 0.0), (9000.0, -270.0)))
    kerb = Site(name="Kerb", kind="ground", ground_mm=((0.0, 0.0), (500.0, 0.0), (500.0, 130.0)))
    rules, rule = held_to({"gradient": 0.25, "step": 0.0}), "wished/gradient"
    assert goings(design, rules)[rule] == pytest.approx(510 * 4)
    # z = -0.03 x meets 510 - x / 4
    assert goings(replace(design, sites=(falling,)), rules)[rule] == pytest.approx(510 / (0.25 - 0.03))
    assert goings(replace(design, sites=(kerb,)), rules)[rule] == pytest.approx(380 * 4)
    high = replace(design, carrier=replace(design.carrier, deck_height_mm=100.0))
    # Up onto it: the face lies farther than the slope asks for.
    assert goings(replace(high, sites=(kerb,)), rules)[rule] == pytest.approx(100 * 4)


def test_where_the_ground_is_never_met_the_going_is_endless() -> None:
    design = on_level(sample("library-trailer"), 510.0)
    falling = Site(name="Falls", kind="ground", ground_mm=((0.0, 0.0), (20000.0, -20000.0)))
    found = goings(replace(design, sites=(falling,)), held_to({"gradient": 0.1, "step": 0.0}))
    assert found["wished/gradient"] > 100_000


def test_what_a_ramp_is_known_to_meet_is_not_refused() -> None:
    refused = [survey for survey in possible(60, seed=3) if any(why.of_any for why in clashes(*survey))]
    assert not refused


def test_a_ramp_as_usually_made_is_not_refused_either() -> None:
    usual = 0
    for design, rules in possible(60, seed=4):
        below = Evaluation(design, rules).stowed.below_deck_mm
        hinge = design.deck_hinge.below_mm
        if below <= design.carrier.end_depth_mm and -USUAL.above_mm <= hinge <= USUAL.below_mm:
            usual += 1
            assert not clashes(design, rules)
    assert usual > 20


def test_no_ramp_of_a_grid_reaches_farther_than_the_bound() -> None:
    random = Random(5)
    for _ in range(4):
        design, rules = any_survey(random)
        steps = steps_mm(design, rules)
        for grade in grades(design, rules):
            for kind in (ANY, USUAL):
                bound = possible_mm(case_of(design, grade, steps, kind)) - kind.flap_mm
                assert reach_on_a_grid(design.carrier, usual=kind is USUAL) <= bound


def test_most_of_what_no_ramp_of_a_grid_meets_is_told_why(not_to_be_had: list[Survey]) -> None:
    assert sum(bool(why_not(*survey)) for survey in not_to_be_had) >= 9


def test_what_is_told_would_do_and_less_would_not(not_to_be_had: list[Survey]) -> None:
    checked = 0
    for design, rules in not_to_be_had:
        why = next(iter(why for why in clashes(design, rules) if why.clash == "slope"), None)
        if why is None:
            continue
        for wish in why.wishes:
            name = wish.key.removeprefix("carrier.")
            if wish.would_do is None or wish.rule:
                continue
            checked += 1
            for share, refused in ((1.0, False), (0.99, True)):
                value = wish.value + share * (wish.would_do - wish.value)
                other = replace(design, carrier=replace(design.carrier, **{name: value}))
                found = [one for one in clashes(other, rules) if one.of_any or not why.of_any]
                same = [one for one in found if one.wishes[0].rule == why.wishes[0].rule]
                assert bool(same) == refused, (wish, share)
    assert checked > 6


def test_each_wish_of_the_set_is_needed() -> None:
    """Without any one of them the others can be had: the set is the smallest."""
    (why,) = clashes(sample("too-steep"), (rule_set("us-vehicle-2016"),))
    assert {wish.key for wish in why.wishes} == {
        "use.rule_sets",
        "carrier.stow_height_mm",
        "carrier.stow_out_mm",
        "carrier.stow_in_mm",
        "carrier.deck_height_mm",
    }
    assert why.site_number == 1
    assert not why.of_any
    assert why.needed > why.possible


def test_a_low_deck_and_a_high_room_leave_out_what_does_not_matter() -> None:
    """A deck so high that no two leaves of the program reach: the room is no part of the clash."""
    design = on_level(sample("library-trailer"), 1900.0)
    why = why_not(design, (held_to({"gradient": 0.08, "step": 0.0}),))
    assert why is not None
    assert why.of_any
    assert [wish.key for wish in why.wishes] == ["use.rule_sets", "carrier.deck_height_mm"]


@pytest.mark.parametrize(
    ("path", "clash", "keys"),
    [
        ("opening", "width", {"use.rule_sets", "carrier.opening_width_mm"}),
        ("rated", "load", {"use.rule_sets", "use.rated_load_kg"}),
        ("user", "width", {"use.users[1].width_mm", "carrier.opening_width_mm"}),
        ("mass", "load", {"use.users[1].mass_kg", "use.rated_load_kg"}),
        ("across", "cross slope", {"use.rule_sets", "sites[1].cross_slope_percent"}),
    ],
)
def test_number_against_number(path: str, clash: str, keys: set[str]) -> None:
    design = on_level(sample("library-trailer"), 420.0)
    rules: tuple[RuleSet, ...] = ()
    user = design.use.users[0]
    if path == "opening":
        # 36 CFR 1192 App. A, T402: 760 mm between the edge guards.
        rules = (rule_set("us-vehicle-2016"),)
        design = replace(design, carrier=replace(design.carrier, opening_width_mm=759.0))
    elif path == "rated":
        rules = (rule_set("us-vehicle-2016"),)  # T302: 273 kg
        design = replace(design, use=replace(design.use, rated_load_kg=272.0, users=()))
    elif path == "user":
        wide = replace(user, width_mm=design.carrier.opening_width_mm + 1)
        design = replace(design, use=replace(design.use, users=(wide,)))
    elif path == "mass":
        heavy = replace(user, mass_kg=design.use.rated_load_kg - user.attendant_kg + 1)
        design = replace(design, use=replace(design.use, users=(heavy,)))
    else:
        rules = (held_to({"cross_slope": 1 / 48}),)  # 2010 ADA Standards, 405.3
        design = replace(design, sites=(replace(design.sites[0], cross_slope_percent=2.1),))
    found = [why for why in clashes(design, rules) if {wish.key for wish in why.wishes} == keys]
    assert [why.clash for why in found] == [clash]
    assert not [why for why in clashes(sample("library-trailer"), rules) if why.clash == clash]


def test_the_samples_that_pass_are_not_refused() -> None:
    for path in sample_paths():
        design = load_design(path)
        assert bool(clashes(design, rule_sets_for(design, path.parent))) == (path.stem == "too-steep")


def test_one_sentence_with_figures() -> None:
    design = sample("too-steep")
    rules = rule_sets_for(design, None)
    why = why_not(design, rules)
    assert why is not None
    words = why_not_words(why, design, rules)
    assert words.startswith("Slope 1:6 (")
    height = why.would_do("carrier.stow_height_mm")
    assert height is not None
    assert f"{-(-height // 1):.0f} mm" in words
    for figure in (
        "at Level yard",
        "900 mm above the deck",
        f"{why.needed:.0f} mm",
        f"{why.possible:.0f} mm",
    ):
        assert figure in words
    assert "\n" not in words
    assert ". " not in words
