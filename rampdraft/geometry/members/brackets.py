"""The brackets on the carrier: a stub that holds the knuckle, welded to a plate that is bolted on.

They are made and bought with the ramp, and are no members of the assembly: nothing of them is folded.
"""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.geometry.lanes import deck_bracket_centres_mm
from rampdraft.geometry.members.leaves import SQUARE, bar, cope, mass_kg, member, rail_outline
from rampdraft.geometry.members.member import Mark, Member, Piece, Tag
from rampdraft.geometry.outline import Hole, Outline, Profile, Vertex, rectangle
from rampdraft.model.catalogue import bolt_hole_mm, bolts
from rampdraft.model.design import Design
from rampdraft.model.section import Section
from rampdraft.units import KG, MM
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
    """Return the top of stubs and plates above the deck surface: with the knuckle half way up the stub, but
    no higher than the deck or the knuckle itself, so that nothing stands up where wheels go.
    """
    hinge, depth = design.deck_hinge, design.joining.bracket_section.depth_mm
    return min(depth / 2 - hinge.below_mm, max(0.0, hinge.knuckle_diameter_mm / 2 - hinge.below_mm))


def bracket_members(design: Design) -> Iterator[Member]:
    """Yield a stub and a plate for each knuckle of the carrier, in the frame of the carrier; no stub where
    the knuckle lies on its plate.
    """
    joining, top, out = design.joining, stub_top_mm(design), design.deck_hinge.out_mm
    thick, back = joining.bracket_plate_mm, bracket_back_mm(design)
    plate, stub = _plate_piece(design), _stub(design, out - back - thick)
    holes = sum(math.pi / 4 * hole.diameter_mm**2 for hole in plate.profile.holes)
    plate_kg = mass_kg(design, plate, plate.length_mm - holes / plate.section.width_mm)
    shape = rectangle(back, top - plate.section.width_mm, back + thick, top)
    for number, middle in enumerate(deck_bracket_centres_mm(design), start=1):
        tag = Tag(body="carrier", number=number)
        if stub is not None:
            outline, piece, mass = stub
            placed = Outline(tuple((out - u, top + w, bulge) for u, w, bulge in _turned(outline)))
            half = piece.section.width_mm / 2
            yield member(tag, piece, mass, placed, middle - half, middle + half)
        yield member(tag, plate, plate_kg, shape, middle - plate.length_mm / 2, middle + plate.length_mm / 2)


def _stub(design: Design, length: MM) -> tuple[Outline, Piece, KG] | None:
    """Return the outline of a stub, from the hinge line towards its plate and down from its top, its piece,
    coped to the knuckle at the datum end, and what that weighs.
    """
    hinge, section = design.deck_hinge, design.joining.bracket_section
    cut = cope(hinge.knuckle_diameter_mm / 2, -hinge.below_mm - stub_top_mm(design), section.depth_mm)
    if length <= hinge.knuckle_diameter_mm / 2:
        return None
    outline = rail_outline(length_mm=length, depth_mm=section.depth_mm, start=cut, end=SQUARE)
    u0, _, u1, _ = outline.box
    lifted = Outline(tuple((u - u0, w + section.depth_mm, bulge) for u, w, bulge in outline.vertices))
    piece = Piece(
        role="bracket stub",
        section=section,
        material=design.made_of.fittings,
        length_mm=u1 - u0,
        profile=Profile(lifted),
        ends=(cut, SQUARE),
    )
    return outline, piece, bar(design, piece)[0]


def _plate_piece(design: Design) -> Piece:
    joining, places = design.joining, bolt_places_mm(design)
    hole = bolt_hole_mm(joining.bolt_size)
    edge = max(joining.bolt_edge_mm, hole)  # what is nearer to the edge tears out, and fails its check
    wide = 2 * (max(abs(place) for place in places) + edge)
    up = max(joining.bolt_arm_mm, hole)
    tall = max(up + edge, joining.bracket_section.depth_mm)
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
    size = next(bolt for bolt in bolts() if bolt.size == joining.bolt_size).diameter_mm
    nearest = joining.bracket_section.width_mm / 2 + joining.bolt_beside_mm
    left, right = joining.bolt_count // 2, (joining.bolt_count + 1) // 2
    step = BOLT_PITCH * size
    return (
        *(-nearest - step * place for place in reversed(range(left))),
        *(nearest + step * place for place in range(right)),
    )


def _turned(outline: Outline) -> tuple[Vertex, ...]:
    """Return the corners of an outline in the order that is counter-clockwise once it is mirrored."""
    vertices = outline.vertices
    count = len(vertices)
    return tuple((*vertices[-1 - k][:2], vertices[(-2 - k) % count][2]) for k in range(count))
