"""Words of a drawing moved off what they lie on: other words, and lines that matter (ISO 129-1: no line
crosses a value).

Every view on a sheet passes here, so that each draws its words where they belong and none looks after the
others'. What lies clear stays. What does not goes to the nearest place of those that its kind allows: a
value along its dimension line, above it or below it, and in the end beside it with a leader; a running
value farther along its extension line; other words to any side.
"""

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.drawing.clip import around, grown
from rampdraft.drawing.dimension import LIFT_MM
from rampdraft.drawing.ink import Ink, Label, Path, Pen, Picture, line
from rampdraft.drawing.letters import MM_PER_PT
from rampdraft.drawing.words_room import TALL, Lines, Room, room_of
from rampdraft.geometry.outline import Outline, Point
from rampdraft.units import MM

_MATTERLESS: Final[frozenset[Pen]] = frozenset(("swept", "ghost", "own"))
"""Lines that are as good as not there."""
_STEP_MM: Final = 1.5
_ALONG_MM: Final = 30.0
_ASIDE_MM: Final = 24.0
"""How far words are moved, at most."""
_SIDEWAYS: Final = 1.6
"""A step aside costs so much more than one along."""
_LED_MM: Final = 8.0
"""What a value costs that needs a leader."""
_SAGITTA_MM: Final = 0.05
_AIR_MM: Final = 0.25
"""Between words and what lies beside them."""


def cleared(picture: Picture, per_mm: MM) -> Picture:
    """Return a picture with the words that lay on something moved clear, its box with room for them."""
    labels = [number for number, mark in enumerate(picture.marks) if isinstance(mark, Label) and mark.text]
    drawn = lines_of(picture.marks, per_mm)
    rooms = {number: room_of(_label(picture.marks[number]), per_mm) for number in labels}
    found: dict[int, tuple[Ink, ...]] = {}
    for number in labels:
        label = _label(picture.marks[number])
        others = np.concatenate([drawn, _frames(room for key, room in rooms.items() if key != number)])
        if not rooms[number].meets(others, 0.0):
            continue
        for moved, led in _tries(label, per_mm):
            room = room_of(moved, per_mm)
            leader = np.array([] if led is None else [led]).reshape(-1, 4)
            if room.meets(others, _AIR_MM * per_mm) or any(
                one.meets(leader, 0.0) for key, one in rooms.items() if key != number
            ):
                continue
            rooms[number] = room
            lines = () if led is None else (line(led[:2], led[2:], "dimension", label.owner),)
            drawn = np.concatenate([drawn, leader]) if led is not None else drawn
            found[number] = (moved, *lines)
            break
    if not found:
        return picture
    marks = tuple(part for number, mark in enumerate(picture.marks) for part in found.get(number, (mark,)))
    boxes = [grown(rooms[number].box, per_mm) for number in found]
    return replace(picture, marks=marks, box=around([picture.box, *boxes]))


def lines_of(marks: Iterable[Ink], per_mm: MM) -> Lines:
    """Return the lines that words may not lie on."""
    runs = [_run(mark, per_mm) for mark in marks if isinstance(mark, Path) and mark.pen not in _MATTERLESS]
    found = [np.hstack([run[:-1], run[1:]]) for run in runs if len(run) > 1]
    return np.concatenate(found) if found else np.empty((0, 4))


def _label(mark: Ink) -> Label:
    assert isinstance(mark, Label)
    return mark


def _run(path: Path, per_mm: MM) -> NDArray[np.float64]:
    vertices = path.vertices if path.closed else (*path.vertices[:-1], (*path.vertices[-1][:2], 0.0))
    if any(bulge for _, _, bulge in vertices):
        points = list(Outline(vertices).points(_SAGITTA_MM * per_mm))
    else:
        points = [(x, y) for x, y, _ in vertices]
    return np.array([*points, points[0]] if path.closed else points)


def _frames(rooms: Iterable[Room]) -> Lines:
    """Return the sides of what words cover, and a line along their middle for words that lie within."""
    found: list[tuple[float, ...]] = []
    for room in rooms:
        a, b, c, d = room.corners
        found += [(*one, *other) for one, other in ((a, b), (b, c), (c, d), (d, a))]
        found.append(((a[0] + d[0]) / 2, (a[1] + d[1]) / 2, (b[0] + c[0]) / 2, (b[1] + c[1]) / 2))
    return np.array(found).reshape(-1, 4)


Led = tuple[float, float, float, float] | None


def _tries(label: Label, per_mm: MM) -> Iterator[tuple[Label, Led]]:
    """Yield where a label may go, the nearest place first, with its leader where it needs one."""
    angle = math.radians(label.angle_deg)
    along, aside = (math.cos(angle), math.sin(angle)), (-math.sin(angle), math.cos(angle))
    for _, u, v, led in sorted(_steps(label)):
        at = (
            label.at[0] + (u * along[0] + v * aside[0]) * per_mm,
            label.at[1] + (u * along[1] + v * aside[1]) * per_mm,
        )
        moved = replace(label, at=at)
        measures = label.measures
        if measures is not None and not label.runs:
            (px, py), (qx, qy) = measures.ends
            moved = replace(moved, measures=replace(measures, moved=True))
            if led:
                middle = ((px + qx) / 2, (py + qy) / 2)
                near = _nearest(room_of(moved, per_mm), middle)
                yield moved, (*near, *middle)
                continue
            reach = abs((at[0] - (px + qx) / 2) * along[0] + (at[1] - (py + qy) / 2) * along[1])
            if reach > math.dist((px, py), (qx, qy)) / 2 + 9.0 * per_mm:
                continue  # too far from its line to belong to it
        yield moved, None


def _steps(label: Label) -> Iterator[tuple[float, float, float, bool]]:
    """Yield what a label may be moved by, on paper, along its words and aside, with what that costs before it
    and whether it needs a leader then.
    """
    below = -TALL * label.size_pt * MM_PER_PT - 2 * LIFT_MM
    dimension = label.measures is not None and not label.runs
    for i in range(round(-_ALONG_MM / _STEP_MM), round(_ALONG_MM / _STEP_MM) + 1):
        u = i * _STEP_MM
        if label.runs:
            if u > 0:
                yield u, u, 0.0, False
            continue
        if dimension:
            yield abs(u), u, 0.0, False
            yield abs(u) + 1.0, u, below, False
        for j in range(round(-_ASIDE_MM / _STEP_MM), round(_ASIDE_MM / _STEP_MM) + 1):
            v = j * _STEP_MM
            yield math.hypot(u, _SIDEWAYS * v) + (_LED_MM if dimension else 0.0), u, v, dimension


def _nearest(room: Room, point: Point) -> Point:
    """Return where a leader to a point leaves what words cover: the nearest middle of a side or corner from
    which it does not go through them.
    """
    a, b, c, d = room.corners
    sides = [((p[0] + q[0]) / 2, (p[1] + q[1]) / 2) for p, q in ((a, b), (b, c), (c, d), (d, a))]
    (x, y), out = room.middle, 1.0 + 0.3 * room.tall / room.wide
    places = [(x + (px - x) * out, y + (py - y) * out) for px, py in (*sides, a, b, c, d)]
    clear = [one for one in places if not room.crossed(one, point)]
    return min(clear or places, key=lambda one: (round(math.dist(one, point), 6), one))
