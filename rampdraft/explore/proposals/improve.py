"""A present design made lighter, gentler, cheaper or quicker to make; values that are locked stay."""

from collections.abc import Iterable
from pathlib import Path
from typing import Final

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.proposals.bench import Bench
from rampdraft.explore.proposals.better import bettered
from rampdraft.explore.proposals.search import longest_mm, passing, stretched, whole_mm
from rampdraft.explore.proposals.worth import WORTHS, stocked
from rampdraft.model.design import Design, Towards
from rampdraft.model.fields.paths import value_at

MOST: Final = 400
_LONGER: Final = (1.3, 1.2, 1.12, 1.06, 1.03)
_LENGTHS: Final = ("inner_leaf.length_mm", "outer_leaf.length_mm", "toe.length_mm")


def improved(
    design: Design, towards: Towards, locked: Iterable[str] = (), folder: Path | None = None
) -> Design | None:
    """Return a design that passes every check and is worth more by an aim; None where none is found.

    A design that fails is mended first, and what comes of that is returned even where it weighs more. Values
    at the `locked` paths stay, as does all of the survey but for what is bought: stock, locks, grit and stay.
    Raises DesignError where the design cannot be built or has no such path, FileError where a rule set is not
    to be had.
    """
    bench = Bench(folder, MOST, locked={path: value_at(design, path) for path in locked})
    start = evaluate(design, folder)
    worth = WORTHS[towards]
    ended = passing(bench, start)
    if ended.evaluation is None:
        return None
    mended = ended.evaluation
    best = _gentler(bench, mended) if towards == "gentle" else bettered(bench, mended, worth)
    better = best.design != design and (mended is not start or worth(best) < worth(start))
    return stocked(best) if better else None


def _gentler(bench: Bench, evaluation: Evaluation) -> Evaluation:
    """Return the longest ramp of a few that passes, no heavier than it need be."""
    short, most = whole_mm(evaluation.design), longest_mm(evaluation.design)
    for factor in _LONGER:
        whole = min(round(short * factor), most)
        found = stretched(bench, evaluation, float(whole)) if whole > short else None
        if found is not None and WORTHS["gentle"](found) < WORTHS["gentle"](evaluation):
            bench.locked = {**bench.locked, **{path: value_at(found.design, path) for path in _LENGTHS}}
            return bettered(bench, found, WORTHS["light"])
    return evaluation
