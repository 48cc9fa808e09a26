"""Whether the empty ramp stays down where it is put: springs that lift the inner leaf may raise its joint.

A stop holds the joint one way: a load presses it shut. Upward the joint is free, and the toe slides on the
ground. Angles of both leaves are the coordinates (theta of the inner leaf, phi of the joint) and V their
energy, weight and springs (`lifting`). The ground pushes square to itself, with an upright part N; X and Y
are the arms of that push about deck hinge and joint over its upright part: on level ground the level
distances to the toe. Then N = V,theta / X, and the stop holds M = N Y - V,phi, both towards "down" (principle
of virtual work; Meriam and Kraige, Statics, chapter 7). A latch across the joint adds its moment to M. With A
the level distance from deck hinge to joint an upward force M X / (A Y) at the joint, or N at the toe, just
lifts it; below nothing the ramp lifts itself, and comes to rest where the energy along the way with its toe
on the ground is least.

Left out: friction, wind, the jolt when a carrier's springs rebound.
On the edge of a kerb the push is upright.
"""

import math
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal, get_args

import numpy as np

from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.folding import closed_pose, toe_corners, toe_off_ground
from rampdraft.mechanics.handling.lifting import (
    WeighedLinkage,
    energy_nmm,
    slope_nmm,
    spring_slope_nmm,
    weighed_linkage,
)
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD, N

LiftedAt = Literal["joint", "toe"]

_LEAST_ARM_MM: Final = 10.0
"""An arm shorter than this holds nothing that could be told."""
_STEP_RAD: Final = math.radians(0.5)
"""The energy is looked at so often on the way up."""
_LOOKS: Final = 4
"""So often it is, each time twenty times as closely about the first place where it begins to rise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Staying:
    """The empty ramp at a site: what presses it down, and where it comes to rest otherwise."""

    site: SitePose
    weight_nmm: float
    """Moment of both leaves' weight about the deck hinge, towards "down"."""
    spring_nmm: float
    """Moment of the springs about it, towards "up"."""
    outer_nmm: float
    """Moment of the outer leaf's weight about the joint."""
    latch_nmm: float
    to_toe_mm: MM
    """X."""
    past_joint_mm: MM
    """Y."""
    to_joint_mm: MM
    """A."""
    rest: Pose | None
    """Where it comes to rest, if it does not stay; None where it stays."""

    @property
    def toe_n(self) -> N:
        """Return N."""
        return (self.weight_nmm - self.spring_nmm) / self.to_toe_mm

    @property
    def needs_latch(self) -> bool:
        """Return whether the joint stays down by its latch alone."""
        return self.joint_nmm < 0 <= self.joint_nmm + self.latch_nmm

    @property
    def joint_nmm(self) -> float:
        """Return M, without the latch."""
        return self.toe_n * self.past_joint_mm - self.outer_nmm

    def lift_n(self, part: LiftedAt) -> N:
        """Return the upward force that just lifts the toe, or the joint with its latch; negative where it
        lifts by itself.
        """
        if part == "toe":
            return self.toe_n
        return (self.joint_nmm + self.latch_nmm) * self.to_toe_mm / (self.to_joint_mm * self.past_joint_mm)


def staying(design: Design, assembly: Assembly, sites: tuple[SitePose, ...]) -> tuple[Staying, ...]:
    """Return how the empty ramp stays at each site where it stands on its toe, in their order; not where the
    ground is too steep to hold it by its push alone.
    """
    found = (_staying(design, assembly, site) for site in sites if site.reaches and site.grounds_at_toe)
    return tuple(one for one in found if one is not None)


def _staying(design: Design, assembly: Assembly, site: SitePose) -> Staying | None:
    weighed, held = weighed_linkage(design, assembly, site.drop_mm), design.hold_down
    inner, fold = np.array(site.pose.inner_rad), np.array(site.pose.fold_rad)
    by_inner, by_fold = slope_nmm(weighed, inner, fold)
    toe, joint = complex(*site.contact), complex(*site.joint)
    grade = ground_line(design.sites[site.site_number - 1]).grade_before(site.contact[0])
    springs = -float(spring_slope_nmm(weighed, inner))
    found = Staying(
        site=site,
        weight_nmm=float(by_inner) + springs,
        spring_nmm=springs,
        outer_nmm=float(by_fold),
        latch_nmm=held.pull_n * held.arm_mm if held.latch else 0.0,
        to_toe_mm=(toe - weighed.hinge_mm).real + grade * (toe - weighed.hinge_mm).imag,
        past_joint_mm=(toe - joint).real + grade * (toe - joint).imag,
        to_joint_mm=(joint - weighed.hinge_mm).real,
        rest=None,
    )
    if min(found.to_toe_mm, found.past_joint_mm, found.to_joint_mm) < _LEAST_ARM_MM:
        return None
    if min(map(found.lift_n, get_args(LiftedAt))) >= 0:
        return found
    return replace(found, rest=_rest(design, weighed, site, stiff=found.lift_n("joint") >= 0))


def _rest(design: Design, weighed: WeighedLinkage, site: SitePose, *, stiff: bool) -> Pose:
    """Return the first pose on the way up from which the energy falls neither way; `stiff`: the joint does
    not turn.
    """
    ground, toe = ground_line(design.sites[site.site_number - 1]), toe_corners(design)

    def pose(inner_rad: RAD) -> Pose:
        fold, _ = toe_off_ground(weighed.bars, toe, ground, inner_rad, 0.0)
        return Pose(inner_rad, site.pose.fold_rad if stiff else min(fold, site.pose.fold_rad))

    def energy(inner_rad: RAD) -> float:
        at = pose(inner_rad)
        return float(energy_nmm(weighed, np.array(at.inner_rad), np.array(at.fold_rad)))

    start, end = site.pose.inner_rad, closed_pose(design).inner_rad
    angles: list[float] = np.linspace(start, end, 2 + math.ceil(abs(end - start) / _STEP_RAD)).tolist()
    for _ in range(_LOOKS):
        heights = [energy(angle) for angle in angles]
        low = next((k for k, (one, after) in enumerate(pairwise(heights)) if after > one), len(angles) - 1)
        angles = np.linspace(angles[max(low - 1, 0)], angles[min(low + 1, len(angles) - 1)], 41).tolist()
    return pose(angles[20])
