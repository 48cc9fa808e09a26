"""The ramp as a linkage of two bars: both hinge lines, its poses, and where each body lies in one.

Everything that turns or places a leaf reads it here, in one of two ways: a frame to place points with
(`placings`), or the vector from a body's own hinge to a point with the body level (`from_hinge`), which turns
by the body's angle and so is what moments, energies and bounds are made of.
"""

import math
from dataclasses import dataclass

from rampdraft.geometry.members.member import Body
from rampdraft.geometry.outline import Outline, Point
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD


@dataclass(frozen=True, slots=True)
class Pose:
    """Inner leaf's angle to the level (counter-clockwise positive) and outer leaf's angle to the inner leaf,
    radians.
    """

    inner_rad: RAD
    fold_rad: RAD


@dataclass(frozen=True, slots=True)
class Placing:
    """A turn and a shift: point = shift + R(angle) (u, w)."""

    angle_rad: RAD
    x_mm: MM
    z_mm: MM

    def point(self, u_mm: MM, w_mm: MM) -> Point:
        """Return the side-plane point (x, z) of the body point (u, w)."""
        cos, sin = math.cos(self.angle_rad), math.sin(self.angle_rad)
        return self.x_mm + cos * u_mm - sin * w_mm, self.z_mm + sin * u_mm + cos * w_mm

    def inverse(self, x_mm: MM, z_mm: MM) -> Point:
        """Return the body point (u, w) of a side-plane point (x, z)."""
        cos, sin = math.cos(self.angle_rad), math.sin(self.angle_rad)
        x, z = x_mm - self.x_mm, z_mm - self.z_mm
        return cos * x + sin * z, cos * z - sin * x


def edge_height_mm(design: Design, drop_mm: MM = 0.0) -> MM:
    """Return the height H - D of the deck edge above the ground straight below it; `drop_mm` is D, how far
    the deck has sunk.
    """
    return design.carrier.deck_height_mm - drop_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Linkage:
    """Two bars in a row: the inner leaf turns about the deck hinge, the outer one about the joint."""

    edge: Point
    """Deck edge on the deck surface, (x, z)."""
    hinge: Point
    """Deck hinge centre, (x, z)."""
    inner_hinge: Point
    inner_joint: Point
    """Both hinge centres in the inner leaf, (u, w)."""
    outer_joint: Point
    """The joint's centre in the outer leaf, (u, w)."""

    @property
    def arm(self) -> Point:
        """Return the vector from the deck hinge to the joint with the inner leaf level."""
        return self.from_hinge("inner", self.inner_joint)

    def from_hinge(self, leaf: Body, point: Point) -> Point:
        """Return the vector from a leaf's own hinge, the deck hinge or the joint, to one of its points
        (u, w), with the leaf level.
        """
        own = self.inner_hinge if leaf == "inner" else self.outer_joint
        return point[0] - own[0], point[1] - own[1]

    def placings(self, pose: Pose) -> dict[Body, Placing]:
        """Return where each body lies. The carrier's frame has its origin at the deck edge."""
        inner = _about(self.hinge, self.inner_hinge, pose.inner_rad)
        joint = inner.point(*self.inner_joint)
        return {
            "carrier": Placing(0.0, *self.edge),
            "inner": inner,
            "outer": _about(joint, self.outer_joint, pose.inner_rad + pose.fold_rad),
        }

    def joint(self, inner_rad: RAD) -> Point:
        """Return the joint's centre (x, z)."""
        return _about(self.hinge, self.inner_hinge, inner_rad).point(*self.inner_joint)


def linkage(design: Design, drop_mm: MM = 0.0) -> Linkage:
    """Return the linkage with the deck edge sunk by `drop_mm`."""
    deck, joint_w, edge = design.deck_hinge, design.joint.height_mm, edge_height_mm(design, drop_mm)
    return Linkage(
        edge=(0.0, edge),
        hinge=(deck.out_mm, edge - deck.below_mm),
        inner_hinge=(0.0, deck.height_mm),
        inner_joint=(design.inner_leaf.length_mm, joint_w),
        outer_joint=(0.0, joint_w),
    )


def placings(design: Design, pose: Pose, drop_mm: MM = 0.0) -> dict[Body, Placing]:
    """Return where each body lies in a pose, with the deck edge sunk by `drop_mm`."""
    return linkage(design, drop_mm).placings(pose)


def moved(outline: Outline, where: Placing) -> Outline:
    """Return an outline of a body's frame in the side plane."""
    x, z, cos, sin = where.x_mm, where.z_mm, math.cos(where.angle_rad), math.sin(where.angle_rad)
    return Outline(
        tuple([(x + cos * u - sin * w, z + sin * u + cos * w, bulge) for u, w, bulge in outline.vertices])
    )


def _about(centre: Point, own: Point, angle: RAD) -> Placing:
    """Return the frame turned by an angle that has its point `own` at `centre`."""
    cos, sin = math.cos(angle), math.sin(angle)
    return Placing(angle, centre[0] - cos * own[0] + sin * own[1], centre[1] - sin * own[0] - cos * own[1])
