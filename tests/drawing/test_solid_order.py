"""The solid's faces hide each other as a ray says that is sent through every member by itself.

The second opinion knows nothing of convex shapes, of an order or of faces: it goes along a line of sight
through the outline of each member in the side plane (shapely), and takes the nearest of them.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from random import Random

import numpy as np
import pytest
import shapely
from tries import first

from rampdraft.drawing.ink import Ink, Path
from rampdraft.drawing.side import prop_outlines
from rampdraft.drawing.solid.blocks import Block, blocks_of, convex_rings, shapes_of
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.order import laid, layers, stacked
from rampdraft.drawing.solid.paint import Painter
from rampdraft.drawing.solid.scene import Stand, solid_view
from rampdraft.drawing.surroundings import outlines
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.geometry.bridge import bridge_placing
from rampdraft.geometry.linkage import Placing, edge_height_mm, linkage, moved
from rampdraft.geometry.outline import Outline, Point, disc

NAMES = ("barn-stage", "library-trailer", "orchard-trolley", "reed-ferry")
"""The samples whose members do not clash: of what reaches into each other nothing hides the other."""
RAYS = 150
CLOSE_MM = 3.0
"""Nearer behind each other than this, either may be the nearer one: chords stand for arcs."""
BESIDE_MM = 1.5
"""A ray that has other members so near beside it goes along an edge."""
CAMERAS = (
    Camera(-52.0, 24.0),
    Camera(63.0, 8.0),
    Camera(-120.0, 55.0),
    Camera(0.0, 0.0),
    Camera(155.0, -30.0),
)


@pytest.fixture(scope="module")
def samples() -> dict[str, Evaluation]:
    return {
        path.stem: evaluate(load_design(path), path.parent) for path in sample_paths() if path.stem in NAMES
    }


class Rays:
    """Prisms across where they lie, each to be gone through by itself."""

    def __init__(self, prisms: Iterable[tuple[str, Outline, float, float]]) -> None:
        self.found = [(key, shapely.Polygon(shape.points(0.05)), y0, y1) for key, shape, y0, y1 in prisms]

    def hits(self, at: Point, camera: Camera) -> list[tuple[float, str]]:
        """Return how near to who looks the ray through a place meets each member, and which."""
        right, up, towards = (np.array(one) for one in (camera.right, camera.up, camera.towards))
        far, near = (at[0] * right + at[1] * up + reach * towards for reach in (-9e3, 9e3))
        line = shapely.LineString([far[[0, 2]], near[[0, 2]]])
        hits: list[tuple[float, str]] = []
        for key, polygon, y0, y1 in self.found:
            met = line.intersection(polygon)
            for part in getattr(met, "geoms", (met,)):
                if part.geom_type != "LineString" or part.is_empty:
                    continue
                along = [(np.array(place) - far[[0, 2]]) @ towards[[0, 2]] for place in part.coords]
                level = float(towards[[0, 2]] @ towards[[0, 2]])
                low, high = min(along) / level, max(along) / level
                if abs(towards[1]) > 1e-9:
                    ends = sorted((y - far[1]) / towards[1] for y in (y0, y1))
                    low, high = max(low, ends[0]), min(high, ends[1])
                elif not y0 < far[1] < y1:
                    continue
                if high > low:
                    hits.append((float(high), key))
        return sorted(hits, reverse=True)

    def seen(self, at: Point, camera: Camera) -> str | None:
        """Return the member that is seen at a place, None where that is not clear."""
        hits = self.hits(at, camera)
        if not hits:
            return None
        depth, key = hits[0]
        if any(depth - other < CLOSE_MM for other, name in hits[1:] if name != key):
            return None
        beside = [
            (at[0] + dx, at[1] + dy)
            for dx, dy in ((BESIDE_MM, 0), (-BESIDE_MM, 0), (0, BESIDE_MM), (0, -BESIDE_MM))
        ]
        around = [self.hits(place, camera) for place in beside]
        return key if all(one and one[0][1] == key for one in around) else None


def prisms_of(evaluation: Evaluation, stand: Stand) -> Iterator[tuple[str, Outline, float, float]]:
    design, assembly = evaluation.design, evaluation.assembly
    where = linkage(design, stand.drop_mm).placings(stand.pose)
    riding = bridge_placing(design, assembly, stand.pose, stand.drop_mm)
    for member in assembly.of("carrier", "inner", "outer"):
        if member.role == "taper plate":  # it lies in its rail, which is drawn full
            continue
        if member.role == "bridge plate" and stand.pose.inner_rad > 0:
            continue  # hands turn it back on the deck where it would reach into the other leaf
        place = riding if member.role == "bridge plate" else where[member.body]
        yield member.key, moved(member.silhouette, place), member.y0_mm, member.y1_mm
    for member, outline in prop_outlines(evaluation, stand.pose, stand.site_number):
        yield member.key, outline, member.y0_mm, member.y1_mm
    half = design.carrier.opening_width_mm / 2
    for outline in outlines(design, edge_height_mm(design, stand.drop_mm)).values():
        yield "", outline, -half, half


def shown(marks: Sequence[Ink], at: Point) -> str:
    """Return whose face was painted last over a place."""
    here = shapely.Point(at)
    for mark in reversed(marks):
        if not (isinstance(mark, Path) and mark.closed and len(mark.vertices) > 2):
            continue
        if shapely.Polygon([(x, y) for x, y, _ in mark.vertices]).contains(here):
            return mark.owner
    return ""


def places(marks: Sequence[Ink], chance: Random, count: int) -> Iterator[Point]:
    """Yield places within faces."""
    faces = [mark for mark in marks if isinstance(mark, Path) and mark.closed and mark.owner]
    for _ in range(count):
        corners = np.array(chance.choice(faces).vertices)[:, :2]
        shares = np.array([chance.random() for _ in corners])
        x, y = (shares / shares.sum() @ corners).tolist()
        yield x, y


@pytest.mark.parametrize("share", first(1, [0.37, 0.0, 1.0]))
@pytest.mark.parametrize("name", NAMES)
def test_faces_hide_each_other_as_rays_say(samples: dict[str, Evaluation], name: str, share: float):
    evaluation, chance = samples[name], Random(f"{name} {share}")
    stand = Stand(pose=evaluation.path.pose(share))
    rays, decided = Rays(prisms_of(evaluation, stand)), 0
    for camera in CAMERAS:
        marks = solid_view(evaluation, stand, camera).marks
        for at in places(marks, chance, RAYS // len(CAMERAS)):
            told = rays.seen(at, camera)
            painted_last = shown(marks, at)
            if told is not None and painted_last != "bridge plate":
                decided += 1
                # The inner tube of a prop stands in the outer one, and both are drawn as they are outside.
                told, painted_last = (one.replace("prop inner tube", "prop") for one in (told, painted_last))
                assert painted_last == told, (camera, at)
    assert decided > RAYS / 4


def test_the_rays_notice_a_wrong_order(samples: dict[str, Evaluation]):
    evaluation, camera = samples["library-trailer"], CAMERAS[0]
    stand = Stand(pose=evaluation.path.pose(1.0))
    marks, rays = solid_view(evaluation, stand, camera).marks, Rays(prisms_of(evaluation, stand))
    told = {at: rays.seen(at, camera) for at in places(marks, Random(1), 40)}
    apart = [at for at, key in told.items() if key is not None and shown(marks[::-1], at) != key]
    assert len(apart) > 5


def painted(blocks: Sequence[Block], camera: Camera) -> list[Ink]:
    scene = laid(stacked(blocks), {"still": Placing(0.0, 0.0, 0.0)})
    painter = Painter(scene, camera)
    return [mark for layer in layers(scene, camera) for mark in painter.marks(layer)]


def prism(key: str, corners: Sequence[Point], y0: float, y1: float) -> tuple[str, Outline, float, float]:
    return key, Outline(tuple((x, z, 0.0) for x, z in corners)), y0, y1


RING = (
    prism("back", ((0, 0), (10, 0), (10, 100), (0, 100)), 41, 200),
    prism("between", ((20, 0), (30, 0), (30, 10), (20, 10)), 0, 200),
    prism("front", ((36, -5), (46, -5), (15, 90), (5, 90)), 0, 40),
)
"""The second hides the first, the third the second, and the first, being nearer across, the third."""


def test_blocks_in_a_ring_are_cut_across():
    camera = Camera(80.0, 2.0)
    blocks = [
        one
        for key, shape, y0, y1 in RING
        for one in blocks_of(shape, y0, y1, frame="still", fill="inner", owner=key)
    ]
    scene = laid(stacked(blocks), {"still": Placing(0.0, 0.0, 0.0)})
    assert len(layers(scene, camera)) > len(blocks)
    marks, rays = painted(blocks, camera), Rays(RING)
    told = {at: rays.seen(at, camera) for at in places(marks, Random(2), 120)}
    assert {"back", "between", "front"} <= set(told.values())
    assert all(shown(marks, at) == key for at, key in told.items() if key is not None)


@pytest.mark.parametrize("seed", range(6))
def test_random_blocks_hide_each_other_as_rays_say(seed: int):
    """Each fills some of its own cell in the side plane, two of them beside each other across."""
    chance = Random(seed)
    prisms: list[tuple[str, Outline, float, float]] = []
    for cell in range(20):
        x, z = 100.0 * (cell % 5), 80.0 * (cell // 5)
        for at in (0.0, 150.0):
            corners = [
                (x + chance.uniform(a, a + 40), z + chance.uniform(b, b + 30))
                for a, b in ((5, 5), (55, 5), (55, 45), (5, 45))
            ]
            low = at + chance.uniform(0, 60)
            prisms.append(prism(f"{cell} {at}", corners, low, low + chance.uniform(20, 80)))
    camera = Camera(chance.uniform(-180, 180), chance.uniform(-60, 60))
    blocks = [
        one
        for key, shape, y0, y1 in prisms
        for one in blocks_of(shape, y0, y1, frame="still", fill="inner", owner=key)
    ]
    marks, rays = painted(blocks, camera), Rays(prisms)
    told = {at: rays.seen(at, camera) for at in places(marks, chance, 60)}
    assert sum(key is not None for key in told.values()) > 15
    assert all(shown(marks, at) == key for at, key in told.items() if key is not None)


L_SHAPE = Outline(((0, 0, 0), (30, 0, 0), (30, 10, 0), (10, 10, 0), (10, 30, 0), (0, 30, 0)))
COPED = Outline(((0, 0, 0), (40, 0, 0), (40, 20, 0), (15, 20, math.tan(math.radians(-90 / 4))), (0, 5, 0)))


@pytest.mark.parametrize("outline", [L_SHAPE, COPED, disc(5, 5, 30)])
def test_shapes_fill_the_outline_and_no_more(outline: Outline):
    shapes = [shapely.Polygon(shape.points) for shape in shapes_of(outline)]
    whole = shapely.Polygon(outline.points(0.5))
    assert sum(shape.area for shape in shapes) == pytest.approx(whole.area, rel=0.03)
    assert shapely.union_all(shapes).symmetric_difference(whole).area < 0.03 * whole.area
    for shape in shapes:
        assert shape.convex_hull.area == pytest.approx(shape.area)


def test_an_l_is_two_rectangles_cut_along_one_line():
    points = [(x, y) for x, y, _ in L_SHAPE.vertices]
    assert len(convex_rings(points)) == 2
    sides = [side for shape in shapes_of(L_SHAPE) for side in shape.sides]
    assert sides.count("cut") == 2
    assert sides.count("straight") == len(L_SHAPE.vertices)
