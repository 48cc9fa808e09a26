"""The ways out of every failing check of a design, worked out together: what several checks ask of a trial is
judged once.
"""

import math
from collections.abc import Iterator, Mapping
from functools import partial
from itertools import chain
from typing import Final

from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.result import Check, Status
from rampdraft.errors import DesignError
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.least_change import Outcome, first_true, grid_of, least_change, on_grid, outcome_of
from rampdraft.explore.ways_out.candidates import candidates_of
from rampdraft.explore.ways_out.levers import Follow, Lever, alone, levers_of
from rampdraft.explore.ways_out.others import others
from rampdraft.explore.ways_out.results import Change, Effect, Value, WayOut
from rampdraft.explore.ways_out.rolled import RolledAgain
from rampdraft.explore.ways_out.trial import again, all_again
from rampdraft.model.fields.paths import FieldInfo, changed, info_of, value_of
from rampdraft.model.fields.record import Dim
from rampdraft.model.sold import sold_sizes
from rampdraft.progress import Progress, nobody

MOST_SIZES: Final = 6
"""So many sizes that are sold are tried each way."""
WORTH_TELLING: Final = 1.05
"""A check that fails already is told to get worse from this factor on its ratio."""

MOST_DOUBLED: Final = 7
"""So often the step is doubled with which something is sought that makes no other check fail."""
MOST_TAKEN_UP: Final = 5
"""So often a search goes on for another one who fails the same check."""


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
    by nothing, or in another's place, is none. Without `rolling` what it does to checks of rolling is left
    out, which take longest. Raises what `progress` raises.
    """
    asked_for = frozenset((only,)) if isinstance(only, str) and only else only
    failing = [one for one in evaluation.all_checks if one.fails and (not asked_for or one.id in asked_for)]
    ways: dict[str, list[WayOut]] = {check.id: [] for check in failing}
    rolled = {
        check.id: RolledAgain(evaluation, check) for check in failing if isinstance(check.found, Rolled)
    }
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
            bench = _Bench(evaluation, Lever(lead=lead, follow=follow), rolled, rolling=rolling)
            for check, way in _found(bench, asked):
                told = ways[check.id]
                if not (follow and told and way.breaks and way.share >= min(one.share for one in told)):
                    told.append(way)
    return {
        id: tuple(sorted(found, key=lambda way: (way.breaks, round(way.share, 9))))
        for id, found in ways.items()
    }


def _found(bench: "_Bench", asked: list[tuple[Check, str]]) -> Iterator[tuple[Check, WayOut]]:
    """Yield the least way out by what is tried on a bench, of each check that asks for it; rather one that
    makes no other check fail.
    """
    for check, signs in asked:
        found = min(
            bench.ways(check, signs), key=lambda one: (bool(bench.broken(one[0])), one[1]), default=None
        )
        if found is not None:
            yield check, _told(bench, check, *found)


class _Bench:
    """The trials of one lever, each made once for all checks."""

    def __init__(
        self, evaluation: Evaluation, lever: Lever, rolled: Mapping[str, RolledAgain], *, rolling: bool
    ) -> None:
        self.lever, self.evaluation, self._rolled, self._rolling = lever, evaluation, rolled, rolling
        self.before: Value | None = value_of(evaluation.design, lever.lead)
        self._trials: dict[Value, Evaluation | None] = {}
        self._judged: dict[Value, dict[str, Check]] = {}

    @property
    def checks(self) -> tuple[Check, ...]:
        """Return the checks of the design as it is that ways are judged by."""
        return self.evaluation.all_checks if self._rolling else self.evaluation.checks

    def trial(self, value: Value) -> Evaluation | None:
        """Return the design with this value; None where it cannot be built."""
        if value not in self._trials:
            self._trials[value] = self._built(value)
        return self._trials[value]

    def judged(self, value: Value) -> dict[str, Check]:
        """Return all checks of a design that can be built, by id."""
        if value not in self._judged:
            trial = self.trial(value)
            assert trial is not None
            self._judged[value] = all_again(trial, rolling=self._rolling)
        return self._judged[value]

    def ways(self, check: Check, signs: str) -> Iterator[tuple[Value, float]]:
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
                if found is not None and self.lever.settles:
                    found = self._settled(check, self.before, found[0], way, info)
                if found is not None:
                    yield found
                    further = (
                        None if sizes or self.lever.settles else self._further(check, found[0], way, info)
                    )
                    if further is not None:
                        yield further
            return
        for value, share in others(self.evaluation.design, info, self.before, check.ratio or 1.0):
            outcome = self._judge(check, value)
            if outcome is not None and outcome.passes and self._beyond(check, value) is None:
                yield value, abs(share)
                return

    def _sold(
        self, check: Check, start: float, sign: int, sizes: tuple[float, ...]
    ) -> tuple[Value, float] | None:
        """Return the size nearest to the present one that is sold, and cures a check."""
        onward = sorted(
            (size for size in sizes if (size - start) * sign > 0), key=lambda size: abs(size - start)
        )
        for size in onward[:MOST_SIZES]:
            outcome = self._judge(check, size)
            if outcome is None and self.trial(size) is None:
                return None
            if outcome is not None and outcome.passes and self._beyond(check, size) is None:
                return size, abs(size - start) / max(abs(size), abs(start))
        return None

    def _root(self, check: Check, start: float, sign: int, info: FieldInfo) -> tuple[Value, float] | None:
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
                lambda one: self.trial(one) is not None,
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

    def _settled(
        self, check: Check, start: float, value: Value, sign: int, info: FieldInfo
    ) -> tuple[Value, float]:
        """Return, from a value on with which a check passes, the one with which least fails that did not fail
        before: for each of those the search goes on as long as one passes.
        """
        values, broken = [value], self.broken(value)
        best = len(broken), value
        while broken and len(values) < MOST_TAKEN_UP:
            known = (one for one in broken if self._known(one))
            onward = (self._onward(values[-1], sign, info, one) for one in known)
            further = next((one for one in onward if one is not None), None)
            if further is None:
                break
            values.append(further)
            broken = self.broken(further)
            if self._beyond(check, further) is None and len(broken) < best[0]:
                best = len(broken), further
        found = best[1]
        assert isinstance(found, int | float)
        if best[0]:
            found = self._with_less(check, found, sign, info, best[0])
        return found, abs(found - start) / max(abs(found), abs(start))

    def _with_less(self, check: Check, start: float, sign: int, info: FieldInfo, most: int) -> float:
        """Return the next value with which a check passes and fewer than so many others fail; the first where
        there is none: what only a lever brings cannot be judged without it.
        """
        record, grid = info.record, grid_of(info)
        assert isinstance(record, Dim)

        def passes(steps: int) -> bool | None:
            at = on_grid(start + sign * steps * grid, info)
            if not record.low <= at <= record.high or self.trial(at) is None:
                return None
            return len(self.broken(at)) < most and self._beyond(check, at) is None

        steps = first_true(passes, MOST_DOUBLED)
        return start if steps is None else on_grid(start + sign * steps * grid, info)

    def _onward(self, value: Value, sign: int, info: FieldInfo, said: Check) -> Value | None:
        """Return the next value with which a check passes that fails at one."""
        assert isinstance(value, int | float)
        return least_change(
            value,
            sign,
            info,
            said,
            partial(self._judge, said),
            lambda one: self.trial(one) is not None,
            bends=said.id in self._rolled,
        )

    def broken(self, value: Value) -> list[Check]:
        """Return the checks that fail with a value and do not fail without, the worst first."""
        before = {check.id for check in self.checks if check.fails}
        found = [check for check in self.judged(value).values() if check.fails and check.id not in before]
        return sorted(found, key=lambda one: -round(one.ratio or math.inf, 9))

    def _further(self, check: Check, value: Value, sign: int, info: FieldInfo) -> tuple[Value, float] | None:
        """Return a value beyond one that cures a check and makes another one fail, with which neither fails:
        a stop bar that is just low enough to lie on its rail still stands in the way of the slats.
        """
        broken = self.broken(value)
        if not broken or check.id in self._rolled or not self._known(broken[0]):
            return None
        record = info.record
        assert isinstance(record, Dim)
        assert isinstance(self.before, int | float)
        assert isinstance(value, int | float)
        grid, start = grid_of(info), value

        def passes(steps: int) -> bool | None:
            at = on_grid(start + sign * steps * grid, info)
            if not record.low <= at <= record.high or self.trial(at) is None:
                return None
            outcome = self._judge(broken[0], at)
            return outcome is not None and outcome.passes

        steps = first_true(passes, MOST_DOUBLED)
        if steps is None:
            return None
        found = on_grid(start + sign * steps * grid, info)
        outcome = self._judge(check, found)
        if outcome is None or not outcome.passes or self._beyond(check, found) or self.broken(found):
            return None
        return found, abs(found - self.before) / max(abs(found), abs(self.before))

    def _known(self, check: Check) -> bool:
        """Return whether a check is one of the design as it is, and none of rolling, which takes long."""
        ids = {one.id for one in self.evaluation.all_checks}
        return check.id in ids and not isinstance(check.found, Rolled)

    def _beyond(self, check: Check, value: Value) -> Check | None:
        """Return the check as it fails judged together with all others; None where it does not."""
        trial = self.trial(value)
        if trial is not None and check.id in self._rolled:
            still = self._rolled[check.id].beyond(trial)
            if still is not None:
                return still
        after = self.judged(value).get(check.id)
        return after if after is not None and after.fails else None

    def _leaves_unbuilt(self, trial: Evaluation) -> bool:
        """Return whether nobody would build a trial, who would have built the design: a member is held by
        nothing, or is in another's place.
        """
        before = {check.id for check in self.evaluation.attaching if check.fails}
        return any(check.fails and check.id not in before for check in trial.attaching)

    def _judge(self, check: Check, value: Value, *, near: bool = True) -> Outcome | None:
        trial, rolled = self.trial(value), self._rolled.get(check.id)
        if trial is None:
            return None
        if rolled is not None:
            found = rolled.alone(trial, check, near=near)
        else:
            found = again(trial, self.evaluation, check)
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


def _told(bench: _Bench, check: Check, value: Value, share: float) -> WayOut:
    changes = bench.lever.changes(bench.evaluation.design, value)
    assert changes is not None
    before, after = {check.id: check for check in bench.checks}, bench.judged(value)
    cures: list[Effect] = []
    worsens: list[Effect] = []
    for id in dict.fromkeys((*before, *after)):
        effect = Effect(before=before.get(id), after=after.get(id))
        if id != check.id and _cured(effect):
            cures.append(effect)
        elif _worse(effect):
            worsens.append(effect)
    worsens.sort(key=lambda one: -(one.after.ratio or 0.0) if one.after is not None else 0.0)
    lead, *beside = changes
    return WayOut(
        path=lead.path,
        before=lead.before,
        after=lead.after,
        share=math.hypot(share, *map(share_of, beside)),
        beside=tuple(beside),
        cures=tuple(cures),
        worsens=tuple(worsens),
    )


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
