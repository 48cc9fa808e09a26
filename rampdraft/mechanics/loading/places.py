"""Every place at which loads are tried on the ramp, and what comes of them there.

What rolls goes over the ramp both ways round, its heaviest axle, and all that have half as much, on each
station in turn, in the middle, against either edge of either leaf, and with a wheel over each inner rail.
Where ground slopes across, the toe stands on one corner until the other comes down too: that is tried
beside the toe that bears all over. Contacts are looked at without the self-weight, which would press them
together.
"""

from itertools import pairwise
from typing import Any, Final, Literal, NamedTuple

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.lanes import stop_intervals_mm
from rampdraft.mechanics.loading.grillage import Effects, Grillage
from rampdraft.mechanics.loading.loads import (
    Axle,
    Footprint,
    Load,
    PerMetre,
    Rolling,
    axle_shares,
    spread_shares,
)
from rampdraft.mechanics.loading.results import WorstPlace
from rampdraft.model.design import Design
from rampdraft.rounding import as_great, greatest_along, greatest_at
from rampdraft.units import MM, Array, of_each_row

_HAIR_MM: Final = 1e-6
BODIES: Final[tuple[Literal["inner"], Literal["outer"]]] = ("inner", "outer")


Wheels = tuple[float, float, float, float]
"""Of an axle: offset, force, track, and width of a tyre."""


class Places(NamedTuple):
    """Places at which loads, or trains of 1 N, are tried."""

    group: NDArray[np.intp]
    """Of what stands there; they are in order."""
    rows: Array
    """What is on each station then, (places, loads)."""
    first_mm: Array
    """Where the first axle stands along the ramp; of what does not roll, the middle of the ramp."""
    across_mm: Array
    way: NDArray[np.intp]
    """Of the load's ways round."""


class Over:
    """The loads at every place that is tried, and what comes of them.

    Loads that differ only in weight, as a rated load and the user it rolls like, are done once as trains
    of 1 N. A group of places is those of such trains, whichever way round, or those of a load that does
    not roll.
    """

    def __init__(self, design: Design, frame: Grillage, loads: tuple[Load, ...], across: float) -> None:
        self.frame, self.loads = frame, loads
        self.joint_mm, self.length_mm = float(frame.inner_mm[-1]), float(frame.outer_mm[-1])
        self.widths_mm = design.inner_leaf.width_mm, design.outer_leaf.width_mm
        self.leaves = frame.inner_mm, frame.outer_mm
        self.stations = np.concatenate((frame.inner_mm, [self.joint_mm + _HAIR_MM], frame.outer_mm[1:]))
        self.alike = _alike(design, frame)
        self.mirrored = frame.mirrored if self.alike else None
        self.slack_mm = design.prop.slack_mm if frame.props else 0.0
        resting = [load for load in loads if not isinstance(load, Rolling)]
        keys = [_of_one_newton(load) if isinstance(load, Rolling) else load.key for load in loads]
        trains = [key for key in dict.fromkeys(keys) if not isinstance(key, str)]
        numbers = {key: number for number, key in enumerate((*trains, *(load.key for load in resting)))}
        self.group = np.array([numbers[key] for key in keys])
        """Of each load."""
        self.weight = np.array([load.force_n if isinstance(load, Rolling) else 1.0 for load in loads])
        found = [self._rolling(trains)] if trains else []
        found.extend(self._resting(number, load) for number, load in enumerate(resting, start=len(trains)))
        self.places = Places(*map(_joined, zip(*found, strict=True)))
        opened = frame.opened(self.places.rows, self._gaps(across))
        ends = np.cumsum(np.bincount(self.places.group)).tolist()
        reached = [
            self._reached(start, self._states(self.places.rows[start:end], opened[:, start:end]))
            for start, end in pairwise((0, *ends))
        ]
        most, least, self._worst = zip(*reached, strict=True)
        self.most, self.least = (
            self._of_loads(np.array(one), reach) for one, reach in ((most, np.maximum), (least, np.minimum))
        )
        """The most and the least effects of each load, at least and at most 0: (L, effects)."""

    def _of_loads(self, found: Array, reach: np.ufunc) -> Effects:
        if self.mirrored is not None:
            found = reach(found, found[:, self.mirrored])
        return Effects(self.frame, reach(found, 0.0)[self.group] * self.weight[:, None])

    def _gaps(self, across: float) -> Array:
        """Return how far each contact stands off before a load of 1 N bears on it, (states, rows, Q): the
        toe on even ground, from either corner on where ground slopes across, and each prop standing short
        of the others where it may.
        """
        lightest = np.full(self.group.max() + 1, np.inf)
        np.minimum.at(lightest, self.group, self.weight)
        toe, contacts = np.asarray(self.frame.lanes_mm[1]), len(self.frame.opening)
        found = [np.zeros(contacts)]
        if across:
            others = np.zeros(contacts - len(toe))
            found.extend(np.append(others, across * off) for off in (toe - toe[0], toe[-1] - toe))
        if self.slack_mm:
            props = contacts - len(toe) - len(self.frame.props) + np.arange(len(self.frame.props))
            found.extend(self.slack_mm * (np.arange(contacts) == short) for short in props.tolist())
        return np.array(found)[:, None] / lightest[self.places.group][:, None]

    def _rolling(self, trains: list[tuple[tuple[Wheels, ...], ...]]) -> Places:
        """Return the places of all trains, each way round: its heaviest axle, and all that have half as much,
        on each station, at every place across.
        """
        group, way, (offsets, forces, tracks, tyres) = _ways(trains)
        across, shares = self._across(forces, tracks, tyres)
        fresh = ~np.tril(across[:, :, None] == across[:, None, :], -1).any(axis=-1)
        train, axle = np.nonzero(forces >= forces.max(axis=1, keepdims=True) / 2)
        first = (self.stations - offsets[train, axle][:, None]).ravel()
        train = np.repeat(train, len(self.stations))
        # Along the ramp, whichever axle is on a station: so neighbours stand on one stretch of it.
        order = np.lexsort((first.round(6), group[train]))
        train, first = train[order], first[order]
        beyond, left, before, after = self._put(first[:, None] + offsets[train])
        place, side = np.nonzero(fresh[train])
        train, count = train[place], sum(map(len, self.leaves))
        rows, start = np.zeros((len(place) * count, self.frame.rails)), np.arange(len(place)) * count
        for axle in range(forces.shape[1]):
            share, at = shares[beyond[place, axle], train, axle, side], start + left[place, axle]
            rows[at] += before[place, axle, None] * share
            rows[at + 1] += after[place, axle, None] * share
        return Places(
            group=group[train],
            rows=rows.reshape(len(place), -1),
            first_mm=first[place],
            across_mm=across[train, side],
            way=way[train],
        )

    def _put(self, at: Array) -> tuple[NDArray[np.intp], NDArray[np.intp], Array, Array]:
        """Return on which leaf axles stand, 1 for the outer one, the station before each, and what that and
        the next take of 1 N on it: all (N, K); nothing of what is beside the ramp.
        """
        joint, x = len(self.leaves[0]), np.concatenate(self.leaves)
        beyond = (at > self.joint_mm + _HAIR_MM / 2).astype(np.intp)
        left, part = _between(x, at, beyond * joint, np.where(beyond, len(x), joint) - 2)
        on = (at >= -_HAIR_MM) & (at <= self.length_mm + _HAIR_MM)
        return beyond, left, on * (1 - part), on * part

    def _across(self, forces: Array, tracks: Array, tyres: Array) -> tuple[Array, Array]:
        """Return where the middle of each train goes across, (D, P): the middle, all edges, and over each
        inner rail; and what each rail of each leaf takes of each axle then, (2, D, K, P, R).

        Over a rail stands that wheel, on that side, which with all the others brings most to it. What is on a
        narrower leaf keeps to its edges. Where both sides of the ramp are alike, one is enough.
        """
        out = (tracks / 2 + tyres / 2).max(axis=1)
        edges = [np.maximum(0.0, width / 2 - out)[:, None] for width in self.widths_mm]
        wide = np.maximum(*edges)
        found = [np.zeros_like(wide), wide, *(() if self.alike else (-wide,))]
        if self.widths_mm[0] != self.widths_mm[1]:
            found.extend(side * np.minimum(*edges) for side in ((1,) if self.alike else (1, -1)))
        for lanes, edge in zip(self.frame.lanes_mm, edges, strict=True):
            for number, lane in enumerate(lanes[1:-1], start=1):
                if not self.alike or lane < _HAIR_MM:
                    tried = np.clip(
                        np.concatenate((lane - tracks / 2, lane + tracks / 2), axis=1), -edge, edge
                    )
                    brought = (axle_shares(lanes, tracks, tried)[:, :, number] * forces[:, None]).sum(axis=-1)
                    best = greatest_along(brought.T, brought.max(axis=1))
                    found.append(np.take_along_axis(tried, best[:, None], axis=1))
        across = np.concatenate(found, axis=1)
        shares = [
            axle_shares(lanes, tracks, np.clip(across, -edge, edge)) * forces[:, None, None]
            for lanes, edge in zip(self.frame.lanes_mm, edges, strict=True)
        ]
        return across, np.array(shares).transpose(0, 1, 4, 2, 3)

    def _resting(self, group: int, load: Footprint | PerMetre) -> Places:
        """Return what a load that does not roll puts on the stations: a footprint about the middle, or a
        load by the metre on the whole ramp and on all of it before or beyond each station.
        """
        middle, width = self.length_mm / 2, min(self.widths_mm)
        if isinstance(load, Footprint):
            half = min(load.along_mm, self.length_mm) / 2
            parts, n_mm, width = (
                [(middle - half, middle + half)],
                load.force_n / (2 * half),
                min(load.across_mm, width),
            )
        else:
            cuts = self.stations[1:-1].tolist()
            ends = [(0.0, cut) for cut in cuts] + [(cut, self.length_mm) for cut in cuts]
            parts, n_mm = [(0.0, self.length_mm), *ends], load.n_mm
        rows = [
            np.outer(_spread(x, start, end), spread_shares(lanes, -width / 2, width / 2)).ravel() * n_mm
            for start, end in parts
            for x, lanes in zip(self.leaves, self.frame.lanes_mm, strict=True)
        ]
        count = len(parts)
        return Places(
            group=np.full(count, group),
            rows=np.array([np.concatenate(pair) for pair in zip(rows[::2], rows[1::2], strict=True)]),
            first_mm=np.full(count, middle),
            across_mm=np.zeros(count),
            way=np.zeros(count, dtype=np.intp),
        )

    def _states(self, rows: Array, opened: Array) -> tuple[Array, ...]:
        """Return the effects of loads in each state, (rows, effects) each."""
        closed = self.frame.closed(rows)
        uneven = [self.frame.with_opened(closed, one) for one in opened[1:]]
        # On even ground hardly any load opens a contact.
        some = np.flatnonzero(of_each_row(np.logical_or, opened[0] != 0))
        closed[some] = self.frame.with_opened(closed[some], opened[0, some])
        return closed, *uneven

    def _reached(self, first: int, states: tuple[Array, ...]) -> tuple[Array, Array, tuple[int, float, int]]:
        """Return the most and the least effects of a group, (effects,), from those at its places, the first
        of which is `first`, in all states; then where a rail bends most: the place, of several as bad the
        first of the first way round; how much, and the number of the effect.
        """
        most, least = (
            reach.reduce([reach.reduce(one) for one in states]) for reach in (np.maximum, np.minimum)
        )
        bends = self.frame.place("outer moments")[0].stop
        greatest = np.flatnonzero(as_great(most[:bends]))
        some = np.array([one[:, greatest].max(axis=1) for one in states])
        cases = np.argwhere(as_great(some))
        state, row = map(int, cases[self.places.way[first + cases[:, 1]].argmin()])
        (number,) = greatest_at(states[state][row, :bends])
        return most, least, (first + row, float(some.max()), number)

    def worst(self) -> tuple[WorstPlace, ...]:
        """Return where each load stands when it bends a rail most, of whichever leaf."""
        found: list[WorstPlace] = []
        for load, (group, weight) in enumerate(zip(self.group.tolist(), self.weight.tolist(), strict=True)):
            place, moment, number = self._worst[group]
            leaf = int(number >= self.frame.place("inner moments")[0].stop)
            where, shape = self.frame.place(f"{BODIES[leaf]} moments")
            length, side = divmod(number - where.start, 2)
            rail, length = divmod(length, shape[1])
            found.append(
                WorstPlace(
                    load=load,
                    leaf=BODIES[leaf],
                    rail=rail + 1,
                    section_mm=float(self.leaves[leaf][length + side]),
                    first_axle_mm=float(self.places.first_mm[place]),
                    across_mm=float(self.places.across_mm[place]),
                    way=int(self.places.way[place]),
                    moment_nmm=moment * weight,
                )
            )
        return tuple(found)


def _ways(
    trains: list[tuple[tuple[Wheels, ...], ...]],
) -> tuple[NDArray[np.intp], NDArray[np.intp], Array]:
    """Return all ways round of all trains, each once: the train, the number of the way, both (D,), and
    offsets, forces, tracks and tyres of its axles, (4, D, K); weightless ones stand beside the last, so that
    all have as many.
    """
    found = [
        (number, ways.index(way), way) for number, ways in enumerate(trains) for way in dict.fromkeys(ways)
    ]
    most = max(len(way) for *_, way in found)
    padded = [(*way, *((way[-1][0], 0.0, *way[-1][2:]),) * (most - len(way))) for *_, way in found]
    numbers = np.array([row[:2] for row in found])
    return numbers[:, 0], numbers[:, 1], np.array(padded).transpose(2, 0, 1)


def _joined(parts: tuple[NDArray[Any], ...]) -> NDArray[Any]:
    """Return parts one after the other; the rows of a single one are much to copy."""
    first, *others = parts
    return np.concatenate(parts) if others else first


def columns(axles: tuple[Axle, ...]) -> tuple[Array, Array, Array, Array]:
    """Return offsets, forces, tracks and widths of the tyres of axles, each (K,)."""
    rows = [(axle.offset_mm, axle.force_n, axle.track_mm, axle.patch_mm[0]) for axle in axles]
    offsets, forces, tracks, tyres = np.array(rows, dtype=np.float64).T
    return offsets, forces, tracks, tyres


def _alike(design: Design, frame: Grillage) -> bool:
    """Return whether both sides of the ramp are alike."""
    bars = stop_intervals_mm(design) if frame.bars else ()
    middles = (*frame.lanes_mm, tuple((y0 + y1) / 2 for y0, y1 in bars))
    return all(abs(a + b) < _HAIR_MM for ys in middles for a, b in zip(ys, reversed(ys), strict=True))


def _of_one_newton(load: Rolling) -> tuple[tuple[Wheels, ...], ...]:
    """Return the axles with their shares of the whole weight for forces; rounding may not tell two alike
    apart.
    """
    weight = load.force_n
    return tuple(
        tuple(
            (axle.offset_mm, round(axle.force_n / weight, 12), axle.track_mm, axle.patch_mm[0])
            for axle in axles
        )
        for axles in load.ways
    )


def hats(x: Array, at: Array, on: NDArray[np.bool_]) -> Array:
    """Return what stations x take of 1 N at places, by the lever rule: (..., X); nothing of what is not
    `on`, or beside the leaf.
    """
    on = on & (at >= x[0] - _HAIR_MM) & (at <= x[-1] + _HAIR_MM)
    left, part = _between(x, at, 0, len(x) - 2)
    places = np.arange(len(x))
    before, after = places == left[..., None], places == (left + 1)[..., None]
    return np.where(on, 1 - part, 0.0)[..., None] * before + np.where(on, part, 0.0)[..., None] * after


def _between(x: Array, at: Array, first: Any, last: Any) -> tuple[NDArray[np.intp], Array]:
    """Return the station before each place, from the first to the last that may be, and what part of the
    way to the next it is.
    """
    left = np.clip(np.searchsorted(x, at, side="right") - 1, first, last)
    return left, np.clip((at - x[left]) / (x[left + 1] - x[left]), 0.0, 1.0)


def _spread(x: Array, start: MM, end: MM) -> Array:
    """Return what stations x take of 1 N/mm from `start` to `end`, (X,)."""
    cuts = np.unique(np.clip(np.append(x, (start, end)), max(start, x[0]), min(end, x[-1])))
    if len(cuts) < 2:
        return np.zeros_like(x)
    middles = (cuts[1:] + cuts[:-1]) / 2
    return np.diff(cuts) @ hats(x, middles, np.ones(len(middles), dtype=bool))
