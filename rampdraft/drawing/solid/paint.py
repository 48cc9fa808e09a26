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
Row = tuple[tuple[MM, MM, float], ...]
"""Vertices of a path."""
_FACING: Final = 1e-6
_BAND: Final = 0.5
"""Cosine between the first and the last chord of an arc that are painted as one face."""


@dataclass(frozen=True, slots=True)
class _Face:
    """What of a shape's edge is painted in one tone: its points, in a row."""

    chain: tuple[int, ...]
    tone: float


@dataclass(frozen=True, slots=True)
class _Front:
    """Faces side by side that look at who looks."""

    faces: tuple[_Face, ...]
    edges: tuple[int, ...]
    """Points between two faces at which an edge is seen."""
    ends: tuple[bool, bool]
    """Whether one is seen at its first and its last point."""

    @property
    def plain(self) -> bool:
        """Return whether each face has an edge all round."""
        return all(self.ends) and len(self.edges) == len(self.faces) - 1

    @property
    def chain(self) -> tuple[int, ...]:
        """Return all its points in a row."""
        return (*self.faces[0].chain, *(at for face in self.faces[1:] for at in face.chain[1:]))


class Painter:
    """Paints layers of blocks that lie somewhere, seen through a camera."""

    def __init__(self, of: Laid, camera: Camera, edges: Pen = "edge") -> None:
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
        self._fronts: dict[int, tuple[_Front, ...]] = {}

    def marks(self, layer: Layer) -> Iterator[Ink]:
        """Yield what is seen of a layer."""
        number = int(self._stack.shape_of[layer.block])
        block = self._stack.blocks[layer.block]
        fronts = self._fronts.get(number)
        if fronts is None:
            fronts = self._fronts[number] = tuple(self._found(block.shape, self._starts[number]))
        for front in fronts:
            yield from self._front(block, layer, front)
        if self._cap and layer.whole[self._cap > 0]:
            yield from self._end(block, self._starts[number], layer.y1_mm if self._cap > 0 else layer.y0_mm)

    def _found(self, shape: Shape, start: int) -> Iterator[_Front]:
        """Yield what of a shape's edge looks at who looks."""
        count = len(shape.points)
        shown = [self._facing[start + at] and shape.sides[at] != "cut" for at in range(count)]
        for first in range(count):
            if shown[first] and not shown[first - 1]:
                length = next(step for step in range(1, count + 1) if not shown[(first + step) % count])
                run = [(first + step) % count for step in range(length)]
                yield self._of_run(shape, start, run)

    def _of_run(self, shape: Shape, start: int, run: list[int]) -> _Front:
        """Return sides in a row as faces; chords of an arc are one as far as it bends little."""
        count, bands = len(shape.points), [[run[0]]]
        for at in run[1:]:
            (ax, az), (bx, bz) = self._normals[start + bands[-1][0]], self._normals[start + at]
            if shape.corners[at] or ax * bx + az * bz < _BAND:
                bands.append([at])
            else:
                bands[-1].append(at)
        faces = (
            _Face(
                tuple(start + at for at in (*band, (band[-1] + 1) % count)),
                self._tones[start + band[len(band) // 2]],
            )
            for band in bands
        )
        before, beyond = run[0], (run[-1] + 1) % count
        ends = (
            shape.corners[before] or shape.sides[before - 1] != "cut",
            shape.corners[beyond] or shape.sides[beyond] != "cut",
        )
        edges = tuple(start + band[0] for band in bands[1:] if shape.corners[band[0]])
        return _Front(tuple(faces), edges, ends)

    def _front(self, block: Block, layer: Layer, front: _Front) -> Iterator[Path]:
        plain = front.plain and all(layer.whole)
        for face in front.faces:
            around = (*self._row(face.chain, layer.y0_mm), *reversed(self._row(face.chain, layer.y1_mm)))
            yield self._area(block, around, self._edges if plain else "own", face.tone)
        if plain:
            return
        for at in front.edges:
            yield self._line(block, (*self._row((at,), layer.y0_mm), *self._row((at,), layer.y1_mm)))
        chain = front.chain
        near, far = self._row(chain, layer.y0_mm), self._row(chain, layer.y1_mm)
        if all(layer.whole) and all(front.ends):
            yield self._line(block, (*near, *reversed(far), near[0]))
            return
        sides = (near, far, (near[0], far[0]), (near[-1], far[-1]))
        for seen, run in zip((*layer.whole, *front.ends), sides, strict=True):
            if seen:
                yield self._line(block, run)

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
                yield self._line(block, tuple(around[(cut + 1 + step) % count] for step in range(steps)))

    def _row(self, chain: tuple[int, ...] | range, y_mm: MM) -> Row:
        dx, dy, flat = self._across[0] * y_mm, self._across[1] * y_mm, self._flat
        return tuple([(flat[at][0] + dx, flat[at][1] + dy, 0.0) for at in chain])

    def _line(self, block: Block, run: Row) -> Path:
        return Path(vertices=run, closed=False, pen=self._edges, owner=block.owner)

    def _area(self, block: Block, around: Row, pen: Pen, tone: float) -> Path:
        return Path(vertices=around, closed=True, pen=pen, fill=block.fill, owner=block.owner, tone=tone)


def toned(facing: float) -> float:
    """Return the share of its colour that a face shows, by the cosine between it and the light."""
    share = min(max(0.35 + 0.75 * facing, 0.0), 1.0)
    return DARKEST + (1 - DARKEST) * round(share * STEPS) / STEPS
