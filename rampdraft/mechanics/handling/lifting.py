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

from rampdraft.geometry.members.member import Assembly
from rampdraft.geometry.pose import hinge_point_mm
from rampdraft.mechanics.folding.separation import Array
from rampdraft.model.design import Assist, Design, Handle
from rampdraft.units import G_M_S2

Plane = NDArray[np.complex128]
"""Points of the side plane, x + i z, mm."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Linkage:
    """What of a design the energy depends on: lever arms in mm and radians, weights in N."""

    hinge_x_mm: float
    hinge_z_mm: float
    arm_mm: complex
    """From the deck hinge to the joint with the inner leaf level."""
    inner_n: float
    inner_centre_mm: complex
    """From the deck hinge, the inner leaf level."""
    outer_n: float
    outer_centre_mm: complex
    """From the joint, the outer leaf level."""
    assist: Assist
    eye_on_carrier_mm: complex
    """Of a gas spring, from the deck hinge."""
    eye_on_leaf_mm: complex
    """Of a gas spring, from the deck hinge, the inner leaf level."""


def linkage(design: Design, assembly: Assembly) -> Linkage:
    """Return the design as a linkage of two bars, with the deck empty; points in the side plane are complex,
    x + i z.
    """
    x, z = hinge_point_mm(design, 0.0)
    deck_w, joint_w, assist = design.deck_hinge.height_mm, design.joint.height_mm, design.assist
    height = design.carrier.deck_height_mm
    return Linkage(
        hinge_x_mm=x,
        hinge_z_mm=z,
        arm_mm=complex(design.inner_leaf.length_mm, joint_w - deck_w),
        inner_n=assembly.inner.mass_kg * G_M_S2,
        inner_centre_mm=complex(assembly.inner.centre_mm[0], assembly.inner.centre_mm[2] - deck_w),
        outer_n=assembly.outer.mass_kg * G_M_S2,
        outer_centre_mm=complex(assembly.outer.centre_mm[0], assembly.outer.centre_mm[2] - joint_w),
        assist=assist,
        eye_on_carrier_mm=complex(assist.carrier_out_mm - x, height - assist.carrier_below_mm - z),
        eye_on_leaf_mm=complex(assist.leaf_at_mm, assist.leaf_above_mm - deck_w),
    )


def energy_nmm(bars: Linkage, inner_rad: Array, fold_rad: Array) -> Array:
    """Return the energy in N mm in poses that broadcast together."""
    joint = bars.arm_mm * np.exp(1j * inner_rad)
    height = (
        bars.inner_n * (bars.inner_centre_mm * np.exp(1j * inner_rad)).imag
        + bars.outer_n * (joint + bars.outer_centre_mm * np.exp(1j * (inner_rad + fold_rad))).imag
    )
    weight = (bars.inner_n + bars.outer_n) * bars.hinge_z_mm
    return height + weight + _spring_nmm(bars, inner_rad)


def slope_nmm(bars: Linkage, inner_rad: Array, fold_rad: Array) -> tuple[Array, Array]:
    """Return the slopes of the energy with the inner leaf's angle and with the joint's, N mm/rad."""
    outer = bars.outer_n * (bars.outer_centre_mm * np.exp(1j * (inner_rad + fold_rad))).real
    inner = bars.inner_n * (bars.inner_centre_mm * np.exp(1j * inner_rad)).real
    inner = inner + bars.outer_n * (bars.arm_mm * np.exp(1j * inner_rad)).real
    return inner + outer + _spring_moment_nmm(bars, inner_rad), outer


def handle_mm(
    bars: Linkage, design: Design, handle: Handle, inner_rad: Array, fold_rad: Array
) -> tuple[Plane, Plane, Plane]:
    """Return a handle's place x + i z, and how it moves with the inner leaf's angle and with the joint's, mm
    and mm/rad.
    """
    hinge = complex(bars.hinge_x_mm, bars.hinge_z_mm)
    turn = np.exp(1j * inner_rad)
    if handle.leaf == "inner":
        about_hinge = complex(handle.at_mm, handle.above_mm - design.deck_hinge.height_mm) * turn
        return hinge + about_hinge, 1j * about_hinge, np.zeros_like(about_hinge)
    about_joint = (
        complex(handle.at_mm, handle.above_mm - design.joint.height_mm) * turn * np.exp(1j * fold_rad)
    )
    about_hinge = bars.arm_mm * turn + about_joint
    return hinge + about_hinge, 1j * about_hinge, 1j * about_joint


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


def _spring_nmm(bars: Linkage, inner_rad: Array) -> Array:
    assist = bars.assist
    if assist.kind == "torsion":
        wound = np.maximum(math.radians(assist.slack_deg) - inner_rad, 0.0)
        return assist.count * math.degrees(assist.rate_nmm_deg) * wound**2 / 2
    if assist.kind == "gas":
        return (
            -assist.count
            * assist.force_n
            * np.abs(bars.eye_on_leaf_mm * np.exp(1j * inner_rad) - bars.eye_on_carrier_mm)
        )
    return np.zeros_like(inner_rad)


def _spring_moment_nmm(bars: Linkage, inner_rad: Array) -> Array:
    assist = bars.assist
    if assist.kind == "torsion":
        wound = np.maximum(math.radians(assist.slack_deg) - inner_rad, 0.0)
        return -assist.count * math.degrees(assist.rate_nmm_deg) * wound
    if assist.kind == "gas":
        eye = bars.eye_on_leaf_mm * np.exp(1j * inner_rad)
        along = eye - bars.eye_on_carrier_mm
        return -assist.count * assist.force_n * (np.conj(along) * 1j * eye).real / np.abs(along)
    return np.zeros_like(inner_rad)
