"""The ramp laid straight on its supports as ink, with what is on it: wheels or a patch, and their forces."""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.drawing.axes import SIZE_PT, Graph
from rampdraft.drawing.ink import Ink, Label, area, line, polygon, polyline, ring
from rampdraft.drawing.letters import words_mm
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.outline import rectangle
from rampdraft.mechanics.loading.loads import Axle, Footprint, Load, Rolling
from rampdraft.mechanics.loading.results import WorstPlace
from rampdraft.model.design import Design
from rampdraft.units import MM, N
from rampdraft.words.figures import exact, figure, fixed
from rampdraft.words.say import say

RIGHT_MM: Final = 5.0
"""Room to the right of the toe."""
HEIGHT_MM: Final = 27.0
"""On paper, from the names of the supports up to the forces."""
_NAMES_MM: Final = 3.4
_SUPPORT_MM: Final = 3.0
_DEEP_MM: Final = (1.4, 4.0)
"""A leaf is drawn no thinner and no deeper than this."""
_DECK_MM: Final = 12.0
"""So much of the deck is drawn."""
_WHEEL_MM: Final = 1.5
"""Radius. Wheels are marks, not true to size."""
_ARROW_MM: Final = (3.0, 7.0)
"""Lengths of arrows: the least of them, and that of the greatest force."""
_HEAD_MM: Final = 1.5
_LETTER_MM: Final = 1.5
_LINE_MM: Final = 2.8
_TOGETHER_MM: Final = 20.0
"""Axles nearer to each other, along the ramp, are drawn as one."""
_ARROWS: Final = 9
"""So many over a load that is spread."""


def loaded_ramp(evaluation: Evaluation, place: WorstPlace, graph: Graph, foot: MM) -> tuple[Ink, ...]:
    """Return the ramp over the x axis of `graph`, its lowest mark at `foot`, with the load where it bends a
    rail most.

    Lengths are those of the axis; depths, wheels and arrows are those of the paper.
    """
    top = foot + _NAMES_MM + _SUPPORT_MM + _DEEP_MM[1]
    section = _x(graph, place.section_mm)
    mark = (
        (line((section, top), (section, top - _DEEP_MM[1] - 1.5), "accent"),)
        if evaluation.carried.held
        else ()
    )
    return (
        *_leaves(evaluation.design, place, graph, top),
        *mark,
        *_supports(evaluation, graph, top),
        *_load(evaluation, place, graph, top),
    )


def place_words(evaluation: Evaluation, place: WorstPlace) -> str:
    """Return where a load stands and how it is turned: `front axle leading up, 138 mm right of the
    middle`.
    """
    load = evaluation.carried.loads[place.load]
    if not isinstance(load, Rolling):
        return say("in the middle of the ramp") if isinstance(load, Footprint) else say("over the whole ramp")
    across = (
        say(
            "{across} right of the middle" if place.across_mm < 0 else "{across} left of the middle",
            across=figure(abs(place.across_mm), "mm", 0),
        )
        if abs(place.across_mm) >= 1
        else say("in the middle")
    )
    bumps = say("; forces with bumps × {factor}", factor=exact(load.factor)) if load.factor != 1 else ""
    way = say("front leading up, ") if place.forwards else say("back leading up, ")
    return f"{way if len(axle_places_mm(load, place)) > 1 else ''}{across}{bumps}"


def axle_places_mm(load: Load, place: WorstPlace) -> tuple[tuple[Axle, MM], ...]:
    """Return the axles of a load that rolls that weigh anything, as it is turned, and where each stands along
    the ramp.
    """
    if not isinstance(load, Rolling):
        return ()
    return tuple(
        (axle, place.first_axle_mm + axle.offset_mm) for axle in load.ways[place.way] if axle.force_n > 0
    )


def force_text(force_n: N) -> str:
    """Return a force: `1240 N`."""
    return fixed(force_n, 0, "N")


def _x(graph: Graph, at_mm: MM) -> MM:
    return graph.at(at_mm, graph.up.low)[0]


def _leaves(design: Design, place: WorstPlace, graph: Graph, top: MM) -> tuple[Ink, ...]:
    inner, outer, toe = design.inner_leaf, design.outer_leaf, design.toe
    joint, length = inner.length_mm, inner.length_mm + outer.length_mm
    per_mm = (graph.frame[2] - graph.frame[0]) / (graph.across.high - graph.across.low)

    def deep(depth_mm: MM) -> MM:
        return min(max(depth_mm * per_mm, _DEEP_MM[0]), _DEEP_MM[1])

    x0, x1, x2 = (_x(graph, at) for at in (0.0, joint, length))
    lower = top - deep(outer.rail_section.depth_mm)
    tip, start = (
        (top - deep(toe.thickness_mm) / 2, x2 - toe.length_mm * per_mm)
        if toe.kind == "taper"
        else (lower, x2)
    )
    corners = ((x1, lower), (start, lower), (x2, tip), (x2, top), (x1, top))
    return (
        area(rectangle(x0 - _DECK_MM, top - _DEEP_MM[0], x0 - 0.8, top), "thin", "carrier"),
        area(
            rectangle(x0, top - deep(inner.rail_section.depth_mm), x1, top),
            "outline",
            "inner",
            _rail("inner", place),
        ),
        polygon(corners, "outline", "outer", _rail("outer", place)),
    )


def _rail(body: str, place: WorstPlace) -> str:
    return f"{body} rail {place.rail if body == place.leaf else 1}"


def _supports(evaluation: Evaluation, graph: Graph, top: MM) -> Iterator[Ink]:
    """Yield the supports as triangles below the leaves, with their names, and the joint as a ring."""
    spans = evaluation.carried.spans
    low, foot = top - _DEEP_MM[1], top - _DEEP_MM[1] - _SUPPORT_MM
    prop = ((spans.joint_mm, say("prop"), "prop left"),) if spans.propped else ()
    named = ((0.0, say("deck hinge"), ""), *prop, (spans.length_mm, say("toe"), ""))
    for at, words, owner in named:
        x, half = _x(graph, at), _SUPPORT_MM / 2
        yield polygon(((x - half, foot), (x + half, foot), (x, low)), "thin", "paper", owner)
        yield line((x - 2 * half, foot), (x + 2 * half, foot), "ground")
        yield line((x, low), (x, top - _DEEP_MM[0]), "thin")
        middle = min(x, graph.frame[2] + RIGHT_MM - words_mm(words, SIZE_PT) / 2)
        yield Label(text=words, at=(middle, foot - 3.0), anchor="centre", size_pt=SIZE_PT)
    joint = _x(graph, spans.joint_mm)
    if not spans.propped:
        yield Label(text=say("joint"), at=(joint, foot - 3.0), anchor="centre", size_pt=SIZE_PT)
    yield ring((joint, top - _DEEP_MM[0] / 2), 0.7)


def _load(evaluation: Evaluation, place: WorstPlace, graph: Graph, top: MM) -> Iterator[Ink]:
    load = evaluation.carried.loads[place.load]
    if isinstance(load, Rolling):
        yield from _wheels(axle_places_mm(load, place), graph, top)
        return
    length = evaluation.carried.spans.length_mm
    half = min(load.along_mm, length) / 2 if isinstance(load, Footprint) else length / 2
    start, end = _x(graph, place.first_axle_mm - half), _x(graph, place.first_axle_mm + half)
    tall, count = 5.0, min(_ARROWS, max(2, round((end - start) / 4.0)))
    words = (
        force_text(load.force_n)
        if isinstance(load, Footprint)
        else figure(float(f"{load.n_mm:.2g}"), "kN/m", 4)
    )
    yield area(rectangle(start, top, end, top + tall), "thin", "none")
    for number in range(count):
        yield from _arrow(start + (end - start) * number / (count - 1), top + tall, top)
    yield Label(text=words, at=((start + end) / 2, top + tall + 1.0), anchor="centre", size_pt=SIZE_PT)


def _wheels(axles: tuple[tuple[Axle, MM], ...], graph: Graph, top: MM) -> Iterator[Ink]:
    """Yield a wheel an axle under its force; off the ramp it is pale and without a force, and what stands
    together is one.
    """
    places: dict[MM, list[N]] = {}
    for axle, at in sorted(axles, key=lambda pair: pair[1]):
        near = next((place for place in places if abs(place - at) < _TOGETHER_MM), at)
        places.setdefault(near, []).append(axle.force_n)
    most = max(sum(forces) for forces in places.values())
    taken, line_up = -math.inf, 0.0
    for at, forces in places.items():
        x, on = _x(graph, at), graph.across.low <= at <= graph.across.high
        if not graph.frame[0] - _DECK_MM < x - _WHEEL_MM < graph.frame[2]:
            continue
        yield ring((x, top + _WHEEL_MM), _WHEEL_MM, pen="outline" if on else "ghost")
        if not on:
            continue
        tail = top + 2 * _WHEEL_MM + max(_ARROW_MM[0], _ARROW_MM[1] * sum(forces) / most)
        yield from _arrow(x, tail, top + 2 * _WHEEL_MM)
        words = " + ".join(force_text(force) for force in forces)
        half = len(words) * _LETTER_MM / 2
        line_up = tail + 1.0 if x - half > taken else max(tail + 1.0, line_up + _LINE_MM)
        taken = x + half + 1.0
        yield Label(text=words, at=(x, line_up), anchor="centre", size_pt=SIZE_PT)


def _arrow(x: MM, tail: MM, tip: MM) -> tuple[Ink, ...]:
    head = ((x - _HEAD_MM / 3, tip + _HEAD_MM), (x, tip), (x + _HEAD_MM / 3, tip + _HEAD_MM))
    return line((x, tail), (x, tip), "thin"), polyline(head, "thin")
