"""What holds each member of a leaf, and which members of a leaf are in one another's place.

Rails carry all else: cross members, slats, knuckles and stop bars touch them, edge upstands the ends of the
slats. Only faces that meet count, and gaps that a weld still bridges.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, NamedTuple

import numpy as np

from rampdraft.geometry.lanes import TOUCH_MM
from rampdraft.geometry.members.hinges import knuckle_weld
from rampdraft.geometry.members.member import Assembly, Body, Kin, Member, Role
from rampdraft.geometry.outline import Outline, Point, clipped
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.rounding import greatest
from rampdraft.units import MM

WELD_GAP_MM: Final = 2.0
"""A gap that a weld still bridges; common practice."""

_SAGITTA_MM: Final = 0.01
_HAIR_MM: Final = 1e-4
_BOTH: Final[tuple[Body, ...]] = ("inner", "outer")

Interval = tuple[MM, MM]


@dataclass(frozen=True, slots=True, kw_only=True)
class Touch:
    """The member of a family that is held least, and by what."""

    kin: Kin
    member: str
    """Its key."""
    carrier: str
    """Key of what it touches, or of the nearest."""
    touches_mm: MM
    """Length of its edges that lie on what carries it; of a stop bar, a slat or an upstand along the leaf."""
    over_mm: MM = 0.0
    """Of a slat: how far it stands out over the end of what carries it; negative where it ends before."""
    gap_mm: MM = 0.0
    """Air between the two, more than a weld bridges; 0 for less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Through:
    """Two members of a leaf in one place."""

    kins: tuple[Kin, Kin]
    members: tuple[str, str]
    sizes_mm: tuple[MM, MM, MM]
    """Of the room that both take: along the leaf, high, across."""

    @property
    def depth_mm(self) -> MM:
        """Return how far one would have to give way."""
        return min(self.sizes_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class Attached:
    """How the members of both leaves are held."""

    touches: tuple[Touch, ...]
    """A family each."""
    through: tuple[Through, ...]
    """A pair of families of a leaf each, where two are in one place: the two deepest in each other."""
    bar_line_mm: Interval | None
    """Where the stop bar that touches its rail least does so, from its own leaf's hinge line at the joint;
    None where it does nowhere, or there is none.
    """


def attached(design: Design, assembly: Assembly) -> Attached:
    """Return what holds the members of both leaves."""
    touches: list[Touch] = []
    lines: list[Interval] = []
    through: list[Through] = []
    for body, leaf in zip(_BOTH, (design.inner_leaf, design.outer_leaf), strict=True):
        members = assembly.of(body)
        by_role: dict[Role, list[Member]] = {}
        for member in members:
            by_role.setdefault(member.role, []).append(member)
        touches += _crosses(leaf, by_role)
        touches += _slats(by_role)
        touches += _upstands(by_role)
        touches += _knuckles(design, leaf, by_role)
        bars = by_role.get("stop bar", [])
        for touch, line in _bars(bars, by_role["rail"], design.joining.weld_throat_mm):
            touches.append(touch)
            far = leaf.length_mm if body == "inner" else 0.0
            lines.append((min(abs(end - far) for end in line), max(abs(end - far) for end in line)))
        for role in ("latch", "latch hook"):
            plates = by_role.get(role, [])
            touches += [touch for touch, _ in _bars(plates, by_role["rail"], design.joining.weld_throat_mm)]
        through += _through(members, half_lapped=leaf.cross_fitting == "half_lap")
    least = greatest(lines, lambda line: line[0] - line[1]) if lines else None
    held = least is not None and least[1] - least[0] > 0
    return Attached(touches=tuple(touches), through=tuple(through), bar_line_mm=least if held else None)


# What touches
# --------------------------------------------------------------------------------------


def _flats(outline: Outline, height: MM) -> list[Interval]:
    """Return where along it an outline has level sides at a height."""
    corners = outline.vertices
    return [
        (min(u0, u1), max(u0, u1))
        for (u0, w0, bulge), (u1, w1, _) in zip(corners, (*corners[1:], corners[0]), strict=True)
        if not bulge and abs(w0 - height) <= TOUCH_MM and abs(w1 - height) <= TOUCH_MM
    ]


def _common(one: Interval, others: Iterable[Interval]) -> Interval:
    """Return what an interval has in common with the one of `others` that it shares most with; empty at its
    own beginning where that is none.
    """
    found = [(max(one[0], left), min(one[1], right)) for left, right in others]
    found = [(left, right) for left, right in found if right - left > TOUCH_MM]
    return greatest(found, lambda it: it[1] - it[0]) if found else (one[0], one[0])


def _unlike(rails: list[Member]) -> list[Member]:
    """Return one rail of each outline; those with like ends share it."""
    return list({id(rail.silhouette): rail for rail in rails}.values())


def _span(member: Member) -> Interval:
    """Return where along its leaf a member with straight sides lies."""
    places = [u for u, _, _ in member.silhouette.vertices]
    return min(places), max(places)


def _height(member: Member) -> Interval:
    """Return how low and how high a member with straight sides reaches."""
    heights = [w for _, w, _ in member.silhouette.vertices]
    return min(heights), max(heights)


def _least(found: list[Touch]) -> list[Touch]:
    return [greatest(found, lambda one: -one.touches_mm)] if found else []


def _touch(member: Member, carrier: Member, touches: MM, over: MM = 0.0, gap: MM = 0.0) -> Touch:
    return Touch(
        kin=member.kin, member=member.key, carrier=carrier.key, touches_mm=touches, over_mm=over, gap_mm=gap
    )


def _slats(by_role: dict[Role, list[Member]]) -> list[Touch]:
    """Return the slat that stands out most over the end of a rail."""
    slats, found = [(slat, _span(slat)) for slat in by_role.get("slat", ())], list[Touch]()
    if not slats:
        return []
    ends = min(slats, key=lambda one: one[1][0]), max(slats, key=lambda one: one[1][1])
    for rail in _unlike(by_role["rail"]):
        tops = _flats(rail.silhouette, 0.0)
        first, last = min(left for left, _ in tops), max(right for _, right in tops)
        for slat, (start, end) in ends:
            on = _common((start, end), tops)
            found.append(_touch(slat, rail, on[1] - on[0], over=max(first - start, end - last)))
    return [greatest(found, lambda one: one.over_mm)]


def _crosses(leaf: Leaf, by_role: dict[Role, list[Member]]) -> list[Touch]:
    """Return the cross member of which least of its edge lies on a rail."""
    rails, between, known = (
        by_role["rail"],
        leaf.cross_fitting == "between",
        dict[tuple[int, Interval], Touch](),
    )
    for cross in by_role.get("cross member", ()):
        span = _span(cross)
        for rail in rails:
            beside = max(cross.y0_mm - rail.y1_mm, rail.y0_mm - cross.y1_mm)
            if between and abs(beside) > TOUCH_MM:
                continue
            if (key := (id(rail.silhouette), span)) not in known:
                known[key] = _touch(cross, rail, _edge_mm(leaf, cross, rail))
    return _least(list(known.values()))


def _edge_mm(leaf: Leaf, cross: Member, rail: Member) -> MM:
    """Return how much of the edge of a cross member lies on a rail that it is fitted to."""
    if leaf.cross_fitting == "between":
        return _round(cross, rail)
    if leaf.cross_fitting == "half_lap":
        return 2 * (leaf.cross_section.width_mm + 2 * leaf.half_lap_mm)
    left, right = _common(_span(cross), _flats(rail.silhouette, -leaf.rail_section.depth_mm))
    return 2 * (right - left + leaf.rail_section.width_mm) if right > left else 0.0


def _round(cross: Member, rail: Member) -> MM:
    """Return how much of the edge of a cross member's end lies on the side of a rail."""
    (u0, u1), (w0, w1) = _span(cross), _height(cross)
    whole = ((u0, u1),) == (_common((u0, u1), _flats(rail.silhouette, 0.0)),)
    depth = min(w for _, w, _ in rail.silhouette.vertices)
    below = _common((u0, u1), _flats(rail.silhouette, depth))
    if whole and below == (u0, u1) and w0 >= depth - TOUCH_MM:
        return 2 * (u1 - u0 + w1 - w0)
    met = clipped(rail.silhouette.points(_SAGITTA_MM), ((u0, w0), (u1, w0), (u1, w1), (u0, w1)))
    sides = zip(met, (*met[1:], *met[:1]), strict=True)
    return sum(
        abs(b[0] - a[0]) + abs(b[1] - a[1])
        for a, b in sides
        if any(
            abs(a[axis] - at) + abs(b[axis] - at) <= TOUCH_MM
            for axis, at in ((0, u0), (0, u1), (1, w0), (1, w1))
        )
    )


def _upstands(by_role: dict[Role, list[Member]]) -> list[Touch]:
    """Return the upstand that touches least of the ends of the slats; its mate is its like."""
    slats, upstands = by_role.get("slat", []), by_role.get("edge upstand", [])
    if not upstands:
        return []
    upstand = upstands[0]
    span = _span(upstand)
    met = [(slat, min(span[1], end) - max(span[0], start)) for slat in slats for start, end in (_span(slat),)]
    nearest = greatest(met, lambda one: one[1])[0] if met else upstand
    return [_touch(upstand, nearest, sum(max(0.0, along) for _, along in met))]


def _knuckles(design: Design, leaf: Leaf, by_role: dict[Role, list[Member]]) -> list[Touch]:
    """Return a knuckle of each hinge line; all of one are alike."""
    hinges = {"deck": (design.deck_hinge, 0.0), "joint": (design.joint, leaf.knuckle_shift_mm)}
    first: dict[str, Member] = {}
    for knuckle in by_role.get("knuckle", ()):
        first.setdefault(knuckle.tag.hinge, knuckle)
    found: list[Touch] = []
    for line, knuckle in first.items():
        hinge, shift = hinges[line]
        gap, weld = knuckle_gap_mm(hinge, leaf), knuckle_weld(hinge, leaf, shift)
        length = weld.length_mm if weld is not None and not gap else 0.0
        found.append(_touch(knuckle, by_role["rail"][0], length, gap=gap))
    return found


def knuckle_gap_mm(hinge: Hinge, leaf: Leaf) -> MM:
    """Return the air between a knuckle and the rail above or below it; 0 for what a weld bridges."""
    radius, height, depth = hinge.knuckle_diameter_mm / 2, hinge.height_mm, leaf.rail_section.depth_mm
    gap = max(height - radius, -depth - height - radius)
    return gap if gap > WELD_GAP_MM + TOUCH_MM else 0.0


def _bars(bars: list[Member], rails: list[Member], throat_mm: MM) -> list[tuple[Touch, Interval]]:
    """Return the stop bar that touches its rail least, and where; each has the rail that it touches most."""
    known: dict[tuple[int, Interval, Interval, bool], tuple[Interval, MM]] = {}
    worst: list[tuple[Touch, Interval]] = []
    for bar in bars:
        span, height = _span(bar), _height(bar)
        found: list[tuple[Touch, Interval]] = []
        for rail in rails:
            across = max(bar.y0_mm - rail.y1_mm, rail.y0_mm - bar.y1_mm)
            if across > WELD_GAP_MM + TOUCH_MM:
                continue
            key = id(rail.silhouette), span, height, across < -TOUCH_MM
            if key not in known:
                known[key] = _on(span, height, rail, throat_mm, over=across < -TOUCH_MM)
            line, gap = known[key]
            found.append((_touch(bar, rail, line[1] - line[0], gap=gap), line))
        held = any(touch.touches_mm for touch, _ in found)
        worst.append(greatest(found, lambda one, held=held: one[0].touches_mm if held else -one[0].gap_mm))
    return [greatest(worst, lambda one: -one[0].touches_mm)] if worst else []


def _on(span: Interval, height: Interval, rail: Member, throat_mm: MM, *, over: bool) -> tuple[Interval, MM]:
    """Return where along the leaf a bar touches a rail, and the air between them where it does not; `over`
    says that it lies over the rail, else it is beside it.

    Beside it both lines of weld must lie on it, along the lower and the upper edge of the face that both have
    in common, and that must be as high as a weld's throat, or the two are one: the shorter counts.
    """
    low, high = height
    heights = [w for _, w, _ in rail.silhouette.vertices]
    bottom, top = min(heights), max(heights)
    above = max(low - top, bottom - high)
    none = span[0], span[0]
    if over and -TOUCH_MM <= above <= WELD_GAP_MM + TOUCH_MM:
        return _common(span, _flats(rail.silhouette, top if low >= top - TOUCH_MM else bottom)), 0.0
    if above >= 0:
        return none, above
    low, high = max(low, bottom), min(high, top)
    if high - low < throat_mm - TOUCH_MM:
        return none, 0.0
    points = rail.silhouette.points(_SAGITTA_MM)
    lines = [_common(span, _level(points, at)) for at in (low + _HAIR_MM, high - _HAIR_MM)]
    return greatest(lines, lambda line: line[0] - line[1]), 0.0


def _level(points: tuple[Point, ...], height: MM) -> list[Interval]:
    """Return where along it a level line at a height lies inside an outline."""
    crossed = sorted(
        u0 + (height - w0) / (w1 - w0) * (u1 - u0)
        for (u0, w0), (u1, w1) in zip(points, (*points[1:], points[0]), strict=True)
        if (w0 < height) != (w1 < height)
    )
    return list(zip(crossed[::2], crossed[1::2], strict=True))


# What is in one place
# --------------------------------------------------------------------------------------

_MEANT: Final[frozenset[frozenset[str]]] = frozenset(
    frozenset(pair)
    for pair in (
        ("pin", "knuckle"), ("pin", "washer"), ("pin", "rail"), ("washer", "rail"), ("rail", "knuckle"),
        ("knuckle",), ("pin",), ("washer",), ("washer", "knuckle"),
    )
)  # fmt: skip
"""Members that are bored, coped or threaded for one another; whether they find room is a rule of
`buildable`.
"""


_LAPPED: Final = frozenset[str](("rail", "cross member"))
"""Cut for one another where they are half-lapped."""


class _Box(NamedTuple):
    member: Member
    square: bool
    ends: tuple[MM, MM, MM, MM, MM, MM]
    """Least along, high and across, then greatest."""


def _boxed(members: Iterable[Member]) -> Iterator[_Box]:
    known: dict[int, tuple[tuple[MM, MM, MM, MM], bool]] = {}
    for member in members:
        outline = member.silhouette
        if id(outline) not in known:
            u0, w0, u1, w1 = box = outline.box
            square = {(u0, w0, 0.0), (u1, w0, 0.0), (u1, w1, 0.0), (u0, w1, 0.0)}
            known[id(outline)] = box, len(outline.vertices) == 4 and square.issuperset(outline.vertices)
        (u0, w0, u1, w1), is_square = known[id(outline)]
        yield _Box(member, is_square, (u0, w0, member.y0_mm, u1, w1, member.y1_mm))


def _through(members: Iterable[Member], *, half_lapped: bool) -> list[Through]:
    """Return the deepest of each pair of families; a taper plate lies inside its rail."""
    boxes = list(_boxed(member for member in members if member.role != "taper plate"))
    ends = np.array([box.ends for box in boxes]).T.copy()[:, :, None]
    low, high = ends[:3], ends[3:]
    room = (np.minimum(high, high.swapaxes(1, 2)) - np.maximum(low, low.swapaxes(1, 2))).min(axis=0)
    found: dict[tuple[Kin, Kin], list[Through]] = {}
    rows, columns = np.nonzero(np.triu(room > TOUCH_MM, 1))
    for i, j in zip(rows.tolist(), columns.tolist(), strict=True):
        one, other = boxes[i], boxes[j]
        roles = frozenset[str]((one.member.role, other.member.role))
        if roles in _MEANT or (half_lapped and roles == _LAPPED):
            continue
        sizes = _shared(one, other)
        if min(sizes) > TOUCH_MM:
            kins = one.member.kin, other.member.kin
            met = Through(kins=kins, members=(one.member.key, other.member.key), sizes_mm=sizes)
            found.setdefault(kins, []).append(met)
    return [greatest(pairs, lambda pair: pair.depth_mm) for pairs in found.values()]


def _shared(one: _Box, other: _Box) -> tuple[MM, MM, MM]:
    """Return the sizes of the room that two members both take."""
    a, b = one.ends, other.ends
    along, high, across = (min(a[k + 3], b[k + 3]) - max(a[k], b[k]) for k in range(3))
    if one.square and other.square:
        return along, high, across
    bent, by = (one, other) if other.member.role != "rail" else (other, one)
    met: list[Point] = clipped(
        bent.member.silhouette.points(_SAGITTA_MM), by.member.silhouette.points(_SAGITTA_MM)
    )
    if not met:
        return 0.0, 0.0, across
    us, ws = zip(*met, strict=True)
    return max(us) - min(us), max(ws) - min(ws), across
