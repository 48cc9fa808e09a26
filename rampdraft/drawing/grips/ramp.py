"""The grips of a ramp seen from the side, in any pose: what of it can be pulled, and where it is taken hold
of.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, cast

from rampdraft.drawing import surroundings
from rampdraft.drawing.grips.grip import Grip, Slide, Turn, slide
from rampdraft.drawing.grips.ground import ground_grips
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import Linkage, Placing, Pose, linkage
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.geometry.outline import Point
from rampdraft.mechanics.folding.folding import closed_pose
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design, Leaf
from rampdraft.model.fields.paths import info_of, value_at
from rampdraft.model.fields.record import Dim
from rampdraft.model.sold import sold_sections
from rampdraft.units import MM, RAD

_THICKNESS_AT: Final = 0.62
"""Share of a leaf's length, clear of its other grips."""
_THICKEST_MM: Final = 1000.0
"""The deepest section that can be named (`model.section`)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Posed:
    """A design as it is drawn from the side."""

    design: Design
    pose: Pose
    drop_mm: MM
    site_number: int
    """Whose ground it is drawn on, counted from 1."""
    flap_rad: RAD | None = None
    """Angle of a toe flap to the outer leaf, None where it is carried."""

    @property
    def bars(self) -> Linkage:
        """Return the linkage as it stands."""
        return linkage(self.design, self.drop_mm)


def standing_grips(evaluation: Evaluation, site: SitePose) -> tuple[Grip, ...]:
    """Return the grips of the ramp put down at a site: those of the ramp, of the deck, of props and of the
    ground.
    """
    posed = Posed(
        design=evaluation.design,
        pose=site.pose,
        drop_mm=site.drop_mm,
        site_number=site.site_number,
        flap_rad=site.flap_rad,
    )
    ground = ground_grips(posed.design, posed.site_number)
    return (*_deck(posed), *ramp_grips(posed), *_props(posed, site), *ground)


def folding_grips(design: Design, pose: Pose, site_number: int) -> tuple[Grip, ...]:
    """Return the grips of the ramp on its way: those of the ramp, and stowed the angle that it is stowed
    at.
    """
    posed = Posed(design=design, pose=pose, drop_mm=0.0, site_number=site_number)
    return (*ramp_grips(posed), *(_stowed(posed) if pose == closed_pose(design) else ()))


def ramp_grips(posed: Posed) -> tuple[Grip, ...]:
    """Return the grips of what moves: hinges, leaves, stop bars and toe."""
    design, where = posed.design, posed.bars.placings(posed.pose)
    inner, outer = where["inner"], where["outer"]
    return (
        *_lengths(design, inner, outer),
        *_hinges(posed, inner),
        *_stop(design, inner, outer),
        *_rail(design, "inner_leaf", inner, 0.5),
        *_rail(design, "outer_leaf", outer, 0.25),
        *_slats(design, design.inner_leaf, "inner_leaf", inner),
        *_slats(design, design.outer_leaf, "outer_leaf", outer),
        *_toe(posed, outer),
    )


def _one(design: Design, path: str, at: Point, toward: Point, rank: int) -> Grip:
    return Grip(key=path, at=at, ways=(slide(design, path, toward),), rank=rank)


def _along(where: Placing, u: float, w: float) -> Point:
    """Return a vector (u, w) of a body as it lies."""
    (x0, z0), (x1, z1) = where.point(0.0, 0.0), where.point(u, w)
    return x1 - x0, z1 - z0


def _deck(posed: Posed) -> Iterator[Grip]:
    """Yield the deck's height, on its floor a little back from the edge."""
    edge = posed.bars.edge
    at = (-0.6 * surroundings.shown_mm(posed.design), edge[1])
    yield _one(posed.design, "carrier.deck_height_mm", at, (0.0, 1.0), 1)


def _lengths(design: Design, inner: Placing, outer: Placing) -> Iterator[Grip]:
    """Yield both leaves' lengths, on the running surface over the joint and at the toe end."""
    for path, where, leaf in (
        ("inner_leaf.length_mm", inner, design.inner_leaf),
        ("outer_leaf.length_mm", outer, design.outer_leaf),
    ):
        at = where.point(leaf.length_mm, leaf.slat_thickness_mm)
        yield _one(design, path, at, _along(where, 1.0, 0.0), 0)


def _hinges(posed: Posed, inner: Placing) -> Iterator[Grip]:
    """Yield both hinge centres, and how high the deck hinge's is on the leaf: there the rails' top is
    pulled.
    """
    design, bars = posed.design, posed.bars
    ways = (
        slide(design, "deck_hinge.out_mm", (1.0, 0.0)),
        slide(design, "deck_hinge.below_mm", (0.0, -1.0)),
    )
    yield Grip(key="deck_hinge", at=bars.hinge, ways=ways, rank=2)
    joint = bars.joint(posed.pose.inner_rad)
    yield _one(design, "joint.height_mm", joint, _along(inner, 0.0, 1.0), 2)
    top = inner.point(0.0, 0.0)
    yield _one(design, "deck_hinge.height_mm", top, _along(inner, 0.0, -1.0), 6)


def _stop(design: Design, inner: Placing, outer: Placing) -> Iterator[Grip]:
    """Yield how far a lapping bar reaches, or how high butting faces bear."""
    stop, length = design.stop, design.inner_leaf.length_mm
    if stop.kind == "butt":
        at = inner.point(length, design.joint.height_mm + stop.arm_mm)
        yield _one(design, "stop.arm_mm", at, _along(inner, 0.0, 1.0), 4)
    if stop.kind != "lap":
        return
    low = stop.gap_mm
    if design.fold.closing == "faces":
        leaf = design.inner_leaf if stop.fixed_to == "inner" else design.outer_leaf
        low = -leaf.rail_section.depth_mm - stop.gap_mm - stop.section.depth_mm
    middle = low + stop.section.depth_mm / 2
    if stop.fixed_to == "inner":
        at, toward = inner.point(length + stop.lap_mm, middle), _along(inner, 1.0, 0.0)
    else:
        at, toward = outer.point(-stop.lap_mm, middle), _along(outer, -1.0, 0.0)
    yield _one(design, "stop.lap_mm", at, toward, 4)


def _rail(design: Design, group: str, where: Placing, share: float) -> Iterator[Grip]:
    """Yield the rails' depth, at their underside at a share of the leaf's length, clear of a toe: what is
    sold of their kind.
    """
    leaf: Leaf = value_at(design, group)
    section = leaf.rail_section
    sizes = sorted({one.depth_mm for one in sold_sections(design, section.kind)})
    way = Slide(
        path=f"{group}.rail_section",
        value=section.depth_mm,
        toward=_along(where, 0.0, -1.0),
        low=2 * section.wall_mm + 1.0,
        high=_THICKEST_MM,
        sizes=tuple(sizes),
    )
    at = where.point(share * leaf.length_mm, -section.depth_mm)
    yield Grip(key=way.path, at=at, ways=(way,), rank=3)


def _slats(design: Design, leaf: Leaf, group: str, where: Placing) -> Iterator[Grip]:
    """Yield where the first slat lies, the pitch, at the second one, how wide slats are, at the first one's
    far edge, and how thick, on the running surface between rails and toe.
    """
    starts, along = slat_starts_mm(leaf), _along(where, 1.0, 0.0)
    wide, thick = f"{group}.slat_width_mm", f"{group}.slat_thickness_mm"
    far = where.point(leaf.slat_first_mm + leaf.slat_width_mm, leaf.slat_thickness_mm)
    yield _one(design, wide, far, along, 5)
    above = where.point(_THICKNESS_AT * leaf.length_mm, leaf.slat_thickness_mm)
    yield _one(design, thick, above, _along(where, 0.0, 1.0), 4)
    for name, at, rank in zip(("slat_first_mm", "slat_pitch_mm"), starts[:2], (5, 4), strict=False):
        yield _one(design, f"{group}.{name}", where.point(at, leaf.slat_thickness_mm), along, rank)


def _toe(posed: Posed, outer: Placing) -> Iterator[Grip]:
    """Yield the toe's length: where a taper begins, or the free edge of a flap."""
    design, leaf = posed.design, posed.design.outer_leaf
    path = "toe.length_mm"
    if design.toe.kind == "taper":
        at = outer.point(leaf.length_mm - design.toe.length_mm, -leaf.rail_section.depth_mm)
        yield _one(design, path, at, _along(outer, -1.0, 0.0), 3)
    if design.toe.kind == "flap" and posed.flap_rad is not None:
        # The flap's upper edge runs from its hinge, the last corner of its outline, to its free edge.
        (u1, w1, _), (u0, w0, _) = flap_outline(design, posed.flap_rad).vertices[2:]
        length = design.toe.length_mm
        toward = _along(outer, (u1 - u0) / length, (w1 - w0) / length)
        yield _one(design, path, outer.point(u1, w1), toward, 3)


def _props(posed: Posed, site: SitePose) -> Iterator[Grip]:
    """Yield how short and how long a prop can be set, from the joint's underside down, each on one side of
    the leg.
    """
    prop, room = posed.design.prop, site.joint_room_mm
    if not prop.fitted or room <= 0:
        return
    x, half = site.joint[0], prop.section.depth_mm / 2
    under = ground_line(posed.design.sites[posed.site_number - 1]).height_mm(x) + room
    for name, beside in (("shortest_mm", -half), ("longest_mm", half)):
        at = (x + beside, under - getattr(prop, name))
        yield _one(posed.design, f"prop.{name}", at, (0.0, -1.0), 4)


def _stowed(posed: Posed) -> Iterator[Grip]:
    """Yield the angle that the ramp is stowed at, on the inner leaf's side, well out from the deck hinge."""
    design, bars = posed.design, posed.bars
    info = info_of("fold.stowed_deg")
    assert info is not None
    record = cast("Dim", info.record)
    inner = bars.placings(posed.pose)["inner"]
    at = inner.point(0.75 * design.inner_leaf.length_mm, -design.inner_leaf.rail_section.depth_mm)
    way = Turn(
        path="fold.stowed_deg",
        value=design.fold.stowed_deg,
        centre=bars.hinge,
        low=record.low,
        high=record.high,
    )
    yield Grip(key=way.path, at=at, ways=(way,), rank=0)
