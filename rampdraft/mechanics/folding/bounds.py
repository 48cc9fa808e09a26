"""Bounds and exact separations of many pairs in many poses: what searches over the fold are made of.

A certificate rests on this: for any fixed direction n the separation along n is a lower bound of the true one
(see `separation`). Over a step, each corner's reach along n is a sum of sinusoids f(t), so f(t) >= f(m) -
|f'(m)| h - M h^2 / 2 for |t - m| <= h, with M the sum of radius times squared angular rate (Taylor's theorem
with the Lagrange remainder). With n the direction of nearest approach at mid step, held in the still or in
the moving body's frame, whichever proves more, that is tight to second order: far tighter than radius times
angle.
"""

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.folding.bodies import Index, Pairs
from rampdraft.mechanics.folding.motion import Motion, turned
from rampdraft.mechanics.folding.separation import Array, separations
from rampdraft.units import RAD

ROUNDING_MM = 0.01
"""More than single precision loses on figures up to 1e5 mm."""


def moving_boxes(pairs: Pairs, motion: Motion, poses: Array) -> Array:
    """Return the upright box of each moving part in each pose: shape (4, q, n), low x, low y, high x, high y,
    mm.
    """
    a, b = motion.turn_of_arm @ poses.T, motion.turn_of_part @ poses.T
    shift = motion.centre[:, None, :] + turned(motion.arm[:, None, :], a)
    local = pairs.corners_b - motion.own_hinge[:, None, :]
    x, y = local[:, :, 0, None], local[:, :, 1, None]
    cos, sin = np.cos(b)[:, None, :], np.sin(b)[:, None, :]
    placed_x, placed_y = cos * x - sin * y, sin * x + cos * y
    radius = pairs.radius_b[:, None]
    return np.stack(
        (
            placed_x.min(axis=1) + (shift[..., 0] - radius),
            placed_y.min(axis=1) + (shift[..., 1] - radius),
            placed_x.max(axis=1) + (shift[..., 0] + radius),
            placed_y.max(axis=1) + (shift[..., 1] + radius),
        )
    )


def swept_boxes(boxes: Array, pairs: Pairs, motion: Motion, step_rad: RAD) -> Array:
    """Return the box of each moving part over each step between poses: shape (4, q, n - 1), mm.

    `step_rad` is the most that either angle turns over a step. A corner strays from the straight line between
    its ends by at most r s^2 / 8 for each turn s that carries it (error of linear interpolation); its own
    hinge may turn by both angles.
    """
    local = pairs.corners_b - motion.own_hinge[:, None, :]
    reach, arm = (
        np.hypot(local[..., 0], local[..., 1]).max(axis=1),
        np.hypot(motion.arm[:, 0], motion.arm[:, 1]),
    )
    stray = ((4 * reach + arm) * step_rad**2 / 8)[:, None]
    low = np.minimum(boxes[:2, :, :-1], boxes[:2, :, 1:]) - stray
    high = np.maximum(boxes[2:, :, :-1], boxes[2:, :, 1:]) + stray
    return np.concatenate((low, high))


def box_bounds(boxes: Array, pairs: Pairs) -> NDArray[np.float32]:
    """Return a lower bound of the separation of each pair from the upright boxes of the moving parts: shape
    (m, n), mm.

    Single precision serves: ground slabs reach 1e5 mm, so a hundredth is taken off for rounding.
    """
    radius = pairs.radius_a[:, None]
    low = (pairs.corners_a.min(axis=1) - radius).astype(np.float32)
    high = (pairs.corners_a.max(axis=1) + radius).astype(np.float32)
    moving = boxes.astype(np.float32)
    bound = moving[0][pairs.b]
    bound -= high[pairs.a, 0, None]
    for near, far in ((moving[1], high[:, 1]), (low[:, 0], moving[2]), (low[:, 1], moving[3])):
        if near.ndim == 2:
            gap = near[pairs.b]
            gap -= far[pairs.a, None]
        else:
            gap = far[pairs.b]
            np.subtract(near[pairs.a, None], gap, out=gap)
        np.maximum(bound, gap, out=bound)
    bound -= np.float32(ROUNDING_MM)
    return bound


def exact_separations(pairs: Pairs, motion: Motion, index: Index, poses: Array) -> tuple[Array, Array]:
    """Return the signed separation of pairs `index` in `poses`, shape (k,), and its direction, shape (k,
    2).
    """
    a, b = pairs.a[index], pairs.b[index]
    placed = motion.of(b).place(pairs.corners_b[b], poses)
    found = separations(pairs.corners_a[a], pairs.radius_a[a], placed, pairs.radius_b[b])
    return found.distance_mm, found.direction


def certificates(
    pairs: Pairs, motion: Motion, index: Index, middle: Array, half: Array
) -> tuple[Array, Array]:
    """Return (separation at mid step, lower bound over the step) of pairs `index`; `half` is the half step in
    both angles.
    """
    distance, n = exact_separations(pairs, motion, index, middle)
    a, b = pairs.a[index], pairs.b[index]
    grown = pairs.radius_a[a] + pairs.radius_b[b]
    moves = motion.of(b)
    arm_turn, part_turn = moves.angles(half)
    arm_angle, part_angle = moves.angles(middle)
    arm = turned(moves.arm, arm_angle)
    arm_reach = np.hypot(arm[:, 0], arm[:, 1])[:, None]
    part = turned(pairs.corners_b[b] - moves.own_hinge[:, None, :], part_angle[:, None])
    corners_a = pairs.corners_a[a]
    # Direction held in the still frame: the moving corners' least reach less the still ones' greatest.
    reach_b = (moves.centre + arm)[:, None, :] + part
    rate = arm_turn[:, None] * _cross(n, arm)[:, None] + part_turn[:, None] * _cross(n[:, None, :], part)
    bend = arm_reach * arm_turn[:, None] ** 2 + np.hypot(part[..., 0], part[..., 1]) * part_turn[:, None] ** 2
    still = (dot(n[:, None, :], reach_b) - np.abs(rate) - bend / 2).min(axis=1) - dot(
        n[:, None, :], corners_a
    ).max(axis=1)
    # Direction held in the moving part's frame: there the still corners turn back about its hinge.
    seen = corners_a - moves.centre[:, None, :]
    rate = (
        -part_turn[:, None] * _cross(n[:, None, :], seen) - ((arm_turn - part_turn) * _cross(n, arm))[:, None]
    )
    bend = np.hypot(seen[..., 0], seen[..., 1]) * part_turn[:, None] ** 2
    bend += arm_reach * (arm_turn - part_turn)[:, None] ** 2
    reach_a = dot(n[:, None, :], seen - arm[:, None, :])
    moving = dot(n[:, None, :], part).min(axis=1) - (reach_a + np.abs(rate) + bend / 2).max(axis=1)
    return distance, np.maximum(still, moving) - grown


def _cross(n: Array, v: Array) -> Array:
    """Return n . (z x v): how fast n . v grows as v turns."""
    return n[..., 1] * v[..., 0] - n[..., 0] * v[..., 1]


def dot(n: Array, v: Array) -> Array:
    """Return the scalar products of vectors along the last axis."""
    return n[..., 0] * v[..., 0] + n[..., 1] * v[..., 1]
