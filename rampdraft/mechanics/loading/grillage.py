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
- Slats hand a wheel to the rails on both sides of it by the lever rule, and share nothing among more: what
  they would share relieves rails and cross members. What it asks of the slats themselves: see `slats`.

A load between two stations is put on them by the lever rule. Loads are 1 N at each station of each rail;
what comes of them are the columns of `effects`.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.lanes import prop_rails
from rampdraft.mechanics.loading.contacts import openings
from rampdraft.mechanics.loading.frame import Body, Frame, stations_mm
from rampdraft.model.design import Design
from rampdraft.units import MM, Array, ArrayRecord, of_each_row

_HAIR: Final = 1e-9
"""A pull of so little of what else is carried is rounding."""
_LEFT: Final = 1e-10
"""So much of a contact's stiffness is left when it is open, so that a rail that lifts freely does not fly
off: what lifts it is less than the slats weigh.
"""
_TOGETHER: Final = 64
"""So many loads are done together."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Grillage(ArrayRecord):
    """What comes of 1 N on each station of each rail: R rails, N + M stations of the two leaves, Q contacts.

    Effects are told in parts one after the other, as `Effects` names them; loads are on the R rails of each
    station, from the deck hinge on, the joint's once for either leaf.
    """

    inner_mm: Array
    """Stations of the inner leaf along the ramp, from the deck hinge to the joint, (N,)."""
    outer_mm: Array
    """Those of the outer leaf, from the joint on, (M,)."""
    lanes_mm: tuple[tuple[MM, ...], tuple[MM, ...]]
    """Of the inner and of the outer leaf's rails."""
    parts: tuple[tuple[str, tuple[int, ...]], ...]
    """Names of the effects and their shapes, in order."""
    effects: Array
    """With all contacts closed, (effects, loads); those of one load lie together."""
    opening: Array
    """What comes of each contact's opening by 1 mm, (Q, effects)."""
    bars: tuple[int, ...]
    """To which stop bar each of the first contacts belongs; then come the props, then the toe's rails."""
    props: tuple[int, ...]
    """The rails of the inner leaf that stand on one, counted from 0."""
    loose: tuple[tuple[Body, int], ...]
    """The rails, counted from 1, that something lets move freely: then it is a mechanism, and effects
    mean nothing.
    """

    @property
    def rails(self) -> int:
        """Return how many rails each leaf has."""
        return len(self.lanes_mm[0])

    def place(self, name: str) -> tuple[slice, tuple[int, ...]]:
        """Return where a part of the effects lies, and its shape."""
        start = 0
        for part, shape in self.parts:
            end = start + math.prod(shape)
            if part == name:
                return slice(start, end), shape
            start = end
        raise LookupError(name)

    def closed(self, loads: Array) -> Array:
        """Return the effects of loads (N, loads) as if no contact could let go, (N, effects).

        Neighbours are done together, with only what comes of the stations that they stand on.
        """
        found, of_each = np.empty((len(loads), len(self.effects))), self.effects.T
        for start in range(0, len(loads), _TOGETHER):
            some = loads[start : start + _TOGETHER]
            loaded = np.flatnonzero(some.any(axis=0))
            np.matmul(some[:, loaded], of_each[loaded], out=found[start : start + _TOGETHER])
        return found

    def opened(self, loads: Array, gaps_mm: Array) -> Array:
        """Return how far each contact opens under loads (N, loads), (..., N, Q), as they bear one way.

        `gaps_mm` (..., N, Q): how far each contact stands off before it bears.
        """
        contacts, hinge = self.place("contacts")[0], self.place("hinge")[0]
        changes = self.opening[:, contacts]
        carried = loads @ self.effects[np.r_[contacts, hinge]].T
        forces = carried[:, : len(changes)] - gaps_mm @ changes
        hair = np.broadcast_to(_HAIR * of_each_row(np.maximum, np.abs(carried)), forces.shape[:-1])
        found = openings(forces.reshape(-1, len(changes)), changes, hair.reshape(-1, 1))
        return found.reshape(forces.shape) - gaps_mm

    def with_opened(self, closed: Array, opened: Array) -> Array:
        """Return the effects where contacts open so far, (..., N, effects), of those with all closed."""
        found = opened @ self.opening
        found += closed
        return found

    def bearing(self, loads: Array) -> Array:
        """Return the effects of loads (N, loads) with contacts that bear one way, (N, effects)."""
        return self.with_opened(self.closed(loads), self.opened(loads, np.zeros(len(self.opening))))

    @property
    def mirrored(self) -> NDArray[np.intp]:
        """Return for each effect the number of the one on the other side of the ramp, left and right
        being alike.
        """
        every = Effects(self, np.arange(float(len(self.effects))))
        found: list[Array] = []
        for name, shape in self.parts:
            part = every.part(name)
            if name == "contacts":
                cuts = [len(self.bars), len(self.bars) + len(self.props)]
                found.extend(one[::-1] for one in np.split(part, cuts))
            elif name.endswith("crosses"):
                found.append(part[:, ::-1, ::-1].ravel())
            else:
                axis = -1 if len(shape) == 1 or name == "sunk" else 0
                found.append(np.flip(part, axis=axis).ravel())
        return np.concatenate(found).astype(np.intp)


@dataclass(frozen=True, slots=True)
class Effects:
    """Effects of loads, read by their names: (..., effects)."""

    of: Grillage
    values: Array

    def part(self, name: str) -> Array:
        """Return a part of them, (..., its shape)."""
        where, shape = self.of.place(name)
        found = self.values[..., where]
        return found.reshape(*found.shape[:-1], *shape)

    def moments(self, body: Body) -> Array:
        """Return the sagging moment at both ends of each length of each rail, (..., R, E, 2)."""
        return self.part(f"{body} moments")

    def shears(self, body: Body) -> Array:
        """Return the shear along each length of each rail, (..., R, E)."""
        return self.part(f"{body} shears")

    @property
    def stops_nmm(self) -> Array:
        """Return the moment that each stop bar holds, (..., S)."""
        return self.part("stops")

    @property
    def props_n(self) -> Array:
        """Return what each prop carries."""
        return self.part("contacts")[..., len(self.of.bars) :][..., : len(self.of.props)]

    @property
    def toe_n(self) -> Array:
        """Return what each rail presses on the ground, (..., R)."""
        return self.part("contacts")[..., len(self.of.bars) + len(self.of.props) :]

    @property
    def whole_toe_n(self) -> Array:
        """Return what the whole toe presses on the ground."""
        return self.part("toe")[..., 0]

    @property
    def hinge_n(self) -> Array:
        """Return what each rail hands to the deck hinge, (..., R)."""
        return self.part("hinge")

    @property
    def pins_n(self) -> Array:
        """Return what the outer leaf hands to each pair of knuckles at the joint, (..., R), of the inner
        rail's.
        """
        return self.part("pins")

    @property
    def ends_n(self) -> Array:
        """Return what comes to the inner leaf's ends at the joint from its own side, (..., R): what props
        take there, less what the outer leaf hands over.
        """
        return self.part("inner ends")

    def crosses_nmm(self, body: Body) -> Array:
        """Return the moment at both ends of each bay of each cross member that shares, (..., C, R - 1, 2)."""
        return self.part(f"{body} crosses")

    @property
    def sunk_mm(self) -> Array:
        """Return how far each station of each rail sinks, (..., N + M, R)."""
        return self.part("sunk")


def grillage(design: Design) -> Grillage:
    """Return the grillage of a design."""
    inner, outer = design.inner_leaf, design.outer_leaf
    x = stations_mm(design)
    frame = Frame(design, x)
    frame.put_rails(design)
    frame.put_crosses(design, inner, 0)
    frame.put_crosses(design, outer, 1)
    closing, stiffness = frame.put_contacts(design)
    moved, bars, props = frame.moved(closing), frame.bars, prop_rails(design)
    still = np.zeros((3 * frame.nodes, frame.nodes + len(closing))) if moved is None else moved
    parts = frame.effects(still, closing, stiffness)
    for part in parts.values():  # of a force that closes a contact, what its opening by 1 mm does
        part[..., frame.nodes :] *= -stiffness
    parts["contacts"][:, frame.nodes :] += np.diag(stiffness * (1 + _LEFT))
    parts |= _sums(frame, parts, bars, props)
    every = np.concatenate([part.reshape(-1, part.shape[-1]) for part in parts.values()])
    return Grillage(
        inner_mm=x[0],
        outer_mm=x[1],
        lanes_mm=(inner.rail_lanes_mm, outer.rail_lanes_mm),
        parts=tuple((name, part.shape[:-1]) for name, part in parts.items()),
        effects=np.asfortranarray(every[:, : frame.nodes]),
        opening=np.ascontiguousarray(every[:, frame.nodes :].T),
        bars=bars,
        props=props,
        loose=frame.loose() if moved is None else (),
    )


def _sums(
    frame: Frame, parts: dict[str, Array], bars: tuple[int, ...], props: tuple[int, ...]
) -> dict[str, Array]:
    """Return the effects that are sums of others; a load on a support is handed on where it stands."""
    rails, contacts = np.arange(frame.rails), parts["contacts"]
    shears = {
        f"{body} shears": np.diff(parts[f"{body} moments"], axis=2)[:, :, 0] / np.diff(x)[:, None]
        for body, x in zip(("inner", "outer"), frame.x, strict=True)
    }
    hinge, pins = shears["inner shears"][:, 0].copy(), shears["outer shears"][:, 0].copy()
    hinge[rails, frame.at_deck] += 1.0
    pins[rails, frame.beyond] += 1.0
    ends = -pins
    ends[list(props)] += contacts[len(bars) :][: len(props)]
    of_bar = np.array(bars) == np.arange(max(bars, default=-1) + 1)[:, None]
    return {
        **shears,
        "hinge": hinge,
        "pins": pins,
        "inner ends": ends,
        "stops": of_bar.astype(np.float64) @ contacts[: len(bars)],
        "toe": contacts[-frame.rails :].sum(axis=0, keepdims=True),
    }
