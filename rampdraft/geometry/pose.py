"""Where the leaves stand: the two angles, and the way from a body's frame to the side plane (x, z)."""

import math
from dataclasses import dataclass

from rampdraft.geometry.members.member import Body
from rampdraft.geometry.outline import Point
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


def hinge_point_mm(design: Design, drop_mm: MM) -> Point:
    """Return the deck hinge centre (x, z) with the deck edge `drop_mm` below its empty height."""
    return design.deck_hinge.out_mm, design.carrier.deck_height_mm - drop_mm - design.deck_hinge.below_mm


def placings(design: Design, pose: Pose, drop_mm: MM = 0.0) -> dict[Body, Placing]:
    """Return where each body lies in a pose. The carrier frame has its origin at the deck edge, on the deck
    surface.
    """
    hinge_x, hinge_z = hinge_point_mm(design, drop_mm)
    cos, sin = math.cos(pose.inner_rad), math.sin(pose.inner_rad)
    deck_w = design.deck_hinge.height_mm
    inner = Placing(pose.inner_rad, hinge_x + sin * deck_w, hinge_z - cos * deck_w)
    joint_x, joint_z = inner.point(design.inner_leaf.length_mm, design.joint.height_mm)
    turned = pose.inner_rad + pose.fold_rad
    cos, sin = math.cos(turned), math.sin(turned)
    joint_w = design.joint.height_mm
    return {
        "carrier": Placing(0.0, 0.0, design.carrier.deck_height_mm - drop_mm),
        "inner": inner,
        "outer": Placing(turned, joint_x + sin * joint_w, joint_z - cos * joint_w),
    }


def bridge_angle_rad(design: Design, pose: Pose, drop_mm: MM) -> RAD:
    """Return how far the bridge plate is turned up about its end on the deck, to ride on the inner leaf; 0
    lying on the deck.

    The plate's far end slides on the leaf's running surface, a line at the leaf's angle a through its corner
    Q at the deck hinge: with P the plate's end on the deck, L its length and n = (-sin a, cos a), the far end
    is on that line where L sin(angle - a) = n . (Q - P). Where that place would lie before the corner, the
    plate leans on the corner. Its thickness is left out; what it cannot reach does not lift it.
    """
    length = design.bridge.length_mm
    inner = placings(design, pose, drop_mm)["inner"]
    x, z = inner.point(0.0, design.inner_leaf.slat_thickness_mm)
    x, z = x + design.bridge.over_deck_mm, z - (design.carrier.deck_height_mm - drop_mm)  # from P
    leaf = pose.inner_rad
    off = math.cos(leaf) * z - math.sin(leaf) * x
    if abs(off) <= length:
        angle = leaf + math.asin(off / length)
        if (
            math.cos(leaf) * (length * math.cos(angle) - x) + math.sin(leaf) * (length * math.sin(angle) - z)
            >= 0
        ):
            return max(angle, 0.0)
    return max(math.atan2(z, x), 0.0) if math.hypot(x, z) <= length else 0.0
