"""Torsion springs at the deck hinge, the weakest that ease the fold enough."""

from dataclasses import replace
from typing import Final

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.model.design import Assist, Design

RATES: Final = tuple(float(rate) for rate in range(200, 8001, 200))
"""N mm/deg of one spring: as torsion springs of 5 to 12 mm wire have them; common practice."""
COUNTS: Final = (2, 4)
SLACKS_DEG: Final = (120.0, 110.0, 100.0)


def eased(evaluation: Evaluation) -> Design | None:
    """Return the design with the weakest springs with which the hands at hand fold it; with those that ease
    it most where none do, None where they are there already.
    """
    before = evaluation.design.assist
    best: tuple[float, Assist] | None = None
    for count in COUNTS:
        for slack in SLACKS_DEG:
            for rate in RATES:
                assist = replace(before, kind="torsion", count=count, rate_nmm_deg=rate, slack_deg=slack)
                trial = evaluation.following(replace(evaluation.design, assist=assist))
                used = strain(trial)
                if best is None or used < best[0] - 1e-9:
                    best = used, assist
                if used <= 1:
                    return trial.design
                if used > 1.5 * best[0]:
                    break
    assert best is not None
    return None if best[1] == before else replace(evaluation.design, assist=best[1])


def strain(evaluation: Evaluation) -> float:
    """Return how much of what hands may give the fold uses, by the program's own demand and by rules."""
    own = [check.ratio or 0.0 for check in evaluation.handled if not check.warning_only]
    ruled = [
        check.ratio or 0.0
        for checks in evaluation.handling.values()
        for check in checks
        if not check.warning_only
    ]
    return max((*own, *ruled), default=0.0)
