"""A user as it is about to roll: the ways of its wheels, and the outlines below what hangs low.

A user that faces away from the deck is looked at in a mirror, so that its front always points to -x.
"""

import math
from dataclasses import dataclass, replace
from typing import Final

from rampdraft.mechanics.rolling.lows import Below, below
from rampdraft.mechanics.rolling.resting import Body, Support
from rampdraft.mechanics.rolling.results import Facing, RolledWheel
from rampdraft.mechanics.rolling.surfaces import Place, Surface, Surfaces
from rampdraft.mechanics.rolling.wheel_path import WheelPath
from rampdraft.model.rolling_shape import RollingShape
from rampdraft.units import MM

_FAR_MM: Final = 200.0
"""So far beyond deck edge and toe the last wheel goes on."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Rolling:
    """A user as it is about to roll, in its mirror where it faces away."""

    shape: RollingShape
    facing: Facing
    body: Body
    surfaces: tuple[Surface, ...]
    """Under each support."""
    belows: tuple[Below, ...]
    wheels: tuple[RolledWheel, ...]
    place: Place
    start_mm: MM
    end_mm: MM
    """Where its front axle goes."""
    across_mm: MM
    """Where its middle is, to the left of somebody who walks down."""

    @property
    def sign(self) -> float:
        """Return what the world's x is times."""
        return 1.0 if self.facing == "deck" else -1.0

    def between(self, from_mm: MM, to_mm: MM, step_mm: MM) -> "Rolling":
        """Return it with its front axle going no further than from one place of the world to another, by
        whole steps of where it begins.
        """
        low, high = sorted((from_mm * self.sign, to_mm * self.sign))
        begin = self.start_mm + step_mm * max(math.floor((low - self.start_mm) / step_mm), 0)
        return replace(self, start_mm=begin, end_mm=max(min(high, self.end_mm), begin + step_mm))


def about_to_roll(
    shape: RollingShape,
    surfaces: Surfaces,
    facing: Facing,
    across_mm: MM,
    beside_mm: tuple[MM, MM] = (0.0, 0.0),
) -> Rolling:
    """Return a user with the ways of its wheels and the outlines below it, its middle at a place across; what
    hangs low passes over all that lies so far beside it to the right and to the left, too.
    """
    sign = 1.0 if facing == "deck" else -1.0
    wheels = _wheels(shape, surfaces, sign, across_mm)
    start, end = ends_mm(shape, surfaces.tip_mm, facing)
    kept = _alike(wheels) or tuple(range(len(wheels)))
    numbers = [axle for axle, one in enumerate(shape.axles) for _ in one.sides_mm]
    seen = [_seen(wheels[at], sign) for at in kept]
    body = Body(
        supports=tuple(
            Support(
                axle=numbers[at],
                behind_mm=shape.axles[numbers[at]].behind_mm,
                radius_mm=wheels[at].radius_mm,
                across_mm=0.0 if len(kept) == len(shape.axles) else sign * (wheels[at].across_mm - across_mm),
                path=path,
            )
            for at, (_, path) in zip(kept, seen, strict=True)
        ),
        centre_behind_mm=shape.centre_behind_mm,
        centre_height_mm=shape.centre_height_mm,
    )
    under = [surfaces.between(low.half_width_mm, across_mm, beside_mm) for low in shape.lows]
    return Rolling(
        shape=shape,
        facing=facing,
        body=body,
        surfaces=tuple(surface for surface, _ in seen),
        belows=tuple(
            below(low, one if sign > 0 else one.mirrored) for low, one in zip(shape.lows, under, strict=True)
        ),
        wheels=wheels,
        place=surfaces.place,
        start_mm=start,
        end_mm=end,
        across_mm=across_mm,
    )


def ends_mm(shape: RollingShape, tip_mm: MM, facing: Facing) -> tuple[MM, MM]:
    """Return between which places the front axle of a user goes, in its mirror where it faces away."""
    sign = 1.0 if facing == "deck" else -1.0
    ahead = max(shape.axles[0].radius_mm, *(-low.from_mm for low in shape.lows))
    last = max(shape.wheelbase_mm + shape.axles[-1].radius_mm, *(low.to_mm for low in shape.lows))
    start, end = sorted((-_FAR_MM * sign, (tip_mm + _FAR_MM) * sign))
    return start - last, end + ahead


def _wheels(shape: RollingShape, surfaces: Surfaces, sign: float, across_mm: MM) -> tuple[RolledWheel, ...]:
    """Return the wheels, axle by axle, with their ways; feet that hands belong to count as one."""
    sides = [(axle, across_mm + sign * side) for axle in shape.axles for side in axle.sides_mm]
    under = [surfaces.under(y) for _, y in sides]
    radii = [axle.radius_mm for axle, _ in sides]
    ways = surfaces.ways(list(zip(under, radii, strict=True)))
    return tuple(
        RolledWheel(
            axle=axle.name, held=axle.held, across_mm=y, radius_mm=axle.radius_mm, surface=one, path=path
        )
        for (axle, y), one, path in zip(sides, under, ways, strict=True)
    )


def _alike(wheels: tuple[RolledWheel, ...]) -> tuple[int, ...]:
    """Return a wheel of each axle, where left and right go the same way on all; else nothing."""
    kept: list[int] = []
    for at, one in enumerate(wheels):
        if not at or wheels[at - 1].axle != one.axle:
            kept.append(at)
        elif not wheels[at - 1].path.goes_as(one.path):
            return ()
    return tuple(kept)


def _seen(wheel: RolledWheel, sign: float) -> tuple[Surface, WheelPath]:
    if sign > 0:
        return wheel.surface, wheel.path
    return wheel.surface.mirrored, wheel.path.mirrored(len(wheel.surface.points_mm))
