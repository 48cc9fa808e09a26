"""Standing on the ground: the deployed pose at a site, by the first contact of the straightened ramp coming
down.

A corner at radius r from the deck hinge meets the line n.p = c where r cos(theta + beta - nu) = c - n.h; a
point of the ground meets a side m.v = k of the ramp where rho cos(gamma - theta - mu) = k, and a disc of
radius g about a centre at r where rho^2 + r^2 - 2 rho r cos(theta + beta - gamma) = g^2 (cosine rule). Along
the line, or the side, it does so (r^2 - (c - n.h)^2)^0.5, or (rho^2 - k^2)^0.5, beyond the foot of the
pivot's perpendicular (Pythagoras). All are closed forms; the highest angle at which any of them holds within
its segment is the pose. On level ground and one corner this is sin(alpha) = (height of hinge centre - offset)
/ distance.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.bridge import Bearers, BridgeLie, bearers
from rampdraft.geometry.ground_line import GroundLine, ground_line
from rampdraft.geometry.linkage import Placing, Pose, linkage
from rampdraft.geometry.members.member import Assembly, Body
from rampdraft.geometry.outline import Outline, Point, rectangle
from rampdraft.geometry.running_surface import toe_steps_mm
from rampdraft.mechanics.joint import deployed_fold_rad
from rampdraft.mechanics.loading.loads import Grades
from rampdraft.mechanics.results import LeafGradient, SitePose
from rampdraft.model.design import Design, Site
from rampdraft.rounding import greatest
from rampdraft.units import MM, RAD, Array, ArrayRecord

HIGHEST_RAD = math.radians(85.0)
"""The ramp is let down from here."""

LOWEST_RAD = math.radians(-85.0)

TIP_ROCKS_MM = 2.0
"""So high above the ground the tip still counts as standing on it: no ground is more even. Common
practice.
"""

_STANDING_ROLES = ("rail", "cross member", "knuckle", "slat", "stop bar")


_Stance = tuple[Point, GroundLine]
"""The pivot that a shape turns down about, and the ground below it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Touch:
    angle_rad: RAD
    point: Point
    owner: int
    """Index of the outline that touches."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class _Shape(ArrayRecord):
    """A rigid shape about its pivot at angle 0: its corners, grown by a radius, and its straight sides."""

    reach_mm: Array
    angle_rad: Array
    """Of each corner from the pivot."""
    radius_mm: Array
    corner_owner: NDArray[np.intp]
    side_foot_mm: Array
    side_length_mm: Array
    """Where along each side, from its start, the foot of the pivot's perpendicular lies; and its length."""
    side_level_mm: Array
    side_normal_rad: Array
    """Distance of each side's line from the pivot, and the angle of its outward normal."""
    side_owner: NDArray[np.intp]


@dataclass(frozen=True, slots=True, kw_only=True)
class Straightened:
    """What stands: the ramp turned until its stop touches, as a rigid shape about the deck hinge.

    It is the same at every site and with any drop of the deck.
    """

    fold_rad: RAD
    keys: tuple[str, ...]
    bodies: tuple[Body, ...]
    """Of the members that may touch."""
    shape: _Shape
    bearers: Bearers | None
    """What the bridge plate may lie on; None without one."""


def straightened(design: Design, assembly: Assembly) -> Straightened:
    """Return the ramp as it is let down, the joint at its stop."""
    fold = deployed_fold_rad(design)
    places = replace(linkage(design), hinge=(0.0, 0.0)).placings(Pose(0.0, fold))
    standing = [member for member in assembly.of("inner", "outer") if member.role in _STANDING_ROLES]
    # Twins across, such as left and right rails, touch together: the first one speaks for them.
    members = list({(member.body, member.silhouette): member for member in reversed(standing)}.values())[::-1]
    return Straightened(
        fold_rad=fold,
        keys=tuple(member.key for member in members),
        bodies=tuple(member.body for member in members),
        shape=_shape([(member.silhouette, places[member.body]) for member in members]),
        bearers=bearers(design, assembly),
    )


def stand_empty(design: Design, ramp: Straightened) -> tuple[SitePose, ...]:
    """Return the ramp put down at each site of the design with the deck empty."""
    return _at_each_site(design, ramp, None)


def stand_loaded(design: Design, ramp: Straightened, drop_mm: MM) -> tuple[SitePose, ...]:
    """Return the ramp put down at each site of the design with the deck sunk by `drop_mm` under its load."""
    return _at_each_site(design, ramp, drop_mm)


def stand_starting(design: Design, ramp: Straightened, drop_mm: MM) -> tuple[SitePose, ...]:
    """Return the ramp put down at each site of the design with its cargo aboard, by which the deck has sunk
    by `drop_mm`, and somebody starting up.
    """
    return tuple(replace(pose, state="starting") for pose in _at_each_site(design, ramp, drop_mm))


def stand_sinking(
    design: Design, ramp: Straightened, site_number: int, drop_mm: MM, nod_rad: RAD
) -> SitePose:
    """Return the ramp put down at a site of the design, counted from 1, with the deck edge sunk so far under
    somebody who rolls, and the deck sloping so much towards it.
    """
    pose = stand_at(design, ramp, design.sites[site_number - 1], site_number, drop_mm)
    return replace(pose, state="sinking", nod_rad=nod_rad)


def _at_each_site(design: Design, ramp: Straightened, drop_mm: MM | None) -> tuple[SitePose, ...]:
    hinge = linkage(design, drop_mm or 0.0).hinge
    touches = _first_touches(ramp.shape, [(hinge, ground_line(site)) for site in design.sites])
    numbered = enumerate(zip(touches, design.sites, strict=True), start=1)
    return tuple(_put_down(design, ramp, touch, site, number, drop_mm) for number, (touch, site) in numbered)


def stand_everywhere(design: Design, assembly: Assembly, drop_mm: MM) -> tuple[SitePose, ...]:
    """Return the ramp put down at each site with the deck empty, then loaded and sunk by `drop_mm`."""
    ramp = straightened(design, assembly)
    pairs = zip(stand_empty(design, ramp), stand_loaded(design, ramp, drop_mm), strict=True)
    return tuple(pose for pair in pairs for pose in pair)


def stand(
    design: Design, assembly: Assembly, site: Site, site_number: int, drop_mm: MM | None = None
) -> SitePose:
    """Return the ramp put down at one site with the deck empty (None), or loaded and sunk by `drop_mm`."""
    return stand_at(design, straightened(design, assembly), site, site_number, drop_mm)


def stand_at(
    design: Design, ramp: Straightened, site: Site, site_number: int, drop_mm: MM | None
) -> SitePose:
    """Return the straightened ramp put down at a site, numbered 0 where it is none of the design's."""
    stance = linkage(design, drop_mm or 0.0).hinge, ground_line(site)
    return _put_down(design, ramp, _first_touches(ramp.shape, [stance])[0], site, site_number, drop_mm)


def leaned(design: Design, ramp: Straightened, stood: SitePose, pose: Pose) -> SitePose:
    """Return the ramp as it stood at a site of the design with its leaves turned to other angles, the toe
    where it was: flap and bridge plate lie as they do then.
    """
    found = _lying(design, ramp, design.sites[stood.site_number - 1], stood.site_number, stood.drop_mm, pose)
    return replace(
        found,
        state=stood.state,
        nod_rad=stood.nod_rad,
        reaches=stood.reaches,
        contact=stood.contact,
        touches_with=stood.touches_with,
        grounds_at_toe=stood.grounds_at_toe,
        short_of_tip=stood.short_of_tip,
    )


def _put_down(
    design: Design, ramp: Straightened, touch: _Touch | None, site: Site, site_number: int, drop_mm: MM | None
) -> SitePose:
    pose = Pose(touch.angle_rad if touch else 0.0, ramp.fold_rad)
    found = _lying(design, ramp, site, site_number, drop_mm or 0.0, pose)
    found = replace(found, state="empty" if drop_mm is None else "loaded")
    if touch is None:
        return replace(found, reaches=False)
    outer = linkage(design, found.drop_mm).placings(pose)["outer"]
    at_toe = ramp.bodies[touch.owner] == "outer" and _at_toe(design, outer, touch.point)
    return replace(
        found,
        contact=touch.point,
        touches_with=ramp.keys[touch.owner],
        grounds_at_toe=at_toe and found.tip_above_mm <= TIP_ROCKS_MM,
        short_of_tip=at_toe and found.tip_above_mm > TIP_ROCKS_MM,
    )


def _lying(
    design: Design, ramp: Straightened, site: Site, site_number: int, drop: MM, pose: Pose
) -> SitePose:
    """Return the ramp in a pose over a site's ground, as if it touched it with nothing: with the deck sunk so
    far, under its load.
    """
    bars, ground = linkage(design, drop), ground_line(site)
    placed, angle = bars.placings(pose), pose.inner_rad
    length_a, length_b = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    flap_rad, flap = _flap(design, placed["outer"], ground)
    lie = ramp.bearers.lie(angle) if ramp.bearers else None
    inner, outer = _gradient(angle, length_a), _gradient(angle + pose.fold_rad, length_b)
    steps = toe_steps_mm(design, ground, placed["outer"], flap_rad)
    tip = placed["outer"].point(length_b, -_end_depth_mm(design))
    underside = placed["inner"].point(length_a, -design.inner_leaf.rail_section.depth_mm)
    return SitePose(
        site=site.name,
        site_number=site_number,
        state="loaded",
        drop_mm=drop,
        nod_rad=0.0,
        reaches=True,
        pose=pose,
        contact=placed["outer"].point(length_b, 0),
        touches_with="",
        grounds_at_toe=False,
        short_of_tip=False,
        inner=inner,
        outer=outer,
        flap=flap,
        bridge=_bridge(lie),
        whole=LeafGradient(rise_mm=inner.rise_mm + outer.rise_mm, going_mm=inner.going_mm + outer.going_mm),
        joint=bars.joint(angle),
        joint_room_mm=underside[1] - ground.height_mm(underside[0]),
        toe_step_mm=greatest(steps, abs),
        tip_above_mm=tip[1] - ground.height_mm(tip[0]),
        flap_rad=flap_rad,
        bridge_lie=lie,
    )


def _bridge(lie: BridgeLie | None) -> LeafGradient | None:
    return None if lie is None or lie.hangs else _gradient(lie.angle_rad, lie.length_mm)


def _gradient(angle: RAD, length: MM) -> LeafGradient:
    return LeafGradient(rise_mm=-length * math.sin(angle), going_mm=length * math.cos(angle))


def _shape(outlines: Sequence[tuple[Outline, Placing]]) -> _Shape:
    count = np.array([len(outline.vertices) for outline, _ in outlines])
    owner = np.repeat(np.arange(len(count)), count)
    following = np.arange(1, len(owner) + 1)
    following[np.cumsum(count) - 1] -= count
    u, w, bulge = np.array([vertex for outline, _ in outlines for vertex in outline.vertices]).T
    angle, x, z = np.array([(at.angle_rad, at.x_mm, at.z_mm) for _, at in outlines]).T[:, owner]
    x, z = x + np.cos(angle) * u - np.sin(angle) * w, z + np.sin(angle) * u + np.cos(angle) * w
    disc = count[owner] == 2  # counts as its centre, grown: half way from the first corner to the other
    to_x, to_z = x[following] - x, z[following] - z
    corner = ~disc | (np.arange(len(owner)) < following)
    corner_x, corner_z = (x + disc * to_x / 2)[corner], (z + disc * to_z / 2)[corner]
    length = np.hypot(to_x, to_z)
    side = ~disc & (bulge == 0)
    along_x, along_z, from_x, from_z = to_x[side] / length[side], to_z[side] / length[side], x[side], z[side]
    return _Shape(
        reach_mm=np.hypot(corner_x, corner_z),
        angle_rad=np.arctan2(corner_z, corner_x),
        radius_mm=(disc * length / 2)[corner],
        corner_owner=owner[corner],
        side_foot_mm=-(along_x * from_x + along_z * from_z),
        side_length_mm=length[side],
        side_level_mm=along_z * from_x - along_x * from_z,
        side_normal_rad=np.arctan2(-along_x, along_z),
        side_owner=owner[side],
    )


def _first_touches(shape: _Shape, stances: Sequence[_Stance]) -> list[_Touch | None]:
    """Return the first contact in each stance as the shape turns down about the pivot from HIGHEST_RAD; None
    for none.
    """
    found: list[list[_Touch]] = [[] for _ in stances]
    for touches in (_corner_touches, _side_touches, _disc_touches):
        for stance, touch in touches(shape, stances):
            found[stance].append(touch)
    return [max(touches, key=lambda touch: touch.angle_rad, default=None) for touches in found]


def _corner_touches(shape: _Shape, stances: Sequence[_Stance]) -> Iterator[tuple[int, _Touch]]:
    """Yield, for each stretch of the ground, the first corner that comes down on it."""
    rows = [
        (stance, *pivot, x0, z0, (x1 - x0) / length, (z1 - z0) / length, length)
        for stance, (pivot, ground) in enumerate(stances)
        for (x0, z0), (x1, z1) in pairwise(ground.points)
        if (length := math.hypot(x1 - x0, z1 - z0))
    ]
    pivot_x, pivot_z, x0, z0, along_x, along_z, length = np.array(rows).T[1:, :, None]
    reach, to_x, to_z = shape.reach_mm, x0 - pivot_x, z0 - pivot_z
    normal = np.array([[math.atan2(row[5], -row[6])] for row in rows])
    level = -along_z * to_x + along_x * to_z + shape.radius_mm
    with np.errstate(invalid="ignore", divide="ignore"):
        angle = _wrapped(normal - shape.angle_rad - np.arccos(level / reach))
        share = np.sqrt(reach**2 - level**2) - (along_x * to_x + along_z * to_z)
    for row, k, first in _firsts(angle, (share >= -1e-9) & (share <= length + 1e-9)):
        (stance, _, _, x, z, dx, dz, _), at = rows[row], float(share[row, k])
        yield (
            stance,
            _Touch(angle_rad=first, point=(x + dx * at, z + dz * at), owner=int(shape.corner_owner[k])),
        )


def _side_touches(shape: _Shape, stances: Sequence[_Stance]) -> Iterator[tuple[int, _Touch]]:
    """Yield, for each corner of the ground, the first side that comes down on it."""
    rows = [row for row in _ground_corners(stances) if row[2]]
    reach, gamma = np.array([row[2:] for row in rows]).reshape(-1, 2).T[..., None]
    with np.errstate(invalid="ignore"):
        angle = _wrapped(gamma - shape.side_normal_rad - np.arccos(shape.side_level_mm / reach))
        share = np.sqrt(reach**2 - shape.side_level_mm**2) + shape.side_foot_mm
    for row, k, first in _firsts(angle, (share >= -1e-9) & (share <= shape.side_length_mm + 1e-9)):
        yield rows[row][0], _Touch(angle_rad=first, point=rows[row][1], owner=int(shape.side_owner[k]))


def _disc_touches(shape: _Shape, stances: Sequence[_Stance]) -> Iterator[tuple[int, _Touch]]:
    """Yield, for each corner of the ground, the first disc that comes down on it."""
    rows, discs = _ground_corners(stances), np.flatnonzero(shape.radius_mm > 0)
    if not discs.size:
        return
    radius, reach, beta = shape.radius_mm[discs], shape.reach_mm[discs], shape.angle_rad[discs]
    rho, gamma = np.array([row[2:] for row in rows]).reshape(-1, 2).T[..., None]
    with np.errstate(invalid="ignore", divide="ignore"):
        angle = _wrapped(gamma - beta + np.arccos((rho**2 + reach**2 - radius**2) / (2 * rho * reach)))
    for row, k, first in _firsts(angle, np.isfinite(angle)):
        owner = int(shape.corner_owner[discs[k]])
        yield rows[row][0], _Touch(angle_rad=first, point=rows[row][1], owner=owner)


def _ground_corners(stances: Sequence[_Stance]) -> list[tuple[int, Point, MM, RAD]]:
    """Return each corner of the ground with its stance, and how far and which way it lies from the pivot."""
    return [
        (stance, (x, z), math.hypot(x - pivot[0], z - pivot[1]), math.atan2(z - pivot[1], x - pivot[0]))
        for stance, (pivot, ground) in enumerate(stances)
        for x, z in ground.corners
    ]


def _firsts(angle: Array, hit: NDArray[np.bool_]) -> Iterator[tuple[int, int, RAD]]:
    """Yield row, column and angle of the greatest angle that hits in each row, within what is let down."""
    within = np.where(hit & (angle >= LOWEST_RAD) & (angle <= HIGHEST_RAD), angle, -np.inf)
    best = within.argmax(axis=1)
    for row, k in enumerate(best.tolist()):
        if within[row, k] > -np.inf:
            yield row, k, float(within[row, k])


def _wrapped(angle: Array) -> Array:
    """Return angles brought into -pi .. pi."""
    return angle - 2 * np.pi * np.rint(angle / (2 * np.pi))


def _at_toe(design: Design, outer: Placing, contact: Point) -> bool:
    """Return whether a contact lies at the toe: within the taper, or a rail's depth, of the outer leaf's
    end.
    """
    zone = design.toe.length_mm if design.toe.kind == "taper" else design.outer_leaf.rail_section.depth_mm
    along = math.cos(outer.angle_rad) * (contact[0] - outer.x_mm) + math.sin(outer.angle_rad) * (
        contact[1] - outer.z_mm
    )
    return along >= design.outer_leaf.length_mm - zone - 1e-6


def _end_depth_mm(design: Design) -> MM:
    """Return the depth of the rails at the outer leaf's end."""
    return design.toe.thickness_mm if design.toe.kind == "taper" else design.outer_leaf.rail_section.depth_mm


def _flap(design: Design, outer: Placing, ground: GroundLine) -> tuple[RAD, LeafGradient | None]:
    """Return the toe flap's angle to the outer leaf as it lies on the ground, and its gradient."""
    if design.toe.kind != "flap":
        return 0.0, None
    leaf = design.outer_leaf
    pivot = outer.point(leaf.length_mm, leaf.slat_thickness_mm)
    length, thickness = design.toe.length_mm, design.toe.thickness_mm
    plate = _shape([(rectangle(0.0, -thickness, length, 0.0), Placing(0.0, 0.0, 0.0))])
    touch = _first_touches(plate, [(pivot, ground)])[0]
    angle = touch.angle_rad if touch else outer.angle_rad
    return angle - outer.angle_rad, _gradient(angle, length)


def grades(_: Design, sites: tuple[SitePose, ...]) -> Grades:
    """Return the most and the least grade of a leaf at any site, the level deck and ground among them, the
    steepest first; what comes of a grade between them lies between, since it goes along with the load moved.
    """
    return _ends((0.0, *_leaf_grades(sites)))


def ramp_grades(_: Design, sites: tuple[SitePose, ...]) -> Grades:
    """Return the most and the least grade of a leaf at any site, the steepest first; level where it reaches
    none.
    """
    return _ends(_leaf_grades(sites) or (0.0,))


def _leaf_grades(sites: tuple[SitePose, ...]) -> Grades:
    return tuple(leaf.ratio for pose in sites if pose.reaches for leaf in (pose.inner, pose.outer))


def _ends(found: Grades) -> Grades:
    return tuple(sorted({max(found), min(found)}, key=lambda grade: (-abs(grade), grade)))
