"""All checks of a design, worst first."""

from typing import Final

from rampdraft.checks.demands.own import own_checks
from rampdraft.checks.demands.steadiness import steadiness_checks
from rampdraft.checks.demands.strength import strength_checks
from rampdraft.checks.judge import judge_all
from rampdraft.checks.result import Check, Status
from rampdraft.checks.rules.sets import RuleSet
from rampdraft.checks.subjects import Subjects
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.results import CarrierStanding
from rampdraft.mechanics.loading.results import Carried
from rampdraft.mechanics.results import FoldResult, SitePose
from rampdraft.model.design import Design

_ORDER: Final = {Status.EXCEEDS: 0, Status.CLOSE: 2, Status.UNJUDGED: 3, Status.WITHIN: 4}
_WARNING_EXCEEDED: Final = 1


def check_all(
    design: Design,
    assembly: Assembly,
    sites: tuple[SitePose, ...],
    fold: FoldResult,
    carried: Carried,
    standing: CarrierStanding | None,
    rule_sets: tuple[RuleSet, ...],
) -> tuple[Check, ...]:
    """Return every check, worst first: exceeded, exceeded but a warning only, close, cannot be judged,
    within.

    Among equals the one that uses most of its limit comes first. Ids are unique, and stay put while
    dimensions change.
    """
    subjects = Subjects(
        design=design, assembly=assembly, sites=sites, fold=fold, carried=carried, standing=standing
    )
    checks = [
        *own_checks(subjects),
        *strength_checks(subjects),
        *steadiness_checks(subjects, standing),
        *(check for rule_set in rule_sets for check in judge_all(subjects, rule_set)),
    ]
    return tuple(sorted(checks, key=_badness))


def _badness(check: Check) -> tuple[int, float]:
    warned = check.status is Status.EXCEEDS and check.warning_only
    return (_WARNING_EXCEEDED if warned else _ORDER[check.status], -(check.ratio or 0.0))
