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
from rampdraft.mechanics.folding.motion import Motion, dot, turned
from rampdraft.mechanics.folding.separation import Array, distances, separations
from rampdraft.units import RAD

Boxes = NDArray[np.float32]
"""Single precision serves to tell what is far apart."""

ROUNDING_MM = 0.01
"""More than single precision loses on figures up to 1e5 mm, such as the ground's slabs."""


def all_places(pairs: Pairs, motion: Motion, poses: Array) -> Array:
    """Return the corners of each moving part in each pose, in the still frame: shape (2, 4, q, n)."""
    _, one, frame = np.unique(pairs.frame_b, return_index=True, return_inverse=True)
    frames = motion.of(one)
    shift = frames.centre[..., None] + turned(frames.arm[..., None], frames.turn_of_arm.T @ poses)
    angle = frames.turn_of_part.T @ poses
    cos, sin, (dx, dy) = np.cos(angle)[frame], np.sin(angle)[frame], shift.take(frame, axis=1)
    corners = (pairs.corners_b - motion.own_hinge[:, None]).swapaxes(0, 1)[..., None]
    placed = np.empty((2, *pairs.corners_b.shape[1:], poses.shape[1]))
    for k, (x, y) in enumerate(corners):
        placed[0, k] = cos * x - sin * y + dx
        placed[1, k] = sin * x + cos * y + dy
    return placed


def upright_boxes(placed: Array, radius: Array) -> Array:
    """Return the upright box of each moving part, grown by its radius, in each pose: shape (4, q, n), low x,
    low y, high x, high y, mm.
    """
    return np.concatenate((placed.min(axis=1) - radius[:, None], placed.max(axis=1) + radius[:, None]))


def moving_boxes(pairs: Pairs, motion: Motion, poses: Array) -> Array:
    """Return the `upright_boxes` of the moving parts in each pose."""
    return upright_boxes(all_places(pairs, motion, poses), pairs.radius_b)


def swept_boxes(boxes: Array, pairs: Pairs, motion: Motion, step_rad: RAD) -> Array:
    """Return the box of each moving part over each step between poses: shape (4, q, n - 1), mm.

    `step_rad` is the most that either angle turns over a step. A corner strays from the straight line between
    its ends by at most r s^2 / 8 for each turn s that carries it (error of linear interpolation); its own
    hinge may turn by both angles.
    """
    stray = ((4 * _reach_mm(pairs, motion) + np.hypot(*motion.arm)) * step_rad**2 / 8)[:, None]
    low = np.minimum(boxes[:2, :, :-1], boxes[:2, :, 1:]) - stray
    high = np.maximum(boxes[2:, :, :-1], boxes[2:, :, 1:]) + stray
    return np.concatenate((low, high))


def sway_mm(pairs: Pairs, motion: Motion, step_rad: RAD) -> Array:
    """Return how far each moving part moves at most over half a step, shape (q,); `step_rad` as above."""
    return (2 * _reach_mm(pairs, motion) + np.hypot(*motion.arm)) * step_rad / 2


def _reach_mm(pairs: Pairs, motion: Motion) -> Array:
    """Return how far from its own hinge each moving part has a corner, shape (q,)."""
    return np.hypot(*(pairs.corners_b - motion.own_hinge[:, None])).max(axis=0)


def box_bounds(boxes: Boxes, pairs: Pairs, index: Index) -> Boxes:
    """Return a lower bound of the separation of pairs `index` from the upright boxes of the moving parts,
    shape (4, q, n): shape (k, n), mm.
    """
    (low, high), a, b = still_boxes(pairs), pairs.a[index], pairs.b[index]
    sides = [side.take(b, axis=0) for side in boxes]
    for axis in range(2):
        sides[axis] -= high[axis].take(a)[:, None]
        np.subtract(low[axis].take(a)[:, None], sides[axis + 2], out=sides[axis + 2])
    gaps = sides[0]
    for side in sides[1:]:
        np.maximum(gaps, side, out=gaps)
    # Laid out pose by pose: what reads it looks for the least along the pairs, or along the poses of all.
    return np.subtract(gaps, np.float32(ROUNDING_MM), order="F")


def still_boxes(pairs: Pairs) -> tuple[Boxes, Boxes]:
    """Return the low and the high corner of each still part's upright box, shape (2, p) each."""
    low, high = pairs.corners_a.min(axis=1) - pairs.radius_a, pairs.corners_a.max(axis=1) + pairs.radius_a
    return low.astype(np.float32), high.astype(np.float32)


def exact_separations(pairs: Pairs, motion: Motion, index: Index, poses: Array) -> tuple[Array, Array]:
    """Return the signed separation of pairs `index` in `poses`, shape (2, k), and its direction: shapes (k,)
    and (2, k).
    """
    a, b = pairs.a[index], pairs.b[index]
    placed = motion.of(b).place(pairs.corners_b.take(b, axis=2), poses)
    found = separations(pairs.corners_a.take(a, axis=2), pairs.radius_a[a], placed, pairs.radius_b[b])
    return found.distance_mm, found.direction


def placed_distances(pairs: Pairs, places: Array, index: Index, step: Index) -> Array:
    """Return the signed separation of pairs `index` in the poses `step` of `all_places`, shape (k,)."""
    a, b = pairs.a[index], pairs.b[index]
    place: Index = b * places.shape[-1] + step
    placed = places.reshape(2, 4, -1).take(place, axis=2)
    return distances(pairs.corners_a.take(a, axis=2), pairs.radius_a[a], placed, pairs.radius_b[b])


def certificates(pairs: Pairs, motion: Motion, index: Index, ends: Array) -> tuple[Array, Array]:
    """Return (separation at mid step, lower bound over the step) of pairs `index`, shapes (k,); `ends` are
    the poses where each step begins and ends, shape (2, 2, k): ends, angles, pairs.
    """
    middle, half = (ends[0] + ends[1]) / 2, (ends[1] - ends[0]) / 2
    a, b = pairs.a[index], pairs.b[index]
    moves, corners = motion.of(b), pairs.corners_a.take(a, axis=2)
    arm_angle, part_angle = moves.angles(middle)
    arm_turn, part_turn = moves.angles(half)
    arm = turned(moves.arm, arm_angle)
    part = turned(pairs.corners_b.take(b, axis=2) - moves.own_hinge[:, None], part_angle)
    placed = (moves.centre + arm)[:, None] + part
    found = separations(corners, pairs.radius_a[a], placed, pairs.radius_b[b])
    n, arm_reach, arm_rate = found.direction, _size(arm), _cross(found.direction, arm)
    # Along n: each corner of the still part, and of the moving one from its hinge, which is at `hinge`.
    still, moved, hinge = dot(n, corners), dot(n, part), dot(n, moves.centre + arm)
    # Direction held in the still frame: the moving corners' least reach less the still ones' greatest.
    rate = arm_turn * arm_rate + part_turn * _cross(n, part)
    bend = arm_reach * arm_turn**2 + _size(part) * part_turn**2
    in_still = hinge + (moved - np.abs(rate) - bend / 2).min(axis=0) - still.max(axis=0)
    # Direction held in the moving part's frame: there the still corners turn back about its hinge.
    seen, back = corners - moves.centre[:, None], arm_turn - part_turn
    rate = part_turn * _cross(n, seen) + back * arm_rate
    bend = _size(seen) * part_turn**2 + arm_reach * back**2
    in_moving = hinge + moved.min(axis=0) - (still + np.abs(rate) + bend / 2).max(axis=0)
    bound = np.maximum(in_still, in_moving) - (pairs.radius_a[a] + pairs.radius_b[b])
    return found.distance_mm, bound


def _size(v: Array) -> Array:
    return np.sqrt(dot(v, v))


def _cross(n: Array, v: Array) -> Array:
    """Return n . (z x v): how fast n . v grows as v turns."""
    return n[1] * v[0] - n[0] * v[1]
