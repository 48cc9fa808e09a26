"""A check as it has become in another design, judged no further than is asked."""

from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.own import clearance_checks
from rampdraft.checks.result import Check
from rampdraft.checks.rules.rule import Limit, RuleSet
from rampdraft.checks.subjects import Subjects
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.evaluation.stages import Ruled
from rampdraft.mechanics.folding.clearance import fold_clearance

CLEARANCE: Final = "own/clearance"
CARRIER: Final = "own/carrier-"
_STRENGTH: Final = ("own/strength", "own/overall-factor", "own/sag", "own/ground")


def limit_of(check: Check, rule_sets: tuple[RuleSet, ...]) -> tuple[RuleSet, Limit] | None:
    """Return the limit of a rule set that a check is of; None for the program's own checks."""
    key = f"{check.id}/"
    return next(
        (
            (rules, limit)
            for rules in rule_sets
            for limit in rules.limits
            if key.startswith(f"{rules.key}/{limit.id}/")
        ),
        None,
    )


def again(trial: Evaluation, like: Check) -> Check | None:
    """Return the check that `like` has become in a trial; None where there is none any more.

    Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a
    pair between its own members alone.
    """
    limit = limit_of(like, trial.rule_sets)
    if limit is not None:
        found = _ruled(limit[1].quantity).alone(trial, *limit)
    elif like.id.startswith(CLEARANCE):
        found = trial.clearances if trial.shares(Evaluation.clearance) else _pair(trial, like.subject)
    elif like.id.startswith(CARRIER):
        found = trial.steadiness
    elif like.id.startswith(_STRENGTH):
        found = trial.strength
    else:
        found = trial.demands
    return next((check for check in found if check.id == like.id), None)


def _ruled(quantity: str) -> Ruled:
    return next(stage for stage in Evaluation.by_rules if quantity in stage.quantities)


def _pair(trial: Evaluation, pair: str) -> tuple[Check, ...]:
    members = (
        member
        for member in trial.assembly.members
        if f"{member.body} {member.role}" in pair or member.key.rstrip("0123456789 ") in pair
    )
    alone = replace(trial.assembly, members=tuple(members))
    clearance = fold_clearance(trial.design, alone, trial.path, trial.first_site)
    return tuple(clearance_checks(Subjects(trial.design, {"clearance": clearance})))
