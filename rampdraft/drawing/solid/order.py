"""In which order blocks are painted so that what is nearer hides what is farther off, exactly.

Of two convex blocks that do not meet, some plane lies between: along a side of one of their shapes, or
across. Who looks stands on one side of it, and what lies on the other can hide nothing of what lies on this.
Where such orders run in a ring, the blocks of it are cut across at each other's ends: between two such cuts
all of them are shapes of one thickness, and disjoint convex shapes in a plane hide each other in no ring,
whatever the direction (Guibas and Yao, On translating a set of rectangles, 1980; from memory).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.drawing.solid.blocks import Block, Shape
from rampdraft.drawing.solid.camera import Camera
from rampdraft.geometry.linkage import Placing
from rampdraft.units import MM, Array

Index = NDArray[np.intp]
Flags = NDArray[np.bool_]

_TOUCH_MM: Final = 0.6
"""Chords of two arcs in each other may overlap by so much."""
_SEEN_MM: Final = 1e-3
"""Blocks whose pictures overlap by less do not hide each other."""
_EDGE_ON: Final = 1e-9


@dataclass(frozen=True, slots=True)
class Layer:
    """A block, or a slice of it, as it comes to be painted."""

    block: int
    y0_mm: MM
    y1_mm: MM
    whole: tuple[bool, bool]
    """Whether it ends at y0 and at y1, rather than being cut from the rest of its block."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stack:
    """Blocks as arrays: what does not change while they move."""

    blocks: tuple[Block, ...]
    starts: Index
    """First point of each shape, (s,)."""
    points: Array
    """Of all shapes in their frames, (v, 2)."""
    following: Index
    frames: tuple[str, ...]
    frame_of: Index
    """Of each point, (v,)."""
    shape_of: Index
    """Of each block, (b,)."""
    y_mm: Array
    """(b, 2)."""


def stacked(blocks: Sequence[Block]) -> Stack:
    """Return blocks as arrays; those of one shape in one frame share it."""
    numbers: dict[tuple[str, Shape], int] = {}
    for block in blocks:
        numbers.setdefault((block.frame, block.shape), len(numbers))
    counts = np.array([len(shape.points) for _, shape in numbers])
    starts = np.concatenate(([0], np.cumsum(counts)[:-1])).astype(np.intp)
    following: Index = np.arange(int(counts.sum())) + 1
    following[starts + counts - 1] = starts
    frames = tuple(dict.fromkeys(frame for frame, _ in numbers))
    return Stack(
        blocks=tuple(blocks),
        starts=starts,
        points=np.array([point for _, shape in numbers for point in shape.points]),
        following=following,
        frames=frames,
        frame_of=np.repeat([frames.index(frame) for frame, _ in numbers], counts),
        shape_of=np.array([numbers[block.frame, block.shape] for block in blocks]),
        y_mm=np.array([(block.y0_mm, block.y1_mm) for block in blocks]),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Laid:
    """A stack where its frames lie."""

    stack: Stack
    points: Array
    """Of all shapes in the side plane, (v, 2)."""
    normals: Array
    """Of the side that leaves each point, outward, (v, 2)."""


def laid(stack: Stack, where: Mapping[Any, Placing]) -> Laid:
    """Return a stack with its frames where they lie."""
    places = [where[frame] for frame in stack.frames]
    angle = np.array([place.angle_rad for place in places])[stack.frame_of]
    shift = np.array([(place.x_mm, place.z_mm) for place in places])[stack.frame_of]
    cos, sin = np.cos(angle), np.sin(angle)
    u, w = stack.points.T
    points = np.stack((cos * u - sin * w, sin * u + cos * w), axis=1) + shift
    along = points[stack.following] - points
    lengths = np.maximum(np.hypot(along[:, 0], along[:, 1]), 1e-12)
    return Laid(
        stack=stack, points=points, normals=np.stack((along[:, 1], -along[:, 0]), axis=1) / lengths[:, None]
    )


def layers(of: Laid, camera: Camera) -> list[Layer]:
    """Return the blocks in the order in which they are painted, the farthest first."""
    stack = of.stack
    towards = np.array(camera.towards)
    free = _free(of, towards)
    free_blocks = free[np.ix_(stack.shape_of, stack.shape_of)]
    beyond = stack.y_mm[None, :, 0] >= stack.y_mm[:, None, 1] - _TOUCH_MM
    if towards[1] >= -_EDGE_ON:
        free_blocks |= beyond
    if towards[1] <= _EDGE_ON:
        free_blocks |= beyond.T
    seen = _Seen(of, camera)
    first = _needed(
        free_blocks, seen.overlap(stack.shape_of, stack.y_mm), seen.depth(stack.shape_of, stack.y_mm)
    )
    before, ring, after = _peeled(first)
    found = [_whole(stack, at) for at in before]
    if ring:
        found.extend(_sliced(stack, ring, free, seen, float(towards[1])))
    return [*found, *(_whole(stack, at) for at in after)]


def _whole(stack: Stack, at: int) -> Layer:
    block = stack.blocks[at]
    return Layer(at, block.y0_mm, block.y1_mm, (True, True))


def _free(of: Laid, towards: Array) -> Flags:
    """Return whether each shape may be painted before each other one: a side of either lies between them, and
    the other is on that side of it where who looks stands. (s, s).
    """
    starts, normals = of.stack.starts, of.normals
    levels = np.einsum("vi,vi->v", normals, of.points)
    nearest = np.minimum.reduceat(normals @ of.points.T, starts, axis=1) - levels[:, None]
    apart = nearest >= -_TOUCH_MM
    facing = normals @ towards[[0, 2]]
    near = np.logical_or.reduceat(apart & (facing >= -_EDGE_ON)[:, None], starts, axis=0)
    far = np.logical_or.reduceat(apart & (facing <= _EDGE_ON)[:, None], starts, axis=0)
    return near | far.T


class _Seen:
    """Where blocks come to lie on the picture, as their reach in the directions square to their edges."""

    def __init__(self, of: Laid, camera: Camera) -> None:
        right, up, towards = (np.array(one) for one in (camera.right, camera.up, camera.towards))
        stack = of.stack
        across = np.array((right[1], up[1]))
        plane = np.stack((right[[0, 2]], up[[0, 2]]), axis=1)
        edges = [across, *plane]
        for frame in range(len(stack.frames)):
            at = int(np.argmax(stack.frame_of == frame))
            edges += [(of.points[stack.following[at]] - of.points[at]) @ plane, of.normals[at] @ plane]
        lines = np.array(
            [(-edge[1], edge[0]) for edge in edges if np.hypot(*edge) > 1e-6] + [(1.0, 0.0), (0.0, 1.0)]
        )
        lines /= np.hypot(lines[:, 0], lines[:, 1])[:, None]
        reach = of.points @ plane @ lines.T
        self._low = np.minimum.reduceat(reach, stack.starts, axis=0)
        self._high = np.maximum.reduceat(reach, stack.starts, axis=0)
        self._across = lines @ across
        counts = np.diff(np.append(stack.starts, len(of.points)))
        self._deep = np.add.reduceat(of.points @ towards[[0, 2]], stack.starts) / counts
        self._deep_across = towards[1]

    def overlap(self, shapes: Index, y_mm: Array) -> Flags:
        """Return which blocks lie over each other on the picture, (b, b); none over itself."""
        ends = y_mm[:, :, None] * self._across
        low, high = self._low[shapes] + ends.min(axis=1), self._high[shapes] + ends.max(axis=1) - _SEEN_MM
        over = np.ones((len(shapes), len(shapes)), dtype=bool)
        for line in range(low.shape[1]):
            over &= low[:, None, line] < high[None, :, line]
        return over & over.T & ~np.eye(len(shapes), dtype=bool)

    def depth(self, shapes: Index, y_mm: Array) -> Array:
        """Return how near the middles of blocks are to who looks."""
        return self._deep[shapes] + self._deep_across * y_mm.mean(axis=1)


def _needed(free: Flags, over: Flags, depth: Array) -> Flags:
    """Return which block must be painted before which, (b, b); of two that reach into each other, the one
    whose middle is farther off.
    """
    first = over & ~free.T
    both = first & first.T
    if both.any():
        nearer = depth[:, None] - depth[None, :]
        number = np.arange(len(depth))
        first &= ~(both & ((nearer > 0) | ((nearer == 0) & (number[:, None] > number[None, :]))))
    return first


def _peeled(first: Flags) -> tuple[list[int], list[int], list[int]]:
    """Return what comes before every ring, in order; what is in a ring or between two; what comes after."""
    waits, holds = first.sum(axis=0), first.sum(axis=1)
    left = np.ones(len(first), dtype=bool)
    before: list[int] = []
    after: list[int] = []
    while (ready := np.flatnonzero(left & (waits == 0))).size:
        before.extend(ready.tolist())
        left[ready] = False
        waits -= first[ready].sum(axis=0)
    while (ready := np.flatnonzero(left & (holds == 0))).size:
        after.extend(ready.tolist())
        left[ready] = False
        holds -= first[:, ready].sum(axis=1)
    return before, np.flatnonzero(left).tolist(), after[::-1]


def _sliced(stack: Stack, ring: list[int], free: Flags, seen: _Seen, across: float) -> list[Layer]:
    """Return the blocks of a ring cut across at each other's ends, in order."""
    cuts = sorted({float(y) for at in ring for y in stack.y_mm[at]})
    found: list[Layer] = []
    for low, high in sorted(pairwise(cuts), reverse=across < 0):
        if high - low <= _SEEN_MM:
            continue
        middle = (low + high) / 2
        here = [at for at in ring if stack.y_mm[at, 0] < middle < stack.y_mm[at, 1]]
        shapes, y_mm = stack.shape_of[here], np.array([(low, high)] * len(here)).reshape(-1, 2)
        first = _needed(free[np.ix_(shapes, shapes)], seen.overlap(shapes, y_mm), seen.depth(shapes, y_mm))
        for at in _in_order(first, seen.depth(shapes, y_mm)):
            y0, y1 = stack.y_mm[here[at]].tolist()
            found.append(Layer(here[at], low, high, (low - y0 <= _SEEN_MM, y1 - high <= _SEEN_MM)))
    return found


def _in_order(first: Flags, depth: Array) -> list[int]:
    """Return an order; where shapes that reach into each other leave none, the farthest comes next."""
    order: list[int] = []
    left = np.ones(len(first), dtype=bool)
    while left.any():
        waits = first[left].sum(axis=0)
        ready = np.flatnonzero(left & (waits == 0))
        if not ready.size:
            ready = np.array([int(np.flatnonzero(left)[np.argmin(depth[left])])])
        order.extend(ready.tolist())
        left[ready] = False
    return order
