"""The ramp as a grillage: rails and cross members as beams with bending and torsion, on what holds them.

Each rail is cut at stations along the ramp, each cross member lies between neighbouring rails at one of
them. A station of a rail can sink (w, down), slope along (s = dw/dx) and slope across (t = dw/dy):
bending of a rail takes w and s, its torsion t; a cross member's bending takes w and t, its torsion s
(stiffness method, Euler-Bernoulli beams with Saint-Venant torsion). What is assumed:

- At the deck hinge a rail's end neither sinks nor turns across; it is free to turn along.
- At the joint the ends of a pair move as one, the pin holding them in line, but for the turn along. Stop
  bars hold that where a load bends the joint down, and let go otherwise: they bear one way. They give as
  they are long.
- Props and ground push up at the ends of rails, and let go: they bear one way.
- Cross members that are welded in, or go through, hand on moments; those of timber between rails hand on
  nothing.
- Slats hand a wheel to the rails on both sides of it by the lever rule, and share nothing among more.

A load between two stations is put on them by the lever rule. Loads are 1 N at each station of each rail;
what comes of them are the columns of `effects`.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.geometry.lanes import prop_rails
from rampdraft.mechanics.loading.contacts import openings
from rampdraft.mechanics.loading.frame import Body, Frame, stations_mm, stop_contacts
from rampdraft.model.design import Design
from rampdraft.units import MM, Array, ArrayRecord

_HAIR: Final = 1e-9
"""A pull of so little of what else is carried is rounding."""
_LEFT: Final = 1e-10
"""So much of a contact's stiffness is left when it is open, so that a rail that lifts freely does not fly
off: what lifts it is less than the slats weigh.
"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Grillage(ArrayRecord):
    """What comes of 1 N on each station of each rail: R rails, N + M stations of the two leaves, E = N +
    M - 2 lengths of a rail between them, Q contacts, C cross members with R - 1 bays.

    Effects are told in groups one after the other, see `Effects`; loads are on the R rails of each
    station, from the deck hinge on, the joint's once for either leaf.
    """

    inner_mm: Array
    """Stations of the inner leaf along the ramp, from the deck hinge to the joint, (N,)."""
    outer_mm: Array
    """Those of the outer leaf, from the joint on, (M,)."""
    lanes_mm: tuple[tuple[MM, ...], tuple[MM, ...]]
    """Of the inner and of the outer leaf's rails."""
    effects: Array
    """With all contacts closed, (effects, loads)."""
    opening: Array
    """What comes of each contact's opening by 1 mm, (Q, effects)."""
    bars: tuple[int, ...]
    """To which stop bar each of the first contacts belongs; then come the props, then the toe's rails."""
    props: tuple[int, ...]
    """The rails of the inner leaf that stand on one, counted from 0."""
    cross: tuple[int, int]
    """How many cross members of each leaf share a load."""
    loose: tuple[tuple[Body, int], ...]
    """The rails, counted from 1, that something lets move freely: then it is a mechanism, and effects
    mean nothing.
    """

    @property
    def rails(self) -> int:
        """Return how many rails each leaf has."""
        return len(self.lanes_mm[0])

    def closed(self, loads: Array) -> Array:
        """Return the effects of loads (N, loads) as if no contact could let go, (N, effects)."""
        return loads @ self.effects.T

    def bearing(self, closed: Array, gaps_mm: Array | None) -> Array:
        """Return the effects with contacts that bear one way, (N, effects), from those with all of them
        closed.

        `gaps_mm` (N, Q): how far each contact stands off before it bears.
        """
        forces, changes = closed[:, self._contacts], self.opening[:, self._contacts]
        if gaps_mm is not None:
            forces = forces - gaps_mm @ changes
        told = closed[:, self._contacts.start : self._contacts.stop + self.rails]  # those of the hinge too
        opened = openings(forces, changes, _HAIR * np.abs(told).max(axis=1, keepdims=True))
        if gaps_mm is not None:
            opened -= gaps_mm
        some = np.flatnonzero(opened.any(axis=1))
        found = closed.copy()
        found[some] += opened[some] @ self.opening
        return found

    @property
    def telling(self) -> Array:
        """Return those effects that tell where loads stand worst: moments at one side of each station,
        what contacts, hinge and pins carry, moments of cross members, how far the ends at the joint sink.
        """
        lengths = 2 * self.rails * (len(self.inner_mm) + len(self.outer_mm) - 2)
        sunk = len(self.effects) - self.effects.shape[1]
        joint = sunk + len(self.inner_mm) * self.rails
        told = [*range(1, lengths, 2), *range(lengths, sunk), *range(joint - self.rails, joint)]
        return self.effects[np.array(told)]

    @property
    def _contacts(self) -> slice:
        first = 2 * self.rails * (len(self.inner_mm) + len(self.outer_mm) - 2)
        return slice(first, first + len(self.opening))


@dataclass(frozen=True, slots=True)
class Effects:
    """Effects of loads, read by their names: (..., effects)."""

    of: Grillage
    values: Array

    def moments(self, body: Body) -> Array:
        """Return the sagging moment at both ends of each length of each rail, (..., R, E, 2)."""
        one = self.of
        near, far = one.rails * (len(one.inner_mm) - 1), one.rails * (len(one.outer_mm) - 1)
        first, count = (0, near) if body == "inner" else (2 * near, far)
        found = self.values[..., first : first + 2 * count]
        return found.reshape(*found.shape[:-1], one.rails, -1, 2)

    def shears(self, body: Body) -> Array:
        """Return the shear along each length of each rail, (..., R, E)."""
        x, moments = (self.of.inner_mm if body == "inner" else self.of.outer_mm), self.moments(body)
        return (moments[..., 1] - moments[..., 0]) / np.diff(x)

    @property
    def _after_moments(self) -> int:
        return 2 * self.of.rails * (len(self.of.inner_mm) + len(self.of.outer_mm) - 2)

    @property
    def stops_nmm(self) -> Array:
        """Return the moment that each stop bar holds, (..., S)."""
        bars = np.array(self.of.bars)[:, None] == np.arange(max(self.of.bars, default=-1) + 1)
        return self.values[..., self._after_moments :][..., : len(self.of.bars)] @ bars.astype(np.float64)

    @property
    def props_n(self) -> Array:
        """Return what each prop carries."""
        return self.values[..., self._after_moments + len(self.of.bars) :][..., : len(self.of.props)]

    @property
    def toe_n(self) -> Array:
        """Return what each rail presses on the ground, (..., R)."""
        return self.values[..., self._after_moments + len(self.of.bars) + len(self.of.props) :][
            ..., : self.of.rails
        ]

    @property
    def _rest(self) -> Array:
        return self.values[..., self._after_moments + len(self.of.opening) :]

    @property
    def hinge_n(self) -> Array:
        """Return what each rail hands to the deck hinge, (..., R)."""
        return self._rest[..., : self.of.rails]

    @property
    def pins_n(self) -> Array:
        """Return what the outer leaf hands to each pair of knuckles at the joint, (..., R), of the inner
        rail's.
        """
        return self._rest[..., self.of.rails : 2 * self.of.rails]

    def crosses_nmm(self, body: Body) -> Array:
        """Return the moment at both ends of each bay of each cross member that shares, (..., C, R - 1, 2)."""
        bays, (near, far) = self.of.rails - 1, self.of.cross
        first, count = (0, near) if body == "inner" else (near, far)
        start = 2 * self.of.rails + 2 * bays * first
        found = self._rest[..., start : start + 2 * bays * count]
        return found.reshape(*found.shape[:-1], count, bays, 2)

    @property
    def sunk_mm(self) -> Array:
        """Return how far each station of each rail sinks, in the order of the loads."""
        return self._rest[..., 2 * self.of.rails + 2 * (self.of.rails - 1) * sum(self.of.cross) :]


def grillage(design: Design) -> Grillage:
    """Return the grillage of a design."""
    inner, outer = design.inner_leaf, design.outer_leaf
    x = stations_mm(design)
    frame = Frame(design, x)
    frame.put_rails(design)
    cross = frame.put_crosses(design, inner, 0), frame.put_crosses(design, outer, 1)
    closing, stiffness = frame.put_contacts(design)
    moved = frame.moved(closing)
    contacts, props = len(closing), prop_rails(design)
    effects, opening = frame.direct(contacts), np.zeros((contacts, frame.count_effects(contacts)))
    if moved is not None:
        found = frame.effects(moved, closing, stiffness)
        effects += found[:, : frame.nodes]
        opening -= stiffness[:, None] * found[:, frame.nodes :].T
        opening[:, 2 * len(frame.rail_ends) :][:, :contacts] += np.diag(stiffness * (1 + _LEFT))
    return Grillage(
        inner_mm=x[0],
        outer_mm=x[1],
        lanes_mm=(inner.rail_lanes_mm, outer.rail_lanes_mm),
        effects=effects,
        opening=opening,
        bars=tuple(bar for bar, *_ in stop_contacts(design)),
        props=props,
        cross=cross,
        loose=frame.loose() if moved is None else (),
    )
