"""The side view: a section along the centre line, seen from the right-hand side of somebody who walks down
the ramp.

The section shows what lies between the centre line and the far side, so that slats, rails and hinges are seen
and the far edge upstand stands behind them. What a middle rail hides is dashed (ISO 128-3).
"""

import math
from typing import Final, Literal

from rampdraft.drawing import dimension, surroundings
from rampdraft.drawing.handling import handle_marks, spring_marks
from rampdraft.drawing.ink import Fill, Ink, Label, Pen, Picture, area, line
from rampdraft.drawing.insets import Place
from rampdraft.drawing.letters import words_mm
from rampdraft.drawing.text import gradient_text, mm_text, one_in
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.bridge import bridge_placing
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Placing, Pose, edge_height_mm, linkage, moved, placings
from rampdraft.geometry.members.brackets import brackets_standing
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.members.member import Body, Member, Role
from rampdraft.geometry.outline import Outline, Point, rectangle
from rampdraft.mechanics.folding.folding import closed_pose
from rampdraft.mechanics.results import ClashingPair, LeafGradient, PairClearance, SitePose
from rampdraft.model.design import Design, Leaf
from rampdraft.units import MM, RAD
from rampdraft.words.say import say

_ORDER: Final[dict[Role, tuple[int, Pen]]] = {
    "edge upstand": (0, "thin"),
    "rail": (1, "outline"),
    "taper plate": (2, "thin"),
    "cross member": (2, "hidden"),
    "slat": (3, "outline"),
    "stop bar": (4, "outline"),
    "latch": (4, "thin"),
    "latch hook": (4, "thin"),
    "bridge plate": (5, "outline"),
    "bridge strip": (5, "outline"),
    "toe flap": (5, "outline"),
    "knuckle": (6, "outline"),
    "pin": (7, "thin"),
}
"""Back to front, and the pen. Washers lie behind the knuckles; props stand only where the ramp is
deployed.
"""

PAPER_WIDTH_MM: Final = 240.0
"""Width on paper that arrows and strokes are sized for when no scale is given."""

FINE_FROM: Final = 25.0
"""At 1 : 25 and smaller, wide outlines would run into each other."""

_DETAIL_MM: Final = 180.0
_DETAIL: Final = 2.6
"""An enlarged detail shows so much across, or so many times the depth of the leaves."""

_GRADIENT_PT: Final = 9.0

Frame = Literal["fold", "pose"]


def standing_view(
    evaluation: Evaluation,
    site: SitePose,
    per_mm: MM | None = None,
    *,
    flap: bool = True,
) -> Picture:
    """Return the side view of the ramp put down at a site; `flap` leaves room for a toe flap laid down."""
    return side_view(
        evaluation,
        pose=site.pose,
        drop_mm=site.drop_mm,
        nod_rad=site.nod_rad,
        site_number=site.site_number,
        flap_rad=site.flap_rad if flap else None,
        frame="pose",
        per_mm=per_mm,
    )


def stowed_view(evaluation: Evaluation, per_mm: MM | None = None) -> Picture:
    """Return the side view of the stowed ramp."""
    return side_view(evaluation, pose=evaluation.stowed.pose, drop_mm=0.0, frame="pose", per_mm=per_mm)


# many: keywords, each a thing that the view may show beside the ramp
def side_view(
    evaluation: Evaluation,
    *,
    pose: Pose,
    drop_mm: MM,
    nod_rad: RAD = 0.0,
    site_number: int = 1,
    nearest: PairClearance | ClashingPair | None = None,
    clashing: tuple[ClashingPair, ...] = (),
    flap_rad: RAD | None = None,
    dimensions: bool = True,
    frame: Frame = "fold",
    hands: tuple[str, ...] = (),
    swept: tuple[Outline, ...] = (),
    per_mm: MM | None = None,
) -> Picture:
    """Return the side view of a pose on the ground of a site (counted from 1).

    `flap_rad` is the toe flap's angle to the outer leaf, None where it is carried. `frame` shows room for the
    whole fold, so that nothing jumps while it moves, or the pose alone. `hands` are the names of the handles
    that are held, `swept` the outlines to be shown as moved through. `per_mm`: see `dimension`.
    """
    box = side_box(
        evaluation, pose=pose, drop_mm=drop_mm, site_number=site_number, flap_rad=flap_rad, frame=frame
    )
    box = _around(box, swept) if swept else box
    per_mm = per_mm or (box[2] - box[0]) / PAPER_WIDTH_MM
    site, top = evaluation.design.sites[site_number - 1], edge_height_mm(evaluation.design, drop_mm)
    still = (
        *surroundings.ground_marks(ground_line(site), box[0], box[2], per_mm),
        *surroundings.carrier_marks(evaluation.design, top, per_mm, nod_rad=nod_rad),
    )
    fine = per_mm > FINE_FROM
    moving = ramp_marks(
        evaluation, pose=pose, drop_mm=drop_mm, clashing=clashing, flap_rad=flap_rad, fine=fine
    )
    where = placings(evaluation.design, pose, drop_mm)
    springs = spring_marks(evaluation.design, where, drop_mm, per_mm)
    handling = (*springs, *handle_marks(evaluation.design, where, hands, per_mm))
    room = (area(outline, "swept", "swept") for outline in swept)
    held = bracket_marks(evaluation.design, where["carrier"])
    marks = [*room, *still, *held, *moving, *prop_marks(evaluation, pose, site_number), *handling]
    if dimensions:
        found, box = _dimensions(evaluation, pose, drop_mm, site_number, box, per_mm)
        marks.extend(found)
    marks.extend(() if nearest is None else nearest_marks(nearest, per_mm))
    return Picture(marks=tuple(marks), box=box, title=say("Side view"))


def side_box(
    evaluation: Evaluation,
    *,
    pose: Pose,
    drop_mm: MM,
    site_number: int = 1,
    flap_rad: RAD | None = None,
    frame: Frame = "fold",
) -> tuple[MM, MM, MM, MM]:
    """Return the part of the side plane worth showing: room for the fold at a site, or for one pose."""
    design = evaluation.design
    corners = {body: _corners(evaluation.assembly.of(body)) for body in ("inner", "outer")}
    poses = [pose]
    if frame == "fold":
        poses.extend(site.pose for site in evaluation.sites if site.site_number == site_number)
        poses.extend(evaluation.path.pose(step / 12) for step in range(13))
    bars = linkage(design, drop_mm)
    points: list[Point] = [bars.edge]
    reach = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    corners_near = (
        corner
        for obstacle in design.obstacles
        for corner in obstacle.outline_mm
        if math.hypot(*corner) < reach
    )
    points.extend((x, bars.edge[1] + z) for x, z in corners_near)
    for each in poses:
        where = bars.placings(each)
        points.extend(where[body].point(*corner) for body in ("inner", "outer") for corner in corners[body])
    if flap_rad is not None:  # it reaches further laid down than carried
        flap = moved(flap_outline(design, flap_rad), bars.placings(pose)["outer"])
        points.extend((x, z) for x, z, _ in flap.vertices)
    out = max(x for x, _ in points)
    ground = ground_line(design.sites[site_number - 1]).between(0.0, out)
    low = min(0.0, *(z for _, z in ground), *(z for _, z in points))
    margin = 0.025 * (out + surroundings.shown_mm(design))
    return (
        min(-surroundings.shown_mm(design), *(x for x, _ in points)) - margin,
        low - 1.5 * margin,
        out + 2 * margin,
        max(z for _, z in points) + margin,
    )


def _around(box: tuple[MM, MM, MM, MM], swept: tuple[Outline, ...]) -> tuple[MM, MM, MM, MM]:
    """Return the box with room for what is moved through above the ground."""
    reach = [outline.box for outline in swept]
    return (
        min(box[0], *(x for x, *_ in reach)),
        box[1],
        max(box[2], *(x for _, _, x, _ in reach)),
        max(box[3], *(z for *_, z in reach)),
    )


def ramp_marks(
    evaluation: Evaluation,
    *,
    pose: Pose,
    drop_mm: MM,
    clashing: tuple[ClashingPair, ...] = (),
    flap_rad: RAD | None = None,
    fine: bool = False,
) -> tuple[Ink, ...]:
    """Return what moves: the members of the ramp, their hinge centres, and the clashing ones hatched.

    `fine` draws all outlines thin, for small scales.
    """
    design = evaluation.design
    bars = linkage(design, drop_mm)
    where, riding = bars.placings(pose), bridge_placing(design, evaluation.assembly, pose, drop_mm)
    flap = None if flap_rad is None else flap_outline(design, flap_rad)
    marks: list[Ink] = []
    drawn: set[tuple[Body, Outline]] = set()
    members = [member for member in evaluation.assembly.members if member.role in _ORDER]
    for member in sorted(members, key=lambda member: _ORDER[member.role][0]):
        shape = flap if flap is not None and member.role == "toe flap" else member.silhouette
        if (member.body, shape) not in drawn:
            drawn.add((member.body, shape))
            fill = "none" if member.role in ("cross member", "pin") else fill_of(member)
            pen = _ORDER[member.role][1]
            pen = "thin" if fine and pen == "outline" else pen
            place = riding if member.role == "bridge plate" else where[member.body]
            marks.append(area(moved(shape, place), pen, fill, member.key))
    clash_keys = {key for pair in clashing for key in (pair.member_a, pair.member_b)}
    for member in evaluation.assembly.members:
        if member.key in clash_keys and member.body in where:
            marks.append(area(moved(member.silhouette, where[member.body]), "clash", "clash", member.key))
    for key, shape in surroundings.outlines(design, bars.edge[1]).items():
        if key in clash_keys:
            marks.append(area(shape, "clash", "clash", key))
    for one in brackets_standing(design) if clash_keys else ():
        if one.key in clash_keys:
            marks.append(area(moved(one.shape, where["carrier"]), "clash", "clash", one.key))
    deck, joint = design.deck_hinge, design.joint
    marks.extend(dimension.centre_mark(bars.hinge, 0.8 * deck.knuckle_diameter_mm))
    marks.extend(dimension.centre_mark(bars.joint(pose.inner_rad), 0.8 * joint.knuckle_diameter_mm))
    return tuple(marks)


def bracket_marks(design: Design, where: Placing) -> tuple[Ink, ...]:
    """Return the brackets on the carrier, which lies at `where`, with the heads of their bolts."""
    shapes = {one.shape: one.key for one in reversed(tuple(brackets_standing(design)))}
    return tuple(area(moved(shape, where), "outline", "carrier", key) for shape, key in shapes.items())


def nearest_marks(nearest: PairClearance | ClashingPair, per_mm: MM) -> tuple[Ink, ...]:
    """Return the line between the two nearest points, with the clearance written beside it."""
    a, b = nearest.point_a, nearest.point_b
    clear = nearest.clearance_mm
    text = say(
        "clearance {clearance}" if clear >= 0 else "clash, {clearance} deep", clearance=mm_text(abs(clear))
    )
    to = (max(a[0], b[0]) + 7 * per_mm, max(a[1], b[1]) + 7 * per_mm)
    return (
        line(a, b, "accent"),
        line(((a[0] + b[0]) / 2, (a[1] + b[1]) / 2), to, "accent"),
        Label(text=text, at=(to[0], to[1] + 1.5 * per_mm), pen="accent", size_pt=9.0, boxed=True),
    )


def fill_of(member: Member) -> Fill:
    """Return what a member's area looks like: timber, or the body it moves with."""
    if member.piece.section.kind == "timber":
        return "timber"
    return "carrier" if member.body == "carrier" else "outer" if member.body == "outer" else "inner"


def _corners(members: tuple[Member, ...]) -> tuple[Point, ...]:
    us = [vertex[0] for member in members for vertex in member.silhouette.vertices]
    ws = [vertex[1] for member in members for vertex in member.silhouette.vertices]
    return tuple((u, w) for u in (min(us), max(us)) for w in (min(ws), max(ws)))


def side_places(evaluation: Evaluation, site: SitePose) -> tuple[Place, ...]:
    """Return what is worth enlarging of a ramp put down: deck edge, joint and toe."""
    design = evaluation.design
    where, bars = placings(design, site.pose, site.drop_mm), linkage(design, site.drop_mm)
    inner, outer = design.inner_leaf, design.outer_leaf
    deep = max(leaf.rail_section.depth_mm + leaf.slat_thickness_mm for leaf in (inner, outer))
    wide = max(_DETAIL_MM, _DETAIL * deep)
    middle = -inner.rail_section.depth_mm / 2
    edge = ((bars.edge[0] + bars.hinge[0]) / 2, bars.edge[1] - inner.rail_section.depth_mm / 2)
    flap = design.toe.kind == "flap"
    end = where["outer"].point(outer.length_mm, -outer.rail_section.depth_mm) if flap else site.contact
    return (
        Place(name=say("deck edge"), at=edge, wide_mm=wide),
        Place(name=say("joint"), at=where["inner"].point(inner.length_mm, middle), wide_mm=wide),
        Place(name=say("toe"), at=(end[0] - 0.25 * wide, end[1] + 0.2 * wide), wide_mm=wide),
    )


def _site_pose(evaluation: Evaluation, pose: Pose, site_number: int) -> SitePose | None:
    here = [site for site in evaluation.sites if site.site_number == site_number]
    return next((site for site in (*map(evaluation.props_set.borne, here), *here) if site.pose == pose), None)


def prop_marks(evaluation: Evaluation, pose: Pose, site_number: int) -> tuple[Ink, ...]:
    """Return the prop under the joint, where the ramp stands deployed on it."""
    return tuple(
        area(shape, "outline", "inner", member.key)
        for member, shape in prop_outlines(evaluation, pose, site_number)
        if member.tag.hand == "left"  # the right one stands behind it
    )


def prop_outlines(evaluation: Evaluation, pose: Pose, site_number: int) -> tuple[tuple[Member, Outline], ...]:
    """Return what stands under the joint, in the side plane, where the ramp stands deployed on it."""
    design, site = evaluation.design, _site_pose(evaluation, pose, site_number)
    if site is None or not design.prop.fitted or site.joint_room_mm <= 0:
        return ()
    x, room = site.joint[0], site.joint_room_mm
    low = ground_line(design.sites[site_number - 1]).height_mm(x)
    found: list[tuple[Member, Outline]] = []
    for member in evaluation.assembly.of("loose"):
        u0, w0, u1, w1 = member.silhouette.box
        tall = w1 - w0 if member.role == "prop foot" else room
        found.append((member, rectangle(x + u0, low, x + u1, low + tall)))
    return tuple(found)


def _dimensions(
    evaluation: Evaluation, pose: Pose, drop_mm: MM, site_number: int, box: tuple[MM, MM, MM, MM], per_mm: MM
) -> tuple[list[Ink], tuple[MM, MM, MM, MM]]:
    """Return the dimensions that suit the pose, and the box with room for them."""
    design = evaluation.design
    x0, z0, x1, z1 = box
    top = edge_height_mm(design, drop_mm)
    text = f"H {mm_text(top)}" if not drop_mm else f"H − D = {mm_text(top)}"
    left = -surroundings.shown_mm(design) - 5 * per_mm
    marks: list[Ink] = [
        *dimension.upright(
            (left + 5 * per_mm, 0.0), (left + 5 * per_mm, top), text, at=left, per_mm=per_mm,
            owner="carrier.deck_height_mm",
        )
    ]  # fmt: skip
    x0 = min(x0, left - 6 * per_mm)
    z1 = max(z1, dimension.upright_reach(0.0, top, text, per_mm))
    site = _site_pose(evaluation, pose, site_number)
    if site is not None:
        where = placings(design, pose, drop_mm)
        found = (
            *_leaf_length(design.inner_leaf, "inner_leaf", where["inner"], site.inner, per_mm),
            *_leaf_length(design.outer_leaf, "outer_leaf", where["outer"], site.outer, per_mm),
        )
        marks.extend(found)
        z1 = max(z1, *(_top_of(mark, per_mm) for mark in found if isinstance(mark, Label)))
        start = where["inner"].point(0.0, -design.inner_leaf.rail_section.depth_mm)
        toe = (start[0] + site.whole.going_mm, site.contact[1])
        ground = ground_line(design.sites[site_number - 1]).between(0.0, toe[0])
        under = min(z for _, z in ground) - 9 * per_mm
        going = say("going {length}", length=mm_text(site.whole.going_mm, 0))
        marks.extend(dimension.level(start, toe, going, at=under, per_mm=per_mm))
        z0 = min(z0, under - 3 * per_mm)
    if pose == closed_pose(evaluation.design):  # asked before the fold is worked out
        found = _stowed(evaluation, top, per_mm)
        marks.extend(found)
        z1 = max(z1, top + evaluation.stowed.above_deck_mm + 14 * per_mm)
        ends = (_right_of(mark, per_mm) for mark in found if isinstance(mark, Label))
        x1 = max(x1, evaluation.stowed.out_mm + 16 * per_mm, *ends)
    return marks, (x0, z0, x1, z1)


def _top_of(label: Label, per_mm: MM) -> MM:
    """Return how high words reach that stand over the middle of a line."""
    half = words_mm(label.text, label.size_pt) / 2
    return label.at[1] + (4.0 + half * abs(math.sin(math.radians(label.angle_deg)))) * per_mm


def _right_of(label: Label, per_mm: MM) -> MM:
    """Return how far words reach that begin at their place; for others where they stand."""
    room = words_mm(label.text, label.size_pt) + 1.0 if label.anchor == "left" else 0.0
    return label.at[0] + room * math.cos(math.radians(label.angle_deg)) * per_mm


def _leaf_length(
    leaf: Leaf, group: str, where: Placing, gradient: LeafGradient, per_mm: MM
) -> tuple[Ink, ...]:
    """Return a leaf's length above it, with its gradient over the line, shorter than the leaf."""
    w = leaf.slat_thickness_mm + leaf.upstand_height_mm
    a, b = where.point(0.0, w), where.point(leaf.length_mm, w)
    offset = 5 * per_mm
    lift = offset + (dimension.LIFT_MM + 4.2) * per_mm
    middle = where.point(leaf.length_mm / 2, w + lift)
    text = gradient_text(gradient)
    if words_mm(text, _GRADIENT_PT) * per_mm > 0.75 * leaf.length_mm:
        text = one_in(gradient)
    return (
        *dimension.aligned(
            a, b, f"L {mm_text(leaf.length_mm)}", offset_mm=offset, per_mm=per_mm, owner=f"{group}.length_mm"
        ),
        Label(
            text=text, at=middle, anchor="centre", pen="outline", size_pt=_GRADIENT_PT,
            angle_deg=math.degrees(where.angle_rad),
        ),
    )  # fmt: skip


def _stowed(evaluation: Evaluation, top: MM, per_mm: MM) -> tuple[Ink, ...]:
    """Return how high, and how far in and out, the stowed ramp stands."""
    stowed = evaluation.stowed
    above = top + stowed.above_deck_mm
    near, far = (0.0, top), (stowed.out_mm, above)
    tall, out = (
        say("above deck {height}", height=mm_text(stowed.above_deck_mm)),
        say("out {length}", length=mm_text(stowed.out_mm)),
    )
    return (
        *dimension.upright(near, far, tall, at=stowed.out_mm + 8 * per_mm, per_mm=per_mm),
        *dimension.level(near, far, out, at=above + 6 * per_mm, per_mm=per_mm),
    )
