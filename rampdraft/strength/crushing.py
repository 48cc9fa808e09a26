"""Hollow rails under the tip of a lapping stop bar, which presses on their walls from one side."""

import math
from dataclasses import dataclass
from typing import Final

from rampdraft.geometry.lanes import rail_intervals_mm, stop_intervals_mm
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Material
from rampdraft.model.section import Section
from rampdraft.strength.formula import STRENGTH, THICKNESS, F, Formula, Symbol, Worked, factor
from rampdraft.strength.joint import PairForces, PinForce
from rampdraft.strength.resistance import metal_strength_mpa
from rampdraft.strength.utilisation import Combination, Outcome, Unknown
from rampdraft.units import MM
from rampdraft.words.figures import mpa, newton, number, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import called, say

CLAUSE: Final = "EN 1993-1-8, tables 7.3 and 7.13"
_KN, _SHAPE = Symbol("kn", factor), Symbol("s", factor)
CRUSHED: Final = Formula(
    _KN * STRENGTH * THICKNESS * (10 * THICKNESS) * (Symbol("walls", number) / 2), newton, CLAUSE
)
"""Side walls under a plate as wide as the rail, kn f t (2 t1 + 10 t) / gM5: table 7.13 (from memory but for
2 t1 + 10 t). A tip has no length t1 along the rail; gM5 is 1.0.
"""
DENTED: Final = Formula(_KN * STRENGTH * THICKNESS**2 * _SHAPE, newton, CLAUSE)
"""The face under a plate narrower than the rail, s = (2 + 2.8 b) / root of (1 - 0.9 b), b the part of the
width (table 7.13); of a tube s = 4 + 20 b^2 (table 7.3). Both from memory.
"""
USED: Final = Formula(F / Symbol("NRd", newton), percent)
_FACE: Final = 0.85
"""Part of the width above which a plate presses on the side walls."""
_BENT: Final = (1.3, 0.4, 0.9)
"""kn = 1.3 - 0.4 n / b of a rail that its own moment presses to its limit, n = 1, and no more than is left
where b = 1.
"""
_LEAST_KN: Final = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class PressedRails:
    """The rails that lapping bars press with their tips."""

    section: Section
    material: Material
    forces: PairForces
    part: float
    """How much of the rail's width the bar covers, at the rail that it covers least of."""
    walls: int
    """How many of the side walls lie under it there."""

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the rail pressed most.

        Raises StrengthUnknownError where the material holds no strength.
        """
        force = combination.once(self.forces.pin)
        strength = metal_strength_mpa(self.material, combination.basis, welded=False)
        resistance = self._resistance(strength)
        used = USED.of(force.pressed_n, resistance.value)
        return Outcome(
            ratio=used.value,
            worked=prose(_lines, force, self.section, self.part, resistance, used),
            clause=CLAUSE,
            load=force.load,
        )

    def _resistance(self, strength: float) -> Worked:
        most, slope, whole = _BENT
        kn = max(_LEAST_KN, min(whole, most - slope / self.part))
        wall = self.section.wall_mm
        if self.section.kind == "tube":
            return DENTED.of(kn, strength, wall, 4 + 20 * self.part**2)
        if self.walls:
            return CRUSHED.of(whole, strength, wall, self.walls)
        part = min(self.part, _FACE)
        return DENTED.of(kn, strength, wall, (2 + 2.8 * part) / math.sqrt(1 - 0.9 * part))


def _lines(force: PinForce, section: Section, part: float, resistance: Worked, used: Worked) -> Lines:
    return (
        *force.lines()[:-1],
        say(
            "the tip presses on {part} of the width of {section}, f = {strength}",
            part=percent(part),
            section=called(section.text),
            strength=mpa(resistance.of[1]),
        ),
        f"NRd = {resistance.line}",
        used.line,
    )


def pressed_rails(design: Design, forces: PairForces) -> PressedRails | Unknown | None:
    """Return the rails under the bars' tips, or why they cannot be judged; None of solid metal."""
    stop = design.stop
    leaf = design.outer_leaf if stop.fixed_to == "inner" else design.inner_leaf
    material, section = material_named(design, design.made_of.rails), leaf.rail_section
    if material.kind == "timber":
        return Unknown(
            why=say("Timber under the bar's tip is not judged: no strength across the grain is known.")
        )
    if not section.wall_mm:
        return None
    found = [_covered(rail, design) for rail in rail_intervals_mm(leaf)]
    pressed = [one for one in found if one[0] > 0]
    if not pressed:
        return Unknown(
            why=say("No rail lies under the tip of a stop bar: nothing is there for it to press on.")
        )
    part, walls = min(pressed)
    return PressedRails(section=section, material=material, forces=forces, part=part, walls=walls)


def _covered(rail: tuple[MM, MM], design: Design) -> tuple[float, int]:
    """Return the greatest part of a rail's width that one bar covers, and how many of its walls."""
    found = [(0.0, 0)]
    for y0, y1 in stop_intervals_mm(design):
        left, right = max(y0, rail[0]), min(y1, rail[1])
        walls = (y0 <= rail[0]) + (y1 >= rail[1])
        found.append((max(0.0, right - left) / (rail[1] - rail[0]), walls))
    return max(found)
