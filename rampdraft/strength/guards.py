"""Edge upstands that a wheel pushes sideways, and what joins them to the slats."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.geometry.members.leaves import TWO_SCREWS_FROM_MM
from rampdraft.mechanics.loading.loads import Rolling
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.catalogue import material_named, screw_through
from rampdraft.model.design import Design, Leaf, Material, ServiceClass
from rampdraft.model.section import Section
from rampdraft.rounding import whole_steps
from rampdraft.strength.fixings import DENSITY_PART, OUT_OF_TIMBER
from rampdraft.strength.formula import BENT, PLATE, F, Formula, Symbol, Worked, factor
from rampdraft.strength.joining import seam, unweldable
from rampdraft.strength.resistance import metal_strength_mpa, timber_design_value
from rampdraft.strength.utilisation import Basis, Combination, Outcome, Unknown, worst_last
from rampdraft.units import MM, Array, ArrayRecord
from rampdraft.words.figures import measure, mpa, newton, newton_metre, newton_mm, number, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

SIDE: Final = 0.3
"""Part of a wheel's weight with which it pushes an upstand sideways, at its top: common practice. A wheel
that is steered against it is pushed by what the others grip, and turns or slides.
"""
_HEIGHT, _THICK, _LENGTH = Symbol("h", measure), Symbol("s", measure), Symbol("l", measure)
PUSH: Final = Formula(Symbol("gQ", factor) * (SIDE * F), newton)
FOOT: Final = Formula(Symbol("H", newton) * _HEIGHT, newton_metre)
"""Of the upstand at the running surface."""
WELD: Final = Formula(
    Symbol("H", newton) * (_HEIGHT + _THICK / 2) / (_THICK * _LENGTH) + Symbol("H", newton) / (2 * _LENGTH),
    newton_mm,
    "EN 1993-1-8, 4.5.3.3",
)
"""Two lines of weld on a slat's end, on its top and underside, its thickness s apart; l of each bears."""


PULLED: Final = Formula(Symbol("H", newton) * (_HEIGHT + _THICK) / (_THICK / 2 * Symbol("n", number)), newton)
"""A screw half way up a slat's end, n of them: the upstand leans on the lower edge of the end."""
END_GRAIN: Final = 1.2
"""A screw along the grain holds so much less: EN 1995-1-1, (8.38), for short loads alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Screwed:
    """Screws through an upstand into the ends of timber slats."""

    screw_mm: MM
    held_mm: MM
    a_slat: int
    pitch_mm: MM
    service_class: ServiceClass

    def used(self, guard: "Guards", push: Worked, over_mm: MM, basis: Basis) -> tuple[float, str]:
        """Return how much of a screw's hold a push uses that is spread over so much length, and its line."""
        count = self.a_slat * max(1, whole_steps(over_mm, self.pitch_mm, over_mm, self.pitch_mm))
        pull = PULLED.of(push.value, guard.height_mm, guard.slat_mm, count)
        whole = OUT_OF_TIMBER.of(self.screw_mm, self.held_mm, guard.slats.density_kg_m3 / DENSITY_PART)
        least = timber_design_value(whole.value / END_GRAIN, basis, self.service_class)
        used = pull.value / least
        return used, say(
            "screw in a slat's end: {formula} of Rd = {resistance}, {used}",
            formula=pull.line,
            resistance=newton(least),
            used=percent(used),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Guards(ArrayRecord):
    """The edge upstands of a leaf, welded or screwed to the ends of its slats."""

    material: Material
    slats: Material
    height_mm: MM
    thick_mm: MM
    slat_mm: MM
    """Thickness of the slats."""
    covered: float
    """How much of the length is slats, gaps left out."""
    throat_mm: MM
    screwed: Screwed | None
    """None where they are welded."""
    wheel_n: Array
    """The heaviest wheel of each load, (L,); nothing of loads that do not roll."""
    contact_mm: Array

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome of the upstand at its foot, or of its weld.

        The push spreads at 45 degrees from the top, at an upstand's end to one side only: common practice.

        Raises StrengthUnknownError where a material holds no strength.
        """
        basis = combination.basis
        wide = self.contact_mm + self.height_mm
        (load,) = combination.governing((self.wheel_n / wide)[list(combination.loads)])
        over = float(wide[load])
        push = PUSH.of(basis.gamma_q, float(self.wheel_n[load]))
        foot = FOOT.of(push.value, self.height_mm)
        strength = metal_strength_mpa(self.material, basis, welded=self.screwed is None)
        modulus = PLATE.of(over, self.thick_mm)
        bent = BENT.of(foot.value, modulus.value, strength)
        if self.screwed:
            joined, told = self.screwed.used(self, push, over, basis)
        else:
            joined, told = self._weld(push, over, basis)
        return Outcome(
            ratio=max(bent.value, joined),
            worked=prose(_lines, combination.words[load], push, foot, modulus, bent, (joined, told)),
            clause=say(
                "elastic bending; {clause}", clause=OUT_OF_TIMBER.clause if self.screwed else WELD.clause
            ),
            load=load,
        )

    def _weld(self, push: Worked, over_mm: MM, basis: Basis) -> tuple[float, str]:
        line = seam(self.throat_mm, basis, (self.material, _BAR), (self.slats, _BAR))
        weld = WELD.of(push.value, self.height_mm, self.slat_mm, over_mm * self.covered)
        joined = weld.value / line.n_mm
        return joined, say(
            "weld on the slats: {force} on {seam} = {used}",
            force=weld.result,
            seam=line.words,
            used=percent(joined),
        )


_BAR: Final = Section(kind="flat", depth_mm=1.0, width_mm=1.0)
"""A solid bar: no wall of it limits a weld."""


def _lines(
    words: str, push: Worked, foot: Worked, modulus: Worked, bent: Worked, held: tuple[float, str]
) -> Lines:
    joined, told = held
    return (
        say(
            "{load}: a wheel pushes with {part} of its weight at the top, over {width}",
            load=words,
            part=percent(SIDE),
            width=measure(modulus.of[0]),
        ),
        f"H = {push.numbers} = {push.result}",
        f"M = {foot.line}",
        *worst_last(
            (
                bent.value,
                (
                    say(
                        "W = {numbers} = {result}; strength = {strength}",
                        numbers=modulus.numbers,
                        result=modulus.result,
                        strength=mpa(bent.of[2]),
                    ),
                    bent.short,
                ),
            ),
            (joined, (told,)),
        ),
    )


def guards(design: Design, leaf: Leaf, wheels: tuple[Array, Array]) -> Guards | Unknown:
    """Return the upstands of a leaf, which `pushing_wheels` push, or why they cannot be judged."""
    material, slats = (
        material_named(design, name) for name in (design.made_of.upstands, design.made_of.slats)
    )
    screws = slats.kind == "timber" and design.workshop.slat_screw_mm > 0
    if material.kind == "timber":
        return Unknown(
            why=say("Timber upstands bend across the grain, which is not judged: take metal ones.")
        )
    if not screws and (why := unweldable(material, slats)):
        return Unknown(
            why=say("{why} Timber slats can have screws in their ends: give the slats a screw hole.", why=why)
        )
    force, contact = wheels
    return Guards(
        material=material,
        slats=slats,
        height_mm=leaf.upstand_height_mm,
        thick_mm=leaf.upstand_thickness_mm,
        slat_mm=leaf.slat_thickness_mm,
        covered=min(1.0, leaf.slat_width_mm / leaf.slat_pitch_mm),
        throat_mm=min(design.joining.weld_throat_mm, leaf.slat_thickness_mm),
        screwed=_screwed(design, leaf) if screws else None,
        wheel_n=force,
        contact_mm=contact,
    )


def _screwed(design: Design, leaf: Leaf) -> Screwed:
    return Screwed(
        screw_mm=screw_through(design.workshop.slat_screw_mm, "timber").diameter_mm,
        held_mm=design.workshop.screw_held_mm,
        a_slat=2 if leaf.slat_width_mm >= TWO_SCREWS_FROM_MM else 1,
        pitch_mm=leaf.slat_pitch_mm,
        service_class=design.use.service_class,
    )


def pushing_wheels(carried: Carried) -> tuple[Array, Array]:
    """Return force and length of contact of the wheel of each load that pushes most, (L,); none of a load
    that does not roll.
    """
    wheels = [_heaviest(load) if isinstance(load, Rolling) else (0.0, 1.0) for load in carried.loads]
    force, contact = np.array(wheels, dtype=np.float64).T
    return force, contact


def _heaviest(load: Rolling) -> tuple[float, MM]:
    """Return force and length of contact of the wheel that pushes most."""
    wheels = [(axle.wheel_n, axle.patch_mm[1]) for way in load.ways for axle in way]
    most = max(force for force, _ in wheels)
    return most, min(along for force, along in wheels if force >= most * (1 - 1e-9))
