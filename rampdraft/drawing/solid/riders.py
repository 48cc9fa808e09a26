"""A wheeled user as blocks: wheels as wide as their tyres, the frame on both sides, whoever sits between."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

from rampdraft.drawing.ink import Fill, Path
from rampdraft.drawing.solid.blocks import Block, blocks_of
from rampdraft.drawing.users.silhouette import body_of
from rampdraft.geometry.linkage import Placing
from rampdraft.geometry.outline import Outline, Point, disc
from rampdraft.mechanics.rolled import UserAt
from rampdraft.mechanics.rolling.results import Facing
from rampdraft.model.rolling_shape import RollingShape
from rampdraft.units import MM

FRAME: Final = "rider"
_TUBE_MM: Final = 22.0
_ARM_MM: Final = 55.0
_HUB: Final = 0.14
_HALF: Final = 0.27
"""How far a body reaches to either side, as a share of the whole width; its frame goes on from there."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rider:
    """A user as blocks in its own frame, and where that lies."""

    blocks: tuple[Block, ...]
    placing: Placing

    @property
    def tall_mm(self) -> MM:
        """Return how high it is over the middle of its front axle."""
        return max(z for block in self.blocks for _, z in block.shape.points)


def rider(shape: RollingShape, path: str, user: UserAt) -> Rider:
    """Return a user where it is; `path` is its own in the design. That it leans across is not shown."""
    faces_deck = user.facing == "deck"
    angle = -user.pitch_rad if faces_deck else user.pitch_rad
    return Rider(blocks=rider_blocks(shape, path, user.facing), placing=Placing(angle, *user.front))


@lru_cache(maxsize=16)
def rider_blocks(shape: RollingShape, path: str, facing: Facing) -> tuple[Block, ...]:
    """Return a user as blocks about the middle of its front axle."""
    return tuple(_blocks(shape, path, 1.0 if facing == "deck" else -1.0))


def _blocks(shape: RollingShape, path: str, sign: float) -> Iterator[Block]:
    radius = shape.axles[0].radius_mm

    def own(point: Point) -> Point:
        return sign * point[0], point[1] - radius

    for axle in shape.axles:
        if axle.held:
            continue
        at = own((axle.behind_mm, axle.radius_mm))
        owner = f"{path}.{axle.name}_radius_mm"
        for middle in axle.sides_mm:
            y0, y1 = middle - axle.tyre_mm / 2, middle + axle.tyre_mm / 2
            wheel = disc(*at, 2 * axle.radius_mm)
            yield from blocks_of(wheel, y0, y1, frame=FRAME, fill="tyre", owner=owner)
    half = _HALF * shape.width_mm
    for mark in body_of(shape).marks:
        if not isinstance(mark, Path):
            continue
        points = [own((x, z)) for x, z, _ in mark.vertices]
        if mark.closed:
            yield from _body(mark, points, half, path)
            continue
        width, fill = (_TUBE_MM, "inner") if mark.pen == "outline" else (_ARM_MM, "carrier")
        for a, b in pairwise(points):
            if math.dist(a, b) > width:
                for y0, y1 in ((half, half + width), (-half - width, -half)):
                    yield from blocks_of(_bar(a, b, width), y0, y1, frame=FRAME, fill=fill, owner=path)


def _body(mark: Path, points: list[Point], half: MM, path: str) -> Iterator[Block]:
    """Yield what is between the sides; a head is no wider than it is high."""
    fill: Fill = "carrier" if mark.fill in ("none", "paper") else mark.fill
    if len(points) == 2:
        wide = math.dist(*points)
        middle = ((points[0][0] + points[1][0]) / 2, (points[0][1] + points[1][1]) / 2)
        outline, half = disc(*middle, wide), min(half, 0.4 * wide)
    else:
        outline = Outline(tuple((x, z, 0.0) for x, z in points))
        if outline.area_and_centroid()[0] < 0:
            outline = Outline(outline.vertices[::-1])
    yield from blocks_of(outline, -half, half, frame=FRAME, fill=fill, owner=path)


def _bar(a: Point, b: Point, width: MM) -> Outline:
    """Return a straight bar between two points."""
    along = math.dist(a, b)
    dx, dz = (b[0] - a[0]) / along * width / 2, (b[1] - a[1]) / along * width / 2
    corners = ((a[0] + dz, a[1] - dx), (b[0] + dz, b[1] - dx), (b[0] - dz, b[1] + dx), (a[0] - dz, a[1] + dx))
    return Outline(tuple((x, z, 0.0) for x, z in corners))
