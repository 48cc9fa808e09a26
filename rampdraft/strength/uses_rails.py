"""Rails: bending and shear along each leaf, with what holes, notches and a taper leave of the section."""

from collections.abc import Iterator
from functools import lru_cache
from typing import Final

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.figures import mm, number, percent
from rampdraft.geometry.net_sections import NetSection, cut_from_below, holed
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.mechanics.loading.beam import Array
from rampdraft.mechanics.loading.results import LeafForces
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf, Toe
from rampdraft.model.section import Section
from rampdraft.rounding import greatest_at
from rampdraft.strength.basis import LIMIT_STATES
from rampdraft.strength.metal import bending_with_shear, metal_strength_mpa, shear_area_mm2, wall_class
from rampdraft.strength.timber import bending_strength_mpa, timber_shear_strength_mpa, timber_shear_stress_mpa
from rampdraft.strength.uses import FOLDS, Found, Job, MemberUse, UnknownUse, mpa, newton, nm
from rampdraft.units import MM

TITLE: Final = "Rails in bending and shear"
BUCKLES: Final = (
    "The walls of the rails are so thin that they buckle before they yield (class 4): take a thicker wall."
)


def rail_uses(job: Job) -> Iterator[Found]:
    """Yield what the rails of each leaf use."""
    for forces in job.carried.leaves:
        key, subject, member = f"{forces.body}-rails", f"{forces.body} leaf", f"{forces.body} rail 1"
        if not job.carried.held:
            yield UnknownUse(
                key=key, title=TITLE, subject=subject, why=FOLDS, member=member, leaf=forces.body
            )
            continue
        try:
            yield _rails(job, forces, key, subject)
        except StrengthUnknownError as unknown:
            yield UnknownUse(
                key=key, title=TITLE, subject=subject, why=str(unknown), member=member, leaf=forces.body
            )


def _rails(job: Job, forces: LeafForces, key: str, subject: str) -> Found:
    design, basis = job.design, job.basis
    leaf = design.inner_leaf if forces.body == "inner" else design.outer_leaf
    section, material = leaf.rail_section, job.material(design.made_of.rails)
    along = forces.x_mm - (0.0 if forces.body == "inner" else job.carried.spans.joint_mm)
    toe = design.toe if forces.body == "outer" else None
    nets = list(_nets(leaf, toe, design.workshop.slat_screw_mm, tuple(along.tolist())))
    modulus = np.array([net.elastic_modulus_mm3 for net, _ in nets])
    chosen = list(job.loads)
    own, own_shear = basis.gamma_g * forces.own_moment_nmm, basis.gamma_g * forces.own_shear_n
    sagging = own + basis.gamma_q * forces.moment_nmm[chosen]
    hogging = -(forces.own_moment_nmm + basis.gamma_q * forces.hogging_nmm[chosen])
    moment = np.maximum(sagging, hogging)
    shear = own_shear + basis.gamma_q * forces.shear_n[chosen]
    own_parts, load_parts = forces.own_moment_nmm, forces.moment_nmm
    if not job.carried.spans.propped:
        # At the joint all that comes to a stop bar is in the rails beside it, and between pin and lap tip as
        # shear too.
        joint, end = job.carried.joint, -1 if forces.body == "inner" else 0
        own_joint, load_joint = joint.own_moment_nmm * joint.own_share, joint.moment_nmm.max(axis=1)
        at_joint = basis.gamma_g * own_joint + basis.gamma_q * load_joint[chosen]
        pressed = at_joint / bearing_arm_mm(design) if design.stop.kind == "lap" else np.zeros_like(at_joint)
        column = (len(chosen), moment.shape[1], 1)
        moment = np.concatenate((moment, np.broadcast_to(at_joint[:, None, None], column)), axis=2)
        across = np.maximum(pressed[:, None, None], shear[:, :, end : end + 1 or None])
        shear, sagging, hogging = (
            np.concatenate((shear, across), axis=2),
            np.concatenate((sagging, np.broadcast_to(at_joint[:, None, None], column)), axis=2),
            np.concatenate((hogging, np.full(column, -np.inf)), axis=2),
        )
        along, nets = np.append(along, along[end]), [*nets, (nets[end][0], f"{nets[end][1]}, at the joint")]
        modulus = np.append(modulus, modulus[end])
        own_parts = np.append(own_parts, own_joint)
        spread = np.broadcast_to(load_joint[:, None, None], (len(load_joint), moment.shape[1], 1))
        load_parts = np.concatenate((load_parts, spread), axis=2)
    timber = material.kind == "timber"
    if timber and (section.wall_mm or leaf.cross_fitting == "half_lap"):
        why = (
            "Timber rails are judged solid and without notches in the side that is pulled (EN 1995-1-1, 6.5)."
        )
        return UnknownUse(
            key=key, title=TITLE, subject=subject, why=why, member=f"{forces.body} rail 1", leaf=forces.body
        )
    if timber:
        strength = bending_strength_mpa(material, basis, design.use.service_class, depth_mm=section.depth_mm)
        depth = np.array([net.depth_mm for net, _ in nets])
        sliding = timber_shear_stress_mpa(shear, section.width_mm, depth)
        ratio = np.maximum(
            moment / (modulus * strength),
            sliding / timber_shear_strength_mpa(material, basis, design.use.service_class),
        )
        clause = "EN 1995-1-1, 6.1.6, 6.1.7"
    else:
        if section.kind in ("box", "tube") and wall_class(section, material.yield_mpa, material.kind) == 4:
            return UnknownUse(
                key=key,
                title=TITLE,
                subject=subject,
                why=BUCKLES,
                clause="EN 1993-1-1, table 5.2",
                member=f"{forces.body} rail 1",
                leaf=forces.body,
            )
        strength = metal_strength_mpa(material, basis, welded=material.kind == "aluminium")
        area = np.array([_shear_area(section, net) for net, _ in nets])
        ratio = bending_with_shear(moment, shear, modulus, area, strength)
        clause = "EN 1999-1-1, 6.2.5, 6.2.8" if material.kind == "aluminium" else "EN 1993-1-1, 6.2.5, 6.2.8"
    load, rail, at = greatest_at(ratio)
    used = float(ratio[load, rail, at])
    net, cut = nets[at]
    most, cut_n = float(moment[load, rail, at]), float(shear[load, rail, at])
    bent = float(load_parts[chosen[load], rail, at])
    down = "" if sagging[load, rail, at] >= hogging[load, rail, at] else ", hogging"

    def work() -> tuple[str, ...]:
        return (
            (
                f"{job.words(chosen[load])}; rail {rail + 1} of {ratio.shape[1]}, {mm(float(along[at]))} from"
                f" its hinge{down}"
            ),
            f"M = {job.sum_words(nm(float(own_parts[at])), nm(bent))} = {nm(most)}",
            f"V = {newton(cut_n)} at most there",
            (
                f"W = {number(net.elastic_modulus_mm3, 0)} mm3, {section.text}{cut}; strength f ="
                f" {mpa(strength)}"
            ),
            (
                f"M / (W f) = {nm(most)} / ({number(net.elastic_modulus_mm3, 0)} mm3 x {mpa(strength)})"
                f" = {percent(most / (net.elastic_modulus_mm3 * strength))}"
            ),
            f"with the shear {percent(used)}",
        )

    return MemberUse(
        leaf=forces.body,
        key=key, title=TITLE, subject=subject, ratio=used, working=work, clause=clause,
        member=f"{forces.body} rail {rail + 1}", load=job.words(chosen[load]),
    )  # fmt: skip


def rail_capacity_nmm(design: Design, leaf: Leaf, at_mm: Array) -> Array | None:
    """Return the moment that one rail takes in bending alone by limit states, W f, at places along its leaf.

    None where it is not known: the material has no strength given, or the walls are of class 4.
    """
    section, material = leaf.rail_section, material_named(design, design.made_of.rails)
    if section.kind in ("box", "tube") and wall_class(section, material.yield_mpa, material.kind) == 4:
        return None
    try:
        if material.kind == "timber":
            strength = bending_strength_mpa(
                material, LIMIT_STATES, design.use.service_class, depth_mm=section.depth_mm
            )
        else:
            strength = metal_strength_mpa(material, LIMIT_STATES, welded=material.kind == "aluminium")
    except StrengthUnknownError:
        return None
    return np.array([net_rail(design, leaf, float(at))[0].elastic_modulus_mm3 for at in at_mm]) * strength


@lru_cache(maxsize=16)
def _nets(
    leaf: Leaf, toe: Toe | None, hole_mm: MM, places_mm: tuple[MM, ...]
) -> tuple[tuple[NetSection, str], ...]:
    """Return what is left at every place, found once for all bases on which a ramp is judged."""
    return tuple(_net(leaf, toe, hole_mm, at) for at in places_mm)


def net_rail(design: Design, leaf: Leaf, at_mm: MM) -> tuple[NetSection, str]:
    """Return what is left of a leaf's rail at a place along the leaf, and words for what is missing."""
    return _net(leaf, design.toe if leaf is design.outer_leaf else None, design.workshop.slat_screw_mm, at_mm)


def _net(leaf: Leaf, toe: Toe | None, hole: MM, at_mm: MM) -> tuple[NetSection, str]:
    section, depth = leaf.rail_section, leaf.rail_section.depth_mm
    drilled = _holed(section, hole), f", less a hole of {mm(hole)}" if hole and section.kind == "box" else ""
    cut = drilled
    if toe is not None and toe.kind == "taper" and at_mm > leaf.length_mm - toe.length_mm:
        left = toe.thickness_mm + (depth - toe.thickness_mm) * (leaf.length_mm - at_mm) / toe.length_mm
        words = (
            ", tapered to"
            f" {mm(left)}{' and closed' if toe.closed else ', open underneath' if section.wall_mm else ''}"
        )
        cut = _cut(section, round(left, 3), closed=toe.closed), words
    half = leaf.cross_section.width_mm / 2 + 1e-6
    if leaf.cross_fitting == "half_lap" and any(abs(at - at_mm) <= half for at in leaf.cross_positions_mm):
        cut = _cut(section, depth - leaf.half_lap_mm), f", notched by {mm(leaf.half_lap_mm)}"
    return min(cut, drilled, key=lambda one: one[0].elastic_modulus_mm3)


@lru_cache(maxsize=4096)
def _cut(section: Section, depth_mm: MM, *, closed: bool = False) -> NetSection:
    return cut_from_below(section, depth_mm, closed=closed)


@lru_cache(maxsize=256)
def _holed(section: Section, hole_mm: MM) -> NetSection:
    return holed(section, hole_mm)


def _shear_area(section: Section, net: NetSection) -> float:
    """Return the area that takes the shear: of a cut box the stumps of its sides."""
    if net.depth_mm >= section.depth_mm:
        return shear_area_mm2(section)
    if section.kind == "box":
        return min(2 * section.wall_mm * net.depth_mm, net.area_mm2)
    return net.area_mm2 * 2 / 3
