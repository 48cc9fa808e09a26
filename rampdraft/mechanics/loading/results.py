"""What the ramp's members have to carry: frozen, in mm, N and N mm, arrays read-only."""

from dataclasses import dataclass
from typing import Literal

from rampdraft.mechanics.loading.beam import Spans
from rampdraft.mechanics.loading.loads import Load
from rampdraft.units import MM, Array, ArrayRecord, N


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class LeafForces(ArrayRecord):
    """Moment and shear in each rail of a leaf, without the ramp's own weight and with it apart. L loads, R
    rails, X sections.
    """

    body: Literal["inner", "outer"]
    x_mm: Array
    """Along the ramp from the deck hinge, (X,)."""
    moment_nmm: Array
    """Most sagging moment over all places, (L, R, X)."""
    hogging_nmm: Array
    """Most hogging moment, negative, (L, R, X): a wheel beyond the outer rail lifts the one inside it."""
    shear_n: Array
    """Greatest size of the shear, (L, R, X)."""
    self_weight_moment_nmm: Array
    """Of the ramp's own weight, (R, X)."""
    self_weight_shear_n: Array
    """Of the ramp's own weight, (R, X)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class CrossForces(ArrayRecord):
    """What the cross members of a leaf carry as they share loads among its rails. C cross members; none
    where they hand on nothing.
    """

    body: Literal["inner", "outer"]
    moment_nmm: Array
    """Greatest size of the moment at a rail, (L, C)."""
    self_weight_moment_nmm: Array
    """Of the ramp's own weight, (C,)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class JointForces(ArrayRecord):
    """What passes through the joint, and from there into stop bars, pins and props. P pairs of knuckles, S
    stop bars.
    """

    moment_nmm: Array
    """Sagging moment that each pair holds with its stop bar, (L, P); 0 over a prop."""
    shear_n: Array
    """What the outer leaf hands to each pair, (L, P)."""
    stop_moment_nmm: Array
    """Sagging moment that each stop bar holds, (L, S)."""
    self_weight_moment_nmm: float
    """Of the ramp's own weight, all pairs together."""
    self_weight_share: float
    """The most of that moment that comes to one pair."""
    self_weight_shear_n: N
    """Of the ramp's own weight, all pairs together, each as much as the most loaded one."""
    prop_n: Array
    """What each prop carries, (L, props)."""
    self_weight_prop_n: N
    """The most that a prop carries of the ramp's own weight."""
    least_prop_n: N
    """The least that a prop carries of it; 0 without props."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorstPlace:
    """Where a load stands when the greatest moment comes."""

    load: int
    """Index of the load."""
    leaf: Literal["inner", "outer"]
    rail: int
    """Counted from 1."""
    section_mm: MM
    first_axle_mm: MM
    """Along the ramp from the deck hinge; of a load that does not roll, its middle."""
    across_mm: MM
    way: int
    """Of the load's ways round."""
    moment_nmm: float

    @property
    def forwards(self) -> bool:
        """Return whether the front axle leads up."""
        return self.way % 2 == 0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sag(ArrayRecord):
    """How far the ramp sinks between its supports, under the worst load without bumps, its own weight and the
    joint's play.
    """

    x_mm: Array
    self_weight_mm: Array
    """Under its own weight, (X,)."""
    load_mm: Array
    """Most under each load that rolls, (L, X); 0 for the others."""
    play_mm: Array
    """By the play of the joint before its stop bears, (X,)."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Carried(ArrayRecord):
    """All that the members have to carry."""

    loads: tuple[Load, ...]
    spans: Spans
    held: bool
    """False when nothing holds the joint, or some rail: figures of rails and joint mean nothing."""
    loose: tuple[tuple[Literal["inner", "outer"], int], ...]
    """The rails, counted from 1, that nothing holds though the joint is held: the ramp is a mechanism."""
    inner: LeafForces
    outer: LeafForces
    crosses: tuple[CrossForces, CrossForces]
    joint: JointForces
    hinge_n: Array
    """What each deck knuckle carries, (L, R of the inner leaf)."""
    self_weight_hinge_n: N
    """The most that one deck knuckle carries of the ramp's own weight."""
    toe_n: Array
    """What the whole toe presses on the ground, (L,)."""
    toe_rails_n: Array
    """What each rail of the outer leaf presses on the ground, (L, R)."""
    self_weight_toe_n: N
    sag: Sag | None
    """None where a rail's modulus of elasticity is not known."""
    worst: tuple[WorstPlace, ...]
    """One a load."""

    @property
    def leaves(self) -> tuple[LeafForces, LeafForces]:
        """Return both leaves."""
        return self.inner, self.outer
