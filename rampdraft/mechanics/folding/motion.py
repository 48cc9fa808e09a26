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
    """c, shape (k, 2), mm."""
    arm: Array
    """q, shape (k, 2), mm."""
    own_hinge: Array
    """In the moving body's own frame, shape (k, 2), mm: v = point - own_hinge."""
    turn_of_arm: Array
    turn_of_part: Array
    """How (inner, fold) angles add up to a and b, shape (k, 2) each."""

    def of(self, index: NDArray[np.intp]) -> "Motion":
        """Return the motion of the parts `index`."""
        return Motion(
            centre=self.centre[index],
            arm=self.arm[index],
            own_hinge=self.own_hinge[index],
            turn_of_arm=self.turn_of_arm[index],
            turn_of_part=self.turn_of_part[index],
        )

    def angles(self, poses: Array) -> tuple[Array, Array]:
        """Return a and b, shape (k,) each, for a pose a part, shape (k, 2), radians."""
        return (self.turn_of_arm * poses).sum(axis=1), (self.turn_of_part * poses).sum(axis=1)

    def place(self, corners: Array, poses: Array) -> Array:
        """Return corners of shape (k, 4, 2) in the still frame, in a pose a part, shape (k, 2)."""
        a, b = self.angles(poses)
        shift = self.centre + turned(self.arm, a)
        return shift[:, None, :] + turned(corners - self.own_hinge[:, None, :], b[:, None])


def motions(design: Design) -> Motion:
    """Return the motions in the order of FRAMES, with the deck empty."""
    bars = linkage(design)
    return Motion(
        centre=np.array((bars.inner_joint, bars.hinge, bars.hinge)),
        arm=np.array(((0.0, 0.0), (0.0, 0.0), bars.arm)),
        own_hinge=np.array((bars.outer_joint, bars.inner_hinge, bars.outer_joint)),
        turn_of_arm=np.array(((0.0, 0.0), (0.0, 0.0), (1.0, 0.0))),
        turn_of_part=np.array(((0.0, 1.0), (1.0, 0.0), (1.0, 1.0))),
    )


def turned(points: Array, angle: Array) -> Array:
    """Return points of shape (..., 2) turned by angles that broadcast with shape (...), radians."""
    cos, sin = np.cos(angle), np.sin(angle)
    x, y = points[..., 0], points[..., 1]
    out = np.empty((*np.broadcast_shapes(x.shape, cos.shape), 2))
    out[..., 0] = cos * x - sin * y
    out[..., 1] = sin * x + cos * y
    return out


@dataclass(frozen=True, slots=True, kw_only=True)
class Steps:
    """The path cut into short steps: shares (n + 1,), poses (n + 1, 2) in radians, both angles linear over
    each step.
    """

    at: Array
    poses: Array


def steps_of(path: FoldPath, longest_rad: float) -> Steps:
    """Return the path in steps over which no angle turns more than `longest_rad`."""
    at, poses = np.array(path.at), np.array([(pose.inner_rad, pose.fold_rad) for pose in path.poses])
    shares: list[Array] = [at[:1]]
    for k in range(len(at) - 1):
        count = max(1, int(np.ceil(np.abs(poses[k + 1] - poses[k]).max() / longest_rad - 1e-9)))
        shares.append(at[k] + (at[k + 1] - at[k]) * np.arange(1, count + 1) / count)
    fine = np.concatenate(shares)
    angles = np.stack([np.interp(fine, at, poses[:, axis]) for axis in range(2)], axis=1)
    return Steps(at=fine, poses=angles)
