"""Curves of a chart as ink: lines, filled areas, what is beyond a limit, a point with its figure."""

from collections.abc import Iterator
from typing import Final

import numpy as np

from rampdraft.drawing.axes import SIZE_PT, Graph
from rampdraft.drawing.ink import Anchor, Fill, Ink, Label, Path, Pen, polygon, polyline, ring
from rampdraft.geometry.outline import Point
from rampdraft.units import MM, Array

_FINE: Final = 400
"""So many places are tried for where a limit is passed."""
_LETTER_MM: Final = 1.45
"""Mean width of a letter."""


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
        (len(words) * _LETTER_MM + 3.0)
        * (graph.across.high - graph.across.low)
        / (graph.frame[2] - graph.frame[0])
    )
    under = np.interp(np.linspace(x, x + (wide if left else -wide), 9), *curve)
    inward = 2.6 if zero > at[1] else -2.6
    y = graph.at(x, float(under[np.abs(under).argmin()]))[1] + inward
    if outside or (zero - y) * inward < abs(inward) * 2.0:
        y = graph.at(x, float(under[np.abs(under).argmax()]))[1] - inward
    y = min(max(y, graph.frame[1] + 2.4), graph.frame[3] - 2.4)
    reach = len(words) * _LETTER_MM
    place = min(at[0] + 2.0, graph.frame[2] - reach) if left else max(at[0] - 2.0, graph.frame[0] + reach)
    anchor: Anchor = "left" if left else "right"
    label = Label(text=words, at=(place, y), anchor=anchor, pen="outline", size_pt=SIZE_PT, boxed=True)
    return ring(at, 0.8, pen="accent"), label


def fitting(choices: tuple[str, ...], room_mm: MM) -> str:
    """Return the first of several wordings that has room, the last one cut with an ellipsis where none
    has.
    """
    most = int(room_mm / _LETTER_MM)
    return next((words for words in choices if len(words) <= most), choices[-1][: most - 1].rstrip() + "…")
