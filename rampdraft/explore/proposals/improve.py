"""A present design made lighter, gentler, cheaper or quicker to make; values that are locked stay."""

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.proposals.bench import Bench
from rampdraft.explore.proposals.better import bettered
from rampdraft.explore.proposals.results import Proposal, figures_of
from rampdraft.explore.proposals.search import LONGER, longest_mm, passing, stretched, whole_mm
from rampdraft.explore.proposals.worth import WORTHS, stocked
from rampdraft.model.design import Design, Towards
from rampdraft.model.fields.paths import value_at
from rampdraft.progress import Progress, nobody

MOST: Final = 400


@dataclass(frozen=True, slots=True, kw_only=True)
class Improved:
    """A design before and after it was made better."""

    before: Proposal
    """As it was: perhaps with checks that fail."""
    after: Proposal
    """Passes every check."""


def improved(
    design: Design,
    towards: Towards,
    locked: Iterable[str] = (),
    folder: Path | None = None,
    *,
    progress: Progress = nobody,
) -> Improved | None:
    """Return a design that passes every check and is worth more by an aim; None where none is found.

    A design that fails is mended first, and what comes of that is returned even where it weighs more. Values
    at the `locked` paths stay, spacings that are given where they could follow, and all of the survey but for
    what is bought: stock, locks, grit and stay. Raises DesignError where the design cannot be built or has no
    such path, FileError where a rule set is not to be had, and what `progress` raises.
    """
    start = evaluate(design, folder)
    kept = {path: value_at(start.design, path) for path in locked}
    bench = Bench(folder, MOST, locked=kept, progress=progress)
    worth = WORTHS[towards]
    mended = passing(bench, start).evaluation
    if mended is None:
        return None
    best = _gentler(bench, mended) if towards == "gentle" else bettered(bench, mended, worth)
    if best.design == start.design or (mended is start and worth(best) >= worth(start)):
        return None
    bought = best.following(stocked(best))
    return Improved(before=_told(start), after=_told(bought))


def _told(evaluation: Evaluation) -> Proposal:
    return Proposal(design=evaluation.design, figures=figures_of(evaluation))


def _gentler(bench: Bench, evaluation: Evaluation) -> Evaluation:
    """Return the longest ramp of a few that passes, no heavier than it need be."""
    short, most = whole_mm(evaluation.design), longest_mm(evaluation.design)
    for factor in reversed(LONGER):
        whole = min(round(short * factor), most)
        found = stretched(bench, evaluation, float(whole)) if whole > short else None
        if found is not None:
            return bettered(bench, found, WORTHS["light"])
    return evaluation
