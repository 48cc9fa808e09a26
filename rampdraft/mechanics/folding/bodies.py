"""What can clash: the members cut into convex parts, and the pairs of parts that share an interval across."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import chain, pairwise
from typing import Literal, NamedTuple, get_args

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.bridge import bearers
from rampdraft.geometry.ground_line import FAR_MM, ground_line
from rampdraft.geometry.linkage import Placing, edge_height_mm, moved
from rampdraft.geometry.members.brackets import brackets_standing
from rampdraft.geometry.members.member import INSIDE, Around, Assembly, Body, Kin, Member
from rampdraft.geometry.outline import Outline, Point, Vertex, rectangle
from rampdraft.mechanics.folding.separation import Array
from rampdraft.model.design import Design, Obstacle, Site
from rampdraft.units import MM

SAGITTA_MM = 0.02
"""A cope's arc is followed by chords this close, on the knuckle's side: clearances come out too small, never
too large.
"""

BRIDGE_FROM_RAD = math.radians(-20.0)
"""From this angle of the inner leaf on the bridge plate is held against the outer leaf: no usable ramp lies
steeper.
"""

BRIDGE_STEPS = 8
"""So few that it is soon judged; what they leave open is room kept free."""

GROUND_DEPTH_MM = 2.0e4
"""So deep that the way out of the ground is always up."""

Frame = Literal["inner-outer", "static-inner", "static-outer"]
"""Whose frame a pair is judged in: the first body's; the second one moves."""

FRAMES: tuple[Frame, ...] = get_args(Frame)

_AROUND = frozenset(get_args(Around))

Index = NDArray[np.intp]

Convex = tuple[tuple[Point, ...], MM]
"""Corners (four at most) and the radius they are grown by."""


class Thing(NamedTuple):
    """A member, the deck, the carrier's end or the ground, in convex parts."""

    key: str
    kin: Kin
    y0_mm: MM
    y1_mm: MM
    parts: tuple[Convex, ...]

    @property
    def kin_name(self) -> str:
        """Return what its kin is called: what is around the ramp has the name of its own."""
        return self.key if self.kin.role in _AROUND else " ".join(self.kin.words)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pairs:
    """All pairs of convex parts that can meet, m of them; a is still, b moves in the frame of a's body."""

    corners_a: Array
    corners_b: Array
    """Corners of the parts, shapes (2, 4, p) and (2, 4, q), each in its own body's frame, mm."""
    radius_a: Array
    radius_b: Array
    """What the parts are grown by, shapes (p,) and (q,), mm."""
    frame_b: Index
    """Index into FRAMES of each moving part, shape (q,)."""
    a: Index
    b: Index
    """Indices of the parts of each pair, shape (m,)."""
    family: Index
    """Index into `families`, shape (m,)."""
    thing_a: Index
    thing_b: Index
    """Indices into the keys of the members of each pair, shape (m,); twins share their parts, and these two
    share an interval.
    """
    first: Index
    """The first pair of each two things, shape (t,); their other pairs follow it."""
    keys_a: tuple[str, ...]
    keys_b: tuple[str, ...]
    """Key of each member."""
    families: tuple[str, ...]
    kin: tuple[tuple[Kin, Kin], ...]
    """Each pair of families, in words and as keys."""
    contact: NDArray[np.bool_]
    """Whether a family is meant to touch, shape (f,)."""

    def of(self, things: NDArray[np.bool_]) -> Index:
        """Return the pairs of the two things where `things`, shape (t,), holds."""
        return np.flatnonzero(np.repeat(things, np.diff(self.first, append=len(self.a))))


CONTACTS: tuple[str, ...] = (
    "pins and washers run in their knuckles",
    "a rail end, or a bracket's stub, is coped round the knuckle that shares its lane",
    "stop bars bear on each other or on the other leaf's rails",
    "the toe rests and slides on the ground",
    "the toe flap rides on the ground, the bridge plate on the inner leaf unless it is turned back",
    "a prop is removed separately",
)

_CARRIER_KNUCKLE = Kin("carrier", "knuckle", "deck")
_DECK_KNUCKLE = Kin("inner", "knuckle", "deck")
_INNER_KNUCKLE = Kin("inner", "knuckle", "joint")
_OUTER_KNUCKLE = Kin("outer", "knuckle", "joint")
_INNER_RAIL, _OUTER_RAIL = Kin("inner", "rail"), Kin("outer", "rail")
_INNER_STOP, _OUTER_STOP = Kin("inner", "stop bar"), Kin("outer", "stop bar")
_GROUND = Kin("", "ground")

_MEANT = frozenset(
    {
        (_CARRIER_KNUCKLE, _INNER_RAIL),
        (_CARRIER_KNUCKLE, _DECK_KNUCKLE),
        (Kin("carrier", "bracket stub"), _DECK_KNUCKLE),
        (_INNER_KNUCKLE, _OUTER_RAIL),
        (_INNER_RAIL, _OUTER_KNUCKLE),
        (_INNER_KNUCKLE, _OUTER_KNUCKLE),
        (_INNER_STOP, _OUTER_STOP),
        (_INNER_STOP, _OUTER_RAIL),
        (_INNER_RAIL, _OUTER_STOP),
        (_GROUND, _OUTER_RAIL),
        (_GROUND, Kin("outer", "slat")),
        (_GROUND, Kin("outer", "edge upstand")),
        (_GROUND, Kin("outer", "latch hook")),
    }
)
_LEFT_OUT = frozenset({(_GROUND, Kin("outer", "toe flap"))})


def clash_pairs(design: Design, assembly: Assembly, site: Site) -> Pairs:
    """Return the pairs that can meet: the two leaves, and each leaf with the carrier and the ground of
    `site`.
    """
    inner, outer = _things(assembly.of("inner"), 0.0), _things(assembly.of("outer"), 0.0)
    on_inner = (*inner, *_bridge(design, assembly))
    height = edge_height_mm(design)
    obstacles = (_obstacle(one, number, height) for number, one in enumerate(design.obstacles, start=1))
    carrier = (*_carrier(design), *_things(assembly.of("carrier"), height), *_turned_back(design, assembly))
    static = (*carrier, *obstacles, _ground(site))
    return _pairs(_numbered((on_inner, static)), _numbered((outer, inner, outer)))


@lru_cache(maxsize=4096)
def convex_parts(outline: Outline) -> tuple[Convex, ...]:
    """Return the outline in convex parts: a disc as one grown point, a rectangle whole, anything else in
    upright slices.
    """
    vertices = outline.vertices
    if len(vertices) == 2:
        (x0, y0, _), (x1, y1, _) = vertices
        return (((((x0 + x1) / 2, (y0 + y1) / 2),), math.hypot(x1 - x0, y1 - y0) / 2),)
    if len(vertices) == 4 and _convex(vertices):
        return ((tuple((x, y) for x, y, _ in vertices), 0.0),)
    return tuple((corners, 0.0) for corners in _slices(outline.points(SAGITTA_MM)))


def _convex(vertices: Sequence[Vertex]) -> bool:
    """Return whether straight sides turn left at every corner."""
    turns = zip(vertices, (*vertices[1:], vertices[0]), (*vertices[2:], *vertices[:2]), strict=True)
    return all(
        not a[2] and (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) >= 0 for a, b, c in turns
    )


def _slices(points: Sequence[Point]) -> Iterable[tuple[Point, ...]]:
    """Yield the trapezia between neighbouring upright lines through the corners of a simple polygon."""
    edges = [
        (a, b) if a[0] < b[0] else (b, a)
        for a, b in zip(points, (*points[1:], points[0]), strict=True)
        if a[0] != b[0]
    ]
    lines = sorted({round(x, 9) for x, _ in points})
    for left, right in pairwise(lines):
        middle = (left + right) / 2
        crossing = sorted((_height(edge, middle), edge) for edge in edges if edge[0][0] < middle < edge[1][0])
        for (_, low), (_, high) in zip(crossing[::2], crossing[1::2], strict=True):
            yield (
                (left, _height(low, left)),
                (right, _height(low, right)),
                (right, _height(high, right)),
                (left, _height(high, left)),
            )


def _height(edge: tuple[Point, Point], x: MM) -> MM:
    """Return the height of an edge at x, of its end beyond it: upright lines are drawn through rounded
    places, and a steep edge carried on by 1e-10 mm comes out far off.
    """
    (x0, y0), (x1, y1) = edge
    return y0 + (y1 - y0) * min(max((x - x0) / (x1 - x0), 0.0), 1.0)


def _things(members: Sequence[Member], raised_mm: MM) -> tuple[Thing, ...]:
    return tuple(
        Thing(
            key=member.key,
            kin=member.kin,
            y0_mm=member.y0_mm,
            y1_mm=member.y1_mm,
            parts=convex_parts(_raised(member.silhouette, raised_mm) if raised_mm else member.silhouette),
        )
        for member in members
        if member.role not in (*INSIDE, "bridge plate")
    )


def _bridge(design: Design, assembly: Assembly) -> Iterator[Thing]:
    """Yield the bridge plate in the inner leaf's frame, as all the room that it takes there while the leaf
    turns from `BRIDGE_FROM_RAD`, or its stowed angle, to the other: held against the outer leaf.

    Between two angles that are looked at every point of it lies within half a step's way of its place at one
    of them: the hinge at the deck edge turns about the deck hinge, and the plate about that. So each place is
    grown by half of what its four corners move to the next, and no way between is left out.
    """
    found = bearers(design, assembly)
    plate = next((member for member in assembly.of("carrier") if member.role == "bridge plate"), None)
    if found is None or plate is None or design.bridge.turned_back:
        return
    stowed = math.radians(design.fold.stowed_deg)
    places: list[tuple[Point, ...]] = []
    for angle in np.linspace(BRIDGE_FROM_RAD, stowed, BRIDGE_STEPS + 1).tolist():
        lie = Placing(found.lie(angle).angle_rad - angle, *found.edge(angle))
        places.append(tuple([(u, w) for u, w, _ in moved(plate.silhouette, lie).vertices]))
    moves = [max(map(math.dist, a, b)) / 2 for a, b in pairwise(places)]
    grown = [max(a, b) for a, b in zip((0.0, *moves), (*moves, 0.0), strict=True)]
    yield Thing(
        key=plate.key,
        kin=plate.kin,
        y0_mm=plate.y0_mm,
        y1_mm=plate.y1_mm,
        parts=tuple(zip(places, grown, strict=True)),
    )


def _turned_back(design: Design, assembly: Assembly) -> Iterator[Thing]:
    """Yield the bridge plate turned back on its strip, or the deck, before the fold."""
    plate = next((member for member in assembly.of("carrier") if member.role == "bridge plate"), None)
    if plate is None or not design.bridge.turned_back:
        return
    (_, z0), (x1, z1) = plate.silhouette.vertices[0][:2], plate.silhouette.vertices[2][:2]
    shape = rectangle(-x1, z1, 0.0, 2 * z1 - z0)
    yield Thing(
        key=plate.key,
        kin=plate.kin,
        y0_mm=plate.y0_mm,
        y1_mm=plate.y1_mm,
        parts=convex_parts(_raised(shape, edge_height_mm(design))),
    )


def _raised(outline: Outline, height: MM) -> Outline:
    return Outline(tuple((x, z + height, bulge) for x, z, bulge in outline.vertices))


def _carrier(design: Design) -> tuple[Thing, ...]:
    carrier = design.carrier
    deck = rectangle(-carrier.deck_length_mm, -carrier.deck_thickness_mm, 0, 0)
    end = rectangle(
        -carrier.deck_length_mm, -carrier.end_depth_mm, -carrier.end_setback_mm, -carrier.deck_thickness_mm
    )
    height = edge_height_mm(design)
    return (
        _whole("deck", "carrier", convex_parts(_raised(deck, height))),
        _whole("carrier end", "carrier", convex_parts(_raised(end, height))),
        *(
            Thing(
                key=one.key,
                kin=Kin("carrier", one.role),
                y0_mm=one.y0_mm,
                y1_mm=one.y1_mm,
                parts=convex_parts(_raised(one.shape, height)),
            )
            for one in brackets_standing(design)
        ),
    )


def _obstacle(obstacle: Obstacle, number: int, height: MM) -> Thing:
    points = tuple((x, z + height) for x, z in obstacle.outline_mm)
    outline = Outline(tuple((x, z, 0.0) for x, z in points))
    return Thing(
        key=f"obstacle {obstacle.name}",
        kin=Kin("carrier", "obstacle", number=number),
        y0_mm=obstacle.left_mm,
        y1_mm=obstacle.right_mm,
        parts=convex_parts(outline) if len(points) > 2 else ((points, 0.0),),
    )


def _ground(site: Site) -> Thing:
    return _whole("ground", "", tuple((corners, 0.0) for corners in ground_slabs(site)))


def ground_slabs(site: Site) -> tuple[tuple[Point, ...], ...]:
    """Return the ground as convex slabs under each stretch of its line."""
    points = ground_line(site).points
    floor = min(z for _, z in points) - GROUND_DEPTH_MM
    return tuple(
        ((x0, floor), (x1, floor), (x1, z1), (x0, z0)) for (x0, z0), (x1, z1) in pairwise(points) if x1 > x0
    )


def _whole(role: Around, body: Body | Literal[""], parts: tuple[Convex, ...]) -> Thing:
    return Thing(key=role, kin=Kin(body, role), y0_mm=-FAR_MM, y1_mm=FAR_MM, parts=parts)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Numbered:
    """Things of several bodies with their parts in a row; things of one kin and shape share their parts."""

    corners: Array
    radius: Array
    """Of each part, shapes (2, 4, p) and (p,)."""
    part_body: Index
    """Number of each part's body."""
    keys: tuple[str, ...]
    """Of each thing."""
    kin: tuple[Kin, ...]
    names: tuple[str, ...]
    """Of each kin."""
    kin_of: Index
    body: Index
    """Kin and body of each thing, by number."""
    first: Index
    count: Index
    """First part and number of parts of each thing."""
    y0_mm: Array
    y1_mm: Array


def _numbered(bodies: Sequence[Sequence[Thing]]) -> _Numbered:
    parts: list[Convex] = []
    part_body: list[int] = []
    known: dict[tuple[int, int, int], int] = {}
    kin: dict[Kin, int] = {}
    names: list[str] = []
    rows: list[tuple[int, int, int, int]] = []
    for body, things in enumerate(bodies):
        for thing in things:
            number = kin.setdefault(thing.kin, len(names))
            if number == len(names):
                names.append(thing.kin_name)
            what = (body, number, id(thing.parts))  # `convex_parts` gives one object for one outline
            if what not in known:
                known[what] = len(parts)
                parts.extend(thing.parts)
                part_body.extend([body] * len(thing.parts))
            rows.append((number, body, known[what], len(thing.parts)))
    every = [thing for things in bodies for thing in things]
    kin_of, body, first, count = np.array(rows, dtype=np.intp).T
    padded = (point for points, _ in parts for point in (*points, *points[-1:] * (4 - len(points))))
    return _Numbered(
        corners=np.fromiter(chain.from_iterable(padded), np.float64).reshape(-1, 4, 2).T.copy(),
        radius=np.array([radius for _, radius in parts]),
        part_body=np.array(part_body, dtype=np.intp),
        keys=tuple(thing.key for thing in every),
        kin=tuple(kin),
        names=tuple(names),
        kin_of=kin_of,
        body=body,
        first=first,
        count=count,
        y0_mm=np.array([thing.y0_mm for thing in every]),
        y1_mm=np.array([thing.y1_mm for thing in every]),
    )


def _pairs(still: _Numbered, moving: _Numbered) -> Pairs:
    """Return the pairs of things that share an interval across, part by part, in the order of FRAMES; twins
    are judged once.

    The moving bodies are those of FRAMES; still are the inner leaf, for the first of them, and the rest.
    """
    meet = (still.body[:, None] > 0) == (moving.body > 0)
    meet &= (
        np.minimum(still.y1_mm[:, None], moving.y1_mm) - np.maximum(still.y0_mm[:, None], moving.y0_mm) > 1e-6
    )
    thing_a, thing_b = np.nonzero(meet)
    place = (moving.body[thing_b] * len(still.radius) + still.first[thing_a]) * len(moving.radius)
    once = np.unique(place + moving.first[thing_b], return_index=True)[1]
    kin, family = _families(still, moving, thing_a[once], thing_b[once])
    thing_a, thing_b, family = (what[family >= 0] for what in (thing_a[once], thing_b[once], family))
    count_b = moving.count[thing_b]
    total = still.count[thing_a] * count_b
    row, first = np.repeat(np.arange(len(total)), total), np.cumsum(total) - total
    part_a, part_b = np.divmod(np.arange(len(row)) - first[row], count_b[row])
    return Pairs(
        corners_a=still.corners,
        corners_b=moving.corners,
        radius_a=still.radius,
        radius_b=moving.radius,
        frame_b=moving.part_body,
        a=still.first[thing_a][row] + part_a,
        b=moving.first[thing_b][row] + part_b,
        family=family[row],
        thing_a=thing_a[row],
        thing_b=thing_b[row],
        first=first,
        keys_a=still.keys,
        keys_b=moving.keys,
        families=tuple(f"{still.names[a]} - {moving.names[b]}" for a, b in kin),
        kin=tuple((still.kin[a], moving.kin[b]) for a, b in kin),
        contact=np.array([(still.kin[a], moving.kin[b]) in _MEANT for a, b in kin], dtype=np.bool_),
    )


def _families(
    still: _Numbered, moving: _Numbered, thing_a: Index, thing_b: Index
) -> tuple[list[tuple[int, int]], Index]:
    """Return the families of pairs of things, as they come, by the numbers of their kin; and each pair's
    number among them, -1 where it is left out.
    """
    code = still.kin_of[thing_a] * len(moving.kin) + moving.kin_of[thing_b]
    codes, first, number = np.unique(code, return_index=True, return_inverse=True)
    order = np.argsort(first)
    found: list[tuple[int, int]] = [divmod(one, len(moving.kin)) for one in codes[order].tolist()]
    judged = np.array([(still.kin[a], moving.kin[b]) not in _LEFT_OUT for a, b in found], dtype=np.bool_)
    numbers = np.empty_like(first)
    numbers[order] = np.where(judged, np.cumsum(judged) - 1, -1)
    return [pair for pair, one in zip(found, judged.tolist(), strict=True) if one], numbers[number]
