"""Two axes on paper: frame, ticks, figures and words, and the way from values to places; and the curves of a
chart: lines, filled areas, what is beyond a limit, a point with its figure.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.drawing.ink import Anchor, Fill, Ink, Label, Path, Pen, area, line, polygon, polyline, ring
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.units import MM, Array
from rampdraft.words.figures import fixed
from rampdraft.words.manner import manner

TICK_MM: Final = 1.4
SIZE_PT: Final = 7.5
_LETTER_MM: Final = 1.7
"""Mean width of a letter at that size."""
_WORDS_MM: Final = 4.5
"""Room on paper for the words along an axis."""
_FINE: Final = 400
"""So many places are tried for where a limit is passed."""
_TIGHT_MM: Final = 1.45
"""Mean width of a letter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Axis:
    """Values from `low` to `high`, with figures at some of them."""

    low: float
    high: float
    ticks: tuple[tuple[float, str], ...]
    """Value and its figure, rising."""
    words: str
    """What is shown, with its unit: `clearance, mm`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Graph:
    """A frame (x0, y0, x1, y1) in the picture and what its sides stand for; `per_mm`: see `dimension`."""

    across: Axis
    up: Axis
    frame: tuple[MM, MM, MM, MM]
    per_mm: MM = 1.0

    def at(self, across: float, up: float) -> Point:
        """Return the place of a pair of values."""
        x0, y0, x1, y1 = self.frame
        part_x = (across - self.across.low) / (self.across.high - self.across.low)
        part_y = (up - self.up.low) / (self.up.high - self.up.low)
        return x0 + part_x * (x1 - x0), y0 + part_y * (y1 - y0)

    @property
    def box(self) -> tuple[MM, MM, MM, MM]:
        """Return the frame with room for figures and words."""
        x0, y0, x1, y1 = self.frame
        figures = max((len(text) for _, text in self.up.ticks), default=0) * _LETTER_MM
        left, low = TICK_MM + 1.0 + figures + _WORDS_MM, TICK_MM + 4.0 + _WORDS_MM
        return x0 - left * self.per_mm, y0 - low * self.per_mm, x1 + 5.0 * self.per_mm, y1 + 5.0 * self.per_mm


def grid(graph: Graph) -> tuple[Ink, ...]:
    """Return pale lines from the ticks across the frame."""
    x0, y0, x1, y1 = graph.frame
    upright = (graph.at(value, graph.up.low)[0] for value, _ in graph.across.ticks)
    level = (graph.at(graph.across.low, value)[1] for value, _ in graph.up.ticks)
    return (
        *(line((x, y0), (x, y1), "ghost") for x in upright if x0 < x < x1),
        *(line((x0, y), (x1, y), "ghost") for y in level if y0 < y < y1),
    )


def axes(graph: Graph) -> Iterator[Ink]:
    """Yield the frame with ticks outside it, their figures, and the words along both axes."""
    (x0, y0, x1, y1), per_mm = graph.frame, graph.per_mm
    tick, drop = TICK_MM * per_mm, (TICK_MM + 3.2) * per_mm
    yield area(rectangle(x0, y0, x1, y1), "thin", "none")
    for value, text in graph.across.ticks:
        x, _ = graph.at(value, graph.up.low)
        yield line((x, y0), (x, y0 - tick), "thin")
        yield Label(text=text, at=(x, y0 - drop), anchor="centre", size_pt=SIZE_PT)
    for value, text in graph.up.ticks:
        _, y = graph.at(graph.across.low, value)
        yield line((x0, y), (x0 - tick, y), "thin")
        beside = (x0 - tick - per_mm, y - 0.95 * per_mm)
        yield Label(text=text, at=beside, anchor="right", size_pt=SIZE_PT)
    left, low, _, _ = graph.box
    below, upright = ((x0 + x1) / 2, low + 1.2 * per_mm), (left + 3.2 * per_mm, (y0 + y1) / 2)
    yield Label(text=graph.across.words, at=below, anchor="centre", size_pt=SIZE_PT)
    yield Label(text=graph.up.words, at=upright, anchor="centre", size_pt=SIZE_PT, angle_deg=90.0)


def round_ticks(low: float, high: float, most: int) -> tuple[tuple[float, str], ...]:
    """Return at most `most` round values from low to high, 1, 2 or 5 times a power of ten apart, with their
    figures.
    """
    rough = (high - low) / max(most - 1, 1)
    power = 10.0 ** math.floor(math.log10(rough))
    step = next(factor * power for factor in (1.0, 2.0, 5.0, 10.0) if factor * power >= rough * (1 - 1e-9))
    return stepped_ticks(low, high, step)


def length_ticks(low: MM, high: MM, most: int) -> tuple[tuple[MM, str], ...]:
    """Return round lengths as `round_ticks` does, round in the unit in which lengths are shown."""
    shown = manner().style.unit("mm")
    times = 1.0 if shown is None else shown.times
    return tuple((value / times, words) for value, words in round_ticks(low * times, high * times, most))


def stepped_ticks(low: float, high: float, step: float) -> tuple[tuple[float, str], ...]:
    """Return the multiples of `step` from low to high with their figures."""
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    decimals = max(0, -math.floor(math.log10(step) + 1e-9))
    return tuple((number * step, fixed(number * step, decimals)) for number in range(first, last + 1))


def curve(graph: Graph, x: Array, values: Array, pen: Pen = "outline", owner: str = "") -> Path:
    """Return the curve through these values."""
    return polyline(_points(graph, x, values), pen, owner)


def filled(graph: Graph, x: Array, values: Array, fill: Fill, owner: str) -> Path:
    """Return the area between a curve and zero."""
    ends = _points(graph, x[[-1, 0]], np.zeros(2))
    return polygon((*_points(graph, x, values), *ends), "ghost", fill, owner)


def beyond(
    graph: Graph, curve: tuple[Array, Array], limit: tuple[Array, Array], owner: str
) -> Iterator[Path]:
    """Yield the areas in which a curve is beyond a limit, hatched."""
    fine: Array = np.linspace(float(curve[0][0]), float(curve[0][-1]), _FINE)
    x = np.unique(np.concatenate((curve[0], limit[0], fine)))
    values, limits = np.interp(x, *curve), np.interp(x, *limit)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], values > limits, [False]))))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        span = slice(first, last)
        there = _points(graph, x[span], values[span])
        back = _points(graph, x[span][::-1], limits[span][::-1])
        yield polygon((*there, *back), "ghost", "clash", owner)


def _points(graph: Graph, x: Array, values: Array) -> Iterator[Point]:
    return map(graph.at, x.tolist(), values.tolist())


def figure(
    graph: Graph, x: float, curve: tuple[Array, Array], words: str, *, outside: bool = False
) -> tuple[Ink, ...]:
    """Return a ring at a point of a curve and its figure beside it, on the longer side of the curve and clear
    of it.

    The figure stands between curve and zero; beyond the curve where there is no room, or `outside` is asked
    for.
    """
    at, zero = graph.at(x, float(np.interp(x, *curve))), graph.at(x, 0.0)[1]
    left = x - curve[0][0] < curve[0][-1] - x
    wide = (
        (len(words) * _TIGHT_MM + 3.0)
        * (graph.across.high - graph.across.low)
        / (graph.frame[2] - graph.frame[0])
    )
    under = np.interp(np.linspace(x, x + (wide if left else -wide), 9), *curve)
    inward = 2.6 if zero > at[1] else -2.6
    y = graph.at(x, float(under[np.abs(under).argmin()]))[1] + inward
    if outside or (zero - y) * inward < abs(inward) * 2.0:
        y = graph.at(x, float(under[np.abs(under).argmax()]))[1] - inward
    y = min(max(y, graph.frame[1] + 2.4), graph.frame[3] - 2.4)
    reach = len(words) * _TIGHT_MM
    place = min(at[0] + 2.0, graph.frame[2] - reach) if left else max(at[0] - 2.0, graph.frame[0] + reach)
    anchor: Anchor = "left" if left else "right"
    label = Label(text=words, at=(place, y), anchor=anchor, pen="outline", size_pt=SIZE_PT, boxed=True)
    return ring(at, 0.8, pen="accent"), label


def fitting(choices: tuple[str, ...], room_mm: MM) -> str:
    """Return the first of several wordings that has room, the last one cut with an ellipsis where none
    has.
    """
    most = int(room_mm / _TIGHT_MM)
    return next((words for words in choices if len(words) <= most), choices[-1][: most - 1].rstrip() + "…")
