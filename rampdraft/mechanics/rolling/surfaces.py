"""What wheels and low parts meet at a site: outlines under places across, in one state of the deck.

Ground that slopes across lies lower the further it is from its high side, where the toe's corner stands on
it: the ramp is stiff. A positive cross slope falls to the left of somebody who walks down. Beyond its far end
the deck is taken to go on level.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.ground_line import GroundLine, ground_line
from rampdraft.geometry.linkage import linkage
from rampdraft.geometry.members.member import LATCHES, Assembly
from rampdraft.geometry.running_surface import (
    HAIR_MM,
    Laid,
    laid_out,
    lying_between,
    outline_between,
    points_mm,
)
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.wheel_path import WheelPath, wheel_paths
from rampdraft.model.design import Design
from rampdraft.units import MM, Array, ArrayRecord

BEYOND_MM: Final = 6000.0
"""So far beyond deck and toe the outline goes on."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Surface(ArrayRecord):
    """An outline as a polyline from left to right: m points."""

    points_mm: Array
    """(m, 2); x never goes back, an upright face has two points."""
    owner: NDArray[np.intp]
    """Number of the owner in `owners`, of each point and of what goes on from it, (m,)."""
    owners: tuple[str, ...]
    """Keys of members; `deck`, `ground`."""

    @property
    def mirrored(self) -> "Surface":
        """Return the same seen from the other side: x the other way round."""
        return Surface(
            points_mm=(self.points_mm * (-1.0, 1.0))[::-1], owner=self.owner[::-1], owners=self.owners
        )

    def name(self, point: int) -> str:
        """Return the key of what a point belongs to."""
        return self.owners[int(self.owner[point])]

    @property
    def ground(self) -> NDArray[np.bool_]:
        """Return which points are of the ground, (m,)."""
        ground: NDArray[np.bool_] = np.zeros(len(self.owner), dtype=np.bool_)
        for number, one in enumerate(self.owners):
            if one == "ground":
                ground |= self.owner == number
        return ground


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where along the way something is."""

    edge_mm: MM
    """How far the deck edge's plate, or the gap to the first slat, reaches out."""
    joint_mm: MM
    tip_mm: MM

    @property
    def marks_mm(self) -> tuple[MM, MM, MM]:
        """Return where deck edge, joint and tip are."""
        return 0.0, self.joint_mm, self.tip_mm

    def of(self, x_mm: MM) -> str:
        """Return the key of a place: `deck`, `edge`, `inner`, `joint`, `outer`, `toe` or `ground`."""
        if x_mm < -_ABOUT_MM - self.edge_mm:
            return "deck"
        if x_mm <= self.edge_mm + _ABOUT_MM:
            return "edge"
        if abs(x_mm - self.joint_mm) <= _ABOUT_MM:
            return "joint"
        if abs(x_mm - self.tip_mm) <= _ABOUT_MM:
            return "toe"
        return "inner" if x_mm < self.joint_mm else "outer" if x_mm < self.tip_mm else "ground"


_ABOUT_MM: Final = 120.0
"""So near to deck edge, joint and toe a wheel is at it: a slat's width; common practice."""


class Surfaces:
    """The outlines of one site pose, each made when it is first asked for."""

    def __init__(self, design: Design, assembly: Assembly, pose: SitePose) -> None:
        site = design.sites[pose.site_number - 1]
        lie = pose.bridge_lie
        ground = ground_line(site)
        self._assembly = assembly
        self._laid = laid_out(
            design,
            ground,
            pose.pose,
            pose.drop_mm,
            flap_rad=pose.flap_rad,
            bridge_rad=lie.angle_rad if lie else 0.0,
            nod_rad=pose.nod_rad,
        )
        self._nods = pose.nod_rad != 0
        self._fall = site.cross_slope_percent / 100
        self._half = design.outer_leaf.width_mm / 2  # the toe's corner
        self._found: dict[tuple[MM, tuple[str, ...]], Surface] = {}
        self._asked: dict[tuple[MM, MM, tuple[MM, MM]], Surface] = {}
        self._changes: dict[MM, tuple[MM, ...]] = {}
        self._ways: dict[tuple[int, MM], WheelPath] = {}
        outer = linkage(design, pose.drop_mm).placings(pose.pose)["outer"]
        tip = outer.point(design.outer_leaf.length_mm, 0.0)[0]
        flap = pose.flap.going_mm if pose.flap else 0.0
        bridge = pose.bridge.going_mm if pose.bridge else 0.0
        self.place = Place(
            edge_mm=max(bridge, design.deck_hinge.out_mm), joint_mm=pose.joint[0], tip_mm=tip + flap
        )
        self.tip_mm = tip + flap
        self._end = max(self.tip_mm + BEYOND_MM, site.ground_mm[-1][0])

    @cached_property
    def symmetric(self) -> bool:
        """Return whether the ramp is alike on the left and on the right of its middle."""
        places = [
            (one.body, one.role, round(one.y0_mm, 6), round(one.y1_mm, 6))
            for one in self._assembly.of("carrier", "inner", "outer")
            if one.role not in LATCHES
        ]
        return sorted(places) == sorted((body, role, -y1, -y0) for body, role, y0, y1 in places)

    def under(self, y_mm: MM) -> Surface:
        """Return the outline at a place across."""
        return self._outline(y_mm, y_mm)

    def between(self, half_mm: MM, middle_mm: MM = 0.0, beside_mm: tuple[MM, MM] = (0.0, 0.0)) -> Surface:
        """Return the highest of all outlines up to half a width to both sides of a middle; with what lies
        beside that to the right and to the left.
        """
        return self._outline(middle_mm - half_mm, middle_mm + half_mm, beside_mm)

    def across_mm(self, key: str) -> tuple[MM, MM] | None:
        """Return from where to where across a member is; None of deck and ground."""
        found = [one for one in self._assembly.of("carrier", "inner", "outer") if one.key == key]
        return (found[0].y0_mm, found[0].y1_mm) if found else None

    def ways(self, rolled: Sequence[tuple[Surface, MM]]) -> tuple[WheelPath, ...]:
        """Return the ways of wheels' centres over outlines of these, by their radii: each made once."""
        missing = {
            (id(one), radius): (one.points_mm, radius)
            for one, radius in rolled
            if (id(one), radius) not in self._ways
        }
        if missing:
            self._ways.update(zip(missing, wheel_paths(list(missing.values())), strict=True))
        return tuple(self._ways[id(one), radius] for one, radius in rolled)

    def changes_mm(self, radius_mm: MM) -> tuple[MM, ...]:
        """Return the places across at which a wheel's way becomes another one, rising: edges of what it may
        meet; how the ground slopes across apart.
        """
        if radius_mm not in self._changes:
            strips, outlines = self._strips
            ways = wheel_paths([(one, radius_mm) for one in outlines])
            found = [
                edge
                for (_, before), (edge, here) in pairwise(strips)
                if here != before and not ways[here].goes_as(ways[before], HAIR_MM)
            ]
            mirrored = [-edge for edge in reversed(found)] if self.symmetric else []
            self._changes[radius_mm] = (*mirrored, *found)
        return self._changes[radius_mm]

    @cached_property
    def _strips(self) -> tuple[list[tuple[MM, int]], list[Array]]:
        """Return where each strip of the way across begins in which the same members lie, rising, with the
        number of its outline; and the outlines as if the ground were level across. Of a ramp that is alike on
        both sides the left one is told alone.

        Members of one shape make one outline, whichever they are.
        """
        members = self._assembly.of("carrier", "inner", "outer")
        low, high = 0.0 if self.symmetric else -self._half, self._half
        ends = sorted({y for one in members for y in (one.y0_mm, one.y1_mm) if low < y < high})
        numbers: dict[frozenset[object], int] = {}
        strips: list[tuple[MM, int]] = []
        outlines: list[Array] = []
        for begin, end in pairwise((low, *ends, high)):
            y = (begin + end) / 2
            met = lying_between(self._assembly, self._laid, y, y)
            shapes = frozenset((one.body, one.role, one.silhouette) for one in met)
            if shapes not in numbers:
                outline = points_mm(met, self._laid)
                alike = (at for at, one in enumerate(outlines) if np.array_equal(one, outline))
                numbers[shapes] = next(alike, len(outlines))
                if numbers[shapes] == len(outlines):
                    outlines.append(outline)
            strips.append((begin, numbers[shapes]))
        return strips, outlines

    def _outline(self, y0: MM, y1: MM, beside_mm: tuple[MM, MM] = (0.0, 0.0)) -> Surface:
        if (y0, y1, beside_mm) not in self._asked:
            fall = -min(self._fall * y for y in (y0, y1)) - abs(self._fall) * self._half
            ends = y0 - beside_mm[0], y1 + beside_mm[1]
            met = tuple(one.key for one in lying_between(self._assembly, self._laid, *ends))
            if (fall, met) not in self._found:
                self._found[fall, met] = self._surface(*ends, fall)
            self._asked[y0, y1, beside_mm] = self._found[fall, met]
        return self._asked[y0, y1, beside_mm]

    def _surface(self, y0: MM, y1: MM, fall: MM) -> Surface:
        laid = self._laid if not fall else _lowered(self._laid, fall)
        stretches = outline_between(self._assembly, laid, y0, y1)
        owners = tuple(dict.fromkeys(one.owner for one in stretches))
        points = np.array([point for one in stretches for point in one.points])
        owner = np.repeat(
            [owners.index(one.owner) for one in stretches], [len(one.points) for one in stretches]
        )
        kept = np.append(True, (np.diff(points, axis=0) != 0).any(axis=1))
        points, owner = points[kept], owner[kept]
        if self._nods:  # beyond its far end it is level
            points, owner = np.concatenate((points[:1], points)), np.concatenate((owner[:1], owner))
        points[0, 0] -= BEYOND_MM
        points[-1, 0] = min(points[-1, 0], self._end + BEYOND_MM)
        return Surface(points_mm=points, owner=owner, owners=owners)


def _lowered(laid: Laid, fall: MM) -> Laid:
    assert laid.ground is not None
    return replace(laid, ground=GroundLine(tuple((x, z + fall) for x, z in laid.ground.points)))
