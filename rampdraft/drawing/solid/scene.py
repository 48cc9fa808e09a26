"""The ramp as a solid with the carrier's deck, the ground and whatever stands about it, in any pose."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np

from rampdraft.drawing import surroundings
from rampdraft.drawing.ink import Ink, Pen, Picture
from rampdraft.drawing.side import fill_of, prop_outlines, side_box
from rampdraft.drawing.solid.blocks import Block, blocks_of
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.order import Laid, laid, layers, stacked
from rampdraft.drawing.solid.paint import Painter
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.bridge import bridge_placing
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.lanes import joined_mm
from rampdraft.geometry.linkage import Placing, Pose, edge_height_mm, linkage
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.members.member import Member
from rampdraft.geometry.outline import Outline, rectangle
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD, Array

_STILL: Final = Placing(0.0, 0.0, 0.0)
_BESIDE: Final = 1.15
"""How wide the ground is shown, in widths of the ramp."""
_THICK: Final = 0.006
"""How thick it is shown below its lowest place, as a share of what is shown along."""
_CLEAR_MM: Final = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """How the ramp stands, and where."""

    pose: Pose
    drop_mm: MM = 0.0
    site_number: int = 1
    flap_rad: RAD | None = None
    """The toe flap's angle to the outer leaf, None where it is carried."""


def solid_view(
    evaluation: Evaluation,
    stand: Stand,
    camera: Camera,
    *,
    beside: tuple[Block, ...] = (),
    room: tuple[Stand, ...] = (),
    edges: Pen = "thin",
) -> Picture:
    """Return the ramp as a solid; `beside` are blocks of whoever is on it, in the frame `still`; the box has
    room for the stands of `room` too.
    """
    scene = laid_scene(evaluation, stand, ground=camera.over_deg >= 0, beside=beside)
    painter = Painter(scene, camera, edges)
    marks: list[Ink] = []
    for layer in layers(scene, camera):
        marks.extend(painter.marks(layer))
    box = seen_box(evaluation, (stand, *room), camera)
    return Picture(marks=tuple(marks), box=box, title="The ramp as a solid")


def laid_scene(evaluation: Evaluation, stand: Stand, *, ground: bool, beside: tuple[Block, ...] = ()) -> Laid:
    """Return all blocks where they lie; the ground is left out where one looks up from below it."""
    design = evaluation.design
    edge = edge_height_mm(design, stand.drop_mm)
    blocks = [
        *_ramp(evaluation, stand.flap_rad),
        *_carrier(design, edge),
        *_props(evaluation, stand),
        *beside,
    ]
    if ground:
        blocks.extend(_ground(evaluation, stand))
    where: dict[str, Placing] = {**linkage(design, stand.drop_mm).placings(stand.pose), "still": _STILL}
    where["bridge"] = bridge_placing(design, evaluation.assembly, stand.pose, stand.drop_mm)
    return laid(stacked(blocks), where)


def seen_box(evaluation: Evaluation, stands: tuple[Stand, ...], camera: Camera) -> tuple[MM, MM, MM, MM]:
    """Return the part of the picture worth showing: the ramp in each stand, with the deck and the ground."""
    found: list[Array] = []
    half = _BESIDE * half_width_mm(evaluation)
    for stand in stands:
        x0, z0, x1, z1 = _reach(evaluation, stand)
        corners = np.array([(x, y, z) for x in (x0, x1) for y in (-half, half) for z in (z0, z1)])
        found.append(corners @ np.array((camera.right, camera.up)).T)
    places = np.concatenate(found)
    (a, b), (c, d) = places.min(axis=0).tolist(), places.max(axis=0).tolist()
    margin = 0.02 * max(c - a, d - b)
    return a - margin, b - margin, c + margin, d + margin


def half_width_mm(evaluation: Evaluation) -> MM:
    """Return how far anything of ramp or deck reaches across."""
    design = evaluation.design
    ends = (max(-member.y0_mm, member.y1_mm) for member in evaluation.assembly.members)
    return max(design.carrier.opening_width_mm / 2, *ends)


def _reach(evaluation: Evaluation, stand: Stand) -> tuple[MM, MM, MM, MM]:
    return side_box(
        evaluation,
        pose=stand.pose,
        drop_mm=stand.drop_mm,
        site_number=stand.site_number,
        flap_rad=stand.flap_rad,
        frame="pose",
    )


def _ramp(evaluation: Evaluation, flap_rad: RAD | None) -> tuple[Block, ...]:
    found = members_blocks(evaluation.assembly.of("carrier", "inner", "outer"))
    if flap_rad is None:
        return found
    shape = flap_outline(evaluation.design, flap_rad)
    flaps = [member for member in evaluation.assembly.of("outer") if member.role == "toe flap"]
    keys = {flap.key for flap in flaps}
    laid_down = (block for flap in flaps for block in _blocks(flap, shape))
    return *(block for block in found if block.owner not in keys), *laid_down


@lru_cache(maxsize=4)
def members_blocks(members: tuple[Member, ...]) -> tuple[Block, ...]:
    """Return the members as blocks, none of them in another: a pin shows where it stands out of what is about
    it, a cross member let into rails has its notches, and a taper plate lies within its rail.
    """
    found: list[Block] = []
    for member in members:
        if member.role == "pin":
            found.extend(_bare(member, members))
        elif member.role == "cross member":
            found.extend(_notched(member, members))
        elif member.role != "taper plate":
            found.extend(_blocks(member, member.silhouette))
    return tuple(found)


def _blocks(
    member: Member, shape: Outline, y0_mm: MM | None = None, y1_mm: MM | None = None
) -> Iterator[Block]:
    """Yield a member as blocks, or what lies from one place across to another of it."""
    frame = "bridge" if member.role == "bridge plate" else member.body
    y0 = member.y0_mm if y0_mm is None else y0_mm
    y1 = member.y1_mm if y1_mm is None else y1_mm
    return blocks_of(shape, y0, y1, frame=frame, fill=fill_of(member), owner=member.key)


def _notched(cross: Member, members: tuple[Member, ...]) -> Iterator[Block]:
    """Yield a cross member, lower where rails sit in its notches."""
    u0, w0, u1, w1 = cross.silhouette.box
    levels = {up for _, up, _ in cross.piece.profile.outline.vertices if 0 < up < w1 - w0}
    rails = [(rail.y0_mm, rail.y1_mm) for rail in members if rail.role == "rail" and rail.body == cross.body]
    low = cross.y0_mm
    for y0, y1 in (*(joined_mm(tuple(sorted(rails))) if levels else ()), (cross.y1_mm, cross.y1_mm)):
        for left, right, top in ((low, y0, w1), (y0, y1, w0 + min(levels, default=0.0))):
            if right - left > _CLEAR_MM:
                yield from _blocks(cross, rectangle(u0, w0, u1, top), left, right)
        low = y1


def _bare(pin: Member, members: tuple[Member, ...]) -> Iterator[Block]:
    """Yield what of a pin lies between the knuckles and washers that it goes through."""
    about = sorted(
        (one.y0_mm, one.y1_mm)
        for one in members
        if one.role in ("knuckle", "washer") and one.tag.hinge == pin.tag.hinge
    )
    low = pin.y0_mm
    for y0, y1 in (*about, (pin.y1_mm, pin.y1_mm)):
        if y0 - low > _CLEAR_MM:
            high = min(y0, pin.y1_mm)
            if high - low > _CLEAR_MM:
                yield from _blocks(pin, pin.silhouette, low, high)
        low = max(low, y1)


def _carrier(design: Design, edge_mm: MM) -> Iterator[Block]:
    half = design.carrier.opening_width_mm / 2
    obstacles = {f"obstacle {one.name}": one for one in design.obstacles}
    for key, outline in surroundings.outlines(design, edge_mm).items():
        obstacle = obstacles.get(key)
        y0, y1 = (obstacle.left_mm, obstacle.right_mm) if obstacle else (-half, half)
        yield from blocks_of(
            outline, min(y0, y1), max(y0, y1), frame="still", fill="carrier", owner=key if obstacle else ""
        )


def _props(evaluation: Evaluation, stand: Stand) -> Iterator[Block]:
    """Yield the props, which stand on their feet."""
    found = prop_outlines(evaluation, stand.pose, stand.site_number)
    feet = [outline.box[3] for member, outline in found if member.role == "prop foot"]
    for member, outline in found:
        x0, z0, x1, z1 = outline.box
        low = max((z0, *feet)) if member.role == "prop" else z0
        shape = rectangle(x0, low, x1, max(z1, low + _CLEAR_MM))
        yield from blocks_of(shape, member.y0_mm, member.y1_mm, frame="still", fill="inner", owner=member.key)


def _ground(evaluation: Evaluation, stand: Stand) -> Iterator[Block]:
    """Yield the ground below what is shown, as slabs."""
    x0, _, x1, _ = _reach(evaluation, stand)
    half = _BESIDE * half_width_mm(evaluation)
    site = evaluation.design.sites[stand.site_number - 1]
    points = ground_line(site).between(x0, x1)
    floor = min(z for _, z in points) - _THICK * (x1 - x0)
    for (a, low), (b, high) in pairwise(points):
        if b > a:
            corners = ((a, floor, 0.0), (b, floor, 0.0), (b, high, 0.0), (a, low, 0.0))
            yield from blocks_of(Outline(corners), -half, half, frame="still", fill="ground")
