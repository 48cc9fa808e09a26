"""Stop bars, which hold the joint's moment, and their welds."""

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from rampdraft.figures import mm, mm2, newton, newton_mm, percent
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.joint import bearing_arm_mm
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Material
from rampdraft.model.section import Section
from rampdraft.prose import Lines, prose
from rampdraft.strength.formula import BENT, STRENGTH, F, Formula, M, Symbol, Worked
from rampdraft.strength.joining import Seam, seam, unweldable
from rampdraft.strength.metal import metal_strength_mpa
from rampdraft.strength.utilisation import MOMENT, Combination, Outcome, Unknown, worst_last
from rampdraft.units import MM, Array, ArrayRecord

_LENGTH: Final = Symbol("l", mm)
LEVER: Final = Formula(M / Symbol("e", mm), newton)
BEARING: Final = Formula(F / (Symbol("A", mm2) * STRENGTH), percent)
"""Half of a butting face bears: that farther from the hinge centre."""
WELD: Final = Formula(F / (2 * _LENGTH), newton_mm)
WELD_TURNED: Final = Formula(6 * F * Symbol("off", mm) / (2 * _LENGTH**2), newton_mm)
"""Two lines of weld of length l under a force that stands off their middle, elastically."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StopBars(ArrayRecord):
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
        head = f"{combination.words[load]}; stop bar {bar + 1} of {self.load_nmm.shape[1]}"
        bearing = "bar at the hinge line" if self.lap else f"half of the face of {section.text}"
        return Outcome(
            ratio=max(used.value, joined, crowded),
            worked=prose(
                _lines, head, moment, force, bearing, used, (straight, turned, along, weld, joined), crowded
            ),
            clause=f"{'elastic bending' if self.lap else 'bearing at yield'}; EN 1993-1-8, 4.5.3.3",
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
        f"weld: {straight.numbers_but('F')} = {straight.result}, {turned.numbers_but('F', 'l')} ="
        f" {turned.result}",
        f"together {newton_mm(along)} on {line.words} = {percent(joined)}",
    )
    local = (f"beside the pair of knuckles that brings most, a mm of the bar: {percent(crowded)}",)
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


def stop_bars(design: Design, carried: Carried) -> StopBars:
    """Return the stop bars with what they hold."""
    stop, lap, joint = design.stop, design.stop.kind == "lap", carried.joint
    leaf = design.outer_leaf if lap and stop.fixed_to == "outer" else design.inner_leaf
    rails, fittings = (
        material_named(design, name) for name in (design.made_of.rails, design.made_of.fittings)
    )
    # The force stands off the middle of the two lines of weld: a lapping bar's along it, a butting bar's
    # above it.
    above = abs(design.joint.height_mm + abs(stop.arm_mm) - stop.section.depth_mm / 4)
    wide = _beside_pairs_mm(design) if lap and joint.stop_moment_nmm.shape[1] == 1 else np.array([])
    return StopBars(
        lap=lap,
        section=stop.section,
        fittings=fittings,
        ends=((fittings, stop.section), (rails, leaf.rail_section)),
        throat_mm=design.joining.weld_throat_mm,
        length_mm=stop.fixed_length_mm,
        off_mm=stop.lap_mm + stop.fixed_length_mm / 2 if lap else above,
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
