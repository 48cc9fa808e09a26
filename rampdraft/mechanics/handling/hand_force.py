"""The forces of the hands along a fold path, stage by stage: what they give at once, and their work."""

import math
from dataclasses import dataclass

import numpy as np

from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.separation import Array
from rampdraft.mechanics.handling.hands import held_at, places_held
from rampdraft.mechanics.handling.lifting import energy_nmm, slope_nmm, weighed_linkage
from rampdraft.mechanics.results import FoldPath, HandForce, StageForce, StageSpan
from rampdraft.model.design import Design
from rampdraft.rounding import greatest_at

NODES, WEIGHTS = np.polynomial.legendre.leggauss(8)
"""Gauss's places and weights on -1 .. 1: the work between two way-points comes out exactly but for
rounding.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Leg:
    """The legs of one stage between way-points, k of them, at their Gauss places and both ends: shapes (k,
    10).
    """

    at: Array
    inner_rad: Array
    fold_rad: Array
    inner_rate: Array
    fold_rate: Array
    """How the angles grow along a leg that runs from -1 to 1, shape (k, 1)."""


def hand_force(design: Design, assembly: Assembly, path: FoldPath) -> HandForce:
    """Return the forces along the path with the deck empty, at the two places where hands hold it at once.

    Positive lifts: the hand pushes along its way. Negative: the hand holds back. The work of a stage is the
    gain of weights and springs, by whichever hands.
    """
    weighed = weighed_linkage(design, assembly)
    legs = [_legs(design, path, stage) for stage in path.stages]
    names, held, stages = places_held(design), list[Array](), list[StageForce]()
    for leg in legs:
        found = held_at(design, path, weighed, leg.inner_rad.ravel(), leg.fold_rad.ravel())
        place, k = greatest_at(np.abs(found.force_n))
        by_inner, by_fold = slope_nmm(weighed, leg.inner_rad, leg.fold_rad)
        power = by_inner * leg.inner_rate + by_fold * leg.fold_rate
        stages.append(
            StageForce(
                handle=names[place],
                peak_n=float(found.force_n[place, k]),
                at=float(leg.at.ravel()[k]),
                work_nmm=float((power[:, 1:-1] * WEIGHTS).sum()),
            )
        )
        held.append(found.force_n)
    energy = np.concatenate([energy_nmm(weighed, leg.inner_rad, leg.fold_rad).ravel() for leg in legs])
    work = sum(stage.work_nmm for stage in stages)
    return HandForce(
        at=_still(np.concatenate([leg.at.ravel() for leg in legs])),
        force_n=_still(np.concatenate(held, axis=1)),
        places=names,
        energy_nmm=_still(energy - energy[0]),
        stages=tuple(stages),
        work_error=float(abs(work - (energy[-1] - energy[0])) / max(float(np.ptp(energy)), 1.0)),
    )


def _legs(design: Design, path: FoldPath, stage: StageSpan) -> _Leg:
    at, poses = _corners(design, path, stage)
    places = np.concatenate(([-1.0], NODES, [1.0]))
    shares, angles = (at[1:] + at[:-1]) / 2, (poses[1:] + poses[:-1]) / 2
    half_share, half_turn = np.diff(at) / 2, np.diff(poses, axis=0) / 2
    return _Leg(
        at=shares[:, None] + half_share[:, None] * places,
        inner_rad=angles[:, :1] + half_turn[:, :1] * places,
        fold_rad=angles[:, 1:] + half_turn[:, 1:] * places,
        inner_rate=half_turn[:, :1],
        fold_rate=half_turn[:, 1:],
    )


def _corners(design: Design, path: FoldPath, stage: StageSpan) -> tuple[Array, Array]:
    """Return the way-points of a stage, and the pose where a torsion spring goes slack: there the force has a
    corner.
    """
    way_points = [
        (share, pose.inner_rad, pose.fold_rad)
        for share, pose in zip(path.at, path.poses, strict=True)
        if stage.start <= share <= stage.end
    ]
    corners = np.array(way_points)
    if design.assist.kind == "torsion":
        slack = math.radians(design.assist.slack_deg)
        before, after = corners[:-1], corners[1:]
        crossing = (before[:, 1] - slack) * (after[:, 1] - slack) < 0
        part = (slack - before[crossing, 1]) / (after[crossing, 1] - before[crossing, 1])
        extra = before[crossing] + part[:, None] * (after[crossing] - before[crossing])
        corners = np.concatenate((corners, extra))
        corners = corners[np.argsort(corners[:, 0], kind="stable")]
    return corners[:, 0], corners[:, 1:]


def _still(array: Array) -> Array:
    array.flags.writeable = False
    return array
