"""The hinge lines: what comes to their pins, and the pins."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.lanes import joint_pairs_mm
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.design import Design, Hinge, Material
from rampdraft.model.section import Section
from rampdraft.strength.formula import STRENGTH, F, Formula, Symbol, Worked
from rampdraft.strength.joining import (
    pin_bearing_n,
    pin_moment_nmm,
    pin_moment_single_shear_nmm,
    pin_shear_n,
)
from rampdraft.strength.resistance import metal_strength_mpa
from rampdraft.strength.utilisation import FORCE, MOMENT, Combination, Outcome
from rampdraft.units import MM, Array, ArrayRecord, N
from rampdraft.words.figures import measure, newton, newton_metre, percent, size
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

_SHEAR, _PRESSED = Symbol("V", newton), Symbol("M / e", newton)
PRESSED: Final = Formula(MOMENT.term / Symbol("e", measure), newton)
"""What a stop presses on the pins: the design moment over its lever arm."""
BY_LAP: Final = Formula(_SHEAR + _PRESSED, newton)
"""Beside a lapping bar, which presses square to the leaf as the shear does."""
BY_FACE: Final = Formula((_SHEAR**2 + _PRESSED**2) ** 0.5, newton)
"""Beside butting faces, which press along the leaf."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PinForce:
    """The force of the most loaded pin, and how it comes about."""

    force_n: N
    load: int
    pair: int
    """Counted from 0."""
    head: str
    """Words of the load and of the place."""
    along_n: N
    """Along the leaf: what butting faces press."""
    square_n: N
    """Square to it."""
    pressed_n: N
    """By a stop; nothing at the deck."""
    worked: tuple[Worked, ...]
    """The force itself at the deck hinge; shear, what the stop presses, and both together at the joint."""

    def lines(self) -> Lines:
        """Return the lines of its working."""
        if len(self.worked) == 1:
            return self.head, f"F = {self.worked[0].numbers} = {self.worked[0].result}"
        shear, pressed, both = self.worked
        lines = self.head, f"V = {shear.numbers} = {shear.result}"
        if not pressed.value:
            return lines
        return *lines, f"M / e = {pressed.numbers} = {pressed.result}", f"F = {both.short}"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class DeckForces(ArrayRecord):
    """What the knuckles at the deck carry, L loads, P knuckles."""

    self_weight_n: N
    load_n: Array
    """(L, P)."""
    gaps_mm: tuple[MM, ...]
    """Between the knuckles that a pin joins, (P,)."""

    def parts_n(self, loads: list[int]) -> tuple[Array, Array]:
        """Return what these loads alone bring along the leaf and square to it, (L, P) each."""
        return np.zeros((len(loads), len(self.gaps_mm))), self.load_n[loads]

    def pin(self, combination: Combination) -> PinForce:
        """Return the force of the most loaded pin."""
        load, pair = combination.governing(self.load_n[list(combination.loads)])
        force = combination.worked(FORCE, self.self_weight_n, float(self.load_n[load, pair]))
        return PinForce(
            force_n=force.value,
            load=load,
            pair=pair,
            head=say("{load}; knuckle {number}", load=combination.words[load], number=pair + 1),
            along_n=0.0,
            square_n=force.value,
            pressed_n=0.0,
            worked=(force,),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PairForces(ArrayRecord):
    """What comes to the pairs of knuckles at the joint, L loads, P pairs."""

    self_weight_n: N
    self_weight_nmm: float
    load_n: Array
    """Shear, (L, P)."""
    load_nmm: Array
    """Moment that the stop holds, (L, P); 0 over a prop."""
    arm_mm: MM
    """Of the stop; over a prop, where it holds nothing, any."""
    by: Formula
    gaps_mm: tuple[MM, ...]

    def parts_n(self, loads: list[int]) -> tuple[Array, Array]:
        """Return what these loads alone bring along the leaf and square to it, (L, P) each."""
        shear, pressed = self.load_n[loads], self.load_nmm[loads] / self.arm_mm
        return (pressed, shear) if self.by is BY_FACE else (np.zeros(shear.shape), shear + pressed)

    def pin(self, combination: Combination) -> PinForce:
        """Return the force of the most loaded pin."""
        chosen = list(combination.loads)
        shears = combination.design_value(self.self_weight_n, self.load_n[chosen])
        pressed = combination.design_value(self.self_weight_nmm, self.load_nmm[chosen]) / self.arm_mm
        load, pair = combination.governing(self.by.at(shears, pressed))
        shear = combination.worked(FORCE, self.self_weight_n, float(self.load_n[load, pair]))
        gamma_g, gamma_q = combination.basis.gamma_g, combination.basis.gamma_q
        press = PRESSED.of(
            gamma_g, self.self_weight_nmm, gamma_q, float(self.load_nmm[load, pair]), self.arm_mm
        )
        both, faces = self.by.of(shear.value, press.value), self.by is BY_FACE
        return PinForce(
            force_n=both.value,
            load=load,
            pair=pair,
            head=say("{load}; pair {number}", load=combination.words[load], number=pair + 1),
            along_n=press.value if faces else 0.0,
            square_n=shear.value if faces else both.value,
            pressed_n=press.value,
            worked=(shear, press, both),
        )


def deck_forces(design: Design, carried: Carried) -> DeckForces:
    """Return what comes to the knuckles at the deck."""
    return DeckForces(
        self_weight_n=carried.self_weight_hinge_n,
        load_n=carried.hinge_n,
        gaps_mm=(design.deck_hinge.side_gap_mm,) * carried.hinge_n.shape[1],
    )


def joint_forces(design: Design, carried: Carried) -> PairForces:
    """Return what comes to the pairs of knuckles at the joint."""
    joint, length, propped = carried.joint, design.joint.knuckle_length_mm, carried.spans.propped
    return PairForces(
        self_weight_n=joint.self_weight_shear_n / joint.shear_n.shape[1],
        self_weight_nmm=0.0 if propped else joint.self_weight_moment_nmm * joint.self_weight_share,
        load_n=joint.shear_n,
        load_nmm=joint.moment_nmm,
        arm_mm=1.0 if propped else bearing_arm_mm(design),
        by=BY_LAP if design.stop.kind == "lap" else BY_FACE,
        gaps_mm=tuple(max(0.0, abs(one - other) - length) for one, other in joint_pairs_mm(design)),
    )


_LENGTH: Final = Symbol("l", measure)
BOTH: Final = Formula(
    (Symbol("Fv / Fv,Rd", percent) ** 2 + Symbol("M / MRd", percent) ** 2) ** 0.5,
    percent,
    "EN 1993-1-8, table 3.10",
)
"""Shear and bending of a pin together."""
PULLED: Final = Formula(F / ((Symbol("K", measure) - Symbol("P", measure)) * _LENGTH * STRENGTH), percent)
"""A knuckle K across, bored to P and l long, pulled apart beside its pin."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pins:
    """The pins of a hinge line and the knuckles round them."""

    hinge: Hinge
    forces: DeckForces | PairForces
    material: Material

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the most loaded pin in single shear, and of its knuckle.

        Raises StrengthUnknownError where the material holds no strength.
        """
        basis, material, hinge = combination.basis, self.material, self.hinge
        for strength, what in (
            (material.yield_mpa, say("yield strength")), (material.ultimate_mpa, say("ultimate strength")),
        ):  # fmt: skip
            if not strength:
                raise StrengthUnknownError(material.name, what)
        force = combination.once(self.forces.pin)
        diameter, length, gap = (
            hinge.pin_diameter_mm,
            hinge.knuckle_length_mm,
            self.forces.gaps_mm[force.pair],
        )
        bar = properties(round_bar(diameter))
        crushed = material.yield_mpa if basis.on == "yield" else material.ultimate_mpa
        cut = material.yield_mpa if basis.name == "no permanent set" else material.ultimate_mpa
        bent = pin_moment_single_shear_nmm(force.force_n, length, gap)
        both = BOTH.of(
            force.force_n / pin_shear_n(bar.area_mm2, cut, basis),
            bent / pin_moment_nmm(bar.elastic_modulus_mm3, crushed, basis),
        )
        bearing = force.force_n / pin_bearing_n(length, diameter, crushed, basis)
        strength = metal_strength_mpa(material, basis, welded=True)
        pulled = PULLED.of(force.force_n, hinge.knuckle_diameter_mm, diameter, length, strength)
        return Outcome(
            ratio=max(both.value, bearing, pulled.value),
            worked=prose(_pin_lines, force, hinge, gap, bent, bearing, both, pulled),
            clause="EN 1993-1-8, table 3.10",
            load=force.load,
        )


def _pin_lines(
    force: PinForce, hinge: Hinge, gap: MM, bent: float, bearing: float, both: Worked, pulled: Worked
) -> Lines:
    shear, bending = both.of
    length, hole = measure(hinge.knuckle_length_mm), size(hinge.pin_diameter_mm)
    return (
        *force.lines(),
        say(
            "shear of Ø{pin}: {shear}; bearing over {length}: {bearing}",
            pin=hole,
            shear=percent(shear),
            length=length,
            bearing=percent(bearing),
        ),
        say(
            "M in single shear between knuckles {length} long, {gap} apart = {moment}: {bending}",
            length=length,
            gap=measure(gap),
            moment=newton_metre(bent),
            bending=percent(bending),
        ),
        say("shear and bending together: {numbers} = {result}", numbers=both.numbers, result=both.result),
        say("knuckle pulled apart beside the pin, {formula}", formula=pulled.short),
    )


def round_bar(diameter_mm: MM) -> Section:
    """Return a round bar of this diameter."""
    return Section(kind="round", depth_mm=diameter_mm, width_mm=diameter_mm)
