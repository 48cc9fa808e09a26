"""What the ramp's members have to carry: every load at every place, shared among the rails by the lever rule.

The ramp is taken as lying level, as long as both leaves: the moments and shears are a little more than on the
slope, and the thrust along the slope, weight times its sine, is left out (below 1 MPa in the rails). The
rails of a leaf share its own weight alike. The sections are a twentieth of the length apart, with the joint,
every notch, a taper in nine and the places of the greatest moments of the heaviest loads among them: twenty
times as many find the samples' moments 0.1 % greater at most.
"""

from collections.abc import Callable
from dataclasses import replace
from typing import Final, Literal

import numpy as np

from rampdraft.geometry.sections import properties
from rampdraft.mechanics.joint import handed_on, joint_verdict
from rampdraft.mechanics.loading.beam import (
    Array,
    ForceEnvelope,
    Spans,
    deflection,
    envelope,
    first_axles_mm,
    greatest_moment_places,
    hinge_line,
    nodes_mm,
    prop_line,
    spread_moment,
    spread_shear,
    support_places,
    toe_line,
)
from rampdraft.mechanics.loading.loads import (
    Axle,
    Footprint,
    Load,
    PerMetre,
    Rolling,
    axle_shares,
    edge_mm,
    spread_shares,
)
from rampdraft.mechanics.loading.results import Carried, JointForces, LeafForces, Sag, WorstPlace
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf
from rampdraft.rounding import greatest_along, greatest_at
from rampdraft.units import G_M_S2, KG, MM, N

SECTIONS: Final = 20
TAPER_SECTIONS: Final = 9
"""So many along a taper, where the section changes from place to place."""
HEAVIEST: Final = 2
"""Of so many of the heaviest loads the places of the greatest moment are among the sections."""
SAG_SECTIONS: Final = 12
"""The sag is told at so many sections."""
SAG_PLACES: Final = 24
"""So many places of a train are tried for the sag."""
_HAIR_MM: Final = 1e-6


SupportLine = Callable[[Spans, Array], Array]
"""What a support carries of a load of 1 N at a place: `beam.hinge_line`, `prop_line` or `toe_line`."""


def carry(design: Design, leaves_kg: tuple[KG, KG], loads: tuple[Load, ...]) -> Carried:
    """Return what each load, at its worst place, puts on rails, joint, hinge, prop and toe."""
    verdict = joint_verdict(design)
    inner, outer = design.inner_leaf, design.outer_leaf
    spans = Spans(
        length_mm=inner.length_mm + outer.length_mm, joint_mm=inner.length_mm, propped=design.prop.fitted
    )
    over = _Over(design, spans, loads)
    own = _SelfWeight(leaves_kg, spans)
    x = _sections(design, spans, over)
    near, before = _leaf_forces(over, own, "inner", inner, x[x <= spans.joint_mm + _HAIR_MM])
    far, beyond = _leaf_forces(over, own, "outer", outer, x[x >= spans.joint_mm - _HAIR_MM])
    hinge, toe = abs(own.shear(_HAIR_MM)), abs(own.shear(spans.length_mm - _HAIR_MM))
    return Carried(
        loads=loads,
        spans=spans,
        held=verdict.held,
        inner=near,
        outer=far,
        joint=_joint_forces(design, over, own),
        hinge_n=over.support(hinge_line, inner.rail_lanes_mm),
        self_weight_hinge_n=hinge / len(inner.rail_lanes_mm),
        toe_n=over.support(toe_line, (0.0,))[:, 0],
        toe_rails_n=over.support(toe_line, outer.rail_lanes_mm),
        self_weight_toe_n=toe,
        sag=_sag(design, over, own, verdict.drop_mm),
        worst=_worst_places(over, ((inner, near, before), (outer, far, beyond))),
    )


class _SelfWeight:
    """The ramp's self-weight, spread evenly over each leaf."""

    def __init__(self, leaves_kg: tuple[KG, KG], spans: Spans) -> None:
        self.spans = spans
        joint, length = spans.joint_mm, spans.length_mm
        self.strips = (
            (leaves_kg[0] * G_M_S2 / joint, 0.0, joint),
            (leaves_kg[1] * G_M_S2 / (length - joint), joint, length),
        )
        """(N/mm, start, end)."""

    def moment(self, x: Array) -> Array:
        """Return the moment of the whole width at x."""
        near, far = (n_mm * spread_moment(self.spans, x, start, end) for n_mm, start, end in self.strips)
        return near + far

    def shears(self, x: Array) -> Array:
        """Return the shear of the whole width at x."""
        near, far = (n_mm * spread_shear(self.spans, x, start, end) for n_mm, start, end in self.strips)
        return near + far

    def shear(self, at_mm: MM) -> N:
        """Return the shear of the whole width at one section."""
        return float(self.shears(np.array([at_mm]))[0])


class _Over:
    """The loads on their way over the ramp; those that roll are done together, both ways round, at three
    places across.

    Loads that differ only in weight, as a rated load and the user it rolls like, are done once as a train of
    1 N.
    """

    def __init__(self, design: Design, spans: Spans, loads: tuple[Load, ...]) -> None:
        self.spans, self.loads = spans, loads
        self.width_mm = min(design.inner_leaf.width_mm, design.outer_leaf.width_mm)
        self.rolling = [number for number, load in enumerate(loads) if isinstance(load, Rolling)]
        rolling = [load for load in loads if isinstance(load, Rolling)]
        shapes: dict[tuple[tuple[Axle, ...], ...], int] = {}
        self.shape = [shapes.setdefault(_of_one_newton(load), len(shapes)) for load in rolling]
        """Of each load that rolls, the trains that it is a multiple of."""
        self.weight_n = np.array([load.force_n for load in rolling])
        self.shapes = len(shapes)
        self.ways = max((len(load.ways) for load in rolling), default=1)
        most = max((len(axles) for ways in shapes for axles in ways), default=1)
        self.trains = [_padded(axles, most) for ways in shapes for axles in ways]
        self.edges_mm = np.array([edge_mm(self.width_mm, axles) for axles in self.trains])
        self.offsets, self.forces, self._tracks = (
            np.array(rows, dtype=np.float64).reshape(len(self.trains), most)
            for rows in (
                [[axle.offset_mm for axle in axles] for axles in self.trains],
                [[axle.force_n for axle in axles] for axles in self.trains],
                [[axle.track_mm for axle in axles] for axles in self.trains],
            )
        )
        self._kept: dict[tuple[MM, ...], Array] = {}
        self._places: dict[tuple[MM, ...], Array] = {}

    def places_mm(self, lanes_mm: tuple[MM, ...]) -> Array:
        """Return where the middle of each train goes across, (D, P): both edges, the middle, and over each
        inner lane.

        Over a lane stands that wheel, on that side, which with all the others brings most to it.
        """
        if lanes_mm not in self._places:
            edges = self.edges_mm[:, None]
            found = [-edges, np.zeros_like(edges), edges]
            for number, lane in enumerate(lanes_mm[1:-1], start=1):
                tried = np.clip(
                    np.concatenate((lane - self._tracks / 2, lane + self._tracks / 2), axis=1), -edges, edges
                )
                brought = (
                    axle_shares(lanes_mm, self._tracks, tried)[:, :, number] * self.forces[:, None]
                ).sum(axis=-1)
                best = greatest_along(brought.T, brought.max(axis=1))
                found.append(np.take_along_axis(tried, best[:, None], axis=1))
            self._places[lanes_mm] = np.concatenate(found, axis=1)
        return self._places[lanes_mm]

    def shared(self, lanes_mm: tuple[MM, ...], passed_on: Array | None = None) -> Array:
        """Return what each lane takes of each axle, (D, P R, K): D trains, P places across.

        `passed_on` (S, R) hands what the lanes take on to S other parts.
        """
        if lanes_mm not in self._kept:
            shares = axle_shares(lanes_mm, self._tracks, self.places_mm(lanes_mm))
            self._kept[lanes_mm] = shares * self.forces[:, None, None, :]
        shares = self._kept[lanes_mm]
        if passed_on is not None:
            shares = passed_on @ shares
        return shares.reshape(len(self.trains), -1, self.offsets.shape[1])

    def resting_shares(
        self, load: Footprint | PerMetre, lanes_mm: tuple[MM, ...], passed_on: Array | None = None
    ) -> Array:
        """Return what each lane takes of a load that does not roll, (R,)."""
        half = min(load.across_mm if isinstance(load, Footprint) else self.width_mm, self.width_mm) / 2
        shares = spread_shares(lanes_mm, -half, half)
        return shares if passed_on is None else passed_on @ shares

    def lines(
        self, lanes_mm: tuple[MM, ...], x: Array, passed_on: Array | None = None
    ) -> tuple[Array, Array, Array, ForceEnvelope | None]:
        """Return the most moment, the least moment and the most shear of every load, each (L, R, X), and the
        envelope behind.
        """
        parts = len(lanes_mm) if passed_on is None else len(passed_on)
        most, least, shear = np.zeros((3, len(self.loads), parts, len(x)))
        behind = None
        if self.rolling:
            behind = envelope(self.spans, x, self.offsets, self.shared(lanes_mm, passed_on))
            rows, times = (self.shapes, -1, parts, len(x)), self.weight_n[:, None, None]
            most[self.rolling] = times * behind.moment_most.reshape(rows).max(axis=1)[self.shape]
            least[self.rolling] = times * behind.moment_least.reshape(rows).min(axis=1)[self.shape]
            shear[self.rolling] = times * behind.shear_most.reshape(rows).max(axis=1)[self.shape]
        for number, load in enumerate(self.loads):
            if not isinstance(load, Rolling):
                moment, cut = self._resting(load, x)
                shares = self.resting_shares(load, lanes_mm, passed_on)[:, None]
                most[number], least[number] = np.maximum(shares * moment, 0), np.minimum(shares * moment, 0)
                shear[number] = np.abs(shares * cut)
        return most, least, shear, behind

    def _resting(self, load: Footprint | PerMetre, x: Array) -> tuple[Array, Array]:
        """Return moment and size of shear of the whole width at x under a load that does not roll."""
        spans = self.spans
        if isinstance(load, PerMetre):
            end = np.full_like(x, spans.length_mm)
            sides = spread_shear(spans, x, x, end), spread_shear(spans, x, np.zeros_like(x), x)
            return load.n_mm * spread_moment(spans, x, 0.0, spans.length_mm), load.n_mm * np.maximum(
                *map(np.abs, sides)
            )
        start, end = self.footprint_mm(load)
        n_mm = load.force_n / (end - start)
        return n_mm * spread_moment(spans, x, start, end), n_mm * np.abs(spread_shear(spans, x, start, end))

    def footprint_mm(self, load: Footprint) -> tuple[MM, MM]:
        """Return from where to where along the ramp a footprint lies: about its middle."""
        half = min(load.along_mm, self.spans.length_mm) / 2
        return self.spans.length_mm / 2 - half, self.spans.length_mm / 2 + half

    def support(self, line: SupportLine, lanes_mm: tuple[MM, ...]) -> Array:
        """Return the most that a support carries in each lane under every load, (L, R)."""
        found = np.zeros((len(self.loads), len(lanes_mm)))
        if self.rolling:
            influence = line(self.spans, support_places(self.spans, self.offsets))
            carried = np.einsum("drk,dck->drc", self.shared(lanes_mm), influence).max(axis=-1)
            most = carried.reshape(self.shapes, -1, len(lanes_mm)).max(axis=1)
            found[self.rolling] = self.weight_n[:, None] * most[self.shape]
        for number, load in enumerate(self.loads):
            if not isinstance(load, Rolling):
                found[number] = self.resting_shares(load, lanes_mm) * self._resting_support(load, line)
        return np.maximum(found, 0.0)

    def _resting_support(self, load: Footprint | PerMetre, line: SupportLine) -> N:
        """Return what a support carries of a load that does not roll: the area of its influence line,
        straight in pieces.
        """
        start, end = (0.0, self.spans.length_mm) if isinstance(load, PerMetre) else self.footprint_mm(load)
        n_mm = load.n_mm if isinstance(load, PerMetre) else load.force_n / (end - start)
        cuts = np.array(sorted({start, end, *(at for at in (self.spans.joint_mm,) if start < at < end)}))
        return n_mm * float(np.diff(cuts) @ line(self.spans, (cuts[1:] + cuts[:-1]) / 2))


def _of_one_newton(load: Rolling) -> tuple[tuple[Axle, ...], ...]:
    """Return the axles with their shares of the whole weight for forces; rounding may not tell two alike
    apart.
    """
    weight = load.force_n
    return tuple(
        tuple(replace(axle, force_n=round(axle.force_n / weight, 12)) for axle in axles)
        for axles in load.ways
    )


def _padded(axles: tuple[Axle, ...], count: int) -> tuple[Axle, ...]:
    """Return the axles with weightless ones beside the last, so that all trains have as many."""
    nothing = replace(axles[-1], force_n=0.0)
    return (*axles, *(nothing for _ in range(count - len(axles))))


def _sections(design: Design, spans: Spans, over: _Over) -> Array:
    """Return the sections along the ramp: evenly, at every cross member, at the places of the greatest
    moments.
    """
    joint = spans.joint_mm
    crosses = [
        *design.inner_leaf.cross_positions_mm,
        *(joint + at for at in design.outer_leaf.cross_positions_mm),
    ]
    if design.toe.kind == "taper":
        crosses.extend(
            np.linspace(spans.length_mm - design.toe.length_mm, spans.length_mm, TAPER_SECTIONS)[:-1].tolist()
        )
    heaviest = [over.shape[int(number)] for number in np.argsort(-over.weight_n)[:HEAVIEST]]
    rows = [over.ways * shape + way for shape in dict.fromkeys(heaviest) for way in range(over.ways)]
    greatest = greatest_moment_places(spans, over.offsets[rows], over.forces[rows])
    return nodes_mm(spans, np.concatenate((crosses, greatest)), SECTIONS)


def _leaf_forces(
    over: _Over, own: _SelfWeight, body: Literal["inner", "outer"], leaf: Leaf, x: Array
) -> tuple[LeafForces, ForceEnvelope | None]:
    """Return what the rails of a leaf carry, and the envelope behind."""
    lanes = leaf.rail_lanes_mm
    # The joint is a section of both leaves; over a prop each leaf ends there by itself.
    side = x if body == "inner" else np.maximum(x, over.spans.joint_mm + _HAIR_MM)
    most, least, shear, behind = over.lines(lanes, side)
    forces = LeafForces(
        body=body,
        x_mm=x,
        moment_nmm=most,
        hogging_nmm=least,
        shear_n=shear,
        self_weight_moment_nmm=own.moment(side) / len(lanes),
        self_weight_shear_n=np.abs(own.shears(side)) / len(lanes),
    )
    return forces, behind


def _worst_places(
    over: _Over, leaves: tuple[tuple[Leaf, LeafForces, ForceEnvelope | None], ...]
) -> tuple[WorstPlace, ...]:
    """Return where each load stands when it bends a rail most, of whichever leaf."""
    most = np.stack([forces.moment_nmm.max(axis=(1, 2)) for _, forces, _ in leaves])
    chosen: list[int] = greatest_along(most, most.max(axis=0)).tolist()
    found: list[WorstPlace] = []
    trains: list[tuple[MM, int, Array]] = []
    for number, one in enumerate(chosen):
        leaf, forces, behind = leaves[one]
        rail, at = greatest_at(forces.moment_nmm[number])
        place = WorstPlace(
            load=number,
            leaf=forces.body,
            rail=rail + 1,
            section_mm=float(forces.x_mm[at]),
            first_axle_mm=over.spans.length_mm / 2,
            across_mm=0.0,
            way=0,
            moment_nmm=float(forces.moment_nmm[number, rail, at]),
        )
        if behind is not None and number in over.rolling:
            lanes, first = leaf.rail_lanes_mm, over.ways * over.shape[over.rolling.index(number)]
            across = over.places_mm(lanes)[first : first + over.ways]
            rows = behind.moment_most[first : first + over.ways, :, at].reshape(*across.shape, -1)[..., rail]
            way, row = greatest_at(rows)
            shares = over.shared(lanes)[first + way, row * len(lanes) + rail]
            trains.append((float(behind.x_mm[at]), first + way, shares))
            place = replace(place, across_mm=float(across[way, row]), way=way)
        found.append(place)
    if trains:
        sections, rows, shares = (np.array(column) for column in zip(*trains, strict=True))
        firsts = first_axles_mm(over.spans, sections, over.offsets[rows], shares).tolist()
        for number, first in zip(over.rolling, firsts, strict=True):
            found[number] = replace(found[number], first_axle_mm=first)
    return tuple(found)


def _joint_forces(design: Design, over: _Over, own: _SelfWeight) -> JointForces:
    lanes, joint = design.inner_leaf.rail_lanes_mm, over.spans.joint_mm
    # Over a prop the outer leaf ends just beyond the joint; the moment there is none, the shear is the outer
    # leaf's.
    at = np.array([joint, joint + _HAIR_MM])
    moment, _, shear, _ = over.lines(lanes, at)
    handed = handed_on(design)
    stop_moment = np.zeros((len(over.loads), 0))
    if len(handed.to_bars):
        stop_moment = over.lines(lanes, at[:1], handed.to_bars)[0][..., 0]
    if handed.to_pairs is not None:
        moment = over.lines(lanes, at[:1], handed.to_pairs)[0]
    props = (lanes[0], lanes[-1]) if len(lanes) > 1 else lanes
    prop, own_prop = np.zeros((len(over.loads), len(props))), 0.0
    if over.spans.propped:
        prop = over.support(prop_line, props)
        own_prop = (abs(own.shear(joint)) + abs(own.shear(joint + _HAIR_MM))) / len(props)
    return JointForces(
        moment_nmm=moment[..., 0],
        shear_n=shear[..., 1],
        stop_moment_nmm=stop_moment,
        self_weight_moment_nmm=float(own.moment(at)[0]),
        self_weight_share=handed.self_weight_share,
        self_weight_shear_n=abs(own.shear(joint + _HAIR_MM)),
        prop_n=prop,
        self_weight_prop_n=own_prop,
    )


def _sag(design: Design, over: _Over, own: _SelfWeight, drop_mm: MM) -> Sag | None:
    """Return the sag of the rails; None where their modulus of elasticity is not known.

    A rail of the inner leaf goes on as one of the outer leaf; it is judged with the shares of either leaf's
    lanes.
    """
    elastic = material_named(design, design.made_of.rails).elastic_mpa
    if not elastic:
        return None
    leaves, joint = (design.inner_leaf, design.outer_leaf), over.spans.joint_mm
    x = nodes_mm(over.spans, np.array([]), SAG_SECTIONS)
    stiff = [elastic * properties(leaf.rail_section).second_moment_mm4 for leaf in leaves]
    middles = (x[1:] + x[:-1]) / 2
    beam = deflection(over.spans, x, np.where(middles < joint, *stiff))
    n_mm = [strip[0] / len(leaf.rail_lanes_mm) for strip, leaf in zip(own.strips, leaves, strict=True)]
    load = np.zeros((len(over.loads), len(x)))
    if over.rolling:
        first: Array = np.linspace(-float(over.offsets.max()), over.spans.length_mm, SAG_PLACES)
        lines = beam.under(first[None, :, None] + over.offsets[:, None, :])
        shares = np.concatenate([over.shared(leaf.rail_lanes_mm) for leaf in leaves], axis=1)
        factors = np.array([load.factor for load in over.loads if isinstance(load, Rolling)])
        most = np.einsum("drk,dpkx->drpx", shares, lines, optimize=True).max(axis=(1, 2))
        load[over.rolling] = (
            most.reshape(over.shapes, over.ways, -1).max(axis=1)[over.shape]
            * (over.weight_n / factors)[:, None]
        )
    return Sag(
        x_mm=x,
        self_weight_mm=beam.spread(np.where(middles < joint, *n_mm)),
        load_mm=load,
        play_mm=drop_mm * np.minimum(x / joint, (over.spans.length_mm - x) / (over.spans.length_mm - joint)),
    )
