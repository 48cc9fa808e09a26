"""The carrier's brackets: a stub that holds the knuckle, welded to a plate that is bolted on; and what the
springs at the deck hinge bring to them.
"""

import math
from dataclasses import dataclass, replace
from typing import Final

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.members.brackets import bolts_below_mm, bracket_back_mm, stub_top_mm
from rampdraft.geometry.members.hinges import knuckle_weld
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.loading.loads import Rolling
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import bolt_hole_mm, bolt_row, material_named
from rampdraft.model.design import Design, Joining, Material
from rampdraft.strength.formula import BENT, F, Formula, M, Symbol, Worked, factor
from rampdraft.strength.joining import (
    BOLT,
    BOLT_PULLED,
    Seam,
    bolt_shear_n,
    bolt_tension_n,
    seam,
    unweldable,
)
from rampdraft.strength.joint import DeckForces, PinForce, round_bar
from rampdraft.strength.knuckles import KnuckleWelds
from rampdraft.strength.resistance import metal_strength_mpa
from rampdraft.strength.utilisation import Basis, Combination, Outcome, Unknown, worst_last
from rampdraft.units import MM, N
from rampdraft.words.figures import measure, mpa, newton, newton_metre, newton_mm, number, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import called, say

_COUNT, _OUT = Symbol("n", number), Symbol("out", measure)
AT_PLATE: Final = Formula(F * _OUT + Symbol("gG", factor) * Symbol("T", newton_metre), newton_metre)
"""Moment of a bracket at its plate: the force out before it, and the springs' moment T, which goes on all the
time.
"""
BOLT_SHEAR: Final = Formula(F / _COUNT, newton)
BOLT_PULL: Final = Formula(M / (Symbol("arm", measure) * _COUNT), newton)
"""The arm of the bolts goes to where the bracket presses."""
PLASTIC: Final = Formula(
    Symbol("l", measure) * Symbol("t", measure) ** 2 * Symbol("f", mpa) / 4,
    newton_metre,
    "EN 1993-1-8, table 6.2",
)
"""Plastic moment of a plate beside its stub."""
_MP, _M, _EDGE, _ALL = (
    Symbol("Mp", newton_metre),
    Symbol("m", measure),
    Symbol("e", measure),
    Symbol("nFt,Rd", newton),
)
FLANGE: Final = Formula(4 * _MP / _M, newton, "EN 1993-1-8, table 6.2, mode 1")
PRIED: Final = Formula((2 * _MP + _EDGE * _ALL) / (_M + _EDGE), newton, "EN 1993-1-8, table 6.2, mode 2")
"""The plate yields at the stub and pries on its edge."""
WELD_BENT: Final = Formula(3 * M / Symbol("h", measure) ** 2, newton_mm)
WELD_SHEARED: Final = Formula(F / (2 * Symbol("h", measure)), newton_mm, "EN 1993-1-8, 4.5.3.3")
"""Two lines of weld as high as the stub, elastically."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Springs:
    """What the assist springs bring to one bracket of the carrier while the ramp is down."""

    force_n: N = 0.0
    moment_nmm: float = 0.0


def springs_of(design: Design, carried: Carried) -> Springs:
    """Return what the springs bring to the bracket that has most of them, the ramp on its steepest slope.

    A torsion spring turns its bracket out and down with what it lifts the leaf with, and the hinge bears
    what the ground is relieved of, T / (A + B). A gas spring, fixed on the carrier, presses its own force
    on the hinge.
    """
    assist, brackets = design.assist, len(design.inner_leaf.rail_lanes_mm)
    beside = math.ceil(assist.count / brackets)
    if assist.kind == "gas":
        return Springs(force_n=beside * assist.force_n)
    if assist.kind == "none":
        return Springs()
    grade = max((load.grade for load in carried.loads if isinstance(load, Rolling)), default=0.0)
    one = assist.rate_nmm_deg * max(0.0, assist.slack_deg + math.degrees(math.atan(max(grade, 0.0))))
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    return Springs(force_n=assist.count * one / length / brackets, moment_nmm=beside * one)


Pressed = tuple[PinForce, N, Worked]


def _head(pin: PinForce, force: N, moment: Worked) -> Lines:
    """Return the first lines of a working."""
    springs = (say("with the springs F = {force}", force=newton(force)),) if force != pin.force_n else ()
    return *pin.lines(), *springs, f"M = {moment.line}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Bracket:
    """What the stub, its plate and the bolts bear."""

    out_mm: MM
    """How far the deck hinge stands out from the back of the plate."""
    arm_mm: MM
    """From the row of bolts down to where the bracket presses: its lower edge, or the carrier's end's."""
    forces: DeckForces
    springs: Springs
    joining: Joining
    material: Material

    def pressed(self, combination: Combination) -> Pressed:
        """Return the force of the most loaded pin, with the springs' part, and the moment at the plate."""
        pin, gamma_g = combination.once(self.forces.pin), combination.basis.gamma_g
        force = pin.force_n + gamma_g * self.springs.force_n
        return pin, force, AT_PLATE.of(force, self.out_mm, gamma_g, self.springs.moment_nmm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Bolts:
    """The bolts of a bracket, in one row, with the plate that pries on them."""

    bracket: Bracket

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of a bolt in shear with tension, or of the plate.

        Raises StrengthUnknownError where the plate's material holds no strength.
        """
        joining, basis = self.bracket.joining, combination.basis
        pin, force, moment = pressed = self.bracket.pressed(combination)
        shear = BOLT_SHEAR.of(force, joining.bolt_count)
        pull = BOLT_PULL.of(moment.value, self.bracket.arm_mm, joining.bolt_count)
        size, grade = joining.bolt_size, joining.bolt_class
        sheared_n, pulled_n = bolt_shear_n(size, grade, basis), bolt_tension_n(size, grade, basis)
        flange, pried = self._plate(basis, pulled_n)
        most = joining.bolt_count * pulled_n
        raised = pull.value * max(1.0, most / pried.value)
        both = BOLT.of(shear.value, sheared_n, raised, pulled_n)
        pulled = BOLT_PULLED.of(raised, pulled_n)
        plate = joining.bolt_count * pull.value / flange.value
        of_plate = flange, plate, pried, raised
        return Outcome(
            ratio=max(both.value, pulled.value, plate),
            worked=prose(_bolt_lines, pressed, shear, pull, of_plate, both, pulled),
            clause="EN 1993-1-8, tables 3.4, 6.2",
            load=pin.load,
        )

    def _plate(self, basis: Basis, bolt_n: N) -> tuple[Worked, Worked]:
        """Return what the pulls of the row may be for the plate alone, and for plate and bolts together.

        EN 1993-1-8, 6.2.4: m from the bolt to 0.8 of the weld's leg, e no more than 1.25 m, and an effective
        length of 2 pi m, 4 m + 1.25 e, or the height of the plate. A single bolt has half of the plate.
        """
        joining = self.bracket.joining
        beside = max(joining.bolt_beside_mm - 0.8 * joining.weld_leg_mm, 1.0)
        edge = min(joining.bolt_edge_mm, 1.25 * beside)
        length = min(
            2 * math.pi * beside,
            4 * beside + 1.25 * joining.bolt_edge_mm,
            joining.bolt_arm_mm + joining.bolt_edge_mm,
        )
        strength = metal_strength_mpa(self.bracket.material, basis, welded=True)
        part = min(2, joining.bolt_count) / 2
        plastic = PLASTIC.of(part * length, joining.bracket_plate_mm, strength)
        flange = FLANGE.of(plastic.value, beside)
        return flange, PRIED.of(plastic.value, edge, joining.bolt_count * bolt_n, beside)


def _bolt_lines(
    pressed: Pressed,
    shear: Worked,
    pull: Worked,
    plate: tuple[Worked, float, Worked, float],
    both: Worked,
    pulled: Worked,
) -> Lines:
    flange, used, pried, raised = plate
    return (
        *_head(*pressed),
        say(
            "a bolt: shear = {shear_numbers} = {shear}; pull = {pull_numbers} = {pull}",
            shear_numbers=shear.numbers_but("F"),
            shear=shear.result,
            pull_numbers=pull.numbers_but("M"),
            pull=pull.result,
        ),
        say("the row may pull, with the plate prying, {formula}", formula=pried.line),
        say("so that a bolt is pulled with {force}", force=newton(raised)),
        *worst_last(
            (
                used,
                (say("the plate alone bears {formula}: {used}", formula=flange.line, used=percent(used)),),
            ),
            (
                max(both.value, pulled.value),
                (
                    say(
                        "bolt: shear {shear}, pull {pull}",
                        shear=newton(both.of[1]),
                        pull=newton(pulled.of[1]),
                    ),
                    say(
                        "{symbols}, not less than {least} = {used}",
                        symbols=both.symbols,
                        least=pulled.symbols,
                        used=percent(max(both.value, pulled.value)),
                    ),
                ),
            ),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Stubs:
    """The stubs between the plates and the carrier's knuckles, with their welds."""

    bracket: Bracket
    knuckle: KnuckleWelds

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of a stub at its plate, of its weld there, or of its knuckle's.

        Raises StrengthUnknownError where the material holds no strength.
        """
        section, material = self.bracket.joining.bracket_section, self.bracket.material
        if not material.yield_mpa:
            raise StrengthUnknownError(material.name, say("yield strength"))
        basis = combination.basis
        pin, force, moment = pressed = self.bracket.pressed(combination)
        strength = metal_strength_mpa(material, basis, welded=True)
        bent = BENT.of(moment.value, properties(section).elastic_modulus_mm3, strength)
        line = seam(self.knuckle.throat_mm, basis, (material, section))
        depth = section.depth_mm
        stress = math.hypot(WELD_BENT.of(moment.value, depth).value, WELD_SHEARED.of(force, depth).value)
        weld = stress / line.n_mm
        more = force / pin.force_n if pin.force_n else 1.0
        held = more * self.knuckle.worst(pin)[2].value / line.n_mm
        return Outcome(
            ratio=max(bent.value, weld, held),
            worked=prose(_stub_lines, pressed, called(section.text), bent, (stress, line, weld), held),
            clause=say("elastic bending; {clause}", clause="EN 1993-1-8, 2.5, 4.5.3.3"),
            load=pin.load,
        )


def _stub_lines(
    pressed: Pressed, section: str, bent: Worked, weld: tuple[float, Seam, float], held: float
) -> Lines:
    stress, line, used = weld
    return (
        *_head(*pressed),
        *worst_last(
            (
                bent.value,
                (say("stub {section} at its plate: {formula}", section=section, formula=bent.line),),
            ),
            (
                used,
                (
                    say(
                        "weld to its plate: {stress} on {seam} = {used}",
                        stress=newton_mm(stress),
                        seam=line.words,
                        used=percent(used),
                    ),
                ),
            ),
            (held, (say("its knuckle's weld, as of the leaf's: {used}", used=percent(held)),)),
        ),
    )


def stubs(bracket: Bracket, design: Design) -> Stubs | Unknown:
    """Return the stubs with their knuckles, or why they cannot be judged."""
    if why := unweldable(bracket.material):
        return Unknown(why=why)
    hinge, section = design.deck_hinge, design.joining.bracket_section
    level = replace(hinge, height_mm=-hinge.below_mm - stub_top_mm(design))
    weld = knuckle_weld(level, replace(design.inner_leaf, rail_section=section), 0.0)
    if weld is None:
        return Unknown(
            why=say("The carrier's knuckle does not lie on its stub: nothing is there to weld it to.")
        )
    knuckle = KnuckleWelds(
        hinge=level,
        forces=bracket.forces,
        welds=(weld,),
        shift_mm=0.0,
        throat_mm=design.joining.weld_throat_mm,
        ends=((bracket.material, round_bar(hinge.knuckle_diameter_mm)), (bracket.material, section)),
    )
    return Stubs(bracket=bracket, knuckle=knuckle)


def bracket_of(design: Design, carried: Carried, forces: DeckForces) -> Bracket:
    """Return a bracket with what it carries."""
    return Bracket(
        out_mm=max(0.0, design.deck_hinge.out_mm - bracket_back_mm(design)),
        arm_mm=min(design.joining.bolt_arm_mm, design.carrier.end_depth_mm - bolts_below_mm(design)),
        forces=forces,
        springs=springs_of(design, carried),
        joining=design.joining,
        material=material_named(design, design.made_of.fittings),
    )


def bolts_of(bracket: Bracket) -> Bolts | Unknown:
    """Return the bolts of a bracket, or why they cannot be judged."""
    if bracket.arm_mm <= 0:
        return Unknown(
            why=say("The bolts of the brackets lie below the carrier's end: nothing is there to hold them.")
        )
    return Bolts(bracket=bracket)


LEAST_EDGE: Final = 1.2
"""Of the hole, from its middle to the edge of a plate: EN 1993-1-8, table 3.3."""


def least_beside_mm(joining: Joining) -> MM:
    """Return how far from the side of the stub the bolts must be: half a washer (ISO 7089) and the leg of the
    stub's weld; common practice.
    """
    return bolt_row(joining.bolt_size).washer_mm / 2 + joining.weld_leg_mm


def least_edge_mm(joining: Joining) -> MM:
    """Return how far from the plate's edge the bolts must be, 1.2 d0: EN 1993-1-8, table 3.3."""
    return LEAST_EDGE * bolt_hole_mm(joining.bolt_size)
