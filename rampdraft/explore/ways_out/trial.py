"""A design with one value changed, judged no further than is asked.

The checks fall into parts that need different work: placed (poses, stowed size, hand force and all rules
without a load), the carrier on its supports, strength (what the members carry) and fold (the certified
clearance, by far the dearest). All together are what `evaluate` finds.
"""

from collections.abc import Callable, Iterator
from dataclasses import replace
from enum import StrEnum
from functools import cached_property
from typing import Final

import numpy as np

from rampdraft.checks.demands.own import clearance_checks, own_checks
from rampdraft.checks.demands.steadiness import steadiness_checks
from rampdraft.checks.demands.strength import strength_checks
from rampdraft.checks.judge import judge_all
from rampdraft.checks.quantities.table import QUANTITIES, LoadQuantity
from rampdraft.checks.result import Check
from rampdraft.checks.rules.loads import all_loads
from rampdraft.checks.rules.rule import Limit, RuleSet
from rampdraft.checks.subjects import Subjects
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.ways_out.results import Value
from rampdraft.geometry.buildable.problems import relation_problems
from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.standing import carrier_standing, drop_alone_mm
from rampdraft.mechanics.folding.clearance import fold_clearance
from rampdraft.mechanics.folding.folding import fold_path, stowed
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.joint import joint_verdict
from rampdraft.mechanics.loading.carrying import carry
from rampdraft.mechanics.results import Clearance, FoldPath
from rampdraft.mechanics.standing.standing import stand, stand_everywhere
from rampdraft.model.fields.alike import changed

Checks = dict[str, Check]
"""By id."""

CLEARANCE: Final = "own/clearance"
CARRIER: Final = "own/carrier-"
_HAND: Final = "deploying_force"
_STRENGTH: Final = ("own/strength", "own/overall-factor", "own/sag", "own/ground")
_CARRIER_ONLY: Final = ("carrier_body.", "supports[")
"""Values that the ramp's members do not feel."""
_MEMBERLESS: Final = ("joining.", "use.", *_CARRIER_ONLY)
"""Values that leave every member what and where it was."""
_SHAPELESS: Final = ("made_of.", "bridge.", *_MEMBERLESS)
"""Values that change no shape that folds: the clearance stays what it was."""

_UNKNOWN: Final = Clearance(
    at=np.empty(0), clearance_mm=np.empty(0), pairs=(), spans_clashing=(), contacts=()
)
"""Stands for the clearance while only what does not read it is judged."""


class Part(StrEnum):
    """A part of the checks that is judged by itself."""

    PLACED = "placed"
    CARRIER = "carrier"
    STRENGTH = "strength"
    FOLD = "fold"


def part_of(check: Check, rule_sets: tuple[RuleSet, ...]) -> Part:
    """Return the part that a check belongs to."""
    if check.id.startswith(CLEARANCE):
        return Part.FOLD
    if check.id.startswith(CARRIER):
        return Part.CARRIER
    limit = limit_of(check, rule_sets)
    loaded = (
        isinstance(QUANTITIES[limit.quantity], LoadQuantity)
        if limit is not None
        else check.id.startswith(_STRENGTH)
    )
    return Part.STRENGTH if loaded else Part.PLACED


def limit_of(check: Check, rule_sets: tuple[RuleSet, ...]) -> Limit | None:
    """Return the limit of a rule set that a check is of; None for the program's own checks."""
    key = f"{check.id}/"
    return next(
        (
            limit
            for rules in rule_sets
            for limit in rules.limits
            if key.startswith(f"{rules.key}/{limit.id}/")
        ),
        None,
    )


class Trial:
    """The design of an evaluation with the value at `path` replaced. Each part is judged when first asked
    for, and once.
    """

    def __init__(self, base: Evaluation, path: str, value: Value) -> None:
        self._base, self._path = base, path
        self._found: dict[str, Checks] = {}
        self.design = changed(base.design, path, value)

    @cached_property
    def buildable(self) -> bool:
        """Return whether the design can be built, given a value that its field allows; nothing else may be
        asked otherwise.
        """
        return not relation_problems(self.design)

    def check(self, like: Check) -> Check | None:
        """Return the check that `like` has become, None where there is none any more.

        Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a
        pair between its own members alone.
        """
        rule_sets = self._base.rule_sets
        limit = limit_of(like, rule_sets)
        match part_of(like, rule_sets):
            case Part.FOLD if not self._keeps_shape:
                found = self._alone(like.subject, lambda: self._pair(like.subject))
            case Part.FOLD:
                found = self._fold
            case Part.STRENGTH:
                found = self._strength
            case Part.CARRIER:
                found = self._carrier
            case Part.PLACED if limit is not None and limit.quantity != _HAND:
                found = self._alone(limit.id, lambda: self._limit(limit))
            case Part.PLACED:
                found = self._placed
        return found.get(like.id)

    @property
    def all_checks(self) -> Checks:
        """Return every check."""
        return self._placed | self._carrier | self._strength | self._fold

    def _alone(self, key: str, judge: Callable[[], tuple[Check, ...]]) -> Checks:
        if key not in self._found:
            self._found[key] = _by_id(*judge())
        return self._found[key]

    def _pair(self, pair: str) -> tuple[Check, ...]:
        members = (
            member
            for member in self._assembly.members
            if f"{member.body} {member.role}" in pair or member.key.rstrip("0123456789 ") in pair
        )
        return self._clearances(replace(self._assembly, members=tuple(members)))

    def _limit(self, limit: Limit) -> tuple[Check, ...]:
        fold = replace(
            self._base.fold, joint=joint_verdict(self.design)
        )  # of the fold, such a limit reads no more
        alone = (replace(rules, limits=(limit,)) for rules in self._base.rule_sets if limit in rules.limits)
        subjects = replace(self._put_down, fold=fold)
        return tuple(check for rules in alone for check in judge_all(subjects, rules))

    @property
    def _keeps_shape(self) -> bool:
        return self._path.startswith(_SHAPELESS)

    @cached_property
    def _assembly(self) -> Assembly:
        return self._base.assembly if self._path.startswith(_MEMBERLESS) else assemble(self.design)

    @cached_property
    def _path_of_fold(self) -> FoldPath:
        if self._keeps_shape:
            return self._base.fold.path
        site = self.design.sites[0]
        return fold_path(self.design, site, stand(self.design, self._assembly, site, 1).pose)

    @cached_property
    def _put_down(self) -> Subjects:
        """Return the ramp put down at its sites, the deck sinking by what follows from its supports."""
        drop = drop_alone_mm(self.design, self._assembly)
        return replace(self._unmoved, sites=stand_everywhere(self.design, self._assembly, drop))

    @property
    def _unmoved(self) -> Subjects:
        """Return what is judged on, the rest still as it was: each judge is asked only once what it reads is
        of this design.
        """
        base = self._base
        return Subjects(
            design=self.design,
            assembly=self._assembly,
            sites=base.sites,
            fold=base.fold,
            carried=base.carried,
            standing=base.standing,
        )

    @cached_property
    def _placed(self) -> Checks:
        fold = replace(
            self._base.fold,
            path=self._path_of_fold,
            clearance=_UNKNOWN,
            hand=hand_force(self.design, self._assembly, self._path_of_fold),
            stowed=stowed(self.design, self._assembly),
            joint=joint_verdict(self.design),
        )
        subjects = replace(self._put_down, fold=fold)
        return _by_id(*own_checks(subjects), *self._by_rules(subjects, loaded=False))

    @cached_property
    def _carrier(self) -> Checks:
        standing = carrier_standing(self.design, self._assembly)
        return _by_id(*steadiness_checks(replace(self._unmoved, standing=standing), standing))

    @cached_property
    def _strength(self) -> Checks:
        if self._path.startswith(_CARRIER_ONLY):
            return self._as_before(Part.STRENGTH)
        subjects = replace(
            self._unmoved,
            carried=carry(self.design, self._assembly, all_loads(self.design, self._base.rule_sets)),
        )
        return _by_id(*strength_checks(subjects), *self._by_rules(subjects, loaded=True))

    @cached_property
    def _fold(self) -> Checks:
        if self._keeps_shape:
            return self._as_before(Part.FOLD)
        return _by_id(*self._clearances(self._assembly))

    def _as_before(self, part: Part) -> Checks:
        base = self._base
        return _by_id(*(check for check in base.checks if part_of(check, base.rule_sets) is part))

    def _clearances(self, assembly: Assembly) -> tuple[Check, ...]:
        clearance = fold_clearance(self.design, assembly, self._path_of_fold, self.design.sites[0])
        fold = replace(self._base.fold, path=self._path_of_fold, clearance=clearance)
        return tuple(clearance_checks(replace(self._unmoved, fold=fold)))

    def _by_rules(self, subjects: Subjects, *, loaded: bool) -> Iterator[Check]:
        """Yield the checks of those limits of the rule sets that need a load, or that need none."""
        for rules in self._base.rule_sets:
            limits = tuple(
                row for row in rules.limits if isinstance(QUANTITIES[row.quantity], LoadQuantity) == loaded
            )
            yield from judge_all(subjects, replace(rules, limits=limits))


def _by_id(*checks: Check) -> Checks:
    return {check.id: check for check in checks}
