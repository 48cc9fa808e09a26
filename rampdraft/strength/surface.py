"""What a wheel stands on between the rails: slats, cross members, bridge plate and toe flap.

Each is a simple beam between two supports, or a cantilever where it stands out beyond the outer rail; that it
runs on over several rails is left out, which makes it no stronger than it is. Its own weight is left out,
being a hundredth of a wheel's.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final, Literal

import numpy as np

from rampdraft.geometry.bridge import bridge_reach_mm
from rampdraft.geometry.lanes import bays_mm
from rampdraft.geometry.members.leaves import TWO_SCREWS_FROM_MM
from rampdraft.geometry.sections import properties
from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design, Leaf, Material, ServiceClass
from rampdraft.model.section import Section
from rampdraft.rounding import greatest_at
from rampdraft.strength.formula import BENT, PLATE, Formula, Symbol
from rampdraft.strength.joining import seam, unweldable
from rampdraft.strength.patches import Bent, OnSlat, Patches, Wheels, bent
from rampdraft.strength.plate_hinges import bridge_hinge, flap_hinge, strip_screws
from rampdraft.strength.resistance import SHEAR, bending_mpa, timber_shear_strength_mpa, wall_class
from rampdraft.strength.surface_words import cross_lines, plate_lines, slat_lines
from rampdraft.strength.utilisation import (
    Combination,
    Family,
    Judged,
    Outcome,
    Unknown,
)
from rampdraft.units import MM, Array, ArrayRecord
from rampdraft.words.figures import measure, newton, newton_mm
from rampdraft.words.prose import prose
from rampdraft.words.say import called, named, say

_CROSS: Final = {
    "timber": "EN 1995-1-1, 6.1.6",
    "aluminium": "EN 1999-1-1, 6.2.5",
    "steel": "EN 1993-1-1, 6.2.5",
}
_SHARED: Final = "as a beam on rails that sink, {length} from the first to the last"
_HALF_WAY: Final = "half way along {length}"
_HANGS: Final = "The bridge plate meets nothing of the inner leaf at one of the sites: it hangs."
END: Final = Formula(Symbol("V", newton) / (2 * Symbol("h", measure)), newton_mm)
"""What a mm of weld at the end of a cross member bears, along both of its sides."""
_ACROSS_GRAIN: Final = (1 / 30) ** 0.25
"""Fourth root of the stiffness of softwood across the grain over that along it: EN 338, E90 = E0 / 30 (from
memory).
"""


def surface_parts(
    design: Design, wheels: Wheels, bears: tuple[MM, MM] | None
) -> Iterator[tuple[Family, Judged | Unknown]]:
    """Yield slats, cross members, bridge plate and toe flap with their hinges.

    `bears` is how near and how far from the deck edge the bridge plate bears on the leaf, at whichever site;
    None where it hangs at one, or stands at none.
    """
    leaves: tuple[tuple[Literal["inner", "outer"], Leaf], ...] = (
        ("inner", design.inner_leaf),
        ("outer", design.outer_leaf),
    )
    for (body, leaf), on_slat in zip(leaves, wheels.on_slats, strict=True):
        subject = named(f"{body} leaf")
        yield (
            Family(
                key=f"{body}-slats",
                title=say("Slats under a wheel"),
                subject=subject,
                member=f"{body} slat 1",
                leaf=body,
            ),
            _slats(design, leaf, on_slat),
        )
        bays = len(bays_mm(leaf)) if leaf.cross_fitting == "between" else 1
        if leaf.cross_positions_mm and bays:
            bay = " bay 1" if bays > 1 else ""
            member = f"{body} cross member 1{bay}"
            yield (
                Family(
                    key=f"{body}-cross",
                    title=say("Cross members under a wheel"),
                    subject=subject,
                    member=member,
                    leaf=body,
                ),
                _crosses(design, leaf, on_slat.patches),
            )
    yield from _plates(design, wheels.patches, bears)


def _plates(
    design: Design, wheels: Patches, bears: tuple[MM, MM] | None
) -> Iterator[tuple[Family, Judged | Unknown]]:
    bridge, toe = design.bridge, design.toe
    if bridge.fitted:
        yield (
            Family(key="bridge", title=say("Bridge plate under a wheel"), subject="", member="bridge plate"),
            _bridge(design, wheels, *bears) if bears else Unknown(why=say(_HANGS)),
        )
        title = say("Hinge of the bridge plate under a wheel that brakes")
        yield (
            Family(key="bridge-hinge", title=title, subject="", member="bridge plate"),
            bridge_hinge(design, wheels),
        )
        title = say("Screws of the bridge plate's strip")
        screws = strip_screws(design, wheels, bears[0]) if bears else Unknown(why=say(_HANGS))
        yield Family(key="bridge-screws", title=title, subject="", member="bridge plate"), screws
    if toe.kind == "flap":
        yield (
            Family(key="flap", title=say("Toe flap under a wheel"), subject="", member="outer toe flap"),
            _sheet(design, wheels, toe.length_mm, toe.thickness_mm, design.outer_leaf.width_mm),
        )
        title = say("Hinge of the toe flap under a wheel that brakes")
        yield (
            Family(key="flap-hinge", title=title, subject="", member="outer toe flap"),
            flap_hinge(design, wheels),
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Boards(ArrayRecord):
    """Flat parts: the slats of a leaf, with a wheel in the widest bay at a slat's edge, or at the end beyond
    the outer rail; or a plate that spans along the ramp, with a wheel half way at its side edge.
    """

    material: Material
    service_class: ServiceClass
    thick_mm: MM
    welded: bool
    bent: Bent
    end_n: Array
    """Shear beside a rail under each patch, (P,)."""
    sheared_mm: Array
    """How much of a slat's width shears there, (P,); none but of timber."""
    over_nmm: Array
    """Moment over a rail of a slat that shares among more than two, (P,); of a plate nothing."""
    plate: bool = False
    """Whether it spans along the ramp."""

    def under(self, combination: Combination) -> Outcome:
        """Return the outcome in bending, and of timber slats in shear beside a rail.

        Raises StrengthUnknownError where the material holds no strength.
        """
        basis, worst, material = combination.basis, self.bent.worst(combination), self.material
        modulus = PLATE.of(worst.wide_mm, self.thick_mm)
        strength = bending_mpa(
            material, basis, self.service_class, depth_mm=self.thick_mm, welded=self.welded
        )
        bent = BENT.of(combination.design_value(0.0, worst.moment_nmm), modulus.value, strength)
        told = combination.words[worst.load], worst, basis.gamma_q, modulus, bent
        if not self.sheared_mm.size:
            of = say(
                "strength of {material}, welded" if self.welded else "strength of {material}",
                material=called(material.name),
            )
            return Outcome(
                ratio=bent.value,
                worked=prose(plate_lines, *told) if self.plate else prose(slat_lines, *told, of),
                clause=say("elastic bending"),
                load=worst.load,
            )
        patches, rows = self.bent.patches, combination.once(self.bent.patches.under)
        most = int(rows[greatest_at((self.end_n / self.sheared_mm)[rows])])
        sheared_load, across = int(patches.load[most]), float(self.sheared_mm[most])
        stress = SHEAR.of(combination.design_value(0.0, float(self.end_n[most])), across, self.thick_mm)
        used = stress.value / timber_shear_strength_mpa(material, basis, self.service_class)
        shear = combination.words[sheared_load], stress, used
        return Outcome(
            ratio=max(bent.value, used),
            worked=prose(
                slat_lines, *told, say("strength of {material}", material=called(material.name)), shear
            ),
            clause="EN 1995-1-1, 6.1.6, 6.1.7",
            load=worst.load if bent.value >= used else sheared_load,
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CrossMembers(ArrayRecord):
    """The cross members of a leaf between two rails: a whole wheel on one, as if the slat over it were off.

    A wheel on it is the rule of this program, common practice, so that no single broken slat lets a wheel
    through.
    """

    material: Material
    service_class: ServiceClass
    section: Section
    bent: Bent
    ends: tuple[tuple[Material, Section], ...]
    """What the weld at an end joins; empty where there is none."""
    throat_mm: MM
    end_n: Array
    """Shear at an end under each patch, (P,)."""

    def under(self, combination: Combination) -> Outcome | Unknown:
        """Return the outcome in bending and of the weld at an end, or why it has none.

        Raises StrengthUnknownError where a material holds no strength.
        """
        basis, worst, section = combination.basis, self.bent.worst(combination), self.section
        strength = bending_mpa(
            self.material,
            basis,
            self.service_class,
            depth_mm=section.depth_mm,
            welded=self.material.kind == "aluminium",
        )
        moment = combination.design_value(0.0, worst.moment_nmm)
        bent = BENT.of(moment, properties(section).elastic_modulus_mm3, strength)
        words, clause, end, used = combination.words[worst.load], _CROSS[self.material.kind], None, 0.0
        if self.ends:
            if why := unweldable(*(material for material, _ in self.ends)):
                return Unknown(why=why)
            weld = seam(self.throat_mm, basis, *self.ends)
            most = float(self.end_n[combination.once(self.bent.patches.under)].max())
            pull = END.of(combination.design_value(0.0, most), section.depth_mm)
            used = pull.value / weld.n_mm
            end, clause = (pull, weld, used), f"{clause}; EN 1993-1-8, 4.5.3.3"
        return Outcome(
            ratio=max(bent.value, used),
            worked=prose(cross_lines, words, worst, basis.gamma_q, section, bent, end),
            clause=clause,
            load=worst.load,
        )


def _slats(design: Design, leaf: Leaf, on_slat: OnSlat) -> Boards:
    """Return the slats of a leaf.

    A wheel spreads at 45 degrees to the middle of a board's thickness, at its edge to one side only (EN
    1995-2, 5.1, from memory). At the corner of a board that stands out a beyond the rail b0 = 1.1 k a + 2 c
    / 3 bears, else as in `Patches.at_side`: fitted to plates that go on over the rail. Shear is that of a
    wheel as far from the rail as the board is thick: nearer it goes straight down (EN 1995-1-1, 6.1.7(3),
    from memory). A slat over more than two rails is bent besides where they sink unlike each other.
    """
    material, wide = material_named(design, design.made_of.slats), leaf.slat_width_mm
    patches = on_slat.patches
    bay, hole, thick = widest_bay_mm(leaf), design.workshop.slat_screw_mm, leaf.slat_thickness_mm
    out = overhang_mm(leaf)
    holes = (2 if wide >= TWO_SCREWS_FROM_MM else 1) * hole
    spread = _ACROSS_GRAIN if material.kind == "timber" else 1.0
    tyre = patches.across_mm + thick, patches.along_mm + thick / 2
    in_bay = patches.at_side(bay, wide, tyre, spread)
    whole = max(wide - holes, 0.01 * wide)
    at_end = np.minimum(patches.at_corner(out, wide, tyre[1], spread), whole)
    places = (
        (say("in a bay of {length}, at the slat's edge"), bay, patches.in_bay(bay), in_bay),
        (
            say("at the edge, {length} out"),
            out,
            np.where(patches.at_edge, patches.at_end(out, patches.across_mm), 0.0),
            at_end,
        ),
    )
    over = np.zeros_like(patches.force_n)
    if bay and len(leaf.rail_lanes_mm) > 2:
        over = on_slat.over_nmm
        places += (
            (say(_SHARED), leaf.rail_lanes_mm[-1] - leaf.rail_lanes_mm[0], on_slat.moment_nmm, in_bay),
        )
    return Boards(
        material=material,
        service_class=design.use.service_class,
        thick_mm=thick,
        welded=hole <= 0 and material.kind == "aluminium",
        bent=bent(patches, *(place for place in places if place[1])),
        end_n=patches.at_rail(bay) if bay else patches.force_n,
        sheared_mm=np.minimum(wide, patches.along_mm + thick) if material.kind == "timber" else np.array([]),
        over_nmm=over,
    )


def _crosses(design: Design, leaf: Leaf, patches: Patches) -> CrossMembers | Unknown:
    material, section = material_named(design, design.made_of.cross_members), leaf.cross_section
    if section.kind in ("box", "tube") and wall_class(section, material.yield_mpa, material.kind) == 4:
        return Unknown(
            why=say(
                "The walls are so thin that they buckle before they yield (class 4): take a thicker wall."
            )
        )
    bay, rails = widest_bay_mm(leaf), material_named(design, design.made_of.rails)
    welded = leaf.cross_fitting == "between" and material.kind != "timber"
    return CrossMembers(
        material=material,
        service_class=design.use.service_class,
        section=section,
        bent=bent(patches, ("", bay, patches.in_bay(bay), 1.0)),
        ends=((material, section), (rails, leaf.rail_section)) if welded else (),
        throat_mm=design.joining.weld_throat_mm,
        end_n=patches.at_rail(bay) if bay else patches.force_n,
    )


def _bridge(design: Design, wheels: Patches, nearest: MM, farthest: MM) -> Boards:
    """Return the bridge plate under these wheels: a simple beam from the deck edge to where it bears on the
    leaf, and beyond the nearest such place, held down by its hinge, a cantilever to its end.

    The wheel stands at its side, as in `Patches.at_side`, and at its corner.
    """
    width, thick, along = design.inner_leaf.width_mm, design.bridge.thickness_mm, wheels.along_mm
    out, tyre = max(0.0, bridge_reach_mm(design) - nearest), (along + thick, wheels.across_mm + thick / 2)
    middle = wheels.in_middle(farthest, along), wheels.at_side(farthest, width, tyre, 1.0)
    beyond = wheels.at_end(out, along), wheels.at_corner(out, width, tyre[1], 1.0)
    material = material_named(design, design.made_of.fittings)
    return Boards(
        material=material,
        service_class=design.use.service_class,
        thick_mm=thick,
        welded=material.kind == "aluminium",
        bent=bent(
            wheels,
            (say(_HALF_WAY), farthest, *middle),
            (say("at its end, {length} beyond where it bears"), out, *beyond),
        ),
        end_n=wheels.force_n,
        sheared_mm=np.array([]),
        over_nmm=np.zeros_like(wheels.force_n),
        plate=True,
    )


def _sheet(design: Design, wheels: Patches, span: MM, thick: MM, width: MM) -> Boards:
    """Return a plate under these wheels, one of them at its side."""
    wide = wheels.at_side(span, width, (wheels.along_mm + thick, wheels.across_mm + thick / 2), 1.0)
    material = material_named(design, design.made_of.fittings)
    return Boards(
        material=material,
        service_class=design.use.service_class,
        thick_mm=thick,
        welded=material.kind == "aluminium",
        bent=bent(wheels, (say(_HALF_WAY), span, wheels.in_middle(span, wheels.along_mm), wide)),
        end_n=wheels.force_n,
        sheared_mm=np.array([]),
        over_nmm=np.zeros_like(wheels.force_n),
        plate=True,
    )


def overhang_mm(leaf: Leaf) -> MM:
    """Return how far the slats stand out beyond the outer rail that is farther in; 0 for not at all."""
    lanes = leaf.rail_lanes_mm
    return max(0.0, leaf.width_mm / 2 - min(-lanes[0], lanes[-1]))


def widest_bay_mm(leaf: Leaf) -> MM:
    """Return the greatest distance between neighbouring rails; 0 of one alone."""
    return max((right - left for left, right in pairwise(leaf.rail_lanes_mm)), default=0.0)
