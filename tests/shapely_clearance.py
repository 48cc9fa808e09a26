"""The plain way to the clearance over a fold: a shapely polygon for every body, all placed and measured pose
by pose.

It is the reference for speed, and a second opinion on the figure. It knows no depth of a clash (there it says
0) and proves nothing between two poses.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

import shapely
from shapely.affinity import affine_transform
from shapely.geometry.base import BaseGeometry

from rampdraft.geometry.linkage import Placing, Pose, placings
from rampdraft.geometry.members.brackets import bracket_members
from rampdraft.geometry.members.member import Assembly, Member
from rampdraft.mechanics.folding.bodies import clash_pairs, ground_slabs
from rampdraft.mechanics.results import FoldPath
from rampdraft.model.design import Design

SAGITTA_MM = 0.002


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """One body and where it lies across; `body` says what it moves with."""

    body: str
    family: str
    y0_mm: float
    y1_mm: float
    shape: BaseGeometry


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    things: tuple[Thing, ...]
    met: tuple[tuple[int, int], ...]
    """Pairs of things that share an interval across and are not meant to touch."""


def scene_of(design: Design, assembly: Assembly) -> Scene:
    """Return every body and every pair of them that is judged."""
    members = [
        m
        for m in assembly.members
        if m.body != "loose" and m.role not in ("pin", "washer", "taper plate", "bridge plate")
    ]
    things = (*_surroundings(design), *(_thing(member) for member in members))
    pairs = clash_pairs(design, assembly, design.sites[0])
    judged = {family for family, contact in zip(pairs.families, pairs.contact, strict=True) if not contact}
    met = tuple(
        (i, j)
        for i, a in enumerate(things)
        for j, b in enumerate(things)
        if f"{a.family} - {b.family}" in judged and min(a.y1_mm, b.y1_mm) - max(a.y0_mm, b.y0_mm) > 1e-6
    )
    return Scene(things=things, met=met)


def clearances(design: Design, scene: Scene, path: FoldPath, at: list[float]) -> list[float]:
    """Return the least distance between all pairs at each share of the path, deck empty."""
    return [least(design, scene, path.pose(share)) for share in at]


def least(design: Design, scene: Scene, pose: Pose) -> float:
    """Return the least distance between all pairs in a pose, deck empty."""
    return min(_distances(design, scene, pose))


def telling(design: Design, scene: Scene, path: FoldPath) -> Scene:
    """Return the scene without the pairs that the map leaves out: the same distance in every pose, and no
    less than demanded.
    """
    tried = [_distances(design, scene, path.pose(share)) for share in (0.0, 0.23, 0.61, 1.0)]
    demanded = design.fold.clearance_mm
    # A disc is a polygon here: its distance changes by the sagitta as it turns.
    changes = [
        max(found) - min(found) > 2 * SAGITTA_MM or found[0] < demanded for found in zip(*tried, strict=True)
    ]
    return replace(scene, met=tuple(pair for pair, tells in zip(scene.met, changes, strict=True) if tells))


def _distances(design: Design, scene: Scene, pose: Pose) -> list[float]:
    where = {"world": Placing(0.0, 0.0, 0.0), **placings(design, pose)}
    placed = [_moved(thing.shape, where[thing.body]) for thing in scene.things]
    return [placed[i].distance(placed[j]) for i, j in scene.met]


def _moved(shape: BaseGeometry, placing: Placing) -> BaseGeometry:
    cos, sin = math.cos(placing.angle_rad), math.sin(placing.angle_rad)
    return affine_transform(shape, [cos, -sin, sin, cos, placing.x_mm, placing.z_mm])


def _thing(member: Member) -> Thing:
    family = member.key.rstrip("0123456789 ") if member.role == "knuckle" else f"{member.body} {member.role}"
    if member.body == "carrier" and member.role != "knuckle":
        family = member.role
    shape = shapely.Polygon(member.silhouette.points(SAGITTA_MM))
    return Thing(body=member.body, family=family, y0_mm=member.y0_mm, y1_mm=member.y1_mm, shape=shape)


def _surroundings(design: Design) -> tuple[Thing, ...]:
    carrier = design.carrier
    deck = shapely.box(-carrier.deck_length_mm, -carrier.deck_thickness_mm, 0, 0)
    end = shapely.box(
        -carrier.deck_length_mm, -carrier.end_depth_mm, -carrier.end_setback_mm, -carrier.deck_thickness_mm
    )
    ground = shapely.union_all([shapely.Polygon(slab) for slab in ground_slabs(design.sites[0])])
    bodies = (("carrier", "deck", deck), ("carrier", "carrier end", end), ("world", "ground", ground))
    obstacles = tuple(
        Thing(
            body="carrier",
            family=f"obstacle {obstacle.name}",
            y0_mm=obstacle.left_mm,
            y1_mm=obstacle.right_mm,
            shape=(shapely.Polygon if len(obstacle.outline_mm) > 2 else shapely.LineString)(
                obstacle.outline_mm
            ),
        )
        for obstacle in design.obstacles
    )
    return (
        *(Thing(body=body, family=name, y0_mm=-1e5, y1_mm=1e5, shape=shape) for body, name, shape in bodies),
        *obstacles,
        *_brackets(design),
    )


HEADS_MM = {"M5": 4.5, "M6": 5.6, "M8": 6.9, "M10": 8.4, "M12": 10.0, "M16": 13.0}
WASHERS_MM = {"M5": 10.0, "M6": 12.0, "M8": 16.0, "M10": 20.0, "M12": 24.0, "M16": 30.0}
"""How far a head stands out with its washer, and across the washer: ISO 4017, ISO 7089 (from memory)."""


def _brackets(design: Design) -> Iterator[Thing]:
    """Yield the brackets as they are made, a bolt's head before each hole of a plate."""
    head, half = HEADS_MM[design.joining.bolt_size], WASHERS_MM[design.joining.bolt_size] / 2
    for one in bracket_members(design):
        shape = shapely.Polygon(one.silhouette.points(SAGITTA_MM))
        kin = f"carrier {one.role}"
        yield Thing(body="carrier", family=kin, y0_mm=one.y0_mm, y1_mm=one.y1_mm, shape=shape)
        for hole in one.piece.profile.holes:
            _, low, face, _ = shape.bounds
            y, z = one.y0_mm + hole.x_mm, low + hole.y_mm
            yield Thing(
                body="carrier",
                family="carrier bracket bolt",
                y0_mm=y - half,
                y1_mm=y + half,
                shape=shapely.box(face, z - half, face + head, z + half),
            )
