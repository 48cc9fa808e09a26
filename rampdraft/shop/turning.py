"""Whether two pieces are one and the same thing to the saw, and which pieces have hands.

A piece is its profile, as deep as its section is wide. A section that can be bought here is alike on its left
and right side, so the profile and the holes through it say nothing of hands: a rail coped at one end becomes
its own mirror image when it is turned end for end. Three half turns lay a piece on the bench anew:

- end for end, about the upright axis: x runs the other way, left and right side change places;
- over, about its length: y runs the other way, top side and underside change places, and left and right side
  too;
- both, in its own plane: x and y run the other way, the sides stay.

What remains is a mark or a hole on one side of a piece, left or right, or nearer to it: only such a piece can
differ from its mirror image, and only if no half turn brings the mark back. Which way up a mark lies (top or
underside) goes with the turns alike.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, TypeVar

from rampdraft.geometry.members.member import Drilled, Face, Mark, Piece
from rampdraft.geometry.outline import Hole, Vertex
from rampdraft.units import MM

SAME_MM: Final = 0.001
"""Sizes nearer than this are the same size: far below what any saw keeps, far above the rounding of the
computer.
"""

_SIDES: Final[dict[Face, Face]] = {"left side": "right side", "right side": "left side"}
_LEVELS: Final[dict[Face, Face]] = {"top": "underside", "underside": "top"}

_ON_SIDES: Final[tuple[Face, ...]] = ("left side", "right side", "side")

_T = TypeVar("_T")


@dataclass(frozen=True, slots=True)
class _Shape:
    """What makes a piece the piece it is, with the corners of its profile laid against both axes."""

    vertices: tuple[Vertex, ...]
    holes: tuple[Hole, ...]
    marks: tuple[Mark, ...]
    drilled: tuple[Drilled, ...]
    size: tuple[MM, MM]
    """Width and depth of the section, which places across are turned in."""


def same_piece(a: Piece, b: Piece) -> bool:
    """Return whether `a` can stand in for `b`, turned end for end or over if need be."""
    return _comparable(a, b) and (a == b or _fits(_shape(a), _shape(b)))


def has_sides(piece: Piece) -> bool:
    """Return whether a mark or a hole may tell a piece from its mirror image: on its left or right side, or
    off its middle line on top or underside.
    """
    middle = piece.section.width_mm / 2
    return any(mark.face in _SIDES for mark in piece.marks) or any(
        hole.face in _SIDES or (hole.face in _LEVELS and not _near(hole.across_mm, middle))
        for hole in piece.drilled
    )


def is_other_hand(a: Piece, b: Piece) -> bool:
    """Return whether `a` is the mirror image of `b` and cannot be made the same by turning it."""
    if not _comparable(a, b):
        return False
    shape, mirrored = _shape(a), _swapped(_shape(b), _SIDES)
    return mirrored != _shape(b) and _fits(shape, mirrored) and not _fits(shape, _shape(b))


def _comparable(a: Piece, b: Piece) -> bool:
    return (
        a.role == b.role
        and a.section == b.section
        and a.material == b.material
        and a.load_n == b.load_n
        and _near(a.length_mm, b.length_mm)
        and len(a.profile.outline.vertices) == len(b.profile.outline.vertices)
    )


def _fits(shape: _Shape, wanted: _Shape) -> bool:
    """Return whether one of the four ways to lay `shape` on the bench is `wanted`."""
    return any(_equal(one, wanted) for one in _ways(shape))


def _ways(shape: _Shape) -> Iterator[_Shape]:
    yield shape
    yield _end_for_end(shape)
    over = _over(shape)
    yield over
    yield _end_for_end(over)


def _shape(piece: Piece) -> _Shape:
    size = piece.section.width_mm, piece.section.depth_mm
    outline, holes = piece.profile.outline.vertices, piece.profile.holes
    return _laid(outline, holes, piece.marks, piece.drilled, size)


def _laid(
    vertices: Sequence[Vertex],
    holes: Sequence[Hole],
    marks: Sequence[Mark],
    drilled: Sequence[Drilled],
    size: tuple[MM, MM],
) -> _Shape:
    left, low = min(x for x, _, _ in vertices), min(y for _, y, _ in vertices)
    return _Shape(
        tuple((x - left, y - low, bulge) for x, y, bulge in vertices),
        tuple(Hole(hole.x_mm - left, hole.y_mm - low, hole.diameter_mm) for hole in holes),
        tuple(replace(mark, at_mm=mark.at_mm - left) for mark in marks),
        tuple(replace(hole, at_mm=hole.at_mm - left) for hole in drilled),
        size,
    )


def _end_for_end(shape: _Shape) -> _Shape:
    mirrored = _laid(
        _reversed(tuple((-x, y, bulge) for x, y, bulge in shape.vertices)),
        [Hole(-hole.x_mm, hole.y_mm, hole.diameter_mm) for hole in shape.holes],
        [replace(mark, at_mm=-mark.at_mm) for mark in shape.marks],
        [replace(hole, at_mm=-hole.at_mm) for hole in shape.drilled],
        shape.size,
    )
    return _swapped(mirrored, _SIDES)


def _over(shape: _Shape) -> _Shape:
    mirrored = _laid(
        _reversed(tuple((x, -y, bulge) for x, y, bulge in shape.vertices)),
        [Hole(hole.x_mm, -hole.y_mm, hole.diameter_mm) for hole in shape.holes],
        shape.marks,
        [_lower(hole, shape.size[1]) for hole in shape.drilled],
        shape.size,
    )
    return _swapped(mirrored, _SIDES | _LEVELS)


def _lower(hole: Drilled, depth: MM) -> Drilled:
    """Return a hole in a side as far from the top as it was from the underside."""
    return replace(hole, across_mm=depth - hole.across_mm) if hole.face in _ON_SIDES else hole


def _reversed(vertices: tuple[Vertex, ...]) -> tuple[Vertex, ...]:
    """Return a mirrored outline counter-clockwise again: both changes turn the sign of a bulge, so it
    stays.
    """
    count = len(vertices)
    return tuple((*vertices[-1 - k][:2], vertices[(-2 - k) % count][2]) for k in range(count))


def _swapped(shape: _Shape, faces: dict[Face, Face]) -> _Shape:
    marks = tuple(replace(mark, face=faces.get(mark.face, mark.face)) for mark in shape.marks)
    width, _ = shape.size
    drilled = tuple(
        replace(
            hole,
            face=faces.get(hole.face, hole.face),
            across_mm=hole.across_mm if hole.face in _ON_SIDES else width - hole.across_mm,
        )
        for hole in shape.drilled
    )
    return _Shape(shape.vertices, shape.holes, marks, drilled, shape.size)


def _equal(a: _Shape, b: _Shape) -> bool:
    return (
        _same_outline(a.vertices, b.vertices)
        and _same_set(a.holes, b.holes, _same_hole)
        and _same_set(a.marks, b.marks, _same_mark)
        and _same_set(a.drilled, b.drilled, _same_drilled)
    )


def _same_outline(a: tuple[Vertex, ...], b: tuple[Vertex, ...]) -> bool:
    """Return whether two outlines are the same, whichever corner each begins with."""
    count = len(a)
    return any(
        all(_same_side(a[k], a[(k + 1) % count], b[(k + shift) % count]) for k in range(count))
        for shift in range(count)
    )


def _same_side(start: Vertex, end: Vertex, other: Vertex) -> bool:
    rise = abs(start[2] - other[2]) * (abs(end[0] - start[0]) + abs(end[1] - start[1])) / 2
    return _near(start[0], other[0]) and _near(start[1], other[1]) and rise <= SAME_MM


def _same_hole(a: Hole, b: Hole) -> bool:
    return _near(a.x_mm, b.x_mm) and _near(a.y_mm, b.y_mm) and _near(a.diameter_mm, b.diameter_mm)


def _same_mark(a: Mark, b: Mark) -> bool:
    return replace(a, at_mm=b.at_mm) == b and _near(a.at_mm, b.at_mm)


def _same_drilled(a: Drilled, b: Drilled) -> bool:
    alike = replace(a, at_mm=b.at_mm, across_mm=b.across_mm) == b
    return alike and _near(a.at_mm, b.at_mm) and _near(a.across_mm, b.across_mm)


def _same_set(a: tuple[_T, ...], b: tuple[_T, ...], same: Callable[[_T, _T], bool]) -> bool:
    """Return whether each of `a` has a partner of its own in `b`, whatever their order."""
    left = list(b)
    for one in a:
        found = next((k for k, other in enumerate(left) if same(one, other)), None)
        if found is None:
            return False
        del left[found]
    return not left


def _near(a: MM, b: MM) -> bool:
    return abs(a - b) <= SAME_MM
