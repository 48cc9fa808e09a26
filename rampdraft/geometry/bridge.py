"""The bridge plate as it lies: hinged on the deck edge, it comes down on the inner leaf and rides on it.

The plate turns about the deck edge E on the deck surface, its underside along a line from there, R long. What
it comes down on is the point of the inner leaf within R of E that is seen from E at the greatest angle: a
corner within reach, or where the circle of radius R about E cuts a side (there the plate's end bears). Its
thickness at the hinge is left out, and so is what it weighs: it lies where it lies by contact alone.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from rampdraft.geometry.linkage import Linkage, Placing, Pose, linkage
from rampdraft.geometry.members.member import INSIDE, Assembly
from rampdraft.geometry.outline import Point
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD

HANGS_RAD: Final = -math.pi / 2
"""Where nothing of the leaf is within its reach it hangs down at the carrier's end."""

HAIR_MM: Final = 1e-6
"""What the plate's underside passes this closely bears it too, so that no bearing hangs on rounding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgeLie:
    """How the plate lies with the inner leaf at one angle."""

    angle_rad: RAD
    """Of the plate to the level, counter-clockwise positive."""
    length_mm: MM
    """From the deck edge to its end."""
    bears_mm: MM
    """From the deck edge to where it bears on the leaf; 0 where it hangs."""

    @property
    def hangs(self) -> bool:
        """Return whether it meets nothing of the leaf."""
        return self.bears_mm <= 0

    def placing(self, edge: Point) -> Placing:
        """Return where it lies; its own frame has its origin at the deck edge, x along it."""
        return Placing(self.angle_rad, *edge)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bearers:
    """What of the inner leaf the plate may come down on, in the leaf's frame, about a deck edge that turns
    with the leaf held still.
    """

    bars: Linkage
    length_mm: MM
    corners: tuple[Point, ...]
    sides: tuple[tuple[Point, Point], ...]
    discs: tuple[tuple[Point, MM], ...]
    """Centre and radius."""

    def edge(self, inner_rad: RAD) -> Point:
        """Return where the deck edge is in the inner leaf's frame with that at an angle to the level."""
        (edge_x, edge_z), (hinge_x, hinge_z), own = self.bars.edge, self.bars.hinge, self.bars.inner_hinge
        cos, sin = math.cos(inner_rad), math.sin(inner_rad)
        x, z = edge_x - hinge_x, edge_z - hinge_z
        return own[0] + cos * x + sin * z, own[1] + cos * z - sin * x

    def lie(self, inner_rad: RAD) -> BridgeLie:
        """Return how the plate lies with the inner leaf at an angle to the level."""
        found = [
            (angle, reach)
            for turned, reach in self._met(self.edge(inner_rad))
            if (angle := math.remainder(turned + inner_rad, math.tau)) >= HANGS_RAD
        ]
        if not found:
            return BridgeLie(angle_rad=HANGS_RAD, length_mm=self.length_mm, bears_mm=0.0)
        highest = max(found)[0]
        bears = max([reach for angle, reach in found if (highest - angle) * reach <= HAIR_MM])
        return BridgeLie(angle_rad=highest, length_mm=self.length_mm, bears_mm=bears)

    def _met(self, about: Point) -> list[tuple[RAD, MM]]:
        """Return at what angle to the leaf, and how far from the deck edge, each thing would bear it."""
        (x, z), length = about, self.length_mm
        corners = [
            (math.atan2(w - z, u - x), reach)
            for u, w in self.corners
            if 0 < (reach := math.hypot(u - x, w - z)) <= length
        ]
        sides = [
            (math.atan2(w0 - z + share * (w1 - w0), u0 - x + share * (u1 - u0)), length)
            for (u0, w0), (u1, w1) in self.sides
            for share in _crossings(u0 - x, w0 - z, u1 - x, w1 - z, length)
        ]
        discs = [met for (u, w), radius in self.discs for met in _on_disc(u - x, w - z, radius, length)]
        return corners + sides + discs


def bearers(design: Design, assembly: Assembly) -> Bearers | None:
    """Return what the plate may lie on; None without a plate."""
    if not design.bridge.fitted:
        return None
    bars, length = linkage(design), bridge_reach_mm(design)
    half, out = design.inner_leaf.width_mm / 2, math.dist(bars.edge, bars.hinge) + length
    hinge = bars.inner_hinge
    shapes = [
        [vertex[:2] for vertex in member.silhouette.vertices]
        for member in assembly.of("inner")
        if member.role not in INSIDE and min(member.y1_mm, half) - max(member.y0_mm, -half) > HAIR_MM
    ]
    # Most slats begin too far out.
    rings = [shape for shape in shapes if len(shape) > 2 and min(shape)[0] - hinge[0] <= out]
    sides = {side for ring in rings for side in pairwise((*ring, ring[0]))}
    discs = {
        (((x0 + x1) / 2, (z0 + z1) / 2), math.hypot(x1 - x0, z1 - z0) / 2)
        for (x0, z0), (x1, z1) in (shape for shape in shapes if len(shape) == 2)
    }
    return Bearers(
        bars=bars,
        length_mm=length,
        corners=tuple(sorted({start for start, _ in sides if math.dist(start, hinge) <= out})),
        sides=tuple(sorted([side for side in sides if _distance(*side, hinge) <= out])),
        discs=tuple(sorted([disc for disc in discs if math.dist(disc[0], hinge) <= out])),
    )


def bridge_reach_mm(design: Design) -> MM:
    """Return how far the plate reaches beyond the deck edge, lying level."""
    return design.bridge.length_mm - design.bridge.over_deck_mm


def bridge_placing(design: Design, assembly: Assembly, pose: Pose, drop_mm: MM) -> Placing:
    """Return where the bridge plate lies in a pose; level, where none is fitted."""
    edge, found = linkage(design, drop_mm).edge, bearers(design, assembly)
    return found.lie(pose.inner_rad).placing(edge) if found else Placing(0.0, *edge)


def _crossings(x0: MM, z0: MM, x1: MM, z1: MM, radius: MM) -> list[float]:
    """Return at which shares of a side it crosses the circle about the origin."""
    dx, dz = x1 - x0, z1 - z0
    a, b, c = dx * dx + dz * dz, x0 * dx + z0 * dz, x0 * x0 + z0 * z0 - radius * radius
    root = b * b - a * c
    if a <= 0 or root < 0:
        return []
    return [share for sign in (-1, 1) if 0 <= (share := (-b + sign * math.sqrt(root)) / a) <= 1]


def _on_disc(x: MM, z: MM, radius: MM, length: MM) -> Iterator[tuple[RAD, MM]]:
    """Yield at what angle from the origin, and how far, a disc bears a plate: along its tangent, or at its
    end.
    """
    away = math.hypot(x, z)
    if away <= radius:
        return
    tangent = math.sqrt(away * away - radius * radius)
    if tangent <= length:
        yield math.atan2(z, x) + math.asin(radius / away), tangent
    elif away - radius <= length:
        cosine = (away * away + length * length - radius * radius) / (2 * away * length)
        yield math.atan2(z, x) + math.acos(min(1.0, cosine)), length


def _distance(a: Point, b: Point, to: Point) -> MM:
    along = (b[0] - a[0], b[1] - a[1])
    square = along[0] ** 2 + along[1] ** 2
    share = ((to[0] - a[0]) * along[0] + (to[1] - a[1]) * along[1]) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return math.dist((a[0] + share * along[0], a[1] + share * along[1]), to)
