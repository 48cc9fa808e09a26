"""Clearance over the whole fold, certified: no clash hides between two sampled poses.

Sampled: the exact signed separation (see `separation`) at steps of the path. Certified: a lower bound proved
over each step (see `bounds`). Steps that cannot be proved are halved until they are.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import placings
from rampdraft.geometry.members.member import Assembly
from rampdraft.geometry.outline import Point
from rampdraft.geometry.pose import Placing, Pose
from rampdraft.mechanics.folding.bodies import CONTACTS, FRAMES, Index, Pairs, clash_pairs
from rampdraft.mechanics.folding.bounds import (
    ROUNDING_MM,
    box_bounds,
    certificates,
    dot,
    exact_separations,
    moving_boxes,
    swept_boxes,
)
from rampdraft.mechanics.folding.motion import Motion, Steps, motions, steps_of
from rampdraft.mechanics.folding.separation import Array
from rampdraft.mechanics.results import ClashingPair, Clearance, FoldPath, PairClearance
from rampdraft.model.design import Design, Site
from rampdraft.units import MM

TOLERANCE_MM = 0.05
"""The certified bound lies within this of the sampled clearance ..."""

PLENTY_MM = 10.0
TOLERANCE_SHARE = 0.05
"""... or, where there is PLENTY_MM more than demanded, within this share of what is above that."""

CONTACT_DEPTH_MM = 0.05
"""Parts that are meant to touch may press this deep before it is called a clash."""

STEP_RAD = math.radians(4.0)
MOST_HALVINGS = 24
MOST_OPEN_STEPS = 50_000
"""A bound that takes more is given up: the family then has no certificate, and its check says so."""


def fold_clearance(design: Design, assembly: Assembly, path: FoldPath, site: Site) -> Clearance:
    """Return the clearance along `path` with the deck empty and the ramp over the ground of `site`."""
    steps = steps_of(path, STEP_RAD)
    pairs = clash_pairs(design, assembly, site)
    motion = motions(design).of(pairs.frame_b)
    search = _Search(pairs=pairs, motion=motion, steps=steps, demanded_mm=design.fold.clearance_mm)
    curve, found = search.run()
    described = _described(design, path, search, found)
    at, curve = _with_places(steps.at, curve, described)
    at.flags.writeable = curve.flags.writeable = False
    return Clearance(
        at=at,
        clearance_mm=curve,
        pairs=tuple(sorted(described, key=lambda pair: pair.clearance_mm)),
        spans_clashing=_spans(at, curve < 0),
        contacts=CONTACTS,
    )


def clashing_at(design: Design, assembly: Assembly, pose: Pose, site: Site) -> tuple[ClashingPair, ...]:
    """Return the pairs that overlap in one pose with the deck empty, deepest first."""
    return closer_than(design, assembly, pose, site, 0.0)


def closer_than(
    design: Design, assembly: Assembly, pose: Pose, site: Site, within_mm: MM
) -> tuple[ClashingPair, ...]:
    """Return the pairs that come nearer than `within_mm` in one pose with the deck empty, nearest first.

    Pairs that are meant to touch are there only in a clash.
    """
    pairs = clash_pairs(design, assembly, site)
    motion = motions(design).of(pairs.frame_b)
    poses = np.array([(pose.inner_rad, pose.fold_rad)])
    near = np.flatnonzero(box_bounds(moving_boxes(pairs, motion, poses), pairs)[:, 0] < within_mm)
    if not near.size:
        return ()
    distance = _told(exact_separations(pairs, motion, near, np.repeat(poses, near.size, axis=0))[0])
    clash = distance < np.where(pairs.contact[pairs.family[near]], -CONTACT_DEPTH_MM, within_mm)
    index, depths = near[clash], distance[clash]
    points = _nearest_points(design, pairs, motion, index, [pose] * index.size)
    found: dict[tuple[str, str], ClashingPair] = {}
    order: list[int] = np.argsort(depths)[::-1].tolist()
    for k in order:  # deepest last, so that it is the one kept of each pair of members
        names = pairs.keys_a[pairs.thing_a[index[k]]], pairs.keys_b[pairs.thing_b[index[k]]]
        found[names] = ClashingPair(
            member_a=names[0],
            member_b=names[1],
            clearance_mm=float(depths[k]),
            point_a=points[k][0],
            point_b=points[k][1],
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
        """Return the curve at the steps (contacts counted only in a clash) and the tightest place of each
        family.
        """
        pairs, poses = self.pairs, self.steps.poses
        boxes = moving_boxes(pairs, self.motion, poses)
        bound = box_bounds(boxes, pairs)
        contact = pairs.contact[pairs.family]
        count = len(pairs.families)
        best = np.full(count, np.inf)
        where = np.zeros((count, 2), dtype=np.intp)
        curve = np.full(len(poses), np.inf)

        def look(index: Index, step: Index) -> None:
            distance = _told(exact_separations(pairs, self.motion, index, poses[step])[0])
            least, chosen = _least_of_each(distance, pairs.family[index], count)
            better = least < best
            best[better] = least[better]
            where[better] = np.stack((index[chosen], step[chosen]), axis=1)[better]
            counted = ~contact[index] | (distance < -CONTACT_DEPTH_MM)
            np.minimum.at(curve, step[counted], distance[counted])

        # A first look at the most promising step of each family and the most promising pair of each step.
        family_of = pairs.family
        step_least, pair_least = (
            _first_least(bound.T),
            _first_least(np.where(contact[:, None], np.inf, bound)),
        )
        promising = np.lexsort((bound.min(axis=1).round(2), family_of))
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
        return curve, self._certify(best, where, swept_boxes(boxes, pairs, self.motion, STEP_RAD))

    def _certify(self, best: Array, where: Index, boxes: Array) -> list[_Found]:
        """Return each family's tightest place with a bound proved over the whole path, halving steps until it
        holds.

        A step is done when its bound meets the family's aim. The aim only comes down, as tighter places turn
        up, so the last one holds over every step.
        """
        pairs, steps = self.pairs, self.steps
        at, holder = steps.at[where[:, 1]], where[:, 0]
        index, step = np.nonzero(
            box_bounds(boxes, pairs) < _aim(best, pairs.contact, self.demanded_mm)[pairs.family][:, None]
        )
        ends = np.stack((steps.at[step], steps.at[step + 1]), axis=1)
        poses = np.stack((steps.poses[step], steps.poses[step + 1]), axis=1)
        for _ in range(MOST_HALVINGS):
            if not 0 < index.size <= MOST_OPEN_STEPS:
                break
            family = pairs.family[index]
            distance, lower = certificates(
                pairs, self.motion, index, poses.mean(axis=1), (poses[:, 1] - poses[:, 0]) / 2
            )
            least, chosen = _least_of_each(_told(distance), family, len(best))
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


def _told(distance: Array) -> Array:
    """Return distances to a millionth of a micrometre: rounding may not choose among the many alike."""
    return np.round(distance, 9)


def _first_least(bound: NDArray[np.floating]) -> Index:
    """Return the indices along axis 0 of the first bounds that are least but for their rounding.

    Bounds have so few digits that others would come first on another processor.
    """
    return (bound <= bound.min(axis=0) + ROUNDING_MM).argmax(axis=0)


def _least_of_each(distance: Array, family: Index, count: int) -> tuple[Array, Index]:
    """Return the least distance of each of `count` families and where it stands; inf where a family has
    none.
    """
    order = np.lexsort((-np.arange(len(distance)), -distance))  # the first of those alike is written last
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
    free = best - np.maximum(TOLERANCE_MM, TOLERANCE_SHARE * (best - demanded_mm - PLENTY_MM))
    return np.where(contact, np.minimum(best, 0.0) - TOLERANCE_MM, free)


def _described(design: Design, path: FoldPath, search: _Search, found: list[_Found]) -> list[PairClearance]:
    pairs = search.pairs
    told = [one for one in found if not pairs.contact[one.family] or one.clearance_mm < -CONTACT_DEPTH_MM]
    poses = [path.pose(one.at) for one in told]
    points = _nearest_points(
        design, pairs, search.motion, np.array([one.index for one in told], dtype=np.intp), poses
    )
    return [
        PairClearance(
            what=pairs.families[one.family],
            kin=pairs.kin[one.family],
            clearance_mm=one.clearance_mm,
            certified_mm=one.certified_mm,
            at=one.at,
            pose=pose,
            member_a=pairs.keys_a[int(pairs.thing_a[one.index])],
            member_b=pairs.keys_b[int(pairs.thing_b[one.index])],
            point_a=point_a,
            point_b=point_b,
        )
        for one, pose, (point_a, point_b) in zip(told, poses, points, strict=True)
    ]


def _nearest_points(
    design: Design, pairs: Pairs, motion: Motion, index: Index, poses: list[Pose]
) -> list[tuple[Point, Point]]:
    """Return, for each pair in its pose, the two nearest points in the side plane (x, z): on a, and on b."""
    if not poses:
        return []
    angles = np.array([(pose.inner_rad, pose.fold_rad) for pose in poses])
    distance, n = exact_separations(pairs, motion, index, angles)
    a, b = pairs.a[index], pairs.b[index]
    placed = motion.of(b).place(pairs.corners_b[b], angles)
    on_a = _support(pairs.corners_a[a], n, placed) + n * pairs.radius_a[a][:, None]
    on_b = on_a + n * distance[:, None]
    found: list[tuple[Point, Point]] = []
    for k, pose in enumerate(poses):
        leaf = FRAMES[pairs.frame_b[b[k]]] == "inner-outer"
        frame = placings(design, pose)["inner"] if leaf else Placing(0.0, 0.0, 0.0)
        found.append(
            (
                frame.point(float(on_a[k, 0]), float(on_a[k, 1])),
                frame.point(float(on_b[k, 0]), float(on_b[k, 1])),
            )
        )
    return found


def _support(a: Array, n: Array, b: Array) -> Array:
    """Return, a row each, the point of polygon a nearest to b along n: on the side facing n, beside b's
    nearest corner.
    """
    along = np.stack((-n[:, 1], n[:, 0]), axis=1)[:, None, :]
    reach_a, reach_b = dot(n[:, None, :], a), dot(n[:, None, :], b)
    span_a, span_b = dot(along, a), dot(along, b)
    face_a = reach_a > reach_a.max(axis=1, keepdims=True) - 1e-7
    face_b = reach_b < reach_b.min(axis=1, keepdims=True) + 1e-7
    low_a, high_a = (
        np.where(face_a, span_a, np.inf).min(axis=1),
        np.where(face_a, span_a, -np.inf).max(axis=1),
    )
    low_b, high_b = (
        np.where(face_b, span_b, np.inf).min(axis=1),
        np.where(face_b, span_b, -np.inf).max(axis=1),
    )
    # Beside the middle of what the two faces share; where they share nothing, a's corner on b's side.
    shared: Array = (np.maximum(low_a, low_b) + np.minimum(high_a, high_b)) / 2
    middle = np.where(low_b > high_a, high_a, np.where(high_b < low_a, low_a, shared))
    return n * reach_a.max(axis=1)[:, None] + along[:, 0, :] * middle[:, None]


def _with_places(at: Array, curve: Array, pairs: list[PairClearance]) -> tuple[Array, Array]:
    """Return the curve with the families' tightest places put in where they lie below it, between two
    steps.
    """
    below = [
        (pair.at, pair.clearance_mm) for pair in pairs if pair.clearance_mm < np.interp(pair.at, at, curve)
    ]
    shares = np.concatenate((at, [share for share, _ in below]))
    clearances = np.concatenate((curve, [clearance for _, clearance in below]))
    order = np.lexsort((clearances, shares))
    shares, clearances = shares[order], clearances[order]
    first = np.concatenate(([True], np.diff(shares) > 0))  # of two at one share the lower comes first
    return shares[first], clearances[first]


def _spans(at: Array, inside: NDArray[np.bool_]) -> tuple[tuple[float, float], ...]:
    """Return the stretches of `at` where `inside` holds."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], inside.astype(np.int8), [0]))))
    return tuple(
        (float(at[start]), float(at[end - 1])) for start, end in zip(edges[::2], edges[1::2], strict=True)
    )
