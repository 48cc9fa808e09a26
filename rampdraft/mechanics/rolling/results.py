"""What is found of users that roll over the ramp: frozen, in mm, N and radians; keys, no words."""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.results import DeckState, SitePose
from rampdraft.mechanics.rolling.surfaces import Surface
from rampdraft.mechanics.rolling.wheel_path import WheelPath
from rampdraft.model.design import AxleName
from rampdraft.rounding import greatest
from rampdraft.units import MM, Array, ArrayRecord, N

Facing = Literal["deck", "away"]
Way = Literal["up forwards", "down backwards", "down forwards", "up backwards"]
"""Up is towards the deck, whichever is higher."""
WAYS: dict[Facing, tuple[Way, Way]] = {
    "deck": ("up forwards", "down backwards"),
    "away": ("down forwards", "up backwards"),
}
"""How somebody goes who faces the deck or away from it: forwards, then backwards."""

Remark = Literal["held by hands", "wheels in line", "longer than the ramp"]
"""Said of a user that is looked at as any other: a barrow on one axle that hands carry at the other end;
wheels in one line, so that somebody keeps it upright; a wheelbase longer than both leaves.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Worst:
    """A figure where it is worst along the way."""

    value: float
    x_mm: MM
    """Where what it meets is."""
    front_mm: MM
    """x of the front axle's centre then."""
    part: str
    """Of the user: `front wheel`, `rear wheel`, `footrest`, `underside`, `mass`; the axle that would be the
    pivot.
    """
    met: str
    """Key of the member that it meets; `deck`, `ground`."""
    place: str
    """`deck`, `edge`, `inner`, `joint`, `outer`, `toe` or `ground`."""
    across_mm: MM = 0.0
    """Where the middle of the user is then, to the left of somebody who walks down."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WayWorst:
    """What is worst going one way."""

    way: Way
    push: Worst
    """Greatest level force that keeps it moving, N; on the handles, or of the driven wheels at their rims."""
    brake: Worst
    """Greatest force that holds it back, N; 0 where it never runs away."""
    bump: Worst | None
    """Greatest share of its load that a wheel needs to climb the kink that it meets, a level force on its
    axle; infinite where it cannot. None where no wheel meets any.
    """
    slowed: Worst | None
    """Least share of the speed that is left after a kink met while rolling."""
    bumps: tuple[Worst, ...]
    """The greatest bump at each of edge, joint and toe, where there is one."""
    grip: Worst | None
    """Greatest share of what its driven wheels give before they spin, or of its motor's push, that the way
    asks for; None of who is pushed.
    """
    run_up: Worst | None
    """Speed that it must come with where that is not enough, m/s; 0 where it is."""
    slide: Worst | None
    """Speed that it picks up where its braked wheels slide, m/s; 0 where they hold; None of who is pushed."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RolledWheel(ArrayRecord):
    """One wheel with the outline under it, in the world's x."""

    axle: AxleName
    held: bool
    across_mm: MM
    """Where it rolls, to the left of somebody who walks down."""
    radius_mm: MM
    surface: Surface
    path: WheelPath


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stretch(ArrayRecord):
    """A part of a way, over which the ramp is taken to lie still."""

    from_mm: MM
    to_mm: MM
    """x of the front axle's centre where it begins and ends, rising."""
    pose: SitePose
    wheels: tuple[RolledWheel, ...]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Roll(ArrayRecord):
    """One user over one site in one state of the deck, facing one way. N places, every `step_mm` of the front
    axle.
    """

    user: int
    """Counted from 1."""
    site_number: int
    state: DeckState
    facing: Facing
    across_mm: MM
    """Of its middle, but for what is worst further out: that says where."""
    step_mm: MM
    side_margin_mm: MM
    """Left to either guard in the middle of the ramp; below 0 where it does not fit."""
    remarks: tuple[Remark, ...]
    front_mm: Array
    """x of the front axle's centre, (N,), rising."""
    pitch_rad: Array
    """Against the level, positive leaning back, front up, (N,)."""
    lean: Array
    """Rise over width, positive with the left of somebody who walks down up, (N,)."""
    clearance_mm: Array
    """Least of all that hangs low, (N,); negative aground."""
    tip_back_rad: Array
    tip_forward_rad: Array
    """Angle left before it tips, (N,); NaN where hands hold it."""
    forwards_n: Array
    backwards_n: Array
    """Level force that keeps it moving, (N,); negative holds back."""
    weight_n: N
    climbed_mm: Array
    """Height of its mass centre, (N,), less what it sinks with a deck that sinks on the way: this times the
    weight is the work that the forces do beside what rolling takes.
    """
    middle_mm: Array
    """x of the middle between its first and its last axle, which those forces are level with, (N,)."""
    hangs: NDArray[np.bool_]
    """Whether a wheel is off what is below it by more than a hair, (N,)."""
    clearance: Worst
    lows: tuple[Worst, ...]
    """The least clearance of each part that hangs low, mm."""
    tip_back: Worst | None
    tip_forward: Worst | None
    """None where hands hold it."""
    hanging: Worst | None
    """The wheel that is furthest off; None where all roll."""
    drop: Worst | None
    """The deepest that a wheel sinks into a gap."""
    head: Worst | None
    """Least room above heads, mm; None where nothing hangs above the way in."""
    ways: tuple[WayWorst, WayWorst]
    stretches: tuple[Stretch, ...]
    """One, or several where the deck sinks on the way, rising."""

    @property
    def lowest(self) -> Worst:
        """Return the least clearance of what may not touch; anti-tip wheels are made to."""
        lows = [low for low in self.lows if low.part != "anti-tip wheels"]
        return greatest(lows, lambda low: -low.value)

    @property
    def wheels(self) -> tuple[RolledWheel, ...]:
        """Return the wheels over the outlines of the first stretch."""
        return self.stretches[0].wheels

    @property
    def drop_mm(self) -> Array:
        """Return how far the deck edge has sunk at each place, (N,)."""
        return self._each([one.pose.drop_mm for one in self.stretches])

    @property
    def nod_rad(self) -> Array:
        """Return by how much the deck slopes down towards its edge at each place, (N,)."""
        return self._each([one.pose.nod_rad for one in self.stretches])

    def _each(self, values: list[float]) -> Array:
        """Return at each place what is of its stretch."""
        ends = np.array([one.to_mm for one in self.stretches[:-1]])
        return np.array(values)[np.searchsorted(ends, self.front_mm)]

    def about(self, front_mm: MM) -> "Roll":
        """Return it with the one stretch in which the front axle is at a place."""
        here = next((one for one in self.stretches if front_mm <= one.to_mm), self.stretches[-1])
        return replace(self, stretches=(here,))

    @property
    def pose(self) -> SitePose:
        """Return how the ramp lies in the first stretch."""
        return self.stretches[0].pose


@dataclass(frozen=True, slots=True, kw_only=True)
class CannotRoll:
    """A user whose wheels do not stand on the ramp."""

    user: int
    why: Literal["wider than the ramp"]
    width_mm: MM
    room_mm: MM
