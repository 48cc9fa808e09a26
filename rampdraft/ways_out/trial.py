"""A design with one value changed, judged no further than is asked.

The checks fall into parts that need different work: placed (poses, the carrier, stowed size, hand force and all rules without
a load), strength (what the members carry) and fold (the certified clearance, by far the dearest). All three together are
what `evaluate` finds.
"""

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import cached_property
from typing import Final

import numpy as np

from rampdraft.checks.judge import judge_all
from rampdraft.checks.own import clearance_checks, own_checks
from rampdraft.checks.quantities import QUANTITIES, LoadQuantity
from rampdraft.checks.result import Check
from rampdraft.checks.rule import Limit, RuleSet
from rampdraft.checks.rule_loads import all_loads
from rampdraft.checks.strength import strength_checks
from rampdraft.checks.subjects import Subjects
from rampdraft.evaluate import Evaluation
from rampdraft.geometry.assembly import assemble
from rampdraft.geometry.member import Assembly
from rampdraft.mechanics.carrier import carrier_standing, loaded_drop_mm
from rampdraft.mechanics.carrier_results import CarrierStanding
from rampdraft.mechanics.carrying import carry
from rampdraft.mechanics.clearance import fold_clearance
from rampdraft.mechanics.fold import fold_path, joint_verdict, stowed
from rampdraft.mechanics.ground import stand_everywhere
from rampdraft.mechanics.hand_force import hand_force
from rampdraft.mechanics.results import Clearance, FoldPath, FoldResult, SitePose
from rampdraft.model.consistency import relation_problems
from rampdraft.model.design import Design
from rampdraft.model.edits import with_value
from rampdraft.ways_out.results import Value

Checks = dict[str, Check]
"""By id."""

CLEARANCE: Final = "own/clearance"
_HAND: Final = "deploying_force"
_STRENGTH: Final = ("own/strength", "own/overall-factor", "own/sag", "own/ground")
_SHAPELESS: Final = ("made_of.", "joining.", "use.", "prop.", "bridge.", "carrier_body.")
"""Values that change no shape that folds: the clearance stays what it was."""

_UNKNOWN: Final = Clearance(at=np.empty(0), clearance_mm=np.empty(0), pairs=(), spans_clashing=(), contacts=())
"""Stands for the clearance while only what does not read it is judged."""


class Part(StrEnum):
    """A part of the checks that is judged by itself."""

    PLACED = "placed"
    STRENGTH = "strength"
    FOLD = "fold"


def part_of(check: Check, rule_sets: tuple[RuleSet, ...]) -> Part:
    """Return the part that a check belongs to."""
    if check.id.startswith(CLEARANCE):
        return Part.FOLD
    limit = limit_of(check, rule_sets)
    loaded = isinstance(QUANTITIES[limit.quantity], LoadQuantity) if limit is not None else check.id.startswith(_STRENGTH)
    return Part.STRENGTH if loaded else Part.PLACED


def limit_of(check: Check, rule_sets: tuple[RuleSet, ...]) -> Limit | None:
    """Return the limit of a rule set that a check is of; None for the program's own checks."""
    key = f"{check.id}/"
    return next((limit for rules in rule_sets for limit in rules.limits if key.startswith(f"{rules.key}/{limit.id}/")), None)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Placed:
    """The ramp put down at its sites."""

    design: Design
    """The deck sinks by what follows from its supports."""
    assembly: Assembly
    standing: CarrierStanding | None
    sites: tuple[SitePose, ...]
    path: FoldPath


class Trial:
    """The design of an evaluation with the value at `path` replaced. Each part is judged when first asked for, and once."""

    def __init__(self, base: Evaluation, path: str, value: Value) -> None:
        self._base, self._path = base, path
        self._found: dict[str, Checks] = {}
        self.design = with_value(base.design, path, value)

    @cached_property
    def buildable(self) -> bool:
        """Return whether the design can be built, given a value that its field allows; nothing else may be asked otherwise."""
        return not relation_problems(self.design)

    def check(self, like: Check) -> Check | None:
        """Return the check that `like` has become, None where there is none any more.

        Where it can be judged by itself it is: a limit without the others of its rule set, the clearance of a pair between its
        own members alone.
        """
        rule_sets = self._base.rule_sets
        part = part_of(like, rule_sets)
        limit = limit_of(like, rule_sets)
        if part is Part.FOLD and not self._keeps_shape:
            return self._alone(like.subject, lambda: self._pair(like.subject)).get(like.id)
        if part is Part.PLACED and limit is not None and limit.quantity != _HAND:
            return self._alone(limit.id, lambda: self._limit(limit)).get(like.id)
        return (self._strength if part is Part.STRENGTH else self._fold if part is Part.FOLD else self._judged).get(like.id)

    def _alone(self, key: str, judge: Callable[[], tuple[Check, ...]]) -> Checks:
        if key not in self._found:
            self._found[key] = _by_id(*judge())
        return self._found[key]

    def _pair(self, pair: str) -> tuple[Check, ...]:
        members = (
            member
            for member in self._placed.assembly.members
            if f"{member.body} {member.role}" in pair or member.key.rstrip("0123456789 ") in pair
        )
        return self._clearances(replace(self._placed.assembly, members=tuple(members)))

    def _limit(self, limit: Limit) -> tuple[Check, ...]:
        fold = replace(self._base.fold, path=self._placed.path, joint=joint_verdict(self.design))
        alone = (replace(rules, limits=(limit,)) for rules in self._base.rule_sets if limit in rules.limits)
        subjects = self._subjects_with(fold)
        return tuple(check for rules in alone for check in judge_all(subjects, rules))

    @property
    def all_checks(self) -> Checks:
        """Return every check."""
        return self._judged | self._strength | self._fold

    @property
    def _keeps_shape(self) -> bool:
        return self._path.startswith(_SHAPELESS)

    @cached_property
    def _placed(self) -> _Placed:
        assembly = assemble(self.design)
        standing = carrier_standing(self.design, assembly)
        sunk = with_value(self.design, "carrier.deck_drop_mm", loaded_drop_mm(self.design, standing))
        sites = stand_everywhere(sunk, assembly)
        path = fold_path(self.design, self.design.sites[0], sites[0].pose)
        return _Placed(design=sunk, assembly=assembly, standing=standing, sites=sites, path=path)

    @cached_property
    def _judged(self) -> Checks:
        placed = self._placed
        fold = replace(
            self._base.fold,
            path=placed.path,
            clearance=_UNKNOWN,
            hand=hand_force(self.design, placed.assembly, placed.path),
            stowed=stowed(self.design, placed.assembly),
            joint=joint_verdict(self.design),
        )
        subjects, rules = self._subjects_with(fold), self._rules(loaded=False)
        return _by_id(*own_checks(subjects), *(check for one in rules for check in judge_all(subjects, one)))

    @cached_property
    def _strength(self) -> Checks:
        carried = carry(self.design, self._placed.assembly, all_loads(self.design, self._base.rule_sets))
        subjects, rules = replace(self._subjects_with(self._base.fold), carried=carried), self._rules(loaded=True)
        return _by_id(*strength_checks(subjects), *(check for one in rules for check in judge_all(subjects, one)))

    @cached_property
    def _fold(self) -> Checks:
        if self._keeps_shape:
            return _by_id(*(check for check in self._base.checks if check.id.startswith(CLEARANCE)))
        return _by_id(*self._clearances(self._placed.assembly))

    def _clearances(self, assembly: Assembly) -> tuple[Check, ...]:
        clearance = fold_clearance(self.design, assembly, self._placed.path, self.design.sites[0])
        fold = replace(self._base.fold, path=self._placed.path, clearance=clearance)
        return tuple(clearance_checks(self._subjects_with(fold)))

    def _subjects_with(self, fold: FoldResult) -> Subjects:
        """Return what is judged on. What `fold` still holds of the design before, and what that carried, no judge asked reads."""
        placed = self._placed
        return Subjects(
            design=placed.design, assembly=placed.assembly, sites=placed.sites, fold=fold, carried=self._base.carried,
            standing=placed.standing,
        )  # fmt: skip

    def _rules(self, *, loaded: bool) -> list[RuleSet]:
        """Return the rule sets with those limits only that need a load, or that need none."""
        return [
            replace(one, limits=tuple(row for row in one.limits if isinstance(QUANTITIES[row.quantity], LoadQuantity) == loaded))
            for one in self._base.rule_sets
        ]


def _by_id(*checks: Check) -> Checks:
    return {check.id: check for check in checks}
