"""The brackets on the carrier: a stub that holds the knuckle, welded to a plate that is bolted on.

They are made and bought with the ramp, and are no members of the assembly: nothing of them is folded, but the
leaves are folded past them.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

from rampdraft.geometry.lanes import deck_bracket_centres_mm
from rampdraft.geometry.members.leaves import SQUARE, bar, cope, mass_kg, member, rail_outline
from rampdraft.geometry.members.member import EndCut, Mark, Member, Piece, Role, Tag
from rampdraft.geometry.outline import Hole, Outline, Profile, Vertex, rectangle
from rampdraft.model.catalogue import BoltRow, bolt_hole_mm, bolt_row
from rampdraft.model.design import Design
from rampdraft.model.section import Section
from rampdraft.units import MM
from rampdraft.words.figures import size
from rampdraft.words.say import say

BOLT_PITCH: Final = 3.0
"""Bolts beside each other stand so many diameters apart: common practice, more than the 2.2 holes of EN
1993-1-8, table 3.3.
"""


def bracket_back_mm(design: Design) -> MM:
    """Return where the backs of the brackets' plates lie: x from the deck edge. They lie on the deck edge
    unless they lie all below the deck, on the carrier's end.
    """
    carrier = design.carrier
    return 0.0 if stub_top_mm(design) > -carrier.deck_thickness_mm else -carrier.end_setback_mm


def stub_top_mm(design: Design) -> MM:
    """Return the top of stubs and plates above the deck surface: at the hinge line, so that the slats of the
    leaf that stands up do not meet them, and lower than the knuckle, so that no wheel meets them first.
    """
    return -design.deck_hinge.below_mm


def stub_room_mm(design: Design) -> MM:
    """Return how wide a stub may be to turn as free of the rail of the leaf next to it as the knuckles are of
    each other.
    """
    return 2 * design.deck_hinge.knuckle_length_mm - design.inner_leaf.rail_section.width_mm


def bolts_below_mm(design: Design) -> MM:
    """Return how far below the deck surface the bolts of the brackets are."""
    _, tall, up = _plate_mm(design)
    return tall - up - stub_top_mm(design)


def packing_mm(design: Design) -> MM:
    """Return how thick the packing is behind plates that lie on the deck's edge and reach below it, where the
    carrier's end stands back; 0 where none goes.
    """
    carrier, (_, tall, _) = design.carrier, _plate_mm(design)
    reaches = tall - stub_top_mm(design) > carrier.deck_thickness_mm
    ends = carrier.end_depth_mm > carrier.deck_thickness_mm
    return carrier.end_setback_mm if reaches and ends and bracket_back_mm(design) >= 0 else 0.0


def plates_apart_mm(design: Design) -> MM:
    """Return the least gap across between plates of neighbouring brackets; negative where they lie over each
    other, infinite where there is one bracket.
    """
    wide, _, _ = _plate_mm(design)
    middles = sorted(deck_bracket_centres_mm(design))
    return min((right - left - wide for left, right in pairwise(middles)), default=math.inf)


def bolts_beside_stub(design: Design) -> bool:
    """Return whether the bolts of a bracket stand beside its stub, and not all below it."""
    _, tall, up = _plate_mm(design)
    lowest = design.joining.bracket_section.depth_mm + design.joining.weld_leg_mm
    return _stub_outline(design) is not None and tall - up - _bolt(design).washer_mm / 2 < lowest


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A stub, a plate or the head of a bolt, as it stands on the carrier."""

    role: Role
    number: int
    shape: Outline
    """In the side plane: x from the deck edge, z from the deck surface."""
    y0_mm: MM
    y1_mm: MM

    @property
    def tag(self) -> Tag:
        """Return which of its family it is."""
        return Tag(body="carrier", number=self.number)

    @property
    def key(self) -> str:
        """Return its name, that stays put while dimensions change: `carrier bracket stub 1`."""
        return " ".join(map(str, self.tag.words(self.role)))


def brackets_standing(design: Design) -> Iterator[Standing]:
    """Yield all of the brackets that a leaf can meet: a stub and a plate for each knuckle of the carrier, no
    stub where the knuckle lies on its plate, and the heads of the bolts, which are put in from the leaf's
    side.
    """
    joining, top, out = design.joining, stub_top_mm(design), design.deck_hinge.out_mm
    back, (wide, tall, up) = bracket_back_mm(design), _plate_mm(design)
    face, stub, bolt = back + joining.bracket_plate_mm, _stub_outline(design), _bolt(design)
    plate = rectangle(back, top - tall, face, top)
    number = 0
    for bracket, middle in enumerate(deck_bracket_centres_mm(design), start=1):
        if stub is not None:
            shape = Outline(tuple((out - u, top + w, bulge) for u, w, bulge in _turned(stub[0])))
            half = joining.bracket_section.width_mm / 2
            yield _standing("bracket stub", bracket, shape, middle, half)
        yield _standing("bracket plate", bracket, plate, middle, wide / 2)
        for place in bolt_places_mm(design):
            number, half, at = number + 1, bolt.washer_mm / 2, top - tall + up
            head = rectangle(face, at - half, face + bolt.head_mm + bolt.washer_thick_mm, at + half)
            yield _standing("bracket bolt", number, head, middle + place, half)


def _standing(role: Role, number: int, shape: Outline, middle: MM, half: MM) -> Standing:
    return Standing(role=role, number=number, shape=shape, y0_mm=middle - half, y1_mm=middle + half)


def bracket_members(design: Design) -> Iterator[Member]:
    """Yield the stubs and plates with what they are made of, in the frame of the carrier."""
    plate, stub = _plate_piece(design), _stub_piece(design)
    holes = sum(math.pi / 4 * hole.diameter_mm**2 for hole in plate.profile.holes)
    plate_kg = mass_kg(design, plate, plate.length_mm - holes / plate.section.width_mm)
    for one in brackets_standing(design):
        if one.role == "bracket stub":
            assert stub is not None
            yield member(one.tag, stub, bar(design, stub)[0], one.shape, one.y0_mm, one.y1_mm)
        elif one.role == "bracket plate":
            yield member(one.tag, plate, plate_kg, one.shape, one.y0_mm, one.y1_mm)


def _stub_outline(design: Design) -> tuple[Outline, EndCut] | None:
    """Return the outline of a stub, from the hinge line towards its plate and down from its top, and the cope
    to its knuckle.
    """
    hinge, section = design.deck_hinge, design.joining.bracket_section
    length = hinge.out_mm - bracket_back_mm(design) - design.joining.bracket_plate_mm
    cut = cope(hinge.knuckle_diameter_mm / 2, -hinge.below_mm - stub_top_mm(design), section.depth_mm)
    if length <= hinge.knuckle_diameter_mm / 2:
        return None
    return rail_outline(length_mm=length, depth_mm=section.depth_mm, start=cut, end=SQUARE), cut


def _stub_piece(design: Design) -> Piece | None:
    section, found = design.joining.bracket_section, _stub_outline(design)
    if found is None:
        return None
    outline, cut = found
    u0, _, u1, _ = outline.box
    lifted = Outline(tuple((u - u0, w + section.depth_mm, bulge) for u, w, bulge in outline.vertices))
    return Piece(
        role="bracket stub",
        section=section,
        material=design.made_of.fittings,
        length_mm=u1 - u0,
        profile=Profile(lifted),
        ends=(cut, SQUARE),
    )


def _plate_mm(design: Design) -> tuple[MM, MM, MM]:
    """Return how wide and how tall a plate is, and how far its bolts are above its lower edge."""
    joining, places = design.joining, bolt_places_mm(design)
    hole = bolt_hole_mm(joining.bolt_size)
    edge = max(joining.bolt_edge_mm, hole)  # what is nearer to the edge tears out, and fails its check
    up = max(joining.bolt_arm_mm, hole)
    wide = 2 * (max(abs(place) for place in places) + edge)
    return wide, max(up + edge, joining.bracket_section.depth_mm), up


def _plate_piece(design: Design) -> Piece:
    joining, places, (wide, tall, up) = design.joining, bolt_places_mm(design), _plate_mm(design)
    hole = bolt_hole_mm(joining.bolt_size)
    return Piece(
        role="bracket plate",
        section=Section(kind="flat", depth_mm=joining.bracket_plate_mm, width_mm=tall),
        material=design.made_of.fittings,
        length_mm=wide,
        profile=Profile(
            rectangle(0, 0, wide, tall), tuple(Hole(wide / 2 + place, up, hole) for place in places)
        ),
        ends=(SQUARE, SQUARE),
        marks=tuple(
            Mark(
                at_mm=wide / 2 + place,
                work=say("hole Ø{hole} through, {up} from the lower edge", hole=size(hole), up=size(up)),
            )
            for place in places
        ),
    )


def bolt_places_mm(design: Design) -> tuple[MM, ...]:
    """Return where the bolts of a bracket stand across, from the middle of its stub: half of them on either
    side, the odd one on the right.
    """
    joining = design.joining
    size = _bolt(design).diameter_mm
    nearest = joining.bracket_section.width_mm / 2 + joining.bolt_beside_mm
    left, right = joining.bolt_count // 2, (joining.bolt_count + 1) // 2
    step = BOLT_PITCH * size
    return (
        *(-nearest - step * place for place in reversed(range(left))),
        *(nearest + step * place for place in range(right)),
    )


def _bolt(design: Design) -> BoltRow:
    return bolt_row(design.joining.bolt_size)


def _turned(outline: Outline) -> tuple[Vertex, ...]:
    """Return the corners of an outline in the order that is counter-clockwise once it is mirrored."""
    vertices = outline.vertices
    count = len(vertices)
    return tuple((*vertices[-1 - k][:2], vertices[(-2 - k) % count][2]) for k in range(count))
