"""Checks as they have become in another design, judged no further than is asked."""

from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.own import clearance_check, clearance_checks
from rampdraft.checks.demands.rolling import Rolled, rolling_checks
from rampdraft.checks.result import Check, Subjects, Unjudged, compose, worst_first
from rampdraft.checks.rules.judging import in_order
from rampdraft.checks.rules.sets import with_floor
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.members.member import Kin
from rampdraft.mechanics.folding.clearance import fold_clearance
from rampdraft.mechanics.results import Clearance
from rampdraft.mechanics.rolling.roll import cannot_roll, roll
from rampdraft.mechanics.rolling.surfaces import Surfaces

_RULED: Final = {name: stage for stage in Evaluation.by_rules for name in stage.quantities}

NEAR_MM: Final = 400.0
"""So far to both sides of the place that a check of rolling tells of its front axle rolls in a trial."""


def again(trial: Evaluation, before: Evaluation, like: Check) -> Check | None:
    """Return the check that `like` of the design before has become in a trial; None where there is none.

    Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a
    pair, be it kept or not, between its own members alone, rolling of its own user near its place alone.
    """
    about = like.about
    if isinstance(like.found, Rolled):
        return _rolled_alone(trial, before, like, like.found)
    if about.limit:
        rules = next(one for one in with_floor(trial.rule_sets) if one.key == like.source.rule_set)
        limit = next(one for one in rules.limits if one.id == about.limit)
        found = _RULED[limit.quantity].alone(trial, rules, limit)
    elif about.pair is not None:
        demanded_mm, pairs = trial.design.fold.clearance_mm, _clearance(trial, *about.pair).pairs
        found = (clearance_check(one, demanded_mm) for one in pairs if one.kin == about.pair)
    else:
        stages = (
            one for one in Evaluation.by_itself if any(like.id == check.id for check in before.made(one))
        )
        found = trial.made(next(stages))
    return next((check for check in found if check.id == like.id), None)


def all_again(trial: Evaluation) -> dict[str, Check]:
    """Return every check of a trial by its id, in the order of an evaluation; of a pair of the fold it is
    told whether it clashes, not how deep.
    """
    own = (
        clearance_checks(Subjects(trial.design, {"clearance": _clearance(trial)}))
        if stage is Evaluation.clearances
        else trial.made(stage)
        for stage in Evaluation.by_itself
    )
    ruled = in_order(trial.rule_sets, map(trial.made, Evaluation.by_rules))
    every = (*(one for checks in own for one in checks), *ruled, *trial.rolled)
    return {check.id: check for check in worst_first(every)}


def _rolled_alone(trial: Evaluation, before: Evaluation, like: Check, found: Rolled) -> Check | None:
    """Return what a check of rolling has become of the one that it tells of alone: where a place is told of,
    near that, as far from the same one of deck edge, joint and tip. None where nothing is met there any more.
    """
    pose = trial.site_pose(found.site_number, found.state)
    if not pose.reaches or cannot_roll(trial.design, found.user) is not None:
        return compose(like.demand, Unjudged(key="", subject=like.subject, why="It does not roll there."))
    surfaces, near = Surfaces(trial.design, trial.assembly, pose), None
    if found.part:
        stood = Surfaces(before.design, before.assembly, before.site_pose(found.site_number, found.state))
        marks = zip(stood.place.marks_mm, surfaces.place.marks_mm, strict=True)
        was, now = min(marks, key=lambda mark: abs(found.worst.front_mm - mark[0]))
        front = found.worst.front_mm + now - was
        near = front - NEAR_MM, front + NEAR_MM
    rolled = roll(trial.design, found.user, pose, surfaces, found.facing, between_mm=near)
    checks = rolling_checks(Subjects(trial.design, {"rolling": (rolled,)}))
    return next((check for check in checks if check.id == like.id), None)


def _clearance(trial: Evaluation, *kins: Kin) -> Clearance:
    """Return the clearance of a trial between members of these kinds alone; without `kins` between all, as
    far as it says who keeps it.
    """
    if trial.shares(Evaluation.clearance):
        return trial.clearance
    wanted = {(kin.body, kin.role) for kin in kins}
    rides = ("carrier", "bridge plate") in wanted  # on whatever there is of the inner leaf
    kept = tuple(
        member
        for member in trial.assembly.members
        if not kins or member.kin in kins or (rides and member.body == "inner")
    )
    assembly = replace(trial.assembly, members=kept)
    return fold_clearance(trial.design, assembly, trial.path, trial.first_site, verdict_only=not kins)
