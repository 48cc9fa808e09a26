"""Clearance over the whole plane of both angles: where the fold may go.

Leaf against leaf depends on the joint's angle alone, inner leaf against its surroundings on its own angle
alone; only the outer leaf against the surroundings needs both. Its orientation is the sum of the angles, so
on a grid with one step for both axes it takes as many values as the two axes have together, and each part's
upright box is found once for each of them.
"""

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.bodies import FRAMES, Frame, Index, Pairs, clash_pairs
from rampdraft.mechanics.folding.bounds import (
    ROUNDING_MM,
    box_bounds,
    exact_separations,
    moving_boxes,
    still_boxes,
)
from rampdraft.mechanics.folding.clearance import CONTACT_DEPTH_MM
from rampdraft.mechanics.folding.folding import closed_pose
from rampdraft.mechanics.folding.motion import Motion, motions, turned
from rampdraft.mechanics.folding.separation import Array
from rampdraft.model.design import Design, Site
from rampdraft.units import MM, RAD

POINTS = 181
MOST_MM = 50.0
"""The map tells no more than this: what is wide open needs no figure."""

CENTRAL_MM = 1e-9
BEYOND_RAD = math.radians(6.0)
"""How far the map reaches past the poses that matter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearanceMap:
    """Least clearance of all pairs that are not meant to touch, in every pose of a grid, with the deck empty.

    Left out is what turns about its own middle and has the demanded clearance: it has it in every pose.
    """

    inner_rad: Array
    """Inner leaf's angles, shape (n,), rising."""
    fold_rad: Array
    """Joint's angles, shape (m,), rising."""
    clearance_mm: Array
    """Shape (n, m), read-only; negative (penetration depth) in a clash, MOST_MM where there is more."""

    def near(self, pose: Pose) -> MM | None:
        """Return the clearance at the place of the grid nearest to a pose, None off the map."""
        axes = ((self.inner_rad, pose.inner_rad), (self.fold_rad, pose.fold_rad))
        if any(not axis[0] <= angle <= axis[-1] for axis, angle in axes):
            return None
        inner, fold = (int(np.abs(axis - angle).argmin()) for axis, angle in axes)
        return float(self.clearance_mm[inner, fold])


def clearance_map(
    design: Design, assembly: Assembly, site: Site, lowest_inner_rad: RAD, points: int = POINTS
) -> ClearanceMap:
    """Return the clearance on a grid from `lowest_inner_rad` to the stowed pose, and from straight to closed.

    Both axes have `points` angles with one step, wide enough for the wider of the two ranges; the stowed pose
    is one of them.
    """
    inner, fold = _axes(design, lowest_inner_rad, points)
    pairs = clash_pairs(design, assembly, site)
    motion = motions(design).of(pairs.frame_b)
    pairs = _chosen(pairs, _telling(pairs, motion, design.fold.clearance_mm))
    zero = np.zeros(points)
    by_fold = _least(pairs, _only(pairs, "inner-outer"), motion, np.stack((zero, fold)))
    by_inner = _least(pairs, _only(pairs, "static-inner"), motion, np.stack((inner, zero)))
    clearance = np.minimum(np.minimum(by_inner[:, None], by_fold[None, :]), MOST_MM)
    _lower_by_outer(pairs, _only(pairs, "static-outer"), motion, inner, fold, clearance)
    for array in (inner, fold, clearance):
        array.flags.writeable = False
    return ClearanceMap(inner_rad=inner, fold_rad=fold, clearance_mm=clearance)


def _axes(design: Design, lowest_inner_rad: RAD, points: int) -> tuple[Array, Array]:
    """Return the axes with one step, on which the stowed pose is a place of the grid."""
    end = closed_pose(design)
    stowed, closed = end.inner_rad, end.fold_rad
    low, high = min(lowest_inner_rad, stowed) - BEYOND_RAD, max(lowest_inner_rad, stowed) + BEYOND_RAD
    step = max(high - low, abs(closed) + 2 * BEYOND_RAD) / (points - 2)
    beyond = BEYOND_RAD if closed < 0 else abs(closed) + BEYOND_RAD
    return _axis(stowed, (low + high) / 2 - step * (points - 1) / 2, step, points), _axis(
        closed, closed - beyond, step, points
    )


def _axis(exact: RAD, start: RAD, step: RAD, points: int) -> Array:
    """Return angles from about `start`, one of which is `exact`."""
    return exact + step * (np.arange(points, dtype=np.float64) - round((exact - start) / step))


def _only(pairs: Pairs, frame: Frame) -> Index:
    return np.flatnonzero(pairs.frame_b[pairs.b] == FRAMES.index(frame))


def _telling(pairs: Pairs, motion: Motion, demanded_mm: MM) -> Index:
    """Return the pairs that say something of where to go: not those round a hinge centre, which keep what
    they have.

    A knuckle in the middle of the turn has the same distance in every pose; it counts only where that is less
    than demanded.
    """
    local_b = (pairs.corners_b - motion.own_hinge[:, None])[..., pairs.b]
    local_a = pairs.corners_a[..., pairs.a] - motion.centre[:, None, pairs.b]
    central = np.minimum(np.abs(local_a).max(axis=(0, 1)), np.abs(local_b).max(axis=(0, 1))) < CENTRAL_MM
    central &= pairs.frame_b[pairs.b] != FRAMES.index("static-outer")
    same = np.flatnonzero(central)
    enough = exact_separations(pairs, motion, same, np.zeros((2, same.size)))[0] >= demanded_mm
    return np.setdiff1d(np.arange(len(pairs.a)), same[enough])


def _chosen(pairs: Pairs, index: Index) -> Pairs:
    """Return only the pairs `index`, over the same parts."""
    return replace(pairs, a=pairs.a[index], b=pairs.b[index], family=pairs.family[index])


def _least(pairs: Pairs, index: Index, motion: Motion, poses: Array) -> Array:
    """Return the least clearance of the pairs `index` in each pose, shape (n,)."""
    bound = box_bounds(moving_boxes(pairs, motion, poses).astype(np.float32), pairs, index)
    pairs = _chosen(pairs, index)
    contact = pairs.contact[pairs.family]
    every = np.arange(len(poses[0]))
    least: Array = np.full(len(every), np.inf)
    _look(pairs, motion, poses, np.where(contact[:, None], np.inf, bound).argmin(axis=0), every, least)
    wanted = np.where(contact[:, None], bound < -CONTACT_DEPTH_MM, bound < least)
    index, step = np.nonzero(wanted)
    _look(pairs, motion, poses, index, step, least)
    return least


def _look(pairs: Pairs, motion: Motion, poses: Array, index: Index, step: Index, least: Array) -> None:
    """Lower `least` to the exact separations of pairs `index` in poses `step`; contacts count only in a
    clash.
    """
    if not index.size:
        return
    distance = exact_separations(pairs, motion, index, poses.take(step, axis=1))[0]
    counted = ~pairs.contact[pairs.family[index]] | (distance < -CONTACT_DEPTH_MM)
    np.minimum.at(least, step[counted], distance[counted])


def _lower_by_outer(
    pairs: Pairs, index: Index, motion: Motion, inner: Array, fold: Array, clearance: Array
) -> None:
    """Lower the map, shape (n, n), to the clearance of the outer leaf from its surroundings."""
    pairs = _chosen(pairs, index)
    bound = _outer_bounds(pairs, motion, inner, fold).reshape(len(index), -1)
    contact = pairs.contact[pairs.family]
    bound[contact] = np.where(bound[contact] < -CONTACT_DEPTH_MM, bound[contact], np.inf)
    least = clearance.reshape(-1)
    unsettled = np.flatnonzero(bound.min(axis=0) < least)
    bound, lowered = bound[:, unsettled], least[unsettled]
    poses = np.stack((np.repeat(inner, len(fold)), np.tile(fold, len(inner))))[:, unsettled]
    promising, every = bound.argmin(axis=0), np.arange(len(unsettled))
    _look(pairs, motion, poses, promising, every, lowered)
    bound[promising, every] = np.inf
    index, step = np.nonzero(bound < lowered)
    _look(pairs, motion, poses, index, step, lowered)
    least[unsettled] = lowered


def _outer_bounds(pairs: Pairs, motion: Motion, inner: Array, fold: Array) -> NDArray[np.float32]:
    """Return a lower bound of each pair's separation in each pose of the grid from upright boxes: shape (m,
    n, n), mm.
    """
    count = len(inner)
    turns = inner[0] + fold[0] + (inner[1] - inner[0]) * np.arange(2 * count - 1)
    which = np.arange(count)[:, None] + np.arange(count)
    # The boxes for every orientation with the inner leaf level; then the joint carries them along.
    around = moving_boxes(pairs, motion, np.stack((np.zeros(len(turns)), turns))).astype(np.float32)
    arm = motion.arm[:, pairs.b[0], None]
    shift = (turned(arm, inner) - arm).astype(np.float32)[:, :, None]
    low, high = still_boxes(pairs)
    bound = np.empty((len(pairs.a), count, count), dtype=np.float32)
    for k, (a, b) in enumerate(zip(pairs.a, pairs.b, strict=True)):
        box, gap = around[:, b], bound[k]
        np.add((box[0] - high[0, a])[which], shift[0], out=gap)
        np.maximum(gap, (low[0, a] - box[2])[which] - shift[0], out=gap)
        np.maximum(gap, (box[1] - high[1, a])[which] + shift[1], out=gap)
        np.maximum(gap, (low[1, a] - box[3])[which] - shift[1], out=gap)
    bound -= np.float32(ROUNDING_MM)
    return bound
