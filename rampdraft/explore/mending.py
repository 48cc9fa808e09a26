"""From a design that fails to one that does not: a sequence of ways out, shown before any is taken.

The ways out of all that fails are asked for, those of rolling once nothing else can be mended, and what
breaks nothing (but perhaps of rolling, which is looked at before it is taken, since it takes longest) is
taken, one after the other: first what leaves least failing. Where none is left, ways that
break something are weighed by what going on from there leaves (one look ahead), and the best is taken if less
fails then. At the end, edits that later ones have made idle are left out.

The same design gives the same edits: all is ordered by numbers, then by paths.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import chain
from typing import Final

from rampdraft.checks.result import MOST_RATIO, Check
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.ways_out.results import Change, WayOut
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.wishes.results import WhyNot
from rampdraft.explore.wishes.why import barring, clashes
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import changed, value_of
from rampdraft.progress import Progress, nobody
from rampdraft.words.say import say

Ways = dict[str, tuple[WayOut, ...]]
"""Of failing checks, by their ids."""

MOST_ASKED: Final = 14
"""So many times ways out are asked for."""
MOST_AHEAD: Final = 3
"""So many ways that break something are weighed where no other is left."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """A step on the way: what is changed, and what that does to the checks."""

    changes: tuple[Change, ...]
    cures: tuple[Check, ...]
    """As they failed before."""
    breaks: tuple[Check, ...]
    """As they fail then; a later edit cures them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
    """A check that still fails, and why."""

    check: Check
    bar: WhyNot | None
    """The wishes that no ramp gets past; None where nothing of the kind is known."""
    ways: int
    """Ways out of it that were found, all of which make other checks fail; 0 for none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Mending:
    """What mends a design: all of it, or as much as was found."""

    edits: tuple[Edit, ...]
    design: Design
    """With all edits taken."""
    left: tuple[Left, ...]


def mend(evaluation: Evaluation, progress: Progress = nobody) -> Mending:
    """Return the edits that bring every failing check of a design within its limit, in their order, and what
    still fails after them.

    Ways out are asked for at most `MOST_ASKED` times. Raises what `progress` raises.
    """
    asking = _Asking(evaluation, progress)
    now, taken = evaluation, list[WayOut]()
    while failing(now) and not asking.spent:
        after, some, found = _through(now, asking)
        if not some:
            after, some = _ahead(now, found, asking)
        if not some:
            break
        now, taken = after, taken + some
    kept = _needed(evaluation, taken, failing(now), asking)
    edits, now = _replayed(evaluation, kept)
    return Mending(edits=edits, design=now.design, left=_left(now, asking.found) if failing(now) else ())


class _Asking:
    """Asks for ways out, no more than so many times, and tells how far the work is."""

    def __init__(self, evaluation: Evaluation, progress: Progress) -> None:
        self._begun, self._progress, self._asked = max(len(failing(evaluation)), 1), progress, 0
        self._last = (0.0, say("{count} of {all} mended", count=0, all=self._begun))
        self.found: Ways = {}
        """What was found of each check when it was asked for last."""

    @property
    def spent(self) -> bool:
        """Return whether no more is asked."""
        return self._asked >= MOST_ASKED

    def still(self) -> None:
        """Tell that it goes on. Raises what the progress raises."""
        self._progress(*self._last)

    def ways(self, now: Evaluation, ids: frozenset[str]) -> Ways:
        """Return the ways out of some failing checks."""
        if self.spent:
            return {}
        mended = max(self._begun - len(failing(now)), 0)
        words = say("{count} of {all} corrected", count=mended, all=self._begun)

        def told(share: float, _words: str) -> None:
            self._last = (self._asked + share) / MOST_ASKED, words
            self._progress(*self._last)

        found = ways_out(now, ids, told, rolling=bool(ids & _ids(now.rolled)))
        self._asked += 1
        self.found |= found
        return found


def failing(evaluation: Evaluation) -> frozenset[str]:
    """Return the ids of the checks that fail."""
    return _ids(check for check in evaluation.all_checks if check.fails)


def _ids(checks: Iterable[Check]) -> frozenset[str]:
    return frozenset(check.id for check in checks)


def _within(evaluation: Evaluation, least: frozenset[str]) -> bool:
    """Return whether nothing fails but what may: rolling, which takes longest, is looked at last."""
    return _ids(check for check in evaluation.checks if check.fails) <= least and failing(evaluation) <= least


def _through(now: Evaluation, asking: _Asking) -> tuple[Evaluation, list[WayOut], Ways]:
    """Return what comes of the ways that break nothing, taken one after the other, which were taken, and all
    that were found. Checks of rolling, which take longest, are asked about once no other can be mended.
    """
    taken: list[WayOut] = []
    found: Ways = {}
    rolled = _ids(now.rolled)
    for ids in (failing(now) - rolled, failing(now) & rolled):
        if taken or not ids:
            continue
        some = asking.ways(now, ids)
        found |= some
        for way in _ordered(one for ways in some.values() for one in ways if not one.breaks):
            asking.still()
            after = _after(now, way)
            if after is not None and _within(after, failing(now)) and failing(after) != failing(now):
                now = after
                taken.append(way)
    return now, taken, found


def _ahead(now: Evaluation, found: Ways, asking: _Asking) -> tuple[Evaluation, list[WayOut]]:
    """Return the best that comes of a way that breaks something and of going through after it; nothing where
    no less fails then.
    """
    best, at, some = _amount(now), now, list[WayOut]()
    for way in _ordered(chain.from_iterable(found.values()))[:MOST_AHEAD]:
        asking.still()
        after = _after(now, way)
        if after is None:
            continue
        further, more = after, list[WayOut]()
        if _amount(after) >= best:
            further, more, _ = _through(after, asking)
        if _amount(further) < best:
            best, at, some = _amount(further), further, [way, *more]
    return at, some


def _ordered(ways: Iterable[WayOut]) -> list[WayOut]:
    """Return ways, those first that leave least failing; of equals the least change."""
    every = {way.changes: way for way in ways}
    return sorted(
        every.values(),
        key=lambda way: (
            sum(effect.breaks for effect in way.worsens) - len(way.cures),
            round(way.share, 9),
            tuple(change.path for change in way.changes),
        ),
    )


def _amount(one: Evaluation) -> tuple[int, float]:
    """Return how many checks fail, and by how much together."""
    ratios = [min(check.ratio or MOST_RATIO, MOST_RATIO) for check in one.all_checks if check.fails]
    return len(ratios), round(sum(ratios), 6)


def _after(now: Evaluation, way: WayOut) -> Evaluation | None:
    try:
        return now.following(_with(now.design, way.changes))
    except DesignError:
        return None


def _with(design: Design, changes: Iterable[Change]) -> Design:
    for change in changes:
        design = changed(design, change.path, change.after)
    return design


def _needed(base: Evaluation, taken: list[WayOut], least: frozenset[str], asking: _Asking) -> list[WayOut]:
    """Return the ways without which more would fail: one after the other is left out, the first first."""
    kept = list(taken)
    for way in taken:
        asking.still()
        others = [one for one in kept if one is not way]
        try:
            design = base.design
            for one in others:
                design = _with(design, one.changes)
            if _within(base.following(design), least):
                kept = others
        except DesignError:
            continue
    return kept


def _replayed(base: Evaluation, ways: list[WayOut]) -> tuple[tuple[Edit, ...], Evaluation]:
    """Return the edits that ways come to, each with what it does where it stands; ways whose design cannot be
    built before the next one has been taken are one edit.
    """
    edits: list[Edit] = []
    now, design, waiting = base, base.design, list[Change]()
    for way in ways:
        waiting += _moves(design, way)
        design = _with(design, way.changes)
        try:
            after = now.following(design)
        except DesignError:
            continue
        before = {check.id: check for check in now.all_checks if check.fails}
        then = {check.id: check for check in after.all_checks if check.fails}
        edits.append(
            Edit(
                changes=tuple(waiting),
                cures=tuple(check for id, check in before.items() if id not in then),
                breaks=tuple(check for id, check in then.items() if id not in before),
            )
        )
        now, waiting = after, []
    return tuple(edits), now


def _moves(design: Design, way: WayOut) -> Iterable[Change]:
    """Yield what a way changes from what there is now."""
    for change in way.changes:
        before = value_of(design, change.path)
        if before != change.after:
            yield Change(
                path=change.path, before=change.before if before is None else before, after=change.after
            )


def _left(now: Evaluation, ways: Ways) -> tuple[Left, ...]:
    found = clashes(now.design, now.rule_sets)
    return tuple(
        Left(check=check, bar=barring(found, check), ways=len(ways.get(check.id, ())))
        for check in now.all_checks
        if check.fails
    )
