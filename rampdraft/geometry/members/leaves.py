"""The members of one leaf that lie along or across it: rails, cross members, slats, edge upstands."""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from rampdraft.geometry.lanes import TOUCH_MM, bays_mm, cross_top_mm, joined_mm, rail_intervals_mm
from rampdraft.geometry.members.member import (
    Body,
    Drilled,
    EndCut,
    Face,
    Hand,
    Mark,
    Member,
    Piece,
    Tag,
)
from rampdraft.geometry.outline import Hole, Outline, Point, Profile, Vertex, bulge_of, rectangle
from rampdraft.geometry.sections import properties
from rampdraft.geometry.solid import solid
from rampdraft.model.catalogue import ScrewRow, material_named, screw_through
from rampdraft.model.design import Design, Leaf
from rampdraft.model.section import Section
from rampdraft.rounding import whole_steps
from rampdraft.units import KG, MM
from rampdraft.words.figures import size
from rampdraft.words.say import say

SQUARE = EndCut(kind="square")

_TOUCH_MM = 1e-9
"""A tip of material thinner than this is none."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Notch:
    """A notch cut up from the underside."""

    centre_mm: MM
    width_mm: MM
    depth_mm: MM


def cope(radius_mm: MM, height_mm: MM, depth_mm: MM) -> EndCut:
    """Return the cut that a hole saw of `radius_mm` makes with its centre on the end face, `height_mm` above
    the top.

    Material is left where (u - u_h)^2 + (w - w_h)^2 >= R^2. A hole saw that misses the bar leaves the end
    square.
    """
    if height_mm - radius_mm >= 0 or height_mm + radius_mm <= -depth_mm:
        return SQUARE
    back = math.sqrt(radius_mm**2 - height_mm**2) if abs(height_mm) < radius_mm else 0.0
    return EndCut(kind="cope", radius_mm=radius_mm, height_mm=height_mm, length_mm=back)


def rail_outline(
    *, length_mm: MM, depth_mm: MM, start: EndCut, end: EndCut, notches: tuple[Notch, ...] = ()
) -> Outline:
    """Return the closed outline of a rail from u = 0 to u = `length_mm`, counter-clockwise."""
    underside: list[Vertex] = []
    for notch in sorted(notches, key=lambda notch: notch.centre_mm):
        left, right, roof = (
            notch.centre_mm - notch.width_mm / 2,
            notch.centre_mm + notch.width_mm / 2,
            notch.depth_mm - depth_mm,
        )
        underside += [(left, -depth_mm, 0.0), (left, roof, 0.0), (right, roof, 0.0), (right, -depth_mm, 0.0)]
    right_end = _end(end, depth_mm)
    left_end = _end(start, depth_mm)
    up = _placed([(length_mm - back, w) for back, w in right_end], end, length_mm)
    down = _placed([(back, w) for back, w in reversed(left_end)], start, 0.0)
    underside, up = _end_to_end(underside, up)
    down, underside = _end_to_end(down, underside)
    return Outline((*underside, *up, *down))


def _end_to_end(run: list[Vertex], following: list[Vertex]) -> tuple[list[Vertex], list[Vertex]]:
    """Return two runs of corners without the one that both have, and without it at all where the outline
    would turn straight back on itself: a notch that opens at the end of the bar.
    """
    if not (run and following) or math.dist(run[-1][:2], following[0][:2]) > TOUCH_MM:
        return run, following
    back = len(run) > 1 and len(following) > 1 and not following[0][2] and not run[-2][2]
    if back and abs(run[-2][0] - following[0][0]) + abs(following[1][0] - following[0][0]) <= TOUCH_MM:
        return run[:-1], following[1:]
    return run[:-1], following


def _end(cut: EndCut, depth: MM) -> list[tuple[MM, MM]]:
    """Return the corners of an end from underside to top as (distance back from the end face, w)."""
    if cut.kind == "square":
        return [(0.0, -depth), (0.0, 0.0)]
    if cut.kind == "taper":
        return [(cut.length_mm, -depth), (0.0, -cut.height_mm), (0.0, 0.0)]
    radius, height = cut.radius_mm, cut.height_mm
    low, high = height - radius, height + radius
    lower = (
        [(0.0, -depth), (0.0, low)]
        if low > -depth + _TOUCH_MM
        else [(_reach(radius, height + depth), -depth)]
    )
    upper = [(0.0, high), (0.0, 0.0)] if high < -_TOUCH_MM else [(_reach(radius, height), 0.0)]
    return lower + upper


def _reach(radius: MM, height: MM) -> MM:
    """Return half the chord of a circle at a height from its centre; 0 where rounding puts it just off the
    circle.
    """
    return math.sqrt(max(0.0, radius**2 - height**2))


def _placed(corners: list[tuple[MM, MM]], cut: EndCut, end_u: MM) -> list[Vertex]:
    """Return the corners as vertices; the side that follows the arc of a cope gets its bulge."""
    vertices: list[Vertex] = []
    centre = (end_u, cut.height_mm)
    for index, point in enumerate(corners):
        bulge = 0.0
        if cut.kind == "cope" and index + 1 < len(corners):
            following = corners[index + 1]
            if _on_circle(point, centre, cut.radius_mm) and _on_circle(following, centre, cut.radius_mm):
                bulge = bulge_of(point, following, centre, clockwise=True)
        vertices.append((*point, bulge))
    return vertices


def _on_circle(point: tuple[MM, MM], centre: tuple[MM, MM], radius: MM) -> bool:
    return abs(math.hypot(point[0] - centre[0], point[1] - centre[1]) - radius) < 1e-9 * max(1.0, radius)


HOLE_SHARE = 0.8
"""A hole takes no more of what it is drilled in, or there is none; common practice."""

TWO_SCREWS_FROM_MM = 70.0
"""A slat this wide or wider takes two screws a crossing; common practice, so that it does not cup."""


LeafEnds = tuple[tuple[EndCut, EndCut], ...]
"""How the rails of a leaf end, a pair of cuts for each rail from left to right."""


def leaf_members(design: Design, body: Body, leaf: Leaf, ends: LeafEnds) -> Iterator[Member]:
    """Yield the rails, cross members, slats and upstands of a leaf, in its frame (u, w)."""
    yield from _rails(design, body, leaf, ends)
    yield from _cross_members(design, body, leaf)
    yield from _slats(design, body, leaf)
    yield from _upstands(design, body, leaf)


def slat_starts_mm(leaf: Leaf) -> tuple[MM, ...]:
    """Return the near edge of each slat: as many as fit before the free end."""
    room = leaf.length_mm - leaf.slat_last_gap_mm - leaf.slat_first_mm - leaf.slat_width_mm
    count = whole_steps(room, leaf.slat_pitch_mm, leaf.length_mm) + 1
    return tuple(leaf.slat_first_mm + leaf.slat_pitch_mm * number for number in range(count))


def _rails(design: Design, body: Body, leaf: Leaf, ends: LeafEnds) -> Iterator[Member]:
    depth = leaf.rail_section.depth_mm
    notches: tuple[Notch, ...] = ()
    if leaf.cross_fitting == "half_lap":
        half = leaf.cross_section.width_mm / 2
        crosses = tuple((at - half, at + half) for at in sorted(leaf.cross_positions_mm))
        notches = tuple(
            Notch(centre_mm=(left + right) / 2, width_mm=right - left, depth_mm=leaf.half_lap_mm)
            for left, right in joined_mm(crosses)
        )
    made: dict[tuple[EndCut, EndCut], tuple[Outline, MM, Piece, KG, Point]] = {}
    for number, ((y0, y1), cuts) in enumerate(zip(rail_intervals_mm(leaf), ends, strict=True), start=1):
        if cuts not in made:
            outline = rail_outline(
                length_mm=leaf.length_mm, depth_mm=depth, start=cuts[0], end=cuts[1], notches=notches
            )
            u0, _, u1, _ = outline.box
            marks = _rail_marks(leaf, notches, u0)
            piece = Piece(
                role="rail", section=leaf.rail_section, material=design.made_of.rails, length_mm=u1 - u0,
                profile=Profile(_shifted(outline, -u0, depth)), ends=cuts, marks=marks,
                drilled=_rail_holes(design, leaf, cuts, u0),
            )  # fmt: skip
            made[cuts] = outline, u0, piece, *bar(design, piece)
        outline, start, piece, mass, (u, w) = made[cuts]
        centre = start + u, (y0 + y1) / 2, w - depth
        yield member(Tag(body=body, number=number), piece, mass, outline, y0, y1, centre)


def _rail_marks(leaf: Leaf, notches: tuple[Notch, ...], datum: MM) -> tuple[Mark, ...]:
    width = leaf.cross_section.width_mm
    if notches:
        return tuple(
            Mark(
                at_mm=notch.centre_mm - datum,
                work=say(
                    "notch {width} wide {depth} deep", width=size(notch.width_mm), depth=size(notch.depth_mm)
                ),
                face="underside",
                centred=True,
            )
            for notch in notches
        )
    work = say("cross member {width} wide", width=size(width))
    face: Face = "side" if leaf.cross_fitting == "between" else "underside"
    return tuple(Mark(at_mm=at - datum, work=work, face=face, centred=True) for at in leaf.cross_positions_mm)


def screw_rows_mm(leaf: Leaf) -> tuple[MM, ...]:
    """Return how far from the near edge of a slat its screws stand at each crossing."""
    width = leaf.slat_width_mm
    return (width / 4, 3 * width / 4) if width >= TWO_SCREWS_FROM_MM else (width / 2,)


def _rail_holes(design: Design, leaf: Leaf, cuts: tuple[EndCut, EndCut], datum: MM) -> tuple[Drilled, ...]:
    """Return the holes in the top of a rail that the screws of the slats go into, where they meet it."""
    hole, middle = design.workshop.slat_screw_mm, leaf.rail_section.width_mm / 2
    if not hole:
        return ()
    kind = material_named(design, design.made_of.rails).kind
    screw = screw_through(hole, kind)
    back = [cut.length_mm if cut.kind == "cope" else 0.0 for cut in cuts]
    first, last = back[0] + screw.pilot_mm / 2, leaf.length_mm - back[1] - screw.pilot_mm / 2
    return tuple(
        Drilled(
            at_mm=start + row - datum,
            across_mm=middle,
            face="top",
            diameter_mm=screw.pilot_mm,
            use="pilot" if kind == "timber" else "thread",
        )
        for start in slat_starts_mm(leaf)
        for row in screw_rows_mm(leaf)
        if first <= start + row <= last
    )


def _cross_members(design: Design, body: Body, leaf: Leaf) -> Iterator[Member]:
    section, top = leaf.cross_section, cross_top_mm(leaf)
    material = design.made_of.cross_members
    if leaf.cross_fitting == "between":
        bays = bays_mm(leaf)
    else:
        lanes = rail_intervals_mm(leaf)
        bays = ((lanes[0][0], lanes[-1][1]),)
    pieces = [_cross_piece(leaf, section, material, y0, y1) for y0, y1 in bays]
    bars = [bar(design, piece) for piece in pieces]
    for number, at in enumerate(leaf.cross_positions_mm, start=1):
        shape = rectangle(at - section.width_mm / 2, top - section.depth_mm, at + section.width_mm / 2, top)
        for bay, ((y0, y1), piece, (mass, (y, up))) in enumerate(
            zip(bays, pieces, bars, strict=True), start=1
        ):
            tag = Tag(body=body, number=number, bay=bay if len(bays) > 1 else 0)
            centre = at, y0 + y, top - section.depth_mm + up
            yield member(tag, piece, mass, shape, y0, y1, centre)


def _cross_piece(leaf: Leaf, section: Section, material: str, y0: MM, y1: MM) -> Piece:
    length, depth = y1 - y0, section.depth_mm
    marks: tuple[Mark, ...] = ()
    outline = rectangle(0, 0, length, depth)
    if leaf.cross_fitting == "half_lap":
        floor, notches = depth - leaf.half_lap_mm, joined_mm(rail_intervals_mm(leaf))
        top: list[tuple[MM, MM, float]] = []
        for y_left, y_right in notches:
            left, right = y_left - y0, y_right - y0
            top += [(left, depth, 0.0), (left, floor, 0.0), (right, floor, 0.0), (right, depth, 0.0)]
        # The end notches open at the ends of the piece: drop the corners that lie on its own corners.
        corners = [(0.0, 0.0, 0.0), (length, 0.0, 0.0), *reversed(top)]
        kept = [corner for corner in corners if corner[:2] not in ((0.0, depth), (length, depth))]
        outline = Outline(tuple(kept))
        marks = tuple(
            Mark(
                at_mm=(left + right) / 2 - y0,
                work=say(
                    "notch {width} wide {depth} deep", width=size(right - left), depth=size(leaf.half_lap_mm)
                ),
                face="top",
                centred=True,
            )
            for left, right in notches
        )
    return Piece(
        role="cross member", section=section, material=material, length_mm=length, profile=Profile(outline),
        ends=(SQUARE, SQUARE), marks=marks,
    )  # fmt: skip


def _slats(design: Design, body: Body, leaf: Leaf) -> Iterator[Member]:
    width, length, thick = leaf.slat_width_mm, leaf.width_mm, leaf.slat_thickness_mm
    material = material_named(design, design.made_of.slats)
    section = Section(kind="timber" if material.kind == "timber" else "flat", depth_mm=thick, width_mm=width)
    hole, y0 = design.workshop.slat_screw_mm, -length / 2
    rows = screw_rows_mm(leaf)
    lanes = leaf.rail_lanes_mm if hole > 0 else ()
    drilled = say(
        "{count} holes Ø{hole} through" if len(rows) > 1 else "{count} hole Ø{hole} through",
        count=len(rows),
        hole=size(hole),
    )
    plain = Piece(
        role="slat",
        section=section,
        material=material.name,
        length_mm=length,
        ends=(SQUARE, SQUARE),
        profile=Profile(
            rectangle(0, 0, length, width),
            tuple(Hole(lane - y0, row, hole) for lane in lanes for row in rows),
        ),
        marks=tuple(Mark(at_mm=lane - y0, work=drilled) for lane in lanes),
    )
    mass = mass_kg(design, plain, length - len(lanes) * len(rows) * math.pi / 4 * hole**2 / width)
    made: dict[tuple[Drilled, ...], Piece] = {(): plain}
    screw = upstand_screw(design)
    for number, start in enumerate(slat_starts_mm(leaf), start=1):
        ends = _end_holes(screw, leaf, start)
        piece = made.get(ends) or made.setdefault(ends, replace(plain, drilled=ends))
        shape = rectangle(start, 0, start + width, thick)
        yield member(Tag(body=body, number=number), piece, mass, shape, y0, -y0)


def upstand_screw(design: Design) -> ScrewRow | None:
    """Return the screw through an upstand into the end of a timber slat; None where upstands are welded."""
    timber = material_named(design, design.made_of.slats).kind == "timber"
    hole = design.workshop.slat_screw_mm
    return screw_through(hole, "timber") if timber and hole else None


def _end_screws_mm(screw: ScrewRow | None, leaf: Leaf, slat_start: MM) -> tuple[MM, ...]:
    """Return how far from the near edge of a slat the screws stand that hold the upstands on its ends."""
    if (
        screw is None
        or leaf.upstand_height_mm <= 0
        or screw.clearance_mm > HOLE_SHARE * leaf.slat_thickness_mm
    ):
        return ()
    room = screw.clearance_mm
    first, last = leaf.upstand_start_mm + room, leaf.length_mm - leaf.upstand_end_gap_mm - room
    return tuple(row for row in screw_rows_mm(leaf) if first <= slat_start + row <= last)


def _end_holes(screw: ScrewRow | None, leaf: Leaf, slat_start: MM) -> tuple[Drilled, ...]:
    """Return the holes in both ends of a slat for the screws of the upstands."""
    return tuple(
        Drilled(
            at_mm=0.0,
            across_mm=row,
            face="ends",
            diameter_mm=screw.pilot_mm,
            use="pilot",
        )
        for row in _end_screws_mm(screw, leaf, slat_start)
        if screw is not None
    )


def _upstands(design: Design, body: Body, leaf: Leaf) -> Iterator[Member]:
    if leaf.upstand_height_mm <= 0:
        return
    u0, u1 = leaf.upstand_start_mm, leaf.length_mm - leaf.upstand_end_gap_mm
    depth, thick, half = (
        leaf.slat_thickness_mm + leaf.upstand_height_mm,
        leaf.upstand_thickness_mm,
        leaf.width_mm / 2,
    )
    material, screw = material_named(design, design.made_of.upstands), upstand_screw(design)
    section = Section(kind="timber" if material.kind == "timber" else "flat", depth_mm=depth, width_mm=thick)
    holes = tuple(
        Hole(start + row - u0, leaf.slat_thickness_mm / 2, screw.clearance_mm)
        for start in slat_starts_mm(leaf)
        for row in _end_screws_mm(screw, leaf, start)
        if screw is not None
    )
    piece = Piece(
        role="edge upstand", section=section, material=material.name,
        length_mm=u1 - u0, profile=Profile(rectangle(0, 0, u1 - u0, depth), holes), ends=(SQUARE, SQUARE),
    )  # fmt: skip
    gone = sum(math.pi / 4 * one.diameter_mm**2 for one in holes) / depth
    shape, mass = rectangle(u0, 0, u1, depth), mass_kg(design, piece, u1 - u0 - gone)
    hands: tuple[tuple[Hand, MM], ...] = (("left", -half - thick), ("right", half))
    for hand, y0 in hands:
        yield member(Tag(body=body, hand=hand), piece, mass, shape, y0, y0 + thick)


Centre = tuple[MM, MM, MM]


def mass_kg(design: Design, piece: Piece, mean_length: MM) -> KG:
    """Return what a piece weighs: section area times `mean_length` (what cuts and holes leave of it) times
    density.
    """
    density = material_named(design, piece.material).density_kg_m3
    return properties(piece.section).area_mm2 * mean_length * density * 1e-9


def member(
    tag: Tag, piece: Piece, mass: KG, shape: Outline, y0: MM, y1: MM, centre: Centre | None = None
) -> Member:
    """Return the member that a piece is where it is placed; its centre of gravity is that of its shape if not
    told.
    """
    if centre is None:
        _, (u, w) = shape.area_and_centroid()
        centre = u, (y0 + y1) / 2, w
    return Member(
        key=" ".join(map(str, tag.words(piece.role))),
        tag=tag,
        piece=piece,
        y0_mm=y0,
        y1_mm=y1,
        silhouette=shape,
        mass_kg=mass,
        centre_mm=centre,
    )


def bar(design: Design, piece: Piece) -> tuple[KG, Point]:
    """Return what is left of a bar by its profile weighs, and the centre of that in the profile."""
    left = solid(piece.section, piece.profile)
    return mass_kg(design, piece, left.volume_mm3 / properties(piece.section).area_mm2), left.centre_mm


def _shifted(outline: Outline, dx: MM, dy: MM) -> Outline:
    return Outline(tuple((x + dx, y + dy, bulge) for x, y, bulge in outline.vertices))
