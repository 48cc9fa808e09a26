"""The stiffness of rails and cross members, and of what holds them: what the grillage is made of."""

import math
from itertools import pairwise
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.lanes import joint_pairs_mm, prop_rails, stop_intervals_mm
from rampdraft.geometry.sections import cut_from_below, properties, torsion_constant_mm4
from rampdraft.mechanics.joint import bearing_arm_mm, held_by_stop
from rampdraft.mechanics.loading.loads import lever_shares
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf, Material
from rampdraft.units import MM, MPA, Array

STATIONS: Final = 12
"""Rails are cut at least as finely as so many along the ramp, or over a prop along the longer leaf."""
TAPER_STATIONS: Final = 4
"""So many along a taper, whose section changes."""
FIRM_N_MM: Final = 1e6
"""What ground, or a prop on it, pushes against each mm: firm, so that it gives nothing that counts."""
LOOSE_MM_N: Final = 50.0
"""What sinks so far under 1 N is held by nothing: rounding leaves some stiffness where there is none."""
_HAIR_MM: Final = 1e-9

Body = Literal["inner", "outer"]


class Frame:
    """The stiffness of all members, and how their ends are joined.

    Freedoms are w, s, t of each station, station by station along the ramp. The outer leaf's ends at the
    joint have no w and t of their own: they follow the inner leaf's, w + t (y - y) and t.
    """

    def __init__(self, design: Design, x: tuple[Array, Array]) -> None:
        self.x, self.rails = x, len(design.inner_leaf.rail_lanes_mm)
        self.lanes = np.array((design.inner_leaf.rail_lanes_mm, design.outer_leaf.rail_lanes_mm))
        self.apart = self.lanes[1] - self.lanes[0]
        rails, near, far = np.arange(self.rails), len(x[0]), len(x[1])
        self.nodes = self.rails * (near + far)
        self.at_deck, self.at_joint = rails, (near - 1) * self.rails + rails
        self.beyond = self.at_joint + self.rails
        """Of the outer leaf's rails, the end at the joint; a pair has the same number in both leaves."""
        self.at_toe = self.nodes - self.rails + rails
        held = np.concatenate([3 * ends + way for ends in (self.at_deck, self.beyond) for way in (0, 2)])
        self.place = np.zeros(3 * self.nodes, dtype=np.intp)
        """Where each freedom stands among those that are free; those that are held stand one beyond them."""
        self.place[held] = 1
        self.free = 3 * self.nodes - len(held)
        self.place = np.where(self.place == 1, self.free, np.arange(3 * self.nodes) - np.cumsum(self.place))
        self.rail_ends = np.concatenate([self._ends(0, near), self._ends(near * self.rails, far)])
        self.cross_ends: list[NDArray[np.intp]] = []
        self.cross_bent: list[Array] = []
        self.put: list[tuple[NDArray[np.intp], Array]] = []
        """Stiffness as rows, columns and values; the same place several times is a sum."""

    def _ends(self, first: int, stations: int) -> NDArray[np.intp]:
        """Return the stations at both ends of each length of each rail, rail by rail, (R E, 2)."""
        near = first + np.arange(self.rails * stations).reshape(stations, self.rails).T
        return np.stack((near[:, :-1], near[:, 1:]), axis=-1).reshape(-1, 2)

    def put_rails(self, design: Design) -> None:
        """Add the rails."""
        elastic, shear = _moduli(material_named(design, design.made_of.rails))
        length: list[Array] = []
        bend: list[Array] = []
        twist: list[Array] = []
        for leaf, x in zip((design.inner_leaf, design.outer_leaf), self.x, strict=True):
            middles = (x[1:] + x[:-1]) / 2 - x[0]
            second, torsion = np.array([_rail_mm4(design, leaf, at) for at in middles.tolist()]).T
            length.extend([np.diff(x)] * self.rails)
            bend.extend([elastic * second] * self.rails)
            twist.extend([shear * torsion] * self.rails)
        lengths, bends, twists = map(np.concatenate, (length, bend, twist))
        self._put(self.rail_ends, lengths, bends, twists, along=True)
        self.rail_bent = _bent(lengths, bends)

    def put_crosses(self, design: Design, leaf: Leaf, number: int) -> None:
        """Add the cross members of a leaf, those that hand on moments."""
        material = material_named(design, design.made_of.cross_members)
        hinged = leaf.cross_fitting == "between" and material.kind == "timber"
        places = () if hinged else leaf.cross_positions_mm
        elastic, shear = _moduli(material)
        x, first = self.x[number], 0 if number == 0 else int(self.beyond[0])
        wanted: Array = x[0] + np.array(places, dtype=np.float64) - 1.0
        at = np.searchsorted(x, wanted).astype(np.intp)
        nodes = first + at[:, None] * self.rails + np.arange(self.rails, dtype=np.intp)
        ends = np.stack((nodes[:, :-1], nodes[:, 1:]), axis=-1).reshape(-1, 2)
        lengths = np.tile(np.diff(self.lanes[number]), len(at))
        bends = np.full(len(ends), elastic * properties(leaf.cross_section).second_moment_mm4)
        twists = np.full(len(ends), shear * torsion_constant_mm4(leaf.cross_section))
        self._put(ends, lengths, bends, twists, along=False)
        self.cross_ends.append(ends)
        self.cross_bent.append(_bent(lengths, bends))

    def _put(self, ends: NDArray[np.intp], length: Array, bend: Array, twist: Array, *, along: bool) -> None:
        """Add beams along or across: bending takes w and the slope that way, torsion the other slope."""
        slope, other = (1, 2) if along else (2, 1)
        a, b = 3 * ends[:, 0], 3 * ends[:, 1]
        bending = bend[:, None, None] * _beam(length)
        turning = (twist / length)[:, None, None] * np.array([[1.0, -1.0], [-1.0, 1.0]])
        turned = np.stack((a + other, b + other), axis=-1)
        if along:  # those that begin beyond the joint hang on the inner leaf's ends
            first = (ends[:, 0] >= self.beyond[0]) & (ends[:, 0] <= self.beyond[-1])
            led = 3 * self.at_joint
            hung = np.zeros((self.rails, 4, 5))
            hung[:, (0, 1, 2, 3), (0, 2, 3, 4)] = 1.0
            hung[:, 0, 1] = self.apart
            five = np.stack((led, led + 2, a[first] + 1, b[first], b[first] + 1), axis=-1)
            self._put_at(five, hung.transpose(0, 2, 1) @ bending[first] @ hung)
            self._put_at(np.stack((led + 2, b[first] + 2), axis=-1), turning[first])
            a, b, turned, bending, turning = (
                a[~first],
                b[~first],
                turned[~first],
                bending[~first],
                turning[~first],
            )
        self._put_at(np.stack((a, a + slope, b, b + slope), axis=-1), bending)
        self._put_at(turned, turning)

    def _put_at(self, freedoms: NDArray[np.intp], values: Array) -> None:
        """Add stiffness (..., F, F) between freedoms (..., F)."""
        places = self.place[freedoms]
        between = places[..., :, None] * (self.free + 1) + places[..., None, :]
        self.put.append((between.ravel(), values.ravel()))

    def put_contacts(self, design: Design) -> tuple[Array, Array]:
        """Add the contacts, closed: stops, props, toe; return what closes each, (Q, freedoms), and its
        stiffness, (Q,).
        """
        stops = stop_contacts(design)
        self.bars = tuple(bar for bar, *_ in stops)
        pushing = [*self.at_joint[list(prop_rails(design))], *self.at_toe]
        closing = np.zeros((len(stops) + len(pushing), 3 * self.nodes))
        stiffness = np.full(len(closing), FIRM_N_MM)
        for row, (_, part, shares) in enumerate(stops):
            closing[row, 3 * self.at_joint + 1], closing[row, 3 * self.beyond + 1] = shares, -shares
            stiffness[row] = part * _stop_nmm(design)
        closing[len(stops) + np.arange(len(pushing)), 3 * np.array(pushing)] = 1.0
        self.closing = np.zeros((len(closing), self.free + 1))
        self.closing[:, self.place] = closing
        self.firm = self.closing.T @ (stiffness[:, None] * self.closing)
        return closing, stiffness

    def moved(self, closing: Array) -> Array | None:
        """Return how all freedoms move under 1 N at each station, then under 1 N that closes each
        contact, (freedoms, stations + Q); None where something moves freely.
        """
        size = self.free
        loads = np.zeros((size + 1, self.nodes + len(closing)))
        nodes = np.arange(self.nodes)
        loads[self.place[3 * nodes], nodes] = 1.0
        loads[self.place[3 * self.at_joint], self.beyond] = 1.0
        loads[self.place[3 * self.at_joint + 2], self.beyond] = self.apart
        loads[:, self.nodes :] = self.closing.T
        found = np.zeros_like(loads)
        try:
            found[:-1] = np.linalg.solve(self._whole(), loads[:-1])
        except np.linalg.LinAlgError:
            return None
        if np.abs(found[self.place[3 * nodes], nodes]).max() > LOOSE_MM_N:
            return None
        moved = found[self.place]
        moved[3 * self.beyond] = moved[3 * self.at_joint] + self.apart[:, None] * moved[3 * self.at_joint + 2]
        moved[3 * self.beyond + 2] = moved[3 * self.at_joint + 2]
        return moved

    def _whole(self) -> Array:
        """Return the stiffness of what is free to move, (freedoms, freedoms)."""
        between, values = map(np.concatenate, zip(*self.put, strict=True))
        whole = self.firm + np.bincount(between, values, self.firm.size).reshape(self.firm.shape)
        return whole[:-1, :-1]

    def loose(self) -> tuple[tuple[Body, int], ...]:
        """Return the rails that sink or turn most in the movement with the least stiffness, freedoms
        scaled alike.
        """
        whole = self._whole()
        scale = 1 / np.sqrt(np.maximum(np.diag(whole), np.diag(whole).max() * 1e-12))
        _, ways = np.linalg.eigh(whole * scale * scale[:, None])
        moved = np.append(np.abs(ways[:, 0] * scale), 0.0)[self.place].reshape(-1, 3)
        moved[self.beyond] = moved[self.at_joint]
        sunk = moved[:, 0] if moved[:, 0].max() > 1e-3 * moved.max() else moved.max(axis=1)
        near, far = np.split(sunk.reshape(-1, self.rails), [len(self.x[0])])
        sizes: tuple[tuple[Body, Array], ...] = ("inner", near.max(axis=0)), ("outer", far.max(axis=0))
        return tuple(
            (body, rail + 1)
            for body, found in sizes
            for rail in np.flatnonzero(found > 1e-3 * sunk.max()).tolist()
        )

    def effects(self, moved: Array, closing: Array, stiffness: Array) -> dict[str, Array]:
        """Return the effects of movements by name, each (..., loads), see `Effects`."""
        count, near = moved.shape[1], self.rails * (len(self.x[0]) - 1)
        moments = _end_moments(self.rail_ends, self.rail_bent, moved, slope=1)
        crosses = [
            _end_moments(ends, bent, moved, slope=2).reshape(-1, self.rails - 1, 2, count)
            for ends, bent in zip(self.cross_ends, self.cross_bent, strict=True)
        ]
        return {
            "inner moments": moments[:near].reshape(self.rails, -1, 2, count),
            "outer moments": moments[near:].reshape(self.rails, -1, 2, count),
            "contacts": stiffness[:, None] * (closing @ moved),
            "inner crosses": crosses[0],
            "outer crosses": crosses[1],
            "sunk": moved[::3].reshape(-1, self.rails, count).copy(),
        }


_UNIT_BEAM: Final = np.array(
    ((12, 6, -12, 6), (6, 4, -6, 2), (-12, -6, 12, -6), (6, 2, -6, 4)), dtype=np.float64
)
"""Stiffness of a beam of E I = 1 and length 1 in bending, by w and slope at both ends."""


def _beam(length: Array) -> Array:
    """Return the stiffness of beams of E I = 1 in bending by w and slope at both ends, (E, 4, 4)."""
    arms = np.where((False, True, False, True), length[:, None], 1.0)
    return _UNIT_BEAM * arms[:, :, None] * arms[:, None, :] / (length**3)[:, None, None]


def _end_moments(ends: NDArray[np.intp], bent: Array, moved: Array, *, slope: int) -> Array:
    """Return the sagging moments at both ends of beams, (E, 2, loads)."""
    a, b = 3 * ends[:, 0], 3 * ends[:, 1]
    four = np.stack((moved[a], moved[a + slope], moved[b], moved[b + slope]), axis=1)
    return bent @ four


def _bent(length: Array, bend: Array) -> Array:
    """Return the sagging moment, - E I w'' with w down, at both ends of beams by their four freedoms: (E,
    2, 4).
    """
    one, long = np.ones_like(length), length
    rows = np.stack((6 * one, 4 * long, -6 * one, 2 * long, -6 * one, -2 * long, 6 * one, -4 * long), axis=-1)
    return rows.reshape(-1, 2, 4) * (bend / length**2)[:, None, None]


def _moduli(material: Material) -> tuple[MPA, MPA]:
    """Return modulus of elasticity and shear modulus: E / 2 (1 + 0.3) of metal, E / 16 of timber (EN 338).

    Where a material has none given, as steel, so that what is shared follows from the shapes alone.
    """
    elastic = material.elastic_mpa or 210e3
    return elastic, elastic / (16 if material.kind == "timber" else 2.6)


def _rail_mm4(design: Design, leaf: Leaf, at_mm: MM) -> tuple[float, float]:
    """Return second moment and torsion constant of a rail at a place along its leaf."""
    section, toe = leaf.rail_section, design.toe
    whole = properties(section).second_moment_mm4, torsion_constant_mm4(section)
    from_tip = design.outer_leaf.length_mm - at_mm
    if leaf is not design.outer_leaf or toe.kind != "taper" or from_tip >= toe.length_mm:
        return whole
    left = toe.thickness_mm + (section.depth_mm - toe.thickness_mm) * from_tip / toe.length_mm
    left = round(min(left, section.depth_mm), 3)
    net = cut_from_below(section, left, closed=toe.closed)
    return net.second_moment_mm4, torsion_constant_mm4(section, depth_mm=left, closed=toe.closed)


def _stop_nmm(design: Design) -> float:
    """Return what a stop bar holds against each radian: butting bars are pressed along what is fixed of
    them, E A e2 / l; a lapping bar bends past the hinge line, 3 E I / g.
    """
    stop = design.stop
    elastic, _ = _moduli(material_named(design, design.made_of.fittings))
    whole = properties(stop.section)
    if stop.kind == "lap":
        return 3 * elastic * whole.second_moment_mm4 / stop.lap_mm
    return elastic * whole.area_mm2 * max(bearing_arm_mm(design), 1.0) ** 2 / stop.fixed_length_mm


def stations_mm(design: Design) -> tuple[Array, Array]:
    """Return the stations of both leaves along the ramp: ends, cross members, a taper, and evenly between."""
    inner, outer = design.inner_leaf, design.outer_leaf
    joint, whole = inner.length_mm, inner.length_mm + outer.length_mm
    most = (max(joint, whole - joint) if design.prop.fitted else whole) / STATIONS
    near = [0.0, *inner.cross_positions_mm, joint]
    far = [joint, *(joint + at for at in outer.cross_positions_mm), whole]
    if design.toe.kind == "taper":
        toe, depth = design.toe, outer.rail_section.depth_mm
        far.extend(np.linspace(whole - toe.length_mm, whole, TAPER_STATIONS + 1)[:-1].tolist())
        # M goes as the distance from the tip, W as the depth squared: where both have doubled, M / W is most.
        if depth > 2 * toe.thickness_mm:
            far.append(whole - toe.length_mm * toe.thickness_mm / (depth - toe.thickness_mm))
    return _cut_finely(near, most), _cut_finely(far, most)


def _cut_finely(places: list[MM], most_mm: MM) -> Array:
    """Return places in order, without those that are as good as one, and others evenly between those far
    apart.
    """
    found: list[MM] = []
    for at in sorted(places):
        if not found or at - found[-1] > 1.0:
            found.append(at)
    found[-1] = max(places)
    counts = [math.ceil((b - a) / most_mm - 1e-9) for a, b in pairwise(found)]
    steps = zip(pairwise(found), counts, strict=True)
    return np.array([*((b - a) / n * k + a for (a, b), n in steps for k in range(n)), found[-1]])


def stop_contacts(design: Design) -> tuple[tuple[int, float, Array], ...]:
    """Return where stop bars bear: the bar, its part there, and what each pair of knuckles takes of it, (R,).

    A bar bears at every pair that it reaches; one that lies between pairs is shared by the two beside it.
    """
    if not held_by_stop(design):
        return ()
    pairs, found = joint_pairs_mm(design), list[tuple[int, float, Array]]()
    middles = tuple(sum(pair) / 2 for pair in pairs)
    for bar, (y0, y1) in enumerate(stop_intervals_mm(design)):
        reached = [
            number
            for number, pair in enumerate(pairs)
            if y0 <= max(pair) + _HAIR_MM and y1 >= min(pair) - _HAIR_MM
        ]
        if reached:
            found.extend((bar, 1 / len(reached), np.eye(len(pairs))[number]) for number in reached)
        else:
            found.append((bar, 1.0, lever_shares(middles, np.array((y0 + y1) / 2))))
    return tuple(found)
