"""The props: two tubes, one in the other, with holes for the pin that sets the length, and a foot plate."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

from rampdraft.geometry.lanes import prop_rails
from rampdraft.geometry.members.leaves import HOLE_SHARE, SQUARE, bar, mass_kg, member
from rampdraft.geometry.members.member import Drilled, Face, Hand, Mark, Member, Piece, Role, Tag
from rampdraft.geometry.members.prop_holes import APART, END, PIN_ROOM_MM, Setting
from rampdraft.geometry.outline import Hole, Profile, rectangle
from rampdraft.model.catalogue import section_rows
from rampdraft.model.design import Design, Prop
from rampdraft.model.section import Section
from rampdraft.units import MM
from rampdraft.words.figures import size
from rampdraft.words.say import say

PROP_FOOT_THICKNESS_MM: Final = 6.0
"""Plate under a prop, common practice."""

OVERLAP: Final = 2.0
"""Two tubes lie in one another for twice their depth where the lengths leave room: common practice."""
_PLAY_MM: Final = (0.4, 4.0)
"""Between the tubes, both sides together, at least and at most, more is packed: common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PropTubes:
    """How a prop is cut into two tubes."""

    outer_mm: MM
    inner_mm: MM
    inner: Section
    overlap_mm: MM
    """At the longest setting."""
    hole_mm: MM
    outer_hole_mm: MM
    """Of the one hole in the outer tube, from its lower end."""
    longest_mm: MM
    apart_mm: MM
    """How far holes through the same walls of the inner tube stand apart at least."""
    faces: int
    """How many pairs of its walls can be drilled: both of a box, one setting between others."""

    def hole_at_mm(self, height_mm: MM) -> MM:
        """Return where the hole of a setting is, from the upper end of the inner tube."""
        return self.overlap_mm - self.outer_hole_mm + self.longest_mm - height_mm


def prop_tubes(prop: Prop) -> PropTubes | None:
    """Return the two tubes of a prop; None of a leg that is one piece: of one length, with no pin, or of a
    section that no other goes into, or whose two halves are too short to hold each other at the longest.
    """
    inner = inner_tube(prop.section)
    if prop.shortest_mm >= prop.longest_mm or not prop.pin_diameter_mm or inner is None:
        return None
    each = prop.shortest_mm - PROP_FOOT_THICKNESS_MM
    long = prop.longest_mm - PROP_FOOT_THICKNESS_MM
    overlap = min(2 * each - long, OVERLAP * prop.section.depth_mm)
    hole = prop.pin_diameter_mm + PIN_ROOM_MM
    if overlap < max(prop.section.depth_mm / 2, 2 * END * hole) or hole > HOLE_SHARE * inner.depth_mm:
        return None
    return PropTubes(
        outer_mm=each,
        inner_mm=long - each + overlap,
        inner=inner,
        overlap_mm=overlap,
        hole_mm=hole,
        outer_hole_mm=overlap / 2,
        longest_mm=prop.longest_mm,
        apart_mm=APART * hole,
        faces=2 if inner.kind == "box" and hole <= HOLE_SHARE * inner.width_mm else 1,
    )


def prop_reach_mm(prop: Prop) -> tuple[MM, MM]:
    """Return the shortest and the longest setting of a prop; one piece has the length it is cut to alone."""
    return (prop.longest_mm if prop_tubes(prop) is None else prop.shortest_mm), prop.longest_mm


def inner_tube(section: Section) -> Section | None:
    """Return the sold section that slides in another with least play, the stoutest of them; None where
    none does.
    """
    least, most = _PLAY_MM
    inside = section.depth_mm - 2 * section.wall_mm, section.width_mm - 2 * section.wall_mm
    fitting = [
        one
        for one in (row.section for row in section_rows())
        if one.kind == section.kind
        and section.wall_mm
        and all(
            least <= room - size <= most
            for room, size in zip(inside, (one.depth_mm, one.width_mm), strict=True)
        )
    ]
    return max(fitting, key=lambda one: (one.depth_mm, one.width_mm, one.wall_mm), default=None)


def prop_members(design: Design) -> Iterator[Member]:
    """Yield the props at their longest, carried apart."""
    prop, lanes, rails = design.prop, design.inner_leaf.rail_lanes_mm, prop_rails(design)
    if not prop.fitted:
        return
    tubes = prop_tubes(prop)
    foot = Piece(
        role="prop foot",
        section=Section(kind="flat", depth_mm=PROP_FOOT_THICKNESS_MM, width_mm=prop.foot_mm),
        material=design.made_of.fittings,
        length_mm=prop.foot_mm,
        profile=Profile(rectangle(0, 0, prop.foot_mm, prop.foot_mm)),
        ends=(SQUARE, SQUARE),
    )
    low = PROP_FOOT_THICKNESS_MM - prop.longest_mm
    placed: list[tuple[Piece, MM, MM]] = [(foot, -prop.longest_mm, low)]
    if tubes is None:
        placed.insert(0, (_tube(design, "prop", prop.section, -low, (), 0.0), low, 0.0))
    else:
        outer = _outer_tube(design, tubes, (0,))
        placed.insert(0, (outer, -tubes.outer_mm, 0.0))
        inner = _tube(design, "prop inner tube", tubes.inner, tubes.inner_mm, (), tubes.hole_mm)
        placed.insert(1, (inner, low, low + tubes.inner_mm))
    for rail in rails:
        for piece, bottom, top in placed:
            half = (prop.foot_mm if piece is foot else piece.section.depth_mm) / 2
            mass = mass_kg(design, piece, prop.foot_mm) if piece is foot else bar(design, piece)[0]
            shape = rectangle(-half, bottom, half, top)
            yield member(_tag(rails, rail), piece, mass, shape, lanes[rail] - half, lanes[rail] + half)


def _tag(rails: Sequence[int], rail: int) -> Tag:
    hands: dict[int, Hand] = {rails[0]: "left", rails[-1]: "right"}
    hand = hands.get(rail, "")
    return Tag(body="loose", hand=hand, number=0 if hand else rail + 1)


def drilled(
    design: Design, members: Sequence[Member], holes: Mapping[int, Sequence[Setting]]
) -> tuple[Member, ...]:
    """Return members with the holes of each prop's settings, by the rail that it stands under.

    Where the ramp stands says what they are, so that the ramp is known before them; what they weigh is left
    in.
    """
    tubes, rails = prop_tubes(design.prop), prop_rails(design)
    if tubes is None:
        return tuple(members)
    found: dict[str, Piece] = {}
    made: dict[tuple[Setting, ...], tuple[Piece, Piece]] = {}
    for rail in rails:
        row = tuple(holes.get(rail, ()))
        if row not in made:
            places = tuple((tubes.hole_at_mm(one.height_mm), one.face) for one in reversed(row))
            inner = _tube(design, "prop inner tube", tubes.inner, tubes.inner_mm, places, tubes.hole_mm)
            faces = tuple(sorted({0, *(one.face for one in row)}))
            made[row] = _outer_tube(design, tubes, faces), inner
        tag, (outer, inner) = _tag(rails, rail), made[row]
        found |= {one.key: outer for one in members if one.role == "prop" and one.tag == tag}
        found |= {one.key: inner for one in members if one.role == "prop inner tube" and one.tag == tag}
    return tuple(replace(one, piece=found[one.key]) if one.key in found else one for one in members)


def _outer_tube(design: Design, tubes: PropTubes, faces: tuple[int, ...]) -> Piece:
    at = tubes.outer_mm - tubes.outer_hole_mm
    places = tuple((at, face) for face in faces)
    return _tube(design, "prop", design.prop.section, tubes.outer_mm, places, tubes.hole_mm)


_FACES: Final[tuple[Face, Face]] = ("side", "top")
_THROUGH: Final[tuple[Face, Face]] = ("top", "underside")


def _tube(
    design: Design,
    role: Role,
    section: Section,
    length: MM,
    holes: tuple[tuple[MM, int], ...],
    hole_mm: MM,
) -> Piece:
    """Return a tube, its datum end up, with holes at places through its sides, 0, or its other walls, 1."""
    middle = section.depth_mm / 2
    return Piece(
        role=role,
        section=section,
        material=design.made_of.rails,
        length_mm=length,
        profile=Profile(
            rectangle(0, 0, length, section.depth_mm),
            tuple(Hole(at, middle, hole_mm) for at, face in holes if not face),
        ),
        ends=(SQUARE, SQUARE),
        marks=tuple(
            Mark(at_mm=at, work=say("hole Ø{hole} through both walls", hole=size(hole_mm)), face=_FACES[face])
            for at, face in holes
        ),
        drilled=tuple(
            Drilled(at_mm=at, across_mm=section.width_mm / 2, face=wall, diameter_mm=hole_mm, use="clearance")
            for at, face in holes
            if face
            for wall in _THROUGH
        ),
    )
