"""One user at one place along its way over a site: where its wheels and its body are, what they touch, and
what is left there. What is drawn and moved along is this; what is worst along the way is told by `rolling`.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from rampdraft.geometry.outline import Point
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.about import Rolling, about_to_roll
from rampdraft.mechanics.rolling.lows import Clear, clear_of
from rampdraft.mechanics.rolling.resting import Resting, Support, rest
from rampdraft.mechanics.rolling.results import Facing
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.rolling.worst import Figures, figures_of
from rampdraft.model.design import AxleName, Design, Site
from rampdraft.model.rolling_shape import RollingShape, shape_of
from rampdraft.units import MM, RAD, Array, N

_APART_MM = 5.0
"""A wheel's way is measured in steps of this, to turn the wheel by."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WheelAt:
    """A wheel, or an axle where left and right are alike, or hands above their feet."""

    axle: AxleName
    held: bool
    across_mm: MM
    """From the middle of the user, to the left of somebody who walks down; 0 of an axle."""
    radius_mm: MM
    centre: Point
    contact: Point
    gap_mm: MM
    """How far it hangs above what is below it."""
    share: float
    """Of the weight."""
    turned_rad: RAD
    """By which it has turned since one end of the way, positive counter-clockwise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LowAt:
    """The low part that is nearest to what it passes over."""

    part: str
    clearance_mm: MM
    """Upright; negative aground."""
    at: Point
    """The place of the part."""
    met: str
    """Key of the member below; `deck`, `ground`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class UserAt:
    """A user at one place."""

    facing: Facing
    front: Point
    """The centre of its front axle in the middle of the user."""
    front_radius_mm: MM
    pitch_rad: RAD
    """Against the level, positive leaning back."""
    lean: float
    """Rise over width, positive with the left of somebody who walks down up."""
    wheels: tuple[WheelAt, ...]
    """From the front, each axle from the right to the left of somebody who walks down, or the other way."""
    low: LowAt
    mass_centre: Point
    tip_back_rad: RAD | None
    tip_forward_rad: RAD | None
    """Angle left before it tips; None where hands hold it."""
    forces_n: tuple[N, N]
    """Level force that keeps it moving forwards and backwards; negative holds back."""

    def point(self, behind_mm: MM, above_mm: MM) -> Point:
        """Return where a point of the body's middle plane is: behind the front axle, above what it stands on
        when level.
        """
        sign = 1.0 if self.facing == "deck" else -1.0
        cos, sin = math.cos(-self.pitch_rad), math.sin(-self.pitch_rad)
        up = above_mm - self.front_radius_mm
        x = behind_mm * cos - up * sin
        return self.front[0] + sign * x, self.front[1] + behind_mm * sin + up * cos


class AlongSite:
    """A user on its way over a site, facing one way, in one state of the deck, at a place across."""

    def __init__(
        self,
        design: Design,
        number: int,
        pose: SitePose,
        surfaces: Surfaces,
        facing: Facing,
        across_mm: MM = 0.0,
    ) -> None:
        self.shape: RollingShape = shape_of(design.use.users[number - 1])
        self._site: Site = design.sites[pose.site_number - 1]
        self._rolling: Rolling = about_to_roll(self.shape, surfaces, facing, across_mm)
        self._lengths = tuple(self._way(support) for support in self._rolling.body.supports)

    def at(self, front_mm: MM, pitch_rad: RAD | None = None) -> UserAt:
        """Return the user with its front axle at a place along, as it lies nearest to a pitch: one that rocks
        on two wheels lies in two ways.
        """
        rolling, sign = self._rolling, self._rolling.sign
        body = rolling.body
        resting = rest(body, np.array([front_mm * sign]))
        if pitch_rad is not None:
            near = replace(resting, pitch_rad=np.array([-pitch_rad]))
            resting = rest(body, resting.front_mm, near)
        clears = [clear_of(below, body, resting) for below in rolling.belows]
        figures = figures_of(rolling, self._site, resting, clears)
        back, forward = float(figures.tip_back_rad[0]), float(figures.tip_forward_rad[0])
        held = np.isnan(back)
        centre_x, centre_z = resting.centre(body)
        return UserAt(
            facing=rolling.facing,
            front=(front_mm, float(resting.height_mm[0])),
            front_radius_mm=body.radius_mm,
            pitch_rad=-float(resting.pitch_rad[0]),
            lean=float(resting.lean[0]) * sign,
            wheels=tuple(self._wheel(number, resting, figures) for number in range(len(body.supports))),
            low=self._low(int(figures.which[0]), clears, resting),
            mass_centre=(float(centre_x[0]) * sign, float(centre_z[0])),
            tip_back_rad=None if held else back,
            tip_forward_rad=None if held else forward,
            forces_n=(float(figures.forwards_n[0]), float(figures.backwards_n[0])),
        )

    def _way(self, support: Support) -> tuple[Array, Array]:
        """Return places along of a wheel's centre, and how far it has come from the first of them."""
        rolling = self._rolling
        x = np.arange(rolling.start_mm, rolling.end_mm, _APART_MM) + support.behind_mm
        steps = np.hypot(np.diff(x), np.diff(support.path.height_mm(x)))
        return x, np.concatenate(([0.0], np.cumsum(steps)))

    def _wheel(self, number: int, resting: Resting, figures: Figures) -> WheelAt:
        """Return a wheel; one that hangs is above the place that it would touch."""
        sign, one = self._rolling.sign, self._rolling.body.supports[number]
        axle, x = self.shape.axles[one.axle], float(resting.x_mm[0, number])
        gap = float(resting.gaps_mm[0, number])
        contact_x, contact_z = (float(each[0, number]) for each in figures.contact_mm)
        came = float(np.interp(x, *self._lengths[number]))
        return WheelAt(
            axle=axle.name,
            held=axle.held,
            across_mm=one.across_mm * sign,
            radius_mm=one.radius_mm,
            centre=(x * sign, float(one.path.height_mm(np.array([x]))[0]) + gap),
            contact=(contact_x * sign, contact_z),
            gap_mm=gap,
            share=float(resting.shares[0, number]),
            turned_rad=-sign * came / one.radius_mm,
        )

    def _low(self, which: int, clears: list[Clear], resting: Resting) -> LowAt:
        under, clear, sign = self._rolling.belows[which], clears[which], self._rolling.sign
        x = float(clear.at_mm[0])
        ends = [
            resting.point(self._rolling.body, end, under.low.height_mm)
            for end in (under.low.from_mm, under.low.to_mm)
        ]
        (x0, z0), (x1, z1) = (tuple(float(each[0]) for each in end) for end in ends)
        share = (x - x0) / (x1 - x0) if x1 > x0 else 0.0
        return LowAt(
            part=under.low.part,
            clearance_mm=float(clear.clearance_mm[0]),
            at=(x * sign, z0 + share * (z1 - z0) - abs(float(resting.lean[0])) * under.low.half_width_mm),
            met=under.surface.name(int(clear.point[0])),
        )
