"""Clearance over the whole fold, certified: no clash hides between two sampled poses.

Sampled: the exact signed separation (see `separation`) at steps of the path. Certified: for any fixed direction n the
separation along n is a lower bound of the true one. Over a step, each corner's reach along n is a sum of sinusoids f(t), so
f(t) >= f(m) - |f'(m)| h - M h^2 / 2 for |t - m| <= h, with M the sum of radius times squared angular rate (Taylor's theorem with
the Lagrange remainder). With n the direction of nearest approach at mid step, held in the still or in the moving body's
frame, whichever proves more, that is tight to second order: far tighter than radius times angle. Steps that cannot be
proved are halved until they are.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.member import Assembly
from rampdraft.geometry.outline import Point
from rampdraft.geometry.pose import Placing, Pose, placings
from rampdraft.mechanics.bodies import CONTACTS, FRAMES, Index, Pairs, clash_pairs
from rampdraft.mechanics.motion import Motion, Steps, motions, steps_of, turned
from rampdraft.mechanics.results import ClashingPair, Clearance, FoldPath, PairClearance
from rampdraft.mechanics.separation import Array, separations
from rampdraft.model.design import Design, Site
from rampdraft.units import MM

TOLERANCE_MM = 0.05
"""The certified bound lies within this of the sampled clearance ..."""

TOLERANCE_SHARE = 0.05
"""... or, where there is more than demanded, within this share of the excess."""

CONTACT_DEPTH_MM = 0.05
"""Parts that are meant to touch may press this deep before it is called a clash."""

STEP_RAD = math.radians(6.0)
MOST_HALVINGS = 24
ROUNDING_MM = 0.01
"""More than single precision loses on figures up to 1e5 mm."""


def fold_clearance(design: Design, assembly: Assembly, path: FoldPath, site: Site) -> Clearance:
    """Return the clearance along `path` with the deck empty and the ramp over the ground of `site`."""
    steps = steps_of(path, STEP_RAD)
    pairs = clash_pairs(design, assembly, site)
    motion = motions(design).of(pairs.frame_b)
    search = _Search(pairs=pairs, motion=motion, steps=steps, demanded_mm=design.fold.clearance_mm)
    curve, found = search.run()
    curve.flags.writeable = steps.at.flags.writeable = False
    return Clearance(
        at=steps.at,
        clearance_mm=curve,
        pairs=tuple(sorted(_described(design, path, search, found), key=lambda pair: pair.clearance_mm)),
        spans_clashing=_spans(steps.at, curve < 0),
        contacts=CONTACTS,
    )


def clashing_at(design: Design, assembly: Assembly, pose: Pose, site: Site) -> tuple[ClashingPair, ...]:
    """Return the pairs that overlap in one pose with the deck empty, deepest first."""
    pairs = clash_pairs(design, assembly, site)
    motion = motions(design).of(pairs.frame_b)
    poses = np.array([(pose.inner_rad, pose.fold_rad)])
    near = np.flatnonzero(_bounds(_boxes(pairs, motion, poses), pairs)[:, 0] < 0)
    distance = _exact(pairs, motion, near, np.repeat(poses, near.size, axis=0))[0]
    clash = distance < np.where(pairs.contact[pairs.family[near]], -CONTACT_DEPTH_MM, 0.0)
    index, depths = near[clash], distance[clash]
    points = _nearest_points(design, pairs, motion, index, [pose] * index.size)
    found: dict[tuple[str, str], ClashingPair] = {}
    order: list[int] = np.argsort(depths)[::-1].tolist()
    for k in order:  # deepest last, so that it is the one kept of each pair of members
        names = pairs.keys_a[pairs.a[index[k]]], pairs.keys_b[pairs.b[index[k]]]
        found[names] = ClashingPair(
            member_a=names[0], member_b=names[1], clearance_mm=float(depths[k]), point_a=points[k][0], point_b=points[k][1]
        )
    return tuple(sorted(found.values(), key=lambda pair: pair.clearance_mm))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Found:
    """The tightest place of a family."""

    family: int
    index: int
    at: float
    clearance_mm: MM
    certified_mm: MM


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    """Branch and bound over pairs and steps."""

    pairs: Pairs
    motion: Motion
    steps: Steps
    demanded_mm: MM

    def run(self) -> tuple[Array, list[_Found]]:
        """Return the curve at the steps (contacts counted only in a clash) and the tightest place of each family."""
        pairs, poses = self.pairs, self.steps.poses
        boxes = _boxes(pairs, self.motion, poses)
        bound = _bounds(boxes, pairs)
        contact = pairs.contact[pairs.family]
        count = len(pairs.families)
        best = np.full(count, np.inf)
        where = np.zeros((count, 2), dtype=np.intp)
        curve = np.full(len(poses), np.inf)

        def look(index: Index, step: Index) -> None:
            distance = _exact(pairs, self.motion, index, poses[step])[0]
            least, chosen = _least_of_each(distance, pairs.family[index], count)
            better = least < best
            best[better] = least[better]
            where[better] = np.stack((index[chosen], step[chosen]), axis=1)[better]
            counted = ~contact[index] | (distance < -CONTACT_DEPTH_MM)
            np.minimum.at(curve, step[counted], distance[counted])

        # A first look at the most promising step of each family and the most promising pair of each step.
        family_of = pairs.family
        step_least, pair_least = bound.argmin(axis=1), np.where(contact[:, None], np.inf, bound).argmin(axis=0)
        promising = np.lexsort((bound[np.arange(len(family_of)), step_least], family_of))
        first = promising[np.searchsorted(family_of[promising], np.arange(count))]
        every = np.arange(len(poses))
        look(np.concatenate((first, pair_least)), np.concatenate((step_least[first], every)))
        # Then everything whose bound could still be tighter by more than the certificate leaves open.
        aim = _aim(best, pairs.contact, self.demanded_mm)
        wanted = bound < aim[family_of][:, None]
        wanted |= (bound < curve) & ~contact[:, None]
        wanted |= (bound < -CONTACT_DEPTH_MM) & contact[:, None]
        index, step = np.nonzero(wanted)
        look(index, step)
        return curve, self._certify(best, where, _swept(boxes, pairs, self.motion))

    def _certify(self, best: Array, where: Index, boxes: Array) -> list[_Found]:
        """Return each family's tightest place with a bound proved over the whole path, halving steps until it holds.

        A step is done when its bound meets the family's aim. The aim only comes down, as tighter places turn up, so the last
        one holds over every step.
        """
        pairs, steps = self.pairs, self.steps
        at, holder = steps.at[where[:, 1]], where[:, 0]
        index, step = np.nonzero(_bounds(boxes, pairs) < _aim(best, pairs.contact, self.demanded_mm)[pairs.family][:, None])
        ends = np.stack((steps.at[step], steps.at[step + 1]), axis=1)
        poses = np.stack((steps.poses[step], steps.poses[step + 1]), axis=1)
        for _ in range(MOST_HALVINGS):
            if not index.size:
                break
            family = pairs.family[index]
            distance, lower = _certificate(pairs, self.motion, index, poses.mean(axis=1), (poses[:, 1] - poses[:, 0]) / 2)
            least, chosen = _least_of_each(distance, family, len(best))
            better = least < best
            best = np.where(better, least, best)
            at = np.where(better, ends.mean(axis=1)[chosen], at)
            holder = np.where(better, index[chosen], holder)
            open_still = lower < _aim(best, pairs.contact, self.demanded_mm)[family]
            index = np.tile(index[open_still], 2)
            ends, poses = _halved(ends[open_still]), _halved(poses[open_still])
        proved = _aim(best, pairs.contact, self.demanded_mm)
        proved[pairs.family[index]] = -np.inf
        return [
            _Found(
                family=family,
                index=int(holder[family]),
                at=float(at[family]),
                clearance_mm=float(best[family]),
                certified_mm=float(proved[family]),
            )
            for family in range(len(best))
        ]


def _least_of_each(distance: Array, family: Index, count: int) -> tuple[Array, Index]:
    """Return the least distance of each of `count` families and where it stands; inf where a family has none."""
    order = np.argsort(-distance, kind="stable")
    least, chosen = np.full(count, np.inf), np.zeros(count, dtype=np.intp)
    least[family[order]] = distance[order]
    chosen[family[order]] = order
    return least, chosen


def _halved(steps: Array) -> Array:
    """Return the first halves, then the second halves of steps given by their ends along axis 1."""
    middle = steps.mean(axis=1)
    return np.concatenate((np.stack((steps[:, 0], middle), axis=1), np.stack((middle, steps[:, 1]), axis=1)))


def _aim(best: Array, contact: NDArray[np.bool_], demanded_mm: MM) -> Array:
    """Return what has to be proved for families whose tightest sample is `best`."""
    free = best - np.maximum(TOLERANCE_MM, TOLERANCE_SHARE * (best - demanded_mm))
    return np.where(contact, np.minimum(best, 0.0) - TOLERANCE_MM, free)


def _boxes(pairs: Pairs, motion: Motion, poses: Array) -> Array:
    """Return the upright box of each moving part in each pose: shape (4, q, n), low x, low y, high x, high y, mm."""
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


def _swept(boxes: Array, pairs: Pairs, motion: Motion) -> Array:
    """Return the box of each moving part over each step between poses: shape (4, q, n - 1), mm.

    A corner strays from the straight line between its ends by at most r s^2 / 8 for each turn s that carries it (error of
    linear interpolation); its own hinge may turn by both angles.
    """
    local = pairs.corners_b - motion.own_hinge[:, None, :]
    reach, arm = np.hypot(local[..., 0], local[..., 1]).max(axis=1), np.hypot(motion.arm[:, 0], motion.arm[:, 1])
    stray = ((4 * reach + arm) * STEP_RAD**2 / 8)[:, None]
    low = np.minimum(boxes[:2, :, :-1], boxes[:2, :, 1:]) - stray
    high = np.maximum(boxes[2:, :, :-1], boxes[2:, :, 1:]) + stray
    return np.concatenate((low, high))


def _bounds(boxes: Array, pairs: Pairs) -> NDArray[np.float32]:
    """Return a lower bound of the separation of each pair from the upright boxes of the moving parts: shape (m, n), mm.

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


def _exact(pairs: Pairs, motion: Motion, index: Index, poses: Array) -> tuple[Array, Array]:
    """Return the signed separation of pairs `index` in `poses`, shape (k,), and its direction, shape (k, 2)."""
    a, b = pairs.a[index], pairs.b[index]
    placed = motion.of(b).place(pairs.corners_b[b], poses)
    found = separations(pairs.corners_a[a], pairs.radius_a[a], placed, pairs.radius_b[b])
    return found.distance_mm, found.direction


def _certificate(pairs: Pairs, motion: Motion, index: Index, middle: Array, half: Array) -> tuple[Array, Array]:
    """Return (separation at mid step, lower bound over the step) of pairs `index`; `half` is the half step in both angles."""
    distance, n = _exact(pairs, motion, index, middle)
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
    still = (_dot(n[:, None, :], reach_b) - np.abs(rate) - bend / 2).min(axis=1) - _dot(n[:, None, :], corners_a).max(axis=1)
    # Direction held in the moving part's frame: there the still corners turn back about its hinge.
    seen = corners_a - moves.centre[:, None, :]
    rate = -part_turn[:, None] * _cross(n[:, None, :], seen) - ((arm_turn - part_turn) * _cross(n, arm))[:, None]
    bend = np.hypot(seen[..., 0], seen[..., 1]) * part_turn[:, None] ** 2
    bend += arm_reach * (arm_turn - part_turn)[:, None] ** 2
    reach_a = _dot(n[:, None, :], seen - arm[:, None, :])
    moving = _dot(n[:, None, :], part).min(axis=1) - (reach_a + np.abs(rate) + bend / 2).max(axis=1)
    return distance, np.maximum(still, moving) - grown


def _cross(n: Array, v: Array) -> Array:
    """Return n . (z x v): how fast n . v grows as v turns."""
    return n[..., 1] * v[..., 0] - n[..., 0] * v[..., 1]


def _dot(n: Array, v: Array) -> Array:
    return n[..., 0] * v[..., 0] + n[..., 1] * v[..., 1]


def _described(design: Design, path: FoldPath, search: _Search, found: list[_Found]) -> list[PairClearance]:
    pairs = search.pairs
    told = [one for one in found if not pairs.contact[one.family] or one.clearance_mm < -CONTACT_DEPTH_MM]
    poses = [path.pose(one.at) for one in told]
    points = _nearest_points(design, pairs, search.motion, np.array([one.index for one in told], dtype=np.intp), poses)
    return [
        PairClearance(
            what=pairs.families[one.family],
            clearance_mm=one.clearance_mm,
            certified_mm=one.certified_mm,
            at=one.at,
            pose=pose,
            member_a=pairs.keys_a[int(pairs.a[one.index])],
            member_b=pairs.keys_b[int(pairs.b[one.index])],
            point_a=point_a,
            point_b=point_b,
        )
        for one, pose, (point_a, point_b) in zip(told, poses, points, strict=True)
    ]


def _nearest_points(design: Design, pairs: Pairs, motion: Motion, index: Index, poses: list[Pose]) -> list[tuple[Point, Point]]:
    """Return, for each pair in its pose, the two nearest points in the side plane (x, z): on a, and on b."""
    if not poses:
        return []
    angles = np.array([(pose.inner_rad, pose.fold_rad) for pose in poses])
    distance, n = _exact(pairs, motion, index, angles)
    a, b = pairs.a[index], pairs.b[index]
    placed = motion.of(b).place(pairs.corners_b[b], angles)
    on_a = _support(pairs.corners_a[a], n, placed) + n * pairs.radius_a[a][:, None]
    on_b = on_a + n * distance[:, None]
    found: list[tuple[Point, Point]] = []
    for k, pose in enumerate(poses):
        leaf = FRAMES[pairs.frame_b[b[k]]] == "inner-outer"
        frame = placings(design, pose)["inner"] if leaf else Placing(0.0, 0.0, 0.0)
        found.append((frame.point(float(on_a[k, 0]), float(on_a[k, 1])), frame.point(float(on_b[k, 0]), float(on_b[k, 1]))))
    return found


def _support(a: Array, n: Array, b: Array) -> Array:
    """Return, a row each, the point of polygon a nearest to b along n: on the side facing n, beside b's nearest corner."""
    along = np.stack((-n[:, 1], n[:, 0]), axis=1)[:, None, :]
    reach_a, reach_b = _dot(n[:, None, :], a), _dot(n[:, None, :], b)
    span_a, span_b = _dot(along, a), _dot(along, b)
    face_a = reach_a > reach_a.max(axis=1, keepdims=True) - 1e-7
    face_b = reach_b < reach_b.min(axis=1, keepdims=True) + 1e-7
    low_a, high_a = np.where(face_a, span_a, np.inf).min(axis=1), np.where(face_a, span_a, -np.inf).max(axis=1)
    low_b, high_b = np.where(face_b, span_b, np.inf).min(axis=1), np.where(face_b, span_b, -np.inf).max(axis=1)
    # Beside the middle of what the two faces share; where they share nothing, a's corner on b's side.
    shared: Array = (np.maximum(low_a, low_b) + np.minimum(high_a, high_b)) / 2
    middle = np.where(low_b > high_a, high_a, np.where(high_b < low_a, low_a, shared))
    return n * reach_a.max(axis=1)[:, None] + along[:, 0, :] * middle[:, None]


def _spans(at: Array, inside: NDArray[np.bool_]) -> tuple[tuple[float, float], ...]:
    """Return the stretches of `at` where `inside` holds."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], inside.astype(np.int8), [0]))))
    return tuple((float(at[start]), float(at[end - 1])) for start, end in zip(edges[::2], edges[1::2], strict=True))
