"""The search: every family for a survey, then longer, cheaper and simpler ramps from the best of them; three
that differ where it matters.

What is done is a fixed list of tasks, each the same wherever and whenever it runs: so many designs, no clock.
Results are taken in the order of the list, however many processes work on it.
"""

from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path
from random import Random
from typing import Final

from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.proposals.bench import Bench
from rampdraft.explore.proposals.better import bettered
from rampdraft.explore.proposals.draft import FAMILIES, Family
from rampdraft.explore.proposals.mirror import faces_left, mirrored
from rampdraft.explore.proposals.results import Nearest, Proposal, Proposals, figures_of
from rampdraft.explore.proposals.search import longest_mm, stretched, whole_mm, worked_out
from rampdraft.explore.proposals.survey import guarded, require_proposable
from rampdraft.explore.proposals.worth import WORTHS, cost, mass_kg, pieces, steepest, stocked
from rampdraft.explore.wishes.why import why_not
from rampdraft.model.design import Design, Towards
from rampdraft.model.fields.paths import value_at
from rampdraft.progress import Progress, nobody
from rampdraft.units import MM

MOST: Final = 400
"""Designs looked at for one task at most."""
STRETCHES: Final = (0.06, 0.12, 0.25, 0.5, 1.0)
"""From the shortest ramp to the longest that stows."""
CHOSEN: Final = 3
SHARES: Final = (0.03, 0.005)
"""By which proposals are to differ; less where there are no others."""
_LENGTHS: Final = ("inner_leaf.length_mm", "outer_leaf.length_mm", "toe.length_mm")
AIMS: Final[tuple[Towards, ...]] = ("light", "gentle", "cheap", "quick")

_Told = Callable[[Proposal], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One thing to work out, whole and by itself."""

    start: Design
    """The survey; a ramp that passes, where it is to be made another."""
    folder: Path | None
    family: Family | None = None
    whole_mm: MM = 0.0
    """So long both leaves are to be together; 0 for as long as they are."""
    towards: Towards = "light"
    longer: float = 1.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Done:
    """What a task came to."""

    design: Design | None
    mass_kg: float = 0.0
    gradient: float = 0.0
    cost: float = 0.0
    pieces: int = 0
    longest_mm: MM = 0.0
    nearest: Nearest | None = None
    tried: int
    seconds: dict[str, float]


def propose(  # many: what a search is told
    survey: Design,
    folder: Path | None = None,
    *,
    seed: int = 0,
    workers: ProcessPoolExecutor | None = None,
    progress: Progress = nobody,
    told: _Told | None = None,
) -> Proposals:
    """Return ramps that pass every check for a survey; `folder` is where its own rule files are looked for.

    `told` is given each ramp that passes as it is found. Raises DesignError where the survey contradicts
    itself or leaves nothing to build with, FileError where a rule set is not to be had, and what `progress`
    raises.
    """
    require_proposable(survey)
    why = why_not(survey, rule_sets_for(survey, folder))
    if why is not None and why.of_any:
        return Proposals(chosen=(), found=(), nearest=None, why=why, tried=0, seconds=())
    if not faces_left(survey):
        return _turned(
            propose(
                mirrored(survey),
                folder,
                seed=seed,
                workers=workers,
                progress=progress,
                told=told and (lambda one: told(replace(one, design=mirrored(one.design)))),
            )
        )
    longer = 1.0 if not seed else 1.0 + Random(seed).random() * 0.05
    first = [
        Task(start=survey, folder=folder, family=family, longer=longer)
        for family in FAMILIES
        if family.closing == "backs" or not guarded(survey)
    ]
    hear = _Heard(folder, told)
    done = _all_done(first, workers, lambda share, words: progress(0.5 * share, words), hear)
    second = list(_from_best(done, folder))
    done += _all_done(second, workers, lambda share, words: progress(0.5 + 0.5 * share, words), hear)
    found = _chosen(survey, done, folder)
    return found if found.found else replace(found, why=why)


def done_of(task: Task) -> Done:
    """Return what comes of a task."""
    bench = Bench(task.folder, MOST)
    evaluation, nearest = None, None
    if task.family is not None:
        ended = worked_out(bench, task.start, task.family, guarded=guarded(task.start), longer=task.longer)
        evaluation = ended.evaluation
        if ended.failing:
            worst = ended.failing[0]
            nearest = Nearest(title=worst.title, against=worst.against, failing=len(ended.failing))
    elif task.whole_mm:
        before = bench.on(task.start)
        evaluation = before and stretched(bench, before, task.whole_mm)
        if evaluation is not None:
            bench.locked = {path: value_at(evaluation.design, path) for path in _LENGTHS}
    else:
        evaluation = bench.on(task.start)
    if evaluation is None:
        return Done(design=None, nearest=nearest, tried=bench.tried, seconds=bench.seconds)
    evaluation = bettered(bench, evaluation, WORTHS[task.towards])
    return Done(
        design=evaluation.design,
        mass_kg=mass_kg(evaluation),
        gradient=steepest(evaluation),
        cost=cost(evaluation),
        pieces=pieces(evaluation),
        longest_mm=longest_mm(evaluation.design),
        tried=bench.tried,
        seconds=bench.seconds,
    )


class _Heard:
    """Tells each ramp as it is found."""

    def __init__(self, folder: Path | None, told: _Told | None) -> None:
        self.folder, self.told, self.count = folder, told, 0

    def __call__(self, done: Done) -> str:
        if done.design is not None:
            self.count += 1
            if self.told is not None:
                self.told(_proposal(done.design, self.folder))
        return f"{self.count} ramps that pass" if self.count != 1 else "1 ramp that passes"


def _all_done(
    tasks: Sequence[Task], workers: ProcessPoolExecutor | None, progress: Progress, hear: _Heard
) -> list[Done]:
    """Return what comes of all tasks, in their order."""
    if workers is None:
        found: list[Done] = []
        for task in tasks:
            found.append(done_of(task))
            progress(len(found) / len(tasks), hear(found[-1]))
        return found
    asked: dict[Future[Done], int] = {workers.submit(done_of, task): at for at, task in enumerate(tasks)}
    done: dict[int, Done] = {}
    try:
        for one in as_completed(asked):
            done[asked[one]] = one.result()
            progress(len(done) / len(tasks), hear(one.result()))
    finally:
        for one in asked:
            one.cancel()
    return [done[at] for at in range(len(tasks))]


def _from_best(done: Sequence[Done], folder: Path | None) -> Iterator[Task]:
    """Yield what is tried from the ramps that pass: the lightest one longer, in steps, and the two lightest
    cheaper and in fewer pieces.
    """
    passing = sorted((one for one in done if one.design), key=lambda one: round(one.mass_kg, 6))
    for one in passing[:1]:
        assert one.design is not None
        short = whole_mm(one.design)
        for share in STRETCHES:
            longer = round(short + share * (one.longest_mm - short))
            if longer > 1.01 * short:
                yield Task(start=one.design, folder=folder, whole_mm=float(longer))
    for one in passing[:2]:
        assert one.design is not None
        yield Task(start=one.design, folder=folder, towards="cheap")
        yield Task(start=one.design, folder=folder, towards="quick")


def _chosen(survey: Design, done: Sequence[Done], folder: Path | None) -> Proposals:
    seconds: dict[str, float] = {}
    for one in done:
        for stage, took in one.seconds.items():
            seconds[stage] = seconds.get(stage, 0.0) + took
    wish = survey.wishes.gentler_than
    designs = [one.design for one in done if one.design is not None and one.gradient * wish <= 1 + 1e-9]
    unlike = list(dict.fromkeys(designs))
    found = sorted(
        (_proposal(design, folder) for design in unlike), key=lambda one: round(one.figures.mass_kg, 6)
    )
    near = [one.nearest for one in done if one.nearest is not None]
    return Proposals(
        chosen=_three(survey, found),
        found=tuple(found),
        nearest=None if found else min(near, key=lambda one: one.failing, default=None),
        tried=sum(one.tried for one in done),
        seconds=tuple(sorted(seconds.items(), key=lambda one: -one[1])),
    )


def _three(survey: Design, found: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """Return the best by each aim, what is wished first before the others; where one ramp is the best in
    several, the next best of another kind stands in.
    """
    keys: dict[Towards, Callable[[Proposal], float]] = {
        "light": lambda one: round(one.figures.mass_kg, 3),
        "gentle": lambda one: round(one.figures.gradient, 6),
        "cheap": lambda one: round(one.figures.cost, 2),
        "quick": lambda one: one.figures.pieces,
    }
    first = survey.wishes.first
    best: dict[Towards, Proposal] = {aim: min(found, key=keys[aim]) for aim in AIMS if found}
    order: list[Towards] = [first, *(aim for aim in AIMS if aim != first)]
    chosen: list[Proposal] = []
    for share, aim in product(SHARES, order):
        left = [one for one in found if all(_differ(one, other, share) for other in chosen)]
        if left and len(chosen) < CHOSEN:
            chosen.append(min(left, key=keys[aim]))
    return tuple(
        replace(one, best=tuple(aim for aim in AIMS if best[aim].design == one.design)) for one in chosen
    )


def _differ(one: Proposal, other: Proposal, share: float) -> bool:
    """Return whether two ramps differ where it matters: what holds the joint, how they fold and come down,
    or by a share of mass, slope or cost.
    """
    kinds = [
        (it.design.fold.closing, it.design.stop.kind, it.design.prop.fitted, it.design.toe.kind)
        for it in (one, other)
    ]
    if kinds[0] != kinds[1]:
        return True
    pairs = ((it.figures.mass_kg, it.figures.gradient, it.figures.cost) for it in (one, other))
    return any(abs(a - b) > share * max(abs(a), abs(b)) for a, b in zip(*pairs, strict=True))


def _proposal(design: Design, folder: Path | None) -> Proposal:
    bought = stocked(evaluate(design, folder))
    evaluation: Evaluation = evaluate(bought, folder)
    return Proposal(design=bought, figures=figures_of(evaluation))


def _turned(found: Proposals) -> Proposals:
    def turn(one: Proposal) -> Proposal:
        return replace(one, design=mirrored(one.design))

    return replace(found, chosen=tuple(map(turn, found.chosen)), found=tuple(map(turn, found.found)))
