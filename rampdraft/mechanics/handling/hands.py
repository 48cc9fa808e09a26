"""What all hands give at once, and how many people that takes.

The fold has two angles, theta of the inner leaf and phi of the joint, and V is the energy of weights and
springs (`lifting`). A pose between is held at two places at once: a hand on the outer leaf at r from the
joint, square to it, F2 = V,phi / r, and one on the inner leaf at R from the deck hinge, square to that,
F1 = (V,theta - F2 dr2/dtheta) / R, where dr2/dtheta is how far the first hand's place moves its own way with
theta (principle of virtual work; Meriam and Kraige, Statics, chapter 7). One place is enough where the joint
cannot turn on: on its stop, or closed, with the weight pressing it shut; then V,theta / R at the place that
needs less. A prop that still stands under the joint holds the inner leaf up.

What a person lifts depends on the height of the hands: HSE's lifting and lowering guideline, 25 kg of men at
best, close to the body, 20, 10 and 10 kg lower and higher (HSE, INDG143, figure 1; from memory), straight
lines between the middles of its zones. Two at one place lift two thirds of the sum of what they lift alone,
three half of it, more do not work well together (HSE, L23, paragraph 120). Heights are over the ground below
the deck edge. What is higher than a raised hand is pushed at the leaf where it can be reached.

Left out: friction, the dynamics of the movement, hands that push along the leaf.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.separation import Array
from rampdraft.mechanics.handling.lifting import WeighedLinkage, handle_mm, slope_nmm, weighed_linkage
from rampdraft.mechanics.joint import held_by_stop
from rampdraft.mechanics.results import LIGHT_N, FoldPath
from rampdraft.model.design import Design, Handle
from rampdraft.rounding import greatest_at
from rampdraft.units import MM, N

TEAM: Final = (1.0, 4 / 3, 1.5)
"""What one, two and three people lift at one place, of what one lifts alone: HSE, L23, paragraph 120."""
TWICE: Final = 2.0
"""So many times its guideline figures are a serious risk even to the fit and trained: HSE, L23, from
memory.
"""
REACH_MM: Final = 1900.0
"""Height at which a raised hand still pushes; common practice."""
_ZONES_MM: Final = (125.0, 500.0, 900.0, 1225.0, 1575.0)
"""Middles of the zones between ground, mid lower leg, knuckle, elbow, shoulder and head; common practice."""
_OF_BEST: Final = (0.4, 0.8, 1.0, 0.8, 0.4)
_STEPS: Final = 6
"""The poses between two way-points are looked at in so many steps."""
_LEAST_ARM_MM: Final = 20.0
_LEAST_PART: Final = 0.1
"""Of the arm: hands are never nearer to the hinge."""
_ALIKE_RAD: Final = 1e-6
NOBODY: Final = 1000.0
"""Share told where so few people cannot do it at all."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """One place where hands hold a leaf in the worst pose of a stage."""

    handle: str
    force_n: N
    """Positive lifts, negative holds back."""
    arm_mm: MM
    height_mm: MM
    person_n: N
    """What one person may be asked for at this height: twice the guideline."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Most:
    """The greatest force at one place."""

    handle: str
    force_n: N
    """Positive lifts, negative holds back."""
    at: float

    @property
    def force(self) -> N:
        """Return its size."""
        return abs(self.force_n)


@dataclass(frozen=True, slots=True, kw_only=True)
class StageHands:
    """The pose of a stage that asks most of the people at hand."""

    number: int
    """Of the stage, counted from 1."""
    at: float
    pose: Pose
    places: tuple[Held, ...]
    """One, or two that are held at once: on the inner leaf, then on the outer one."""
    share: float
    """Of what the people at hand may be asked for, as they share the places best."""
    needed: int
    """People that it takes; 0 where no number of them does."""
    most: Most
    """The greatest force at one place over the stage."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PosesHeld:
    """Poses, and what is held there at the inner and the outer place: P poses."""

    angles_rad: Array
    """Of the inner leaf and of the joint, (2, P)."""
    force_n: Array
    arm_mm: Array
    height_mm: Array
    """(2, P)."""


def capacity(height_mm: Array | MM) -> Array:
    """Return what a person lifts with the hands at a height, of what he lifts at the best one."""
    return np.asarray(np.interp(height_mm, _ZONES_MM, _OF_BEST))


def hands(design: Design, assembly: Assembly, path: FoldPath) -> tuple[StageHands, ...]:
    """Return what each stage of a fold asks of the hands with the deck empty."""
    (at, found), people = _poses(design, assembly, path), design.hands.people
    person = TWICE * design.hands.person_n * capacity(found.height_mm)
    share = shares(found.force_n, person, people)
    names = tuple(handle.name for handle in _places(design))
    stages: list[StageHands] = []
    for number, stage in enumerate(path.stages, start=1):
        rows = np.flatnonzero((at >= stage.start) & (at <= stage.end))
        k = int(rows[greatest_at(share[rows])])
        held = tuple(
            Held(
                handle=names[place],
                force_n=float(found.force_n[place, k]),
                arm_mm=float(found.arm_mm[place, k]),
                height_mm=float(found.height_mm[place, k]),
                person_n=float(person[place, k]),
            )
            for place in (0, 1)
        )
        only = max(held, key=lambda one: abs(one.force_n))
        places = held if min(abs(one.force_n) for one in held) > LIGHT_N else (only,)
        stages.append(
            StageHands(
                number=number,
                at=float(at[k]),
                pose=Pose(*found.angles_rad[:, k].tolist()),
                places=places,
                share=float(share[k]),
                needed=_needed(*(abs(one.force_n) / one.person_n for one in places)),
                most=_most(at, found, rows, names),
            )
        )
    return tuple(stages)


def _most(at: Array, found: PosesHeld, rows: NDArray[np.intp], names: tuple[str, ...]) -> Most:
    place, k = greatest_at(np.abs(found.force_n[:, rows]))
    row = rows[k]
    return Most(handle=names[place], force_n=float(found.force_n[place, row]), at=float(at[row]))


def shares(force_n: Array, person_n: Array, people: int) -> Array:
    """Return what so many people are asked for at two places, as a share of what they may be: forces and what
    one person gives there, (2, P); they share the places as is best.
    """
    alone, team = np.abs(force_n) / person_n, (*TEAM, *(TEAM[-1],) * people)
    one_place: Array = alone.max(axis=0) / team[people - 1]
    both = (np.abs(force_n) > LIGHT_N).all(axis=0)
    if people == 1:
        return np.where(both, NOBODY, one_place)
    split = [np.maximum(alone[0] / team[k - 1], alone[1] / team[people - k - 1]) for k in range(1, people)]
    return np.minimum(np.where(both, np.min(split, axis=0), one_place), NOBODY)


def _needed(*alone: float) -> int:
    """Return the fewest people who can do it, 0 where none can; of each place what share of one person's
    force it takes.
    """
    teams = [next((n for n, lifts in enumerate(TEAM, start=1) if one <= lifts), 0) for one in alone]
    return sum(teams) if all(teams) else 0


def _places(design: Design) -> tuple[Handle, Handle]:
    """Return where hands take hold of the inner and of the outer leaf: the handle with the longest arm, or
    joint and toe.
    """
    inner, outer = (
        max((one for one in design.handles if one.leaf == leaf), key=lambda one: one.at_mm, default=None)
        for leaf in ("inner", "outer")
    )
    joint = Handle(name="joint", leaf="inner", at_mm=design.inner_leaf.length_mm, above_mm=0.0)
    toe = Handle(name="toe", leaf="outer", at_mm=design.outer_leaf.length_mm, above_mm=0.0)
    return inner or joint, outer or toe


def places_held(design: Design) -> tuple[str, str]:
    """Return the names of the places that are held, of the inner and of the outer leaf."""
    inner, outer = _places(design)
    return inner.name, outer.name


def _poses(design: Design, assembly: Assembly, path: FoldPath) -> tuple[Array, PosesHeld]:
    """Return the shares of the path that are looked at, (P,), and what is held there."""
    weighed, ends = weighed_linkage(design, assembly), np.array(path.at)
    part = np.arange(_STEPS) / _STEPS
    at = np.append((ends[:-1, None] + np.diff(ends)[:, None] * part).ravel(), ends[-1])
    inner, fold = (np.interp(at, ends, angles) for angles in zip(*_angles(path), strict=True))
    return at, held_at(design, path, weighed, inner, fold)


def held_at(design: Design, path: FoldPath, weighed: WeighedLinkage, inner: Array, fold: Array) -> PosesHeld:
    """Return what is held in poses of a path, angles (P,) both."""
    by_inner, by_fold = slope_nmm(weighed, inner, fold)
    places = [handle_mm(weighed, handle, inner, fold) for handle in _places(design)]
    (high1, turn1, _), (high2, turn2, joint2) = places
    # Hands that cannot reach so high take hold nearer to the leaf's own hinge.
    part1 = _within_reach(high1.imag, weighed.hinge_mm.imag)
    part2 = _within_reach(high2.imag, (high2 + 1j * joint2).imag)
    turn1, turn2, joint2 = turn1 * part1, turn2 - (1 - part2) * joint2, joint2 * part2
    own1, own2, whole2 = (np.maximum(np.abs(turn), _LEAST_ARM_MM) for turn in (turn1, joint2, turn2))
    rigid = _rigid(design, path, fold, by_fold)
    second = np.where(rigid, 0.0, by_fold / own2)
    first = (by_inner - second * (turn2 * np.conj(joint2)).real / own2) / own1
    at_outer = rigid & (whole2 > own1)
    first, second = np.where(at_outer, 0.0, first), np.where(at_outer, by_inner / whole2, second)
    if design.prop.fitted:
        first = np.where((np.abs(inner - path.poses[0].inner_rad) < _ALIKE_RAD) & (first > 0), 0.0, first)
    return PosesHeld(
        angles_rad=np.stack((inner, fold)),
        force_n=np.stack((first, second)),
        arm_mm=np.stack((own1, np.where(at_outer, whole2, own2))),
        height_mm=np.minimum(np.stack((high1.imag, high2.imag)), REACH_MM),
    )


def _angles(path: FoldPath) -> list[tuple[float, float]]:
    return [(pose.inner_rad, pose.fold_rad) for pose in path.poses]


def _within_reach(height_mm: Array, pivot_mm: Array | MM) -> Array:
    """Return at what part of an arm hands take hold: at its end, or where it is as high as they reach."""
    up = height_mm - pivot_mm
    room = (REACH_MM - pivot_mm) / np.where(up > 0, up, 1.0)
    return np.where((height_mm > REACH_MM) & (up > 0), np.clip(room, _LEAST_PART, 1.0), 1.0)


def _rigid(design: Design, path: FoldPath, fold_rad: Array, by_fold_nmm: Array) -> NDArray[np.bool_]:
    """Return where the weight presses the joint on its stop, or shut, so that both leaves move as one."""
    closing = 1 if design.fold.closing == "faces" else -1
    shut = np.abs(fold_rad - closing * math.radians(design.fold.closed_deg)) < _ALIKE_RAD
    found = shut & (closing * by_fold_nmm < 0)
    if held_by_stop(design):
        found |= (np.abs(fold_rad - path.poses[0].fold_rad) < _ALIKE_RAD) & (by_fold_nmm < 0)
    return found
