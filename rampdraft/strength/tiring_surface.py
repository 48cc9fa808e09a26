"""What a wheel tires of the running surface: slats, what holds them, edge upstands.

A slat is bent by each axle by itself, so that a crossing counts as often as its user has axles. Over a rail
it is drilled or welded, in a bay it is plain.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.loading.loads import Load, Rolling
from rampdraft.model.design import Leaf
from rampdraft.strength.curves import Detail, Metal, drilled, plain, root, toe
from rampdraft.strength.fixings import Fixings
from rampdraft.strength.formula import PLATE
from rampdraft.strength.guards import FOOT, PUSH, WELD, Guards
from rampdraft.strength.patches import Patches
from rampdraft.strength.surface import Boards, overhang_mm
from rampdraft.units import Array, ArrayRecord
from rampdraft.words.figures import percent
from rampdraft.words.say import say

_METALS: Final[dict[str, Metal]] = {"steel": "steel", "aluminium": "aluminium"}
PUSHED: Final = 0.1
"""A wheel is steered against an upstand at one crossing of ten: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stressed(ArrayRecord):
    """A detail, and what it bears of U users."""

    detail: Detail
    range_mpa: Array
    """(U,)."""
    times: Array
    """At each crossing, (U,)."""


Users = tuple[tuple[Load, ...], list[int]]
"""All loads, and the indices of those that cross."""


def at_slat(slats: Boards, leaf: Leaf, hole_part: float, users: Users) -> list[Stressed]:
    """Return slats in a bay, and over their rails, where screws leave `hole_part` of them; none of what is no
    metal.
    """
    metal, thick, bent = _METALS.get(slats.material.kind), slats.thick_mm, slats.bent
    if metal is None:
        return []
    stress = bent.moment_nmm / PLATE.at(bent.wide_mm, thick)
    over = (slats.over_nmm / PLATE.at(bent.wide_mm[:, 0], thick))[:, None]
    # Places as `surface_parts` puts them: in a bay, where there is one; beyond the outer rail; anywhere.
    out, bays = 1 if overhang_mm(leaf) else 0, 1 if len(leaf.rail_lanes_mm) > 1 else 0
    over = np.concatenate((over, stress[:, bays : bays + out]), axis=1).max(axis=1) / hole_part
    inside = np.concatenate((stress[:, :bays], stress[:, bays + out :]), axis=1).max(axis=1, initial=0.0)
    words = say("slat over a rail")
    at_rail = drilled(metal, words) if hole_part < 1 else toe(metal, words, np.inf, thick)
    return [
        Stressed(detail=detail, range_mpa=_most(bent.patches, stresses, users[1]), times=_axles(users))
        for detail, stresses in ((plain(metal, say("slat in a bay")), inside), (at_rail, over))
    ]


def at_fixing(held: Fixings, users: Users) -> list[Stressed]:
    """Return the weld that holds a slat on a rail; none where there are screws."""
    metal = _METALS.get(held.slats.kind)
    if held.screw_mm or metal is None:
        return []
    pull = np.maximum(held.lifted_nmm / held.bay_mm, held.pulled_n)
    stress = pull / (2 * held.section.width_mm * held.throat_mm)
    most = _most(held.patches, stress, users[1])
    return [Stressed(detail=root(metal), range_mpa=most, times=_axles(users))]


def at_guard(guard: Guards, users: list[int]) -> list[Stressed]:
    """Return an upstand at its foot and its weld on the slats; none where it is screwed to them."""
    metal = _METALS.get(guard.material.kind)
    if guard.screwed or metal is None:
        return []
    push, wide = PUSH.at(1.0, guard.wheel_n[users]), guard.contact_mm[users] + guard.height_mm
    weld = WELD.at(push, guard.height_mm, guard.slat_mm, wide * guard.covered) / guard.throat_mm
    foot = FOOT.at(push, guard.height_mm) / PLATE.at(wide, guard.thick_mm)
    words = say("upstand at its foot, pushed at {pushed} of the crossings", pushed=percent(PUSHED))
    times = np.full(len(users), PUSHED)
    return [
        Stressed(detail=root(metal), range_mpa=weld, times=times),
        Stressed(detail=toe(metal, words, guard.slat_mm, guard.thick_mm), range_mpa=foot, times=times),
    ]


def _most(patches: Patches, stress: Array, users: list[int]) -> Array:
    """Return the most that any patch of each of these loads brings, (U,)."""
    of: list[NDArray[np.bool_]] = [patches.load == number for number in users]
    return np.array([stress[rows].max() for rows in of])


def _axles(users: Users) -> Array:
    """Return how many axles each user has, (U,)."""
    found = [users[0][number] for number in users[1]]
    return np.array([len(load.axles) if isinstance(load, Rolling) else 1 for load in found], dtype=np.float64)
