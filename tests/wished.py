"""Surveys whose answer is known: made backwards from ramps, so that a ramp is known to meet them; and ones
that no ramp of a coarse grid meets.

`python tests/wished.py --count 200` tells how many of each are told why not, and how long it takes.
"""

import argparse
import math
import time
from collections.abc import Iterator
from dataclasses import replace
from itertools import product
from random import Random
from typing import Any, Final

import numpy as np

from rampdraft.checks.rules.rule import Bound, Limit, RuleSet
from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.wishes.room import USUAL
from rampdraft.explore.wishes.why import clashes
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Carrier, Design, Site
from rampdraft.model.fields.paths import changed

Survey = tuple[Design, tuple[RuleSet, ...]]

_MEASURED: Final = ("gradient", "deck_step", "joint_step", "toe_step", "clear_width")
_PLENTY: Final = 1e6
_HAIR: Final = 1e-9


def held_to(limits: dict[str, float]) -> RuleSet:
    """Return a rule set that limits so much and nothing else."""
    return RuleSet(
        key="wished",
        title="Wished for",
        status="user's own",
        jurisdiction="here",
        publication="nowhere",
        limits=tuple(
            Limit(
                id=quantity,
                title=quantity,
                clause="",
                quantity=quantity,
                sense="at least" if quantity == "clear_width" else "at most",
                limit=limit,
                told=Bound(),
            )
            for quantity, limit in limits.items()
        ),
    )


def possible(number: int, seed: int = 0) -> Iterator[Survey]:
    """Yield surveys that a ramp meets to the last digit: the room that it takes stowed, the slope, the steps
    and the width that it has where it stands on its toe.
    """
    random = Random(seed)
    samples = [load_design(path) for path in sample_paths()]
    while number > 0:
        survey = _met_by(_varied(random, random.choice(samples)))
        if survey is not None:
            number -= 1
            yield survey


def _varied(random: Random, design: Design) -> Design | None:
    """Return a design with another linkage, stowed another way, at another deck; None where it contradicts
    itself.
    """
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    values: dict[str, Any] = {
        "carrier.deck_height_mm": random.uniform(200, 1000),
        "inner_leaf.length_mm": inner * random.uniform(1.0, 1.6),
        "outer_leaf.length_mm": outer * random.uniform(1.0, 1.9),
        "deck_hinge.below_mm": random.uniform(-30, 120),
        "deck_hinge.out_mm": random.uniform(0, 120),
        "joint.height_mm": design.joint.height_mm * random.uniform(0.8, 1.2),
        "fold.stowed_deg": random.choice((90.0, 90.0, random.uniform(20, 175), random.uniform(-80, 0))),
        "fold.closed_deg": random.choice((180.0, 180.0, random.uniform(90, 180))),
    }
    try:
        for path, value in values.items():
            design = changed(design, path, value)
    except DesignError:
        return None
    users = tuple(replace(user, kind="barrow", width_mm=100.0) for user in design.use.users)
    return replace(
        design,
        sites=(_site(random, design.carrier.deck_height_mm),),
        supports=(),
        obstacles=(),
        handles=(),
        fold_stages=(),
        use=replace(design.use, rule_sets=(), users=users, rated_load_kg=900.0),
    )


def _site(random: Random, deck_mm: float) -> Site:
    kerb, out = random.choice((0.0, 0.0, 120.0)), random.uniform(600, 2000)
    grounds = (
        ((0.0, kerb), (9000.0, kerb)),
        ((0.0, 0.0), (9000.0, -9000.0 * random.uniform(0, 0.06))),
        ((0.0, 0.0), (out, 0.0), (out, deck_mm * random.uniform(0.1, 1.2)), (9000.0, 300.0)),
    )
    return Site(name="Here", kind="ground", ground_mm=random.choice(grounds))


def _met_by(design: Design | None) -> Survey | None:
    if design is None:
        return None
    try:
        one = Evaluation(design, (held_to(dict.fromkeys(_MEASURED, _PLENTY)),)).following(design)
        if any(check.fails for check in one.lying):
            return None
    except DesignError:
        return None
    judged = (*one.slopes.values(), *one.steps.values(), *one.surface.values())
    found: dict[str, float] = {}
    for check in (check for checks in judged for check in checks):
        if check.source.rule_set == "wished" and check.value is not None:
            found[check.about.kind] = max(found.get(check.about.kind, 0.0), check.value * (1 + _HAIR))
    found["clear_width"] = min(found["clear_width"], design.carrier.opening_width_mm)
    stowed = one.stowed
    carrier = replace(
        design.carrier,
        stow_height_mm=stowed.above_deck_mm + _HAIR,
        stow_out_mm=stowed.out_mm + _HAIR,
        stow_in_mm=stowed.over_deck_mm + _HAIR,
    )
    return replace(design, carrier=carrier), (held_to(found),)


def any_survey(random: Random) -> Survey:
    """Return a survey of which nobody knows whether a ramp meets it."""
    base = load_design(next(path for path in sample_paths() if path.stem == "library-trailer"))
    deck = random.uniform(200, 1200)
    carrier = replace(
        base.carrier,
        deck_height_mm=deck,
        deck_drop_mm=0.0,
        end_depth_mm=random.uniform(60, 0.6 * deck),
        stow_height_mm=random.uniform(300, 2200),
        stow_out_mm=random.uniform(60, 300),
        stow_in_mm=random.uniform(20, 300),
        deck_length_mm=2500.0,
    )
    key = random.choice(
        ("us-vehicle-2016", "us-vehicle", "us-building", "france-vehicle", "france-guided-transport")
    )
    rules = next(one for one in builtin_rule_sets() if one.key == key)
    use = replace(base.use, rule_sets=(key,), rated_load_kg=400.0)
    sites = (_site(random, deck),)
    return replace(
        base, carrier=replace(carrier, opening_width_mm=1200.0), sites=sites, supports=(), use=use
    ), (rules,)


_LENGTHS: Final = 50
_OFFSETS: Final = (-90.0, 0.0, 90.0)
_INNER: Final = (90.0, 80.0, 60.0, 105.0, 178.0, -60.0)
_CLOSED: Final = (180.0, 170.0, 130.0, -180.0, -170.0, -130.0)


def reach_on_a_grid(carrier: Carrier, *, usual: bool) -> float:
    """Return the farthest that bare rails reach, laid out level, which stow in a carrier's room: the best of
    a coarse grid of hinge places, hinge heights, angles and leaf lengths. A grid finds no more than there is.

    A rail is a line from its own hinge; it keeps to the room, off the ground and off the carrier's end.
    """
    floor = carrier.end_depth_mm if usual else carrier.deck_height_mm
    longest = np.linspace(200.0, carrier.stow_height_mm + floor + 300, _LENGTHS)
    belows = (0.0, 50.0, 100.0) if usual else (0.0, 50.0, 100.0, 300.0)
    best = 0.0
    for hinge_out, below, inner_deg, offset in product(
        (0.0, carrier.stow_out_mm - 4), belows, _INNER, _OFFSETS
    ):
        turn = math.radians(inner_deg)
        cos, sin = math.cos(turn), math.sin(turn)
        x = hinge_out + longest * cos - offset * sin
        z = -below + longest * sin + offset * cos
        # Its first half may begin beside the deck edge, in whatever its hinge is let into.
        free = _kept(carrier, floor, ((hinge_out + x) / 2, x), ((z - below) / 2, z))
        for length, joint_x, joint_z in zip(longest[free], x[free], z[free], strict=True):
            for closed in _CLOSED:
                angle = turn + math.radians(closed)
                toe_x, toe_z = joint_x + longest * math.cos(angle), joint_z + longest * math.sin(angle)
                kept = _kept(carrier, floor, (joint_x, toe_x), (joint_z, toe_z))
                if kept.any():
                    best = max(best, float(hinge_out + length + longest[kept].max()))
    return best


def _kept(carrier: Carrier, floor: float, xs: tuple[Any, Any], zs: tuple[Any, Any]) -> Any:
    """Return which straight lines keep to the room, looked at in a dozen places each."""
    shares = np.linspace(0.0, 1.0, 13)[:, None]
    x, z = xs[0] + shares * (xs[1] - xs[0]), zs[0] + shares * (zs[1] - zs[0])
    over = (x >= -carrier.stow_in_mm) | (z < 0)
    inside = (x <= carrier.stow_out_mm) & (z <= carrier.stow_height_mm) & (z >= -floor) & over
    return (inside & ~((x < 0) & (z < 0))).all(axis=0)


def going_on_a_grid(survey: Design, slope: float, steps_mm: float) -> float:
    """Return the least going on the survey's only site, looked for every 5 mm; infinite beyond 40 m."""
    xs = np.arange(0.0, 40000.0, 5.0)
    points = survey.sites[0].ground_mm
    ground = np.interp(xs, [x for x, _ in points], [z for _, z in points])
    level = abs(survey.carrier.deck_height_mm - ground) - steps_mm
    found = xs[level <= slope * xs]
    return float(found[0]) if found.size else math.inf


def impossible(number: int, seed: int = 0) -> Iterator[Survey]:
    """Yield surveys that no ramp of the grid meets, laid out with the longest
    toe flap that is usual, by the slope of its rules and steps of 15 mm in three places.
    """
    random = Random(seed)
    while number > 0:
        design, (rules,) = survey = any_survey(random)
        slopes = [
            limit.limit for limit in rules.limits if limit.quantity == "gradient" and "ground" in limit.sites
        ]
        slope = min(one for one in slopes if one is not None)
        needed = going_on_a_grid(design, slope, 45.0)
        if needed < 15000 and needed > (reach_on_a_grid(design.carrier, usual=True) + USUAL.flap_mm):
            number -= 1
            yield survey


def main() -> None:
    """Tell how many surveys of each kind are told why not."""
    parser = argparse.ArgumentParser(description=main.__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    options = parser.parse_args()
    found = [clashes(*survey) for survey in possible(options.count, options.seed)]
    of_any = sum(any(one.of_any for one in some) for some in found)
    print(
        f"possible: {options.count}; refused of any ramp {of_any}, of ramps as usual {sum(map(bool, found))}"
    )
    slowest, told, of_any = 0.0, 0, 0
    for survey in impossible(options.count, options.seed):
        begin = time.process_time()
        some = clashes(*survey)
        slowest = max(slowest, time.process_time() - begin)
        told += bool(some)
        of_any += any(one.of_any for one in some)
    print(f"impossible: {options.count}; told why {told}, {of_any} of any ramp; slowest {slowest:.3f} s")


if __name__ == "__main__":
    main()
