"""The plain way: a shapely polygon for each member, turned and shifted, with nothing of the program's
mechanics in it.
"""

import math
from collections.abc import Iterable
from functools import cache
from pathlib import Path

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import affinity
from shapely.geometry.base import BaseGeometry
from shapely_clearance import Thing, scene_of
from timber_ramp import timber_ramp

from rampdraft.files.design_file import load_design
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.member import Assembly, Member
from rampdraft.geometry.outline import Outline
from rampdraft.model.design import Design, Site
from rampdraft.model.fields.paths import with_value

FAR_MM = 1e5
SAMPLES = Path(__file__).parents[1] / "samples"


@cache
def designs() -> dict[str, Design]:
    """Return every sample and the design that a new document begins with, by name."""
    found = {path.stem: load_design(path) for path in sorted(SAMPLES.glob("*.toml"))}
    assert len(found) >= 5
    return {**found, "starter": timber_ramp()}


def changed(design: Design, **values: object) -> Design:
    """Return the design with values put in by path, `__` for the dot: `joint__height_mm=-43`."""
    for path, value in values.items():
        design = with_value(design, path.replace("__", "."), value)
    return design


def polygon(outline: Outline, sagitta_mm: float = 0.001) -> shapely.Polygon:
    return shapely.Polygon(outline.points(sagitta_mm))


def hinge_point(design: Design, drop_mm: float = 0.0) -> tuple[float, float]:
    return design.deck_hinge.out_mm, design.carrier.deck_height_mm - drop_mm - design.deck_hinge.below_mm


def placed(design: Design, shape: BaseGeometry, body: str, pose: Pose, drop_mm: float = 0.0) -> BaseGeometry:
    """Return a shape of a body's frame in the side plane, by turning it about its hinge centres one after the
    other.
    """
    if body == "world":
        return shape
    if body == "carrier":
        return affinity.translate(shape, 0, design.carrier.deck_height_mm - drop_mm)
    if body == "outer":  # lay it straight on, then turn it about the joint's centre
        joint = (design.inner_leaf.length_mm, design.joint.height_mm)
        shape = affinity.translate(shape, design.inner_leaf.length_mm, 0)
        shape = affinity.rotate(shape, pose.fold_rad, origin=joint, use_radians=True)
    x, z = hinge_point(design, drop_mm)
    shape = affinity.translate(shape, x, z - design.deck_hinge.height_mm)
    return affinity.rotate(shape, pose.inner_rad, origin=(x, z), use_radians=True)


def ground_area(site: Site) -> shapely.Polygon:
    """Return all that lies under a site's ground line, level beyond its ends."""
    points = site.ground_mm
    left, right = points[0][0] - FAR_MM, points[-1][0] + FAR_MM
    return shapely.Polygon(
        [(left, points[0][1]), *points, (right, points[-1][1]), (right, -FAR_MM), (left, -FAR_MM)]
    )


def standing_shape(design: Design, assembly: Assembly, fold_rad: float) -> BaseGeometry:
    """Return the whole ramp but pins and toe flap, the inner leaf level, about the deck hinge at (0, 0)."""
    x, z = hinge_point(design)
    members = [
        m for m in assembly.of("inner", "outer") if m.role not in ("pin", "washer", "taper plate", "toe flap")
    ]
    shapes = [placed(design, polygon(m.silhouette), m.body, Pose(0.0, fold_rad)) for m in members]
    return affinity.translate(shapely.union_all(shapes, grid_size=1e-6), -x, -z)


def let_down(shape: BaseGeometry, hinge: tuple[float, float], ground: BaseGeometry) -> float | None:
    """Return the angle at which a shape about (0, 0), let down from 85 degrees in small steps, first meets
    the ground.

    None when it meets it nowhere down to -85 degrees. Raises AssertionError when it meets it at 85 degrees
    already.
    """
    ground = affinity.translate(ground, -hinge[0], -hinge[1])
    shapely.prepare(ground)

    def meets(angle: float) -> bool:
        return ground.intersects(affinity.rotate(shape, angle, origin=(0, 0), use_radians=True))

    above = math.radians(85)
    assert not meets(above), "begins in the ground"
    while not meets(below := above - math.radians(0.8)):
        above = below
        if above < math.radians(-85):
            return None
    while above - below > 1e-6:
        middle = (above + below) / 2
        below, above = (middle, above) if meets(middle) else (below, middle)
    return above


def across(a: Member, b: Member) -> float:
    """Return how wide an interval across two members share, negative for the gap between them."""
    return min(a.y1_mm, b.y1_mm) - max(a.y0_mm, b.y0_mm)


def member(members: Iterable[Member], key: str) -> Member:
    return next(one for one in members if one.key == key)


# Clearance
# ------------------------------------------------------------------------------------------------------------

MEANT_TO_TOUCH = {
    *(f"ground - outer {role}" for role in ("rail", "slat", "edge upstand", "toe flap", "latch hook")),
    *(f"carrier knuckle - inner {what}" for what in ("rail", "deck knuckle")),
    "carrier bracket stub - inner deck knuckle",
    *(f"inner joint knuckle - outer {what}" for what in ("rail", "joint knuckle")),
    "inner rail - outer joint knuckle",
    *(
        f"inner {a} - outer {b}"
        for a, b in (("stop bar", "stop bar"), ("stop bar", "rail"), ("rail", "stop bar"))
    ),
}
"""Written down again, from `mechanics.bodies.CONTACTS` in words: a family too many in the program is
noticed.
"""


class Scene:
    """All bodies of a design as polygons, and the different pairs of shapes of each family that share an
    interval across.
    """

    def __init__(self, design: Design, assembly: Assembly) -> None:
        """Twins, of one family and shape, are taken once."""
        self.design = design
        things = scene_of(design, assembly).things
        still = [thing for thing in things if thing.body in ("carrier", "world")]
        self.surroundings = tuple(still)
        inner, outer = ([thing for thing in things if thing.body == body] for body in ("inner", "outer"))
        found: dict[tuple[str, bytes, bytes], tuple[Thing, Thing]] = {}
        for first, second in ((still, inner), (still, outer), (inner, outer)):
            for a in first:
                for b in second:
                    if min(a.y1_mm, b.y1_mm) - max(a.y0_mm, b.y0_mm) > 1e-6:
                        found.setdefault((f"{a.family} - {b.family}", a.shape.wkb, b.shape.wkb), (a, b))
        self.families = np.array([name for name, *_ in found])
        self.a = np.array([a.shape for a, _ in found.values()])
        self.b = np.array([b.shape for _, b in found.values()])
        self.body_a, self.body_b = (np.array([pair[k].body for pair in found.values()]) for k in (0, 1))

    def at(
        self, pose: Pose, rows: NDArray[np.bool_] | None = None
    ) -> tuple[NDArray[np.object_], NDArray[np.object_]]:
        """Return both shapes of each pair (of `rows`) in a pose."""
        rows = np.ones(len(self.families), dtype=np.bool_) if rows is None else rows
        return self._moved(self.a[rows], self.body_a[rows], pose), self._moved(
            self.b[rows], self.body_b[rows], pose
        )

    def nearest(self, pose: Pose, below: dict[str, float]) -> dict[str, float]:
        """Return the least distance of each family in a pose, 0 where shapes meet; left out where it is not
        below a figure.
        """
        a, b = self.at(pose)
        low, high = shapely.bounds(a), shapely.bounds(b)
        apart = np.maximum(low[:, :2] - high[:, 2:], high[:, :2] - low[:, 2:]).max(axis=1)
        near = apart < np.array([below.get(family, -math.inf) for family in self.families])
        distance = shapely.distance(a[near], b[near])
        found: dict[str, float] = {}
        for family, value in zip(self.families[near], distance, strict=True):
            if value < below[family]:
                found[family] = min(value, found.get(family, math.inf))
        return found

    def _moved(
        self, shapes: NDArray[np.object_], bodies: NDArray[np.str_], pose: Pose
    ) -> NDArray[np.object_]:
        moved = shapes.copy()
        for body in ("world", "carrier", "inner", "outer"):
            chosen = bodies == body
            origin, along = (placed(self.design, shapely.Point(u, 0), body, pose) for u in (0.0, 1.0))
            cos, sin = along.x - origin.x, along.y - origin.y
            shift, turn = np.array((origin.x, origin.y)), np.array(((cos, sin), (-sin, cos)))
            moved[chosen] = shapely.transform(
                shapes[chosen], lambda points, turn=turn, shift=shift: points @ turn + shift
            )
        return moved
