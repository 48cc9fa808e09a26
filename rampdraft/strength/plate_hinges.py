"""Hinges of the bridge plate and of the toe flap under a wheel that brakes on them, and the screws of the
bridge plate's strip.

A wheel stands on the hinge line, all of its weight F on one knuckle between two half ones, and pushes along
the ramp with mu F besides. Pin: double shear, bending with the knuckles a washer's gap apart, bearing.
Knuckles: welded to the plate along both sides. The screws bear the push of both wheels of an axle, and where
a wheel stands on the plate's end beyond where it bears, they hold it down: the strip pries about its edge on
the deck. Left out: what the strip is screwed to, and how far a hinge goes across.
"""

from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.geometry.bridge import bridge_reach_mm
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import BoltClass, BoltSize, Design, Material
from rampdraft.model.section import Section
from rampdraft.rounding import greatest_at
from rampdraft.strength.formula import F, Formula, M, Symbol, Worked, factor
from rampdraft.strength.joining import (
    BOLT,
    Seam,
    bolt_shear_n,
    bolt_tension_n,
    pin_bearing_n,
    pin_moment_nmm,
    pin_shear_n,
    seam,
)
from rampdraft.strength.patches import Patches
from rampdraft.strength.resistance import metal_strength_mpa
from rampdraft.strength.utilisation import Combination, Outcome, Unknown, worst_last
from rampdraft.units import MM, ArrayRecord
from rampdraft.words.figures import measure, newton, newton_metre, newton_mm, number, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

BRAKES: Final = 0.5
"""Part of its weight with which a wheel that brakes or drives pushes along the ramp: common practice, rubber
on wet metal.
"""
GAP_MM: Final = 0.5
"""Between two knuckles; common practice."""
_FORCE, _LENGTH = Symbol("R", newton), Symbol("l", measure)
BOTH: Final = Formula(Symbol("gQ", factor) * F * (1 + BRAKES**2) ** 0.5, newton)
"""Weight and push of a wheel together."""
BENDS: Final = Formula(
    _FORCE * (2 * _LENGTH + 4 * Symbol("c", measure)) / 8, newton_metre, "EN 1993-1-8, table 3.10"
)
"""A pin in one knuckle l long between two half ones, a gap c apart."""
PIN: Final = Formula(
    (M / Symbol("MRd", newton_metre)) ** 2 + (_FORCE / (2 * Symbol("Fv,Rd", newton))) ** 2,
    percent,
    "EN 1993-1-8, table 3.10",
)
"""Of a pin in bending with shear; what it uses is the root, which grows as the load does."""
BEARS: Final = Formula(_FORCE / Symbol("Fb,Rd", newton), percent, "EN 1993-1-8, table 3.10")
KNUCKLE_WELD: Final = Formula(_FORCE / (2 * _LENGTH), newton_mm, "EN 1993-1-8, 4.5.3.3")
"""Along both sides of a knuckle."""
SLID: Final = Formula(Symbol("gQ", factor) * (BRAKES * F) / Symbol("n", number), newton)
"""Push of an axle of weight F on each of n screws."""
PRIED: Final = Formula(2 * Symbol("gQ", factor) * Symbol("U", newton) / Symbol("n", number), newton)
"""Pull on each of n screws in the middle of a strip that is lifted at its hinge by U."""
_BAR: Final = Section(kind="flat", depth_mm=1.0, width_mm=1.0)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class PlateHinge(ArrayRecord):
    """The hinge of a plate that wheels roll over."""

    patches: Patches
    pin_mm: MM
    knuckle_mm: MM
    throat_mm: MM
    material: Material

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of pin, bearing and weld at one knuckle, under the heaviest wheel.

        Raises StrengthUnknownError where the material holds no strength.
        """
        basis, rows = combination.basis, combination.once(self.patches.under)
        (row,) = greatest_at(self.patches.force_n[rows])
        patch = int(rows[row])
        load, pin = int(self.patches.load[patch]), self.pin_mm
        force = BOTH.of(basis.gamma_q, float(self.patches.force_n[patch]))
        strength = metal_strength_mpa(self.material, basis, welded=False)
        ultimate = strength if basis.name == "no permanent set" else self.material.ultimate_mpa
        shear_n = pin_shear_n(np.pi * pin**2 / 4, ultimate, basis)
        moment_nmm = pin_moment_nmm(np.pi * pin**3 / 32, strength, basis)
        bends = BENDS.of(force.value, self.knuckle_mm, GAP_MM)
        both = PIN.of(bends.value, moment_nmm, force.value, shear_n)
        used = both.value**0.5
        bears = BEARS.of(force.value, pin_bearing_n(self.knuckle_mm, pin, strength, basis))
        line = seam(self.throat_mm, basis, (self.material, _BAR))
        weld = KNUCKLE_WELD.of(force.value, self.knuckle_mm)
        joined = weld.value / line.n_mm
        return Outcome(
            ratio=max(used, bears.value, joined),
            worked=prose(_hinge_lines, combination.words[load], force, (bends, both), bears, (weld, line)),
            clause="EN 1993-1-8, 3.13.2, table 3.10, 4.5.3.3",
            load=load,
        )


def _hinge_lines(
    words: str, force: Worked, pin: tuple[Worked, Worked], bears: Worked, welded: tuple[Worked, Seam]
) -> Lines:
    (bends, both), (weld, line) = pin, welded
    used, joined = both.value**0.5, weld.value / line.n_mm
    told = say(
        "weld of a knuckle: {formula} on {seam} = {used}",
        formula=weld.line,
        seam=line.words,
        used=percent(joined),
    )
    return (
        say(
            "{load}: a wheel on the hinge, which pushes with {part} of its weight besides",
            load=words,
            part=percent(BRAKES),
        ),
        say("R = {numbers} = {result} on one knuckle", numbers=force.numbers, result=force.result),
        *worst_last(
            (
                used,
                (f"M = {bends.line}", say("{formula}, root {used}", formula=both.line, used=percent(used))),
            ),
            (bears.value, (say("bearing: {formula}", formula=bears.line),)),
            (joined, (told,)),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class StripScrews(ArrayRecord):
    """The screws of the bridge plate's strip on the deck."""

    patches: Patches
    lifts: float
    """What of a wheel's weight on the plate's end lifts its hinge: how far that is beyond where the plate
    bears, over how far that is from the hinge.
    """
    count: int
    size: BoltSize
    grade: BoltClass

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of a screw: the push of the heaviest axle with the pull of its wheel."""
        basis, rows, patches = combination.basis, combination.once(self.patches.under), self.patches
        wheels = np.where(patches.track_mm > 0, 2.0, 1.0) * patches.force_n
        (row,) = greatest_at(wheels[rows])
        patch = int(rows[row])
        load, axle = int(patches.load[patch]), float(wheels[patch])
        slid = SLID.of(basis.gamma_q, axle, self.count)
        pried = PRIED.of(basis.gamma_q, axle * self.lifts, self.count)
        used = BOLT.of(
            slid.value,
            bolt_shear_n(self.size, self.grade, basis),
            pried.value,
            bolt_tension_n(self.size, self.grade, basis),
        )
        return Outcome(
            ratio=used.value,
            worked=prose(_screw_lines, combination.words[load], slid, pried, used),
            clause=BOLT.clause,
            load=load,
        )


def _screw_lines(words: str, slid: Worked, pried: Worked, used: Worked) -> Lines:
    lifted = (
        say(
            "a wheel on the plate's end lifts it by U: Ft = {numbers} = {result}",
            numbers=pried.numbers,
            result=pried.result,
        )
        if pried.value
        else say("nothing lifts it")
    )
    return (
        say(
            "{load}: an axle pushes with {part} of its weight: Fv = {numbers} = {result}",
            load=words,
            part=percent(BRAKES),
            numbers=slid.numbers,
            result=slid.result,
        ),
        lifted,
        used.line,
    )


def flap_hinge(design: Design, wheels: Patches) -> PlateHinge | Unknown:
    """Return the hinge of the toe flap."""
    return _hinge(design, wheels, design.toe.hinge_pin_mm, design.toe.hinge_knuckle_mm)


def bridge_hinge(design: Design, wheels: Patches) -> PlateHinge | Unknown:
    """Return the hinge of the bridge plate."""
    return _hinge(design, wheels, design.bridge.hinge_pin_mm, design.bridge.hinge_knuckle_mm)


def _hinge(design: Design, wheels: Patches, pin: MM, knuckle: MM) -> PlateHinge | Unknown:
    material = material_named(design, design.made_of.fittings)
    if material.kind not in ("steel", "aluminium"):
        return Unknown(why=say("Only hinges of metal are judged: give the fittings a metal."))
    return PlateHinge(
        patches=wheels,
        pin_mm=pin,
        knuckle_mm=knuckle,
        throat_mm=design.joining.weld_throat_mm,
        material=material,
    )


def strip_screws(design: Design, wheels: Patches, nearest_mm: MM) -> StripScrews | Unknown:
    """Return the screws of the bridge plate's strip; it bears on the leaf so far from the deck edge at
    least.
    """
    bridge = design.bridge
    if not bridge.over_deck_mm:
        return Unknown(
            why=say("It has no strip on the deck that screws could hold: let it reach over the deck.")
        )
    out = max(0.0, bridge_reach_mm(design) - nearest_mm)
    return StripScrews(
        patches=wheels,
        lifts=out / nearest_mm,
        count=bridge.screws,
        size=bridge.screw_size,
        grade=design.joining.bolt_class,
    )
