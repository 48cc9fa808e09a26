"""What the mechanics return: frozen, complete, in mm and radians."""

from bisect import bisect_right
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from rampdraft.geometry.bridge import BridgeLie
from rampdraft.geometry.linkage import Pose
from rampdraft.geometry.members.member import Kin
from rampdraft.geometry.outline import Point
from rampdraft.rounding import greatest
from rampdraft.units import MM, RAD, ArrayRecord, N
from rampdraft.words.say import say

DeckState = Literal["empty", "starting", "sinking", "loaded"]
"""Nobody and nothing aboard; the cargo aboard and somebody at the toe, who starts up; the cargo aboard and as
much of whoever rolls as is on the deck there; the load aboard and the heaviest user whole on the deck edge.
"""

DECK_WORDS: Final[dict[DeckState, str]] = {
    "empty": "deck empty",
    "starting": "cargo aboard, somebody starting up",
    "sinking": "deck sinking under whoever rolls",
    "loaded": "deck loaded",
}


@dataclass(frozen=True, slots=True, kw_only=True)
class LeafGradient:
    """Rise and going of one leaf's running surface, deployed; rise is positive when it climbs towards the
    deck.
    """

    rise_mm: MM
    going_mm: MM

    @property
    def ratio(self) -> float:
        """Return rise over going: 0.0833 for 1 : 12."""
        return self.rise_mm / self.going_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class SitePose:
    """The ramp put down at one site, in one state of the deck."""

    site: str
    site_number: int
    """Counted from 1; 0 for a reference ground that a rule demands."""
    state: DeckState
    drop_mm: MM
    """How far the deck edge has sunk; below 0 where it has risen."""
    nod_rad: RAD
    """By which the deck slopes down towards its edge, under somebody who rolls; else it lies level."""
    reaches: bool
    """False when no angle of the inner leaf brings the toe to the ground; the figures then are those of a
    level ramp.
    """
    pose: Pose
    contact: Point
    """Where it touches the ground first, (x, z)."""
    touches_with: str
    """Key of the member that touches first."""
    grounds_at_toe: bool
    """False when the joint or a cross member touches before the toe does, or the tip hangs."""
    short_of_tip: bool
    """True when it touches at the toe, but short of its tip, at the knee of a taper: the tip hangs."""
    inner: LeafGradient
    outer: LeafGradient
    flap: LeafGradient | None
    """The toe flap lying on the ground; None without one."""
    bridge: LeafGradient | None
    """The bridge plate lying on the leaf; None without one, or where it hangs."""
    whole: LeafGradient
    """From the deck edge's hinge to the toe: total rise and going."""
    joint: Point
    """Joint centre (x, z)."""
    joint_room_mm: MM
    """From the ground up to the underside of the joint: what a prop must fill."""
    toe_step_mm: MM
    """Height of the greatest step that a wheel meets where the ground ends and the toe begins, wherever it
    rolls: between the rails from the ground to the last slat, on a bare rail at its end and at the slat.
    """
    tip_above_mm: MM
    """How high the underside of the outer leaf's end is above the ground."""
    flap_rad: RAD
    """Angle of a toe flap to the outer leaf, 0 when there is none."""
    bridge_lie: BridgeLie | None
    """How the bridge plate lies; None without one."""

    @property
    def deck(self) -> str:
        """Return the state of the deck in words."""
        return say(DECK_WORDS[self.state])

    @property
    def steepest(self) -> LeafGradient:
        """Return the steepest part of the running surface, whichever way it slopes: a leaf, the toe flap or
        the bridge plate.
        """
        parts = [one for one in (self.inner, self.outer, self.flap, self.bridge) if one is not None]
        return greatest(parts, lambda part: abs(part.ratio))


@dataclass(frozen=True, slots=True, kw_only=True)
class StageSpan:
    """One stage of the fold on the path."""

    say: str
    start: float
    end: float
    """Shares of the whole path, 0 deployed to 1 stowed."""
    pose_end: Pose


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldPath:
    """The movement from deployed to stowed: way-points joined by straight lines in both angles."""

    at: tuple[float, ...]
    """Share of the path at each way-point, rising from 0 to 1."""
    poses: tuple[Pose, ...]
    stages: tuple[StageSpan, ...]

    def pose(self, share: float) -> Pose:
        """Return the pose at a share of the path (clipped to 0 .. 1)."""
        after = min(max(bisect_right(self.at, share), 1), len(self.at) - 1)
        before, ahead = self.poses[after - 1], self.poses[after]
        part = min(1.0, max(0.0, (share - self.at[after - 1]) / (self.at[after] - self.at[after - 1])))
        return Pose(
            before.inner_rad + part * (ahead.inner_rad - before.inner_rad),
            before.fold_rad + part * (ahead.fold_rad - before.fold_rad),
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class PairClearance:
    """Least clearance over the fold between two families of members, and the two members and points that come
    nearest.
    """

    what: str
    """In words: `inner slat - outer slat`."""
    kin: tuple[Kin, Kin]
    """The same as keys, in the same order."""
    clearance_mm: MM
    """Sampled; negative (penetration depth) in a clash."""
    certified_mm: MM
    """No pose of the path has less than this."""
    at: float
    """Share of the path."""
    pose: Pose
    member_a: str
    member_b: str
    point_a: Point
    point_b: Point
    """Nearest points (x, z) in the side plane in that pose."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Clearance(ArrayRecord):
    """Clearance over the whole fold."""

    at: NDArray[np.float64]
    """Shares of the path, shape (n,), read-only."""
    clearance_mm: NDArray[np.float64]
    """Least clearance of all pairs at each share, shape (n,), read-only."""
    pairs: tuple[PairClearance, ...]
    """One a pair of families that can meet, tightest first."""
    spans_clashing: tuple[tuple[float, float], ...]
    """Stretches of the path in a clash."""
    contacts: tuple[str, ...]
    """Contacts that are meant, and so exempt, in words."""

    @property
    def tightest(self) -> PairClearance:
        """Return the tightest pair."""
        return self.pairs[0]


@dataclass(frozen=True, slots=True, kw_only=True)
class ClashingPair:
    """Two members that overlap in one pose, or come nearest in it."""

    member_a: str
    member_b: str
    clearance_mm: MM
    point_a: Point
    point_b: Point


@dataclass(frozen=True, slots=True, kw_only=True)
class Stowed:
    """The stowed ramp measured from the deck edge and the deck surface."""

    pose: Pose
    above_deck_mm: MM
    below_deck_mm: MM
    thickness_mm: MM
    """Square to the inner leaf."""
    over_deck_mm: MM
    """How far it stands in over the deck, above its surface."""
    out_mm: MM
    """How far it stands out past the deck edge."""
    centre: Point
    """Centre of gravity (x, z)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class JointVerdict:
    """What the load does to the joint, and whether anything holds it."""

    held: bool
    by: Literal["stop", "prop", "nothing"]
    words: str
    """Plain words for the screen and the check sheet."""
    lever_arm_mm: MM
    """Of the stop about the hinge centre; 0 where no stop bears."""
    play_rad: RAD
    """How far the joint turns before the stop bears: gap over lever arm."""
    drop_mm: MM
    """How far the joint drops by that play: (c / e) A B / (A + B)."""


LIGHT_N: Final = 30.0
"""A place that needs no more is steadied by whoever stands at the other one; common practice."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StageForce:
    """The hands' part in one stage of the fold."""

    handle: str
    """Where most is given at one place, of both that are held at once."""
    peak_n: N
    """Greatest force there, by size; positive lifts, negative holds back."""
    at: float
    """Share of the path of the peak."""
    work_nmm: float
    """What the hands put in over the stage; negative where they hold back."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class HandForce(ArrayRecord):
    """The forces of the hands along the fold."""

    at: NDArray[np.float64]
    """Shares of the path, shape (n,), rising; a stage's end stands twice. Read-only."""
    force_n: NDArray[np.float64]
    """Forces at the places that are held at once, shape (2, n), square to their own arms. Read-only."""
    places: tuple[str, str]
    """Their names, on the inner and on the outer leaf."""
    energy_nmm: NDArray[np.float64]
    """Energy of weight and springs, shape (n,), from that of the deployed pose. Read-only."""
    stages: tuple[StageForce, ...]
    """One a stage of the path."""
    work_error: float
    """How far the hands' work is from the gain of energy, as a share of the energy that comes and goes."""

    @property
    def peak(self) -> StageForce:
        """Return the stage with the greatest force."""
        return greatest(self.stages, lambda stage: abs(stage.peak_n))

    def given_n(self, share: float) -> tuple[tuple[str, N], ...]:
        """Return the places that are held at a share of the path, with their forces; one at least."""
        now = ((name, float(np.interp(share, self.at, force))) for name, force in self._lines)
        first, *rest = sorted(now, key=lambda one: -abs(one[1]))
        return (first, *(one for one in rest if abs(one[1]) > LIGHT_N))

    @property
    def _lines(self) -> tuple[tuple[str, NDArray[np.float64]], ...]:
        return tuple(zip(self.places, self.force_n, strict=True))


@dataclass(frozen=True, slots=True, kw_only=True)
class Envelope:
    """The room that the fold needs, about the deck edge and the deck surface; never too small."""

    in_front_mm: MM
    """Out from the deck edge."""
    above_ground_mm: MM
    above_deck_mm: MM
    over_deck_mm: MM
    """In over the deck, above its surface."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldResult:
    """The fold, whole."""

    path: FoldPath
    clearance: Clearance
    hand: HandForce
    envelope: Envelope
    stowed: Stowed
    joint: JointVerdict
