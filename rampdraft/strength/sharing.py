"""Cross members as they share what stands on one rail among the others: bent between the rails, and their
welds.
"""

from dataclasses import dataclass
from typing import Final

from rampdraft.geometry.lanes import bays_mm
from rampdraft.geometry.sections import properties
from rampdraft.mechanics.loading.results import CrossForces
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Material, ServiceClass
from rampdraft.model.section import Section
from rampdraft.strength.formula import BENT, WIDTH, Formula, M, Symbol, Worked, mm3
from rampdraft.strength.joining import Seam, seam, unweldable
from rampdraft.strength.resistance import bending_mpa, wall_class
from rampdraft.strength.utilisation import MOMENT, Combination, Family, Outcome, Unknown, worst_last
from rampdraft.units import MM, Array, ArrayRecord
from rampdraft.words.figures import measure, newton_metre, newton_mm, percent
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import called, named, say

_DEPTH: Final = Symbol("h", measure)
AROUND: Final = Formula(M / (WIDTH * _DEPTH + _DEPTH**2 / 3), newton_mm)
"""Moment in a weld around a bar b wide and h deep, as a line: two along b, h apart, and two along h; elastic.

Common practice: the weld as a line of no width, its section modulus b h + h2 / 3.
"""
BESIDE: Final = Formula(M / (_DEPTH**2 / 3), newton_mm)
"""The same of a flat or round bar, welded on both sides: two lines along h."""
_CLAUSES: Final = {
    "timber": "EN 1995-1-1, 6.1.6",
    "aluminium": "EN 1999-1-1, 6.2.5",
    "steel": "EN 1993-1-1, 6.2.5",
}
_THIN: Final = "The walls are so thin that they buckle before they yield (class 4): take a thicker wall."


def sharing_parts(design: Design, forces: CrossForces) -> tuple[tuple[Family, "Sharing | Unknown"], ...]:
    """Return the cross members of a leaf with what they carry as they share; nothing where none does."""
    if not forces.moment_nmm.shape[1]:
        return ()
    body = forces.body
    leaf = design.inner_leaf if body == "inner" else design.outer_leaf
    material, section = material_named(design, design.made_of.cross_members), leaf.cross_section
    family = Family(
        key=f"{body}-sharing",
        title=say("Cross members as they share"),
        subject=named(f"{body} leaf"),
        member=_member(body, 1, bays=len(bays_mm(leaf)) if leaf.cross_fitting == "between" else 1),
        leaf=body,
    )
    if section.kind in ("box", "tube") and wall_class(section, material.yield_mpa, material.kind) == 4:
        return ((family, Unknown(why=say(_THIN))),)
    rails = material_named(design, design.made_of.rails)
    welded = leaf.cross_fitting == "between"
    if welded and (why := unweldable(material, rails)):
        return ((family, Unknown(why=why)),)
    sharing = Sharing(
        body=body,
        bays=len(bays_mm(leaf)) if leaf.cross_fitting == "between" else 1,
        material=material,
        service_class=design.use.service_class,
        section=section,
        self_moment_nmm=forces.self_weight_moment_nmm,
        moment_nmm=forces.moment_nmm,
        ends=((material, section), (rails, leaf.rail_section)) if welded else (),
        throat_mm=design.joining.weld_throat_mm,
    )
    return ((family, sharing),)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sharing(ArrayRecord):
    """Cross members of a leaf under the moments at the rails: L loads, C cross members."""

    body: str
    bays: int
    """Into how many pieces each is cut."""
    material: Material
    service_class: ServiceClass
    section: Section
    self_moment_nmm: Array
    """Of the ramp's own weight, (C,)."""
    moment_nmm: Array
    """(L, C)."""
    ends: tuple[tuple[Material, Section], ...]
    """What the weld at an end joins; empty where there is none."""
    throat_mm: MM

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome in bending, and of the weld that hands the moment on.

        Raises StrengthUnknownError where a material holds no strength.
        """
        basis, section = combination.basis, self.section
        moments = combination.design_value(self.self_moment_nmm, self.moment_nmm[list(combination.loads)])
        load, at = combination.governing(moments)
        effect = combination.worked(MOMENT, float(self.self_moment_nmm[at]), float(self.moment_nmm[load, at]))
        strength = bending_mpa(
            self.material,
            basis,
            self.service_class,
            depth_mm=section.depth_mm,
            welded=self.material.kind == "aluminium",
        )
        bent = BENT.of(effect.value, properties(section).elastic_modulus_mm3, strength)
        clause, end, used = _CLAUSES[self.material.kind], None, 0.0
        if self.ends:
            weld = seam(self.throat_mm, basis, *self.ends)
            if section.kind in ("box", "timber"):
                pull = AROUND.of(effect.value, section.width_mm, section.depth_mm)
            else:
                pull = BESIDE.of(effect.value, section.depth_mm)
            used = pull.value / weld.n_mm
            end, clause = (pull, weld, used), f"{clause}; EN 1993-1-8, 4.5.3.3"
        return Outcome(
            ratio=max(bent.value, used),
            worked=prose(_lines, combination.words[load], at + 1, effect, section, bent, end),
            clause=clause,
            load=load,
            member=_member(self.body, at + 1, bays=self.bays),
        )


def _member(body: str, number: int, *, bays: int) -> str:
    """Return the key of a cross member, or of its first piece."""
    return f"{body} cross member {number}" + (" bay 1" if bays > 1 else "")


def _lines(
    words: str,
    number: int,
    effect: Worked,
    section: Section,
    bent: Worked,
    end: tuple[Worked, Seam, float] | None,
) -> Lines:
    lines = (
        say("{load}; cross member {number}, at a rail, by the grillage", load=words, number=number),
        f"M = {effect.numbers} = {newton_metre(effect.value)}",
        f"W = {mm3(bent.of[1])}, {called(section.text)}",
        bent.line,
    )
    if end is None:
        return lines
    pull, weld, used = end
    joined = say(
        "weld at its end: {formula} on {seam} = {used}",
        formula=pull.line,
        seam=weld.words,
        used=percent(used),
    )
    return worst_last((bent.value, lines), (used, (joined,)))
