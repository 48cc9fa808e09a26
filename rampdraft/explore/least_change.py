"""The one search for a value: the least change with which something just passes, on a grid of sizes that a
builder works to.
"""

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.result import MOST_RATIO, Check, Status
from rampdraft.explore.ways_out.results import Value
from rampdraft.model.fields.paths import FieldInfo
from rampdraft.model.fields.record import Dim
from rampdraft.rounding import steps_over, whole_steps

MOST_WIDENINGS: Final = 7
MOST_FLAT: Final = 2
"""So many tries may leave a check just as it is: a support stays lifted, or a clash as deep, until enough is
changed.
"""
MOST_NARROWINGS: Final = 40
MOST_STRIDE: Final = 4
"""No try goes further than so many times as far as the one before it."""
HOPELESS: Final = 1.3
"""A search ends once the value foreseen is so many times further than what can be tried."""
FIRST_STEPS: Final = 10
"""Of the grid, for the first try where neither the check's unit nor the value gives a better guess."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What a trial says of one check."""

    passes: bool
    excess: float | None
    """By how much the limit is exceeded, negative within it; None where no number tells."""
    used: float | None
    """Logarithm of the ratio used; None where the ratio says nothing."""


_End = tuple[int, Outcome]
"""Steps from the present value, and what it comes to there."""

Judge = Callable[[int], Outcome | None]
"""Judges what comes of so many steps; None where it cannot be built or judged."""


def outcome_of(check: Check) -> Outcome | None:
    """Return what a check comes to; None where it cannot be judged."""
    if check.status is Status.UNJUDGED:
        return None
    excess = None
    if check.value is not None and check.limit is not None and check.sense != "is":
        excess = (check.value - check.limit) * (1 if check.sense == "at most" else -1)
    used = math.log(check.ratio) if check.ratio is not None and 0 < check.ratio < MOST_RATIO else None
    return Outcome(passes=not check.fails, excess=excess, used=used)


def grid_of(info: FieldInfo) -> float:
    """Return what sizes are rounded to: whole mm, or the field's own step where that is finer."""
    record = info.record
    assert isinstance(record, Dim)
    return 1.0 if info.value_type is int else float(min(record.step, 1.0))


def stepped(value: Value, sign: int, info: FieldInfo) -> Value:
    """Return a value on its grid one step further."""
    assert isinstance(value, int | float)
    return type(value)(round(value + sign * grid_of(info), 9))


def on_grid(value: float, info: FieldInfo) -> int | float:
    """Return the nearest value on a field's grid."""
    grid = grid_of(info)
    found = round(round(value / grid) * grid, 9)
    return int(found) if info.value_type is int else found


def first_true(passes: Callable[[int], bool | None], doubled: int) -> int | None:
    """Return the least number of steps, from 1, for which something is true that is not before it, found by
    doubling and halving; None where it is not within so many doublings, or cannot be told there.
    """
    low, high = 0, 1
    for _ in range(doubled):
        found = passes(high)
        if found is None:
            return None
        if found:
            break
        low, high = high, 2 * high
    else:
        return None
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (low, middle) if passes(middle) else (middle, high)
    return high


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """The values on one side of the present one, counted in steps of their grid.

    Most checks follow a power of a dimension (a slope its length, a bending stress the square of a
    thickness), so that the logarithm of the ratio is a straight line over that of the value; where there is
    no ratio the excess over the value is.
    """

    origin: int
    sign: int
    grid: float
    last: int
    """The field ends after so many steps."""
    whole: bool = False
    powers: bool = False

    def value(self, steps: int) -> Value:
        """Return the value after so many steps."""
        found = round((self.origin + self.sign * steps) * self.grid, 9)
        return int(found) if self.whole else found

    def along(self, steps: float) -> float:
        """Return the place on which the measure depends in a straight line, more or less."""
        place = self.origin + self.sign * steps
        return math.log(max(abs(place), 0.5)) if self.powers else place

    def steps_to(self, along: float) -> float:
        """Return the steps to a place."""
        place = math.copysign(math.exp(min(along, 50.0)), self.origin) if self.powers else along
        return (place - self.origin) * self.sign

    def measure(self, outcome: Outcome | None) -> float | None:
        """Return what is to become 0 or less."""
        if outcome is None:
            return None
        return outcome.used if self.powers else outcome.excess


def least_change(  # many: where from, how far, what for
    start: float,
    sign: int,
    info: FieldInfo,
    check: Check,
    judge: Callable[[Value], Outcome | None],
    builds: Callable[[Value], bool],
    *,
    bends: bool = False,
) -> Value | None:
    """Return the value nearest to `start` on its grid, up or down by `sign`, with which a check passes; None
    where none is found.

    The measure is followed outward until the check passes, each step as far as the last two foresee, and the
    place where it turns is narrowed down by false position (Dowell and Jarratt's Illinois variant, BIT 11,
    1971) to one step of the grid: the value returned passes and the one before it does not. Where a
    value cannot be built, the search ends at the last one towards it that can. A measure that `bends` may get
    worse before it gets better: a short flap that grows lies lower before it lies flatter.
    """
    before = outcome_of(check)
    record, whole = info.record, info.value_type is int
    assert isinstance(record, Dim)
    assert before is not None
    grid = grid_of(info)
    whole_grid, bound = (whole_steps, record.high) if sign > 0 else (steps_over, record.low)
    origin, end = whole_grid(start, grid), whole_grid(bound, grid)
    line = Line(
        origin=origin,
        sign=sign,
        grid=grid,
        last=abs(end - origin),
        whole=whole,
        powers=before.used is not None and origin * (end or 1) > 0,
    )

    first = _first(line, check, before, record)
    bracket = _bracket(
        line,
        min(first, line.last),
        before,
        lambda steps: judge(line.value(steps)),
        lambda steps: builds(line.value(steps)),
        bends=bends,
    )
    found = None if bracket is None else _narrowed(line, *bracket, lambda steps: judge(line.value(steps)))
    return None if found is None else line.value(found)


def least_step(line: Line, before: Outcome, judge: Judge, tries: Iterable[int]) -> int | None:
    """Return the fewest steps along a line with which something passes that fails `before`; None where it
    passes at none of `tries`, which are looked at in their order.
    """
    bad = (0, before)
    for steps in tries:
        found = judge(steps)
        if found is not None and found.passes:
            return _narrowed(line, bad, (steps, found), judge)
        bad = (steps, found or before)
    return None


def _first(line: Line, check: Check, before: Outcome, record: Dim) -> int:
    """Return the first try: where a first power would bring it, so many mm as are missing, or a few steps."""
    steps = float(FIRST_STEPS)
    if line.powers:
        steps = abs(line.origin) * (math.exp(before.used or 0.0) - 1)
        steps = steps if line.sign > 0 else steps / math.exp(before.used or 0.0)
    elif check.unit == record.unit and before.excess is not None:
        steps = before.excess / line.grid
    return max(1, math.ceil(steps - 1e-9))


def _bracket(  # many: what the search is given
    line: Line,
    steps: int,
    before: Outcome,
    judge: Judge,
    builds: Callable[[int], bool],
    *,
    bends: bool,
) -> tuple[_End, _End] | None:
    """Return the last end that fails and the first that passes, looked for from `steps` outward; None where
    it gets no better or comes to its bounds.
    """
    bad, end, flat = (0, before), line.last, 0
    most_flat = MOST_FLAT if line.measure(before) is not None else MOST_WIDENINGS
    for _ in range(MOST_WIDENINGS):
        steps = min(steps, end)
        if not builds(steps):
            end = steps = _last(builds, bad[0], steps)
        if steps <= bad[0]:
            return None
        found = judge(steps)
        if found is None:
            end, steps = steps - 1, (bad[0] + steps) // 2
            continue
        if found.passes:
            return bad, (steps, found)
        onward = _foreseen(line, bad, (steps, found))
        if bends and onward == math.inf:
            onward = 0.0
        flat += not onward
        if onward > HOPELESS * (end + 1) or flat > most_flat:
            return None
        bad = (steps, found)
        steps = math.ceil(min(max(onward, steps + 1), MOST_STRIDE * steps)) if onward else MOST_STRIDE * steps
    return None


def _last(builds: Callable[[int], bool], low: int, high: int) -> int:
    """Return the last steps from `low`, which can be built, towards `high`, which cannot, that can be."""
    while high - low > 1:
        middle = (low + high) // 2
        low, high = (middle, high) if builds(middle) else (low, middle)
    return low


def _foreseen(line: Line, before: _End, now: _End) -> float:
    """Return after how many steps the check would pass if it went on like this; infinitely many where it gets
    worse.

    0 where nothing can be foreseen.
    """
    (s0, one), (s1, other) = before, now
    m0, m1 = line.measure(one), line.measure(other)
    if m0 is None or m1 is None or abs(m0 - m1) <= 1e-9 * abs(m0):
        return 0.0
    if m0 < m1:
        return math.inf
    overshoot = 1.03 if line.powers else 1.2
    return line.steps_to(line.along(s1) + overshoot * m1 * (line.along(s1) - line.along(s0)) / (m0 - m1))


def _narrowed(line: Line, bad: _End, good: _End, judge: Judge) -> int:
    """Return the first step that passes, between one that fails and one that passes.

    By false position; where what passes has no measure, by halves and by what the last two that fail foresee,
    in turns.
    """
    (a, failing), (b, passing) = bad, good
    m_a, m_b = line.measure(failing), line.measure(passing)
    side, onward = 0, 0.0
    for _ in range(MOST_NARROWINGS):
        if b - a <= 1:
            break
        steps = math.ceil(min(max(onward, a + 1), b - 1)) if onward else (a + b) // 2
        if m_a is not None and m_b is not None and m_a > 0 >= m_b:
            near, far = line.along(a), line.along(b)
            steps = math.ceil(line.steps_to(near + (far - near) * m_a / (m_a - m_b)) - 1e-6)
            steps = min(max(steps, a + 1), b - 1)
        found = judge(steps)
        if found is not None and found.passes:
            b, m_b = steps, line.measure(found)
            m_a = m_a / 2 if m_a is not None and side > 0 else m_a
            side, onward = 1, 0.0
        else:
            a, m_a = steps, line.measure(found)
            m_b = m_b / 2 if m_b is not None and side < 0 else m_b
            now = (steps, found or failing)
            side, onward, bad = -1, 0.0 if onward else _foreseen(line, bad, now), now
    return b
