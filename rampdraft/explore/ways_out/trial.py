"""A check as it has become in another design, judged no further than is asked."""

from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.own import clearance_checks
from rampdraft.checks.result import Check, Subjects
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.members.member import Kin
from rampdraft.mechanics.folding.clearance import fold_clearance

_RULED: Final = {name: stage for stage in Evaluation.by_rules for name in stage.quantities}
_OWN: Final = {
    "own/clearance": Evaluation.clearances,
    "own/strength": Evaluation.strength,
    "own/overall": Evaluation.strength,
    "own/sag": Evaluation.strength,
    "own/ground": Evaluation.strength,
    "own/carrier": Evaluation.steadiness,
}
"""The stages of the program's own checks, by the first word of their kind; the others are demands."""


def again(trial: Evaluation, like: Check) -> Check | None:
    """Return the check that `like` has become in a trial; None where there is none any more.

    Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a
    pair between its own members alone.
    """
    about = like.about
    if about.limit:
        rules = next(one for one in trial.rule_sets if one.key == like.source.rule_set)
        limit = next(one for one in rules.limits if one.id == about.limit)
        found = _RULED[limit.quantity].alone(trial, rules, limit)
    elif about.pair is not None and not trial.shares(Evaluation.clearance):
        found = _pair(trial, about.pair)
    else:
        found = trial.made(_OWN.get(about.kind.partition("-")[0], Evaluation.demands))
    return next((check for check in found if check.id == like.id), None)


def _pair(trial: Evaluation, pair: tuple[Kin, Kin]) -> tuple[Check, ...]:
    members = tuple(member for member in trial.assembly.members if member.kin in pair)
    alone = replace(trial.assembly, members=members)
    clearance = fold_clearance(trial.design, alone, trial.path, trial.first_site)
    return tuple(clearance_checks(Subjects(trial.design, {"clearance": clearance})))
