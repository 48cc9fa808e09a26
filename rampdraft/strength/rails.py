"""Rails: bending and shear along each leaf, with what holes, notches and a taper leave of the section."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.sections import NetSection, cut_from_below, holed
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.mechanics.loading.beam import Spans
from rampdraft.mechanics.loading.carrying import lever_rule_nmm
from rampdraft.mechanics.loading.loads import Load, Rolling
from rampdraft.mechanics.loading.results import Carried, LeafForces
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf, Material, ServiceClass, Toe
from rampdraft.model.section import Section
from rampdraft.strength.formula import BENT, Worked, mm3
from rampdraft.strength.resistance import (
    SHEAR,
    bending_mpa,
    bending_with_shear,
    shear_area_mm2,
    timber_shear_strength_mpa,
    wall_class,
)
from rampdraft.strength.utilisation import LIMIT_STATES, MOMENT, Basis, Combination, Outcome, Unknown
from rampdraft.units import MM, MPA, Array, ArrayRecord, N
from rampdraft.words.figures import measure, mm, mpa, newton, newton_metre, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import called, say

_CLAUSES: Final = {
    "timber": "EN 1995-1-1, 6.1.6, 6.1.7",
    "aluminium": "EN 1999-1-1, 6.2.5, 6.2.8",
    "steel": "EN 1993-1-1, 6.2.5, 6.2.8",
}


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Rails(ArrayRecord):
    """The rails of a leaf and what they carry at X sections: L loads, R rails.

    Where a lapping bar holds the joint, its force is shear in the rails between pin and tip.
    """

    body: Literal["inner", "outer"]
    section: Section
    material: Material
    service_class: ServiceClass
    spans: Spans
    lanes_mm: tuple[MM, ...]
    width_mm: MM
    loads: tuple[Load, ...]
    x_mm: Array
    """Along the ramp from the deck hinge, (X,)."""
    along_mm: Array
    """From the leaf's hinge, (X,)."""
    nets: tuple[tuple[NetSection, str], ...]
    """What is left of the section at each place, and words for what is missing."""
    modulus_mm3: Array
    area: Array
    """That takes the shear, mm2, (X,); of timber the depth in mm."""
    self_moment_nmm: Array
    """Of the self-weight, (R, X)."""
    self_shear_n: Array
    moment_nmm: Array
    """(L, R, X)."""
    hogging_nmm: Array
    shear_n: Array
    pressed_self_n: N
    """Shear by a lapping bar's tip, of self-weight and of each load, (L, 1); nothing of other bars."""
    pressed_n: Array

    def under(self, combination: Combination) -> Outcome:
        """Return the worst of all rails and sections under the worst load.

        Raises StrengthUnknownError where the material holds no strength.
        """
        moment, shear, hogging = self._design_values(combination)
        ratio = self._ratio(moment, shear, combination.basis)
        load, rail, at = combination.governing(ratio)
        worst = combination.loads.index(load), rail, at
        net, cut = self.nets[at]
        effect = combination.worked(
            MOMENT, float(self.self_moment_nmm[rail, at]), float(self.moment_nmm[load, rail, at])
        )
        most, used = float(moment[worst]), float(ratio[worst])
        bent = BENT.of(most, net.elastic_modulus_mm3, self.strength_mpa(combination.basis))
        place = say(
            "rail {rail} of {rails}, {along} from its hinge, hogging"
            if hogging[worst]
            else "rail {rail} of {rails}, {along} from its hinge",
            rail=rail + 1,
            rails=ratio.shape[1],
            along=mm(float(self.along_mm[at])),
        )
        words, what = combination.words[load], f"{called(self.section.text)}{cut}"
        at_mm = float(self.x_mm[at])
        return Outcome(
            ratio=used,
            worked=prose(
                _lines,
                f"{words}; {place}",
                effect,
                float(shear[worst]),
                what,
                bent,
                used,
                (self.spans, self.lanes_mm, self.width_mm, self.loads[load], rail, at_mm),
            ),
            clause=_CLAUSES[self.material.kind],
            load=load,
            member=f"{self.body} rail {rail + 1}",
        )

    def along(self, combination: Combination) -> Array:
        """Return the utilisation of the rail that uses most at each section, under the worst load, (X,)."""
        moment, shear, _ = self._design_values(combination)
        return self._ratio(moment, shear, combination.basis).max(axis=(0, 1))

    def strength_mpa(self, basis: Basis) -> MPA:
        """Return the strength in bending."""
        return rail_strength_mpa(self.material, self.section, basis, self.service_class)

    def _design_values(self, combination: Combination) -> tuple[Array, Array, NDArray[np.bool_]]:
        """Return moment, shear and whether the moment hogs, (L, R, X) of the loads chosen; in hogging
        self-weight helps, and has no factor.
        """
        chosen, gamma_q = list(combination.loads), combination.basis.gamma_q
        sagging = combination.design_value(self.self_moment_nmm, self.moment_nmm[chosen])
        hogging = -(self.self_moment_nmm + gamma_q * self.hogging_nmm[chosen])
        shear = combination.design_value(self.self_shear_n, self.shear_n[chosen])
        pressed = combination.design_value(self.pressed_self_n, self.pressed_n[chosen])
        end = -1 if self.body == "inner" else 0
        shear[:, :, end] = np.maximum(shear[:, :, end], pressed)
        return np.maximum(sagging, hogging), shear, sagging < hogging

    def _ratio(self, moment: Array, shear: Array, basis: Basis) -> Array:
        strength = self.strength_mpa(basis)
        if self.material.kind != "timber":
            return bending_with_shear(moment, shear, self.modulus_mm3, self.area, strength)
        sliding = SHEAR.at(shear, self.section.width_mm, self.area)
        return np.maximum(
            moment / (self.modulus_mm3 * strength),
            sliding / timber_shear_strength_mpa(self.material, basis, self.service_class),
        )


def _lines(
    head: str,
    effect: Worked,
    shear_n: float,
    what: str,
    bent: Worked,
    used: float,
    bound: tuple[Spans, tuple[MM, ...], MM, Load, int, MM],
) -> Lines:
    most, modulus, strength = bent.of
    return (
        head,
        say("M = {numbers} = {moment}, by the grillage", numbers=effect.numbers, moment=newton_metre(most)),
        *_bound_lines(*bound),
        say("V = {shear} at most there", shear=newton(shear_n)),
        say(
            "W = {modulus}, {section}; strength f = {strength}",
            modulus=mm3(modulus),
            section=what,
            strength=mpa(strength),
        ),
        bent.line,
        say("with the shear {used}", used=percent(used)),
    )


def _bound_lines(
    spans: Spans, lanes_mm: tuple[MM, ...], width_mm: MM, load: Load, rail: int, at_mm: MM
) -> Lines:
    """Return the line of the plain bound, of a load that rolls."""
    if not isinstance(load, Rolling):
        return ()
    most = lever_rule_nmm(spans, lanes_mm, width_mm, load, rail, at_mm)
    return (say("by the lever rule alone the load would give {moment}", moment=newton_metre(most)),)


def rails_of(design: Design, carried: Carried, forces: LeafForces) -> Rails | Unknown:
    """Return the rails of a leaf with what they carry, or why they cannot be judged."""
    inner = forces.body == "inner"
    leaf = design.inner_leaf if inner else design.outer_leaf
    section, material = leaf.rail_section, material_named(design, design.made_of.rails)
    timber = material.kind == "timber"
    if timber and (section.wall_mm or leaf.cross_fitting == "half_lap"):
        return Unknown(
            why=say(
                "Timber rails are judged solid and without notches in the side that is pulled"
                " (EN 1995-1-1, 6.5)."
            )
        )
    if not timber and _slender(section, material):
        return Unknown(
            why=say(
                "The walls of the rails are so thin that they buckle before they yield (class"
                " 4): take a thicker wall."
            ),
            clause="EN 1993-1-1, table 5.2",
        )
    along = forces.x_mm - (0.0 if inner else carried.spans.joint_mm)
    nets = list(_nets(leaf, None if inner else design.toe, design.workshop.slat_screw_mm, along.tolist()))
    joint, lapped = carried.joint, design.stop.kind == "lap" and not carried.spans.propped
    arm = bearing_arm_mm(design)
    return Rails(
        body=forces.body,
        spans=carried.spans,
        lanes_mm=leaf.rail_lanes_mm,
        width_mm=leaf.width_mm,
        loads=carried.loads,
        x_mm=forces.x_mm,
        section=section,
        material=material,
        service_class=design.use.service_class,
        along_mm=along,
        nets=tuple(nets),
        modulus_mm3=np.array([net.elastic_modulus_mm3 for net, _ in nets]),
        area=np.array([net.depth_mm if timber else _shear_area(section, net) for net, _ in nets]),
        self_moment_nmm=forces.self_weight_moment_nmm,
        self_shear_n=forces.self_weight_shear_n,
        moment_nmm=forces.moment_nmm,
        hogging_nmm=forces.hogging_nmm,
        shear_n=forces.shear_n,
        pressed_self_n=joint.self_weight_moment_nmm * joint.self_weight_share / arm if lapped else 0.0,
        pressed_n=joint.moment_nmm.max(axis=1)[:, None] / (arm if lapped else np.inf),
    )


def rail_strength_mpa(material: Material, section: Section, basis: Basis, service_class: ServiceClass) -> MPA:
    """Return the strength of a rail in bending; aluminium rails are welded.

    Raises StrengthUnknownError where the material holds none.
    """
    return bending_mpa(
        material, basis, service_class, depth_mm=section.depth_mm, welded=material.kind == "aluminium"
    )


def rail_capacity_nmm(design: Design, body: Literal["inner", "outer"], at_mm: Array) -> Array | None:
    """Return the moment that one rail takes in bending alone by limit states, W f, at places along its leaf.

    None where it is not known: the material has no strength given, or the walls are of class 4.
    """
    leaf, toe = (design.inner_leaf, None) if body == "inner" else (design.outer_leaf, design.toe)
    section, material = leaf.rail_section, material_named(design, design.made_of.rails)
    if _slender(section, material):
        return None
    try:
        strength = rail_strength_mpa(material, section, LIMIT_STATES, design.use.service_class)
    except StrengthUnknownError:
        return None
    nets = _nets(leaf, toe, design.workshop.slat_screw_mm, at_mm.tolist())
    return np.array([net.elastic_modulus_mm3 for net, _ in nets]) * strength


def _slender(section: Section, material: Material) -> bool:
    return section.kind in ("box", "tube") and wall_class(section, material.yield_mpa, material.kind) == 4


def _tapered_words(left: str, section: Section, toe: Toe) -> str:
    """Return what a taper makes of a rail: so much is left of its depth."""
    if toe.closed:
        return say(", tapered to {left} and closed", left=left)
    if section.wall_mm:
        return say(", tapered to {left}, open underneath", left=left)
    return say(", tapered to {left}", left=left)


def _nets(leaf: Leaf, toe: Toe | None, hole: MM, places_mm: list[MM]) -> Iterator[tuple[NetSection, str]]:
    """Yield what is left of a leaf's rail at places along the leaf, and words for what is missing."""
    section, depth = leaf.rail_section, leaf.rail_section.depth_mm
    drilled = (
        holed(section, hole),
        say(", less a hole of {hole}", hole=measure(hole)) if hole and section.kind == "box" else "",
    )
    notched = leaf.cross_fitting == "half_lap"
    half, crosses = leaf.cross_section.width_mm / 2 + 1e-6, leaf.cross_positions_mm if notched else ()
    tapered = leaf.length_mm - toe.length_mm if toe is not None and toe.kind == "taper" else np.inf
    for at_mm in places_mm:
        cut = drilled
        if toe is not None and at_mm > tapered:
            rest = (leaf.length_mm - at_mm) / toe.length_mm
            left = toe.thickness_mm + (depth - toe.thickness_mm) * rest
            cut = (
                cut_from_below(section, round(left, 3), closed=toe.closed),
                _tapered_words(measure(left), section, toe),
            )
        if any(abs(at - at_mm) <= half for at in crosses):
            cut = (
                cut_from_below(section, depth - leaf.half_lap_mm),
                say(", notched by {depth}", depth=measure(leaf.half_lap_mm)),
            )
        yield min(cut, drilled, key=lambda one: one[0].elastic_modulus_mm3)


def _shear_area(section: Section, net: NetSection) -> float:
    """Return the area that takes the shear: of a cut box the stumps of its sides."""
    if net.depth_mm >= section.depth_mm:
        return shear_area_mm2(section)
    if section.kind == "box":
        return min(2 * section.wall_mm * net.depth_mm, net.area_mm2)
    return net.area_mm2 * 2 / 3
