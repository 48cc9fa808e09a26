"""Designs tried one after another: each shares what it can with the one before, all are counted and timed."""

import math
import time
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any, Final, cast

from rampdraft.checks.result import Check
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.evaluation.stage import Stage
from rampdraft.explore.proposals.worth import steepest
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at
from rampdraft.progress import Progress, nobody

_E: Final = Evaluation
_BY_COST: Final[tuple[Stage[Any], ...]] = (
    _E.slopes, _E.lying, _E.grips, _E.toe_stands, _E.edges, _E.wide, _E.bolted, _E.demands, _E.propped,
    _E.handled, _E.handling, _E.let_go, _E.on_road, _E.surface, _E.steps, _E.bumpy, _E.holding,
    _E.stays_down, _E.falls_back, _E.attaching, _E.clearances, _E.bridge_turns, _E.strength, _E.loaded,
    _E.tiring, _E.twisting, _E.steadiness, _E.aside, _E.held, _E.crowded, _E.governed, _E.unknown, _E.rolled,
)  # fmt: skip
"""Every stage of checks, the dearest last, so that what fails is found with little work."""


@dataclass(slots=True)
class Bench:
    """Where designs are tried."""

    folder: Path | None
    most: int
    """So many designs are tried at most: a count, not a time, so that the answer is the same anywhere."""
    locked: Mapping[str, Any] = field(default_factory=dict[str, Any])
    """Values that stay, by their paths."""
    let: frozenset[str] = frozenset()
    """Kinds of checks that may fail for now, while something lighter is sought that passes them."""
    steepest: float = math.inf
    """What is sought is no steeper than this, rise over going, besides what the survey wishes."""
    progress: Progress = nobody
    """Told of each design that is tried."""
    tried: int = 0
    seconds: dict[str, float] = field(default_factory=dict[str, float])
    _last: Evaluation | None = None

    @property
    def spent(self) -> bool:
        """Return whether no more designs may be tried."""
        return self.tried >= self.most

    def gentle(self, evaluation: Evaluation) -> bool:
        """Return whether the steepest part is as gentle as is sought."""
        slope = steepest(evaluation)
        wished = slope * evaluation.design.wishes.gentler_than <= 1 + 1e-9
        return wished and slope <= self.steepest * (1 + 1e-9)

    def keeps(self, design: Design) -> bool:
        """Return whether a design has all values that are to stay."""
        return all(value_at(design, path) == value for path, value in self.locked.items())

    def on(self, design: Design, before: Evaluation | None = None) -> Evaluation | None:
        """Return the evaluation of a design; None where it cannot be built, or no more may be tried."""
        if self.spent:
            return None
        self.progress(self.tried / self.most, "")
        self.tried += 1
        try:
            found = evaluate(design, self.folder, before or self._last)
        except DesignError:
            return None
        self._last = found
        return found

    def failing(self, evaluation: Evaluation) -> tuple[Check, ...]:
        """Return the checks that fail of all but rolling; of rolling where no other fails."""
        found = tuple(
            check for stage in _BY_COST[:-1] for check in self._of(evaluation, stage) if check.fails
        )
        return found or tuple(check for check in self._of(evaluation, _E.rolled) if check.fails)

    def passes(self, evaluation: Evaluation) -> bool:
        """Return whether nothing fails; it ends at the first stage in which something does."""
        return self.passes_still(evaluation) and not any(
            check.fails for check in self._of(evaluation, _E.rolled)
        )

    def passes_still(self, evaluation: Evaluation) -> bool:
        """Return whether nothing fails but perhaps of rolling, and the slope is as gentle as is wished."""
        return self.gentle(evaluation) and not any(
            check.fails and check.about.kind not in self.let
            for stage in _BY_COST[:-1]
            for check in self._of(evaluation, stage)
        )

    def _of(self, evaluation: Evaluation, stage: Stage[Any]) -> tuple[Check, ...]:
        begun = time.process_time()
        made = cast("tuple[Check, ...] | Mapping[object, tuple[Check, ...]]", evaluation.made(stage))
        self.seconds[stage.name] = self.seconds.get(stage.name, 0.0) + time.process_time() - begun
        return made if isinstance(made, tuple) else tuple(one for checks in made.values() for one in checks)
