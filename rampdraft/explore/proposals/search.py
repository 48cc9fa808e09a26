"""One family of ramps worked out for a survey: drafted, made to reach the ground, mended until it passes."""

import math
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals import alter
from rampdraft.explore.proposals.bench import Bench
from rampdraft.explore.proposals.better import lightened
from rampdraft.explore.proposals.cures.cure import guard_mm, kind_of
from rampdraft.explore.proposals.draft import Family, Sizes, drafted, first_sizes
from rampdraft.explore.proposals.mend import mended
from rampdraft.explore.proposals.supply import slats
from rampdraft.explore.proposals.worth import steepest
from rampdraft.model.design import Design
from rampdraft.units import MM

ROUNDS: Final = 40
"""So often a design is mended at most."""
LONGER: Final = (1.025, 1.05, 1.1, 1.2)
"""So many times as long as a ramp others are tried: as many times as gentle, and heavier."""
STEP: Final = 1.02
"""Lengths are tried in such steps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Ended:
    """What the work on a family came to."""

    evaluation: Evaluation | None
    """Of a design that passes; None where none was found."""
    failing: tuple[Check, ...]
    """What nobody could mend."""


def whole_mm(design: Design) -> MM:
    """Return the length of both leaves together."""
    return design.inner_leaf.length_mm + design.outer_leaf.length_mm


def lengths_mm(design: Design) -> tuple[MM, MM]:
    """Return the lengths of both leaves."""
    return design.inner_leaf.length_mm, design.outer_leaf.length_mm


def reaching(bench: Bench, design: Design) -> Evaluation | None:
    """Return the shortest ramp that reaches the ground everywhere no steeper than is asked; the longest that
    can be stowed, where none does; None where none can be built.
    """
    last = None
    whole = 600.0
    while True:
        trial = alter.of_length(design, math.ceil(whole))
        if trial is None:
            if whole > 1200:
                return last
        elif (found := bench.on(trial)) is not None:
            if last is None and (flatter := flapped(found)) is not None:
                design = flatter
                found = bench.on(alter.with_lengths(design, *lengths_mm(trial))) or found
            last = found
            if lies(bench, found):
                return found
        whole *= STEP
        if whole > 12000 or bench.spent:
            return last


def flapped(evaluation: Evaluation) -> Design | None:
    """Return the design with a toe flap long enough for the slope that is asked; None without a flap."""
    design, leaf = evaluation.design, evaluation.design.outer_leaf
    limits = [
        check.limit
        for checks in evaluation.slopes.values()
        for check in checks
        if check.about.kind == "gradient" and check.limit and not check.warning_only
    ]
    if design.toe.kind != "flap" or not limits:
        return None
    rise = leaf.rail_section.depth_mm + leaf.slat_thickness_mm - design.toe.thickness_mm
    return alter.with_toe(design, rise / min(limits))


def lies(bench: Bench, evaluation: Evaluation) -> bool:
    """Return whether the ramp stands where it is put, no steeper than is asked."""
    if not bench.gentle(evaluation) or any(
        check.fails for checks in evaluation.slopes.values() for check in checks
    ):
        return False
    return all(pose.reaches and (pose.grounds_at_toe or pose.short_of_tip) for pose in evaluation.sites)


def surfaced(bench: Bench, evaluation: Evaluation) -> Evaluation:
    """Return the design with the number of rails and the slats that make it lightest, as far as slats bear
    the wheels; with slats low enough for the step at the toe rather than with lighter ones.
    """
    best: tuple[tuple[bool, float], Evaluation] | None = None
    least = guard_mm(evaluation)
    for count in (2, 3, 4, 5):
        laned = alter.with_rail_count(evaluation.design, count)
        if laned is None:
            continue
        for slat in slats(laned):
            trial = bench.on(alter.guarded(alter.with_slats(laned, slat), least), evaluation)
            if trial is None:
                continue
            worth = _steps_high(trial), sum(trial.assembly.leaves_kg)
            if (best is None or worth < best[0]) and not _slats_fail(trial):
                best = worth, trial
    return best[1] if best else evaluation


def _steps_high(evaluation: Evaluation) -> bool:
    """Return whether the step at the toe is too high: slats lie on its tip, and a thinner one bears less."""
    ruled = (one for checks in evaluation.steps.values() for one in checks)
    return any(one.fails and kind_of(one) in ("step/toe", "toe_step") for one in ruled)


def _slats_fail(evaluation: Evaluation) -> bool:
    """Return whether slats break, or tire before their time."""
    ruled = (one for checks in evaluation.loaded.values() for one in checks)
    found = (*evaluation.strength, *ruled, *evaluation.tiring)
    return any(one.fails and one.about.part.endswith("-slats") for one in found)


HEAVY: Final = frozenset(
    ("own/hands", "deploying_force", "own/carrier-share", "own/carrier-tips", "own/carrier-nod",
     "own/carrier-lean", "own/carrier-drop", "own/fall", "own/stays-down")
)  # fmt: skip
"""Kinds of checks that a lighter ramp may pass."""
LIGHTENED: Final = 3
"""So often a design that is too heavy is made lighter, and mended again."""


def passing(bench: Bench, evaluation: Evaluation) -> Ended:
    """Return the design mended until nothing fails, or what could not be; where it is only too heavy it is
    made lighter and mended again.
    """
    failing: tuple[Check, ...] = ()
    for _ in range(LIGHTENED):
        evaluation, failing = _mended(bench, evaluation)
        if not failing:
            return Ended(evaluation=evaluation, failing=())
        if any(check.about.kind not in HEAVY for check in failing):
            break
        lighter = lightened(bench, evaluation, HEAVY)
        if lighter is evaluation:
            break
        evaluation = lighter
    return Ended(evaluation=None, failing=failing)


def _mended(bench: Bench, evaluation: Evaluation) -> tuple[Evaluation, tuple[Check, ...]]:
    """Return the design mended as far as it goes, and what it fails then."""
    past: set[Design] = set()
    failing, before = bench.failing(evaluation), frozenset[str]()
    for _ in range(ROUNDS):
        if not failing:
            break
        past.add(evaluation.design)
        better, stuck = mended(evaluation, failing, lambda one: one not in past and bench.keeps(one))
        stuck = frozenset(kind for kind in stuck if kind not in HEAVY)
        found = None if better is None or stuck & before else bench.on(better, evaluation)
        if found is None:
            break
        before = stuck
        evaluation = found
        failing = bench.failing(evaluation)
    return evaluation, failing


def longest_mm(design: Design) -> MM:
    """Return how long both leaves together may be, stowed in the room given."""
    inner = math.floor(alter.longest_inner_mm(design))
    return inner + math.floor(alter.longest_outer_mm(design, inner))


def stretched(bench: Bench, evaluation: Evaluation, whole: MM) -> Evaluation | None:
    """Return the ramp so long, mended until it passes; None where it does not. From then on no steeper one is
    sought on the bench.
    """
    design = evaluation.design
    longer = alter.of_length(design, whole)
    if longer is not None and design.toe.kind == "flap":
        longer = alter.with_toe(longer, design.toe.length_mm * whole / whole_mm(design)) or longer
    found = bench.on(longer, evaluation) if longer is not None and bench.keeps(longer) else None
    if found is None or steepest(found) >= steepest(evaluation):
        return None
    bench.steepest = steepest(found)
    ended = passing(bench, found).evaluation
    return ended if ended is not None and bench.gentle(ended) else None


def worked_out(  # many: what a family is worked out from
    bench: Bench, survey: Design, family: Family, *, guarded: bool, longer: float = 1.0
) -> Ended:
    """Return the family's ramp for a survey that passes, as short as it may be or so many times as long; or
    what it fails.
    """
    sizes: Sizes = first_sizes(survey, guarded=guarded)
    design = drafted(survey, family, sizes)
    evaluation = reaching(bench, design)
    if evaluation is None:
        return Ended(evaluation=None, failing=())
    if longer > 1 and (
        more := alter.of_length(evaluation.design, math.ceil(longer * whole_mm(evaluation.design)))
    ):
        evaluation = bench.on(more, evaluation) or evaluation
    return passing(bench, surfaced(bench, evaluation))
