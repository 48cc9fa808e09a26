"""The details of a ramp, enlarged: deck hinge, joint straight, folded and cut across, toe, guard, prop and
latches, each as a window of the side view or as a section, with part numbers, welds and sizes beside it.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.drawing.callouts import Callout, called_out
from rampdraft.drawing.clearing import cleared
from rampdraft.drawing.clip import Box, cut
from rampdraft.drawing.detail_sizes import (
    Size,
    across_sizes,
    deck_hinge_sizes,
    guard_sizes,
    joint_sizes,
    prop_sizes,
    sized,
    toe_sizes,
)
from rampdraft.drawing.detail_words import (
    deployed_words,
    latch_words,
    stop_words,
    taper_words,
)
from rampdraft.drawing.ink import Ink, Label, Path, Picture, area
from rampdraft.drawing.placing import overlap
from rampdraft.drawing.section import section_across
from rampdraft.drawing.side import bracket_marks, prop_marks, ramp_marks
from rampdraft.drawing.surroundings import carrier_marks, ground_marks
from rampdraft.drawing.text import mm_text
from rampdraft.drawing.words_room import room_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.lanes import joint_pairs_mm
from rampdraft.geometry.linkage import Pose, edge_height_mm, linkage, moved
from rampdraft.geometry.members.member import BRACKETS, LATCHES, Body, Member, Role
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.mechanics.folding.folding import closed_pose
from rampdraft.model.design import Leaf
from rampdraft.units import MM
from rampdraft.words.say import named, say

_SAGITTA_MM: Final = 0.05
_BESIDE_MM: Final = 25.0
"""What a window shows beyond what it is about, at least."""


_ALONG_MM: Final = 58.0
"""Of a leaf from the joint on, at most, so that a detail of it is large."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Detail:
    """One detail: what draws it for a scale."""

    key: str
    title: str
    draw: Callable[[MM], Picture]


def details(evaluation: Evaluation) -> tuple[Detail, ...]:
    """Return the details of a design, each that it has."""
    makers = (_deck_hinge, _joint, _joint_folded, _joint_across, _toe, _guard, _prop, _latches)
    return tuple(detail for make in makers for detail in make(evaluation))


# Windows
# ----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True, kw_only=True)
class _Window:
    """What is looked at: a pose from the side or a plane across, and how much of it."""

    ink: tuple[Path, ...]
    box: Box
    at: dict[str, tuple[Box, ...]]
    """Where members are seen in it, by key."""


def _side(evaluation: Evaluation, pose: Pose, box: Box, beside: Iterable[Ink] = ()) -> _Window:
    """Return a window of the side view with the deck empty, what stands still behind it."""
    return _seen((*beside, *ramp_marks(evaluation, pose=pose, drop_mm=0.0)), box)


def _seen(ink: Iterable[Ink], box: Box) -> _Window:
    kept = tuple(part for mark in ink if isinstance(mark, Path) for part in cut(mark, box, _SAGITTA_MM))
    at: dict[str, tuple[Box, ...]] = {}
    for mark in kept:
        if mark.owner:
            xs, ys = [x for x, _, _ in mark.vertices], [y for _, y, _ in mark.vertices]
            at[mark.owner] = (*at.get(mark.owner, ()), (min(xs), min(ys), max(xs), max(ys)))
    return _Window(ink=kept, box=box, at=at)


def _about(points: Sequence[Point], beside: MM) -> Box:
    """Return a box with all points in it, and so much beside them."""
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs) - beside, min(ys) - beside, max(xs) + beside, max(ys) + beside


def _drawn(
    evaluation: Evaluation,
    window: _Window,
    per_mm: MM,
    roles: Sequence[Role],
    notes: Iterable[Callout] = (),
    sizes: Iterable[Size] = (),
) -> Picture:
    """Return a window in its frame, and beside it dimensions, part numbers and notes."""
    shown = (note for note in notes if overlap((*note.tip, *note.tip), window.box))
    callouts = (*_parts(evaluation, window, roles), *_welds(evaluation, window, roles), *shown)
    frame = area(rectangle(*window.box), "thin", "none")
    lines, box = sized(tuple(sizes), window.box, per_mm)
    picture = cleared(Picture(marks=(*window.ink, frame, *lines), box=box), per_mm)
    words = [room_of(mark, per_mm) for mark in picture.marks if isinstance(mark, Label)]
    beside, box = called_out(callouts, picture.box, per_mm, words)
    return Picture(marks=(*picture.marks, *beside), box=box)


def _parts(evaluation: Evaluation, window: _Window, roles: Sequence[Role]) -> Iterator[Callout]:
    """Yield the part numbers of what is seen, each part once, in the order of the part list."""
    members = {member.key: member for member in _members(evaluation)}
    for part in evaluation.parts:
        seen = [
            box
            for key in part.members
            if key in window.at and members[key].role in roles
            for box in window.at[key]
        ]
        if seen:
            box = max(seen, key=lambda one: (one[2] - one[0]) * (one[3] - one[1]))
            yield Callout(kind="part", text=part.number, tip=_tip(box, window.box))


def _welds(evaluation: Evaluation, window: _Window, roles: Sequence[Role]) -> Iterator[Callout]:
    """Yield the welds between two members that are seen, each row of the weld list once."""
    role = {member.key: member.role for member in _members(evaluation)}
    for weld in evaluation.welds:
        seen = next(
            (
                (on, to)
                for on, to in weld.places
                if on in window.at and to in window.at and role[on] in roles and role[to] in roles
            ),
            None,
        )
        if seen is not None:
            yield Callout(
                kind="weld",
                text=f"a{mm_text(weld.throat_mm, 2)} {weld.number}",
                tip=_edge(window.at[seen[0]][0], window.at[seen[1]][0]),
                around=weld.around,
                both_sides=weld.both_sides,
            )


def _edge(on: Box, to: Box) -> Point:
    """Return a place on the edge of what is welded on, where it lies on what carries it."""
    x0, y0 = max(on[0], to[0]), max(on[1], to[1])
    x1, y1 = min(on[2], to[2]), min(on[3], to[3])
    return (x0 + x1) / 2, y0 if abs(y0 - on[1]) < abs(y1 - on[3]) else y1


def _members(evaluation: Evaluation) -> tuple[Member, ...]:
    return (*evaluation.assembly.members, *evaluation.brackets)


def _tip(box: Box, window: Box) -> Point:
    """Return where a leader meets what is seen in a box: inside it, towards the near side of the window."""
    x0, y0, x1, y1 = box
    near = 0.3 if x0 + x1 <= window[0] + window[2] else 0.7
    return x0 + near * (x1 - x0), y0 + 0.55 * (y1 - y0)


# The details
# ----------------------------------------------------------------------------------------------


def _deck_hinge(evaluation: Evaluation) -> Iterator[Detail]:
    design = evaluation.design
    hinge, bars, leaf = design.deck_hinge, linkage(design), design.inner_leaf
    pose, top = evaluation.sites[0].pose, edge_height_mm(design)
    rail = bars.placings(pose)["inner"].point(1.2 * hinge.knuckle_diameter_mm, -leaf.rail_section.depth_mm)
    held = [moved(one.silhouette, bars.placings(pose)["carrier"]).box for one in evaluation.brackets]
    corners = [corner for x0, y0, x1, y1 in held for corner in ((x0, y0), (x1, y1))]
    beside = 0.6 * hinge.knuckle_diameter_mm + _BESIDE_MM / 6
    x0, y0, x1, y1 = _about((bars.edge, bars.hinge, rail, *corners), _BESIDE_MM / 3)
    box = x0 - beside, y0, x1 + beside, y1

    def draw(per_mm: MM) -> Picture:
        still = carrier_marks(design, top, per_mm, deck_mm=box[2] - box[0])
        held = bracket_marks(evaluation.design, bars.placings(pose)["carrier"])
        window = _side(evaluation, pose, box, (*still, *held))
        roles: tuple[Role, ...] = (*_AT_HINGE, "bridge plate", "bridge strip", *BRACKETS)
        sizes = deck_hinge_sizes(design, bars.edge, bars.hinge)
        return _drawn(evaluation, window, per_mm, roles, sizes=sizes)

    yield Detail(key="deck hinge", title=say("Deck hinge and bracket, deployed"), draw=draw)


_AT_HINGE: Final[tuple[Role, ...]] = ("rail", "knuckle", "stop bar", "slat")


def _joint_box(evaluation: Evaluation, pose: Pose) -> Box:
    """Return a window about the joint, with the stop bars and the depth of both rails in it."""
    design = evaluation.design
    where, joint, stop = linkage(design).placings(pose), design.joint, design.stop
    bars = max(stop.fixed_length_mm, stop.lap_mm) if stop.kind != "none" else 0.0
    long = max(joint.knuckle_diameter_mm, min(bars, _ALONG_MM))
    half = joint.knuckle_diameter_mm / 2
    inner, outer = design.inner_leaf, design.outer_leaf
    sides: tuple[tuple[Body, Leaf, MM], ...] = (
        ("inner", inner, inner.length_mm - long), ("inner", inner, inner.length_mm),
        ("outer", outer, 0.0), ("outer", outer, long),
    )  # fmt: skip
    corners = [
        where[body].point(at, w)
        for body, leaf, at in sides
        for w in (
            min(-leaf.rail_section.depth_mm, joint.height_mm - half),
            max(leaf.slat_thickness_mm, joint.height_mm + half),
        )
    ]
    return _about(corners, _BESIDE_MM / 3)


def _joint(evaluation: Evaluation) -> Iterator[Detail]:
    """Yield the joint straight, the gap of its stop as wide as it is set."""
    design, joint, stop = evaluation.design, evaluation.design.joint, evaluation.design.stop
    pose = Pose(0.0, 0.0)
    centre = linkage(design).joint(0.0)
    box = _joint_box(evaluation, pose)

    def draw(per_mm: MM) -> Picture:
        window = _side(evaluation, pose, box)
        notes = [] if joint.height_mm else [Callout(text=say("at rail top"), tip=centre)]
        bars = [
            seen
            for member in evaluation.assembly.members
            if member.role == "stop bar"
            for seen in window.at.get(member.key, ())
        ]
        sizes = tuple(joint_sizes(design, centre, bars))
        if bars and not any(size.owner == "stop.gap_mm" for size in sizes):
            x0, y0, x1, y1 = bars[0]
            end = x1 if abs(x1 - centre[0]) < abs(x0 - centre[0]) else x0
            notes.append(Callout(text=stop_words(stop), tip=(end, (y0 + y1) / 2)))
        return _drawn(evaluation, window, per_mm, _AT_HINGE, notes, sizes)

    bare = design.stop.kind == "none"
    title = say("Joint, straight" if bare else "Joint, straight, with its stop bars")
    yield Detail(key="joint", title=title, draw=draw)


def _joint_folded(evaluation: Evaluation) -> Iterator[Detail]:
    design = evaluation.design
    pose = Pose(0.0, closed_pose(design).fold_rad)
    box = _joint_box(evaluation, pose)

    def draw(per_mm: MM) -> Picture:
        return _drawn(evaluation, _side(evaluation, pose, box), per_mm, ("rail", "slat", "stop bar"), ())

    yield Detail(key="joint folded", title=say("Joint, folded"), draw=draw)


def _joint_across(evaluation: Evaluation) -> Iterator[Detail]:
    """Yield the section through the joint's axis, of the first pair of knuckles."""
    design, joint = evaluation.design, evaluation.design.joint
    pairs = joint_pairs_mm(design)
    if not pairs:
        return
    pose = Pose(0.0, evaluation.sites[0].pose.fold_rad)
    bars = linkage(design)
    x, z = bars.joint(0.0)
    half = joint.knuckle_length_mm / 2 + _BESIDE_MM
    deep = joint.knuckle_diameter_mm / 2 + _BESIDE_MM / 2
    box = (min(pairs[0]) - half, z - deep, max(pairs[0]) + half, z + deep)

    def draw(per_mm: MM) -> Picture:
        # just beside the axis: on it, round things of one size end in the same point
        ink = section_across(evaluation.assembly.members, bars.placings(pose), x + 0.01, per_mm)
        sizes = across_sizes(design, pairs[0], z)
        roles: tuple[Role, ...] = ("knuckle", "washer", "pin")
        return _drawn(evaluation, _seen(ink, box), per_mm, roles, sizes=sizes)

    yield Detail(
        key="joint across", title=say("Section across, through the joint's axis, from the toe"), draw=draw
    )


def _toe(evaluation: Evaluation) -> Iterator[Detail]:
    design, site = evaluation.design, evaluation.sites[0]
    leaf, toe = design.outer_leaf, design.toe
    where = linkage(design).placings(site.pose)["outer"]
    shown = 1.8 * leaf.rail_section.depth_mm
    points = [
        where.point(leaf.length_mm - shown, leaf.slat_thickness_mm + leaf.upstand_height_mm),
        where.point(leaf.length_mm, 0.0),
        where.point(leaf.length_mm, -toe.thickness_mm),
        site.contact,
    ]
    box = _about(points, _BESIDE_MM / 2)

    def draw(per_mm: MM) -> Picture:
        ground = ground_marks(ground_line(design.sites[0]), box[0], box[2], per_mm)
        notes = [Callout(text=say("stands here"), tip=site.contact)]
        if toe.kind == "taper":
            notes.append(
                Callout(text=taper_words(toe), tip=where.point(leaf.length_mm, -toe.thickness_mm / 2))
            )
        window = _side(evaluation, site.pose, box, ground)
        roles: tuple[Role, ...] = ("rail", "slat", "edge upstand", "taper plate", "toe flap")
        return _drawn(evaluation, window, per_mm, roles, notes, toe_sizes(design, where))

    yield Detail(key="toe", title=say("Toe, deployed"), draw=draw)


def _guard(evaluation: Evaluation) -> Iterator[Detail]:
    """Yield the section through a slat at the left edge of each leaf; once where both are alike."""
    design = evaluation.design
    leaves: list[tuple[Body, Leaf]] = [("inner", design.inner_leaf)]
    if _at_edge(design.outer_leaf) != _at_edge(design.inner_leaf):
        leaves.append(("outer", design.outer_leaf))
    for body, leaf in leaves:
        members = [member for member in evaluation.assembly.members if member.body == body]
        slats = [member for member in members if member.role == "slat"]
        if slats:
            yield _guard_of(evaluation, body, leaf, members, slats[len(slats) // 2], both=len(leaves) == 1)


def _at_edge(leaf: Leaf) -> tuple[object, ...]:
    return (
        leaf.width_mm, leaf.slat_thickness_mm, leaf.upstand_height_mm, leaf.upstand_thickness_mm,
        leaf.rail_section, max(leaf.rail_lanes_mm, default=0.0),
    )  # fmt: skip


def _guard_of(
    evaluation: Evaluation, body: Body, leaf: Leaf, members: Sequence[Member], slat: Member, *, both: bool
) -> Detail:
    u0, _, u1, w1 = slat.silhouette.box
    where = linkage(evaluation.design).placings(Pose(0.0, 0.0))
    place = where[body]
    x, top = place.point((u0 + u1) / 2, w1)
    lane = max(leaf.rail_lanes_mm)
    edge = max(member.y1_mm for member in members if member.role in ("edge upstand", "slat"))
    low = place.point(u0, -leaf.rail_section.depth_mm)[1]
    box = (
        lane - leaf.rail_section.width_mm,
        low - _BESIDE_MM / 3,
        edge + _BESIDE_MM / 3,
        top + leaf.upstand_height_mm + _BESIDE_MM / 3,
    )
    sizes = tuple(
        guard_sizes(leaf, f"{body}_leaf", (leaf.width_mm / 2, top), lane + leaf.rail_section.width_mm / 2)
    )

    def draw(per_mm: MM) -> Picture:
        ink = section_across(members, where, x, per_mm)
        roles: tuple[Role, ...] = ("rail", "slat", "edge upstand", "cross member")
        return _drawn(evaluation, _seen(ink, box), per_mm, roles, sizes=sizes)

    name = say("both leaves") if both else named(f"{body} leaf")
    return Detail(
        key=f"guard {body}",
        title=say("Guard, {leaf}: section through a slat, from the toe", leaf=name),
        draw=draw,
    )


def _prop(evaluation: Evaluation) -> Iterator[Detail]:
    """Yield the prop where the ramp stands on it, at the first site that has room for one."""
    design = evaluation.design
    site = next((site for site in evaluation.sites if site.joint_room_mm > 0), None)
    if not design.prop.fitted or site is None:
        return
    x, z = site.joint
    half = max(design.prop.foot_mm / 2, design.joint.knuckle_diameter_mm) + _BESIDE_MM
    low = ground_line(design.sites[site.site_number - 1]).height_mm(x)
    box = (x - half, low - _BESIDE_MM / 2, x + half, z + design.joint.knuckle_diameter_mm / 2 + _BESIDE_MM)

    def draw(per_mm: MM) -> Picture:
        ground = ground_marks(ground_line(design.sites[site.site_number - 1]), box[0], box[2], per_mm)
        prop = prop_marks(evaluation, site.pose, site.site_number)
        window = _side(evaluation, site.pose, box, (*ground, *prop))
        roles: tuple[Role, ...] = ("prop", "prop foot", "rail")
        return _drawn(evaluation, window, per_mm, roles, sizes=prop_sizes((x, low), site.joint_room_mm))

    yield Detail(key="prop", title=say("Prop, {deployed}", deployed=deployed_words(site)), draw=draw)


def _latches(evaluation: Evaluation) -> Iterator[Detail]:
    """Yield the latches stowed, from the side: where each and its hook lie."""
    design = evaluation.design
    pose = closed_pose(design)
    where = linkage(design).placings(pose)
    plates = [member for member in evaluation.assembly.members if member.role in LATCHES]
    if not plates:
        return
    seen = {
        member.key: _about([where[member.body].point(u, w) for u, w, _ in member.silhouette.vertices], 0.0)
        for member in plates
    }
    number, shown = 0, set[frozenset[str]]()
    for box in _clusters(list(seen.values()), _BESIDE_MM):
        inside = [member for member in plates if overlap(seen[member.key], box)]
        alike = frozenset(
            part.number for part in evaluation.parts for one in inside if one.key in part.members
        )
        if alike in shown:
            continue
        shown.add(alike)
        number += 1

        def draw(per_mm: MM, box: Box = box, inside: Sequence[Member] = tuple(inside)) -> Picture:
            notes = [_latch_note(member, seen[member.key]) for member in inside]
            return _drawn(evaluation, _side(evaluation, pose, box), per_mm, LATCHES, dict.fromkeys(notes))

        yield Detail(
            key=f"latches {number}",
            title=say("Latches and hooks, stowed, {number}", number=number),
            draw=draw,
        )


def _latch_note(member: Member, seen: Box) -> Callout:
    """Return where along its leaf a plate begins and ends."""
    u0, _, u1, _ = member.silhouette.box
    return Callout(
        text=latch_words(member.body, u0, u1),
        tip=(seen[0] + 0.5 * (seen[2] - seen[0]), seen[1] + 0.25 * (seen[3] - seen[1])),
    )


def _clusters(boxes: Sequence[Box], beside: MM) -> list[Box]:
    """Return windows about boxes, so much wider, those that would meet made one."""
    grown = [(x0 - beside, y0 - beside, x1 + beside, y1 + beside) for x0, y0, x1, y1 in boxes]
    found: list[Box] = []
    for box in grown:
        while (other := next((one for one in found if overlap(one, box)), None)) is not None:
            found.remove(other)
            box = (  # noqa: PLW2901 it grows by what it meets
                min(box[0], other[0]), min(box[1], other[1]), max(box[2], other[2]), max(box[3], other[3]),
            )  # fmt: skip
        found.append(box)
    return found
