"""What is found of the carrier on its supports: frozen, in mm, N and radians, in the order of the design's
supports.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from rampdraft.model.design import Support
from rampdraft.rounding import greatest, greatest_at
from rampdraft.units import KG, MM, RAD, Array, ArrayRecord, N
from rampdraft.words.say import say

Mask = NDArray[np.bool_]


@dataclass(frozen=True, slots=True, kw_only=True)
class Weight:
    """One weight and where it acts on the deck."""

    kind: Literal["body", "ballast", "cargo", "wheels", "ramp", "user"]
    words: str
    force_n: N
    x_mm: MM
    """Outward from the deck edge; negative on the deck."""
    y_mm: MM


@dataclass(frozen=True, slots=True, kw_only=True)
class TippingLine:
    """The line through two supports about which the carrier would tip first, and the moments about it as
    drawn up by hand.
    """

    names: tuple[str, str]
    supports: tuple[int, int]
    """Indices of the two."""
    overturning: tuple[tuple[Weight, MM], ...]
    """Weights beyond the line, with their distance from it."""
    righting: tuple[tuple[Weight, MM], ...]
    """Weights inside the line, with their distance from it."""

    @property
    def overturning_nmm(self) -> float:
        """Return the moment that tips it."""
        return sum(weight.force_n * arm for weight, arm in self.overturning)

    @property
    def righting_nmm(self) -> float:
        """Return the moment that holds it down."""
        return sum(weight.force_n * arm for weight, arm in self.righting)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Stances(ArrayRecord):
    """The carrier in P positions of a user in which it stands. n supports."""

    edge_drop_mm: Array
    """Of the deck edge's middle, from empty, (P,)."""
    nod_rad: Array
    """From empty, positive with the deck edge down, (P,)."""
    lean_rad: Array
    """From empty, positive with the left side down, (P,)."""
    wheels_n: Array
    """What each support presses on the ground, (P, n)."""
    share: Array
    """Least share left on a support of what it presses when empty, (P,)."""
    least: tuple[int, ...]
    """Index of the support with the least share, (P,)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stance:
    """The carrier in one position of a user."""

    edge_drop_mm: MM
    nod_rad: RAD
    lean_rad: RAD
    wheels_n: tuple[N, ...]
    share: float
    least: int


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Climb(ArrayRecord):
    """The carrier while one user comes up the ramp and over the deck, at one place across. S positions."""

    user_number: int
    """Counted from 1."""
    user: str
    across_mm: MM
    on_deck: bool
    """Nowhere but on the deck: at an edge of a way in that is wider than the ramp."""
    cargo: bool
    """With the cargo aboard."""
    first_axle_mm: Array
    """Along the ramp from the deck hinge, positive on the ramp, negative beyond the hinge, (S,): falling, for
    each way round on each grade anew.
    """
    forwards: Mask
    """Whether the front axle leads, (S,); where not, the user comes up backwards, or rolls down forwards."""
    grade: Array
    """Of the ramp, rise over going towards the deck, (S,)."""
    overturning: Array
    """Overturning over righting moment about the line where that is most, (S,): above 1 it tips."""
    stands: Mask
    """Where it stands, (S,); elsewhere it tips, and no figure of it standing means anything."""
    stances: Stances
    """Figures of the positions where it stands."""

    @property
    def words(self) -> str:
        """Return who comes up where: `Reader, against the left edge, cargo aboard`."""
        return f"{self.user}, {self._place_words}" + (say(", cargo aboard") if self.cargo else "")

    @property
    def _place_words(self) -> str:
        if not self.across_mm:
            return say("in the middle")
        left = self.across_mm > 0
        if self.on_deck:
            return (
                say("against the left edge of the way in")
                if left
                else say("against the right edge of the way in")
            )
        return say("against the left edge") if left else say("against the right edge")

    @property
    def tips(self) -> bool:
        """Return whether the carrier tips at some position."""
        return len(self.stances.least) < len(self.stands)

    @property
    def worst(self) -> int:
        """Return the position where it tips, or where the least share is left."""
        return greatest_at(self.overturning if self.tips else -self.stances.share)[0]

    def stance(self, position: int) -> Stance | None:
        """Return the carrier at a position; None where it tips."""
        if not self.stands[position]:
            return None
        at, found = int(self.stands[:position].sum()), self.stances
        return Stance(
            edge_drop_mm=float(found.edge_drop_mm[at]),
            nod_rad=float(found.nod_rad[at]),
            lean_rad=float(found.lean_rad[at]),
            wheels_n=tuple(found.wheels_n[at].tolist()),
            share=float(found.share[at]),
            least=found.least[at],
        )


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Twisted(ArrayRecord):
    """The empty carrier with the ground lowered under one support, its jacks up."""

    lowered: int
    """Index of the support whose ground is lower."""
    wheels_n: Array
    """What each support presses on the ground, (n,)."""
    share: float
    """Least share left on a support of what it presses on level ground."""
    least: int
    """Index of the support that has it."""
    lifted: tuple[str, ...]
    """Supports that carry nothing of the body: it rocks on the others."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CannotStand:
    """The supports described do not hold the empty carrier up."""

    why: str
    way_out: str


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Standing(ArrayRecord):
    """The carrier on its supports."""

    supports: tuple[Support, ...]
    weights: tuple[Weight, ...]
    """Of the empty carrier, the wheels' own included."""
    cargo: Weight | None
    empty_push_n: Array
    """What each support pushes up against the body, (n,)."""
    empty_wheels_n: Array
    """What each support presses on the ground, its wheel's own weight included, (n,)."""
    climbs: tuple[Climb, ...]
    twisted: tuple[Twisted, ...]
    """One for each support that carries when empty; none where no twist is asked for."""
    loaded_drop_mm: MM | None
    """Of the deck edge's middle with cargo and the heaviest user standing on the edge; None where that tips
    it.
    """

    @property
    def worst_twist(self) -> Twisted | None:
        """Return the support whose lowering leaves the least."""
        return greatest(self.twisted, lambda one: -one.share) if self.twisted else None

    @property
    def worst_climb(self) -> Climb:
        """Return the climb that tips it most, or leaves the least share."""
        if any(climb.tips for climb in self.climbs):
            return self.most_overturning
        return self.most(lambda climb: -climb.stances.share)

    @property
    def most_overturning(self) -> Climb:
        """Return the climb that comes nearest to tipping it."""
        return self.most(lambda climb: climb.overturning)

    def most(self, of: Callable[[Climb], Array]) -> Climb:
        """Return the climb with the greatest of some figures, (S,) or (P,) of each; none may be empty."""
        figures = [of(climb) for climb in self.climbs]
        starts = np.cumsum([0, *map(len, figures[:-1])])
        return self.climbs[greatest_at(np.maximum.reduceat(np.concatenate(figures), starts))[0]]

    @property
    def most_lean(self) -> tuple[Climb, int]:
        """Return the climb and position with the greatest lean, of those in which it stands."""
        found = ((climb, _largest(climb.stances.lean_rad)) for climb in self.climbs if climb.stands.any())
        climb, at = greatest(found, lambda pair: abs(float(pair[0].stances.lean_rad[pair[1]])))
        return climb, int(np.flatnonzero(climb.stands)[at])


def _largest(values: Array) -> int:
    return greatest_at(np.abs(values))[0]


CarrierStanding = Standing | CannotStand


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """What one change does to the carrier, figures of the whole model."""

    words: str
    rate_factor: float
    """By which all spring rates are multiplied."""
    ballast_kg: KG
    twist_share: float
    """Least share left under the twist of the ground."""
    climb_share: float | None
    """Least share left as users climb; None where it tips."""
    edge_drop_mm: MM | None
    """With cargo and the heaviest user on the edge; None where it tips."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cures:
    """Ways to keep all wheels down on twisted ground, first as it is."""

    limit: float
    """Share demanded."""
    rows: tuple[Cure, ...]
    missing: tuple[str, ...]
    """Ways that do not lead there, in words."""
