"""How near the bridge plate comes to obstacles as it turns about the deck edge.

It rides on the inner leaf from where that lies deployed to where it is stowed, or is turned back on the deck
by hand. Its angle to the level goes from the least to the greatest that it has on the way, and through all
between. While it turns by a small angle d no point of it moves more than R d, R from the deck edge to its
farthest corner, so that between two angles that are looked at it has no less than at the nearer one less R d
/ 2: steps are halved until that is within a tolerance. Deck and carrier's end lie below it: it lies on the
one, and hangs no farther than upright before the other.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.bridge import bearers, bridge_reach_mm
from rampdraft.geometry.members.member import Assembly
from rampdraft.geometry.outline import Outline
from rampdraft.mechanics.folding.bodies import Convex, convex_parts
from rampdraft.mechanics.folding.separation import distances
from rampdraft.mechanics.results import FoldPath
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD, Array

Plane = NDArray[np.complex128]
"""Points of the side plane, x + i z, mm."""

_LIES: Final = 17
"""Angles of the inner leaf at which the plate is laid down."""
_TURNS: Final = 33
_TOLERANCE_MM: Final = 0.05
_ROUNDS: Final = 12


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeRoom:
    """The bridge plate where it comes nearest to an obstacle."""

    obstacle: str
    number: int
    """Of the obstacle, counted from 1."""
    certified_mm: MM
    """Nowhere on its way is it nearer."""
    nearest_mm: MM
    angle_rad: RAD
    """Of the plate to the level there."""
    span_rad: tuple[RAD, RAD]


def bridge_room(design: Design, assembly: Assembly, path: FoldPath) -> BridgeRoom | None:
    """Return where the bridge plate comes nearest to an obstacle; None without either, or none beside it."""
    found = bearers(design, assembly)
    half = design.inner_leaf.width_mm / 2
    met = [
        (number, obstacle)
        for number, obstacle in enumerate(design.obstacles, start=1)
        if obstacle.left_mm < half and obstacle.right_mm > -half
    ]
    if found is None or not met:
        return None
    turned = [pose.inner_rad for pose in path.poses]
    lies = [found.lie(at).angle_rad for at in np.linspace(min(turned), max(turned), _LIES).tolist()]
    back = design.bridge.turned_back
    span = (lies[0], math.pi) if back else (min(lies), max(lies))
    parts: list[Convex] = []
    of: list[int] = []
    for number, obstacle in met:
        points = tuple(obstacle.outline_mm)
        own = (
            convex_parts(Outline(tuple((x, z, 0.0) for x, z in points)))
            if len(points) > 2
            else ((points, 0.0),)
        )
        parts += own
        of += [number] * len(own)
    least, certified, angle, at = _nearest(design, span, parts)
    number = of[at]
    return BridgeRoom(
        obstacle=design.obstacles[number - 1].name,
        number=number,
        certified_mm=certified,
        nearest_mm=least,
        angle_rad=angle,
        span_rad=span,
    )


def _nearest(design: Design, span: tuple[RAD, RAD], parts: list[Convex]) -> tuple[MM, MM, RAD, int]:
    """Return the least distance that was met, what is proved, the plate's angle there, and which part."""
    length, thick = bridge_reach_mm(design), design.bridge.thickness_mm
    corners: Plane = np.array([0j, length + 0j, complex(length, thick), complex(0.0, thick)])
    still = np.array([[*points, *points[-1:] * (4 - len(points))] for points, _ in parts])  # (q, 4, 2)
    grown, reach = np.array([radius for _, radius in parts]), math.hypot(length, thick)
    angles = np.linspace(*span, _TURNS)
    seen = _apart(corners, angles, still, grown)
    for _ in range(_ROUNDS):
        steps = np.diff(angles)
        bounds = np.minimum(seen[:-1], seen[1:]).min(axis=1) - reach * steps / 2
        open_at = np.flatnonzero(bounds < seen.min() - _TOLERANCE_MM)
        if not open_at.size:
            break
        middles = (angles[open_at] + angles[open_at + 1]) / 2
        order = np.argsort(np.concatenate((angles, middles)), kind="stable")
        seen = np.concatenate((seen, _apart(corners, middles, still, grown)))[order]
        angles = np.concatenate((angles, middles))[order]
    steps = np.diff(angles)
    proved = float((np.minimum(seen[:-1], seen[1:]).min(axis=1) - reach * steps / 2).min())
    row, part = divmod(int(seen.argmin()), len(parts))
    return float(seen.min()), min(proved, float(seen.min())), float(angles[row]), part


def _apart(corners: Plane, angles: Array, still: Array, grown: Array) -> Array:
    """Return how far the plate is from each part at each angle, (A, q)."""
    turned: Plane = corners[:, None] * np.exp(1j * angles)
    plate = np.array((turned.real, turned.imag))  # (2, 4, A)
    count, parts = len(angles), len(grown)
    plates: Array = np.repeat(plate, parts, axis=2)
    others = np.tile(still.transpose(2, 1, 0), (1, 1, count))
    nothing = np.zeros(count * parts)
    return distances(plates, nothing, others, np.tile(grown, count)).reshape(count, parts)
