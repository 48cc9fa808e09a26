"""What holds the joint up: stop bars and their welds, or props and their feet."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.members.prop_holes import PIN_ROOM_MM
from rampdraft.geometry.members.props import PROP_FOOT_THICKNESS_MM, prop_tubes
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.joint import bearing_arm_mm, bearing_height_mm
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Material, Prop
from rampdraft.model.section import Section
from rampdraft.strength.formula import BENT, PLATE, STRENGTH, F, Formula, M, Symbol, Worked
from rampdraft.strength.joining import Seam, pin_bearing_n, pin_shear_n, seam, unweldable
from rampdraft.strength.resistance import column_resistance_n, metal_strength_mpa, slender_walls
from rampdraft.strength.utilisation import FORCE, MOMENT, Combination, Outcome, Unknown, worst_last
from rampdraft.units import MM, MM2, Array, ArrayRecord, N
from rampdraft.words.figures import measure, mm2, mpa, newton, newton_metre, newton_mm, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import called, say

_LENGTH: Final = Symbol("l", measure)
LEVER: Final = Formula(M / Symbol("e", measure), newton)
BEARING: Final = Formula(F / (Symbol("A", mm2) * STRENGTH), percent)
"""Half of a butting face bears: that farther from the hinge centre."""
WELD: Final = Formula(F / (2 * _LENGTH), newton_mm)
WELD_TURNED: Final = Formula(6 * F * Symbol("off", measure) / (2 * _LENGTH**2), newton_mm)
"""Two lines of weld of length l under a force that stands off their middle, elastically."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stops(ArrayRecord):
    """The stop bars and what they hold, L loads, S bars, P pairs of knuckles."""

    lap: bool
    section: Section
    fittings: Material
    ends: tuple[tuple[Material, Section], ...]
    """What the weld joins."""
    throat_mm: MM
    length_mm: MM
    """Of each of the two lines of weld."""
    off_mm: MM
    """How far from their middle the force stands: of a lapping bar along it, of a butting one above it."""
    arm_mm: MM
    self_weight_nmm: float
    load_nmm: Array
    """(L, S)."""
    crowd_self_nmm_mm: Array
    """Moment that self-weight brings to a mm of one plate's width beside each pair, (P,); none of several
    bars.
    """
    crowd_nmm_mm: Array
    """(L, P)."""

    @property
    def along_mm(self) -> MM:
        """Return how much of the rail's wall the bar takes along it."""
        return self.length_mm

    def range_n_mm(self, loads: list[int]) -> Array:
        """Return the most that a mm of weld bears of each of these loads alone, (L,)."""
        force = self.load_nmm[loads].max(axis=1) / self.arm_mm
        straight, turned = WELD.at(force, self.length_mm), WELD_TURNED.at(force, self.off_mm, self.length_mm)
        return straight + turned if self.lap else np.hypot(straight, turned)

    def under(self, combination: Combination) -> Outcome | Unknown:
        """Return the outcome of the worst bar: itself, its weld, the plate beside the worst pair; or why not.

        Raises StrengthUnknownError where a material holds no strength.
        """
        basis, section = combination.basis, self.section
        load, bar = combination.governing(self.load_nmm[list(combination.loads)])
        moment = combination.worked(MOMENT, self.self_weight_nmm, float(self.load_nmm[load, bar]))
        force = LEVER.of(moment.value, self.arm_mm)
        strength = metal_strength_mpa(self.fittings, basis, welded=self.fittings.kind == "aluminium")
        modulus = properties(section).elastic_modulus_mm3
        if self.lap:
            used = BENT.of(moment.value, modulus, strength)
        else:
            used = BEARING.of(force.value, section.width_mm * section.depth_mm / 2, strength)
        if why := unweldable(*(material for material, _ in self.ends)):
            return Unknown(why=why)
        weld = seam(self.throat_mm, basis, *self.ends)
        straight = WELD.of(force.value, self.length_mm)
        turned = WELD_TURNED.of(force.value, self.off_mm, self.length_mm)
        along = (straight.value + turned.value) if self.lap else math.hypot(straight.value, turned.value)
        joined, crowded = along / weld.n_mm, 0.0
        if self.crowd_nmm_mm.size:
            most = combination.design_value(
                self.crowd_self_nmm_mm, self.crowd_nmm_mm[list(combination.loads)]
            )
            crowded = float(most.max()) / (modulus / section.width_mm * strength)
        head = say(
            "{load}; stop bar {bar} of {bars}",
            load=combination.words[load],
            bar=bar + 1,
            bars=self.load_nmm.shape[1],
        )
        bearing = (
            say("bar at the hinge line")
            if self.lap
            else say("half of the face of {section}", section=called(section.text))
        )
        return Outcome(
            ratio=max(used.value, joined, crowded),
            worked=prose(
                _lines, head, moment, force, bearing, used, (straight, turned, along, weld, joined), crowded
            ),
            clause=say(
                "elastic bending; {clause}" if self.lap else "bearing at yield; {clause}",
                clause="EN 1993-1-8, 4.5.3.3",
            ),
            load=load,
        )


def _lines(
    head: str,
    moment: Worked,
    force: Worked,
    bearing: str,
    used: Worked,
    weld: tuple[Worked, Worked, float, Seam, float],
    crowded: float,
) -> Lines:
    straight, turned, along, line, joined = weld
    welded = (
        say(
            "weld: {straight_numbers} = {straight}, {turned_numbers} = {turned}",
            straight_numbers=straight.numbers_but("F"),
            straight=straight.result,
            turned_numbers=turned.numbers_but("F", "l"),
            turned=turned.result,
        ),
        say(
            "together {along} on {seam} = {used}",
            along=newton_mm(along),
            seam=line.words,
            used=percent(joined),
        ),
    )
    local = (
        say(
            "beside the pair of knuckles that brings most, a mm of the bar: {used}",
            used=percent(crowded),
        ),
    )
    return (
        head,
        f"M = {moment.numbers} = {moment.result}",
        f"F = {force.line}",
        *worst_last(
            (used.value, (f"{bearing}: {used.line}",)),
            (joined, welded),
            *(((crowded, local),) if crowded > used.value else ()),
        ),
    )


def stop_bars(design: Design, carried: Carried, line_mm: tuple[MM, MM] | None) -> Stops | Unknown:
    """Return the stop bars with what they hold.

    `line_mm` is where along their leaf they touch its rails, as distances from the hinge line.
    """
    if line_mm is None:
        return Unknown(why=say("A stop bar touches no rail: nothing holds it."))
    stop, lap, joint = design.stop, design.stop.kind == "lap", carried.joint
    leaf = design.outer_leaf if lap and stop.fixed_to == "outer" else design.inner_leaf
    rails, fittings = (
        material_named(design, name) for name in (design.made_of.rails, design.made_of.fittings)
    )
    wide = _beside_pairs_mm(design) if lap and joint.stop_moment_nmm.shape[1] == 1 else np.array([])
    return Stops(
        lap=lap,
        section=stop.section,
        fittings=fittings,
        ends=((fittings, stop.section), (rails, leaf.rail_section)),
        throat_mm=design.joining.weld_throat_mm,
        length_mm=line_mm[1] - line_mm[0],
        # The force stands off the middle of the two lines of weld: a lapping bar's along it, a butting bar's
        # above it.
        off_mm=stop.lap_mm + sum(line_mm) / 2 if lap else abs(bearing_height_mm(design)),
        arm_mm=bearing_arm_mm(design),
        self_weight_nmm=joint.self_weight_moment_nmm / joint.stop_moment_nmm.shape[1],
        load_nmm=joint.stop_moment_nmm,
        crowd_self_nmm_mm=joint.self_weight_moment_nmm * joint.self_weight_share / wide,
        crowd_nmm_mm=joint.moment_nmm / wide if wide.size else np.zeros((len(carried.loads), 0)),
    )


def _beside_pairs_mm(design: Design) -> Array:
    """Return how much of the width of one lapping bar bears what each pair of knuckles brings; nothing of one
    pair alone.

    A wide plate over several pairs does not spread what one pair brings over all of itself: each pair is
    given the plate as far as its neighbours, which comes near what a grillage of rails, cross members and
    plate shows.
    """
    lanes, width = design.inner_leaf.rail_lanes_mm, design.stop.section.width_mm
    if len(lanes) == 1:
        return np.array([])
    bays = [right - left for left, right in pairwise(lanes)]
    ends = max(0.0, width / 2 - max(abs(lanes[0]), abs(lanes[-1])))
    return np.minimum(np.add([ends, *bays], [*bays, ends]), width)


BUCKLED: Final = Formula(
    Symbol("N", newton) / Symbol("Nb,Rd", newton), percent, "EN 1993-1-1, 6.3.1, curve c"
)
PIERCED: Final = Formula(
    Symbol("N", newton) / (Symbol("Anet", mm2) * STRENGTH), percent, "EN 1993-1-1, 6.2.2.2, 6.2.4 (3)"
)
"""What a prop's holes leave of it: they stand empty but for one, so they are taken off in compression too,
those of both pairs of walls as if at one height.
"""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Columns(ArrayRecord):
    """The props as columns, pinned at both ends, at their longest, of the inner tube all the way up."""

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
        length, section = self.prop.longest_mm, thinnest(self.prop)
        resistance = column_resistance_n(section, length, self.material, combination.basis)
        used = BUCKLED.of(force.value, resistance)
        strength = metal_strength_mpa(self.material, combination.basis, welded=False)
        pierced = PIERCED.of(force.value, net_area_mm2(self.prop), strength)
        head = say("{load}; prop {number}", load=combination.words[load], number=side + 1)
        return Outcome(
            ratio=max(used.value, pierced.value),
            worked=prose(_column_lines, head, force, (section, length), used, pierced),
            clause=BUCKLED.clause if used.value >= pierced.value else PIERCED.clause,
            load=load,
        )


def net_area_mm2(prop: Prop) -> MM2:
    """Return what the holes for its pin leave of a prop's section."""
    tubes, section = prop_tubes(prop), thinnest(prop)
    holes = 0.0
    if prop.pin_diameter_mm:
        faces, hole = (tubes.faces, tubes.hole_mm) if tubes else (1, prop.pin_diameter_mm + PIN_ROOM_MM)
        bored = _bored_mm2(section.depth_mm, hole) if section.kind == "round" else hole * section.depth_mm
        holes = faces * hole * 2 * section.wall_mm if section.wall_mm else bored
    return properties(section).area_mm2 - holes


def _bored_mm2(diameter: MM, hole: MM) -> MM2:
    """Return what a hole across the middle takes of a disc."""
    half = hole / diameter
    return diameter**2 / 2 * (math.asin(half) + half * math.sqrt(1 - half**2))


def thinnest(prop: Prop) -> Section:
    """Return the section that a prop is judged by all its length: that of the inner of its two tubes."""
    tubes = prop_tubes(prop)
    return tubes.inner if tubes else prop.section


def _column_lines(head: str, force: Worked, leg: tuple[Section, MM], used: Worked, pierced: Worked) -> Lines:
    (section, length), lines = leg, (head, f"N = {force.numbers} = {force.result}")
    buckles = say(
        "{section}, pinned at both ends, at its longest, {length}: Nb,Rd = {resistance}",
        section=called(section.text),
        length=measure(length),
        resistance=newton(used.of[1]),
    )
    return worst_last(
        (pierced.value, (*lines, say("what its holes leave: {formula}", formula=pierced.line))),
        (used.value, (*lines, buckles, used.short)),
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
            clause=say("elastic bending"),
            load=load,
        )


def _foot_lines(words: str, force: N, out: float, modulus: Worked, bent: Worked) -> Lines:
    side, _ = modulus.of
    return (
        say(
            "{load}: N = {force} spread evenly over {side} square",
            load=words,
            force=newton(force),
            side=measure(side),
        ),
        say("the plate stands out {out}: M = {moment}", out=measure(out), moment=newton_metre(bent.of[0])),
        f"W = {modulus.numbers} = {modulus.result}",
        say("{formula} with a strength of {strength}", formula=bent.short, strength=mpa(bent.of[2])),
    )


def columns(design: Design, carried: Carried) -> Columns | Unknown:
    """Return the props with what they carry, or why they cannot be judged."""
    prop, material = design.prop, material_named(design, design.made_of.rails)
    if material.kind == "timber":
        return Unknown(
            why=say("Timber props are not judged: the design holds no strength of timber along the grain.")
        )
    if slender_walls(prop.section, material) or slender_walls(thinnest(prop), material):
        return Unknown(
            why=say(
                "The walls of the props are so thin that they buckle before they yield (class"
                " 4): take a thicker wall."
            )
        )
    joint = carried.joint
    return Columns(prop=prop, material=material, self_weight_n=joint.self_weight_prop_n, load_n=joint.prop_n)


PINNED: Final = Formula(
    Symbol("N", newton) / (2 * Symbol("Fv,Rd", newton)), percent, "EN 1993-1-8, table 3.10"
)
"""Shear of a pin through a prop's tubes, in two planes."""
CRUSHED: Final = Formula(Symbol("N", newton) / Symbol("Fb,Rd", newton), percent, "EN 1993-1-8, table 3.10")
"""Bearing of a pin in what of a prop it goes through."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PropPins(ArrayRecord):
    """The pins that set the props' length: through both walls of the outer tube, the inner one close
    within.
    """

    prop: Prop
    leg: Material
    pin: Material
    self_weight_n: N
    load_n: Array
    """(L, props)."""

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the most loaded pin in shear, and in bearing on the tube.

        Raises StrengthUnknownError where a material holds no strength.
        """
        basis, diameter, section = combination.basis, self.prop.pin_diameter_mm, thinnest(self.prop)
        for material in (self.pin, self.leg):
            for strength, what in (
                (material.yield_mpa, say("yield strength")),
                (material.ultimate_mpa, say("ultimate strength")),
            ):
                if not strength:
                    raise StrengthUnknownError(material.name, what)
        load, side = combination.governing(self.load_n[list(combination.loads)])
        force = combination.worked(FORCE, self.self_weight_n, float(self.load_n[load, side]))
        cut = self.pin.yield_mpa if basis.name == "no permanent set" else self.pin.ultimate_mpa
        shear = PINNED.of(force.value, pin_shear_n(math.pi / 4 * diameter**2, cut, basis))
        thick = 2 * section.wall_mm or section.depth_mm
        of = (one.yield_mpa if basis.on == "yield" else one.ultimate_mpa for one in (self.pin, self.leg))
        bearing = CRUSHED.of(force.value, pin_bearing_n(thick, diameter, min(of), basis))
        return Outcome(
            ratio=max(shear.value, bearing.value),
            worked=prose(
                _prop_pin_lines,
                say("{load}; prop {number}", load=combination.words[load], number=side + 1),
                force,
                shear,
                bearing,
            ),
            clause=PINNED.clause,
            load=load,
        )


def _prop_pin_lines(head: str, force: Worked, shear: Worked, bearing: Worked) -> Lines:
    lines = head, f"N = {force.numbers} = {force.result}"
    return worst_last(
        (shear.value, (*lines, say("pin in two planes: {formula}", formula=shear.line))),
        (bearing.value, (*lines, say("bearing in the tube: {formula}", formula=bearing.line))),
    )


def prop_pins(design: Design, carried: Carried) -> PropPins | Unknown:
    """Return the props' pins with what they carry; a leg whose length is set by none cannot be judged."""
    if not design.prop.pin_diameter_mm:
        return Unknown(why=say("The props are set to length, and no pin is given: give its diameter."))
    return PropPins(
        prop=design.prop,
        leg=material_named(design, design.made_of.rails),
        pin=material_named(design, design.made_of.fittings),
        self_weight_n=carried.joint.self_weight_prop_n,
        load_n=carried.joint.prop_n,
    )


def feet(design: Design, carried: Carried) -> Feet:
    """Return the plates under the props with what they carry."""
    joint, material = carried.joint, material_named(design, design.made_of.fittings)
    return Feet(
        prop=design.prop, material=material, self_weight_n=joint.self_weight_prop_n, load_n=joint.prop_n
    )
