"""What to measure of a wheeled user: its silhouette from the side, and below it its wheels from above, with
every size that its form asks for, under the same letter.

A size in brackets is not the user's own but as its class has it (ISO 129-1: auxiliary dimensions).
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import Final

from rampdraft.drawing import dimension
from rampdraft.drawing.ink import Ink, Label, Picture, area, line, ring
from rampdraft.drawing.text import mm_text
from rampdraft.drawing.users.silhouette import (
    HEEL_MM,
    TOES_MM,
    attendant_at,
    body_of,
    box_of,
    feet,
    silhouette,
)
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.model.design import WheeledUser
from rampdraft.model.fields.paths import fields_of
from rampdraft.model.fields.record import Dim
from rampdraft.model.rolling_shape import Low, RollingShape, ShapeAxle, left_to_class, shape_of, told
from rampdraft.units import MM
from rampdraft.words.figures import figure
from rampdraft.words.say import say

_NEAR: Final = 5.0
_ROW: Final = 6.5
_FAR: Final = 11.0
"""On paper: from the outline to the first dimension line, from line to line, and to the second line."""

LETTERS: Final = {
    info.name: info.record.letter
    for info in fields_of(WheeledUser)
    if isinstance(info.record, Dim) and info.record.letter
}
"""Of the sizes that are drawn."""


def measured_view(user: WheeledUser, path: str, per_mm: MM) -> Picture:
    """Return what is to be measured of a user whose values lie at `path` in the design (`use.users[1]`);
    `per_mm`: see `dimension`.
    """
    sheet = _Sheet(user=user, shape=shape_of(user), path=path, per_mm=per_mm)
    marks = (*_from_the_side(sheet), *_from_above(sheet))
    x0, y0, x1, y1 = box_of(marks)
    word = 14 * per_mm
    """Room for a value that stands beyond the last line."""
    return Picture(
        marks=marks,
        box=(x0 - word, y0 - 4 * per_mm, x1 + word, y1 + 2 * per_mm),
        title=say("What to measure of {user}", user=user.name),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    """What is drawn, and how large."""

    user: WheeledUser
    shape: RollingShape
    path: str
    per_mm: MM

    @property
    def left_mm(self) -> MM:
        """Return how far it reaches to the front."""
        low = self.low("footrest")
        ahead = low.from_mm if low is not None else 0.0
        return min(ahead, -self.shape.axles[0].radius_mm)

    @property
    def right_mm(self) -> MM:
        """Return how far its wheels, and what hangs behind them, reach to the back."""
        last = self.shape.axles[-1]
        low = self.low("anti-tip wheels")
        return max(last.behind_mm + (HEEL_MM if last.held else last.radius_mm), low.to_mm if low else 0.0)

    @property
    def middle_mm(self) -> MM:
        """Return the height on the sheet of the middle line of the view from above."""
        return -(2 * _ROW + 2 * _NEAR) * self.per_mm - self.user.width_mm / 2

    def low(self, part: str) -> Low | None:
        """Return what hangs low, where there is any."""
        return next((low for low in self.shape.lows if low.part == part), None)

    def owner(self, name: str) -> str:
        """Return the path of a value in the design."""
        return f"{self.path}.{name}"

    def text(self, name: str) -> str:
        """Return a value under its letter: `B 450`, in brackets where it is as its class has it."""
        value = mm_text(told(self.user, name))
        own = getattr(self.user, name) or left_to_class(self.user, name) is None
        return f"{LETTERS[name]} {value}" if own else f"{LETTERS[name]} ({value})"

    def level(self, name: str, a: Point, b: Point, row: int) -> tuple[Ink, ...]:
        """Return a dimension along, in a row below the ground."""
        at = -(_NEAR + (row - 1) * _ROW) * self.per_mm
        before = "before" if name == "footrest_depth_mm" else "after"
        return dimension.level(
            a, b, self.text(name), at=at, per_mm=self.per_mm, owner=self.owner(name), outside=before
        )

    def upright(self, name: str, low: Point, high: Point, at: MM) -> tuple[Ink, ...]:
        """Return a dimension up or across, its line at x = `at`."""
        return dimension.upright(
            low, high, self.text(name), at=at, per_mm=self.per_mm, owner=self.owner(name)
        )

    def leader(self, name: str, tip: Point, to: Point) -> tuple[Ink, ...]:
        """Return a leader whose value has paper behind it."""
        found = dimension.leader(tip, to, self.text(name), per_mm=self.per_mm, owner=self.owner(name))
        return tuple(
            replace(mark, boxed=True, at=(mark.at[0], to[1])) if isinstance(mark, Label) else mark
            for mark in found
        )


# From the side
# ----------------------------------------------------------------------------------------------


def _from_the_side(sheet: _Sheet) -> Iterator[Ink]:
    shape, per_mm, stands = sheet.shape, sheet.per_mm, attendant_at(sheet.shape)
    yield line(
        (sheet.left_mm - (_NEAR + _FAR) * per_mm, 0.0), (_furthest_mm(sheet) + _FAR * per_mm, 0.0), "ground"
    )
    yield from silhouette(shape)
    if stands is not None:
        yield feet(stands)
    yield from _along(sheet, stands)
    yield from _heights(sheet)
    for axle in shape.axles:
        if not axle.held:
            yield from _radius(sheet, axle)


def _furthest_mm(sheet: _Sheet) -> MM:
    handle, stands = body_of(sheet.shape).handle, attendant_at(sheet.shape)
    return max(sheet.right_mm, handle[0] if handle else 0.0, stands + 95 if stands is not None else 0.0)


def _along(sheet: _Sheet, stands: MM | None) -> Iterator[Ink]:
    """Yield what is measured along the ground."""
    axles, last = sheet.shape.axles, sheet.shape.axles[-1].behind_mm
    rests, small = sheet.low("footrest"), sheet.low("anti-tip wheels")
    yield from sheet.level("wheelbase_mm", (0.0, 0.0), (last, 0.0), 1)
    if len(axles) > 2:
        yield from sheet.level("middle_behind_mm", (0.0, 0.0), (axles[1].behind_mm, 0.0), 2)
    if rests is not None:
        end, inner = (rests.from_mm, rests.height_mm), (rests.to_mm, rests.height_mm)
        yield from sheet.level("footrest_ahead_mm", end, (0.0, 0.0), 1)
        yield from sheet.level("footrest_depth_mm", end, inner, 2)
    if small is not None:
        yield from sheet.level("anti_tip_behind_mm", (last, 0.0), (small.from_mm, small.height_mm), 1)
    if stands is not None and stands > last:
        yield from sheet.level("attendant_behind_mm", (last, 0.0), (stands, 0.0), 2 if small else 1)


def _heights(sheet: _Sheet) -> Iterator[Ink]:
    """Yield what is measured up from the ground."""
    shape, per_mm = sheet.shape, sheet.per_mm
    rests, small, handle = sheet.low("footrest"), sheet.low("anti-tip wheels"), body_of(shape).handle
    beside = sheet.left_mm - _NEAR * per_mm
    if rests is not None:
        high = (rests.from_mm, rests.height_mm)
        yield from sheet.upright("footrest_height_mm", (beside, 0.0), high, beside)
    if small is not None:
        at = small.from_mm + _NEAR * per_mm
        yield from sheet.upright("anti_tip_height_mm", (at, 0.0), (small.from_mm, small.height_mm), at)
    under = sheet.low("underside")
    if under is not None:
        at, last = _between_wheels(shape), shape.axles[-1]
        yield line(
            (0.0, under.height_mm), (last.behind_mm, under.height_mm), "hidden", sheet.owner("underside_mm")
        )
        yield from sheet.upright("underside_mm", (at, 0.0), (at, under.height_mm), at)
    yield from _mass_centre(sheet, beside - _FAR * per_mm)
    if handle is not None:
        at = _furthest_mm(sheet) + (_NEAR + _ROW * (small is not None)) * per_mm
        yield from sheet.upright("push_height_mm", (at, 0.0), handle, at)


def _between_wheels(shape: RollingShape) -> MM:
    """Return the middle of the widest gap between wheels, seen from the side."""
    ends = [(axle.behind_mm, 0.0 if axle.held else axle.radius_mm) for axle in shape.axles]
    gaps = [(at + radius, to - next_radius) for (at, radius), (to, next_radius) in pairwise(ends)]
    start, end = max(gaps, key=lambda gap: gap[1] - gap[0])
    return (start + end) / 2


def _mass_centre(sheet: _Sheet, at: MM) -> Iterator[Ink]:
    """Yield the mass centre, its height, and what scales under the front wheels would show of the mass."""
    shape, per_mm, name = sheet.shape, sheet.per_mm, "front_share_percent"
    centre = (shape.centre_behind_mm, shape.centre_height_mm)
    yield from sheet.upright("mass_centre_height_mm", (at, 0.0), centre, at)
    yield ring(centre, 1.4 * per_mm, pen="outline", owner=sheet.owner(name))
    yield from dimension.centre_mark(centre, 2.4 * per_mm, sheet.owner(name))
    share = f"{LETTERS[name]} {figure(sheet.user.front_share_percent, '%')}"
    yield Label(text=share, at=(centre[0] + 3.5 * per_mm, centre[1]), boxed=True, owner=sheet.owner(name))


def _radius(sheet: _Sheet, axle: ShapeAxle) -> Iterator[Ink]:
    """Yield a wheel's radius, from its middle to its rim and on to the value."""
    across, up = {"front": (-0.6, 0.8), "middle": (0.6, 0.8), "rear": (0.8, 0.6)}[axle.name]
    centre, reach = (axle.behind_mm, axle.radius_mm), axle.radius_mm + 5 * sheet.per_mm
    rim = (centre[0] + across * axle.radius_mm, centre[1] + up * axle.radius_mm)
    to = (centre[0] + across * reach, centre[1] + up * reach)
    yield line(centre, rim, "dimension", sheet.owner(f"{axle.name}_radius_mm"))
    yield from sheet.leader(f"{axle.name}_radius_mm", rim, to)


# From above
# ----------------------------------------------------------------------------------------------


def _from_above(sheet: _Sheet) -> Iterator[Ink]:
    """Yield wheels and footrests from above, within the overall width."""
    shape, per_mm, middle, user = sheet.shape, sheet.per_mm, sheet.middle_mm, sheet.user
    half, left, right = user.width_mm / 2, sheet.left_mm, sheet.right_mm
    yield area(
        rectangle(left, middle - half, right, middle + half), "hidden", "none", sheet.owner("width_mm")
    )
    yield line((left - 3 * per_mm, middle), (right + 3 * per_mm, middle), "centre")
    rests = sheet.low("footrest")
    if rests is not None:
        low, high = middle - rests.half_width_mm, middle + rests.half_width_mm
        yield area(rectangle(rests.from_mm, low, max(rests.to_mm, rests.from_mm), high), "thin", "inner")
    for axle in shape.axles:
        yield from _feet(sheet, axle) if axle.held else _wheels(sheet, axle)
    yield from _across(sheet)
    yield from _tyres(sheet)


def _wheels(sheet: _Sheet, axle: ShapeAxle) -> Iterator[Ink]:
    """Yield the wheels of an axle from above, each with its contact in the middle."""
    x, middle = axle.behind_mm, sheet.middle_mm
    if axle.track_mm:
        yield line((x, middle - axle.track_mm / 2), (x, middle + axle.track_mm / 2), "thin")
    for side in axle.sides_mm:
        low, high = middle + side - axle.tyre_mm / 2, middle + side + axle.tyre_mm / 2
        yield area(rectangle(x - axle.radius_mm, low, x + axle.radius_mm, high), "outline", "paper")
        contact = sheet.user.tyre_contact_mm / 2
        yield area(rectangle(x - contact, low, x + contact, high), "thin", "carrier")


def _feet(sheet: _Sheet, axle: ShapeAxle) -> Iterator[Ink]:
    """Yield the feet of whoever carries the rear."""
    for side in (-sheet.user.rear_track_mm / 2, sheet.user.rear_track_mm / 2):
        at, middle = axle.behind_mm, sheet.middle_mm + side
        yield area(rectangle(at - TOES_MM, middle - 45, at + HEEL_MM, middle + 45), "thin", "none")


def _across(sheet: _Sheet) -> Iterator[Ink]:
    """Yield the tracks and the overall width."""
    middle, per_mm = sheet.middle_mm, sheet.per_mm
    front, rear = sheet.shape.axles[0], sheet.shape.axles[-1]
    for name, axle, at in (
        ("front_track_mm", front, sheet.left_mm - _NEAR * per_mm),
        ("rear_track_mm", rear, sheet.right_mm + _NEAR * per_mm),
    ):
        half = getattr(sheet.user, name) / 2
        ends = (axle.behind_mm, middle - half), (axle.behind_mm, middle + half)
        yield from sheet.upright(name, *ends, at)
    half, at = sheet.user.width_mm / 2, sheet.right_mm + (_NEAR + _ROW) * per_mm
    ends = (sheet.right_mm, middle - half), (sheet.right_mm, middle + half)
    yield from sheet.upright("width_mm", *ends, at)


def _tyres(sheet: _Sheet) -> Iterator[Ink]:
    """Yield the tyres' widths, below the wheel that each is of, and the length of their contact."""
    per_mm, rolling = sheet.per_mm, [axle for axle in sheet.shape.axles if not axle.held]
    front, rear = rolling[0], rolling[-1]
    below = sheet.middle_mm - sheet.user.width_mm / 2 - _NEAR * per_mm
    for name, axle, lean in (("front_tyre_mm", front, -3), ("tyre_width_mm", rear, 3)):
        tip = (axle.behind_mm + lean * per_mm / 2, sheet.middle_mm + axle.sides_mm[0] - axle.tyre_mm / 2)
        yield from sheet.leader(name, tip, (tip[0] + lean * per_mm, below))
    tip = (rear.behind_mm - sheet.user.tyre_contact_mm / 2, sheet.middle_mm + rear.sides_mm[-1])
    to = (tip[0] - 4 * per_mm, tip[1] - 5 * per_mm)
    yield from sheet.leader("tyre_contact_mm", tip, to)
