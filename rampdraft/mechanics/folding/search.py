"""A way to fold, found: from deployed to stowed with the demanded clearance and the least effort of the
hands.

The clearance map is a graph of poses; the search over it is Dijkstra's. Its price is the effort of the hands:
what statics asks of one hand on the inner leaf and one on the outer, each pushing square to its arm, after
the ground has carried what a toe rests on and the leaves what lies closed (virtual work; Meriam and Kraige,
Statics, chapter 7). The way found is straightened to a few legs, each tried against the map, and then
certified like any other path.
"""

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.bodies import Index
from rampdraft.mechanics.folding.clearance import closer_than, fold_clearance
from rampdraft.mechanics.folding.clearance_map import ClearanceMap, clearance_map
from rampdraft.mechanics.folding.folding import closed_pose, fold_path, path_of_legs
from rampdraft.mechanics.folding.graphs import cheapest_way, joined
from rampdraft.mechanics.folding.separation import Array
from rampdraft.mechanics.folding.words import Movement, movement, sentence
from rampdraft.mechanics.handling.hand_force import hand_force
from rampdraft.mechanics.handling.lifting import (
    Plane,
    WeighedLinkage,
    handle_mm,
    slope_nmm,
    usual_handles,
    weighed_linkage,
)
from rampdraft.mechanics.results import ClashingPair, Clearance, FoldPath
from rampdraft.model.design import Design, Handle, Site
from rampdraft.units import MM
from rampdraft.words.figures import exact, fixed
from rampdraft.words.say import named, say

MARGINS_MM = (0.2, 0.6, 1.2, 2.5, 0.0)
"""The search keeps this much more than demanded, since a way between two poses of the map may dip a little;
tried in turn.
"""

RESTING_MM = 40.0
"""A toe this near the ground is taken to rest on it: one step of the map moves a toe about so far."""

LEG_PRICE = 0.08
"""What one more leg may cost, as a share of the whole effort: it keeps the stages few."""

MOST_CORNERS = 48
BLEND_N = 150.0
"""Effort up to here is cheap, beyond it the price grows with its cube, so that peaks are avoided."""

LEAST_PRICE_N = 20.0
"""What a radian of movement costs where nothing is heavy: the way is short where effort does not decide."""

NAMED_WITHIN_MM = 0.1
"""Bodies this much further apart than the tightest are named with them: the map's pose is not quite the
tightest one.
"""

LEG_SAMPLES = 25
REACH_STEPS = 3.5
"""The deployed and the stowed pose join the map's poses within so many of its steps."""

_STEPS = ((0, 1), (1, 0), (1, 1), (1, -1), (1, 2), (2, 1), (1, -2), (2, -1))


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocked:
    """No way to fold: what stands in the way where the best way is tightest."""

    pose: Pose
    clearance_mm: float
    """The most that any way keeps everywhere; less than demanded."""
    bodies: tuple[ClashingPair, ...]
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FoundPath:
    """A way to fold that keeps the demanded clearance, certified."""

    path: FoldPath
    clearance: Clearance


def find_fold(design: Design, assembly: Assembly, site: Site, deployed: Pose) -> FoundPath | Blocked:
    """Return the way to fold with least effort from the deployed pose at `site`, or what blocks every way.

    The usual sequence is a candidate too, and is kept where the search finds nothing lighter.
    """
    surface = clearance_map(design, assembly, site, deployed.inner_rad)
    usual = _certified(design, assembly, site, fold_path(replace(design, fold_stages=()), site, deployed))
    found = _searched(design, assembly, site, deployed, surface)
    ways = [way for way in (found, usual) if way is not None]
    if not ways:
        return _blocked(design, assembly, site, surface, deployed)
    return min(ways, key=lambda way: _peak_n(design, assembly, way.path))


def _searched(
    design: Design, assembly: Assembly, site: Site, deployed: Pose, surface: ClearanceMap
) -> FoundPath | None:
    """Return the first way over the map that can be certified: straightened, or else corner by corner."""
    demanded = design.fold.clearance_mm
    price = _price(design, assembly, site, surface, deployed)
    for margin in MARGINS_MM:
        corners = _cheapest_way(surface, price, demanded + margin, deployed, closed_pose(design))
        if corners is None:
            continue
        for way in (_straightened(surface, price, corners, demanded + margin / 2), corners):
            found = _certified(design, assembly, site, _told(design, site, way))
            if found is not None:
                return found
    return None


def _certified(design: Design, assembly: Assembly, site: Site, path: FoldPath) -> FoundPath | None:
    clearance = fold_clearance(design, assembly, path, site)
    return (
        FoundPath(path=path, clearance=clearance)
        if clearance.tightest.certified_mm >= design.fold.clearance_mm
        else None
    )


def _peak_n(design: Design, assembly: Assembly, path: FoldPath) -> float:
    peak = abs(hand_force(design, assembly, path).peak.peak_n)
    return math.inf if math.isnan(peak) else peak


def _price(design: Design, assembly: Assembly, site: Site, surface: ClearanceMap, deployed: Pose) -> Array:
    """Return the price of a radian of movement in each pose of the map: what the hands must hold there, N,
    weighed.
    """
    weighed = weighed_linkage(design, assembly)
    inner, fold = np.meshgrid(surface.inner_rad, surface.fold_rad, indexing="ij")
    by_inner, by_fold = slope_nmm(weighed, inner, fold)
    inner_arm, (outer_with_inner, outer_with_fold) = _arms(weighed, design, inner, fold)
    outer_n = by_fold / np.abs(outer_with_fold)
    lever = (np.conj(outer_with_fold) * outer_with_inner).real / np.abs(outer_with_fold)
    effort = np.abs(by_inner - outer_n * lever) / inner_arm + np.abs(outer_n)
    # A toe near the ground rests on it: the ground carries what the outer hand would.
    toe, toe_with_inner, toe_with_fold = handle_mm(weighed, _toe(design), inner, fold)
    low = toe.imag - ground_line(site).heights_mm(toe.real) < RESTING_MM
    with np.errstate(divide="ignore", invalid="ignore"):
        reaction = by_fold / toe_with_fold.imag
    held = np.abs(by_inner - reaction * toe_with_inner.imag) / inner_arm
    effort = np.where(low & (reaction > 0), np.minimum(effort, held), effort)
    # Closed, the leaves lie on each other; on a prop the inner leaf lies still.
    closed = closed_pose(design).fold_rad
    step = surface.inner_rad[1] - surface.inner_rad[0]
    pressed = (np.abs(fold - closed) < 1.5 * step) & (by_fold * math.copysign(1.0, closed) < 0)
    effort = np.where(pressed, np.minimum(effort, np.abs(by_inner) / inner_arm), effort)
    if design.prop.fitted:
        propped = (np.abs(inner - deployed.inner_rad) < 1.5 * step) & (by_inner - outer_n * lever > 0)
        effort = np.where(propped, np.minimum(effort, np.abs(outer_n)), effort)
    return LEAST_PRICE_N + effort + BLEND_N * (effort / BLEND_N) ** 3


def _arms(
    weighed: WeighedLinkage, design: Design, inner: Array, fold: Array
) -> tuple[float, tuple[Plane, Plane]]:
    """Return the longest arm of a hand on the inner leaf, mm, and how a hand on the outer leaf moves with
    both angles.
    """
    handles = usual_handles(design)
    arms = [
        math.hypot(*weighed.bars.from_hinge("inner", (one.at_mm, one.above_mm)))
        for one in handles
        if one.leaf == "inner"
    ]
    outer = max(
        (one for one in handles if one.leaf == "outer"), key=lambda one: one.at_mm, default=_toe(design)
    )
    _, with_inner, with_fold = handle_mm(weighed, outer, inner, fold)
    return max(arms, default=abs(weighed.arm_mm)), (with_inner, with_fold)


def _toe(design: Design) -> Handle:
    """Return the toe's lower corner as a place to take hold of."""
    leaf = design.outer_leaf
    return Handle(name="toe", leaf="outer", at_mm=leaf.length_mm, above_mm=-leaf.rail_section.depth_mm)


def _cheapest_way(
    surface: ClearanceMap, price: Array, least_mm: float, start: Pose, end: Pose
) -> Array | None:
    """Return the cheapest way over poses of the map with at least `least_mm` of clearance, shape (k, 2); None
    for none.
    """
    free = surface.clearance_mm >= least_mm
    number = np.full(free.shape, -1, dtype=np.intp)
    number[free] = np.arange(free.sum())
    count = int(free.sum())
    rows: list[Index] = []
    columns: list[Index] = []
    prices: list[Array] = []
    step = float(surface.inner_rad[1] - surface.inner_rad[0])
    for di, dj in _STEPS:
        here = (slice(0, -di or None), slice(max(0, -dj), -dj if dj > 0 else None))
        there = (slice(di, None), slice(max(0, dj), dj if dj < 0 else None))
        both = free[here] & free[there]
        rows.append(number[here][both])
        columns.append(number[there][both])
        prices.append((price[here][both] + price[there][both]) / 2 * math.hypot(di, dj) * step)
    poses = np.stack(np.meshgrid(surface.inner_rad, surface.fold_rad, indexing="ij"), axis=-1)[free]
    worth = price[free]
    for terminal, pose in ((count, start), (count + 1, end)):
        away = np.hypot(poses[:, 0] - pose.inner_rad, poses[:, 1] - pose.fold_rad)
        near = np.flatnonzero(away <= REACH_STEPS * step)
        rows.append(np.full(near.size, terminal, dtype=np.intp))
        columns.append(near)
        prices.append(np.maximum(away[near], step / 100) * worth[near])
    way = cheapest_way(
        count, count + 1, count + 2, np.concatenate(rows), np.concatenate(columns), np.concatenate(prices)
    )
    if way is None:
        return None
    return np.array([(start.inner_rad, start.fold_rad), *poses[way], (end.inner_rad, end.fold_rad)])


def _straightened(surface: ClearanceMap, price: Array, way: Array, least_mm: float) -> Array:
    """Return the way with as few corners as are worth it: the cheapest chain of straight legs that keep
    `least_mm`.
    """
    if len(way) > MOST_CORNERS:
        way = way[np.unique(np.linspace(0, len(way) - 1, MOST_CORNERS).round().astype(np.intp))]
    first, last = np.triu_indices(len(way), 1)
    shares = np.linspace(0.0, 1.0, LEG_SAMPLES)
    places = way[first, None, :] + (way[last] - way[first])[:, None, :] * shares[None, :, None]
    step = surface.inner_rad[1] - surface.inner_rad[0]
    i = (
        np.rint((places[..., 0] - surface.inner_rad[0]) / step)
        .astype(np.intp)
        .clip(0, len(surface.inner_rad) - 1)
    )
    j = (
        np.rint((places[..., 1] - surface.fold_rad[0]) / step)
        .astype(np.intp)
        .clip(0, len(surface.fold_rad) - 1)
    )
    # The deployed pose stands on the ground, the stowed one in its place: the map's nearest pose may lie just
    # beyond them.
    ends = [np.hypot(*(places - way[end]).transpose(2, 0, 1)) < REACH_STEPS * step for end in (0, -1)]
    keeps = (surface.clearance_mm[i, j] >= least_mm) | ends[0] | ends[1]
    length = np.hypot(*(way[last] - way[first]).T)
    cost = np.where(keeps.all(axis=1), price[i, j].mean(axis=1) * length, np.inf)
    cost[(last == first + 1) & ~np.isfinite(cost)] = (price[i, j].mean(axis=1) * length)[
        (last == first + 1) & ~np.isfinite(cost)
    ]
    table = np.full((len(way), len(way)), np.inf)
    table[first, last] = cost
    a_leg = LEG_PRICE * np.diagonal(table, 1).sum()
    best, before = np.full(len(way), np.inf), np.zeros(len(way), dtype=np.intp)
    best[0] = 0.0
    for corner in range(1, len(way)):
        total = best[:corner] + table[:corner, corner] + a_leg
        before[corner] = total.argmin()
        best[corner] = total[before[corner]]
    kept = [len(way) - 1]
    while kept[-1] != 0:
        kept.append(int(before[kept[-1]]))
    return way[kept[::-1]]


def _told(design: Design, site: Site, corners: Array) -> FoldPath:
    """Return the corners as a path whose legs of one kind are one stage, told in a sentence."""
    poses = [Pose(float(inner), float(fold)) for inner, fold in corners]
    stages: list[tuple[Movement, list[Pose]]] = []
    for start, end in pairwise(poses):
        kind = movement(design, site, start, end)
        if stages and stages[-1][0] == kind:
            stages[-1][1].append(end)
        else:
            stages.append((kind, [end]))
    final = len(stages) - 1
    return path_of_legs(
        poses[0],
        [
            (sentence(design, kind, legs[-1], last=place == final), legs)
            for place, (kind, legs) in enumerate(stages)
        ],
    )


def _blocked(
    design: Design, assembly: Assembly, site: Site, surface: ClearanceMap, deployed: Pose
) -> Blocked:
    """Return what stands in the way: at an end of the fold, or where the way that keeps the most clearance is
    tightest.
    """
    for stowed, pose in ((False, deployed), (True, closed_pose(design))):
        bodies = closer_than(design, assembly, pose, site, design.fold.clearance_mm)
        if bodies:
            least = bodies[0].clearance_mm
            says = say(
                "Stowed, the ramp keeps {least} and not {clearance}: {pairs} stand in the way."
                if stowed
                else "Deployed, the ramp keeps {least} and not {clearance}: {pairs} stand in the way.",
                least=fixed(least, 1, "mm"),
                clearance=exact(design.fold.clearance_mm, "mm"),
                pairs=_named(bodies),
            )
            return Blocked(pose=pose, clearance_mm=least, bodies=bodies, words=says)
    return _tightest(design, assembly, site, surface, deployed)


def _tightest(
    design: Design, assembly: Assembly, site: Site, surface: ClearanceMap, deployed: Pose
) -> Blocked:
    clearance, demanded = surface.clearance_mm, design.fold.clearance_mm
    end = closed_pose(design)
    most = widest_mm(surface, deployed, end)
    price = 1.0 / np.maximum(clearance - most + 0.2, 0.1) ** 2
    way = _cheapest_way(surface, price, most, deployed, end)
    assert way is not None, "the widest way is a way"
    inner, fold = way[1:-1].T
    step = surface.inner_rad[1] - surface.inner_rad[0]
    i = np.rint((inner - surface.inner_rad[0]) / step).astype(np.intp)
    j = np.rint((fold - surface.fold_rad[0]) / step).astype(np.intp)
    tightest = int(clearance[i, j].argmin())
    pose = Pose(float(inner[tightest]), float(fold[tightest]))
    bodies = closer_than(design, assembly, pose, site, max(demanded, most) + NAMED_WITHIN_MM)
    words = say(
        "No way to fold could be certified to keep {demanded}: the best one comes down to {most} with the"
        " inner leaf at {inner} and the joint at {fold}, between {pairs}."
        if most >= demanded
        else "No way to fold keeps {demanded}: the best one comes down to {most} with the inner leaf at"
        " {inner} and the joint at {fold}, where {pairs} stand in the way.",
        demanded=exact(demanded, "mm"),
        most=fixed(most, 1, "mm"),
        inner=fixed(math.degrees(pose.inner_rad), 0, "°"),
        fold=fixed(math.degrees(pose.fold_rad), 0, "°"),
        pairs=_named(bodies),
    )
    return Blocked(pose=pose, clearance_mm=most, bodies=bodies, words=words)


def _named(bodies: tuple[ClashingPair, ...]) -> str:
    return "; ".join(
        say("{one} and {other}", one=named(body.member_a), other=named(body.member_b)) for body in bodies[:3]
    )


def keeps(surface: ClearanceMap, start: Pose, end: Pose, least_mm: MM) -> bool:
    """Return whether some way from start to end keeps a clearance in every pose of the map."""
    return joined(surface.clearance_mm >= least_mm, _near(surface, start), _near(surface, end))


def widest_mm(surface: ClearanceMap, start: Pose, end: Pose) -> MM:
    """Return the most clearance that some way from start to end keeps in every pose of the map."""
    levels = np.unique(surface.clearance_mm)
    low, high = 0, len(levels) - 1  # everything is joined at the least level
    while low < high:
        middle = (low + high + 1) // 2
        low, high = (middle, high) if keeps(surface, start, end, float(levels[middle])) else (low, middle - 1)
    return float(levels[low])


def _near(surface: ClearanceMap, pose: Pose) -> NDArray[np.bool_]:
    """Return which poses of the map are near enough to be joined to a pose."""
    reach = REACH_STEPS * (surface.inner_rad[1] - surface.inner_rad[0])
    away = np.hypot(surface.inner_rad[:, None] - pose.inner_rad, surface.fold_rad[None, :] - pose.fold_rad)
    return away <= reach
