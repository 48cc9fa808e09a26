"""The props: two tubes, one in the other, with holes for the pin that sets the length, and a foot plate."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rampdraft.geometry.lanes import prop_rails
from rampdraft.geometry.members.leaves import HOLE_SHARE, SQUARE, bar, mass_kg, member
from rampdraft.geometry.members.member import Hand, Mark, Member, Piece, Role, Tag
from rampdraft.geometry.outline import Hole, Profile, rectangle
from rampdraft.model.catalogue import section_rows
from rampdraft.model.design import Design, Prop
from rampdraft.model.section import Section
from rampdraft.rounding import whole_steps
from rampdraft.units import MM
from rampdraft.words.figures import size
from rampdraft.words.say import say

PROP_FOOT_THICKNESS_MM: Final = 6.0
"""Plate under a prop, common practice."""

OVERLAP: Final = 2.0
"""Two tubes lie in one another for twice their depth where the lengths leave room: common practice."""
_PUSHED_IN_MM: Final = 5.0
"""So much of the inner tube stands out at the shortest setting, foot and all; common practice."""
_PLAY_MM: Final = (0.4, 4.0)
"""Between the tubes, both sides together, at least and at most, more is packed: common practice."""
PIN_PITCH: Final = 2.5
"""Holes of a pin stand so many diameters apart at least; common practice."""
PIN_ROOM_MM: Final = 0.5
"""A hole is so much wider than its pin; common practice."""


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
    inner_holes_mm: tuple[MM, ...]
    """From the upper end of the inner tube, the longest setting first."""
    pitch_mm: MM


def prop_tubes(prop: Prop) -> PropTubes | None:
    """Return the two tubes of a prop; None of a leg that is one piece: of one length, with no pin, or of a
    section that no other goes into, or whose two halves are too short to hold each other at the longest.
    """
    inner = inner_tube(prop.section)
    if prop.shortest_mm >= prop.longest_mm or not prop.pin_diameter_mm or inner is None:
        return None
    each = prop.shortest_mm - _PUSHED_IN_MM
    overlap = min(2 * each - prop.longest_mm, OVERLAP * prop.section.depth_mm)
    hole = prop.pin_diameter_mm + PIN_ROOM_MM
    if overlap < max(prop.section.depth_mm / 2, 2 * hole) or hole > HOLE_SHARE * inner.depth_mm:
        return None
    first = overlap / 2
    pitch = max(2 * prop.slack_mm, PIN_PITCH * prop.pin_diameter_mm)
    inner_mm = prop.longest_mm - each + overlap
    steps = whole_steps(prop.longest_mm - prop.shortest_mm, pitch, inner_mm, pitch)
    return PropTubes(
        outer_mm=each,
        inner_mm=inner_mm,
        inner=inner,
        overlap_mm=overlap,
        hole_mm=hole,
        outer_hole_mm=overlap - first,
        inner_holes_mm=tuple(first + pitch * step for step in range(steps + 1)),
        pitch_mm=pitch,
    )


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
    low, under = -prop.longest_mm, -prop.longest_mm - PROP_FOOT_THICKNESS_MM
    placed: list[tuple[Piece, MM, MM]] = [(foot, under, low)]
    if tubes is None:
        placed.insert(0, (_tube(design, "prop", prop.section, prop.longest_mm, (), 0.0), low, 0.0))
    else:
        outer = prop.section, tubes.outer_mm, (tubes.outer_mm - tubes.outer_hole_mm,)
        placed.insert(0, (_tube(design, "prop", *outer, tubes.hole_mm), -tubes.outer_mm, 0.0))
        inner = tubes.inner, tubes.inner_mm, tubes.inner_holes_mm
        leg = _tube(design, "prop inner tube", *inner, tubes.hole_mm)
        placed.insert(1, (leg, low, low + tubes.inner_mm))
    hands: dict[int, Hand] = {rails[0]: "left", rails[-1]: "right"}
    for number, rail in enumerate(rails):
        hand = hands.get(rail, "")
        tag = Tag(body="loose", hand=hand, number=0 if hand else number + 1)
        for piece, bottom, top in placed:
            half = (prop.foot_mm if piece is foot else piece.section.depth_mm) / 2
            mass = mass_kg(design, piece, prop.foot_mm) if piece is foot else bar(design, piece)[0]
            shape = rectangle(-half, bottom, half, top)
            yield member(tag, piece, mass, shape, lanes[rail] - half, lanes[rail] + half)


def _tube(
    design: Design, role: Role, section: Section, length: MM, holes_mm: tuple[MM, ...], hole_mm: MM
) -> Piece:
    """Return a tube, its datum end up."""
    middle = section.depth_mm / 2
    return Piece(
        role=role,
        section=section,
        material=design.made_of.rails,
        length_mm=length,
        profile=Profile(
            rectangle(0, 0, length, section.depth_mm), tuple(Hole(at, middle, hole_mm) for at in holes_mm)
        ),
        ends=(SQUARE, SQUARE),
        marks=tuple(
            Mark(at_mm=at, work=say("hole Ø{hole} through both walls", hole=size(hole_mm)), face="side")
            for at in holes_mm
        ),
    )
