"""Clearance over the whole fold, certified: no clash hides between two sampled poses.

Sampled: the exact signed separation (see `separation`) at steps of the path. Certified: a lower bound proved
over each step (see `bounds`). Steps that cannot be proved are halved until they are.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.member import Assembly
from rampdraft.geometry.outline import Point
from rampdraft.mechanics.folding.bodies import CONTACTS, FRAMES, Index, Pairs, clash_pairs
from rampdraft.mechanics.folding.bounds import (
    ROUNDING_MM,
    all_places,
    box_bounds,
    certificates,
    exact_separations,
    moving_boxes,
    placed_distances,
    sway_mm,
    swept_boxes,
    upright_boxes,
)
from rampdraft.mechanics.folding.motion import Motion, Steps, dot, motions, steps_of
from rampdraft.mechanics.folding.separation import Array, separations
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


def fold_clearance(
    design: Design, assembly: Assembly, path: FoldPath, site: Site, *, verdict_only: bool = False
) -> Clearance:
    """Return the clearance along `path` with the deck empty and the ramp over the ground of `site`.

    With `verdict_only` it is not followed how deep a clash gets between two steps, nor by how much more than
    the clearance demanded a pair keeps.
    """
    steps = steps_of(path, STEP_RAD)
    pairs = clash_pairs(design, assembly, site)
    motion = motions(design).of(pairs.frame_b)
    search = _Search(
        pairs=pairs,
        motion=motion,
        steps=steps,
        demanded_mm=design.fold.clearance_mm,
        verdict_only=verdict_only,
    )
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
    poses = np.array([[pose.inner_rad], [pose.fold_rad]])
    bound = box_bounds(moving_boxes(pairs, motion, poses).astype(np.float32), pairs, np.arange(len(pairs.a)))
    near = np.flatnonzero(bound[:, 0] < within_mm)
    if not near.size:
        return ()
    distance = _told(exact_separations(pairs, motion, near, np.broadcast_to(poses, (2, near.size)))[0])
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
    """The tightest place of each family, f of them: shapes (f,)."""

    index: Index
    """The pair."""
    at: Array
    clearance_mm: Array
    certified_mm: Array


@dataclass(frozen=True, slots=True, kw_only=True)
class _Search:
    """Branch and bound over pairs and steps."""

    pairs: Pairs
    motion: Motion
    steps: Steps
    demanded_mm: MM
    verdict_only: bool

    def run(self) -> tuple[Array, _Found]:
        """Return the curve at the steps (contacts counted only in a clash) and the tightest place of each
        family.
        """
        pairs, family = self.pairs, self.pairs.family
        places = all_places(pairs, self.motion, self.steps.poses)
        boxes = upright_boxes(places, pairs.radius_b)
        bound = box_bounds(boxes.astype(np.float32), pairs, np.arange(len(pairs.a)))
        lowest = bound.min(axis=1)
        count, every = len(pairs.families), np.arange(len(self.steps.at))
        best = np.full(count, np.inf)
        where = np.zeros((2, count), dtype=np.intp)
        curve = np.full(every.size, np.inf)

        def look(index: Index, step: Index) -> None:
            distance = _told(placed_distances(pairs, places, index, step))
            least, chosen = _least_of_each(distance, family[index], count)
            better = least < best
            best[better], where[:, better] = least[better], (index[chosen[better]], step[chosen[better]])
            counted = ~pairs.contact[family[index]] | (distance < -CONTACT_DEPTH_MM)
            np.minimum.at(curve, step[counted], distance[counted])

        # A first look at the most promising step of each family and the most promising pair of each step.
        first = _least_of_each(lowest.round(2), family, count)[1]
        out = np.where(pairs.contact, np.inf, 0.0).astype(np.float32)
        look(
            np.concatenate((first, _first_least(bound + out[family, None]))),
            np.concatenate((_first_least(bound[first].T), every)),
        )
        # Then everything whose bound could still be tighter by more than the certificate leaves open.
        counts = np.where(pairs.contact[:, None], -CONTACT_DEPTH_MM, curve)
        most = np.maximum(self._aim(best)[:, None], counts)
        index = np.flatnonzero(lowest < most.max(axis=1)[family])
        near, step = np.nonzero(bound[index] < most[family[index]])
        look(index[near], step)
        # Between two poses none comes nearer than it sways: those that keep more are proved.
        index = np.flatnonzero(lowest - sway_mm(pairs, self.motion, STEP_RAD)[pairs.b] < best[family])
        swept = swept_boxes(boxes, pairs, self.motion, STEP_RAD).astype(np.float32)
        near, step = np.nonzero(box_bounds(swept, pairs, index) < self._aim(best)[family[index], None])
        return curve, self._certify(best, where, index[near], step)

    def _certify(self, best: Array, where: Index, index: Index, step: Index) -> _Found:
        """Return each family's tightest place with a bound proved over the whole path, halving steps until it
        holds.

        A step is done when its bound meets the family's aim. The aim only comes down, as tighter places turn
        up, so the last one holds over every step.
        """
        pairs, steps = self.pairs, self.steps
        holder, at = where[0], steps.at[where[1]]
        # Where each step begins and ends: share, inner and fold angle, shape (2, 3, k).
        ends = np.concatenate((steps.at[None], steps.poses))[:, np.stack((step, step + 1))].swapaxes(0, 1)
        for _ in range(MOST_HALVINGS):
            if not 0 < index.size <= MOST_OPEN_STEPS:
                break
            family = pairs.family[index]
            middle = (ends[0] + ends[1]) / 2
            distance, lower = certificates(pairs, self.motion, index, ends[:, 1:])
            least, chosen = _least_of_each(_told(distance), family, len(best))
            better = least < best
            chosen = chosen[better]
            best[better], at[better], holder[better] = least[better], middle[0, chosen], index[chosen]
            still = np.flatnonzero(lower < self._aim(best)[family])
            index, middle, ends = np.tile(index[still], 2), middle[:, still], ends[..., still]
            ends = np.concatenate((np.array((ends[0], middle)), np.array((middle, ends[1]))), axis=2)
        proved = self._aim(best)
        proved[pairs.family[index]] = -np.inf
        return _Found(index=holder, at=at, clearance_mm=best, certified_mm=proved)

    def _aim(self, best: Array) -> Array:
        """Return what has to be proved for families whose tightest sample is `best`."""
        free = best - np.maximum(TOLERANCE_MM, TOLERANCE_SHARE * (best - self.demanded_mm - PLENTY_MM))
        aim = np.where(self.pairs.contact, np.minimum(best, 0.0) - TOLERANCE_MM, free)
        if self.verdict_only:
            clash = best < np.where(self.pairs.contact, -CONTACT_DEPTH_MM, 0.0)
            aim = np.where(clash, -np.inf, np.minimum(aim, self.demanded_mm))
        return aim


def _told(distance: Array) -> Array:
    """Return distances to a millionth of a micrometre: rounding may not choose among the many alike."""
    return np.round(distance, 9)


def _first_least(bound: NDArray[np.floating]) -> Index:
    """Return the indices along axis 0 of the first bounds that are least but for their rounding.

    Bounds have so few digits that others would come first on another processor.
    """
    return (bound <= bound.min(axis=0) + ROUNDING_MM).argmax(axis=0)


def _least_of_each(distance: NDArray[np.floating], family: Index, count: int) -> tuple[Array, Index]:
    """Return the least distance of each of `count` families and where it stands; inf where a family has
    none.
    """
    least, chosen = np.full(count, np.inf), np.zeros(count, dtype=np.intp)
    np.minimum.at(least, family, distance.astype(np.float64))
    alike = np.flatnonzero(distance == least[family])[::-1]
    chosen[family[alike]] = alike  # the first of those alike is written last
    return least, chosen


def _described(design: Design, path: FoldPath, search: _Search, found: _Found) -> list[PairClearance]:
    pairs = search.pairs
    told: list[int] = np.flatnonzero(~pairs.contact | (found.clearance_mm < -CONTACT_DEPTH_MM)).tolist()
    at: list[float] = found.at.tolist()
    clearance: list[float] = found.clearance_mm.tolist()
    certified: list[float] = found.certified_mm.tolist()
    thing_a: list[int] = pairs.thing_a[found.index].tolist()
    thing_b: list[int] = pairs.thing_b[found.index].tolist()
    poses = [path.pose(at[one]) for one in told]
    points = _nearest_points(design, pairs, search.motion, found.index[told], poses)
    return [
        PairClearance(
            what=pairs.families[one],
            kin=pairs.kin[one],
            clearance_mm=clearance[one],
            certified_mm=certified[one],
            at=at[one],
            pose=pose,
            member_a=pairs.keys_a[thing_a[one]],
            member_b=pairs.keys_b[thing_b[one]],
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
    angles = np.array([(pose.inner_rad, pose.fold_rad) for pose in poses]).T
    a, b = pairs.a[index], pairs.b[index]
    corners, radius = pairs.corners_a.take(a, axis=2), pairs.radius_a[a]
    placed = motion.of(b).place(pairs.corners_b.take(b, axis=2), angles)
    found = separations(corners, radius, placed, pairs.radius_b[b])
    on_a = _support(corners, found.direction, placed) + found.direction * radius
    ends = np.stack((on_a, on_a + found.direction * found.distance_mm), axis=1)
    inner = motions(design).of(np.full(len(b), FRAMES.index("static-inner")))
    ends = np.where(pairs.frame_b[b] == FRAMES.index("inner-outer"), inner.place(ends, angles), ends)
    return [((a_x, a_z), (b_x, b_z)) for (a_x, a_z), (b_x, b_z) in ends.T.tolist()]


def _support(a: Array, n: Array, b: Array) -> Array:
    """Return, for each pair, the point of polygon a nearest to b along n, shape (2, k): on the side facing n,
    beside b's nearest corner.
    """
    along = np.stack((-n[1], n[0]))
    reach_a, reach_b = dot(n, a), dot(n, b)
    span_a, span_b = dot(along, a), dot(along, b)
    face_a, face_b = reach_a > reach_a.max(axis=0) - 1e-7, reach_b < reach_b.min(axis=0) + 1e-7
    low_a, high_a = (
        span_a.min(axis=0, where=face_a, initial=np.inf),
        span_a.max(axis=0, where=face_a, initial=-np.inf),
    )
    low_b, high_b = (
        span_b.min(axis=0, where=face_b, initial=np.inf),
        span_b.max(axis=0, where=face_b, initial=-np.inf),
    )
    # Beside the middle of what the two faces share; where they share nothing, a's corner on b's side.
    shared: Array = (np.maximum(low_a, low_b) + np.minimum(high_a, high_b)) / 2
    middle = np.where(low_b > high_a, high_a, np.where(high_b < low_a, low_a, shared))
    return n * reach_a.max(axis=0) + along * middle


def _with_places(at: Array, curve: Array, pairs: list[PairClearance]) -> tuple[Array, Array]:
    """Return the curve with the families' tightest places put in where they lie below it, between two
    steps.
    """
    tightest = np.array([(pair.at, pair.clearance_mm) for pair in pairs]).reshape(-1, 2).T
    below = tightest[:, tightest[1] < np.interp(tightest[0], at, curve)]
    shares, clearances = np.concatenate((np.array((at, curve)), below), axis=1)
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
