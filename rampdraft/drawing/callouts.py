"""What is said beside a detail, with a leader to what it is about: part numbers in rings, welds as ISO 2553
draws them, notes.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

from rampdraft.drawing.clip import Box, around, grown
from rampdraft.drawing.dimension import ARROW_MM, leader_line
from rampdraft.drawing.ink import Ink, Label, Path, Picture, line, polyline
from rampdraft.drawing.lattice import Lattice
from rampdraft.drawing.letters import MM_PER_PT, words_mm
from rampdraft.drawing.placing import Stand, Wanted, stands, stands_within
from rampdraft.drawing.words_room import Room, room_of
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

_SIZE_PT: Final = 7.5
_TALL_MM: Final = 5.2
"""Of a row of words, with their ring or their weld sign."""
_GAP_MM: Final = 5.0
"""From the window to the words."""
_ROUND_MM: Final = 1.4
_SIGN_MM: Final = 2.6
"""Height of the triangle of a fillet weld."""

Kind = Literal["part", "weld", "note", "size"]
"""A size is a note on an edge, such as the radius of an arc."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Callout:
    """Words with a leader."""

    text: str
    tip: Point
    kind: Kind = "note"
    or_at: tuple[Point, ...] = ()
    """Where else it may point."""
    around: bool = False
    """Of a weld: all the way round."""
    both_sides: bool = False
    """Of a weld: on the arrow side and on the other."""


def called_out(
    callouts: Sequence[Callout], window: Box, per_mm: MM, words: Sequence[Room] = ()
) -> tuple[tuple[Ink, ...], Box]:
    """Return the ink of all of them beside a window, and the box of window and words; no leader goes through
    `words` in the window as long as there is another way.
    """
    wanted = [_wanted(one, per_mm) for one in callouts]
    found = stands(wanted, window, _GAP_MM * per_mm, words=words)
    marks = tuple(
        mark for one, stand in zip(callouts, found, strict=True) for mark in _marks(one, stand, per_mm)
    )
    return marks, grown(around([window, *(stand.box for stand in found)]), 0.6 * per_mm)


def called_within(picture: Picture, callouts: Sequence[Callout], per_mm: MM) -> Picture:
    """Return a picture with callouts where it is empty or beside it.

    One that finds no place is left out: who asks looks which are there.
    """
    if not callouts:
        return picture
    lattice = Lattice(grown(picture.box, _BEYOND_MM * per_mm), per_mm, cell_mm=_CELL_MM)
    words = [room_of(mark, per_mm) for mark in picture.marks if isinstance(mark, Label)]
    ink = lattice.with_areas(lattice.taken(picture.marks), [grown(room.box, 0.8 * per_mm) for room in words])
    wanted = [_wanted(one, per_mm) for one in callouts]
    found = stands_within(wanted, lattice, ink, picture.box, words)
    marks: list[Ink] = []
    boxes = [picture.box]
    for one, stand in zip(callouts, found, strict=True):
        if stand is not None:
            marks.extend(_marks(one, stand, per_mm))
            boxes.append(grown(stand.box, 0.6 * per_mm))
    return replace(picture, marks=(*picture.marks, *marks), box=around(boxes))


_BEYOND_MM: Final = 24.0
"""So far beside a picture its balloons may stand, on paper."""
_CELL_MM: Final = 1.0
"""Of the lattice that tells where there is room for them."""


def _wanted(one: Callout, per_mm: MM) -> Wanted:
    wide, tall = _size(one)
    least = 1.5 * ARROW_MM * per_mm if one.kind == "size" else 0.0
    return Wanted(tips=(one.tip, *one.or_at), size=(wide * per_mm, tall * per_mm), least_mm=least)


def _size(one: Callout) -> tuple[MM, MM]:
    wide = words_mm(one.text, _SIZE_PT)
    match one.kind:
        case "part":
            return max(wide + 3.0, _TALL_MM), _TALL_MM
        case "weld":
            return wide + 2 * _SIGN_MM + 1.6 + _ring_mm(one), _TALL_MM + (_SIGN_MM if one.both_sides else 0.0)
        case _:
            return wide + 1.0, _TALL_MM - 0.8


def _marks(one: Callout, stand: Stand, per_mm: MM) -> Iterator[Ink]:
    x0, y0, x1, y1 = stand.box
    middle, base = (x0 + x1) / 2, (y0 + y1) / 2 - 0.36 * _SIZE_PT * MM_PER_PT * per_mm
    match one.kind:
        case "part":
            yield from leader_line(stand.tip, stand.from_point, "dot", per_mm=per_mm)
            yield _ring(stand.box)
            yield Label(text=one.text, at=(middle, base), anchor="centre", pen="outline", size_pt=_SIZE_PT)
        case "weld":
            yield from leader_line(stand.tip, stand.from_point, "arrow", per_mm=per_mm)
            yield from _weld(one, stand, per_mm)
        case _:
            end = "arrow" if one.kind == "size" else "dot"
            yield from leader_line(stand.tip, stand.from_point, end, per_mm=per_mm)
            at = (x0 + 0.5 * per_mm, base)
            yield Label(text=one.text, at=at, pen="outline", size_pt=_SIZE_PT)


def _ring_mm(one: Callout) -> MM:
    """Return the room before the words for the ring of a weld all round."""
    return _ROUND_MM if one.around else 0.0


def _ring(box: Box) -> Path:
    """Return a ring about a part number, drawn out where the number is long."""
    x0, y0, x1, y1 = box
    r = (y1 - y0) / 2
    corners = ((x0 + r, y0, 0.0), (x1 - r, y0, 1.0), (x1 - r, y1, 0.0), (x0 + r, y1, 1.0))
    if x1 - x0 - 2 * r < 1e-9:
        corners = ((x0, y0 + r, 1.0), (x1, y0 + r, 1.0))
    return Path(vertices=corners, closed=True, pen="thin")


def _weld(one: Callout, stand: Stand, per_mm: MM) -> Iterator[Ink]:
    """Yield a weld's reference line with its triangle below, and above it too where the other side has one;
    the words are a throat before the sign and a row of the weld list behind it (ISO 2553:2019, system A).
    """
    x0, y0, x1, _ = stand.box
    sign = _SIGN_MM * per_mm
    level = y0 + sign + 0.4 * per_mm
    size, _, rest = one.text.partition(" ")
    x0 += _ring_mm(one) * per_mm
    start = x0 + words_mm(size, _SIZE_PT) * per_mm + 0.8 * per_mm
    yield line((x0, level), (x1, level), "dimension")
    for way in (-1, 1) if one.both_sides else (-1,):
        foot = level + way * sign
        yield polyline(((start, level), (start, foot), (start + sign, level)), "dimension")
    if one.around:
        knee = (stand.from_point[0], level)
        yield Path(
            vertices=((knee[0] - 0.9 * per_mm, level, 1.0), (knee[0] + 0.9 * per_mm, level, 1.0)),
            closed=True,
            pen="dimension",
        )
    below = level - 0.95 * _SIZE_PT * MM_PER_PT * per_mm
    yield Label(text=size, at=(x0, below), pen="outline", size_pt=_SIZE_PT)
    yield Label(
        text=rest, at=(start + sign + 0.6 * per_mm, level + 0.5 * per_mm), pen="outline", size_pt=_SIZE_PT
    )
