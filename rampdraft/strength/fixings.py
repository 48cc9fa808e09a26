"""What holds the slats down where a wheel on their end lifts them off the next rail: screws or welds."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.errors import StrengthUnknownError
from rampdraft.geometry.members.leaves import TWO_SCREWS_FROM_MM
from rampdraft.model.catalogue import material_named, screw_through
from rampdraft.model.design import Design, Leaf, Material, ServiceClass
from rampdraft.model.section import Section
from rampdraft.rounding import greatest_at
from rampdraft.strength.formula import STRENGTH, THICKNESS, Formula, M, Symbol, Worked, factor
from rampdraft.strength.joining import seam, unweldable
from rampdraft.strength.patches import OnSlat, Patches
from rampdraft.strength.resistance import timber_design_value
from rampdraft.strength.surface import overhang_mm
from rampdraft.strength.utilisation import Basis, Combination, Outcome, Unknown
from rampdraft.units import MM, Array, ArrayRecord, N
from rampdraft.words.figures import figure, measure, newton, newton_metre, number, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say


def _density(value: float) -> str:
    return figure(value, "kg/m3", 0)


DENSITY_PART: Final = 1.2
"""Mean over characteristic density: EN 338:2016, C24, 420 / 350."""
_ACROSS, _DEEP = Symbol("d", measure), Symbol("lef", measure)
UPLIFT: Final = Formula(Symbol("gQ", factor) * (M / Symbol("bay", measure)), newton)
"""At the next rail, of a slat that a moment bends down beyond the outer one."""
OUT_OF_METAL: Final = Formula(0.45 * _ACROSS * THICKNESS * STRENGTH, newton, "EN 1993-1-3, table 8.2")
"""A screw out of a wall t thinner than its thread's pitch; of a thicker one it is 0.65 (from memory)."""
OUT_OF_TIMBER: Final = Formula(
    0.52 * _ACROSS**0.5 * _DEEP**0.9 * Symbol("rho", _density) ** 0.8,
    newton,
    "EN 1995-1-1, (8.38), (8.39)",
)
"""A screw square to the grain, fax d lef with fax = 0.52 d^-0.5 lef^-0.1 rho^0.8: characteristic (from
memory).
"""
PULL: Final = Formula(Symbol("gQ", factor) * Symbol("X", newton), newton)
"""At a rail that sinks less than its neighbours, or is lifted by the slat beyond them."""
HELD: Final = Formula(Symbol("U", newton) / (Symbol("n", number) * Symbol("Rd", newton)), percent)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Fixings(ArrayRecord):
    """How the slats of a leaf are held on its rails."""

    patches: Patches
    lifted_nmm: Array
    """Moment that each patch brings over the outer rail, (P,)."""
    bay_mm: MM
    pulled_n: Array
    """Pull at one rail of a slat that shares among them, (P,)."""
    rails: Material
    section: Section
    slats: Material
    service_class: ServiceClass
    screw_mm: MM
    """Diameter of a screw; 0 where slats are welded."""
    held_mm: MM
    """How much of a screw holds in a timber rail."""
    screws: int
    """At each crossing."""
    throat_mm: MM

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the crossing lifted most.

        Raises StrengthUnknownError where a material holds no strength.
        """
        basis, rows = combination.basis, combination.once(self.patches.under)
        (row,) = greatest_at(np.maximum(self.lifted_nmm[rows] / self.bay_mm, self.pulled_n[rows]))
        patch = int(rows[row])
        load = int(self.patches.load[patch])
        uplift = UPLIFT.of(basis.gamma_q, float(self.lifted_nmm[patch]), self.bay_mm)
        if self.pulled_n[patch] > self.lifted_nmm[patch] / self.bay_mm:
            uplift = PULL.of(basis.gamma_q, float(self.pulled_n[patch]))
        if self.screw_mm:
            clause, resistance, told = self._screw(basis)
        else:
            line = seam(self.throat_mm, basis, (self.rails, self.section), (self.slats, _SOLID))
            clause, resistance = "EN 1993-1-8, 4.5.3.3", 2 * self.section.width_mm * line.n_mm
            told = (
                say(
                    "two lines of weld, {width} each, on {seam}",
                    width=measure(self.section.width_mm),
                    seam=line.words,
                ),
            )
        used = HELD.of(uplift.value, self.screws, resistance)
        return Outcome(
            ratio=used.value,
            worked=prose(_lines, combination.words[load], uplift, told, used),
            clause=clause,
            load=load,
        )

    def _screw(self, basis: Basis) -> tuple[str, N, Lines]:
        """Return the clause, what one screw bears, and the lines of it."""
        if self.rails.kind == "timber":
            mean = self.rails.density_kg_m3
            found = OUT_OF_TIMBER.of(self.screw_mm, self.held_mm, mean / DENSITY_PART)
            least = timber_design_value(found.value, basis, self.service_class)
            return found.formula.clause, least, (f"Rk = {found.line}", f"Rd = {newton(least)}")
        strength = self.rails.yield_mpa if basis.name == "no permanent set" else self.rails.ultimate_mpa
        if not strength:
            raise StrengthUnknownError(self.rails.name, say("ultimate strength"))
        wall = min(self.section.wall_mm or self.section.depth_mm, self.screw_mm)
        pulled = OUT_OF_METAL.of(self.screw_mm, wall, strength / basis.gamma_m2)
        return pulled.formula.clause, pulled.value, (f"Rd = {pulled.line}",)


_SOLID: Final = Section(kind="flat", depth_mm=1.0, width_mm=1.0)
"""No wall of a slat limits its weld."""


def _lines(words: str, uplift: Worked, told: Lines, used: Worked) -> Lines:
    shares = uplift.formula is PULL
    return (
        say(
            "{load}: a slat as a beam on rails that sink, X = {force}", load=words, force=newton(uplift.of[1])
        )
        if shares
        else say(
            "{load}: at a slat's end, M = {moment} over the outer rail",
            load=words,
            moment=newton_metre(uplift.of[1]),
        ),
        say(
            "U = {numbers} = {result} up at one of them"
            if shares
            else "U = {numbers} = {result} up at the next rail",
            numbers=uplift.numbers,
            result=uplift.result,
        ),
        *told,
        used.line,
    )


def fixings(design: Design, leaf: Leaf, on_slat: OnSlat, pulled: Array) -> Fixings | Unknown | None:
    """Return how the slats of a leaf are held, or why that cannot be judged; None on a single rail. `pulled`
    is how each patch pulls at one rail of a slat of either leaf.
    """
    hole = design.workshop.slat_screw_mm
    if len(leaf.rail_lanes_mm) < 2:
        return None
    rails, slats = (material_named(design, name) for name in (design.made_of.rails, design.made_of.slats))
    if not hole and (why := unweldable(rails, slats)):
        return Unknown(why=say("{why} Give the slats a screw hole.", why=why))
    patches = on_slat.patches
    return Fixings(
        patches=patches,
        pulled_n=pulled,
        lifted_nmm=np.where(patches.at_edge, patches.at_end(overhang_mm(leaf), patches.across_mm), 0.0),
        bay_mm=min(right - left for left, right in _bays(leaf)),
        rails=rails,
        section=leaf.rail_section,
        slats=slats,
        service_class=design.use.service_class,
        screw_mm=screw_through(hole, rails.kind).diameter_mm if hole else 0.0,
        held_mm=design.workshop.screw_held_mm,
        screws=(2 if leaf.slat_width_mm >= TWO_SCREWS_FROM_MM else 1) if hole else 1,
        throat_mm=design.joining.weld_throat_mm,
    )


def _bays(leaf: Leaf) -> tuple[tuple[MM, MM], ...]:
    lanes = leaf.rail_lanes_mm
    return (lanes[0], lanes[1]), (lanes[-2], lanes[-1])
