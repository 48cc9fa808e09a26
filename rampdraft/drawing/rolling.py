"""A user rolling over the ramp, from the side: the ramp as it lies at a site with the user on it, and above
or beside that the place that matters, enlarged.

What lies still is drawn once for a sheet (`rolling_sheet`), the user at each place (`RollingSheet.moving`).
The wheels seen are those on the right of somebody who walks down. In the enlarged detail the outline that
they meet is drawn wide: off the slats it is not the one that the section shows.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rampdraft.drawing import dimension, surroundings
from rampdraft.drawing.axes import fitting
from rampdraft.drawing.clip import Box, Enlarged
from rampdraft.drawing.handling import spring_marks
from rampdraft.drawing.ink import Ink, Label, Path, Picture, area, line, polyline, ring
from rampdraft.drawing.rolling_words import PLACES, facing_of, pose_words
from rampdraft.drawing.side import FINE_FROM, prop_marks, ramp_marks
from rampdraft.drawing.text import mm_text
from rampdraft.drawing.users.silhouette import box_of, feet, silhouette
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.linkage import edge_height_mm, placings
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolled import LowAt, UserAt, WheelAt
from rampdraft.mechanics.rolling.results import Roll, RolledWheel, Way, Worst
from rampdraft.model.rolling_shape import RollingShape, shape_of
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

_GAP_MM: Final = 5.0
"""On paper, between the whole and the detail."""
_WORDS_MM: Final = 10.0
"""On paper, for two lines over both."""
_SMALLEST_MM: Final = (80.0, 50.0)
"""Nothing is laid out for less."""
_LINE_MM: Final = 4.4
_LETTER_MM: Final = 1.8
"""About how wide a letter of a detail's label is."""
_DETAIL_MM: Final = 260.0
"""The lesser side of what the detail shows: a wheel, and the step or the angle that it meets."""
_TIMES: Final = 6.0
"""It is no larger than so many times the whole."""
_WIDEST: Final = 6.0
"""Of the detail's frame, wide to high."""
_LEAST: Final = 0.3
"""Share of the sheet that the detail has at least."""
_MOST: Final = 0.5
_DEEP_MM: Final = 25.0
"""So far below what a wheel reaches the outline under it is drawn."""
_LOOKS: Final = 61
"""So many places between two are looked at for the room that a picture needs."""
_CENTRE_MM: Final = 1.3
_TOUCH_MM: Final = 0.7
_FIELDS: Final = {
    "footrest": "footrest_height_mm",
    "underside": "underside_mm",
    "anti-tip wheels": "anti_tip_height_mm",
}
_OFF_MM: Final = 1.0
"""A wheel further off than this hangs."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RollingSheet:
    """A sheet on which a user rolls over a site one way."""

    shape: RollingShape
    path: str
    """Of the user in the design: `use.users[1]`."""
    way: Way
    per_mm: MM
    box: Box
    detail: Enlarged
    still: tuple[Ink, ...]

    def picture(self, user: UserAt) -> Picture:
        """Return the whole with the user at a place."""
        title = say("{user} rolling {way}", user=self.shape.name, way=say(self.way))
        return Picture(marks=(*self.still, *self.moving(user)), box=self.box, title=title)

    def moving(self, user: UserAt) -> tuple[Ink, ...]:
        """Return the user at a place, on the ramp and in the detail, with what it comes to in words."""
        body = body_marks(self.shape, user, self.path)
        small = self.per_mm / self.detail.times
        return (
            *body,
            *place_marks(user, self.path, self.per_mm),
            *_centre(user, self.per_mm),
            *self.detail.marks((*body, *place_marks(user, self.path, small)), 0.05 * self.per_mm),
            area(rectangle(*self.detail.frame), "outline", "none"),
            *_detail_label(user, self.detail, self.per_mm),
            *self._words(user),
        )

    def _words(self, user: UserAt) -> Iterator[Label]:
        x0, _, x1, z1 = self.box
        for number, words in enumerate(pose_words(user, facing_of(self.way)[1])):
            at = (x0, z1 - (3.2 + number * _LINE_MM) * self.per_mm)
            text = fitting((words,), (x1 - x0) / self.per_mm)
            yield Label(text=text, at=at, pen="outline", size_pt=8.0)


def rolling_sheet(
    evaluation: Evaluation, site: SitePose, roll: Roll, way: Way, look: Worst, room_mm: tuple[MM, MM]
) -> RollingSheet:
    """Return the sheet for a user's way over a site, with the place of `look` enlarged; `room_mm` is its
    width and height on paper, which it fills unless it is very small.
    """
    shape = shape_of(evaluation.design.use.users[roll.user - 1])
    scene = _scene(roll, shape)
    room_mm = max(room_mm[0], _SMALLEST_MM[0]), max(room_mm[1], _SMALLEST_MM[1])
    per_mm, box, main, frame = _laid_out(scene, look.x_mm, room_mm)
    window = window_of(roll, look, frame)
    detail = Enlarged(window=window, frame=frame)
    still = still_marks(evaluation, site, main, per_mm)
    large = (*still_marks(evaluation, site, window, per_mm / detail.times), *met_marks(roll))
    place = say(PLACES[look.place])
    words = fitting(
        (say("{place}, {times} times as large", place=place, times=fixed(detail.times, 1)), place),
        (frame[2] - frame[0]) / per_mm - 4,
    )
    return RollingSheet(
        shape=shape,
        path=f"use.users[{roll.user}]",
        way=way,
        per_mm=per_mm,
        box=box,
        detail=detail,
        still=(
            *still,
            area(rectangle(*window), "centre", "none"),
            area(rectangle(*frame), "outline", "paper"),
            *detail.marks(large, 0.05 * per_mm),
            Label(text=words, at=(frame[0] + 1.5 * per_mm, frame[1] + 2.6 * per_mm), size_pt=8.0, boxed=True),
        ),
    )


# The sheet
# ----------------------------------------------------------------------------------------------


def _scene(roll: Roll, shape: RollingShape) -> Box:
    """Return the room that the whole way takes, with the ramp."""
    u0, _, u1, tall = box_of(silhouette(shape))
    first, last = float(roll.front_mm[0]), float(roll.front_mm[-1])
    x0, x1 = (first + u0, last + u1) if roll.facing == "deck" else (first - u1, last - u0)
    low, high = _levels_mm(roll, x0, x1)
    margin = 0.02 * (x1 - x0)
    return x0, min(0.0, low) - margin, x1, high + tall + margin / 2


def _levels_mm(roll: Roll, x0_mm: MM, x1_mm: MM) -> tuple[MM, MM]:
    """Return the lowest and the highest of what the wheels meet between two places along."""
    surfaces = {id(wheel.surface): wheel.surface.points_mm for wheel in roll.wheels}
    x = np.linspace(x0_mm, x1_mm, _LOOKS)
    found = [np.interp(x, points[:, 0], points[:, 1]) for points in surfaces.values()]
    return min(float(each.min()) for each in found), max(float(each.max()) for each in found)


def _laid_out(scene: Box, at_mm: MM, room_mm: tuple[MM, MM]) -> tuple[MM, Box, Box, Box]:
    """Return how much a mm of paper shows, and the boxes of sheet, whole and detail: above the place that it
    shows, or beside the whole, whichever leaves the whole larger.
    """
    wide, tall = room_mm[0], room_mm[1] - _WORDS_MM
    along, high = scene[2] - scene[0], scene[3] - scene[1]
    above = max(along / wide, high / ((1 - _LEAST) * tall - _GAP_MM))
    side = min(max(_LEAST * wide, wide - _GAP_MM - along * tall / high), _MOST * wide)
    beside = max(along / (wide - side - _GAP_MM), high / tall)
    per_mm = min(above, beside)
    width, height, gap = wide * per_mm, tall * per_mm, _GAP_MM * per_mm
    x0, z0 = (scene[0] + scene[2] - width) / 2 if above <= beside else scene[0], scene[1]
    sheet = (x0, z0, x0 + width, z0 + height + _WORDS_MM * per_mm)
    if above <= beside:
        low = scene[3] + gap
        across = min(width, _WIDEST * (z0 + height - low))
        left = min(max(at_mm - across / 2, x0), x0 + width - across)
        return per_mm, sheet, (x0, z0, x0 + width, scene[3]), (left, low, left + across, z0 + height)
    left, deep = x0 + width - side * per_mm, min(height, 1.2 * side * per_mm)
    return per_mm, sheet, (x0, z0, left - gap, scene[3]), (left, z0, x0 + width, z0 + deep)


def window_of(roll: Roll, look: Worst, frame: Box) -> Box:
    """Return what a detail in a frame shows: the place, and as low as wheels come beside it."""
    width, height = frame[2] - frame[0], frame[3] - frame[1]
    times = min(min(width, height) / _DETAIL_MM, _TIMES)
    half, tall = width / times / 2, height / times
    beside = np.linspace(look.x_mm - half, look.x_mm + half, _LOOKS)
    come = min(float(wheel.path.height_mm(beside).min()) - wheel.radius_mm for wheel in roll.wheels)
    low = max(come - 0.14 * tall, _levels_mm(roll, look.x_mm, look.x_mm)[0] - 0.75 * tall)
    return look.x_mm - half, low, look.x_mm + half, low + tall


def still_marks(evaluation: Evaluation, site: SitePose, box: Box, per_mm: MM) -> Iterator[Ink]:
    """Yield what lies still within a box: ground, deck, the ramp as it lies there."""
    design, top = evaluation.design, edge_height_mm(evaluation.design, site.drop_mm)
    yield from surroundings.ground_marks(
        ground_line(design.sites[site.site_number - 1]), box[0], box[2], per_mm
    )
    deck = max(-box[0], surroundings.shown_mm(design))
    yield from surroundings.carrier_marks(design, top, per_mm, deck, site.nod_rad)
    yield from ramp_marks(
        evaluation,
        pose=site.pose,
        drop_mm=site.drop_mm,
        flap_rad=site.flap_rad if site.flap is not None else None,
        fine=per_mm > FINE_FROM,
    )
    yield from prop_marks(evaluation, site.pose, site.site_number)
    yield from spring_marks(design, placings(design, site.pose, site.drop_mm), site.drop_mm, per_mm)


def met_marks(roll: Roll) -> Iterator[Path]:
    """Yield the outlines that the wheels seen meet, each once, no deeper than they come near."""
    seen: list[object] = []
    for wheel in roll.wheels:
        if wheel.across_mm == _nearest_mm(roll, wheel) and wheel.surface not in seen:
            seen.append(wheel.surface)
            yield from _near(wheel)


def _near(wheel: RolledWheel) -> Iterator[Path]:
    """Yield what of an outline is not far below its wheel: a gap goes on down to the ground."""
    points = wheel.surface.points_mm
    above = points[:, 1] - wheel.path.height_mm(points[:, 0]) + wheel.radius_mm + _DEEP_MM
    run: list[Point] = []
    for number, ((x0, z0), (x1, z1)) in enumerate(
        zip(points[:-1].tolist(), points[1:].tolist(), strict=True)
    ):
        over, beyond = float(above[number]), float(above[number + 1])
        if over < 0 and beyond < 0:
            continue
        part = over / (over - beyond) if over * beyond < 0 else 0.0
        cut = (x0 + part * (x1 - x0), z0 + part * (z1 - z0))
        if over < 0 or not run:
            run = [cut]
        run.append(cut if beyond < 0 else (x1, z1))
        if beyond < 0:
            yield polyline(run, "ground")
            run = []
    if run:
        yield polyline(run, "ground")


def _nearest_mm(roll: Roll, wheel: RolledWheel) -> MM:
    return min(one.across_mm for one in roll.wheels if one.axle == wheel.axle)


# Who rolls
# ----------------------------------------------------------------------------------------------


def _seen(user: UserAt) -> tuple[WheelAt, ...]:
    """Return of each axle the wheel on the right of somebody who walks down."""
    nearest = {wheel.axle: wheel for wheel in sorted(user.wheels, key=lambda wheel: -wheel.across_mm)}
    return tuple(nearest.values())


def body_marks(shape: RollingShape, user: UserAt, path: str) -> tuple[Ink, ...]:
    """Return a user where it is, with wheels that have turned, and with the feet of whoever carries it;
    `path` is that of the user in the design.
    """
    return *_carried(shape, user), *_spokes(user, path), *_feet(user)


def _carried(shape: RollingShape, user: UserAt) -> Iterator[Ink]:
    """Yield the silhouette where the user is, in the plane of the furthest of its wheels that are seen."""
    sunk = user.lean * min(wheel.across_mm for wheel in user.wheels)
    sign = 1.0 if user.facing == "deck" else -1.0
    for mark in silhouette(shape):
        if isinstance(mark, Path):
            places = ((user.point(u, w), bulge) for u, w, bulge in mark.vertices)
            yield replace(mark, vertices=tuple((x, z + sunk, sign * bulge) for (x, z), bulge in places))


def _spokes(user: UserAt, path: str) -> Iterator[Path]:
    for wheel in _seen(user):
        if not wheel.held:
            for angle in (wheel.turned_rad, wheel.turned_rad + math.pi / 2):
                x, z = 0.82 * wheel.radius_mm * math.cos(angle), 0.82 * wheel.radius_mm * math.sin(angle)
                (at_x, at_z) = wheel.centre
                yield line(
                    (at_x - x, at_z - z), (at_x + x, at_z + z), "thin", f"{path}.{wheel.axle}_radius_mm"
                )


def _feet(user: UserAt) -> Iterator[Path]:
    """Yield the feet of whoever carries it at the back."""
    sign = 1.0 if user.facing == "deck" else -1.0
    legs = feet(0.0)
    for wheel in user.wheels:
        if wheel.held and isinstance(legs, Path):
            x0, z0 = wheel.contact
            yield replace(
                legs, vertices=tuple((x0 + sign * x, z0 + z, bulge) for x, z, bulge in legs.vertices)
            )


def place_marks(user: UserAt, path: str, per_mm: MM) -> Iterator[Ink]:
    """Yield what its wheels touch or are off, and the least clearance."""
    for wheel in _seen(user):
        if wheel.gap_mm > _OFF_MM:
            x, z = wheel.centre
            yield line((x, z - wheel.radius_mm), wheel.contact, "clash")
        elif not wheel.held:
            yield ring(wheel.contact, _TOUCH_MM * per_mm, pen="accent")
    x, z = user.low.at
    below, owner = z - user.low.clearance_mm, f"{path}.{_FIELDS[user.low.part]}"
    yield line((x, z), (x, below), "accent", owner)
    for end in (z, below):
        yield line((x - _CENTRE_MM * per_mm, end), (x + _CENTRE_MM * per_mm, end), "accent", owner)


def _centre(user: UserAt, per_mm: MM) -> Iterator[Ink]:
    """Yield the mass centre, and the plumb line from it."""
    at = user.mass_centre
    yield line(at, (at[0], min(wheel.contact[1] for wheel in user.wheels)), "centre")
    yield ring(at, _CENTRE_MM * per_mm, pen="outline")
    yield from dimension.centre_mark(at, 4 * _CENTRE_MM * per_mm)


def _detail_label(user: UserAt, detail: Enlarged, per_mm: MM) -> Iterator[Ink]:
    """Yield the clearance beside its mark, where the detail shows it."""
    x, z = detail.at((user.low.at[0], user.low.at[1] - user.low.clearance_mm / 2))
    x0, z0, x1, z1 = detail.frame
    if not (x0 < x < x1 and z0 < z < z1):
        return
    text = clearance_text(user.low)
    text = fitting((text, text.rpartition(", ")[2]), (x1 - x0) / per_mm / 2)
    wide, inset = _LETTER_MM * len(text) * per_mm, 1.5 * per_mm
    left = max(x0 + inset, min(x + 7 * per_mm, x1 - inset - wide))
    high = min(z + 9 * per_mm, z1 - 4 * per_mm)
    yield line((x, z), (min(max(x, left), left + wide), high), "accent")
    yield Label(text=text, at=(left, high + per_mm), pen="accent", size_pt=9.0, boxed=True)


def clearance_text(low: LowAt) -> str:
    """Return the least clearance as it stands beside its mark: `footrest, 23 clear`."""
    clear = low.clearance_mm
    return say(
        "{part}, {clearance} clear" if clear >= 0 else "{part}, {clearance} aground",
        part=say(low.part),
        clearance=mm_text(abs(clear)),
    )
