"""The least clearance and the hand's force over the share of the way, as ink: charts on paper, and strips as
a window shows them below a scrubber, without axes and words.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.drawing.axes import SIZE_PT, Axis, Graph, axes, grid, length_ticks, round_ticks, stepped_ticks
from rampdraft.drawing.ink import Anchor, Ink, Label, Picture, area, line, polyline, ring
from rampdraft.drawing.text import length_unit
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.mechanics.results import Clearance, HandForce
from rampdraft.units import MM, N
from rampdraft.words.figures import exact, fixed, mm
from rampdraft.words.say import say

CHART_MM: Final = (150.0, 42.0)
"""Frame of a chart on paper."""
_LETTER_MM: Final = 1.6
"""Mean width of the small letters beside a limit."""
_WIDE_MM: Final = 6.0
"""More room than this around them is no better."""
CEILING: Final = 4.0
"""The clearance chart ends at this many times the demanded clearance, 10 mm at least: what is wide open needs
no figure.
"""
DEPLOYING_N: Final = 250.0
"""Force to deploy a vehicle's ramp by hand, French rule for vehicles, 2-6.1; shown where no rule set in use
has such a limit.
"""

Ticks = Callable[[float, float, int], tuple[tuple[float, str], ...]]
"""`round_ticks` and its like."""
Curve = tuple[tuple[float, float], ...]
"""Shares of the way, rising, and the values there."""
ROOM_OVER: Final = 1.1
"""The force strip ends a little above the peak and its limits."""
SPOT_MM = 0.8
LEAST_MM = 0.5
"""A clash shows at least so wide."""
OVERRUN_MM = 0.8
"""How far the cursor runs past the frame."""

Frame = tuple[MM, MM, MM, MM]
"""(x0, y0, x1, y1) of the strip in its picture."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What a strip shows, over shares of the way from 0 to 1."""

    low: float
    top: float
    runs: tuple[Curve, ...]
    """Curves, each along all of the way or a piece of it."""
    limits: tuple[tuple[float, str], ...]
    """Limits, with their words where they have any."""
    ends: tuple[float, ...]
    """Shares where stages end."""
    marked: tuple[float, float]
    """Share and value of the place that counts most: the tightest one, or the peak."""
    besides: tuple[tuple[float, float], ...] = ()
    """Other places that are marked."""
    clashes: tuple[tuple[float, float], ...] = ()

    def value(self, share: float) -> float:
        """Return the value at a share, of several runs the greatest by size; NaN where there is none."""
        values = (
            float(np.interp(share, [at for at, _ in run], [value for _, value in run]))
            for run in self.runs
            if run[0][0] <= share <= run[-1][0]
        )
        return max(values, key=abs, default=math.nan)

    def at(self, share: float, value: float, frame: Frame) -> Point:
        """Return the place of a value in a frame; what lies beyond the strip stands at its edge."""
        x0, y0, x1, y1 = frame
        part = (min(max(value, self.low), self.top) - self.low) / (self.top - self.low)
        return x0 + share * (x1 - x0), y0 + part * (y1 - y0)


def clearance_chart(evaluation: Evaluation, size_mm: tuple[MM, MM] = CHART_MM) -> Picture:
    """Return the least clearance along the path, with the demanded one and the stages."""
    strip = clearance_strip(evaluation)
    graph = _graph(strip, say("clearance, {unit}", unit=length_unit()), size_mm, length_ticks)
    marks = tuple(_charted(evaluation, strip, graph))
    return Picture(marks=marks, box=graph.box, title=say("Clearance along the fold"))


def force_chart(evaluation: Evaluation, size_mm: tuple[MM, MM] = CHART_MM) -> Picture:
    """Return the forces of the hands along the path, at both places that are held at once, with their limits,
    the stages and where most is given in each, and the peak.
    """
    strip = force_strip(evaluation, under=1.15, over=1.25)
    graph = _graph(strip, say("hand force, N"), size_mm, round_ticks)
    handles = tuple(stage.handle for stage in evaluation.hand.stages)
    marks = [*_charted(evaluation, strip, graph, handles)]
    share, force = strip.marked
    marks.append(ring(graph.at(share, force), SPOT_MM))
    marks.append(_beside(graph, share, force, fixed(force, 0, "N")))
    return Picture(marks=tuple(marks), box=graph.box, title=say("Hand force along the fold"))


def _charted(
    evaluation: Evaluation, strip: Strip, graph: Graph, handles: tuple[str, ...] = ()
) -> Iterator[Ink]:
    """Yield what a chart shows of a strip; where `handles` hold, limits count for pushing and for lifting."""
    for start, end in strip.clashes:
        corners = *graph.at(start, strip.low), *graph.at(max(end, start + 0.004), 0.0)
        yield area(rectangle(*corners), "clash", "clash")
    yield from grid(graph)
    yield from _stages(evaluation, graph, handles)
    runs = tuple(
        tuple((share, min(max(value, strip.low), strip.top)) for share, value in run) for run in strip.runs
    )
    least = min((value for run in runs for _, value in run), default=0.0)
    for limit, words in strip.limits:
        yield from _limit(graph, limit, words, runs)
        if handles and least < -limit / 2 and strip.low < -limit:
            yield from _limit(graph, -limit, words, runs)
    if strip.low < 0:
        yield line(graph.at(0.0, 0.0), graph.at(1.0, 0.0), "thin")
    for run in runs:
        yield polyline((graph.at(share, value) for share, value in run), "outline")
    yield from axes(graph)


def clearance_strip(evaluation: Evaluation) -> Strip:
    """Return the clearance over the fold."""
    fold, demanded = evaluation.fold, evaluation.design.fold.clearance_mm
    curve, tightest = clearance_curve(fold.clearance), fold.clearance.tightest
    top = max(10.0, CEILING * demanded)
    return Strip(
        low=min(0.0, max(min(value for _, value in curve), -3 * top)),
        top=top,
        runs=(curve,),
        limits=((demanded, say("{clearance} demanded", clearance=mm(demanded))),),
        ends=_ends(evaluation),
        marked=(tightest.at, tightest.clearance_mm),
        clashes=fold.clearance.spans_clashing,
    )


def force_strip(evaluation: Evaluation, *, under: float = ROOM_OVER, over: float = ROOM_OVER) -> Strip:
    """Return the hand force over the fold, from `under` times its least to `over` times its greatest and its
    limits; nought is always among them.
    """
    hand = evaluation.hand
    runs, limits = force_runs(hand), force_limits(evaluation)
    values = [value for run in runs for _, value in run]
    return Strip(
        low=under * min(0.0, *values, 0.0),
        top=over * max(0.0, *values, *(limit for limit, _ in limits)),
        runs=runs,
        limits=limits,
        ends=_ends(evaluation),
        marked=(hand.peak.at, hand.peak.peak_n),
    )


def _ends(evaluation: Evaluation) -> tuple[float, ...]:
    return tuple(stage.end for stage in evaluation.path.stages[:-1])


def clearance_curve(clearance: Clearance) -> Curve:
    """Return the sampled clearance, with the tightest place of each pair put in between its samples."""
    least: dict[float, float] = dict(zip(clearance.at.tolist(), clearance.clearance_mm.tolist(), strict=True))
    for pair in clearance.pairs:
        between = float(np.interp(pair.at, clearance.at, clearance.clearance_mm))
        if pair.clearance_mm < min(between, least.get(pair.at, between)):
            least[pair.at] = pair.clearance_mm
    return tuple(sorted(least.items()))


def force_limits(evaluation: Evaluation) -> tuple[tuple[N, str], ...]:
    """Return the limits of the hand force that the rule sets in use demand, rising, with their sources."""
    found = {
        check.limit: f"{exact(check.limit, 'N')}, {check.source.title}"
        for check in evaluation.checks
        if check.about.kind == "deploying_force" and check.sense == "at most" and check.limit is not None
    }
    return tuple(sorted(found.items())) or (
        (DEPLOYING_N, say("{force}, French rule for vehicles", force=exact(DEPLOYING_N, "N"))),
    )


def _graph(strip: Strip, words: str, size_mm: tuple[MM, MM], ticks_of: Ticks) -> Graph:
    ticks = ticks_of(strip.low, strip.top, max(3, round(size_mm[1] / 7.0)))
    shares = tuple((value / 100, figure) for value, figure in stepped_ticks(0.0, 100.0, 20.0))
    return Graph(
        across=Axis(
            low=0.0, high=1.0, ticks=shares, words=say("share of the way from deployed to stowed, %")
        ),
        up=Axis(low=strip.low, high=strip.top, ticks=ticks, words=words),
        frame=(0.0, 0.0, *size_mm),
    )


def _stages(evaluation: Evaluation, graph: Graph, names: tuple[str, ...] = ()) -> Iterator[Ink]:
    """Yield lines where stages end, and the stages' numbers over the frame, with a word beside each."""
    top = graph.up.high
    for number, stage in enumerate(evaluation.path.stages, start=1):
        if stage.end < 1:
            yield line(graph.at(stage.end, graph.up.low), graph.at(stage.end, top), "hidden")
        x, y = graph.at((stage.start + stage.end) / 2, top)
        words = (
            say("{number}  at the {handle}", number=number, handle=say(names[number - 1]))
            if names
            else str(number)
        )
        yield Label(text=words, at=(x, y + 1.4), anchor="centre", pen="outline", size_pt=SIZE_PT)


def _limit(graph: Graph, value: float, words: str, runs: tuple[Curve, ...]) -> Iterator[Ink]:
    """Yield a limit's line, with its words where the curve leaves most room: at one end of it, above or
    below.
    """
    if not graph.up.low < value < graph.up.high:
        return
    yield line(graph.at(0.0, value), graph.at(1.0, value), "hidden")
    (x0, y), (x1, _) = graph.at(0.0, value), graph.at(1.0, value)
    wide = len(words) * _LETTER_MM
    places: tuple[tuple[MM, MM, Anchor], ...] = (
        (x1 - 1.5, 1.0, "right"),
        (x0 + 1.5, 1.0, "left"),
        (x1 - 1.5, -3.0, "right"),
        (x0 + 1.5, -3.0, "left"),
    )

    def room(place: tuple[MM, MM, Anchor]) -> MM:
        left = place[0] if place[2] == "left" else place[0] - wide
        near = [at[1] for run in runs for at in _between(graph, run, left, left + wide)]
        within = graph.frame[1] <= y + place[1] <= graph.frame[3] - 2.0
        return min((abs(each - y - place[1] - 1.0) for each in near), default=_WIDE_MM) if within else 0.0

    x, lift, anchor = max(places, key=lambda place: min(room(place), _WIDE_MM))
    yield Label(text=words, at=(x, y + lift), anchor=anchor, pen="hidden", size_pt=7.0)


def _between(graph: Graph, run: Curve, x0: MM, x1: MM) -> Iterator[Point]:
    """Yield points of a curve from x0 to x1, about a mm apart."""
    shares, values = [share for share, _ in run], [value for _, value in run]
    left, _, right, _ = graph.frame
    for number in range(41):
        share = (x0 + (x1 - x0) * number / 40 - left) / (right - left)
        if shares[0] <= share <= shares[-1]:
            yield graph.at(share, float(np.interp(share, shares, values)))


def _beside(graph: Graph, share: float, value: float, words: str) -> Label:
    """Return a figure beside a point of the curve, on the side with more room."""
    x, y = graph.at(share, value)
    y = min(max(y + 2.4, graph.frame[1] + 2.5), graph.frame[3] - 2.5)
    return Label(
        text=words,
        at=(x + 2.0 if share < 0.6 else x - 2.0, y),
        anchor="left" if share < 0.6 else "right",
        boxed=True,
    )


def force_runs(hand: HandForce) -> tuple[Curve, ...]:
    """Return the forces of the hands at each place as (share, N)."""
    return tuple(tuple(zip(hand.at.tolist(), force, strict=True)) for force in hand.force_n.tolist())


def strip_ground(strip: Strip, frame: Frame) -> tuple[Ink, ...]:
    """Return curve, limits, ends of stages and the place that counts most, in a frame of a picture."""
    _, y0, _, y1 = frame
    marks: list[Ink] = []
    for start, end in strip.clashes:
        left, right = (strip.at(share, 0.0, frame)[0] for share in (start, end))
        marks.append(area(rectangle(left, y0, max(right, left + LEAST_MM), y1), "swept", "clash"))
    for end in strip.ends:
        x, _ = strip.at(end, 0.0, frame)
        marks.append(line((x, y0), (x, y1), "ghost"))
    marks.append(line(strip.at(0.0, 0.0, frame), strip.at(1.0, 0.0, frame), "thin"))
    marks.extend(
        line(strip.at(0.0, limit, frame), strip.at(1.0, limit, frame), "hidden") for limit, _ in strip.limits
    )
    marks.extend(
        polyline((strip.at(share, value, frame) for share, value in run), "outline") for run in strip.runs
    )
    marks.extend(
        ring(strip.at(share, value, frame), SPOT_MM)
        for share, value in (strip.marked, *strip.besides)
        if not math.isnan(value)
    )
    return tuple(marks)


def strip_cursor(strip: Strip, share: float, frame: Frame, known: float | None = None) -> tuple[Ink, ...]:
    """Return the cursor at a share, with the value there where there is one; `known` where the curve only
    comes near it.
    """
    _, y0, _, y1 = frame
    now, (x, _) = strip.value(share) if known is None else known, strip.at(share, 0.0, frame)
    upright = line((x, y0 - OVERRUN_MM), (x, y1 + OVERRUN_MM), "accent")
    if math.isnan(now):
        return (upright,)
    return upright, ring(strip.at(share, now, frame), SPOT_MM, pen="accent")
