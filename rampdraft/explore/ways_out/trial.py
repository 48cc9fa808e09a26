"""Checks as they have become in another design, judged no further than is asked."""

from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.own import clearance_check, clearance_checks
from rampdraft.checks.result import Check, Subjects
from rampdraft.checks.rules.judging import in_order
from rampdraft.checks.rules.sets import with_floor
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.members.member import Kin
from rampdraft.mechanics.folding.clearance import fold_clearance
from rampdraft.mechanics.results import Clearance

_RULED: Final = {name: stage for stage in Evaluation.by_rules for name in stage.quantities}


def again(trial: Evaluation, before: Evaluation, like: Check) -> Check | None:
    """Return the check that `like` of the design before has become in a trial; None where there is none.

    Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a
    pair, be it kept or not, between its own members alone.
    """
    about = like.about
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


def all_again(trial: Evaluation) -> tuple[Check, ...]:
    """Return every check of a trial but those of rolling, which take longest; of a pair of the fold it says
    whether it clashes, not how deep.
    """
    own = (
        clearance_checks(Subjects(trial.design, {"clearance": _clearance(trial)}))
        if stage is Evaluation.clearances
        else trial.made(stage)
        for stage in Evaluation.by_itself
    )
    ruled = in_order(trial.rule_sets, map(trial.made, Evaluation.by_rules))
    return (*(one for checks in own for one in checks), *ruled)


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
