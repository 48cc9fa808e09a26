"""The ways out of every failing check of a design, worked out together: what several checks ask of a trial is
judged once, and rolled over only where that says something.
"""

import math
from collections.abc import Iterator, Mapping
from functools import partial
from itertools import chain
from typing import Final

from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.result import Check, Status, worst_first
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.least_change import Outcome, first_true, grid_of, least_change, on_grid, outcome_of
from rampdraft.explore.ways_out.candidates import candidates_of
from rampdraft.explore.ways_out.levers import Follow, Lever, alone, levers_of
from rampdraft.explore.ways_out.others import others
from rampdraft.explore.ways_out.results import Change, Effect, Value, WayOut
from rampdraft.explore.ways_out.rolled import AllRolled, RolledAgain
from rampdraft.explore.ways_out.trial import again, all_again
from rampdraft.model.fields.paths import FieldInfo, changed, info_of, value_of
from rampdraft.model.fields.record import Dim
from rampdraft.model.sold import sold_sizes
from rampdraft.progress import Progress, nobody

MOST_SIZES: Final = 6
"""So many sizes that are sold are tried each way."""
WORTH_TELLING: Final = 1.05
"""A check that fails already is told to get worse from this factor on its ratio."""
MOST_DOUBLED: Final = 9
"""So often the step is doubled with which another check is sought to pass."""
MOST_TAKEN_UP: Final = 5
"""So often a search goes on: for another one who fails the same check, for another check that fails then."""


def ways_out(
    evaluation: Evaluation,
    only: str | frozenset[str] = "",
    progress: Progress = nobody,
    *,
    rolling: bool = True,
) -> dict[str, tuple[WayOut, ...]]:
    """Return, by the id of each failing check, what change just cures it: the least change first, and last
    what makes another check fail.

    First single values are tried (`candidates`); where each of them makes another check fail, or there is
    none, several together (`levers`), which are told where they break nothing, or are less of a change.
    Empty for a check that nothing tried cures. With `only` it is asked of the check of that id alone, or of
    those. Every way is judged by all checks, so that it says what else it does; one that leaves a member held
    by nothing, or in another's place, is none. What takes longest is what it does to checks of rolling: left
    out without `rolling`, and of a way that makes another check fail as it is. Raises what `progress` raises.
    """
    asked_for = frozenset((only,)) if isinstance(only, str) and only else only
    failing = [one for one in evaluation.all_checks if one.fails and (not asked_for or one.id in asked_for)]
    ways: dict[str, list[WayOut]] = {check.id: [] for check in failing}
    rolled = {
        check.id: RolledAgain(evaluation, check) for check in failing if isinstance(check.found, Rolled)
    }
    all_rolled = AllRolled(evaluation) if rolling else None
    several = {check.id: levers_of(check, evaluation.design) for check in failing}
    single = {check.id: tuple(map(alone, candidates_of(check, evaluation.design))) for check in failing}
    count = sum(len(set(chain.from_iterable(some.values()))) for some in (single, several))
    done = 0
    for levers in (single, several):
        wanted: dict[tuple[str, tuple[Follow, ...]], list[tuple[Check, str]]] = {}
        for check in failing:
            if all(way.breaks for way in ways[check.id]):
                for one in levers[check.id]:
                    wanted.setdefault((one.lead, one.follow), []).append((check, one.signs))
        for (lead, follow), asked in wanted.items():
            progress(done / count, "")
            done += 1
            bench = _Bench(evaluation, Lever(lead=lead, follow=follow), rolled, all_rolled)
            for check, signs in asked:
                found = bench.least(check, signs)
                least = min((one.share for one in ways[check.id]), default=math.inf) if follow else math.inf
                if found is not None and (bench.share(*found) < least or not bench.breaks(found[0])):
                    ways[check.id].append(bench.told(check, *found))
    return {
        id: tuple(sorted(found, key=lambda way: (way.breaks, round(way.share, 9))))
        for id, found in ways.items()
    }


class _Bench:
    """The trials of one lever, each made once for all checks."""

    def __init__(
        self,
        evaluation: Evaluation,
        lever: Lever,
        rolled: Mapping[str, RolledAgain],
        all_rolled: AllRolled | None,
    ) -> None:
        self.lever, self.evaluation, self._rolled, self._rolling = lever, evaluation, rolled, all_rolled
        self.before: Value | None = value_of(evaluation.design, lever.lead)
        self._known = {check.id for check in evaluation.checks}
        self._failing = {check.id for check in self._checks if check.fails}
        self._trials: dict[Value, Evaluation | None] = {}
        self._judged: dict[Value, dict[str, Check]] = {}

    @property
    def _checks(self) -> tuple[Check, ...]:
        """Return the checks of the design as it is that ways are judged by."""
        return self.evaluation.all_checks if self._rolling else self.evaluation.checks

    def least(self, check: Check, signs: str) -> tuple[Value, float] | None:
        """Return the value that cures a check with the share by which it changes: the least, rather one that
        makes no other check fail.
        """
        found = list(self._ways(check, signs))
        if len(found) < 2:
            return next(iter(found), None)
        return min(found, key=lambda one: (self.breaks(one[0]), one[1]))

    def share(self, value: Value, share: float) -> float:
        """Return how great a change is with all that follows it, the root of the sum of squares."""
        _, *beside = self._changes(value)
        return math.hypot(share, *map(share_of, beside))

    def breaks(self, value: Value) -> bool:
        """Return whether a check fails with a value that does not fail without: rolling is asked last."""
        return bool(self._broken(value)) or any(
            check.fails and check.id not in self._failing for check in self._rolled_over(value)
        )

    def told(self, check: Check, value: Value, share: float) -> WayOut:
        """Return a way out that cures a check, with all that it does besides."""
        lead, *beside = self._changes(value)
        rolls = not (self._rolling is None or self._broken(value))
        every = worst_first((*self._judged_by(value).values(), *(self._rolled_over(value) if rolls else ())))
        known = self.evaluation.all_checks if rolls else self.evaluation.checks
        before, after = ({one.id: one for one in checks} for checks in (known, every))
        cures: list[Effect] = []
        worsens: list[Effect] = []
        for id in dict.fromkeys((*before, *after)):
            effect = Effect(before=before.get(id), after=after.get(id))
            if id != check.id and _cured(effect):
                cures.append(effect)
            elif _worse(effect):
                worsens.append(effect)
        worsens.sort(key=lambda one: -(one.after.ratio or 0.0) if one.after is not None else 0.0)
        return WayOut(
            path=lead.path,
            before=lead.before,
            after=lead.after,
            share=self.share(value, share),
            beside=tuple(beside),
            cures=tuple(cures),
            worsens=tuple(worsens),
            rolls=rolls,
        )

    def _changes(self, value: Value) -> tuple[Change, ...]:
        changes = self.lever.changes(self.evaluation.design, value)
        assert changes is not None
        return changes

    def _trial(self, value: Value) -> Evaluation | None:
        """Return the design with this value; None where it cannot be built."""
        if value not in self._trials:
            self._trials[value] = self._built(value)
        return self._trials[value]

    def _judged_by(self, value: Value) -> dict[str, Check]:
        """Return all checks but those of rolling of a design that can be built, by id."""
        if value not in self._judged:
            trial = self._trial(value)
            assert trial is not None
            self._judged[value] = {check.id: check for check in all_again(trial)}
        return self._judged[value]

    def _rolled_over(self, value: Value) -> tuple[Check, ...]:
        """Return the checks of rolling, where they are wanted."""
        trial = self._trial(value)
        return self._rolling.checks(trial) if self._rolling is not None and trial is not None else ()

    def _ways(self, check: Check, signs: str) -> Iterator[tuple[Value, float]]:
        """Yield the values that cure a check, with the share by which each changes; of a dimension one a
        direction.
        """
        info = info_of(self.lever.lead)
        assert info is not None
        if self.before is None:
            return
        if isinstance(info.record, Dim):
            assert isinstance(self.before, int | float)
            sizes = sold_sizes(self.evaluation.design, self.lever.lead)
            for sign in signs:
                way = 1 if sign == "+" else -1
                sold = self._sold(check, self.before, way, sizes) if sizes else None
                found = sold if sizes else self._root(check, self.before, way, info)
                if found is None:
                    continue
                # What rolls takes too long to be passed by without need.
                stays = sizes or (check.id in self._rolled and not self.lever.settles)
                further = None if stays else self._further(check, self.before, found[0], way, info)
                if further is None or not self.lever.settles:
                    yield found
                if further is not None and (self.lever.settles or not self._broken(further[0])):
                    yield further
            return
        for value, share in others(self.evaluation.design, info, self.before, check.ratio or 1.0):
            outcome = self._judge(check, value)
            if outcome is not None and outcome.passes and self._beyond(check, value) is None:
                yield value, abs(share)
                return

    def _sold(
        self, check: Check, start: float, sign: int, sizes: tuple[float, ...]
    ) -> tuple[float, float] | None:
        """Return the size nearest to the present one that is sold, and cures a check."""
        onward = sorted(
            (size for size in sizes if (size - start) * sign > 0), key=lambda size: abs(size - start)
        )
        for size in onward[:MOST_SIZES]:
            outcome = self._judge(check, size)
            if outcome is None and self._trial(size) is None:
                return None
            if outcome is not None and outcome.passes and self._beyond(check, size) is None:
                return size, abs(size - start) / max(abs(size), abs(start))
        return None

    def _root(self, check: Check, start: float, sign: int, info: FieldInfo) -> tuple[float, float] | None:
        """Return the nearest value with which a check passes by itself, then among all: where
        it fails there, for another user or between other parts, the search goes on from there.
        """
        found, said = start, check
        for number in range(MOST_TAKEN_UP):
            value = least_change(
                found,
                sign,
                info,
                said,
                partial(self._judge, said, near=not number),
                lambda one: self._trial(one) is not None,
                bends=check.id in self._rolled,
            )
            if value is None:
                return None
            assert isinstance(value, int | float)
            found, beyond = value, self._beyond(check, value)
            if beyond is None:
                return found, abs(found - start) / max(abs(found), abs(start))
            said = beyond
        return None

    def _further(
        self, check: Check, start: float, value: float, sign: int, info: FieldInfo
    ) -> tuple[float, float] | None:
        """Return, beyond a value with which a check passes, the one with which least fails that did not fail
        before; None where no less fails. A stop bar that is just low enough to lie on its rail still stands
        in the way of the slats.

        For the worst of those that fail the search goes on until that one passes too, and so on.
        """
        best, fewest = None, len(self._broken(value))
        for _ in range(MOST_TAKEN_UP):
            onward = (self._onward(value, sign, info, one) for one in self._broken(value))
            further = next((one for one in onward if one is not None), None)
            if further is None:
                break
            value = further
            if len(self._broken(value)) < fewest and self._beyond(check, value) is None:
                best, fewest = value, len(self._broken(value))
        return None if best is None else (best, abs(best - start) / max(abs(best), abs(start)))

    def _onward(self, start: float, sign: int, info: FieldInfo, said: Check) -> float | None:
        """Return the next value with which a check passes that fails at one: it may get worse before."""
        record, grid = info.record, grid_of(info)
        assert isinstance(record, Dim)

        def passes(steps: int) -> bool | None:
            at = on_grid(start + sign * steps * grid, info)
            outcome = self._judge(said, at) if record.low <= at <= record.high else None
            return None if outcome is None else outcome.passes

        steps = first_true(passes, MOST_DOUBLED)
        return None if steps is None else on_grid(start + sign * steps * grid, info)

    def _broken(self, value: Value) -> list[Check]:
        """Return the checks but those of rolling that fail with a value and do not fail without, the worst
        first.
        """
        judged = self._judged_by(value).values()
        found = [check for check in judged if check.fails and check.id not in self._failing]
        return sorted(found, key=lambda one: -round(one.ratio or math.inf, 9))

    def _beyond(self, check: Check, value: Value) -> Check | None:
        """Return the check as it fails judged together with all others; None where it does not."""
        trial = self._trial(value)
        if trial is not None and check.id in self._rolled:
            still = self._rolled[check.id].beyond(trial)
            if still is not None:
                return still
            rolled = (one for one in self._rolled_over(value) if one.id == check.id)
            after = next(rolled, None)
        else:
            after = self._judged_by(value).get(check.id)
        return after if after is not None and after.fails else None

    def _leaves_unbuilt(self, trial: Evaluation) -> bool:
        """Return whether nobody would build a trial, who would have built the design: a member is held by
        nothing, or is in another's place.
        """
        before = {check.id for check in self.evaluation.attaching if check.fails}
        return any(check.fails and check.id not in before for check in trial.attaching)

    def _judge(self, check: Check, value: Value, *, near: bool = True) -> Outcome | None:
        trial, rolled = self._trial(value), self._rolled.get(check.id)
        if trial is None:
            return None
        if rolled is not None:
            found = rolled.alone(trial, check, near=near)
        elif check.id in self._known:
            found = again(trial, self.evaluation, check)
        else:  # what only the change brings
            found = self._judged_by(value).get(check.id)
        if found is not None:
            outcome = outcome_of(found)
            if outcome is not None and outcome.passes and self._leaves_unbuilt(trial):
                return Outcome(passes=False, excess=None, used=None)
            return outcome
        # A pair may have gone, or what a wheel met; nothing else goes away by being cured.
        if check.about.pair is None and rolled is None:
            return None
        return Outcome(passes=not self._leaves_unbuilt(trial), excess=None, used=None)

    def _built(self, value: Value) -> Evaluation | None:
        design = self.evaluation.design
        try:
            for change in self.lever.changes(design, value) or ():
                design = changed(design, change.path, change.after)
            return self.evaluation.following(design) if design != self.evaluation.design else None
        except DesignError:
            return None


def share_of(change: Change) -> float:
    """Return how great a change is, of the greater of both values; 1 for another kind of thing."""
    before, after = change.before, change.after
    if isinstance(before, bool) or not (isinstance(before, int | float) and isinstance(after, int | float)):
        return 1.0
    return abs(after - before) / max(abs(before), abs(after), 1e-9)


def _cured(effect: Effect) -> bool:
    before, after = effect.before, effect.after
    return (
        before is not None
        and before.fails
        and (after is None or not (after.fails or after.status is Status.UNJUDGED))
    )


def _worse(effect: Effect) -> bool:
    before, after = effect.before, effect.after
    if after is None:
        return False
    if after.status is Status.UNJUDGED:
        return before is not None and before.status is not Status.UNJUDGED
    if before is None or not before.fails:
        return after.fails
    return after.fails and (after.ratio or 0.0) > WORTH_TELLING * (before.ratio or math.inf)
