"""Charts along the fold as ink: the least clearance, and the hand's force, over the share of the way."""

import math
from collections.abc import Iterator
from typing import Final

import numpy as np

from rampdraft.drawing.axes import SIZE_PT, Axis, Graph, axes, grid, round_ticks, stepped_ticks
from rampdraft.drawing.ink import Anchor, Ink, Label, Path, Picture, area, line, polyline, ring
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.figures import PRINTED, exact, fixed
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.mechanics.results import Clearance, HandForce
from rampdraft.units import MM, N

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

Curve = tuple[tuple[float, float], ...]
"""Shares of the way, rising, and the values there."""


def clearance_chart(evaluation: Evaluation, size_mm: tuple[MM, MM] = CHART_MM) -> Picture:
    """Return the least clearance along the path, with the demanded one and the stages."""
    fold, demanded = evaluation.fold, evaluation.design.fold.clearance_mm
    curve = clearance_curve(fold.clearance)
    low, top = clearance_range(curve, demanded)
    graph = _graph(low, top, "clearance, mm", size_mm)
    shown = tuple((share, min(max(value, low), top)) for share, value in curve)
    clashes = (
        area(rectangle(*graph.at(start, low), *graph.at(max(end, start + 0.004), 0.0)), "clash", "clash")
        for start, end in fold.clearance.spans_clashing
    )
    marks: list[Ink] = [
        *clashes,
        *grid(graph),
        *_stages(evaluation, graph),
        *_limit(graph, demanded, f"{mm_text(demanded)} mm demanded", (shown,)),
    ]
    if low < 0:
        marks.append(line(graph.at(0.0, 0.0), graph.at(1.0, 0.0), "thin"))
    marks.extend((_line(graph, shown), *axes(graph)))
    return Picture(marks=tuple(marks), box=graph.box, title="Clearance along the fold")


def force_chart(evaluation: Evaluation, size_mm: tuple[MM, MM] = CHART_MM) -> Picture:
    """Return the force at the handle in use along the path, with its limits, the stages and their handles,
    and its peak.

    The line is broken where no handle moves the ramp.
    """
    hand = evaluation.hand
    runs = force_runs(hand)
    limits = force_limits(evaluation)
    least, most = force_range(runs, limits)
    low, top = least * 1.15, most * 1.25
    graph = _graph(low, top, "hand force, N", size_mm)
    marks: list[Ink] = [
        *grid(graph),
        *_stages(evaluation, graph, tuple(stage.handle for stage in hand.stages)),
    ]
    for limit, words in limits:
        marks.extend(_limit(graph, limit, words, runs))
        if least < -limit / 2 and low < -limit:
            marks.extend(_limit(graph, -limit, words, runs))
    if low < 0:
        marks.append(line(graph.at(0.0, 0.0), graph.at(1.0, 0.0), "thin"))
    marks.extend((*(_line(graph, run) for run in runs), *axes(graph)))
    share, force = hand.peak.at, hand.peak.peak_n
    if not math.isnan(force):
        marks.append(ring(graph.at(share, force), 0.8))
        marks.append(_beside(graph, share, force, fixed(force, 0, "N", PRINTED)))
    return Picture(marks=tuple(marks), box=graph.box, title="Hand force along the fold")


def clearance_range(curve: Curve, demanded_mm: MM) -> tuple[MM, MM]:
    """Return the least and the greatest clearance that a chart shows."""
    top = max(10.0, CEILING * demanded_mm)
    return min(0.0, max(min(value for _, value in curve), -3 * top)), top


def force_range(runs: tuple[Curve, ...], limits: tuple[tuple[N, str], ...]) -> tuple[N, N]:
    """Return the least and the greatest force of a fold and of its limits; nought is always among them."""
    values = [value for run in runs for _, value in run]
    return min(0.0, *values, 0.0), max(0.0, *values, *(limit for limit, _ in limits))


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
        (DEPLOYING_N, f"{exact(DEPLOYING_N, 'N')}, French rule for vehicles"),
    )


def _graph(low: float, top: float, words: str, size_mm: tuple[MM, MM]) -> Graph:
    shares = tuple((value / 100, figure) for value, figure in stepped_ticks(0.0, 100.0, 20.0))
    return Graph(
        across=Axis(low=0.0, high=1.0, ticks=shares, words="share of the way from deployed to stowed, %"),
        up=Axis(low=low, high=top, ticks=round_ticks(low, top, max(3, round(size_mm[1] / 7.0))), words=words),
        frame=(0.0, 0.0, *size_mm),
    )


def _stages(evaluation: Evaluation, graph: Graph, names: tuple[str, ...] = ()) -> Iterator[Ink]:
    """Yield lines where stages end, and the stages' numbers over the frame, with a word beside each."""
    top = graph.up.high
    for number, stage in enumerate(evaluation.path.stages, start=1):
        if stage.end < 1:
            yield line(graph.at(stage.end, graph.up.low), graph.at(stage.end, top), "hidden")
        x, y = graph.at((stage.start + stage.end) / 2, top)
        words = f"{number}  at the {names[number - 1]}" if names else str(number)
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


def _line(graph: Graph, curve: Curve) -> Path:
    return polyline((graph.at(share, value) for share, value in curve), "outline")


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
    """Return the hand force in unbroken runs of (share, N): it has gaps where no handle moves the ramp."""
    known = ~np.isnan(hand.force_n)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], known, [False]))))
    runs = zip(edges[::2], edges[1::2], strict=True)
    return tuple(tuple(zip(hand.at[a:b].tolist(), hand.force_n[a:b].tolist(), strict=True)) for a, b in runs)
