"""A check as it has become in another design, judged no further than is asked."""

from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.folding import clearance_check
from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.members.member import Kin
from rampdraft.mechanics.folding.clearance import fold_clearance
from rampdraft.mechanics.results import Clearance

_RULED: Final = {name: stage for stage in Evaluation.by_rules for name in stage.quantities}


def again(trial: Evaluation, before: Evaluation, like: Check) -> Check | None:
    """Return the check that `like` of the design before has become in a trial; None where there is none.

    Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a
    pair between its own members alone, be it kept or not.
    """
    about = like.about
    if about.limit:
        rules = next(one for one in trial.rule_sets if one.key == like.source.rule_set)
        limit = next(one for one in rules.limits if one.id == about.limit)
        found = _RULED[limit.quantity].alone(trial, rules, limit)
    elif about.pair is not None:
        demanded = trial.design.fold.clearance_mm
        pairs = _clearance(trial, about.pair).pairs
        found = (clearance_check(one, demanded) for one in pairs if one.kin == about.pair)
    else:
        stages = (
            one for one in Evaluation.by_itself if any(like.id == check.id for check in before.made(one))
        )
        found = trial.made(next(stages))
    return next((check for check in found if check.id == like.id), None)


def _clearance(trial: Evaluation, pair: tuple[Kin, Kin]) -> Clearance:
    if trial.shares(Evaluation.clearance):
        return trial.clearance
    members = tuple(member for member in trial.assembly.members if member.kin in pair)
    alone = replace(trial.assembly, members=members)
    return fold_clearance(trial.design, alone, trial.path, trial.first_site)
