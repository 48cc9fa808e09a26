"""The ramp as a solid with the carrier's deck, the ground and whatever stands about it, in any pose."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import Final

import numpy as np

from rampdraft.drawing import surroundings
from rampdraft.drawing.ink import Ink, Pen, Picture
from rampdraft.drawing.side import fill_of, prop_outlines, side_box
from rampdraft.drawing.solid.blocks import Block, blocks_of
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.order import Laid, Stack, laid, layers, stacked
from rampdraft.drawing.solid.paint import Painter
from rampdraft.drawing.solid.riders import FRAME, Rider
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.bridge import bearers
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.lanes import joined_mm
from rampdraft.geometry.linkage import Placing, Pose, edge_height_mm, linkage
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.members.member import Body, Member
from rampdraft.geometry.outline import Outline, rectangle
from rampdraft.model.design import Design
from rampdraft.units import MM, RAD, Array
from rampdraft.words.say import say

_STILL: Final = Placing(0.0, 0.0, 0.0)
_BESIDE: Final = 1.15
"""How wide the ground is shown, in widths of the ramp."""
_THICK: Final = 0.006
"""How thick it is shown below its lowest place, as a share of what is shown along."""
_CLEAR_MM: Final = 1e-6
_KEPT: Final = 12
"""So many sets of blocks are kept, as of several sites."""
Box = tuple[MM, MM, MM, MM]
"""(x0, y0, x1, y1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stand:
    """How the ramp stands, and where."""

    pose: Pose
    drop_mm: MM = 0.0
    site_number: int = 1
    flap_rad: RAD | None = None
    """The toe flap's angle to the outer leaf, None where it is carried."""


class Solid:
    """A ramp as a solid, to be shown in many poses and from many sides: what stays the same is kept."""

    def __init__(self, evaluation: Evaluation) -> None:
        self._evaluation = evaluation
        self._half_mm = _BESIDE * half_width_mm(evaluation)
        self._members = members_blocks(evaluation.assembly.of("carrier", "inner", "outer"))
        self._boxes = stacked([_box_of(evaluation, "inner"), _box_of(evaluation, "outer")])
        self._bearers = bearers(evaluation.design, evaluation.assembly)
        self._stacks: dict[object, tuple[object, Stack]] = {}
        self._reaches: dict[Stand, Box] = {}

    def picture(
        self,
        stand: Stand,
        camera: Camera,
        *,
        on_it: Rider | None = None,
        room: tuple[Stand, ...] = (),
        box: Box | None = None,
        edges: Pen = "edge",
    ) -> Picture:
        """Return the ramp as it stands; `on_it` is whoever rolls over it, `room` are the stands that ground
        and box have room for, `box` is what is worth showing where that is known.
        """
        scene = self.laid(stand, ground=camera.over_deg >= 0, on_it=on_it, room=room)
        painter = Painter(scene, camera, edges)
        marks: list[Ink] = []
        for layer in layers(scene, camera):
            marks.extend(painter.marks(layer))
        box = box or _with(self.box(room or (stand,), camera), on_it, camera)
        return Picture(marks=tuple(marks), box=box, title=say("The ramp as a solid"))

    def outline(self, stand: Stand, camera: Camera, *, room: tuple[Stand, ...] = ()) -> Picture:
        """Return each leaf as the box that holds it: the ghost of a ramp."""
        design = self._evaluation.design
        scene = laid(self._boxes, linkage(design, stand.drop_mm).placings(stand.pose))
        painter = Painter(scene, camera)
        marks = [mark for layer in layers(scene, camera) for mark in painter.marks(layer)]
        return Picture(marks=tuple(marks), box=self.box(room or (stand,), camera))

    def laid(
        self, stand: Stand, *, ground: bool, on_it: Rider | None = None, room: tuple[Stand, ...] = ()
    ) -> Laid:
        """Return all blocks where they lie; the ground is left out where one looks up from below it."""
        evaluation = self._evaluation
        bodies = linkage(evaluation.design, stand.drop_mm).placings(stand.pose)
        where: dict[str, Placing] = {str(body): place for body, place in bodies.items()}
        where["still"] = _STILL
        edge = (0.0, edge_height_mm(evaluation.design, stand.drop_mm))
        bears = self._bearers
        where["bridge"] = bears.lie(stand.pose.inner_rad).placing(edge) if bears else Placing(0.0, *edge)
        if on_it is not None:
            where[FRAME] = on_it.placing
        return laid(self._stack(stand, ground, on_it.blocks if on_it is not None else (), room), where)

    def _stack(self, stand: Stand, ground: bool, riding: tuple[Block, ...], room: tuple[Stand, ...]) -> Stack:
        """Return the blocks, of which only the frames move from pose to pose."""
        props = prop_outlines(self._evaluation, stand.pose, stand.site_number)
        stands = room or (stand,)
        about = (
            stand.site_number, stand.drop_mm, stand.flap_rad, ground, stands, id(riding),
            tuple(shape for _, shape in props),
        )  # fmt: skip
        kept = self._stacks.get(about)
        if kept is None:
            design = self._evaluation.design
            blocks = [*self._ramp(stand.flap_rad), *riding, *_props(props)]
            blocks.extend(_carrier(design, edge_height_mm(design, stand.drop_mm)))
            if ground:
                blocks.extend(self._ground(stand.site_number, stands))
            if len(self._stacks) >= _KEPT:
                self._stacks.clear()
            kept = self._stacks[about] = riding, stacked(blocks)
        return kept[1]

    def box(self, stands: tuple[Stand, ...], camera: Camera, above_mm: MM = 0.0) -> Box:
        """Return the part of the picture worth showing: the ramp in each stand, with the deck, the ground and
        so much room above.
        """
        found: list[Array] = []
        half = self._half_mm
        for stand in stands:
            x0, z0, x1, z1 = self._reach(stand)
            ends = [(x, y, z) for x in (x0, x1) for y in (-half, half) for z in (z0, z1 + above_mm)]
            found.append(np.array(ends) @ np.array((camera.right, camera.up)).T)
        places = np.concatenate(found)
        (a, b), (c, d) = places.min(axis=0).tolist(), places.max(axis=0).tolist()
        margin = 0.02 * max(c - a, d - b)
        return a - margin, b - margin, c + margin, d + margin

    def _reach(self, stand: Stand) -> Box:
        """Return the part of the side plane that is shown, down to the underside of the ground."""
        kept = self._reaches.get(stand)
        if kept is None:
            if len(self._reaches) >= _KEPT:
                self._reaches.clear()
            kept = self._reaches[stand] = _reach(self._evaluation, stand)
        return kept

    def _ramp(self, flap_rad: RAD | None) -> tuple[Block, ...]:
        flaps = [one for one in self._evaluation.assembly.of("outer") if one.role == "toe flap"]
        if flap_rad is None or not flaps:
            return self._members
        shape, keys = flap_outline(self._evaluation.design, flap_rad), {flap.key for flap in flaps}
        laid_down = (block for flap in flaps for block in _blocks(flap, shape))
        return *(block for block in self._members if block.owner not in keys), *laid_down

    def _ground(self, site_number: int, stands: tuple[Stand, ...]) -> Iterator[Block]:
        """Yield the ground below what is shown, as slabs."""
        reaches = [self._reach(stand) for stand in stands]
        x0, x1 = min(reach[0] for reach in reaches), max(reach[2] for reach in reaches)
        floor = min(reach[1] for reach in reaches)
        points = ground_line(self._evaluation.design.sites[site_number - 1]).between(x0, x1)
        for (a, low), (b, high) in pairwise(points):
            if b > a:
                slab = Outline(((a, floor, 0.0), (b, floor, 0.0), (b, high, 0.0), (a, low, 0.0)))
                yield from blocks_of(slab, -self._half_mm, self._half_mm, frame="still", fill="ground")


def solid_view(evaluation: Evaluation, stand: Stand, camera: Camera) -> Picture:
    """Return the ramp as a solid, once."""
    return Solid(evaluation).picture(stand, camera)


def _with(box: Box, on_it: Rider | None, camera: Camera) -> Box:
    """Return a box with room for whoever rolls, where that is."""
    if on_it is None:
        return box
    found: list[tuple[MM, MM]] = [(box[0], box[1]), (box[2], box[3])]
    (rx, ry, rz), (ux, uy, uz) = camera.right, camera.up
    for block in on_it.blocks:
        for point in block.shape.points:
            x, z = on_it.placing.point(*point)
            for y in (block.y0_mm, block.y1_mm):
                found.append((rx * x + ry * y + rz * z, ux * x + uy * y + uz * z))
    xs, ys = zip(*found, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def half_width_mm(evaluation: Evaluation) -> MM:
    """Return how far anything of ramp or deck reaches across."""
    design = evaluation.design
    ends = (max(-member.y0_mm, member.y1_mm) for member in evaluation.assembly.members)
    return max(design.carrier.opening_width_mm / 2, *ends)


def _reach(evaluation: Evaluation, stand: Stand) -> Box:
    """Return the part of the side plane that is shown, down to the underside of the ground."""
    x0, _, x1, z1 = side_box(
        evaluation,
        pose=stand.pose,
        drop_mm=stand.drop_mm,
        site_number=stand.site_number,
        flap_rad=stand.flap_rad,
        frame="pose",
    )
    ground = ground_line(evaluation.design.sites[stand.site_number - 1]).between(x0, x1)
    return x0, min(z for _, z in ground) - _THICK * (x1 - x0), x1, z1


def _box_of(evaluation: Evaluation, leaf: Body) -> Block:
    """Return the box of rails, slats and upstands of a leaf, as a block."""
    members = [one for one in evaluation.assembly.of(leaf) if one.role in ("rail", "slat", "edge upstand")]
    boxes = [one.silhouette.box for one in members]
    shape = rectangle(
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )
    y0, y1 = min(one.y0_mm for one in members), max(one.y1_mm for one in members)
    (block,) = blocks_of(shape, y0, y1, frame=leaf, fill="none")
    return block


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


def _props(found: tuple[tuple[Member, Outline], ...]) -> Iterator[Block]:
    """Yield the props, which stand on their feet."""
    feet = [outline.box[3] for member, outline in found if member.role == "prop foot"]
    for member, outline in found:
        x0, z0, x1, z1 = outline.box
        low = max((z0, *feet)) if member.role == "prop" else z0
        if z1 - low > _CLEAR_MM:
            shape = rectangle(x0, low, x1, z1)
            yield from blocks_of(
                shape, member.y0_mm, member.y1_mm, frame="still", fill="inner", owner=member.key
            )
