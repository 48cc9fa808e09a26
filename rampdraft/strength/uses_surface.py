"""What a wheel stands on between the rails: slats, cross members, bridge plate and toe flap.

Each is a simple beam between two supports, or a cantilever where it stands out beyond the outer rail; that it
runs on over several rails is left out, which makes it no stronger than it is. Its own weight is left out,
being a hundredth of a wheel's.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from itertools import pairwise
from typing import Final, Literal

from rampdraft.figures import mm, number, percent
from rampdraft.geometry.lanes import bays_mm
from rampdraft.geometry.members.leaves import TWO_SCREWS_FROM_MM
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.loading.loads import Footprint, Load, Rolling
from rampdraft.model.design import Leaf, Material
from rampdraft.strength.metal import metal_strength_mpa, wall_class
from rampdraft.strength.timber import bending_strength_mpa, timber_shear_strength_mpa, timber_shear_stress_mpa
from rampdraft.strength.uses import Family, Found, Job, Result, mpa, newton, nm, seam, uses_of, worst_last
from rampdraft.units import MM, MPA, N

SLATS: Final = "Slats under a wheel"
CROSSES: Final = "Cross members under a wheel"
BRIDGE: Final = "Bridge plate under a wheel"
FLAP: Final = "Toe flap under a wheel"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Patch:
    """A force over a patch of the surface."""

    force_n: N
    across_mm: MM
    along_mm: MM
    """Across and along the ramp."""
    track_mm: MM
    """To the other wheel of the axle; 0 for none."""
    load: int
    at_edge: bool
    """Whether it may stand at the very edge of the surface."""


def surface_uses(job: Job) -> Iterator[Found]:
    """Yield what slats, cross members, bridge plate and toe flap use."""
    design = job.design
    parts: list[Family] = []
    leaves: tuple[tuple[Literal["inner", "outer"], Leaf], ...] = (
        ("inner", design.inner_leaf),
        ("outer", design.outer_leaf),
    )
    for body, leaf in leaves:
        subject = f"{body} leaf"
        parts.append(
            Family(f"{body}-slats", SLATS, subject, f"{body} slat 1", partial(_slats, job, leaf), body)
        )
        bays = len(bays_mm(leaf)) if leaf.cross_fitting == "between" else 1
        if leaf.cross_positions_mm and bays:
            bay = " bay 1" if bays > 1 else ""
            parts.append(
                Family(
                    f"{body}-cross",
                    CROSSES,
                    subject,
                    f"{body} cross member 1{bay}",
                    partial(_cross, job, leaf),
                    body,
                )
            )
    bridge, toe = design.bridge, design.toe
    if bridge.fitted:
        span, width = bridge.length_mm - bridge.over_deck_mm, design.inner_leaf.width_mm
        parts.append(
            Family(
                "bridge", BRIDGE, "", "bridge plate", partial(_plate, job, span, bridge.thickness_mm, width)
            )
        )
    if toe.kind == "flap":
        plate = partial(_plate, job, toe.length_mm, toe.thickness_mm, design.outer_leaf.width_mm)
        parts.append(Family("flap", FLAP, "", "outer toe flap", plate))
    yield from uses_of(job, parts)


def _slats(job: Job, leaf: Leaf) -> Result:
    """Return what one slat uses: a wheel in the middle of the widest bay, and one at the edge beyond the
    outer rail.
    """
    design, thick = job.design, leaf.slat_thickness_mm
    material, lanes = job.material(design.made_of.slats), leaf.rail_lanes_mm
    bay = max((right - left for left, right in pairwise(lanes)), default=0.0)
    out = max(0.0, leaf.width_mm / 2 - min(-lanes[0], lanes[-1]))
    hole = design.workshop.slat_screw_mm
    welded = hole <= 0 and material.kind == "aluminium"
    strength = _bending_mpa(job, material, welded=welded, depth_mm=thick)
    screws = 2 if leaf.slat_width_mm >= TWO_SCREWS_FROM_MM else 1
    patches = tuple(_patches(job, leaf))
    bent: list[tuple[float, MM, _Patch, str]] = []
    for patch in patches:
        force = job.effect(0.0, patch.force_n)
        if bay:
            wide = min(leaf.slat_width_mm, patch.along_mm + bay)
            moment = _bay_moment(force, bay, patch)
            bent.append((moment / wide, wide, patch, f"in the middle of {mm(bay)}"))
        if out and patch.at_edge:
            net = min(leaf.slat_width_mm, patch.along_mm + 2 * out) - screws * hole
            bent.append(
                (_end_moment(force, out, patch.across_mm) / net, net, patch, f"at the edge, {mm(out)} out")
            )
    moment_mm, wide, patch, place = max(bent, key=lambda one: one[0])
    ratio = 6 * moment_mm / (thick**2 * strength)
    sheared, most = 0.0, max(patches, key=lambda one: one.force_n)
    if material.kind == "timber":
        across = min(leaf.slat_width_mm, most.along_mm + bay)
        stress = float(timber_shear_stress_mpa(job.effect(0.0, most.force_n), across, thick))
        sheared = stress / timber_shear_strength_mpa(material, job.basis, design.use.service_class)

    def work() -> tuple[str, ...]:
        moment, modulus = moment_mm * wide, wide * thick**2 / 6
        bending = (
            f"{job.words(patch.load)}: {newton(patch.force_n)} on a slat over {mm(patch.across_mm)}, {place}",
            f"M = {nm(moment)} with {number(job.basis.gamma_q, 2)} x {newton(patch.force_n)}",
            (
                f"W = {mm(wide)} x ({mm(thick)})2 / 6 = {number(modulus, 0)} mm3;"
                f" strength of {material.name}{', welded' if welded else ''} = {mpa(strength)}"
            ),
            f"M / (W f) = {percent(ratio)}",
        )
        if material.kind != "timber":
            return bending
        shear = (
            (
                f"shear beside a rail, {job.words(most.load)}: 1.5 V / (0.67 b h) = {percent(sheared)} of the"
                " strength"
            ),
        )
        return worst_last((ratio, bending), (sheared, shear))

    clause = "EN 1995-1-1, 6.1.6, 6.1.7" if material.kind == "timber" else "elastic bending"
    return max(ratio, sheared), work, clause, patch.load if ratio >= sheared else most.load


def _cross(job: Job, leaf: Leaf) -> Result:
    """Return what a cross member uses between two rails: a whole wheel on it, as if the slat over it were
    off.

    A wheel on it is the rule of this program, common practice, so that no single broken slat lets a wheel
    through.
    """
    design, section = job.design, leaf.cross_section
    material = job.material(design.made_of.cross_members)
    bay = max((right - left for left, right in pairwise(leaf.rail_lanes_mm)), default=0.0)
    if section.kind in ("box", "tube") and wall_class(section, material.yield_mpa, material.kind) == 4:
        return "The walls are so thin that they buckle before they yield (class 4): take a thicker wall."
    strength = _bending_mpa(job, material, welded=material.kind == "aluminium", depth_mm=section.depth_mm)
    modulus = properties(section).elastic_modulus_mm3
    patch = max(_patches(job, leaf), key=lambda patch: _bay_moment(patch.force_n, bay, patch))
    force = job.effect(0.0, patch.force_n)
    moment = _bay_moment(force, bay, patch)
    bent, joined = moment / (modulus * strength), 0.0
    weld = seam(job, (material, section), (job.material(design.made_of.rails), leaf.rail_section))
    welded = leaf.cross_fitting == "between" and material.kind != "timber"
    if welded and isinstance(weld, str):
        return weld
    if welded and not isinstance(weld, str):
        joined = force / (2 * section.depth_mm * weld.n_mm)

    def work() -> tuple[str, ...]:
        bending = (
            (
                f"{job.words(patch.load)}: {newton(patch.force_n)} over {mm(patch.across_mm)}, in the middle"
                f" of {mm(bay)}"
            ),
            f"M = {nm(moment)} with {number(job.basis.gamma_q, 2)} x {newton(patch.force_n)}",
            f"W = {number(modulus, 0)} mm3, {section.text}; strength = {mpa(strength)}",
            f"M / (W f) = {percent(bent)}",
        )
        if not welded or isinstance(weld, str):
            return bending
        end = f"{newton(force)} / (2 x {mm(section.depth_mm)}) on {weld.words} = {percent(joined)}"
        return worst_last((bent, bending), (joined, (f"weld at its end: {end}",)))

    clause = {"timber": "EN 1995-1-1, 6.1.6", "aluminium": "EN 1999-1-1, 6.2.5"}.get(
        material.kind, "EN 1993-1-1, 6.2.5"
    )
    return max(bent, joined), work, f"{clause}; EN 1993-1-8, 4.5.3.3" if welded else clause, patch.load


def _plate(job: Job, span: MM, thick: MM, width: MM) -> Result:
    """Return what a plate uses that spans along the ramp, with a wheel half way at its side edge.

    The load spreads at 45 degrees, common practice; at the edge to one side only.
    """
    material = job.material(job.design.made_of.fittings)
    strength = _bending_mpa(job, material, welded=material.kind == "aluminium", depth_mm=thick)

    def moment_mm(patch: _Patch) -> float:
        """Return the moment a mm of width."""
        return _middle_moment(job.effect(0.0, patch.force_n), span, patch.along_mm) / _spread_mm(patch)

    def _spread_mm(patch: _Patch) -> MM:
        return min(width, patch.across_mm + span / 2)

    patch = max(_wheels(job), key=moment_mm)
    wide, ratio = _spread_mm(patch), 6 * moment_mm(patch) / (thick**2 * strength)

    def work() -> tuple[str, ...]:
        return (
            f"{job.words(patch.load)}: {newton(patch.force_n)} half way along {mm(span)}, at the side",
            (
                f"M = {nm(moment_mm(patch) * wide)} with {number(job.basis.gamma_q, 2)} x"
                f" {newton(patch.force_n)}, over {mm(wide)}"
            ),
            (
                f"W = {mm(wide)} x ({mm(thick)})2 / 6 = {number(wide * thick**2 / 6, 0)} mm3; strength ="
                f" {mpa(strength)}"
            ),
            f"M / (W f) = {percent(ratio)}",
        )

    return ratio, work, "elastic bending", patch.load


def _bending_mpa(job: Job, material: Material, *, welded: bool, depth_mm: MM) -> MPA:
    if material.kind == "timber":
        return bending_strength_mpa(material, job.basis, job.design.use.service_class, depth_mm=depth_mm)
    return metal_strength_mpa(material, job.basis, welded=welded)


def _bay_moment(force: N, bay: MM, patch: _Patch) -> float:
    """Return the moment of a wheel in the middle of a bay between rails, or of both wheels of an axle where
    both stand in it.
    """
    both = (
        force * (bay - patch.track_mm) / 2 - force * patch.across_mm / 8 if 0 < patch.track_mm < bay else 0.0
    )
    return max(_middle_moment(force, bay, patch.across_mm), both)


def _middle_moment(force: N, span: MM, patch: MM) -> float:
    """Return the moment of a force spread over a patch in the middle of a simple span; what lies beyond the
    span is not on it.
    """
    return force * (2 * span - patch) / 8 if patch <= span else force / patch * span**2 / 8


def _end_moment(force: N, out: MM, patch: MM) -> float:
    """Return the moment at the rail of a force spread over a patch that ends where the part ends, `out`
    beyond the rail.
    """
    return force * (out - patch / 2) if patch <= out else force / patch * out**2 / 2


def _patches(job: Job, leaf: Leaf) -> Iterator[_Patch]:
    """Yield what each load puts on one slat: its wheels, or its part of a spread load."""
    pitch = leaf.slat_pitch_mm
    for patch in _wheels(job):
        yield replace(patch, force_n=patch.force_n * min(1.0, pitch / patch.along_mm))


def _wheels(job: Job) -> Iterator[_Patch]:
    """Yield the wheels and feet of each load, or its patch, lengthwise across the ramp."""
    width = min(job.design.inner_leaf.width_mm, job.design.outer_leaf.width_mm)
    for load in job.loads:
        yield from _patches_of(job.carried.loads[load], load, width, job.carried.spans.length_mm)


def _patches_of(load: Load, index: int, width: MM, length: MM) -> Iterator[_Patch]:
    if isinstance(load, Rolling):
        for axle in load.axles:
            across, along = axle.patch_mm
            yield _Patch(
                force_n=axle.wheel_n,
                across_mm=across,
                along_mm=along,
                track_mm=axle.track_mm,
                load=index,
                at_edge=True,
            )
    elif isinstance(load, Footprint):
        across = min(load.across_mm, width)
        yield _Patch(
            force_n=load.force_n,
            across_mm=across,
            along_mm=load.along_mm,
            track_mm=0.0,
            load=index,
            at_edge=False,
        )
    else:
        yield _Patch(
            force_n=load.n_mm * length,
            across_mm=width,
            along_mm=length,
            track_mm=0.0,
            load=index,
            at_edge=True,
        )
