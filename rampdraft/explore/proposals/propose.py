"""The search: every family for a survey, then longer, cheaper and simpler ramps from the best of them; three
that differ where it matters.

First each family is worked out until it passes, which is told at once; then what passes is made lighter, the
lightest one longer too, and at last the two lightest cheaper and simpler. Each of these is a fixed list of
tasks, each the same wherever and whenever it runs: so many designs, no clock. Results are taken in the order
of the list, however many processes work on it.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor, as_completed
from dataclasses import dataclass, replace
from itertools import product
from pathlib import Path
from random import Random
from typing import Final, Self

from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.explore.proposals.bench import Bench
from rampdraft.explore.proposals.better import bettered
from rampdraft.explore.proposals.draft import FAMILIES, Family
from rampdraft.explore.proposals.mirror import faces_left, mirrored
from rampdraft.explore.proposals.results import Nearest, Proposal, Proposals, figures_of
from rampdraft.explore.proposals.search import LONGER, longest_mm, stretched, whole_mm, worked_out
from rampdraft.explore.proposals.survey import guarded, require_proposable
from rampdraft.explore.proposals.worth import WORTHS, stocked
from rampdraft.explore.wishes.why import why_not
from rampdraft.model.design import Design, Towards
from rampdraft.progress import Progress, nobody
from rampdraft.units import MM
from rampdraft.words.say import counted

MOST: Final = 400
"""Designs looked at for one task at most."""
CHOSEN: Final = 3
HEAVIER: Final = 1.15
"""A ramp that is gentler, cheaper or simpler than was wished for weighs no more than so many times the
lightest, where there is one.
"""
NOTICED: Final = 0.02
"""A share of a figure that somebody who carries, climbs or pays for a ramp may notice."""
AIMS: Final[tuple[Towards, ...]] = ("light", "gentle", "cheap", "quick")

_Told = Callable[[Proposal], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Task:
    """One thing to work out, whole and by itself: a family until it passes; else a ramp that passes made
    longer, and lighter at that length; else made better.
    """

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
    """A ramp that passes."""
    proposal: Proposal | None = None
    """The same with the stock that it takes, and its figures."""
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
    hear = _Heard(told, progress)
    done = _all_done(first, workers, hear.upto(0.35))
    done += _all_done(list(_from_first(done, folder)), workers, hear.upto(0.85))
    done += _all_done(list(_from_best(done, folder)), workers, hear.upto(1.0))
    found = _proposed(survey, done)
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
    else:
        evaluation = bench.on(task.start)
        if task.whole_mm and evaluation is not None:
            evaluation = stretched(bench, evaluation, task.whole_mm)
        if evaluation is not None:
            evaluation = bettered(bench, evaluation, WORTHS[task.towards])
    if evaluation is None:
        return Done(design=None, nearest=nearest, tried=bench.tried, seconds=bench.seconds)
    bought = evaluation.following(stocked(evaluation))
    return Done(
        design=evaluation.design,
        proposal=Proposal(design=bought.design, figures=figures_of(bought)),
        longest_mm=longest_mm(evaluation.design),
        nearest=nearest,
        tried=bench.tried,
        seconds=bench.seconds,
    )


class _Heard:
    """Tells each ramp as it is found, and how far the search is."""

    def __init__(self, told: _Told | None, progress: Progress) -> None:
        self._told, self._progress, self._count = told, progress, 0
        self._from = self._upto = 0.0

    def upto(self, share: float) -> Self:
        """Begin with what leaves the search at this share, once it is done."""
        self._from, self._upto = self._upto, share
        return self

    def __call__(self, done: Done, share: float) -> None:
        if done.proposal is not None:
            self._count += 1
            if self._told is not None:
                self._told(done.proposal)
        words = counted(self._count, "{count} ramp that passes", "{count} ramps that pass")
        self._progress(self._from + share * (self._upto - self._from), words)


def _all_done(tasks: Sequence[Task], workers: ProcessPoolExecutor | None, hear: _Heard) -> list[Done]:
    """Return what comes of all tasks, in their order."""
    if workers is None:
        found: list[Done] = []
        for task in tasks:
            found.append(done_of(task))
            hear(found[-1], len(found) / len(tasks))
        return found
    asked: dict[Future[Done], int] = {workers.submit(done_of, task): at for at, task in enumerate(tasks)}
    done: dict[int, Done] = {}
    try:
        for one in as_completed(asked):
            done[asked[one]] = one.result()
            hear(one.result(), len(done) / len(tasks))
    finally:
        for one in asked:
            one.cancel()
    return [done[at] for at in range(len(tasks))]


def _lightest_first(done: Sequence[Done]) -> list[Done]:
    return sorted((one for one in done if one.proposal), key=lambda one: round(_mass_kg(one), 6))


def _mass_kg(one: Done) -> float:
    assert one.proposal is not None
    return one.proposal.figures.mass_kg


def _from_first(done: Sequence[Done], folder: Path | None) -> Iterator[Task]:
    """Yield what is tried from the first ramps of their families: the lightest of them longer, in steps, and
    each made lighter. Where there are fewer kinds than are to be proposed, longer ones come first.
    """
    passing = _lightest_first(done)
    starts = [one.design for one in passing if one.design is not None]
    lighter = [Task(start=start, folder=folder) for start in starts]
    longer = [
        Task(start=start, folder=folder, whole_mm=whole)
        for start in starts[:1]
        for whole in _lengths_mm(whole_mm(start), passing[0].longest_mm)
    ]
    yield from (*lighter, *longer) if len(passing) >= CHOSEN else (*longer, *lighter)


def _lengths_mm(short: MM, longest: MM) -> Iterator[MM]:
    """Yield the lengths at which a ramp is tried longer, the longest that stows last."""
    yield from (float(round(short * factor)) for factor in LONGER if short * factor < longest)
    if longest > LONGER[0] * short:
        yield float(longest)


def _from_best(done: Sequence[Done], folder: Path | None) -> Iterator[Task]:
    """Yield what is tried from the two lightest ramps: cheaper, and in fewer pieces."""
    aims: tuple[Towards, ...] = ("cheap", "quick")
    for one, towards in product(_lightest_first(done)[:2], aims):
        if one.design is not None:
            yield Task(start=one.design, folder=folder, towards=towards)


def _proposed(survey: Design, done: Sequence[Done]) -> Proposals:
    seconds: dict[str, float] = {}
    for one in done:
        for stage, took in one.seconds.items():
            seconds[stage] = seconds.get(stage, 0.0) + took
    wish = survey.wishes.gentler_than
    passing = (one.proposal for one in _lightest_first(done) if one.proposal is not None)
    gentle = [one for one in passing if one.figures.gradient * wish <= 1 + 1e-9]
    found = _with_bests({one.design: one for one in gentle}.values())
    near = [one.nearest for one in done if one.nearest is not None]
    return Proposals(
        chosen=_three(survey, found),
        found=found,
        nearest=None if found else min(near, key=lambda one: one.failing, default=None),
        tried=sum(one.tried for one in done),
        seconds=tuple(sorted(seconds.items(), key=lambda one: -one[1])),
    )


_BY: Final[dict[Towards, Callable[[Proposal], float]]] = {
    "light": lambda one: round(one.figures.mass_kg, 3),
    "gentle": lambda one: round(one.figures.gradient, 6),
    "cheap": lambda one: round(one.figures.cost, 2),
    "quick": lambda one: one.figures.pieces,
}


def _with_bests(found: Iterable[Proposal]) -> tuple[Proposal, ...]:
    """Return ramps that say in what each is the best of all."""
    every = tuple(found)
    best = {aim: min(every, key=_BY[aim]) for aim in AIMS if every}
    return tuple(
        replace(one, best=tuple(aim for aim in AIMS if best[aim].design == one.design)) for one in every
    )


def _three(survey: Design, found: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """Return the best by each aim, what is wished first before the others; where one ramp is the best in
    several, or hardly differs from a chosen one, the next best that differs stands in. By aims that were not
    wished for none is chosen that is much heavier than it need be.
    """
    first = survey.wishes.first
    order: list[Towards] = [first, *(aim for aim in AIMS if aim != first)]
    lightest = min((one.figures.mass_kg for one in found), default=0.0)
    chosen: list[Proposal] = []
    for aim in order:
        left = [one for one in found if all(differ(one, other) for other in chosen)]
        light = [one for one in left if one.figures.mass_kg <= HEAVIER * lightest]
        if left and len(chosen) < CHOSEN:
            chosen.append(min(left if aim == first else light or left, key=_BY[aim]))
    return tuple(chosen)


def differ(one: Proposal, other: Proposal) -> bool:
    """Return whether two ramps differ where it matters: in how they close, what holds the joint or how they
    come down, or by `NOTICED` in steepest gradient, mass, greatest hand force or cost of stock.
    """
    kinds = [
        (it.design.fold.closing, it.design.stop.kind, it.design.prop.fitted, it.design.toe.kind)
        for it in (one, other)
    ]
    if kinds[0] != kinds[1]:
        return True
    figures = [(it.gradient, it.mass_kg, it.hand_n, it.cost) for it in (one.figures, other.figures)]
    return any(abs(a - b) > NOTICED * max(a, b) for a, b in zip(*figures, strict=True))


def _turned(found: Proposals) -> Proposals:
    def turn(one: Proposal) -> Proposal:
        return replace(one, design=mirrored(one.design))

    return replace(found, chosen=tuple(map(turn, found.chosen)), found=tuple(map(turn, found.found)))
