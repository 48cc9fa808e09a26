"""The grips of the ground: its points, each between its neighbours; more of them are set on its line by hand,
and taken away.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from typing import cast

from rampdraft.drawing.grips.grip import Grip, Slide, field_of
from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.outline import Point
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, with_value
from rampdraft.model.fields.record import Dim
from rampdraft.units import MM


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundGrip(Grip):
    """A point of the ground of a site."""

    site_number: int
    """Counted from 1."""
    number: int
    """Counted from 1, from the deck outward."""


def ground_grips(design: Design, site_number: int) -> Iterator[GroundGrip]:
    """Yield the points of the ground of a site, counted from 1."""
    path = f"sites[{site_number}].ground_mm"
    info = info_of(path)
    assert info is not None
    record, points = cast("Dim", info.record), design.sites[site_number - 1].ground_mm
    for number, (x, z) in enumerate(points, start=1):
        low = points[number - 2][0] if number > 1 else record.low
        high = points[number][0] if number < len(points) else record.high
        one = f"{path}[{number}]"
        ways = (
            Slide(path=one, item=0, value=x, toward=(1.0, 0.0), low=low, high=high),
            Slide(path=one, item=1, value=z, toward=(0.0, 1.0), low=record.low, high=record.high),
        )
        yield GroundGrip(key=one, at=(x, z), ways=ways, rank=3, site_number=site_number, number=number)


def with_point(design: Design, beside: GroundGrip, place: Point, reach_mm: MM) -> tuple[Design, str] | None:
    """Return the design with another point on the ground of a site, in whole mm, where its line comes nearest
    to a place, and the key of that point; None where the line is further away than `reach_mm`.
    """
    site = design.sites[beside.site_number - 1]
    stretches = pairwise(ground_line(site).points)
    near = [_nearest(before, after, place) for before, after in stretches]
    at = min(range(len(near)), key=lambda one: math.dist(near[one], place))
    if math.dist(near[at], place) > reach_mm:
        return None
    x, z = near[at]
    points = (*site.ground_mm[:at], (float(round(x)), float(round(z))), *site.ground_mm[at:])
    path = field_of(beside.key)
    return with_value(design, path, points), f"{path}[{at + 1}]"


def between(design: Design, beside: GroundGrip) -> Point:
    """Return the place halfway from a point of the ground to the next one outward, or, of the last one, to
    the one before; of the only one, as far out as the ramp is long.
    """
    points = design.sites[beside.site_number - 1].ground_mm
    (x, z), at = points[beside.number - 1], beside.number
    if len(points) == 1:
        return x + design.inner_leaf.length_mm + design.outer_leaf.length_mm, z
    other = points[at] if at < len(points) else points[at - 2]
    return (x + other[0]) / 2, (z + other[1]) / 2


def without_point(design: Design, grip: GroundGrip) -> Design:
    """Return the design without a point of the ground."""
    points = design.sites[grip.site_number - 1].ground_mm
    left = (*points[: grip.number - 1], *points[grip.number :])
    return with_value(design, field_of(grip.key), left)


def _nearest(before: Point, after: Point, place: Point) -> Point:
    """Return the place of a stretch that is nearest to a place."""
    (x0, z0), (x1, z1) = before, after
    dx, dz = x1 - x0, z1 - z0
    along = ((place[0] - x0) * dx + (place[1] - z0) * dz) / (dx * dx + dz * dz)
    share = min(max(along, 0.0), 1.0)
    return x0 + share * dx, z0 + share * dz
