"""Layers of blocks as ink: faces that look at who looks, each in its share of the light, with the edges
that are seen.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.drawing.ink import Ink, Path, Pen
from rampdraft.drawing.solid.blocks import Block, Shape
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.order import Laid, Layer
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

LIGHT: Final = (-0.45, 0.75, 0.48)
"""Where the light comes from, as who looks sees it: right, up, nearer."""
DARKEST: Final = 0.72
STEPS: Final = 24
"""So many shades between the darkest and the brightest: few enough that colours can be kept."""
_FACING: Final = 1e-6
_BAND: Final = 0.75
"""Cosine between the first and the last chord of an arc that are painted as one face."""


@dataclass(frozen=True, slots=True)
class _Side:
    """A face along the blocks, from point to point of its shape."""

    chain: tuple[int, ...]
    tone: float
    ends: tuple[bool, bool]
    """Whether an edge is seen at its first and its last point."""


class Painter:
    """Paints layers of blocks that lie somewhere, seen through a camera."""

    def __init__(self, of: Laid, camera: Camera, edges: Pen = "thin") -> None:
        right, up, towards = (np.array(one) for one in (camera.right, camera.up, camera.towards))
        light = LIGHT[0] * right + LIGHT[1] * up + LIGHT[2] * towards
        light /= float(np.linalg.norm(light))
        plane = np.stack((right[[0, 2]], up[[0, 2]]), axis=1)
        self._edges: Pen = edges
        self._stack = of.stack
        self._flat: list[tuple[float, float]] = [(x, y) for x, y in (of.points @ plane).tolist()]
        self._facing: list[bool] = (of.normals @ towards[[0, 2]] > _FACING).tolist()
        self._normals: list[list[float]] = of.normals.tolist()
        self._tones: list[float] = [toned(value) for value in (of.normals @ light[[0, 2]]).tolist()]
        self._across: Point = (float(right[1]), float(up[1]))
        self._cap = int(np.sign(towards[1])) if abs(towards[1]) > _FACING else 0
        self._cap_tone = toned(float(light[1]) * self._cap)
        self._starts: list[int] = of.stack.starts.tolist()
        self._sides: dict[int, tuple[_Side, ...]] = {}

    def marks(self, layer: Layer) -> Iterator[Ink]:
        """Yield what is seen of a layer."""
        number = int(self._stack.shape_of[layer.block])
        block = self._stack.blocks[layer.block]
        sides = self._sides.get(number)
        if sides is None:
            sides = self._sides[number] = tuple(self._faces(block.shape, self._starts[number]))
        for side in sides:
            yield from self._band(block, layer, side)
        if self._cap and layer.whole[self._cap > 0]:
            yield from self._end(block, self._starts[number], layer.y1_mm if self._cap > 0 else layer.y0_mm)

    def _faces(self, shape: Shape, start: int) -> Iterator[_Side]:
        """Yield the faces of a shape that look at who looks; neighbouring chords of an arc as one."""
        count = len(shape.points)
        shown = [self._facing[start + at] and shape.sides[at] != "cut" for at in range(count)]
        begins = next((at for at in range(count) if not self._runs_on(shape, shown, start, at - 1, at)), 0)
        at = 0
        while at < count:
            first = (begins + at) % count
            length = 1
            while at + length < count and self._runs_on(shape, shown, start, first, (first + length) % count):
                length += 1
            at += length
            if shown[first]:
                chain = tuple(start + (first + step) % count for step in range(length + 1))
                last = (first + length) % count
                ends = (
                    shape.corners[first] or not shown[first - 1],
                    shape.corners[last] or not shown[last],
                )
                yield _Side(chain, self._tones[start + (first + length // 2) % count], ends)

    def _runs_on(self, shape: Shape, shown: list[bool], start: int, first: int, at: int) -> bool:
        """Return whether a side belongs to the face that begins with another one."""
        if not (shown[at] and shown[first] and shape.sides[at] == shape.sides[first] == "bent"):
            return False
        if shape.corners[at]:
            return False
        (ax, az), (bx, bz) = self._normals[start + first % len(shown)], self._normals[start + at]
        return ax * bx + az * bz > _BAND

    def _band(self, block: Block, layer: Layer, side: _Side) -> Iterator[Path]:
        near, far = self._row(side.chain, layer.y0_mm), self._row(side.chain, layer.y1_mm)
        around = (*near, *reversed(far))
        first, last = side.ends
        starts, ends = layer.whole
        if first and last and starts and ends:
            yield self._area(block, around, self._edges, side.tone)
            return
        yield self._area(block, around, "own", side.tone)
        for shown, run in (
            (starts, near), (ends, far), (first, (near[0], far[0])), (last, (near[-1], far[-1]))
        ):  # fmt: skip
            if shown:
                yield Path(vertices=run, closed=False, pen=self._edges, owner=block.owner)

    def _end(self, block: Block, start: int, y_mm: MM) -> Iterator[Path]:
        """Yield the end of a block that looks at who looks; where its shape was cut no edge is drawn."""
        count = len(block.shape.points)
        around = self._row(range(start, start + count), y_mm)
        cuts = [at for at, side in enumerate(block.shape.sides) if side == "cut"]
        yield self._area(block, around, "own" if cuts else self._edges, self._cap_tone)
        for number, cut in enumerate(cuts):
            following = cuts[(number + 1) % len(cuts)]
            steps = (following - cut) % count or count
            if steps > 1:
                run = tuple(around[(cut + 1 + step) % count] for step in range(steps))
                yield Path(vertices=run, closed=False, pen=self._edges, owner=block.owner)

    def _row(self, chain: tuple[int, ...] | range, y_mm: MM) -> tuple[tuple[float, float, float], ...]:
        dx, dy, flat = self._across[0] * y_mm, self._across[1] * y_mm, self._flat
        return tuple([(flat[at][0] + dx, flat[at][1] + dy, 0.0) for at in chain])

    def _area(
        self, block: Block, around: tuple[tuple[float, float, float], ...], pen: Pen, tone: float
    ) -> Path:
        return Path(vertices=around, closed=True, pen=pen, fill=block.fill, owner=block.owner, tone=tone)


def toned(facing: float) -> float:
    """Return the share of its colour that a face shows, by the cosine between it and the light."""
    share = min(max(0.35 + 0.75 * facing, 0.0), 1.0)
    return DARKEST + (1 - DARKEST) * round(share * STEPS) / STEPS
