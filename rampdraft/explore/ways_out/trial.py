"""Checks as they have become in another design, judged no further than is asked."""

from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.own import clearance_check, clearance_checks
from rampdraft.checks.demands.rolling import rolling_checks
from rampdraft.checks.result import Check, Subjects, worst_first
from rampdraft.checks.rules.judging import in_order
from rampdraft.checks.rules.sets import with_floor
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.members.member import Kin
from rampdraft.mechanics.folding.clearance import fold_clearance
from rampdraft.mechanics.results import Clearance, DeckState
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.mechanics.rolling.roll import rolls_of
from rampdraft.mechanics.rolling.surfaces import Surfaces

_RULED: Final = {name: stage for stage in Evaluation.by_rules for name in stage.quantities}


def again(trial: Evaluation, before: Evaluation, like: Check) -> Check | None:
    """Return the check that `like` of the design before has become in a trial; None where there is none.

    Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a
    pair, be it kept or not, between its own members alone, rolling of those alone who fail before.
    """
    about = like.about
    if before.stands(Evaluation.rolled) and any(like.id == check.id for check in before.rolled):
        return _rolled_again(trial, before, like)
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


_Cast = tuple[int, int, DeckState]
"""User, site and state of the deck."""


def _rolled_again(trial: Evaluation, before: Evaluation, like: Check) -> Check | None:
    """Return a check of rolling in a trial, looked at of one after the other who fail it before, the worst
    first, until one fails; of the last one where none does.
    """
    found: Check | None = None
    for cast in _failing(before, like):
        user, site, state = cast
        pose = trial.site_pose(site, state)
        if not pose.reaches:
            return None
        placed = ((pose, Surfaces(trial.design, trial.assembly, pose)),)
        found = _of_these(trial, tuple(rolls_of(trial.design, user, placed)), like)
        if found is None or found.fails:
            return found
    return found


def _failing(before: Evaluation, like: Check) -> tuple[_Cast, ...]:
    """Return who fails a check of rolling, where and in which state of the deck, the worst first."""
    casts: dict[_Cast, list[Roll | CannotRoll]] = {}
    for roll in before.rolling:
        if isinstance(roll, Roll):
            casts.setdefault((roll.user, roll.site_number, roll.state), []).append(roll)
    judged = {cast: _of_these(before, tuple(rolls), like) for cast, rolls in casts.items()}
    failing = {cast: check for cast, check in judged.items() if check is not None and check.fails}
    over = {
        cast: abs((check.value or 0.0) - (check.limit or 0.0)) / (check.limit or 1.0)
        for cast, check in failing.items()
    }
    return tuple(sorted(failing, key=lambda cast: -round(over[cast], 9)))


def _of_these(one: Evaluation, rolls: tuple[Roll | CannotRoll, ...], like: Check) -> Check | None:
    checks = rolling_checks(Subjects(one.design, {"rolling": rolls}))
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
