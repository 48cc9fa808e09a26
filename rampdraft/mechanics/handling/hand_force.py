"""The force at the handle in use along a fold path, stage by stage."""

import math
from dataclasses import dataclass

import numpy as np

from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.separation import Array
from rampdraft.mechanics.handling.lifting import (
    WeighedLinkage,
    energy_nmm,
    handle_mm,
    slope_nmm,
    usual_handles,
    weighed_linkage,
)
from rampdraft.mechanics.results import FoldPath, HandForce, StageForce, StageSpan
from rampdraft.model.design import Design, Handle
from rampdraft.rounding import greatest_at

STILL_MM_PER_RAD = 20.0
"""A handle that travels less than this for a radian of the movement does not carry it."""

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
    """Return the force along the path with the deck empty, in each stage at the handle that needs the least.

    Positive lifts: the hand pushes along the handle's way. Negative: the hand holds back.
    """
    weighed = weighed_linkage(design, assembly)
    legs = [_legs(design, path, stage) for stage in path.stages]
    powers = [_power(weighed, leg) for leg in legs]
    pulls = [
        min((_pull(weighed, handle, leg, power) for handle in usual_handles(design)), key=_size)
        for leg, power in zip(legs, powers, strict=True)
    ]
    energy = np.concatenate([energy_nmm(weighed, leg.inner_rad, leg.fold_rad).ravel() for leg in legs])
    work = sum(stage.work_nmm for stage, _ in pulls)
    return HandForce(
        at=_still(np.concatenate([leg.at.ravel() for leg in legs])),
        force_n=_still(np.concatenate([force.ravel() for _, force in pulls])),
        energy_nmm=_still(energy - energy[0]),
        stages=tuple(stage for stage, _ in pulls),
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


def _power(weighed: WeighedLinkage, leg: _Leg) -> Array:
    """Return how the energy grows along the legs of a stage, as they run from -1 to 1."""
    by_inner, by_fold = slope_nmm(weighed, leg.inner_rad, leg.fold_rad)
    return by_inner * leg.inner_rate + by_fold * leg.fold_rate


def _pull(weighed: WeighedLinkage, handle: Handle, leg: _Leg, power: Array) -> tuple[StageForce, Array]:
    """Return a stage's force at one handle, in words and along its legs."""
    _, with_inner, with_fold = handle_mm(weighed, handle, leg.inner_rad, leg.fold_rad)
    travel = np.abs(with_inner * leg.inner_rate + with_fold * leg.fold_rate)
    moves = travel > STILL_MM_PER_RAD * np.hypot(leg.inner_rate, leg.fold_rate)
    force = np.where(moves, power / np.where(moves, travel, 1.0), np.nan)
    size = np.where(moves, np.abs(force), np.inf)
    worst = greatest_at(size)
    work = float((power[:, 1:-1] * WEIGHTS).sum())
    return (
        StageForce(handle=handle.name, peak_n=float(force[worst]), at=float(leg.at[worst]), work_nmm=work),
        force,
    )


def _size(pull: tuple[StageForce, Array]) -> float:
    peak = abs(pull[0].peak_n)
    return float("inf") if math.isnan(peak) else peak


def _still(array: Array) -> Array:
    array.flags.writeable = False
    return array
