"""A grip: a place of a drawing that can be taken hold of, and what pulling it means for values of the design.

Data without a window: where it is, which way it moves as a value grows, and within what range. A grip is of
the pose that it is drawn in: the drawing may follow by turning the leaves, the grip says how its value moves
it as long as they lie still.
"""

import math
from dataclasses import dataclass, replace
from typing import Any, Final, cast

from rampdraft.drawing.clip import Enlarged
from rampdraft.geometry.outline import Point
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, value_at, with_value
from rampdraft.model.fields.record import Dim
from rampdraft.model.section import Section
from rampdraft.model.sold import sold_sections, sold_sizes
from rampdraft.model.spacing import fixed, follows
from rampdraft.units import MM

WHOLE: Final = 1.0
FINE: Final = 0.1
"""What a hand sets values to: whole millimetres or degrees, or tenths."""
IN_PLACE: Final = 1
"""Grips of this rank and less stay where they are on the whole drawing; the others need a closer look."""
_ALONG: Final = 0.3
"""An arrow moves what lies more in its direction than this cosine."""
_NOISE: Final = 9
"""Decimals that a value keeps."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slide:
    """A value that moves its grip along a straight line, evenly."""

    path: str
    value: float
    toward: Point
    """How far the grip moves, in mm of the drawing, as the value grows by one unit."""
    low: float
    high: float
    item: int | None = None
    """Which number of a point, where the value is one of those."""
    sizes: tuple[MM, ...] = ()
    """What it can be bought in, rising; nothing for what is cut or set to any size."""

    def moved(self, at: Point, value: float) -> Point:
        """Return where the grip is that is `at` its place now, with another value."""
        step = value - self.value
        return at[0] + self.toward[0] * step, at[1] + self.toward[1] * step

    def pulled(self, at: Point, place: Point) -> float:
        """Return the value that puts the grip as near to a place as it comes."""
        (dx, dz), (tx, tz) = (place[0] - at[0], place[1] - at[1]), self.toward
        return self.value + (dx * tx + dz * tz) / (tx * tx + tz * tz)


@dataclass(frozen=True, slots=True, kw_only=True)
class Turn:
    """An angle in degrees that moves its grip round a centre, counter-clockwise as it grows."""

    path: str
    value: float
    centre: Point
    low: float
    high: float
    item: None = None
    sizes: tuple[MM, ...] = ()

    def moved(self, at: Point, value: float) -> Point:
        """Return where the grip is that is `at` its place now, with another value."""
        angle = math.radians(value - self.value)
        (x, z), (cx, cz), cos, sin = at, self.centre, math.cos(angle), math.sin(angle)
        return cx + cos * (x - cx) - sin * (z - cz), cz + sin * (x - cx) + cos * (z - cz)

    def pulled(self, at: Point, place: Point) -> float:
        """Return the value that puts the grip as near to a place as it comes: the way round that is short."""
        turn = math.degrees(self._bearing(place) - self._bearing(at))
        return self.value + (turn + 180.0) % 360.0 - 180.0

    def _bearing(self, place: Point) -> float:
        return math.atan2(place[1] - self.centre[1], place[0] - self.centre[0])


Way = Slide | Turn


def heading(way: Way, at: Point) -> Point:
    """Return which way a grip that is `at` its place moves as a value grows, as a vector of length 1."""
    if isinstance(way, Slide):
        x, z = way.toward
    else:
        x, z = way.centre[1] - at[1], at[0] - way.centre[0]
    length = math.hypot(x, z)
    return x / length, z / length


@dataclass(frozen=True, slots=True, kw_only=True)
class Grip:
    """A place with one value that moves it, or two that move it to anywhere."""

    key: str
    """Stays put while values change."""
    at: Point
    ways: tuple[Way, ...]
    rank: int = 0
    """Where two have no room beside one another, the one of lesser rank is shown."""
    measures: bool = True
    """Whether its values are sizes on the drawing, from where they count to where it is."""

    @property
    def values(self) -> tuple[float, ...]:
        """Return what the values are now."""
        return tuple(way.value for way in self.ways)

    @property
    def paths(self) -> tuple[str, ...]:
        """Return the paths of the values, each once."""
        return tuple(dict.fromkeys(way.path for way in self.ways))

    def moved(self, values: tuple[float, ...]) -> Point:
        """Return where the grip is with other values, as long as the leaves lie still."""
        at = self.at
        for way, value in zip(self.ways, values, strict=True):
            at = way.moved(at, value)
        return at

    def pulled(self, place: Point, *, fine: bool = False) -> tuple[float, ...]:
        """Return the values that bring the grip to a place: within their range, in whole mm or degrees and in
        sizes that are sold, or in tenths.
        """
        return tuple(_set(way, way.pulled(self.at, place), fine=fine) for way in self.ways)

    def stepped(self, across: int, up: int, *, fine: bool = False) -> tuple[float, ...]:
        """Return the values one step further towards the right, or upwards; those that move the grip aslant
        to that stay.
        """
        found: list[float] = []
        for way in self.ways:
            ahead = heading(way, self.at)
            along = across * ahead[0] + up * ahead[1]
            sense = 0 if abs(along) < _ALONG else 1 if along > 0 else -1
            found.append(_next(way, sense, fine=fine) if sense else way.value)
        return tuple(found)

    def put(self, design: Design, values: tuple[float, ...]) -> Design:
        """Return the design with other values; one that followed from the rest is given from then on."""
        for way, value in zip(self.ways, values, strict=True):
            if value != way.value:
                design = _with(design, way, value)
        return design


def slide(design: Design, path: str, toward: Point) -> Slide:
    """Return the way of an ordinary value, within the range of its record and in the sizes it is sold in."""
    info = info_of(path)
    assert info is not None
    record = cast("Dim", info.record)
    return Slide(
        path=path,
        value=value_at(design, path),
        toward=toward,
        low=record.low,
        high=record.high,
        sizes=sold_sizes(design, path),
    )


def _set(way: Way, value: float, *, fine: bool) -> float:
    """Return the nearest value that a hand may set."""
    if way.sizes and not fine:
        return min(way.sizes, key=lambda size: abs(size - value))
    step = FINE if fine else WHOLE
    return _within(way, round(value / step) * step)


def _next(way: Way, sense: int, *, fine: bool) -> float:
    """Return the next value up or down that a hand may set."""
    if way.sizes and not fine:
        beyond = [size for size in way.sizes if (size - way.value) * sense > 0]
        return way.value if not beyond else min(beyond, key=lambda size: abs(size - way.value))
    step = FINE if fine else WHOLE
    steps = round(way.value / step, 6)  # so that a value on a step is on it
    return _within(way, (math.floor(steps) + 1 if sense > 0 else math.ceil(steps) - 1) * step)


def _within(way: Way, value: float) -> float:
    return round(min(max(value, way.low), way.high), _NOISE)


def _with(design: Design, way: Way, value: float) -> Design:
    design = fixed(design, way.path) if follows(design, way.path) else design
    now: Any = value_at(design, way.path)
    if way.item is not None:
        new: Any = (*now[: way.item], value, *now[way.item + 1 :])
    elif isinstance(now, Section):
        new = _section(design, now, value)
    else:
        new = value
    return with_value(design, way.path, new)


def _section(design: Design, now: Section, depth_mm: MM) -> Section:
    """Return the section of a depth that is sold and most like the present one; one that nobody sells keeps
    its other sizes.
    """
    sold = [one for one in sold_sections(design, now.kind) if one.depth_mm == depth_mm]
    width_mm = depth_mm if now.kind in ("round", "tube") else now.width_mm
    return min(
        sold,
        key=lambda one: (abs(one.width_mm - now.width_mm), abs(one.wall_mm - now.wall_mm)),
        default=replace(now, depth_mm=depth_mm, width_mm=width_mm),
    )


def enlarged(grip: Grip, detail: Enlarged) -> Grip:
    """Return a grip where a detail shows it, larger: there it is pulled as much further."""
    ways = tuple(
        replace(way, centre=detail.at(way.centre))
        if isinstance(way, Turn)
        else replace(way, toward=(way.toward[0] * detail.times, way.toward[1] * detail.times))
        for way in grip.ways
    )
    return replace(grip, at=detail.at(grip.at), ways=ways)


def within_details(grips: tuple[Grip, ...], details: tuple[Enlarged, ...]) -> tuple[Grip, ...]:
    """Return grips with those of a rank above `IN_PLACE` shown in the first detail that shows their place."""
    return tuple(
        next((enlarged(grip, one) for one in details if grip.rank > IN_PLACE and one.shows(grip.at)), grip)
        for grip in grips
    )


def field_of(path: str) -> str:
    """Return the path of the field that the value at a path stands in: of a point, that of all points."""
    return path.rpartition("[")[0] if path.endswith("]") else path


def with_room(grips: tuple[Grip, ...], least_mm: MM, keep: str = "") -> tuple[Grip, ...]:
    """Return the grips that have room beside one another, those of lesser rank first; the one whose key is
    `keep` always.
    """
    kept: list[Grip] = []
    for grip in sorted(grips, key=lambda grip: (grip.key != keep, grip.rank)):
        if all(math.dist(grip.at, other.at) >= least_mm for other in kept):
            kept.append(grip)
    return tuple(grip for grip in grips if grip in kept)
