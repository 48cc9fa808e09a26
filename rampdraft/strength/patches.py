"""Forces over patches of the surface, and how they bend what lies under them, before any factor."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.loading.loads import Footprint, Load, Rolling
from rampdraft.mechanics.loading.results import Carried
from rampdraft.mechanics.loading.slats import SharingSlats, shared
from rampdraft.model.design import Design, Leaf
from rampdraft.rounding import greatest_at
from rampdraft.strength.utilisation import Combination
from rampdraft.units import MM, Array, ArrayRecord, N

_SHARES: Final = np.linspace(0.0, 1.0, 25)[:, None]
"""Of a wheel that stands in a bay in part: its moment goes up and down so slowly."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Patches(ArrayRecord):
    """The wheels and feet of each load, or its patch, lengthwise across the ramp: P of them, in the order of
    the loads.
    """

    force_n: Array
    across_mm: Array
    along_mm: Array
    """Across and along the ramp."""
    track_mm: Array
    """To the other wheel of the axle; 0 for none."""
    load: NDArray[np.intp]
    at_edge: NDArray[np.bool_]
    """Whether it may stand at the very edge of the surface."""

    def on_slat(self, pitch_mm: MM) -> "Patches":
        """Return what comes to one slat: a wheel, or the slat's part of a longer patch."""
        return replace(self, force_n=self.force_n * np.minimum(1.0, pitch_mm / self.along_mm))

    def under(self, combination: Combination) -> NDArray[np.intp]:
        """Return the indices of those of the loads chosen; `once` for all patches of the same loads."""
        chosen = np.zeros(len(combination.words), dtype=np.bool_)
        chosen[list(combination.loads)] = True
        return np.flatnonzero(chosen[self.load])

    def in_bay(self, bay_mm: MM) -> Array:
        """Return the greatest moment of a wheel in the middle of a bay between rails, or of both wheels of an
        axle where both stand in it, wherever that is.

        Two wheels F, a track t apart, each spread over c of a simple span L, their middle d off its middle:
        the shear vanishes under the wheel nearer to it, and there M = F ((L - t) / 2 + d (t - c) / L - 2
        d^2 (L - c) / L^2), most where d = L (t - c) / (4 (L - c)), with F (L - t / 2)^2 / (2 L) for a
        narrow tyre. In a bay with less room than both need, each bears with what of it stands in the bay.

        Or one stands in the bay whole, its middle a from the far rail, and of the other one only a length p:
        the far rail bears F r, r = (L - a) / L + p^2 / (2 c L), and under the whole one M = F (r (a - c / 2)
        + c r^2 / 2), tried for shares of c.
        """
        force, size, track, bay = self.force_n, self.across_mm, self.track_mm, bay_mm
        room = bay - track - size
        best = bay * (track - size) / (4 * np.maximum(bay - size, 1e-9))
        off = np.clip(best, 0.0, np.maximum(room, 0.0) / 2)
        both = (bay - track) / 2 + off * (track - size) / bay - 2 * off**2 * (bay - size) / bay**2
        partly = np.maximum(room + 2 * size, 0.0) ** 2 / (8 * size)
        part = _SHARES * size
        at = bay - track + size / 2 - part
        bears = (bay - at) / bay + part**2 / (2 * size * bay)
        one = np.where(at >= size / 2, bears * (at - size / 2) + size * bears**2 / 2, 0.0).max(axis=0)
        arm = np.maximum(np.where(room >= 0, both, partly), one)
        return np.maximum(self.in_middle(bay, size), np.where(track > 0, force * arm, 0.0))

    def at_rail(self, bay_mm: MM) -> Array:
        """Return the greatest shear at the end of a bay: a wheel beside the rail, the other one of its axle a
        track t further in, F (2 - t / L).
        """
        other = np.where(self.track_mm > 0, np.maximum(0.0, 1 - self.track_mm / bay_mm), 0.0)
        return self.force_n * (1 + other)

    def in_middle(self, span_mm: MM, size_mm: Array) -> Array:
        """Return the moment in the middle of a simple span, `size_mm` of the patch lying along it; what lies
        beyond the span is not on it.
        """
        force = self.force_n
        return np.where(
            size_mm <= span_mm, force * (2 * span_mm - size_mm) / 8, force / size_mm * span_mm**2 / 8
        )

    def at_side(self, span_mm: MM, wide_mm: MM, lengths: tuple[Array, Array], spread: float) -> Array:
        """Return how much of a board or plate bears a wheel half way along its span with its tyre at the free
        side of it.

        Fitted to the bending of thin orthotropic plates, simply supported at both ends with free sides (S.
        P. Timoshenko and S. Woinowsky-Krieger, Theory of Plates and Shells, articles 46, 49 and 85): in a
        wide plate b0 = k (0.22 L + s / 3) + 2 c / 3, and 1 / b^2 = 1 / b0^2 + 1 / B^2 in one of width B,
        but what the tyre covers bears. `lengths` are s and c, of the tyre along the span and across it; k,
        `spread`, is the fourth root of the stiffness across over that along the span. Tests hold it to be
        at most 2 % above theory and 18 % below, for L of 2.5 s, c or more.
        """
        along, across = lengths
        wide = spread * (0.22 * span_mm + along / 3) + 2 * across / 3
        return np.minimum(np.maximum(wide / np.hypot(1.0, wide / wide_mm), across), wide_mm)

    def at_corner(self, out_mm: MM, wide_mm: MM, size: Array, spread: float) -> Array:
        """Return how much of a board or plate bears a wheel at its free corner, `out_mm` beyond its last
        bearing, `size` of the tyre across that: b0 = 1.1 k a + 2 c / 3, fitted to plates that go on over
        the bearing.
        """
        corner = 1.1 * spread * out_mm + 2 / 3 * size
        return np.minimum(np.maximum(corner / np.hypot(1.0, corner / wide_mm), size), wide_mm)

    def at_end(self, out_mm: MM, size_mm: Array) -> Array:
        """Return the moment at the last bearing of a patch that ends where the part does, `out_mm` beyond,
        `size_mm` of it lying that way.
        """
        force = self.force_n
        return np.where(size_mm <= out_mm, force * (out_mm - size_mm / 2), force / size_mm * out_mm**2 / 2)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class OnSlat(ArrayRecord):
    """What comes to one slat of a leaf, and what it brings there as the slat shares among the rails."""

    patches: Patches
    moment_nmm: Array
    """(P,); none on two rails or fewer."""
    pull_n: Array
    """On the fixings at one rail, (P,)."""
    over_nmm: Array
    """Over one rail, (P,)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wheels:
    """The patches of every load, and of what comes to a slat of either leaf."""

    patches: Patches
    on_slats: tuple[OnSlat, OnSlat]


def wheels_of(design: Design, carried: Carried, slats: tuple[SharingSlats, SharingSlats]) -> Wheels:
    """Return the patches of every load, and what they bring to the slats of either leaf."""
    patches = patches_of(design, carried)
    sizes = patches.across_mm.tolist(), patches.track_mm.tolist(), patches.at_edge.tolist()
    kinds = {kind: number for number, kind in enumerate(dict.fromkeys(zip(*sizes, strict=True)))}
    which = [kinds[kind] for kind in zip(*sizes, strict=True)]

    def on_slat(leaf: Leaf, own: SharingSlats) -> OnSlat:
        here = patches.on_slat(leaf.slat_pitch_mm)
        shares = len(leaf.rail_lanes_mm) > 2
        brought = shared(own, tuple(kinds))[which].T if shares else np.zeros((3, len(which)))
        moments, pulls, over = brought * here.force_n
        return OnSlat(patches=here, moment_nmm=moments, pull_n=pulls, over_nmm=over)

    inner, outer = map(on_slat, (design.inner_leaf, design.outer_leaf), slats)
    return Wheels(patches=patches, on_slats=(inner, outer))


@dataclass(frozen=True, slots=True, kw_only=True)
class Worst:
    """The patch that bends a part most, and the moment without factors."""

    load: int
    force_n: N
    across_mm: MM
    moment_nmm: float
    wide_mm: MM
    """So much of the part bears it."""
    place: str
    """Where it stands, `at the edge, {length} out`, with room for `place_mm`."""
    place_mm: MM


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Bent(ArrayRecord):
    """A part bent by P patches at K places each."""

    patches: Patches
    moment_nmm: Array
    """(P, K); 0 where a patch does not come."""
    wide_mm: Array
    """So much of the part bears it, (P, K); 1 for all of it."""
    places: tuple[tuple[str, MM], ...]

    def worst(self, combination: Combination) -> Worst:
        """Return the patch of the loads chosen that brings most moment to a mm of width."""
        rows = combination.once(self.patches.under)
        row, at = greatest_at(self.moment_nmm[rows] / self.wide_mm[rows])
        patch, (place, place_mm) = int(rows[row]), self.places[at]
        return Worst(
            load=int(self.patches.load[patch]),
            force_n=float(self.patches.force_n[patch]),
            across_mm=float(self.patches.across_mm[patch]),
            moment_nmm=float(self.moment_nmm[patch, at]),
            wide_mm=float(self.wide_mm[patch, at]),
            place=place,
            place_mm=place_mm,
        )


def bent(patches: Patches, *places: tuple[str, MM, Array, Array | float]) -> Bent:
    """Return a part bent at these places: words, their length, moments, and the width that bears them."""
    moments = np.stack([moment for _, _, moment, _ in places], axis=1)
    wide = np.stack([np.broadcast_to(wide, patches.force_n.shape) for _, _, _, wide in places], axis=1)
    return Bent(
        patches=patches,
        moment_nmm=moments,
        wide_mm=wide,
        places=tuple((words, length) for words, length, _, _ in places),
    )


def patches_of(design: Design, carried: Carried) -> Patches:
    """Return the patches of every load."""
    width, length = min(design.inner_leaf.width_mm, design.outer_leaf.width_mm), carried.spans.length_mm
    rows = [(*row, number) for number, load in enumerate(carried.loads) for row in _rows(load, width, length)]
    force, across, along, track, at_edge, numbers = zip(*rows, strict=True)
    return Patches(
        force_n=np.array(force),
        across_mm=np.array(across),
        along_mm=np.array(along),
        track_mm=np.array(track),
        load=np.array(numbers, dtype=np.intp),
        at_edge=np.array(at_edge, dtype=np.bool_),
    )


def _rows(load: Load, width: MM, length: MM) -> list[tuple[N, MM, MM, MM, bool]]:
    """Return (force, across, along, track, at the edge) of each patch of a load."""
    if isinstance(load, Rolling):
        found = [(axle.wheel_n, *axle.patch_mm, axle.track_mm, True) for way in load.ways for axle in way]
        return list(dict.fromkeys(found))
    if isinstance(load, Footprint):
        return [(load.force_n, min(load.across_mm, width), load.along_mm, 0.0, False)]
    return [(load.n_mm * length, width, length, 0.0, True)]
