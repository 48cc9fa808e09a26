"""The props under the joint and their feet."""

from dataclasses import dataclass
from typing import Final

from rampdraft.figures import mm, mpa, newton, newton_metre, percent
from rampdraft.geometry.members.hinges import PROP_FOOT_THICKNESS_MM
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Material, Prop
from rampdraft.prose import Lines, prose
from rampdraft.strength.formula import BENT, PLATE, Formula, Symbol, Worked
from rampdraft.strength.metal import column_resistance_n, metal_strength_mpa, slender_walls
from rampdraft.strength.utilisation import FORCE, Combination, Outcome, Unknown
from rampdraft.units import Array, ArrayRecord, N

BUCKLED: Final = Formula(
    Symbol("N", newton) / Symbol("Nb,Rd", newton), percent, "EN 1993-1-1, 6.3.1, curve c"
)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Columns(ArrayRecord):
    """The props as columns, pinned at both ends, at their longest."""

    prop: Prop
    material: Material
    self_weight_n: N
    load_n: Array
    """(L, 2)."""

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the more loaded prop.

        Raises StrengthUnknownError where the material holds no strength or modulus.
        """
        load, side = combination.governing(self.load_n[list(combination.loads)])
        force = combination.worked(FORCE, self.self_weight_n, float(self.load_n[load, side]))
        length = self.prop.longest_mm
        resistance = column_resistance_n(self.prop.section, length, self.material, combination.basis)
        used = BUCKLED.of(force.value, resistance)
        head = f"{combination.words[load]}; prop {side + 1}"
        return Outcome(
            ratio=used.value,
            worked=prose(_column_lines, head, force, self.prop, used),
            clause=BUCKLED.clause,
            load=load,
        )


def _column_lines(head: str, force: Worked, prop: Prop, used: Worked) -> Lines:
    return (
        head,
        f"N = {force.numbers} = {force.result}",
        f"{prop.section.text}, pinned at both ends, at its longest, {mm(prop.longest_mm)}: Nb,Rd ="
        f" {newton(used.of[1])}",
        used.short,
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Feet(ArrayRecord):
    """The plates under the props, pressed evenly from below."""

    prop: Prop
    material: Material
    self_weight_n: N
    load_n: Array
    """(L, 2)."""

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the plate where it stands out beside the prop.

        Raises StrengthUnknownError where the material holds no strength.
        """
        load, side = combination.governing(self.load_n[list(combination.loads)])
        force = combination.design_value(self.self_weight_n, float(self.load_n[load, side]))
        strength = metal_strength_mpa(
            self.material, combination.basis, welded=self.material.kind == "aluminium"
        )
        out = max(0.0, (self.prop.foot_mm - self.prop.section.width_mm) / 2)
        modulus = PLATE.of(self.prop.foot_mm, PROP_FOOT_THICKNESS_MM)
        bent = BENT.of(force / self.prop.foot_mm * out**2 / 2, modulus.value, strength)
        return Outcome(
            ratio=bent.value,
            worked=prose(_foot_lines, combination.words[load], force, out, modulus, bent),
            clause="elastic bending",
            load=load,
        )


def _foot_lines(words: str, force: N, out: float, modulus: Worked, bent: Worked) -> Lines:
    side, _ = modulus.of
    return (
        f"{words}: N = {newton(force)} spread evenly over {mm(side)} square",
        f"the plate stands out {mm(out)}: M = {newton_metre(bent.of[0])}",
        f"W = {modulus.numbers} = {modulus.result}",
        f"{bent.short} with a strength of {mpa(bent.of[2])}",
    )


def columns(design: Design, carried: Carried) -> Columns | Unknown:
    """Return the props with what they carry, or why they cannot be judged."""
    prop, material = design.prop, material_named(design, design.made_of.rails)
    if material.kind == "timber":
        return Unknown(
            why="Timber props are not judged: the design holds no strength of timber along the grain."
        )
    if slender_walls(prop.section, material):
        return Unknown(
            why="The walls of the props are so thin that they buckle before they yield (class 4): take a"
            " thicker wall."
        )
    joint = carried.joint
    return Columns(prop=prop, material=material, self_weight_n=joint.self_weight_prop_n, load_n=joint.prop_n)


def feet(design: Design, carried: Carried) -> Feet:
    """Return the plates under the props with what they carry."""
    joint, material = carried.joint, material_named(design, design.made_of.fittings)
    return Feet(
        prop=design.prop, material=material, self_weight_n=joint.self_weight_prop_n, load_n=joint.prop_n
    )
