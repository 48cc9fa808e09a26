"""The running surface at any place across: the outline that a wheel at distance y from the middle meets.

From the deck over bridge plate, slats, gaps, joint, stop bars that stand above, and bare rails beyond the
last slat, where y meets one, to toe or flap and to the ground: the upper edge of all that y meets, as seen
from above (the upper envelope of the silhouettes).

What a wheel is meant to roll on is a *tread*: deck, bridge plate, slat, stop bar, toe flap. Between one tread
and the next is a gap, and the outline there is what lies in it: rail, cross member, knuckle or ground.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.ground_line import GroundLine
from rampdraft.geometry.linkage import Placing, Pose, linkage, moved
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.geometry.members.member import Assembly, Member, Role
from rampdraft.geometry.outline import Outline, Point
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD, Array

SAGITTA_MM: Final = 0.05
"""Arcs are followed by chords this close, from within; the top of a knuckle is among their ends."""
HAIR_MM: Final = 1e-6
"""Of two that lie this close on each other, the one that lies on top by its nature counts, so that rounding
decides nothing: a slat lies on its rail.
"""

Edge = tuple[Point, Point]
SurfaceKind = Role | Literal["deck", "ground"]
TREADS: Final[tuple[SurfaceKind, ...]] = (
    "deck",
    "bridge strip",
    "bridge plate",
    "slat",
    "stop bar",
    "toe flap",
)
_ON_TOP: Final[tuple[SurfaceKind, ...]] = (*TREADS, "edge upstand", "rail", "cross member", "knuckle")


@dataclass(frozen=True, slots=True, kw_only=True)
class Stretch:
    """A part of the outline that one member makes."""

    owner: str
    """Key of the member; `deck`, `ground`."""
    kind: SurfaceKind
    points: tuple[Point, ...]
    """From the deck outward."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gap:
    """What is between two treads that follow each other."""

    before: Stretch
    after: Stretch
    """The treads, whole."""
    width_mm: MM
    """Level, from the one to the other; 0 or less where they meet or overlap."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """How the ramp lies: where everything is that a wheel may meet."""

    places: Callable[[Member], Placing]
    flap: Outline
    """The toe flap's silhouette in the outer leaf."""
    deck: Stretch | None
    """None where the leaves alone are looked at, and then there is no ground either."""
    ground: GroundLine | None

    def silhouette(self, member: Member) -> Outline:
        """Return a member's silhouette in the side plane."""
        shape = self.flap if member.role == "toe flap" else member.silhouette
        return moved(shape, self.places(member))

    def top_mm(self, member: Member) -> MM:
        """Return how high a member reaches."""
        return max(z for edge in _upper_edges(self.silhouette(member)) for _, z in edge)


@dataclass(frozen=True, slots=True, kw_only=True)
class RunningSurface:
    """The outline at one place across."""

    y_mm: MM
    treads: tuple[Stretch, ...]
    """What of them may be under another one as well, in order from the deck."""
    stretches: tuple[Stretch, ...]
    """What is seen from above, in order from the deck; they do not overlap."""

    def within(self, gap: Gap) -> tuple[Stretch, ...]:
        """Return what of the outline lies in a gap, cut off at its ends."""
        x0, x1 = gap.before.points[-1][0], gap.after.points[0][0]
        return tuple(cut for one in self.stretches if (cut := _cut(one, x0, x1)) is not None)


def laid_straight(design: Design) -> Laid:
    """Return both leaves laid straight on in the inner leaf's frame, x along it from the deck hinge, without
    deck, bridge plate and ground.
    """
    joint = design.inner_leaf.length_mm
    places = {"inner": Placing(0.0, 0.0, 0.0), "outer": Placing(0.0, joint, 0.0)}
    return Laid(
        places=lambda member: places[member.body], flap=flap_outline(design, 0.0), deck=None, ground=None
    )


def laid_out(  # many: how everything lies
    design: Design,
    ground: GroundLine,
    pose: Pose,
    drop_mm: MM,
    *,
    flap_rad: RAD,
    bridge_rad: RAD,
    nod_rad: RAD = 0.0,
) -> Laid:
    """Return the ramp put down: in a pose on the ground, the deck sunk and sloping down towards its edge by
    its nod, toe flap and bridge plate turned as they lie.
    """
    bars = linkage(design, drop_mm)
    places, bridge = bars.placings(pose), Placing(bridge_rad, *bars.edge)
    places["carrier"] = Placing(-nod_rad, *bars.edge)
    x, z = bars.edge
    far, long = z + design.carrier.deck_length_mm * math.tan(nod_rad), design.carrier.deck_length_mm
    return Laid(
        places=lambda member: bridge if member.role == "bridge plate" else places[member.body],
        flap=flap_outline(design, flap_rad),
        deck=Stretch(owner="deck", kind="deck", points=((-long, far), (x, z))),
        ground=ground,
    )


def bare_rails_mm(design: Design) -> MM:
    """Return how far the outer leaf's rails go on bare beyond its last slat, to no toe flap."""
    leaf = design.outer_leaf
    end = slat_starts_mm(leaf)[-1] + leaf.slat_width_mm
    return 0.0 if design.toe.kind == "flap" or end > leaf.length_mm - HAIR_MM else leaf.length_mm - end


def toe_steps_mm(design: Design, ground: GroundLine, outer: Placing, flap_rad: RAD) -> tuple[MM, ...]:
    """Return the steps of the running surface at its end, down to the ground: off the toe flap; or off the
    last slat between the rails, and where rails go on bare beyond it from the slat onto them and off their
    ends.
    """
    leaf = design.outer_leaf
    if design.toe.kind == "flap":
        x, z, _ = moved(flap_outline(design, flap_rad), outer).vertices[2]
        return (z - ground.beyond_mm(x),)
    thick, bare = leaf.slat_thickness_mm, bare_rails_mm(design)
    x, z = outer.point(leaf.length_mm - bare, thick)
    off_slat = z - ground.beyond_mm(x)
    if not bare:
        return (off_slat,)
    x, z = outer.point(leaf.length_mm, 0.0)
    return off_slat, thick, z - ground.beyond_mm(x)


def running_surface(assembly: Assembly, laid: Laid, y_mm: MM) -> RunningSurface:
    """Return the outline at `y_mm` from the middle; beyond the slats as well."""
    return RunningSurface(
        y_mm=y_mm,
        treads=treads(assembly, laid, y_mm),
        stretches=outline_between(assembly, laid, y_mm, y_mm),
    )


def outline_between(assembly: Assembly, laid: Laid, y0_mm: MM, y1_mm: MM) -> tuple[Stretch, ...]:
    """Return what is seen from above of all that lies between two places across: the highest of each."""
    return tuple(_seen_from_above(lying_between(assembly, laid, y0_mm, y1_mm), laid))


def lying_between(assembly: Assembly, laid: Laid, y0_mm: MM, y1_mm: MM) -> list[Member]:
    """Return the members that lie between two places across, or at one; of twins the first."""
    met = [
        one for one in _lying(assembly, laid) if one.y0_mm - HAIR_MM <= y1_mm and y0_mm <= one.y1_mm + HAIR_MM
    ]
    return list({(one.body, one.role, one.silhouette): one for one in reversed(met)}.values())[::-1]


def treads(assembly: Assembly, laid: Laid, y_mm: MM) -> tuple[Stretch, ...]:
    """Return the treads that y meets, whole, in order from the deck."""
    (found,) = treads_at(assembly, laid, (y_mm,))
    return found


def treads_at(assembly: Assembly, laid: Laid, places_mm: tuple[MM, ...]) -> tuple[tuple[Stretch, ...], ...]:
    """Return `treads` at each of several places across."""
    deck = [] if laid.deck is None else [(laid.deck, -math.inf, math.inf)]
    found = sorted(
        (
            *deck,
            *(
                (tread(one, laid), one.y0_mm, one.y1_mm)
                for one in _lying(assembly, laid)
                if one.role in TREADS
            ),
        ),
        key=lambda one: (one[0].points[0][0], one[0].points[-1][0], one[0].owner),
    )
    return tuple(
        tuple(tread for tread, y0, y1 in found if y0 - HAIR_MM <= y <= y1 + HAIR_MM) for y in places_mm
    )


def tread(member: Member, laid: Laid) -> Stretch:
    """Return a member's upper side where it is laid."""
    # Plates, all of them: which side is the upper one is told by the order of their corners.
    *_, (x1, z1, _), (x0, z0, _) = laid.silhouette(member).vertices
    return Stretch(owner=member.key, kind=member.role, points=((x0, z0), (x1, z1)))


def gaps(found: Sequence[Stretch]) -> Iterator[Gap]:
    """Yield what is between treads; one that ends before an earlier one does ends nothing."""
    if not found:
        return
    before, *rest = found
    for after in rest:
        yield Gap(before=before, after=after, width_mm=after.points[0][0] - before.points[-1][0])
        if after.points[-1][0] > before.points[-1][0]:
            before = after


def strips_mm(assembly: Assembly, least_mm: MM) -> tuple[MM, ...]:
    """Return the middle of every strip across in which the leaves' treads are the same ones, if it is wider
    than `least_mm`; as far out as both leaves have slats.
    """
    found = [member for member in assembly.of("inner", "outer") if member.role in ("slat", "stop bar")]
    leaves = [
        [one for one in found if one.role == "slat" and one.body == leaf] for leaf in ("inner", "outer")
    ]
    low = max(min(one.y0_mm for one in slats) for slats in leaves)
    high = min(max(one.y1_mm for one in slats) for slats in leaves)
    edges = sorted({low, high, *(y for one in found for y in (one.y0_mm, one.y1_mm) if low < y < high)})
    return tuple((a + b) / 2 for a, b in pairwise(edges) if b - a > least_mm + HAIR_MM)


def _lying(assembly: Assembly, laid: Laid) -> tuple[Member, ...]:
    return assembly.of(*(("inner", "outer") if laid.deck is None else ("carrier", "inner", "outer")))


def _seen_from_above(met: list[Member], laid: Laid) -> Iterator[Stretch]:
    """Yield the upper envelope: between neighbouring ends and crossings of upper edges the highest one."""
    owners, edges = _sources(met, laid)
    found: list[Point] = []
    last = -1
    for edge, *ends in zip(*(values.tolist() for values in _highest(edges)), strict=True):
        a, b = (ends[0], ends[1]), (ends[2], ends[3])
        if found and owners[edge] == owners[last] and found[-1][0] == a[0]:
            found += [b] if abs(found[-1][1] - a[1]) <= HAIR_MM else [a, b]
        else:
            if found:
                yield Stretch(owner=owners[last][0], kind=owners[last][1], points=tuple(found))
            found = [a, b]
        last = edge
    if found:
        yield Stretch(owner=owners[last][0], kind=owners[last][1], points=tuple(found))


def points_mm(met: list[Member], laid: Laid) -> Array:
    """Return the upper envelope of some members as points alone, (m, 2)."""
    _, x0, z0, x1, z1 = _highest(_sources(met, laid)[1])
    points = np.stack((x0, z0, x1, z1), axis=1).reshape(-1, 2)
    return points[np.append(True, (np.diff(points, axis=0) != 0).any(axis=1))]


def _sources(met: list[Member], laid: Laid) -> tuple[list[tuple[str, SurfaceKind]], Array]:
    """Return the upper edges of all that is met, (4, k), and whose each is: what lies on top first."""
    sources: list[tuple[str, SurfaceKind, Sequence[Edge]]] = [
        (one.key, one.role, list(_upper_edges(laid.silhouette(one)))) for one in met
    ]
    if laid.deck is not None and laid.ground is not None:
        near, edge = laid.deck.points
        ground = laid.ground.between(near[0], laid.ground.points[-1][0])
        level = [(a, b) for a, b in pairwise(ground) if b[0] - a[0] > HAIR_MM]
        sources.extend((("deck", "deck", [(near, edge)]), ("ground", "ground", level)))
    rank = {kind: place for place, kind in enumerate(_ON_TOP)}
    sources.sort(key=lambda one: rank.get(one[1], len(rank)))
    owners: list[tuple[str, SurfaceKind]] = [(key, kind) for key, kind, edges in sources for _ in edges]
    return owners, np.array([edge for *_, edges in sources for edge in edges]).reshape(-1, 4).T


def _upper_edges(shape: Outline) -> Iterator[Edge]:
    """Yield the edges that face up, each from left to right; the outline runs counter-clockwise."""
    points = shape.points(SAGITTA_MM)
    if len(shape.vertices) == 2:  # a disc, however it is turned
        (x0, z0, _), (x1, z1, _) = shape.vertices
        x, z, radius = (x0 + x1) / 2, (z0 + z1) / 2, math.hypot(x1 - x0, z1 - z0) / 2
        sides = 2 * math.ceil(math.pi / 4 / math.acos(max(0.0, 1 - SAGITTA_MM / radius)))
        turns = [math.pi * k / sides for k in range(sides + 1)]
        points = tuple((x + radius * math.cos(turn), z + radius * math.sin(turn)) for turn in turns)
    for a, b in zip(points, (*points[1:], points[0]), strict=True):
        if a[0] - b[0] > HAIR_MM:
            yield b, a


def _highest(edges: Array) -> tuple[NDArray[np.intp], Array, Array, Array, Array]:
    """Return, from left to right, the edge that is on top, and from where (x, z) to where it is seen. Of
    edges that lie on each other the first counts.
    """
    if not edges.size:
        nothing = np.zeros(0)
        return np.zeros(0, dtype=np.intp), nothing, nothing, nothing, nothing
    x0, z0, x1, z1 = (values[:, None] for values in edges)
    slope = (z1 - z0) / (x1 - x0)
    level = z0 - slope * x0
    with np.errstate(divide="ignore", invalid="ignore"):
        crossing = (level.T - level) / (slope - slope.T)
    shared = (crossing > np.maximum(x0, x0.T)) & (crossing < np.minimum(x1, x1.T))
    places = np.unique(np.concatenate((edges[0], edges[2], crossing[shared])))
    places = places[np.concatenate(([True], np.diff(places) > HAIR_MM))]
    middle = (places[1:] + places[:-1]) / 2
    height = np.where((x0 <= middle) & (middle <= x1), z0 + slope * (middle - x0), -np.inf)
    best = height.max(axis=0)
    seen = np.flatnonzero(np.isfinite(best))
    top = (height >= best - HAIR_MM).argmax(axis=0)[seen]
    begins = np.append(True, (np.diff(top) != 0) | (np.diff(seen) != 1))
    ends = np.append(begins[1:], True)
    top, left, right = top[begins], places[seen[begins]], places[seen[ends] + 1]
    left_z, right_z = ((z0 + slope * (at - x0))[top, np.arange(len(top))] for at in (left, right))
    return top, left, left_z, right, right_z


def _cut(one: Stretch, x0: MM, x1: MM) -> Stretch | None:
    """Return what of a stretch lies between two places; None for nothing."""
    if one.points[-1][0] <= x0 + HAIR_MM or one.points[0][0] >= x1 - HAIR_MM:
        return None
    xs, zs = zip(*one.points, strict=True)
    low, high = max(x0, xs[0]), min(x1, xs[-1])
    low_z, high_z = np.interp((low, high), xs, zs).tolist()
    inside = (point for point in one.points if low < point[0] < high)
    return replace(one, points=((low, low_z), *inside, (high, high_z)))
