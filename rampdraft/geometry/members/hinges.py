"""The members at the hinge lines and the toe: knuckles, pins, washers, stop bars, toe flap, bridge plate."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from rampdraft.geometry.lanes import (
    PIN_TAIL_MM,
    deck_bracket_centres_mm,
    joint_pairs_mm,
    knuckle_centres_mm,
    rail_intervals_mm,
    stop_intervals_mm,
)
from rampdraft.geometry.members.leaves import HOLE_SHARE, SQUARE, LeafEnds, bar, cope, mass_kg, member
from rampdraft.geometry.members.member import Body, EndCut, HingeLine, Mark, Member, Piece, Role, Tag
from rampdraft.geometry.outline import Hole, Outline, Point, Profile, disc, rectangle
from rampdraft.model.catalogue import bolt_hole_mm, split_pin
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.model.section import Section
from rampdraft.units import MM, RAD
from rampdraft.words.figures import figure, size
from rampdraft.words.say import say

Interval = tuple[MM, MM]


def rail_ends(design: Design) -> dict[Body, LeafEnds]:
    """Return the cuts at the ends of each leaf's rails.

    A rail is coped to its own knuckle, and wider by the running clearance where another body's knuckle shares
    its lane.
    """
    joint, deck = design.joint, design.deck_hinge
    inner_knuckles = [_interval(y, joint) for y in knuckle_centres_mm(design.inner_leaf)]
    outer_knuckles = [_interval(y, joint) for y in knuckle_centres_mm(design.outer_leaf)]
    deck_own = [_interval(y, deck) for y in design.inner_leaf.rail_lanes_mm]
    deck_other = [_interval(y, deck) for y in deck_bracket_centres_mm(design)]
    inner, outer = design.inner_leaf, design.outer_leaf
    inner_cuts = tuple(
        (
            _end_cut(lane, deck_own, deck_other, deck, inner),
            _end_cut(lane, inner_knuckles, outer_knuckles, joint, inner),
        )
        for lane in rail_intervals_mm(inner)
    )
    toe = SQUARE
    if design.toe.kind == "taper":
        toe = EndCut(kind="taper", height_mm=design.toe.thickness_mm, length_mm=design.toe.length_mm)
    outer_cuts = tuple(
        (_end_cut(lane, outer_knuckles, inner_knuckles, joint, outer), toe)
        for lane in rail_intervals_mm(outer)
    )
    return {"inner": inner_cuts, "outer": outer_cuts}


def hinge_members(design: Design) -> Iterator[Member]:
    """Yield the knuckles, pins and washers of both hinge lines."""
    deck, joint, leaf = design.deck_hinge, design.joint, design.inner_leaf
    lanes, brackets, at_joint = (
        leaf.rail_lanes_mm,
        deck_bracket_centres_mm(design),
        (leaf.length_mm, joint.height_mm),
    )
    yield from _knuckles(design, "inner", "deck", deck, (0.0, deck.height_mm), lanes)
    yield from _knuckles(design, "carrier", "deck", deck, (deck.out_mm, -deck.below_mm), brackets)
    yield from _pins(design, "deck", deck, (0.0, deck.height_mm), tuple(zip(lanes, brackets, strict=True)))
    yield from _knuckles(design, "inner", "joint", joint, at_joint, knuckle_centres_mm(leaf))
    outer = knuckle_centres_mm(design.outer_leaf)
    yield from _knuckles(design, "outer", "joint", joint, (0.0, joint.height_mm), outer)
    yield from _pins(design, "joint", joint, at_joint, joint_pairs_mm(design))


def stop_members(design: Design) -> Iterator[Member]:
    """Yield the stop bars, on the side where they keep the joint from closing the wrong way.

    Backs together they lie on the running-surface side, faces together on the underside. They bridge the
    lanes of a pair.
    """
    placed = _butting if design.stop.kind == "butt" else _lapping
    for number, (y0, y1) in enumerate(stop_intervals_mm(design), start=1):
        yield from placed(design, number, y0, y1)


def toe_members(design: Design) -> Iterator[Member]:
    """Yield the plates that close tapered rails, and the toe flap as it is carried, hinged on the edge of the
    running surface.
    """
    toe, leaf = design.toe, design.outer_leaf
    if toe.kind == "taper" and toe.closed and leaf.rail_section.kind == "box":
        yield from _taper_plates(design)
    if toe.kind != "flap":
        return
    outline = flap_outline(design, math.radians(toe.carried_deg))
    piece = _plate(design, "toe flap", length=leaf.width_mm, along=toe.length_mm, thickness=toe.thickness_mm)
    half = leaf.width_mm / 2
    mass = mass_kg(design, piece, leaf.width_mm)
    yield member(Tag(body="outer"), piece, mass, outline, -half, half)


def _taper_plates(design: Design) -> Iterator[Member]:
    """Yield the plate welded between the sides of each tapered box rail, flush with the cut."""
    toe, leaf = design.toe, design.outer_leaf
    section = leaf.rail_section
    wall, drop = section.wall_mm, section.depth_mm - toe.thickness_mm
    length, width = math.hypot(toe.length_mm, drop), section.width_mm - 2 * section.wall_mm
    u, w = toe.length_mm / length, drop / length
    start, end = leaf.length_mm - toe.length_mm, leaf.length_mm
    low, high = -section.depth_mm, -toe.thickness_mm
    shape = Outline(
        (
            (start, low, 0.0),
            (end, high, 0.0),
            (end - w * wall, high + u * wall, 0.0),
            (start - w * wall, low + u * wall, 0.0),
        )
    )
    piece = Piece(
        role="taper plate",
        section=Section(kind="flat", depth_mm=wall, width_mm=width),
        material=design.made_of.rails,
        length_mm=length,
        profile=Profile(rectangle(0, 0, length, width)),
        ends=(SQUARE, SQUARE),
    )
    mass = mass_kg(design, piece, length)
    for number, (y0, y1) in enumerate(rail_intervals_mm(leaf), start=1):
        yield member(Tag(body="outer", number=number), piece, mass, shape, y0 + wall, y1 - wall)


def flap_outline(design: Design, angle_rad: float) -> Outline:
    """Return the toe flap's silhouette in the outer leaf's frame, turned by `angle_rad` from lying straight
    on.
    """
    u, w = design.outer_leaf.length_mm, design.outer_leaf.slat_thickness_mm
    cos, sin = math.cos(angle_rad), math.sin(angle_rad)
    length, thickness = design.toe.length_mm, design.toe.thickness_mm
    corners = ((0.0, -thickness), (length, -thickness), (length, 0.0), (0.0, 0.0))
    return Outline(tuple((u + cos * a - sin * b, w + sin * a + cos * b, 0.0) for a, b in corners))


def bridge_members(design: Design) -> Iterator[Member]:
    """Yield the bridge plate, which rides on the leaf, and its strip on the deck."""
    bridge = design.bridge
    if bridge.fitted:
        width = design.inner_leaf.width_mm
        parts: tuple[tuple[Role, MM, MM], ...] = (
            ("bridge plate", 0.0, bridge.length_mm - bridge.over_deck_mm),
            ("bridge strip", -bridge.over_deck_mm, 0.0),
        )
        for role, x0, x1 in parts:
            if x1 > x0:
                piece = _plate(design, role, length=width, along=x1 - x0, thickness=bridge.thickness_mm)
                if role == "bridge strip":
                    piece = _screwed_down(design, piece)
                shape = rectangle(x0, 0, x1, bridge.thickness_mm)
                gone = sum(math.pi / 4 * hole.diameter_mm**2 for hole in piece.profile.holes) / (x1 - x0)
                mass = mass_kg(design, piece, width - gone)
                yield member(Tag(body="carrier"), piece, mass, shape, -width / 2, width / 2)


def _screwed_down(design: Design, strip: Piece) -> Piece:
    """Return the strip with the holes of its screws, evenly along its middle; without where it has no room
    for them.
    """
    count, hole = design.bridge.screws, bolt_hole_mm(design.bridge.screw_size)
    if min(strip.section.width_mm, strip.length_mm / count) < hole / HOLE_SHARE:
        return strip
    places = [(place + 0.5) * strip.length_mm / count for place in range(count)]
    holes = tuple(Hole(at, strip.section.width_mm / 2, hole) for at in places)
    marks = tuple(Mark(at_mm=at, work=say("hole Ø{hole} through", hole=size(hole))) for at in places)
    return replace(strip, profile=replace(strip.profile, holes=holes), marks=marks)


def _interval(centre: MM, hinge: Hinge) -> Interval:
    return centre - hinge.knuckle_length_mm / 2, centre + hinge.knuckle_length_mm / 2


def _overlap(a: Interval, b: Interval) -> bool:
    return min(a[1], b[1]) - max(a[0], b[0]) > 1e-6


def _end_cut(lane: Interval, own: list[Interval], others: list[Interval], hinge: Hinge, leaf: Leaf) -> EndCut:
    radius = hinge.knuckle_diameter_mm / 2
    if any(_overlap(lane, other) for other in others):
        radius += hinge.running_clearance_mm
    elif not any(_overlap(lane, knuckle) for knuckle in own):
        return SQUARE
    return cope(radius, hinge.height_mm, leaf.rail_section.depth_mm)


def _knuckles(
    design: Design, body: Body, line: HingeLine, hinge: Hinge, centre: Point, lanes: tuple[MM, ...]
) -> Iterator[Member]:
    """Yield the knuckles of one body on a hinge line, whose centre lies at `centre` of the body's frame."""
    bore, length, diameter = hinge.pin_diameter_mm, hinge.knuckle_length_mm, hinge.knuckle_diameter_mm
    marks = (Mark(at_mm=0, work=say("bore Ø{bore} through, on the axis", bore=size(bore))),)
    piece = _ring_piece(design, "knuckle", diameter, bore, length, marks)
    shape, mass = disc(*centre, diameter), mass_kg(design, piece, length * (1 - (bore / diameter) ** 2))
    for number, y in enumerate(lanes, start=1):
        tag = Tag(body=body, hinge=line, number=number)
        yield member(tag, piece, mass, shape, y - length / 2, y + length / 2)


def _ring_piece(
    design: Design, role: Role, diameter: MM, bore: MM, length: MM, marks: tuple[Mark, ...] = ()
) -> Piece:
    return Piece(
        role=role,
        section=Section(kind="round", depth_mm=diameter, width_mm=diameter),
        material=design.made_of.fittings,
        length_mm=length,
        profile=Profile(disc(0, 0, diameter), (Hole(0, 0, bore),)),
        ends=(SQUARE, SQUARE),
        marks=marks,
    )


def _pins(
    design: Design, line: HingeLine, hinge: Hinge, centre: Point, pairs: tuple[tuple[MM, MM], ...]
) -> Iterator[Member]:
    diameter, outside, half = hinge.pin_diameter_mm, hinge.knuckle_diameter_mm, hinge.knuckle_length_mm / 2
    shape, ring, solid = disc(*centre, diameter), disc(*centre, outside), 1 - (diameter / outside) ** 2
    pins, washers = dict[MM, Piece](), dict[MM, Piece]()
    for number, pair in enumerate(pairs, start=1):
        y0, y1 = min(pair) - half - PIN_TAIL_MM, max(pair) + half + PIN_TAIL_MM
        length = round(y1 - y0, 6)
        pin = pins.get(length) or pins.setdefault(length, _pin_piece(design, diameter, length))
        tag = Tag(body="inner", hinge=line, number=number)
        yield member(tag, pin, bar(design, pin)[0], shape, y0, y1)
        gap = abs(pair[1] - pair[0]) - hinge.knuckle_length_mm
        if gap >= 0.5:
            middle, thickness = (pair[0] + pair[1]) / 2, round(gap, 6)
            washer = washers.get(thickness) or washers.setdefault(
                thickness, _ring_piece(design, "washer", outside, diameter, thickness)
            )
            mass = mass_kg(design, washer, gap * solid)
            yield member(tag, washer, mass, ring, middle - gap / 2, middle + gap / 2)


def _pin_piece(design: Design, diameter: MM, length: MM) -> Piece:
    drilled, hole = (PIN_TAIL_MM / 2, length - PIN_TAIL_MM / 2), split_pin(diameter).hole_mm
    return Piece(
        role="pin",
        section=Section(kind="round", depth_mm=diameter, width_mm=diameter),
        material=design.made_of.fittings,
        length_mm=length,
        ends=(SQUARE, SQUARE),
        profile=Profile(
            rectangle(0, 0, length, diameter), tuple(Hole(x, diameter / 2, hole) for x in drilled)
        ),
        marks=tuple(
            Mark(at_mm=x, work=say("hole Ø{hole} across, for a split pin", hole=size(hole))) for x in drilled
        ),
    )


def _butting(design: Design, number: int, y0: MM, y1: MM) -> Iterator[Member]:
    stop, length = design.stop, design.inner_leaf.length_mm
    edge = design.joint.height_mm + stop.arm_mm
    low, high = (
        (edge - stop.section.depth_mm, edge) if stop.arm_mm > 0 else (edge, edge + stop.section.depth_mm)
    )
    piece = _stop_piece(
        design,
        stop.fixed_length_mm,
        say("set with a feeler of {gap} between the end faces", gap=_feeler(design)),
    )
    near, far = stop.gap_mm / 2, stop.gap_mm / 2 + stop.fixed_length_mm
    inner, outer = rectangle(length - far, low, length - near, high), rectangle(near, low, far, high)
    mass = mass_kg(design, piece, piece.length_mm)
    yield member(Tag(body="inner", number=number), piece, mass, inner, y0, y1)
    yield member(Tag(body="outer", number=number), piece, mass, outer, y0, y1)


def _lapping(design: Design, number: int, y0: MM, y1: MM) -> Iterator[Member]:
    stop = design.stop
    leaf = design.inner_leaf if stop.fixed_to == "inner" else design.outer_leaf
    low = (
        stop.gap_mm
        if design.fold.closing == "backs"
        else -leaf.rail_section.depth_mm - stop.gap_mm - stop.section.depth_mm
    )
    if stop.fixed_to == "inner":
        u0, u1 = leaf.length_mm - stop.fixed_length_mm, leaf.length_mm + stop.lap_mm
    else:
        u0, u1 = -stop.lap_mm, stop.fixed_length_mm
    piece = _stop_piece(design, u1 - u0, say("set with a feeler of {gap} under it", gap=_feeler(design)))
    shape = rectangle(u0, low, u1, low + stop.section.depth_mm)
    tag = Tag(body=stop.fixed_to, number=number)
    yield member(tag, piece, mass_kg(design, piece, u1 - u0), shape, y0, y1)


def _feeler(design: Design) -> str:
    return figure(design.stop.gap_mm, "mm", 2)


def _stop_piece(design: Design, length: MM, work: str) -> Piece:
    """Return a stop bar, cut as it is given: the gap is set when it is welded on, not sawn."""
    section = design.stop.section
    return Piece(
        role="stop bar",
        section=section,
        material=design.made_of.fittings,
        length_mm=length,
        ends=(SQUARE, SQUARE),
        profile=Profile(rectangle(0, 0, length, section.depth_mm)),
        marks=(Mark(at_mm=0, work=work),) if design.stop.gap_mm > 0 else (),
    )


def _plate(design: Design, role: Role, *, length: MM, along: MM, thickness: MM) -> Piece:
    """Return a flat plate: `length` across the ramp, `along` it; its profile is its face."""
    return Piece(
        role=role,
        section=Section(kind="flat", depth_mm=thickness, width_mm=along),
        material=design.made_of.fittings,
        length_mm=length,
        profile=Profile(rectangle(0, 0, length, along)),
        ends=(SQUARE, SQUARE),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class KnuckleWeld:
    """The weld round one knuckle: an arc on each side of the rail, and lines that run along the knuckle.

    Places are from the hinge centre, u along the leaf away from its other end, w up.
    """

    radius_mm: MM
    arc_rad: tuple[RAD, RAD]
    """Where the arcs begin and end, above the level through the hinge centre, behind it."""
    lines_mm: tuple[tuple[MM, MM], ...]
    """Where each line lies, (u, w)."""
    width_mm: MM
    """Of the rail under the knuckle: length of a line, and distance between the arcs."""

    @property
    def arc_mm(self) -> MM:
        """Return the length of one arc."""
        return self.radius_mm * (self.arc_rad[1] - self.arc_rad[0])

    @property
    def length_mm(self) -> MM:
        """Return the length of all of it."""
        return 2 * self.arc_mm + len(self.lines_mm) * self.width_mm


def knuckle_weld(hinge: Hinge, leaf: Leaf, shift_mm: MM) -> KnuckleWeld | None:
    """Return the weld between a knuckle and the end of its rail; None where the knuckle does not lie on the
    rail.

    The rail's end face stands on the hinge line and is coped to the knuckle: on each side the weld follows
    the knuckle from the rail's underside to its top, as far as the knuckle reaches; over the top and under
    the underside a line runs along the knuckle where it comes through. A knuckle that stands on top of the
    rail, or hangs below it, has a line before it at the end face and one half a radius behind.
    """
    width = min(
        leaf.rail_section.width_mm, (leaf.rail_section.width_mm + hinge.knuckle_length_mm) / 2 - abs(shift_mm)
    )
    width = min(width, hinge.knuckle_length_mm)
    if width <= 0:
        return None
    radius, height, depth = hinge.knuckle_diameter_mm / 2, hinge.height_mm, leaf.rail_section.depth_mm
    top, bottom = -height / radius, (-depth - height) / radius
    if top <= -1 or bottom >= 1:
        face = max(-radius, -height) if top <= -1 else min(radius, -depth - height)
        lines = ((-radius / 2, face), (0.0, face))
        return KnuckleWeld(radius_mm=radius, arc_rad=(0.0, 0.0), lines_mm=lines, width_mm=width)
    start, end = math.asin(max(-1.0, bottom)), math.asin(min(1.0, top))
    at = (*((end,) if top < 1 else ()), *((start,) if bottom > -1 else ()))
    lines = tuple((-radius * math.cos(angle), radius * math.sin(angle)) for angle in at)
    return KnuckleWeld(radius_mm=radius, arc_rad=(start, end), lines_mm=lines, width_mm=width)
