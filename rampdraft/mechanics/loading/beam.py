"""The ramp as a beam: exact envelopes under axles that move over it, by influence lines.

Frame: x along the ramp from the deck hinge to the toe, loads square to it and positive downward; moments are
positive where they sag, the shear at a section is what the part towards the toe, cut free, needs from the
part towards the deck: positive just beyond the deck hinge. The ramp is one span where a stop holds the joint,
and two simple spans where a prop stands under the joint: the moment there would be hogging, and the stop
opens.

Influence lines of a simple span are straight between section and supports (Mueller-Breslau), so the greatest
moment at a section comes with an axle on that section or with one coming onto the span; those places are
tried, all of them, and nothing between them can be greater. The absolute maximum of a span lies under an
axle, where the middle of the span halves the distance between that axle and the resultant of those on the
span (Barre's theorem), or where an axle comes on.

Arrays: D trains with K axles each, R rails that take a share of every axle, X sections.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.rounding import greatest_along
from rampdraft.units import MM, Array

_HAIR_MM: Final = 1e-7
"""How far beside a section a load stands that is just past it, and by how little a load on a support may seem
to miss it.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spans:
    """Where the beam is supported: at 0, at its length, and under the joint if a prop stands there."""

    length_mm: MM
    joint_mm: MM
    propped: bool

    @property
    def ends_mm(self) -> tuple[tuple[MM, MM], ...]:
        """Return start and end of each simple span."""
        if self.propped:
            return (0.0, self.joint_mm), (self.joint_mm, self.length_mm)
        return ((0.0, self.length_mm),)

    def over(self, x: Array) -> tuple[Array, Array]:
        """Return start and end of the span that each section lies in; the joint belongs to the first."""
        if not self.propped:
            return np.zeros_like(x), np.full_like(x, self.length_mm)
        first = x <= self.joint_mm
        return np.where(first, 0.0, self.joint_mm), np.where(first, self.joint_mm, self.length_mm)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class ForceEnvelope:
    """The most and the least at every section over all places of every train: arrays (D, R, X), N and N
    mm.
    """

    x_mm: Array
    """The sections, (X,)."""
    moment_most: Array
    moment_least: Array
    shear_most: Array
    """The greatest size of the shear."""


def moment_line(spans: Spans, x: Array, at: Array) -> Array:
    """Return the moment at x of a load of 1 N at `at`, mm; the arrays broadcast. A load beyond the span gives
    nothing.
    """
    start, end = spans.over(x)
    length = end - start
    return np.where(
        _on(start, end, at),
        np.where(at <= x, (at - start) * (end - x), (x - start) * (end - at)) / length,
        0.0,
    )


def shear_line(spans: Spans, x: Array, at: Array) -> Array:
    """Return the shear at x of a load of 1 N at `at`; a load on the section itself counts as beyond it,
    towards the toe.
    """
    return _shear(*spans.over(x), x, at)


def _shear(start: Array, end: Array, x: Array, at: Array) -> Array:
    return np.where(_on(start, end, at), np.where(at >= x, end - at, start - at) / (end - start), 0.0)


def _on(start: MM | Array, end: MM | Array, at: Array) -> NDArray[np.bool_]:
    """Return whether a load is on the span; rounding may not take one off its support, which carries all of
    it.
    """
    return (at >= start - _HAIR_MM) & (at <= end + _HAIR_MM)


def prop_line(spans: Spans, at: Array) -> Array:
    """Return what the prop carries of a load of 1 N at `at`."""
    joint, length = spans.joint_mm, spans.length_mm
    return np.clip(np.where(at <= joint, at / joint, (length - at) / (length - joint)), 0.0, None)


def hinge_line(spans: Spans, at: Array) -> Array:
    """Return what the deck hinge carries of a load of 1 N at `at`; a load on the deck is none of the
    hinge's.
    """
    end = spans.ends_mm[0][1]
    return np.where(_on(0.0, end, at), (end - at) / end, 0.0)


def toe_line(spans: Spans, at: Array) -> Array:
    """Return what the toe carries of a load of 1 N at `at`."""
    start, end = spans.ends_mm[-1]
    return np.where(_on(start, end, at), (at - start) / (end - start), 0.0)


def envelope(spans: Spans, x: Array, offsets: Array, loads: Array) -> ForceEnvelope:
    """Return the envelope of moment and shear at the sections x (X,).

    `offsets` (D, K): how far each axle stands from the first, towards the toe, mm. `loads` (D, R, K): what
    each rail takes of it, N. Any sign; an axle that is not there has the load 0.
    """
    places = _first_axle_places(spans, x, offsets)
    at = places[:, :, None, :] + offsets[:, :, None]
    start, end = spans.over(x)  # just past a section at the end of a span is still that span's
    before, past = (_shear(start, end, x + side, at) for side in (-_HAIR_MM, _HAIR_MM))
    most, least, shear = np.zeros((3, *loads.shape[:2], len(x)))
    # Place by place: all of them at once are too much for the processor's cache.
    for lines in zip(moment_line(spans, x, at), before, past, strict=True):
        moments, *shears = (loads @ line for line in lines)
        np.maximum(most, moments, out=most)
        np.minimum(least, moments, out=least)
        for one in shears:
            np.maximum(shear, np.abs(one), out=shear)
    return ForceEnvelope(x_mm=x, moment_most=most, moment_least=least, shear_most=shear)


def first_axles_mm(spans: Spans, sections_mm: Array, offsets: Array, loads: Array) -> Array:
    """Return where the first axle of each train stands when its moment at a section of its own is most, (D,).

    `sections_mm` (D,), `offsets` and `loads` (D, K).
    """
    at_ends = (_ends_mm(spans)[:, None, None] - offsets.T).reshape(-1, len(offsets))
    places = np.concatenate((sections_mm - offsets.T, at_ends))
    lines = moment_line(spans, sections_mm[:, None], places[:, :, None] + offsets)
    moments = (lines * loads).sum(axis=-1)
    return places[greatest_along(moments, moments.max(axis=0)), np.arange(len(offsets))]


def _first_axle_places(spans: Spans, x: Array, offsets: Array) -> Array:
    """Return where the first axle stands when one of the axles is on the section or at an end of a span: (C,
    D, X).
    """
    on_section = x - offsets.T[:, :, None]
    at_ends = (_ends_mm(spans)[:, None, None] - offsets.T).reshape(-1, len(offsets), 1)
    return np.concatenate((on_section, np.broadcast_to(at_ends, (*at_ends.shape[:2], len(x)))))


def _ends_mm(spans: Spans) -> Array:
    return np.array(sorted({end for span in spans.ends_mm for end in span}))


def greatest_moment_places(spans: Spans, offsets: Array, loads: Array) -> Array:
    """Return the sections where the absolute maximum of the moment of some train may lie, for loads (D, K) >=
    0.

    For each run of axles on a span and each axle of the run: where the middle of the span halves the distance
    between that axle and the resultant.
    """
    found: list[float] = []
    axles = offsets.shape[1]
    for start, end in spans.ends_mm:
        middle = (start + end) / 2
        for first in range(axles):
            for last in range(first, axles):
                weight = loads[:, first : last + 1].sum(axis=1)
                there = weight > 0
                moment = (loads[:, first : last + 1] * offsets[:, first : last + 1]).sum(axis=1)
                resultant = moment[there] / weight[there]
                for axle in range(first, last + 1):
                    found.extend((middle - (resultant - offsets[there, axle]) / 2).tolist())
        found = [at for at in found if 0.0 < at < spans.length_mm]
    return np.array(sorted(set(np.round(found, 6).tolist())))


def support_places(spans: Spans, offsets: Array) -> Array:
    """Return the axles' places (D, C, K) at which a support may carry most: an axle at an end of a span."""
    first = (_ends_mm(spans)[None, :, None] - offsets[:, None, :]).reshape(offsets.shape[0], -1)
    return first[..., None] + offsets[:, None, :]


def spread_moment(spans: Spans, x: Array, start: MM | Array, end: MM | Array) -> Array:
    """Return the moment at x of 1 N/mm from `start` to `end`, N mm a N/mm: the area of the influence line."""
    low, high = spans.over(x)
    a, b = np.clip(start, low, high), np.clip(end, low, high)
    length = high - low
    left, right = np.minimum(b, np.maximum(a, x)), np.maximum(a, np.minimum(b, x))
    before = ((right - low) ** 2 - (a - low) ** 2) / 2 * (high - x) / length
    beyond = ((high - left) ** 2 - (high - b) ** 2) / 2 * (x - low) / length
    return before + beyond


def spread_shear(spans: Spans, x: Array, start: MM | Array, end: MM | Array) -> Array:
    """Return the shear at x of 1 N/mm from `start` to `end`, N a N/mm."""
    low, high = spans.over(x)
    a, b = np.clip(start, low, high), np.clip(end, low, high)
    length = high - low
    left, right = np.minimum(b, np.maximum(a, x)), np.maximum(a, np.minimum(b, x))
    return ((high - left) ** 2 - (high - b) ** 2 - (right - low) ** 2 + (a - low) ** 2) / (2 * length)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Deflection:
    """How far the beam sinks at every node under a load of 1 N at every node, and how that changes with the
    load's place.
    """

    spans: Spans
    nodes_mm: Array
    lines: Array
    """Deflection at a node (second index) of 1 N at a node (first index), mm/N, (X, X)."""
    slopes: Array
    """Change of `lines` with the load's place, 1/N, (X, X)."""

    def under(self, at: Array) -> Array:
        """Return the deflection at every node of 1 N at each place, mm/N, (..., X); 0 for a place off the
        ramp.

        Between nodes the influence line is a cubic of the load's place, so its values and slopes at the nodes
        say all.
        """
        nodes = self.nodes_mm
        left = np.clip(np.searchsorted(nodes, at, side="right") - 1, 0, len(nodes) - 2)
        step = nodes[left + 1] - nodes[left]
        part = (at - nodes[left]) / step
        rest = 1 - part
        value = rest**2 * (1 + 2 * part), part**2 * (3 - 2 * part)
        slope = rest**2 * part * step, -rest * part**2 * step
        return self._felt(at) * sum_of(
            weight[..., None] * line[index]
            for weight, line, index in (
                (value[0], self.lines, left),
                (value[1], self.lines, left + 1),
                (slope[0], self.slopes, left),
                (slope[1], self.slopes, left + 1),
            )
        )

    def spread(self, n_mm: Array) -> Array:
        """Return the deflection at every node of even loads between nodes, `n_mm` (X - 1,) N/mm, in mm,
        (X,).
        """
        step = np.diff(self.nodes_mm)
        ends = (self.lines[:-1] + self.lines[1:]) * (step / 2)[:, None]
        bend = (self.slopes[:-1] - self.slopes[1:]) * (step**2 / 12)[:, None]
        return n_mm @ (self._felt((self.nodes_mm[1:] + self.nodes_mm[:-1]) / 2) * (ends + bend))

    def _felt(self, at: Array) -> NDArray[np.bool_]:
        """Return whether a node feels a load at a place, (..., X): over a prop neither span feels the
        other's.
        """
        start, end = self.spans.over(self.nodes_mm)
        return (at[..., None] >= start) & (at[..., None] <= end)


def sum_of(arrays: Iterable[Array]) -> Array:
    """Return the sum of arrays of one shape."""
    return np.sum(np.stack(tuple(arrays)), axis=0)


def deflection(spans: Spans, nodes: Array, stiffness: Array) -> Deflection:
    """Return the deflection of the beam by the unit-load theorem: the integral of m M / E I.

    `nodes` rise from 0 to the length and hold the joint and every place where `stiffness` (X - 1,), E I
    between nodes in N mm2, changes. The product of two moment lines is a parabola between nodes, which
    Simpson's rule integrates exactly.
    """
    middle = (nodes[1:] + nodes[:-1]) / 2
    step = np.diff(nodes) / stiffness
    # Sections just inside each interval, so that a joint over a prop belongs to the span on its side.
    sections = np.stack((nodes[:-1] + _HAIR_MM, middle, nodes[1:] - _HAIR_MM))
    weights = np.array((1 / 6, 4 / 6, 1 / 6))[:, None] * step
    moment = moment_line(spans, sections[:, None, :], nodes[None, :, None])
    change = _moment_change(spans, sections[:, None, :], nodes[None, :, None])
    weighed = (moment * weights[:, None, :]).transpose(1, 0, 2).reshape(len(nodes), -1)
    flat = (one.transpose(1, 0, 2).reshape(len(nodes), -1) for one in (moment, change))
    lines, slopes = (one @ weighed.T for one in flat)
    return Deflection(spans=spans, nodes_mm=nodes, lines=lines, slopes=slopes)


def _moment_change(spans: Spans, x: Array, at: Array) -> Array:
    """Return how the moment at x changes with the place of a load of 1 N at `at`."""
    start, end = spans.over(x)
    return np.where(_on(start, end, at), np.where(at <= x, end - x, start - x) / (end - start), 0.0)


def nodes_mm(spans: Spans, more: Array, count: int) -> Array:
    """Return about `count` sections evenly over the ramp, with its supports, its joint and `more` among
    them.
    """
    even = [
        np.linspace(a, b, max(2, round(count * (b - a) / spans.length_mm)) + 1)
        for a, b in pairwise((0.0, spans.joint_mm, spans.length_mm))
    ]
    every = np.concatenate((*even, np.clip(more, 0.0, spans.length_mm)))
    every.sort()
    return every[np.append(True, np.diff(every) > 1e-6)]
