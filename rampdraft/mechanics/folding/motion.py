"""How the parts move along the fold path: rotations about the hinge centres, exactly and with bounds.

A point of a moving part is p(t) = c + R(a(t)) q + R(b(t)) v, with both angles linear in t between way-points:
b turns the part about its own hinge, a carries that hinge about the deck hinge (q = 0 where it does not
move).
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import linkage
from rampdraft.mechanics.folding.separation import Array
from rampdraft.mechanics.results import FoldPath
from rampdraft.model.design import Design


@dataclass(frozen=True, slots=True, kw_only=True)
class Motion:
    """How k moving parts move in the frames of what stands still."""

    centre: Array
    """c, shape (2, k), mm."""
    arm: Array
    """q, shape (2, k), mm."""
    own_hinge: Array
    """In the moving body's own frame, shape (2, k), mm: v = point - own_hinge."""
    turn_of_arm: Array
    turn_of_part: Array
    """How (inner, fold) angles add up to a and b, shape (2, k) each."""

    def of(self, index: NDArray[np.intp]) -> "Motion":
        """Return the motion of the parts `index`."""
        return Motion(
            centre=self.centre.take(index, axis=1),
            arm=self.arm.take(index, axis=1),
            own_hinge=self.own_hinge.take(index, axis=1),
            turn_of_arm=self.turn_of_arm.take(index, axis=1),
            turn_of_part=self.turn_of_part.take(index, axis=1),
        )

    def angles(self, poses: Array) -> tuple[Array, Array]:
        """Return a and b, shape (k,) each, for a pose a part, shape (2, k), radians."""
        return dot(self.turn_of_arm, poses), dot(self.turn_of_part, poses)

    def place(self, corners: Array, poses: Array) -> Array:
        """Return corners of shape (2, 4, k) in the still frame, in a pose a part, shape (2, k)."""
        a, b = self.angles(poses)
        shift = self.centre + turned(self.arm, a)
        return shift[:, None] + turned(corners - self.own_hinge[:, None], b)


def motions(design: Design) -> Motion:
    """Return the motions in the order of FRAMES, with the deck empty."""
    bars = linkage(design)
    return Motion(
        centre=np.array((bars.inner_joint, bars.hinge, bars.hinge)).T,
        arm=np.array(((0.0, 0.0), (0.0, 0.0), bars.arm)).T,
        own_hinge=np.array((bars.outer_joint, bars.inner_hinge, bars.outer_joint)).T,
        turn_of_arm=np.array(((0.0, 0.0), (0.0, 0.0), (1.0, 0.0))).T,
        turn_of_part=np.array(((0.0, 1.0), (1.0, 0.0), (1.0, 1.0))).T,
    )


def dot(n: Array, v: Array) -> Array:
    """Return the scalar products of vectors along the first axis."""
    return n[0] * v[0] + n[1] * v[1]


def turned(points: Array, angle: Array) -> Array:
    """Return points of shape (2, ...) turned by angles that broadcast with shape (...), radians."""
    cos, sin = np.cos(angle), np.sin(angle)
    return np.array((cos * points[0] - sin * points[1], sin * points[0] + cos * points[1]))


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """The path cut into short steps: shares (n + 1,), poses (2, n + 1) in radians, both angles linear over
    each step.
    """

    at: Array
    poses: Array


def steps_of(path: FoldPath, longest_rad: float) -> Steps:
    """Return the path in steps over which no angle turns more than `longest_rad`."""
    at, poses = np.array(path.at), np.array([(pose.inner_rad, pose.fold_rad) for pose in path.poses]).T
    count = np.ceil(np.abs(np.diff(poses)).max(axis=0) / longest_rad - 1e-9).clip(1).astype(np.intp)
    leg = np.repeat(np.arange(len(count)), count)
    part = np.arange(1, len(leg) + 1) - (np.cumsum(count) - count)[leg]
    fine = np.concatenate((at[:1], at[leg] + (at[leg + 1] - at[leg]) * part / count[leg]))
    angles: list[Array] = [np.interp(fine, at, angle) for angle in poses]
    return Steps(at=fine, poses=np.array(angles))
