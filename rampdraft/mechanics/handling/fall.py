"""What falls when the ramp is let go, and how fast its end comes down.

The energy let go in a pose is V there less V deployed, weights and springs (`lifting`). If all of it goes
into the straight ramp turning about the deck hinge, its toe at R comes down at v = R (2 E / I)^0.5, I the
moment of inertia of all members about the hinge (Meriam and Kraige, Dynamics, chapter 6). A ramp that falls
folded has half the radius and a quarter of the inertia: its joint comes down about as fast.

A person who catches it gives what he lifts without strain over the half metre that arms and knees give
(common practice), two and three at one place 4/3 and 1.5 times that (HSE, L23, paragraph 120).

Left out: friction, air, the lash of the outer leaf about the joint.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.geometry.linkage import linkage
from rampdraft.geometry.members.member import Assembly, Role
from rampdraft.mechanics.handling.hands import TEAM
from rampdraft.mechanics.results import FoldPath, HandForce
from rampdraft.model.design import Design
from rampdraft.rounding import greatest_at
from rampdraft.units import G_M_S2, KG, MM, N

CAUGHT_MM: Final = 500.0
"""Over which a person stops what falls; common practice."""
_ALONG: Final[frozenset[Role]] = frozenset(
    {"rail", "edge upstand", "taper plate", "stop bar", "latch", "latch hook"}
)
"""Members that lie along their leaf."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Fall:
    """The ramp let go at the worst pose of one stage."""

    number: int
    """Of the stage, counted from 1."""
    at: float
    energy_j: float
    mass_kg: KG
    reach_mm: MM
    """R."""
    inertia_kg_m2: float
    """I."""

    @property
    def height_mm(self) -> MM:
        """Return by how much the mass of the ramp would fall to give the same energy."""
        return 1000 * self.energy_j / (self.mass_kg * G_M_S2)

    @property
    def speed_m_s(self) -> float:
        """Return v."""
        return self.reach_mm / 1000 * math.sqrt(2 * self.energy_j / self.inertia_kg_m2)


def falls(design: Design, assembly: Assembly, path: FoldPath, hand: HandForce) -> tuple[Fall, ...]:
    """Return what falls in each stage where most of it does."""
    inertia = inertia_kg_m2(design, assembly)
    found: list[Fall] = []
    for number, stage in enumerate(path.stages, start=1):
        rows = np.flatnonzero((hand.at >= stage.start) & (hand.at <= stage.end))
        row = rows[greatest_at(hand.energy_nmm[rows])[0]]
        found.append(
            Fall(
                number=number,
                at=float(hand.at[row]),
                energy_j=max(float(hand.energy_nmm[row]) / 1000, 0.0),
                mass_kg=sum(assembly.leaves_kg),
                reach_mm=design.inner_leaf.length_mm + design.outer_leaf.length_mm,
                inertia_kg_m2=inertia,
            )
        )
    return tuple(found)


def inertia_kg_m2(design: Design, assembly: Assembly) -> float:
    """Return I of the straight ramp about the deck hinge: m r^2 of every member, and m l^2 / 12 of those that
    lie along their leaf.
    """
    bars = linkage(design)
    arm, found = complex(*bars.arm), 0.0
    for member in assembly.of("inner", "outer"):
        from_hinge = complex(*bars.from_hinge(member.body, member.centre_uw_mm))
        centre = from_hinge + arm if member.body == "outer" else from_hinge
        own = member.piece.length_mm**2 / 12 if member.role in _ALONG else 0.0
        found += member.mass_kg * (abs(centre) ** 2 + own)
    return found / 1e6


def caught_j(people: int, person_n: N) -> float:
    """Return the energy that people stop with their hands."""
    return TEAM[min(people, len(TEAM)) - 1] * person_n * CAUGHT_MM / 1000
