"""The latches: what holds the joint of the empty ramp down, and the stowed ramp to the carrier and the outer
leaf to the inner one. Each is a plate on the side of an outer rail, and a hook on the other leaf's.

They lie beside the rail that is farther out, on its side towards the middle, and on that of the other leaf
away from it: so a latch and its hook are nearly in line. The latch across the joint is on the left, the stow
latches on the right, second locks on the left. Each lies as near to where it is wanted as anything else on
that side of the rail lets it. Its rod or bail is not drawn, nor what holds it on the carrier: it is undone
while the ramp is folded.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal, NamedTuple

from rampdraft.geometry.members.leaves import SQUARE, mass_kg, member
from rampdraft.geometry.members.member import Body, Member, Piece, Role, Tag
from rampdraft.geometry.outline import Profile, rectangle
from rampdraft.model.design import Design, Leaf
from rampdraft.model.section import Section
from rampdraft.units import MM, N


class LatchRow(NamedTuple):
    """A size of latch."""

    most_n: N
    """Working load up to which it serves."""
    plate_mm: MM
    hook_mm: MM
    """Lengths."""
    high_mm: MM
    thick_mm: MM


LATCHES: Final = (
    LatchRow(2000, 80, 40, 25, 6),
    LatchRow(5000, 100, 60, 30, 8),
    LatchRow(10000, 140, 80, 35, 10),
    LatchRow(20000, 200, 100, 40, 12),
    LatchRow(float("inf"), 280, 140, 50, 20),
)
"""Common practice: about what toggle latches and hooks of such a load measure over all."""
_APART_MM: Final = 5.0
"""Between a latch and what else is on that side of the rail."""

_ABOVE: Final[tuple[Role, ...]] = ("rail", "slat", "edge upstand", "toe flap", "taper plate")
"""Rails, which they lie on; what lies over their top, or inside them."""

Side = Literal["left", "right"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """A plate that is to lie on a rail."""

    role: Role
    body: Body
    number: int
    """Of the latch, which its hook shares: 1 across the joint; of the pack to the carrier 2, 3 of its second
    lock; of the outer leaf to the inner one 4 and 5.
    """
    side: Side
    load_n: N
    at_mm: MM
    """Middle of it along the leaf, if there is room."""
    faces: str = ""
    """Key of the hook that it lies beside when the ramp is closed."""
    line_mm: MM | None = None
    """Height that it pulls at; None for as near to the top of the rail as may be."""


def latch_size(load_n: N) -> LatchRow:
    """Return the size of a latch of a working load."""
    return next(row for row in LATCHES if load_n <= row.most_n)


def latch_members(design: Design, others: Sequence[Member]) -> Iterator[Member]:
    """Yield the latches, beside the members that are there already."""
    beside = _InTheWay(others)
    hooks: dict[str, Member] = {}
    for wanted in _wanted(design):
        here = wanted
        if wanted.faces:
            at = design.inner_leaf.length_mm - hooks[wanted.faces].centre_mm[0]
            here = replace(wanted, at_mm=at)
        plate = _plate(design, here, beside)
        beside.add(plate)
        hooks[plate.key] = plate
        yield plate


class _InTheWay:
    """What lies beside the rails of each leaf."""

    def __init__(self, members: Sequence[Member]) -> None:
        self._known: dict[int, tuple[MM, MM, MM, MM]] = {}
        self._rows: dict[Body, list[tuple[MM, MM, tuple[MM, MM, MM, MM]]]] = {"inner": [], "outer": []}
        for one in members:
            if one.role not in _ABOVE and one.body in self._rows:
                self.add(one)

    def add(self, one: Member) -> None:
        """Add a member; those of one outline share its box."""
        key = id(one.silhouette)
        if key not in self._known:
            self._known[key] = one.silhouette.box
        self._rows[one.body].append((one.y0_mm, one.y1_mm, self._known[key]))

    def blocked(self, body: Body, across: tuple[MM, MM], high: tuple[MM, MM]) -> list[tuple[MM, MM]]:
        """Return where along a leaf something is within an interval across and one of height, in order."""
        return sorted(
            (u0, u1)
            for y0, y1, (u0, w0, u1, w1) in self._rows[body]
            if y0 < across[1] and y1 > across[0] and w0 < high[1] and w1 > high[0]
        )


def latch_line_mm(design: Design) -> MM:
    """Return the height of the line that the latch across the joint pulls along."""
    return design.joint.height_mm + design.hold_down.arm_mm


def _wanted(design: Design) -> Iterator[Wanted]:
    held, road, inner, outer = design.hold_down, design.road, design.inner_leaf, design.outer_leaf
    if not inner.rail_lanes_mm or not outer.rail_lanes_mm:
        return  # nothing to lie on; `buildable` says so
    line = latch_line_mm(design)
    if held.latch:
        ends: tuple[tuple[Role, Body, MM], ...] = (
            ("latch", "inner", inner.length_mm),
            ("latch hook", "outer", 0.0),
        )
        for role, body, at in ends:
            yield Wanted(
                role=role, body=body, number=1, side="left", load_n=held.pull_n, at_mm=at, line_mm=line
            )  # fmt: skip
    locks: tuple[tuple[int, Side, N], ...] = ((2, "right", road.latch_n), (3, "left", road.second_n))
    for number, side, load in locks:
        if load:
            at, leaf = road.latch_at_mm, number + 2
            places: tuple[tuple[Role, Body, int, MM, str], ...] = (
                ("latch", "inner", number, at or inner.length_mm, ""),
                ("latch hook", "outer", leaf, at or outer.length_mm, ""),
                ("latch", "inner", leaf, 0.0, f"outer latch hook {leaf}"),
            )
            for role, body, which, place, faces in places:
                yield Wanted(
                    role=role, body=body, number=which, side=side, load_n=load, at_mm=place, faces=faces
                )  # fmt: skip


def _plate(design: Design, wanted: Wanted, beside: _InTheWay) -> Member:
    leaf = design.inner_leaf if wanted.body == "inner" else design.outer_leaf
    size, depth = latch_size(wanted.load_n), leaf.rail_section.depth_mm
    high = min(size.high_mm, depth)
    length = size.plate_mm if wanted.role == "latch" else size.hook_mm
    y0, y1 = _across(design, wanted, leaf, size.thick_mm)
    middle = 0.0 if wanted.line_mm is None else wanted.line_mm
    low = min(max(middle, high / 2 - depth), -high / 2) - high / 2
    blocked = beside.blocked(wanted.body, (y0, y1), (low, low + high))
    end = leaf.length_mm - (_tapered_mm(design, -low) if wanted.body == "outer" else 0.0)
    start = _free_mm(wanted.at_mm - length / 2, length, end, blocked)
    piece = Piece(
        role=wanted.role,
        section=Section(kind="flat", depth_mm=high, width_mm=size.thick_mm),
        material=design.made_of.fittings,
        length_mm=length,
        profile=Profile(rectangle(0, 0, length, high)),
        ends=(SQUARE, SQUARE),
        load_n=wanted.load_n,
    )
    shape = rectangle(start, low, start + length, low + high)
    tag = Tag(body=wanted.body, number=wanted.number)
    return member(tag, piece, mass_kg(design, piece, length), shape, y0, y1)


def _tapered_mm(design: Design, deep: MM) -> MM:
    """Return how much of the toe end is less deep than that."""
    toe, depth = design.toe, design.outer_leaf.rail_section.depth_mm
    if toe.kind != "taper" or deep <= toe.thickness_mm:
        return 0.0
    return toe.length_mm * (deep - toe.thickness_mm) / (depth - toe.thickness_mm)


def _across(design: Design, wanted: Wanted, leaf: Leaf, thick: MM) -> tuple[MM, MM]:
    """Return the interval across beside the outer rail of its side."""
    last = -1 if wanted.side == "right" else 0
    lane, half = leaf.rail_lanes_mm[last], leaf.rail_section.width_mm / 2
    other = design.outer_leaf if wanted.body == "inner" else design.inner_leaf
    towards = 1 if other.rail_lanes_mm[last] > lane else -1
    face = lane + towards * half
    return (face, face + thick) if towards > 0 else (face - thick, face)


def _free_mm(wanted: MM, length: MM, end: MM, blocked: list[tuple[MM, MM]]) -> MM:
    """Return where a plate begins that lies on the rail and clear of what is there, as near to where it is
    wanted as may be; where it is wanted if there is no room at all.
    """
    least, most = _APART_MM, end - _APART_MM - length
    wanted = min(max(wanted, least), most)
    tried = [wanted, *(u1 + _APART_MM for _, u1 in blocked), *(u0 - _APART_MM - length for u0, _ in blocked)]
    free = [
        at
        for at in tried
        if least <= at <= most
        and all(at >= u1 + _APART_MM or at + length <= u0 - _APART_MM for u0, u1 in blocked)
    ]
    return min(free, key=lambda at: (abs(at - wanted), at), default=wanted)
