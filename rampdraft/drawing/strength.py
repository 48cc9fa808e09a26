"""What the ramp carries, as ink: the load at its worst place, and moment, shear and sag along the ramp below
it.

Moment and shear are the design values that are judged by limit states, own weight and load with their
factors, the most of all places of the load; the sag is without bumps and factors. Sagging moment and sag are
drawn downward.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np

from rampdraft.drawing.axes import SIZE_PT, Axis, Graph, axes, grid, round_ticks
from rampdraft.drawing.dimension import ring
from rampdraft.drawing.ink import Anchor, Fill, Ink, Label, Path, Pen, Picture, line
from rampdraft.drawing.loaded_ramp import HEIGHT_MM, force_text, loaded_ramp, place_words
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.loading.beam import Array
from rampdraft.mechanics.loading.loads import Rolling, is_own
from rampdraft.mechanics.loading.results import LeafForces, WorstPlace
from rampdraft.model.design import Design
from rampdraft.rounding import greatest, greatest_at
from rampdraft.strength.basis import LIMIT_STATES
from rampdraft.strength.rails import rail_capacity_nmm
from rampdraft.strength.utilisation import FOLDS
from rampdraft.units import MM

SIZE_MM: Final = (170.0, 150.0)
"""On paper."""
LEAST_MM: Final = (100.0, 110.0)
"""Smaller than this the words run into each other."""
_LEFT_MM: Final = 17.0
_RIGHT_MM: Final = 5.0
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
_HAIR_MM: Final = 1e-3
_TAPER_POINTS: Final = 13
_FINE: Final = 400
"""So many places are tried for where a limit is passed."""
_LETTER_MM: Final = 1.45
"""Mean width of a letter."""
_NEAR_MM: Final = 4.0
"""Two marks nearer than this share one figure."""
_BESIDE_MM: Final = 30.0
"""Of two marks nearer than this, one has its figure beyond the curve."""
_OWN, _LOAD = f"{LIMIT_STATES.gamma_g:g}", f"{LIMIT_STATES.gamma_q:g}"

_MOMENT: Final = (
    (
        f"Moment in the most loaded rail, {_OWN} × own weight + {_LOAD} × load, sagging downward; dashed:"
        " what the rail takes, 100 %"
    ),
    f"Moment in a rail, {_OWN} × own weight + {_LOAD} × load, sagging downward; dashed: what it takes, 100 %",
    f"Moment, {_OWN} own + {_LOAD} load, sagging down; dashed: strength, 100 %",
    f"Moment, {_OWN} own + {_LOAD} load; dashed: strength",
)
_SHEAR: Final = (
    f"Shear in the most loaded rail, {_OWN} × own weight + {_LOAD} × load, either way",
    f"Shear in a rail, {_OWN} own + {_LOAD} load, either way",
)
_MOMENT_ALONE: Final = (
    (
        f"Moment in the most loaded rail, {_OWN} × own weight + {_LOAD} × load, sagging downward; its"
        " strength is not known"
    ),
    f"Moment in a rail, {_OWN} own + {_LOAD} load, sagging down",
)
_PLAIN: Final = Axis(low=0.0, high=1.0, ticks=(), words="")


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RailForces:
    """What the most loaded rail of a leaf has to carry at each section, design values of one load: (X,)."""

    body: Literal["inner", "outer"]
    rail: int
    """That with the greatest moment, counted from 1."""
    x_mm: Array
    moment_nmm: Array
    hogging_nmm: Array
    """0 or less."""
    shear_n: Array

    @property
    def owner(self) -> str:
        """Return the key of the rail."""
        return f"{self.body} rail {self.rail}"


def own_loads(evaluation: Evaluation) -> tuple[int, ...]:
    """Return the indices of the loads of the users and of the rated load: those that the design itself asks
    for.
    """
    return tuple(number for number, load in enumerate(evaluation.carried.loads) if is_own(load))


def worst_load(evaluation: Evaluation) -> int:
    """Return the index of the load of these that bends a rail most."""
    return greatest(own_loads(evaluation), lambda number: evaluation.carried.worst[number].moment_nmm)


def rail_forces(forces: LeafForces, load: int) -> RailForces:
    """Return the design values of a leaf's rails under a load, at each section those of the rail that has
    most there.
    """
    basis, most = LIMIT_STATES, forces.moment_nmm[load]
    return RailForces(
        body=forces.body,
        rail=greatest_at(most.max(axis=1))[0] + 1,
        x_mm=forces.x_mm,
        moment_nmm=basis.gamma_g * forces.own_moment_nmm + basis.gamma_q * most.max(axis=0),
        hogging_nmm=np.minimum(
            forces.own_moment_nmm + basis.gamma_q * forces.hogging_nmm[load].min(axis=0), 0.0
        ),
        shear_n=basis.gamma_g * forces.own_shear_n + basis.gamma_q * forces.shear_n[load].max(axis=0),
    )


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
            text=_fitting((words,), wide * SIZE_PT / _HEAD_PT),
            at=(0.0, tall - 3.2),
            pen="outline",
            size_pt=_HEAD_PT,
        ),
        Label(text=_fitting((place_words(evaluation, place),), wide), at=(0.0, tall - 7.4), size_pt=SIZE_PT),
    ]
    foot = page.rows[0][1] + _TITLE_MM + _GAP_MM
    if carried.held:
        rails = tuple(rail_forces(forces, place.load) for forces in carried.leaves)
        charts = (*_moment_chart(page, rails), *_shear_chart(page, rails), *_sag_chart(page))
        said = _said(rails)
    else:
        said = FOLDS
        sentence = _fitting((FOLDS, "Nothing holds the joint: the ramp folds."), wide * SIZE_PT / _HEAD_PT)
        charts = (Label(text=sentence, at=(0.0, foot - 8.0), pen="accent", size_pt=_HEAD_PT),)
    marks.extend(loaded_ramp(evaluation, place, page.graph(0, _PLAIN), foot))
    return Picture(
        marks=(*marks, *charts), box=(0.0, 0.0, wide, tall), title=f"Strength under {words}. {said}"
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
        ticks = round_ticks(0.0, length, max(4, round(self.wide_mm / 20.0)))
        last = row == len(_SHARES) - 1
        across = Axis(
            low=0.0, high=length, ticks=ticks if last else tuple((value, "") for value, _ in ticks),
            words="along the ramp from the deck hinge, mm" if last else "",
        )  # fmt: skip
        return Graph(across=across, up=up, frame=(_LEFT_MM, low, self.wide_mm - _RIGHT_MM, high))

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
        title = _fitting(titles, graph.frame[2] - graph.frame[0])
        yield Label(text=title, at=(graph.frame[0], high + 1.4), pen="outline", size_pt=SIZE_PT)


def _moment_chart(page: _Page, rails: tuple[RailForces, ...]) -> Iterator[Ink]:
    design, place = page.evaluation.design, page.place
    capacities = [_capacity(design, rail, page.evaluation.carried.spans.joint_mm) for rail in rails]
    known = [capacity for capacity in capacities if capacity is not None]
    most = max(float(rail.moment_nmm.max()) for rail in rails)
    least = min(float(rail.hogging_nmm.min()) for rail in rails)
    deepest = max(most, *(float(values.max()) for _, values in known)) if known else most
    graph = page.graph(0, _downward(least / 1000, deepest / 1000, page.ticks(0), "N m"))
    marks: list[Ink] = []
    for rail, capacity in zip(rails, capacities, strict=True):
        marks.append(_filled(graph, rail.x_mm, rail.moment_nmm / 1000, rail.body, rail.owner))
        if capacity is not None:
            marks.extend(
                _beyond(
                    graph, (rail.x_mm, rail.moment_nmm / 1000), (capacity[0], capacity[1] / 1000), rail.owner
                )
            )
        marks.append(_curve(graph, rail.x_mm, rail.moment_nmm / 1000, owner=rail.owner))
        if rail.hogging_nmm.min() < -0.01 * most:
            marks.append(_curve(graph, rail.x_mm, rail.hogging_nmm / 1000, owner=rail.owner))
    if least < 0:
        marks.append(line(graph.at(graph.across.low, 0.0), graph.at(graph.across.high, 0.0), "thin"))
    marks.extend(_curve(graph, x, values / 1000, "hidden") for x, values in known)
    marks.extend(_moment_figures(graph, place, rails, capacities))
    return page.framed(graph, _MOMENT if known else _MOMENT_ALONE, tuple(marks))


def _moment_figures(
    graph: Graph,
    place: WorstPlace,
    rails: tuple[RailForces, ...],
    capacities: list[tuple[Array, Array] | None],
) -> Iterator[Ink]:
    """Yield the greatest moment with its figure, and where bending uses most of a rail, unless it is there
    too.
    """
    rail = next(rail for rail in rails if rail.body == place.leaf)
    at, curve = place.section_mm, (rail.x_mm, rail.moment_nmm / 1000)
    words = f"{float(np.interp(at, *curve)):.0f} N m"
    used = [
        (*_share(one, known, at), one)
        for one, known in zip(rails, capacities, strict=True)
        if known is not None
    ]
    if used:
        share, where, one = greatest(used, lambda found: found[0])
        said = f"{100 * share:.0f} %"
        apart = abs(graph.at(where, 0.0)[0] - graph.at(at, 0.0)[0])
        if apart < _NEAR_MM:
            words = f"{words}, {said}"
        else:
            yield from _figure(
                graph, where, (one.x_mm, one.moment_nmm / 1000), said, outside=apart < _BESIDE_MM
            )
    yield from _figure(graph, at, curve, words)


def _shear_chart(page: _Page, rails: tuple[RailForces, ...]) -> Iterator[Ink]:
    top = max(float(rail.shear_n.max()) for rail in rails)
    up = Axis(low=0.0, high=1.2 * top, ticks=round_ticks(0.0, 1.2 * top, page.ticks(1)), words="N")
    graph = page.graph(1, up)
    marks: list[Ink] = []
    for rail in rails:
        marks.append(_filled(graph, rail.x_mm, rail.shear_n, rail.body, rail.owner))
        marks.append(_curve(graph, rail.x_mm, rail.shear_n, owner=rail.owner))
    rail = greatest(rails, lambda one: float(one.shear_n.max()))
    (at,) = greatest_at(rail.shear_n)
    marks.extend(
        _figure(graph, float(rail.x_mm[at]), (rail.x_mm, rail.shear_n), force_text(float(rail.shear_n[at])))
    )
    return page.framed(graph, _SHEAR, tuple(marks))


def _sag_chart(page: _Page) -> Iterator[Ink]:
    evaluation = page.evaluation
    carried, design = evaluation.carried, evaluation.design
    span = max(end - start for start, end in carried.spans.ends_mm)
    limit, sag = span / design.use.sag_limit, carried.sag
    if sag is None:
        graph = page.graph(2, _downward(0.0, limit, page.ticks(2), "mm"))
        words = _fitting(
            (f"No sag: '{design.made_of.rails}' has no modulus of elasticity given.",),
            page.wide_mm - _LEFT_MM,
        )
        return page.framed(graph, (words,), ())
    still = sag.own_mm + sag.play_mm
    total = still + sag.load_mm[page.place.load]
    graph = page.graph(2, _downward(0.0, max(limit, float(total.max())), page.ticks(2), "mm"))
    x, limits = sag.x_mm, (np.array([0.0, carried.spans.length_mm]), np.array([limit, limit]))
    (at,) = greatest_at(total)
    marks = (
        _filled(graph, x, total, "timber", ""),
        *_beyond(graph, (x, total), limits, ""),
        _curve(graph, x, still, "thin"),
        _curve(graph, x, total),
        _curve(graph, *limits, "hidden"),
        *_figure(graph, float(x[at]), (x, total), f"{mm_text(float(total[at]))} mm"),
    )
    words = f"limit {mm_text(limit)} mm"
    rolls = isinstance(carried.loads[page.place.load], Rolling)
    return page.framed(
        graph, _sag_titles(words, f"{mm_text(span)} mm / {design.use.sag_limit:g}", rolls=rolls), marks
    )


def _sag_titles(limit: str, quotient: str, *, rolls: bool) -> tuple[str, ...]:
    if not rolls:
        return (
            (
                "Sag by own weight and play of the joint only: it is judged under loads that roll; dashed:"
                f" {limit}"
            ),
            f"Sag by own weight and play only; dashed: {limit}",
        )
    return (
        (
            "Sag by own weight, load without bumps and play of the joint; thin: without the load; dashed:"
            f" {limit} = {quotient}"
        ),
        f"Sag, load without bumps; thin: without the load; dashed: {limit}",
        f"Sag, no bumps; dashed: {limit}",
    )


def _said(rails: tuple[RailForces, ...]) -> str:
    rail = greatest(rails, lambda one: float(one.moment_nmm.max()))
    at = float(rail.x_mm[greatest_at(rail.moment_nmm)[0]])
    moment = float(rail.moment_nmm.max()) / 1000
    return (
        f"Greatest design moment {moment:.0f} N m in {rail.owner}, {mm_text(at, 0)} mm from the deck hinge."
    )


def _downward(least: float, most: float, ticks: int, unit: str) -> Axis:
    """Return an axis with its greatest value at the foot of the frame."""
    high, low = 1.12 * most, 1.12 * min(least, 0.0)
    return Axis(low=high, high=low, ticks=round_ticks(low, high, ticks), words=f"{unit}, downward")


def _capacity(design: Design, rail: RailForces, joint_mm: MM) -> tuple[Array, Array] | None:
    """Return places along the ramp and the moment that a rail takes there, with every step; None where that
    is not known.
    """
    inner = rail.body == "inner"
    leaf, start = (design.inner_leaf, 0.0) if inner else (design.outer_leaf, joint_mm)
    half = leaf.cross_section.width_mm / 2
    steps = [
        edge + hair
        for at in leaf.cross_positions_mm
        for edge in (at - half, at + half)
        for hair in (-_HAIR_MM, _HAIR_MM)
    ]
    taper = leaf.length_mm - design.toe.length_mm
    if not inner and design.toe.kind == "taper":
        steps += [taper, taper + _HAIR_MM, *np.linspace(taper, leaf.length_mm, _TAPER_POINTS)[1:]]
    along = np.unique(np.clip([0.0, *steps, leaf.length_mm], 0.0, leaf.length_mm))
    values = rail_capacity_nmm(design, rail.body, along)
    return None if values is None else (start + along, values)


def _share(rail: RailForces, capacity: tuple[Array, Array], section_mm: MM) -> tuple[float, MM]:
    """Return how much of what the rail takes the moment is at most, of the sections that are judged, and
    where.

    The section of the greatest moment is named where it is as bad as any, to half a per cent.
    """
    shares = rail.moment_nmm / np.interp(rail.x_mm, *capacity)
    most, at = float(shares.max()), int(np.abs(rail.x_mm - section_mm).argmin())
    if shares[at] > most - 0.005 and abs(rail.x_mm[at] - section_mm) < 1.0:
        return float(shares[at]), section_mm
    return most, float(rail.x_mm[greatest_at(shares)[0]])


def _curve(graph: Graph, x: Array, values: Array, pen: Pen = "outline", owner: str = "") -> Path:
    return Path(vertices=_vertices(graph, x, values), closed=False, pen=pen, owner=owner)


def _filled(graph: Graph, x: Array, values: Array, fill: Fill, owner: str) -> Path:
    """Return the area between a curve and zero."""
    ends = _vertices(graph, x[[-1, 0]], np.zeros(2))
    return Path(
        vertices=(*_vertices(graph, x, values), *ends), closed=True, pen="ghost", fill=fill, owner=owner
    )


def _beyond(
    graph: Graph, curve: tuple[Array, Array], limit: tuple[Array, Array], owner: str
) -> Iterator[Path]:
    """Yield the areas in which a curve is beyond a limit, hatched."""
    fine: Array = np.linspace(float(curve[0][0]), float(curve[0][-1]), _FINE)
    x = np.unique(np.concatenate((curve[0], limit[0], fine)))
    values, limits = np.interp(x, *curve), np.interp(x, *limit)
    edges = np.flatnonzero(np.diff(np.concatenate(([False], values > limits, [False]))))
    for first, last in zip(edges[::2], edges[1::2], strict=True):
        span = slice(first, last)
        there, back = (
            _vertices(graph, x[span], values[span]),
            _vertices(graph, x[span][::-1], limits[span][::-1]),
        )
        yield Path(vertices=(*there, *back), closed=True, pen="ghost", fill="clash", owner=owner)


def _vertices(graph: Graph, x: Array, values: Array) -> tuple[tuple[MM, MM, float], ...]:
    return tuple((*graph.at(at, value), 0.0) for at, value in zip(x.tolist(), values.tolist(), strict=True))


def _figure(
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
    return replace(ring(at, 0.8), pen="accent"), label


def _fitting(choices: tuple[str, ...], room_mm: MM) -> str:
    """Return the first of several wordings that has room, the last one cut with an ellipsis where none
    has.
    """
    most = int(room_mm / _LETTER_MM)
    return next((words for words in choices if len(words) <= most), choices[-1][: most - 1].rstrip() + "…")
