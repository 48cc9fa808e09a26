"""What the ramp carries, as ink: the load at its worst place, and moment, shear and sag along the ramp below
it.

Moment and shear are the design values that are judged by limit states, own weight and load with their
factors, the most of all places of the load; the sag is without bumps and factors. Sagging moment and sag are
drawn downward.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.drawing.axes import (
    SIZE_PT,
    Axis,
    Graph,
    axes,
    beyond,
    curve,
    figure,
    filled,
    fitting,
    grid,
    length_ticks,
    round_ticks,
)
from rampdraft.drawing.ink import Ink, Label, Picture, line
from rampdraft.drawing.loaded_ramp import HEIGHT_MM, RIGHT_MM, force_text, loaded_ramp, place_words
from rampdraft.drawing.text import length_unit
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.loading.loads import Rolling, is_of_use
from rampdraft.mechanics.loading.results import WorstPlace
from rampdraft.rounding import greatest, greatest_at
from rampdraft.strength.members import RailLine, rail_lines
from rampdraft.strength.utilisation import FOLDS, LIMIT_STATES
from rampdraft.units import MM
from rampdraft.words.figures import exact, fixed, mm
from rampdraft.words.figures import figure as figure_of
from rampdraft.words.say import named, say

SIZE_MM: Final = (170.0, 150.0)
"""On paper."""
LEAST_MM: Final = (100.0, 110.0)
"""Smaller than this the words run into each other."""
_LEFT_MM: Final = 17.0
_FOOT_MM: Final = 10.0
"""Room for figures and words along x."""
_TITLE_MM: Final = 4.6
"""Over each chart."""
_GAP_MM: Final = 2.2
_HEAD_MM: Final = 9.0
"""For the words over the ramp."""
_HEAD_PT: Final = 9.0
_SHARES: Final = (0.42, 0.25, 0.33)
"""Of the height, for moment, shear and sag."""
_NEAR_MM: Final = 20.0
"""Two marks nearer than this share one figure: their words would run into each other."""
_BESIDE_MM: Final = 30.0
"""Of two marks nearer than this, one has its figure beyond the curve."""
_OWN, _LOAD = LIMIT_STATES.gamma_g, LIMIT_STATES.gamma_q
_PLAIN: Final = Axis(low=0.0, high=1.0, ticks=(), words="")


def _moment_titles(*, known: bool) -> tuple[str, ...]:
    """Return the wordings of a title, the longest first; where the rails' strength is `known`, it is drawn
    too.
    """
    own, load = exact(_OWN), exact(_LOAD)
    if not known:
        return (
            say(
                "Moment in the most loaded rail, {own} × own weight + {load} × load, sagging downward; its"
                " strength is not known",
                own=own,
                load=load,
            ),
            say("Moment in a rail, {own} own + {load} load, sagging down", own=own, load=load),
        )
    return (
        say(
            "Moment in the most loaded rail, {own} × own weight + {load} × load, sagging downward; dashed:"
            " what the rail takes, 100 %",
            own=own,
            load=load,
        ),
        say(
            "Moment in a rail, {own} × own weight + {load} × load, sagging downward; dashed: what it takes,"
            " 100 %",
            own=own,
            load=load,
        ),
        say("Moment, {own} own + {load} load, sagging down; dashed: strength, 100 %", own=own, load=load),
        say("Moment, {own} own + {load} load; dashed: strength", own=own, load=load),
    )


def _shear_titles() -> tuple[str, ...]:
    own, load = exact(_OWN), exact(_LOAD)
    return (
        say(
            "Shear in the most loaded rail, {own} × own weight + {load} × load, either way",
            own=own,
            load=load,
        ),
        say("Shear in a rail, {own} own + {load} load, either way", own=own, load=load),
    )


def loads_of_use(evaluation: Evaluation) -> tuple[int, ...]:
    """Return the indices of the loads of the users and of the rated load: those that the design itself asks
    for.
    """
    return tuple(number for number, load in enumerate(evaluation.carried.loads) if is_of_use(load))


def worst_load(evaluation: Evaluation) -> int:
    """Return the index of the load of these that bends a rail most."""
    return greatest(loads_of_use(evaluation), lambda number: evaluation.carried.worst[number].moment_nmm)


def strength_picture(
    evaluation: Evaluation, load: int | None = None, size_mm: tuple[MM, MM] = SIZE_MM
) -> Picture:
    """Return the loaded ramp with the charts of moment, shear and sag below it, along one axis.

    `load` is an index of `carried.loads`; None takes that of the users and the rated load with the greatest
    moment. Where nothing holds the joint, a sentence stands in the place of the charts.
    """
    carried = evaluation.carried
    place = carried.worst[worst_load(evaluation) if load is None else load]
    words = carried.loads[place.load].words
    wide, tall = max(size_mm[0], LEAST_MM[0]), max(size_mm[1], LEAST_MM[1])
    page = _Page(evaluation=evaluation, place=place, wide_mm=wide, tall_mm=tall)
    marks: list[Ink] = [
        Label(
            text=fitting((words,), wide * SIZE_PT / _HEAD_PT),
            at=(0.0, tall - 3.2),
            pen="outline",
            size_pt=_HEAD_PT,
        ),
        Label(text=fitting((place_words(evaluation, place),), wide), at=(0.0, tall - 7.4), size_pt=SIZE_PT),
    ]
    foot = page.rows[0][1] + _TITLE_MM + _GAP_MM
    if carried.held:
        rails = rail_lines(evaluation.design, carried, evaluation.strengths, place.load)
        charts = (*_moment_chart(page, rails), *_shear_chart(page, rails), *_sag_chart(page))
        said = _said(rails)
    else:
        said = say(FOLDS)
        sentence = fitting((said, say("Nothing holds the joint: the ramp folds.")), wide * SIZE_PT / _HEAD_PT)
        charts = (Label(text=sentence, at=(0.0, foot - 8.0), pen="accent", size_pt=_HEAD_PT),)
    marks.extend(loaded_ramp(evaluation, place, page.graph(0, _PLAIN), foot))
    return Picture(
        marks=(*marks, *charts),
        box=(0.0, 0.0, wide, tall),
        title=say("Strength under {load}. {said}", load=words, said=said),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Page:
    """Where the charts stand."""

    evaluation: Evaluation
    place: WorstPlace
    wide_mm: MM
    tall_mm: MM

    @property
    def rows(self) -> tuple[tuple[MM, MM], ...]:
        """Return foot and top of the frame of each chart: moment, shear, sag."""
        over = _TITLE_MM + _GAP_MM
        room = self.tall_mm - _HEAD_MM - HEIGHT_MM - _FOOT_MM - len(_SHARES) * over
        found: list[tuple[MM, MM]] = []
        top = self.tall_mm - _HEAD_MM - HEIGHT_MM
        for share in _SHARES:
            top -= over
            found.append((top - share * room, top))
            top -= share * room
        return tuple(found)

    def graph(self, row: int, up: Axis) -> Graph:
        """Return a chart's graph; only the last one has figures along x."""
        low, high = self.rows[row]
        length = self.evaluation.carried.spans.length_mm
        ticks = length_ticks(0.0, length, max(4, round(self.wide_mm / 20.0)))
        last = row == len(_SHARES) - 1
        across = Axis(
            low=0.0, high=length, ticks=ticks if last else tuple((value, "") for value, _ in ticks),
            words=say("along the ramp from the deck hinge, {unit}", unit=length_unit()) if last else "",
        )  # fmt: skip
        return Graph(across=across, up=up, frame=(_LEFT_MM, low, self.wide_mm - RIGHT_MM, high))

    def ticks(self, row: int) -> int:
        """Return how many figures have room up the side of a chart."""
        low, high = self.rows[row]
        return max(4, round((high - low) / 5.5))

    def framed(self, graph: Graph, titles: tuple[str, ...], inside: tuple[Ink, ...]) -> Iterator[Ink]:
        """Yield a chart: grid, the section of the greatest moment, what is inside, frame with figures, and
        its title.
        """
        x, (low, high) = graph.at(self.place.section_mm, 0.0)[0], (graph.frame[1], graph.frame[3])
        yield from grid(graph)
        yield line((x, low), (x, high), "accent")
        yield from inside
        yield from (mark for mark in axes(graph) if not isinstance(mark, Label) or mark.text)
        title = fitting(titles, graph.frame[2] - graph.frame[0])
        yield Label(text=title, at=(graph.frame[0], high + 1.4), pen="outline", size_pt=SIZE_PT)


def _moment_chart(page: _Page, rails: tuple[RailLine, ...]) -> Iterator[Ink]:
    known = [rail.capacity for rail in rails if rail.capacity is not None]
    most = max(float(rail.moment_nmm.max()) for rail in rails)
    least = min(float(rail.hogging_nmm.min()) for rail in rails)
    deepest = max(most, *(float(values.max()) for _, values in known)) if known else most
    graph = page.graph(0, _downward(least / 1000, deepest / 1000, page.ticks(0), "N m"))
    marks: list[Ink] = []
    for rail in rails:
        capacity = rail.capacity
        marks.append(filled(graph, rail.x_mm, rail.moment_nmm / 1000, rail.body, rail.owner))
        if capacity is not None:
            marks.extend(
                beyond(
                    graph, (rail.x_mm, rail.moment_nmm / 1000), (capacity[0], capacity[1] / 1000), rail.owner
                )
            )
        marks.append(curve(graph, rail.x_mm, rail.moment_nmm / 1000, owner=rail.owner))
        if rail.hogging_nmm.min() < -0.01 * most:
            marks.append(curve(graph, rail.x_mm, rail.hogging_nmm / 1000, owner=rail.owner))
    if least < 0:
        marks.append(line(graph.at(graph.across.low, 0.0), graph.at(graph.across.high, 0.0), "thin"))
    marks.extend(curve(graph, x, values / 1000, "hidden") for x, values in known)
    marks.extend(_moment_figures(graph, page.place, rails))
    return page.framed(graph, _moment_titles(known=bool(known)), tuple(marks))


def _moment_figures(graph: Graph, place: WorstPlace, rails: tuple[RailLine, ...]) -> Iterator[Ink]:
    """Yield the greatest moment with its figure, and where bending with shear uses most of a rail, unless it
    is there too.
    """
    rail = next(rail for rail in rails if rail.body == place.leaf)
    at, curve = place.section_mm, (rail.x_mm, rail.moment_nmm / 1000)
    words = fixed(float(np.interp(at, *curve)), 0, "N m")
    used = [(*one.most_used(at), one) for one in rails if one.used.size]
    if used:
        share, where, one = greatest(used, lambda found: found[0])
        said = fixed(100 * share, 0, "%")
        apart = abs(graph.at(where, 0.0)[0] - graph.at(at, 0.0)[0])
        if apart < _NEAR_MM:
            words = f"{words}, {said}"
        else:
            yield from figure(
                graph, where, (one.x_mm, one.moment_nmm / 1000), said, outside=apart < _BESIDE_MM
            )
    yield from figure(graph, at, curve, words)


def _shear_chart(page: _Page, rails: tuple[RailLine, ...]) -> Iterator[Ink]:
    top = max(float(rail.shear_n.max()) for rail in rails)
    up = Axis(low=0.0, high=1.2 * top, ticks=round_ticks(0.0, 1.2 * top, page.ticks(1)), words="N")
    graph = page.graph(1, up)
    marks: list[Ink] = []
    for rail in rails:
        marks.append(filled(graph, rail.x_mm, rail.shear_n, rail.body, rail.owner))
        marks.append(curve(graph, rail.x_mm, rail.shear_n, owner=rail.owner))
    rail = greatest(rails, lambda one: float(one.shear_n.max()))
    (at,) = greatest_at(rail.shear_n)
    marks.extend(
        figure(graph, float(rail.x_mm[at]), (rail.x_mm, rail.shear_n), force_text(float(rail.shear_n[at])))
    )
    return page.framed(graph, _shear_titles(), tuple(marks))


def _sag_chart(page: _Page) -> Iterator[Ink]:
    evaluation = page.evaluation
    carried, design = evaluation.carried, evaluation.design
    span = max(end - start for start, end in carried.spans.ends_mm)
    limit, sag = span / design.use.sag_limit, carried.sag
    if sag is None:
        graph = page.graph(2, _downward(0.0, limit, page.ticks(2), "mm"))
        words = fitting(
            (say("No sag: '{material}' has no modulus of elasticity given.", material=design.made_of.rails),),
            page.wide_mm - _LEFT_MM,
        )
        return page.framed(graph, (words,), ())
    still = sag.self_weight_mm + sag.play_mm
    total = still + sag.load_mm[page.place.load]
    graph = page.graph(2, _downward(0.0, max(limit, float(total.max())), page.ticks(2), "mm"))
    x, limits = sag.x_mm, (np.array([0.0, carried.spans.length_mm]), np.array([limit, limit]))
    (at,) = greatest_at(total)
    marks = (
        filled(graph, x, total, "timber", ""),
        *beyond(graph, (x, total), limits, ""),
        curve(graph, x, still, "thin"),
        curve(graph, x, total),
        curve(graph, *limits, "hidden"),
        *figure(graph, float(x[at]), (x, total), mm(float(total[at]))),
    )
    words = say("limit {length}", length=mm(limit))
    rolls = isinstance(carried.loads[page.place.load], Rolling)
    return page.framed(
        graph, _sag_titles(words, f"{mm(span)} / {exact(design.use.sag_limit)}", rolls=rolls), marks
    )


def _sag_titles(limit: str, quotient: str, *, rolls: bool) -> tuple[str, ...]:
    if not rolls:
        return (
            (
                say(
                    "Sag by own weight and play of the joint only: it is judged under loads that"
                    " roll; dashed: {limit}",
                    limit=limit,
                )
            ),
            say("Sag by own weight and play only; dashed: {limit}", limit=limit),
        )
    return (
        (
            say(
                "Sag by own weight, load without bumps and play of the joint; thin: without the"
                " load; dashed: {limit} = {quotient}",
                limit=limit,
                quotient=quotient,
            )
        ),
        say("Sag, load without bumps; thin: without the load; dashed: {limit}", limit=limit),
        say("Sag, no bumps; dashed: {limit}", limit=limit),
    )


def _said(rails: tuple[RailLine, ...]) -> str:
    rail = greatest(rails, lambda one: float(one.moment_nmm.max()))
    at = float(rail.x_mm[greatest_at(rail.moment_nmm)[0]])
    moment = float(rail.moment_nmm.max()) / 1000
    return say(
        "Greatest design moment {moment} in {rail}, {length} from the deck hinge.",
        moment=fixed(moment, 0, "N m"),
        rail=named(rail.owner),
        length=figure_of(at, "mm", 0),
    )


def _downward(least: float, most: float, ticks: int, unit: str) -> Axis:
    """Return an axis with its greatest value at the foot of the frame."""
    high, low = 1.12 * most, 1.12 * min(least, 0.0)
    of_length = unit == "mm"
    places = (length_ticks if of_length else round_ticks)(low, high, ticks)
    words = say("{unit}, downward", unit=length_unit() if of_length else unit)
    return Axis(low=high, high=low, ticks=places, words=words)
