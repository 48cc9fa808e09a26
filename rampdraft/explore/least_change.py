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
"""A search ends once the value foreseen is so many times further than what can be built."""
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

Judge = Callable[[Value], Outcome | None]
"""Judges a value; None where it cannot be built or the check cannot be judged."""


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


def least_change(start: float, sign: int, info: FieldInfo, check: Check, judge: Judge) -> Value | None:
    """Return the value nearest to `start` on its grid, up or down by `sign`, with which a check passes; None
    where none is found.

    The measure is followed outward until the check passes, each step as far as the last two foresee, and the
    place where it turns is narrowed down by false position (Dowell and Jarratt's Illinois variant, BIT 11,
    1971) to one step of the grid: the value returned passes and the one before it does not. A value that
    cannot be built bounds the search.
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
    found = least_step(line, before, lambda steps: judge(line.value(steps)), first=first)
    return None if found is None else line.value(found)


def least_step(
    line: Line,
    before: Outcome,
    judge: Callable[[int], Outcome | None],
    *,
    first: int = FIRST_STEPS,
    tries: Iterable[int] = (),
) -> int | None:
    """Return the fewest steps along a line with which something passes that fails `before`, or None.

    What passes is looked for at `tries` where they are given, in their order; else from `first` outward as
    far as the last two outcomes foresee.
    """
    bracket = _among(tries, before, judge) if tries else _bracket(line, min(first, line.last), before, judge)
    return None if bracket is None else _narrowed(line, *bracket, judge)


def _among(
    tries: Iterable[int], before: Outcome, judge: Callable[[int], Outcome | None]
) -> tuple[_End, _End] | None:
    """Return the first try that passes, and the one before it."""
    bad = (0, before)
    for steps in tries:
        found = judge(steps)
        if found is not None and found.passes:
            return bad, (steps, found)
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


def _bracket(
    line: Line, first: int, before: Outcome, tried: Callable[[int], Outcome | None]
) -> tuple[_End, _End] | None:
    """Return the last end that fails and the first that passes; None where it gets no better or comes to its
    bounds.
    """
    bad, steps, bound, flat = (0, before), first, line.last + 1, 0
    for _ in range(MOST_WIDENINGS):
        if steps <= bad[0]:
            return None
        found = tried(steps)
        if found is None:
            bound = steps
            steps = (bad[0] + bound) // 2
            continue
        if found.passes:
            return bad, (steps, found)
        onward = _foreseen(line, bad, (steps, found))
        flat += not onward
        if onward > HOPELESS * bound or flat > (
            MOST_FLAT if line.measure(before) is not None else MOST_WIDENINGS
        ):
            return None
        bad = (steps, found)
        steps = math.ceil(min(max(onward, steps + 1), MOST_STRIDE * steps)) if onward else MOST_STRIDE * steps
        steps = steps if steps < bound else (bad[0] + bound) // 2 if bound <= line.last else line.last
    return None


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


def _narrowed(line: Line, bad: _End, good: _End, tried: Callable[[int], Outcome | None]) -> int:
    a, b = bad[0], good[0]
    m_a, m_b = line.measure(bad[1]), line.measure(good[1])
    side = 0
    for _ in range(MOST_NARROWINGS):
        if b - a <= 1:
            break
        steps = (a + b) // 2
        if m_a is not None and m_b is not None and m_a > 0 >= m_b:
            near, far = line.along(a), line.along(b)
            steps = math.ceil(line.steps_to(near + (far - near) * m_a / (m_a - m_b)) - 1e-6)
            steps = min(max(steps, a + 1), b - 1)
        found = tried(steps)
        if found is not None and found.passes:
            b, m_b = steps, line.measure(found)
            m_a = m_a / 2 if m_a is not None and side > 0 else m_a
            side = 1
        else:
            a, m_a = steps, line.measure(found)
            m_b = m_b / 2 if m_b is not None and side < 0 else m_b
            side = -1
    return b
