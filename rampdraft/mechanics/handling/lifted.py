"""What the empty ramp does when somebody lifts its toe and lets go, and when it is thrown up by a rebound.

Held up by its toe the ramp turns about the deck hinge as one, as long as the moment M on the joint's stop
is towards "down": with F the upward force at the toe, X and Y its level arms about deck hinge and joint, F X
= V,theta and M = F Y - V,phi, V being the energy of weights and springs (`lifting`), theta and phi the angles
of inner leaf and joint (principle of virtual work; Meriam and Kraige, Statics, chapter 7). Let go, the outer
leaf falls about the joint, which is free that way, until its toe is on the ground with the joint still up: it
comes down where the energy with the toe on the ground grows with theta all the way up to there. A latch
across the joint adds its moment to M, and keeps the ramp straight as it falls.

A rebound gives the leaves kinetic energy T, as uniform bars of which the joint rises at a speed: T = m v2 /
6. The ramp falls back where that is less than the energy between the deployed pose and the first place on the
way up from which the ramp would go on rising by itself.

The ground under the toe is a straight line, the toe on it the point that rests there. Left out: friction, a
user aboard (wherever he is between deck hinge and toe he presses the joint on its stop), the bounce of a toe.
"""

import cmath
import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.handling.lifting import (
    Plane,
    WeighedLinkage,
    energy_nmm,
    slope_nmm,
    weighed_linkage,
)
from rampdraft.mechanics.handling.staying import Staying
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design
from rampdraft.units import MM, NMM, RAD, Array, N

LOOKED_TO: Final = 2.0
"""Heights of the toe are looked at up to so many times the one that is demanded ..."""
_HEIGHTS: Final = 17
"""... at so many, evenly; between two of them the forces run straight."""
_UPRIGHT_RAD: Final = math.pi / 2
_ANGLES: Final = 49
"""Of the inner leaf on its way up to upright, at which the energy is looked at."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Lifted:
    """The empty ramp at a site, its toe lifted, or thrown up."""

    site: SitePose
    latched: bool
    """Whether a latch keeps the joint straight."""
    falls_from_mm: MM
    """Up to which height of the toe the ramp falls back when it is let go, as far as was looked."""
    opens_mm: MM | None
    """At which height of the toe the joint leaves its stop, or its latch gives way; None for none."""
    held_n: N
    """What holds the toe at the height that is asked about."""
    back_nmm: NMM
    """What brings the inner leaf down from there, when it is let go; it rises where that is below nothing."""
    thrown_nmm: NMM
    """T."""
    barrier_nmm: NMM
    """What takes it to the first place from which it rises by itself, or upright where there is none."""
    everywhere: bool
    """Whether there is none: it falls back from wherever it is."""
    mass_kg: float

    @property
    def back_from_mm(self) -> MM:
        """Return up to which height of the toe the ramp stays straight, and falls back when it is let go."""
        return min(self.falls_from_mm, self.falls_from_mm if self.opens_mm is None else self.opens_mm)


def lifted(design: Design, assembly: Assembly, found: tuple[Staying, ...]) -> tuple[Lifted, ...]:
    """Return what happens at each site where the empty ramp stays down, with the deck empty."""
    return tuple(
        _lifted(design, assembly, one) for one in found if one.site.state == "empty" and one.rest is None
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lines:
    """The two ways up of an empty ramp: straight, and with its toe on the ground."""

    weighed: WeighedLinkage
    inner_rad: RAD
    fold_rad: RAD
    to_toe_mm: complex
    """From the deck hinge, deployed."""
    past_joint_mm: complex
    """From the joint to the toe, deployed."""
    level: complex
    """Of the ground under the toe: one, along it."""

    def straight_rad(self, heights_mm: Array) -> Array:
        """Return how far the inner leaf has turned with the toe so high above the ground."""
        along = self.to_toe_mm / self.level
        sine = np.clip((along.imag + heights_mm) / abs(along), -1.0, 1.0)
        return np.arcsin(sine) - cmath.phase(along)

    def folds(self, inner_rad: Array) -> Array:
        """Return the joint's angle with the toe on the ground, the outer leaf hanging where that is out of
        reach.
        """
        arm, outer = self.weighed.arm_mm, self.past_joint_mm / self.level
        rise = (arm * (np.exp(1j * inner_rad) - cmath.exp(1j * self.inner_rad)) / self.level).imag
        turned = np.arcsin(np.clip((outer.imag - rise) / abs(outer), -1.0, 1.0)) - cmath.phase(outer)
        return self.fold_rad + turned - (inner_rad - self.inner_rad)


def _lifted(design: Design, assembly: Assembly, down: Staying) -> Lifted:
    held, site = design.hold_down, down.site
    lines = _lines(design, assembly, site)
    heights = np.linspace(0.0, LOOKED_TO * held.toe_held_mm, _HEIGHTS)
    turned = lines.straight_rad(heights)
    by_inner, by_fold = slope_nmm(lines.weighed, lines.inner_rad + turned, np.array(lines.fold_rad))
    arm, past = (at * np.exp(1j * turned) for at in (lines.to_toe_mm, lines.past_joint_mm))
    force = by_inner / arm.real
    stop = force * past.real - by_fold + down.latch_nmm
    back = by_inner if held.latch else _along_ground(lines, lines.inner_rad + turned)
    asked = (_HEIGHTS - 1) // int(LOOKED_TO)
    kg, (barrier, everywhere) = sum(assembly.leaves_kg), _barrier_nmm(lines, latched=held.latch)
    opens = _until(heights, stop)
    thrown = 1e3 * kg * held.rebound_m_s**2 / 6
    return Lifted(
        site=site,
        latched=held.latch,
        falls_from_mm=min(_until(heights, force), _until(heights, back)),
        opens_mm=None if stop.min() >= 0 else opens,
        held_n=float(force[asked]),
        back_nmm=float(back[asked]),
        thrown_nmm=thrown,
        barrier_nmm=barrier,
        everywhere=everywhere,
        mass_kg=kg,
    )


def _lines(design: Design, assembly: Assembly, site: SitePose) -> _Lines:
    weighed = weighed_linkage(design, assembly, site.drop_mm)
    grade = ground_line(design.sites[site.site_number - 1]).grade_before(site.contact[0])
    toe, joint = complex(*site.contact), complex(*site.joint)
    return _Lines(
        weighed=weighed,
        inner_rad=site.pose.inner_rad,
        fold_rad=site.pose.fold_rad,
        to_toe_mm=toe - weighed.hinge_mm,
        past_joint_mm=toe - joint,
        level=complex(1.0, grade) / abs(complex(1.0, grade)),
    )


def _along_ground(lines: _Lines, inner_rad: Array) -> Array:
    """Return the slope of the energy with the inner leaf's angle, the toe on the ground.

    The toe slides along the ground: its turns about deck hinge and joint lift it by nothing.
    """
    fold = lines.folds(inner_rad)
    by_inner, by_fold = slope_nmm(lines.weighed, inner_rad, fold)
    turned, joint = inner_rad - lines.inner_rad, fold - lines.fold_rad
    past: Plane = lines.past_joint_mm * np.exp(1j * (turned + joint)) / lines.level
    arm: Plane = lines.weighed.arm_mm * np.exp(1j * inner_rad) / lines.level
    free = past.real <= 1e-6 * abs(lines.past_joint_mm)  # hangs: the outer leaf stays upright
    a_turn = np.where(free, -1.0, -(arm.real + past.real) / np.where(free, 1.0, past.real))
    return by_inner + by_fold * a_turn


def _until(heights: Array, values: Array) -> MM:
    """Return up to which height a value is nothing or more; the last where it is everywhere."""
    below = np.flatnonzero(values < 0)
    if not below.size:
        return float(heights[-1])
    at = int(below[0])
    if not at:
        return 0.0
    part = values[at - 1] / (values[at - 1] - values[at])
    return float(heights[at - 1] + part * (heights[at] - heights[at - 1]))


def _barrier_nmm(lines: _Lines, *, latched: bool) -> tuple[NMM, bool]:
    """Return the energy from the deployed pose to the first place on the way to upright where it falls, or to
    upright; and whether it falls nowhere.
    """
    angles = np.linspace(lines.inner_rad, max(_UPRIGHT_RAD, lines.inner_rad + 0.1), _ANGLES)
    folds = np.full_like(angles, lines.fold_rad) if latched else lines.folds(angles)
    risen = energy_nmm(lines.weighed, angles, folds)
    falling = np.flatnonzero(np.diff(risen) < 0)
    at = int(falling[0]) if falling.size else -1
    return float(risen[at] - risen[0]), not falling.size
