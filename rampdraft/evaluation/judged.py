"""The stages of checks: what the program itself makes of its needs, and the limits that rules set."""

from collections.abc import Callable, Iterable, Mapping
from typing import Any, Final

from rampdraft.checks.result import Check, Subjects
from rampdraft.checks.rules.judging import Place, judge, judge_limit
from rampdraft.checks.rules.rule import Limit, RuleSet
from rampdraft.evaluation.graph import Graph
from rampdraft.evaluation.stage import Stage
from rampdraft.model.design import Design

LIMITS: Final = ("inner_leaf.length_mm", "outer_leaf.length_mm", "toe", "carrier.deck_height_mm", "use.users")
"""What says which limit applies."""


class Judged(Stage[tuple[Check, ...]]):
    """The stage of checks that the program itself makes of its needs."""

    def __init__(
        self,
        check: Callable[[Subjects], Iterable[Check]],
        *,
        reads: tuple[str, ...] = (),
        needs: tuple[Stage[Any], ...] = (),
        aside: bool = False,
    ) -> None:
        super().__init__(self._judge, reads=reads, needs=needs, aside=aside)
        self.check = check

    def _judge(self, design: Design, *made: Any) -> tuple[Check, ...]:
        return tuple(self.check(_subjects(design, self.needs, made)))


class Ruled(Stage[Mapping[Place, tuple[Check, ...]]]):
    """The stage of the limits that rules set to some quantities; the rule sets are its first need."""

    def __init__(
        self, quantities: tuple[str, ...], *, reads: tuple[str, ...] = (), needs: tuple[Stage[Any], ...] = ()
    ) -> None:
        super().__init__(self._judge, reads=(*LIMITS, *reads), needs=needs)
        self.quantities = quantities

    def _judge(
        self, design: Design, rule_sets: tuple[RuleSet, ...], *made: Any
    ) -> Mapping[Place, tuple[Check, ...]]:
        return judge(_subjects(design, self.needs[1:], made), rule_sets, self.quantities)

    def alone(self, one: Graph, rule_set: RuleSet, limit: Limit) -> tuple[Check, ...]:
        """Return the checks of one limit, without the others of its quantities where those are not made."""
        if one.stands(self):
            return one.made(self)[rule_set.key, limit.id]
        made = tuple(one.made(need) for need in self.needs[1:])
        return tuple(judge_limit(_subjects(one.design, self.needs[1:], made), rule_set, limit))


def _subjects(design: Design, needs: tuple[Stage[Any], ...], made: tuple[Any, ...]) -> Subjects:
    return Subjects(design, {need.name: one for need, one in zip(needs, made, strict=True)})
