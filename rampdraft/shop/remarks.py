"""What the lists cannot hold, and why: joints that no weld makes, screws that find no hold, props that are no
two tubes. Whoever builds it has to find a way, or change the design.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from rampdraft.geometry.members.brackets import packing_mm
from rampdraft.geometry.members.leaves import upstand_screw
from rampdraft.geometry.members.member import Assembly, Member
from rampdraft.geometry.members.props import prop_tubes
from rampdraft.model.catalogue import screws
from rampdraft.model.design import Design, Hinge
from rampdraft.shop.joints import Joint
from rampdraft.units import MM
from rampdraft.words.figures import exact, mm
from rampdraft.words.say import called, named, say

RemarkKind = Literal[
    "not weldable", "prop of one piece", "no stub", "strip not screwed",
    "slat hole without rail", "screw too thick", "upstands not fixed", "packing", "narrow ledge",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """Something that the lists do not hold."""

    kind: RemarkKind
    words: str
    members: tuple[str, ...] = ()
    """Keys of the members that it is about."""

    @property
    def line(self) -> str:
        """Return it with the members that it is about."""
        members = ", ".join(map(named, self.members))
        return f"{self.words} ({members})." if members else f"{self.words}."


def remarks(
    design: Design, assembly: Assembly, brackets: Sequence[Member], unwelded: Sequence[Joint]
) -> tuple[Remark, ...]:
    """Return the remarks on the lists; `unwelded` are the joints of materials that no weld joins."""
    return (
        *_unwelded(unwelded),
        *_props(design, assembly),
        *_brackets(design, assembly, brackets),
        *_packing(design, brackets),
        *_ledges(design),
        *_screws(design, assembly),
    )


def _unwelded(joints: Sequence[Joint]) -> Iterator[Remark]:
    found: dict[tuple[str, str, str], list[str]] = {}
    for one in joints:
        key = one.kind, one.on.piece.material, one.to.piece.material
        found.setdefault(key, []).append(one.on.key)
    for (kind, on, to), members in found.items():
        yield Remark(
            kind="not weldable",
            words=say(
                "{kind}: {on} and {to} cannot be welded together, and no other way to join them is listed",
                kind=say(kind),
                on=called(on),
                to=called(to),
            ),
            members=tuple(dict.fromkeys(members)),
        )


def _props(design: Design, assembly: Assembly) -> Iterator[Remark]:
    prop, legs = design.prop, tuple(one.key for one in assembly.members if one.role == "prop")
    if not legs or prop.shortest_mm >= prop.longest_mm:
        return
    if prop_tubes(prop) is None:
        yield Remark(
            kind="prop of one piece",
            words=say(
                "from {shortest} to {longest} no two tubes reach that hold each other, or"
                " no section that is sold goes into the other: the prop is listed as one"
                " piece",
                shortest=mm(prop.shortest_mm),
                longest=mm(prop.longest_mm),
            ),
            members=legs,
        )


def _brackets(design: Design, assembly: Assembly, brackets: Sequence[Member]) -> Iterator[Remark]:
    plates = tuple(one.key for one in brackets if one.role == "bracket plate")
    if plates and not any(one.role == "bracket stub" for one in brackets):
        yield Remark(
            kind="no stub",
            words=say("the deck hinge lies so near to the plates of the brackets that no stub goes between"),
            members=plates,
        )
    strip = next((one for one in assembly.members if one.role == "bridge strip"), None)
    if strip is not None and not strip.piece.profile.holes:
        count, size = design.bridge.screws, design.bridge.screw_size
        yield Remark(
            kind="strip not screwed",
            words=say(
                "the bridge plate's strip has no room for {count} screws {size}", count=count, size=size
            ),
            members=(strip.key,),
        )


def _packing(design: Design, brackets: Sequence[Member]) -> Iterator[Remark]:
    """Yield what is put behind plates that lie on the deck's edge and reach below it."""
    carrier, plates = design.carrier, [one for one in brackets if one.role == "bracket plate"]
    if plates and packing_mm(design):
        below = max(-carrier.deck_thickness_mm - one.silhouette.box[1] for one in plates)
        yield Remark(
            kind="packing",
            words=say(
                "the plates of the brackets reach {below} below the deck's edge, where the carrier's end"
                " stands back: packing {setback} thick goes there, so that their lower edges bear and the"
                " bolts clamp",
                below=mm(below),
                setback=mm(carrier.end_setback_mm),
            ),
            members=tuple(one.key for one in plates),
        )


def _ledges(design: Design) -> Iterator[Remark]:
    """Yield the hinges whose knuckles stand out beside their rails by less than the leg of their weld."""
    leg = design.joining.weld_leg_mm
    inner, outer = design.inner_leaf.rail_section, design.outer_leaf.rail_section
    lines: tuple[tuple[str, Hinge, MM], ...] = (
        (say("joint"), design.joint, max(inner.width_mm, outer.width_mm)),
        (say("deck hinge"), design.deck_hinge, inner.width_mm),
    )
    for name, hinge, width in lines:
        ledge = (hinge.knuckle_length_mm - width) / 2
        if ledge < leg - 1e-9:
            yield Remark(
                kind="narrow ledge",
                words=say(
                    "{hinge}: a weld of a{throat} beside a rail takes {leg}, and the knuckles stand out"
                    " {ledge} there: bevel the cope's edges and grind the welds flush with the knuckles'"
                    " ends, or take knuckles at least {length} long",
                    hinge=name,
                    throat=exact(design.joining.weld_throat_mm),
                    leg=mm(leg),
                    ledge=mm(max(ledge, 0.0)),
                    length=mm(math.ceil(width + 2 * leg)),
                ),
            )


def _screws(design: Design, assembly: Assembly) -> Iterator[Remark]:
    hole = design.workshop.slat_screw_mm
    if not hole:
        return
    slats = [one for one in assembly.members if one.role == "slat"]
    rails = [one for one in assembly.members if one.role == "rail"]
    idle = sum(len(one.piece.profile.holes) for one in slats) - sum(len(one.piece.drilled) for one in rails)
    if idle > 0:
        yield Remark(
            kind="slat hole without rail",
            words=say("{count} holes in slats meet no rail under them", count=idle),
            members=tuple(one.key for one in slats),
        )
    least = screws("metal")[0].clearance_mm
    if hole < least:
        yield Remark(
            kind="screw too thick",
            words=say(
                "no screw that is listed goes through a hole of {hole} mm: the least needs {least}",
                hole=exact(hole),
                least=exact(least),
            ),
        )
    upstands = [one for one in assembly.members if one.role == "edge upstand"]
    bare = tuple(one.key for one in upstands if not one.piece.profile.holes)
    if upstand_screw(design) is not None and bare:
        yield Remark(
            kind="upstands not fixed",
            words=say(
                "the slats are too thin for screws of that size in their ends: nothing holds the upstands"
            ),
            members=bare,
        )
