"""A cure of a check of rolling, drawn: the place that fails as it is and as it becomes, beside or above each
other, each with its user there. In what it becomes, the outline as it is stands as a ghost.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rampdraft.checks.demands.rolling_cases import Rolled
from rampdraft.checks.result import Check, Finding
from rampdraft.drawing.axes import fitting
from rampdraft.drawing.clip import Box, Enlarged
from rampdraft.drawing.ink import Ink, Label, Path, Picture, area
from rampdraft.drawing.rolling import body_marks, met_marks, place_marks, still_marks, window_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.explore.ways_out.rolled import check_of, roll_of, shift_mm
from rampdraft.explore.ways_out.words import sides_words, way_words
from rampdraft.geometry.outline import rectangle
from rampdraft.mechanics.rolled import AlongSite, UserAt
from rampdraft.mechanics.rolling.results import Roll, Worst
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.model.fields.paths import label_of
from rampdraft.model.rolling_shape import RollingShape, shape_of
from rampdraft.units import MM
from rampdraft.words.say import say, within

_GAP_MM: Final = 4.0
"""On paper, between the two."""
_LINE_MM: Final = 4.2
_WORDS_MM: Final = 2 * _LINE_MM + 1.0
"""On paper, for two lines over each."""
_SMALLEST_MM: Final = (60.0, 28.0)
"""Nothing is laid out for less."""
_SIZE_PT: Final = 8.0
_NEAR_MM: Final = 120.0
"""What is worst this near to the place that fails is looked at where it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Side:
    """A place with its user, before the cure or after it."""

    evaluation: Evaluation
    roll: Roll
    check: Check
    look: Worst
    user: UserAt
    shape: RollingShape


def cure_picture(
    before: Evaluation, after: Evaluation, check: Check, way: WayOut, room_mm: tuple[MM, MM]
) -> Picture | None:
    """Return the place that a check of rolling tells of as it is and as a way out makes it, laid out for a
    room on paper; None for any other check, and where its user does not roll there any more.
    """
    found = check.found
    if not isinstance(found, Rolled):
        return None
    sides = _side(before, check, found, 0.0), _side(after, check, found, shift_mm(before, after, found))
    if sides[0] is None or sides[1] is None:
        return None
    wide, tall = max(room_mm[0], _SMALLEST_MM[0]), max(room_mm[1], _SMALLEST_MM[1])
    name = within(label_of(way.path))
    heads = [
        (f"{word}: {name} {value}", f"{word}: {value}")
        for word, value in zip((say("As it is"), say("Changed")), sides_words(way), strict=True)
    ]
    first, other = _frames(wide, tall)
    marks = (
        *_marks(sides[0], first, heads[0], ()),
        *_marks(sides[1], other, heads[1], tuple(met_marks(sides[0].roll))),
    )
    return Picture(marks=marks, box=(0.0, 0.0, wide, tall), title=f"{check.title}. {way_words(way)}")


def _side(one: Evaluation, like: Check, found: Rolled, shift: MM) -> _Side | None:
    rolled = roll_of(one, found)
    check = check_of(one, rolled, like) if rolled is not None else None
    if rolled is None or check is None:
        return None
    look = _look(found.worst, shift, check.found)
    pitch = float(rolled.pitch_rad[np.abs(rolled.front_mm - look.front_mm).argmin()])
    rolled = rolled.about(look.front_mm)
    surfaces = Surfaces(one.design, one.assembly, rolled.pose)
    along = AlongSite(one.design, found.user, rolled.pose, surfaces, found.facing, look.across_mm)
    return _Side(
        evaluation=one,
        roll=rolled,
        check=check,
        look=look,
        user=along.at(look.front_mm, pitch),
        shape=shape_of(one.design.use.users[found.user - 1]),
    )


def _look(worst: Worst, shift: MM, now: Finding) -> Worst:
    """Return where to look: where it is worst now, if that is still about the place that failed."""
    moved = replace(worst, x_mm=worst.x_mm + shift, front_mm=worst.front_mm + shift)
    if isinstance(now, Rolled) and abs(now.worst.x_mm - moved.x_mm) < _NEAR_MM:
        return now.worst
    return moved


def _frames(wide: MM, tall: MM) -> tuple[Box, Box]:
    """Return the frames of both: beside each other, or above each other where that leaves them larger."""
    beside = (wide - _GAP_MM) / 2, tall - _WORDS_MM
    above = wide, (tall - _GAP_MM) / 2 - _WORDS_MM
    if min(beside) >= min(above):
        width, height = beside
        return (0.0, 0.0, width, height), (width + _GAP_MM, 0.0, wide, height)
    width, height = above
    low = height + _WORDS_MM + _GAP_MM
    return (0.0, low, width, low + height), (0.0, 0.0, width, height)


def _marks(side: _Side, frame: Box, heads: tuple[str, str], was: tuple[Path, ...]) -> Iterator[Ink]:
    detail = Enlarged(window=window_of(side.roll, side.look, frame), frame=frame)
    small = 1 / detail.times
    path = f"use.users[{side.roll.user}]"
    ink = (
        *still_marks(side.evaluation, side.roll.pose, detail.window, small),
        *(replace(mark, pen="ghost") for mark in was),
        *met_marks(side.roll),
        *body_marks(side.shape, side.user, path),
        *place_marks(side.user, path, small),
    )
    yield area(rectangle(*frame), "outline", "paper")
    yield from detail.marks(ink, 0.05)
    yield area(rectangle(*frame), "outline", "none")
    x0, _, x1, top = frame
    told = f"{say(side.check.result)}: {side.check.value_text}"
    for line, words in enumerate(((told, told.partition(", ")[0]), heads)):
        at = (x0, top + 1.2 + line * _LINE_MM)
        text = fitting(words, x1 - x0)
        yield Label(text=text, at=at, pen="outline", size_pt=_SIZE_PT)
