"""The hand's work: energy of the folding ramp in any pose, and the force at a handle along a path.

V = sum of m g z of all members + energy in the assist springs; the force along the handle's way is dV/ds, s
being the distance that the handle travels (principle of virtual work; Meriam and Kraige, Statics, chapter 7).
Friction and the speed of movement are left out, so the true force is a little more when lifting and a little
less when lowering.
"""

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.linkage import Linkage, linkage
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.separation import Array
from rampdraft.model.design import Assist, Design, Handle
from rampdraft.units import G_M_S2, MM

Plane = NDArray[np.complex128]
"""Points of the side plane, x + i z, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WeighedLinkage:
    """The linkage with the weights N and springs on it: what the potential energy depends on.

    Vectors of the side plane are complex, x + i z in mm, with the leaf level.
    """

    bars: Linkage
    hinge_mm: complex
    arm_mm: complex
    """From the deck hinge to the joint."""
    inner_n: float
    inner_centre_mm: complex
    """From the deck hinge."""
    outer_n: float
    outer_centre_mm: complex
    """From the joint."""
    assist: Assist
    eye_on_carrier_mm: complex
    """Of a gas spring, from the deck hinge."""
    eye_on_leaf_mm: complex
    """Of a gas spring, from the deck hinge."""


def weighed_linkage(design: Design, assembly: Assembly, drop_mm: MM = 0.0) -> WeighedLinkage:
    """Return what the energy depends on, with the deck edge sunk by `drop_mm`."""
    bars, assist, inner, outer = linkage(design, drop_mm), design.assist, assembly.inner, assembly.outer
    hinge, edge = complex(*bars.hinge), complex(*bars.edge)
    return WeighedLinkage(
        bars=bars,
        hinge_mm=hinge,
        arm_mm=complex(*bars.arm),
        inner_n=inner.mass_kg * G_M_S2,
        inner_centre_mm=complex(*bars.from_hinge("inner", inner.centre_uw_mm)),
        outer_n=outer.mass_kg * G_M_S2,
        outer_centre_mm=complex(*bars.from_hinge("outer", outer.centre_uw_mm)),
        assist=assist,
        eye_on_carrier_mm=edge + complex(assist.carrier_out_mm, -assist.carrier_below_mm) - hinge,
        eye_on_leaf_mm=complex(*bars.from_hinge("inner", (assist.leaf_at_mm, assist.leaf_above_mm))),
    )


def energy_nmm(weighed: WeighedLinkage, inner_rad: Array, fold_rad: Array) -> Array:
    """Return the energy in N mm in poses that broadcast together."""
    joint = weighed.arm_mm * np.exp(1j * inner_rad)
    height = (
        weighed.inner_n * (weighed.inner_centre_mm * np.exp(1j * inner_rad)).imag
        + weighed.outer_n * (joint + weighed.outer_centre_mm * np.exp(1j * (inner_rad + fold_rad))).imag
    )
    weight = (weighed.inner_n + weighed.outer_n) * weighed.hinge_mm.imag
    return height + weight + _spring_nmm(weighed, inner_rad)


def slope_nmm(weighed: WeighedLinkage, inner_rad: Array, fold_rad: Array) -> tuple[Array, Array]:
    """Return the slopes of the energy with the inner leaf's angle and with the joint's, N mm/rad."""
    outer = weighed.outer_n * (weighed.outer_centre_mm * np.exp(1j * (inner_rad + fold_rad))).real
    inner = weighed.inner_n * (weighed.inner_centre_mm * np.exp(1j * inner_rad)).real
    inner = inner + weighed.outer_n * (weighed.arm_mm * np.exp(1j * inner_rad)).real
    return inner + outer + spring_slope_nmm(weighed, inner_rad), outer


def handle_mm(
    weighed: WeighedLinkage, handle: Handle, inner_rad: Array, fold_rad: Array
) -> tuple[Plane, Plane, Plane]:
    """Return a handle's place x + i z, and how it moves with the inner leaf's angle and with the joint's, mm
    and mm/rad.
    """
    turn = np.exp(1j * inner_rad)
    about_own = complex(*weighed.bars.from_hinge(handle.leaf, (handle.at_mm, handle.above_mm))) * turn
    if handle.leaf == "inner":
        return weighed.hinge_mm + about_own, 1j * about_own, np.zeros_like(about_own)
    about_joint = about_own * np.exp(1j * fold_rad)
    about_hinge = weighed.arm_mm * turn + about_joint
    return weighed.hinge_mm + about_hinge, 1j * about_hinge, 1j * about_joint


def usual_handles(design: Design) -> tuple[Handle, ...]:
    """Return the design's own handles, or the places where people take hold without one: the joint and the
    toe.
    """
    if design.handles:
        return design.handles
    return (
        Handle(name="joint", leaf="inner", at_mm=design.inner_leaf.length_mm, above_mm=0.0),
        Handle(name="toe", leaf="outer", at_mm=design.outer_leaf.length_mm, above_mm=0.0),
    )


def _spring_nmm(weighed: WeighedLinkage, inner_rad: Array) -> Array:
    assist = weighed.assist
    if assist.kind == "torsion":
        wound = np.maximum(math.radians(assist.slack_deg) - inner_rad, 0.0)
        return assist.count * math.degrees(assist.rate_nmm_deg) * wound**2 / 2
    if assist.kind == "gas":
        return (
            -assist.count
            * assist.force_n
            * np.abs(weighed.eye_on_leaf_mm * np.exp(1j * inner_rad) - weighed.eye_on_carrier_mm)
        )
    return np.zeros_like(inner_rad)


def spring_slope_nmm(weighed: WeighedLinkage, inner_rad: Array) -> Array:
    """Return the slope of the springs' energy with the inner leaf's angle, N mm/rad: negative where they
    lift.
    """
    assist = weighed.assist
    if assist.kind == "torsion":
        wound = np.maximum(math.radians(assist.slack_deg) - inner_rad, 0.0)
        return -assist.count * math.degrees(assist.rate_nmm_deg) * wound
    if assist.kind == "gas":
        eye = weighed.eye_on_leaf_mm * np.exp(1j * inner_rad)
        along = eye - weighed.eye_on_carrier_mm
        return -assist.count * assist.force_n * (np.conj(along) * 1j * eye).real / np.abs(along)
    return np.zeros_like(inner_rad)
