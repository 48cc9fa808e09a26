"""The most loaded rail of a leaf along the ramp under one load: design values, what it takes and uses."""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rampdraft.mechanics.loading.results import Carried, LeafForces
from rampdraft.model.design import Design
from rampdraft.rounding import greatest_at
from rampdraft.strength.basis import LIMIT_STATES
from rampdraft.strength.members import Members
from rampdraft.strength.rails import rail_capacity_nmm
from rampdraft.units import MM, Array, ArrayRecord

_HAIR_MM: Final = 1e-3
_TAPER_POINTS: Final = 13
_ALIKE: Final = 0.005
"""By so little more of the strength another section than that of the greatest moment is not named."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class RailLine(ArrayRecord):
    """What the rails of a leaf have to carry at each section under one load by limit states, at each section
    that which has most there: (X,).
    """

    body: Literal["inner", "outer"]
    rail: int
    """That with the greatest moment, counted from 1."""
    x_mm: Array
    """Along the ramp from the deck hinge."""
    moment_nmm: Array
    hogging_nmm: Array
    """0 or less."""
    shear_n: Array
    used: Array
    """Of the strength in bending with shear, as it is judged, at these sections and, where a stop holds the
    joint, by what passes there from leaf to leaf; empty where it is not known.
    """
    capacity: tuple[Array, Array] | None
    """Places along the ramp and the moment that a rail takes there in bending alone, with every step; None
    where it is not known.
    """

    @property
    def owner(self) -> str:
        """Return the key of the rail."""
        return f"{self.body} rail {self.rail}"

    def most_used(self, section_mm: MM) -> tuple[float, MM]:
        """Return how much of its strength the rail uses at most, and where: the utilisation of the check.

        A section that uses as much, to half a per cent, is named where it is `section_mm`.
        """
        most, (at,) = float(self.used.max()), greatest_at(self.used)
        joint = self.x_mm[-1 if self.body == "inner" else 0]
        places = np.append(self.x_mm, [joint] * (len(self.used) - len(self.x_mm)))
        near = int(np.abs(places - section_mm).argmin())
        if self.used[near] > most - _ALIKE and abs(places[near] - section_mm) < 1.0:
            return most, section_mm
        return most, float(places[at])


def rail_lines(design: Design, carried: Carried, strengths: Members, load: int) -> tuple[RailLine, ...]:
    """Return the line of each leaf's rails under a load."""
    return tuple(_line(design, carried, strengths, forces, load) for forces in carried.leaves)


def _line(design: Design, carried: Carried, strengths: Members, forces: LeafForces, load: int) -> RailLine:
    basis, most = LIMIT_STATES, forces.moment_nmm[load]
    hogging = forces.self_weight_moment_nmm + basis.gamma_q * forces.hogging_nmm[load].min(axis=0)
    return RailLine(
        body=forces.body,
        rail=greatest_at(most.max(axis=1))[0] + 1,
        x_mm=forces.x_mm,
        moment_nmm=basis.gamma_g * forces.self_weight_moment_nmm + basis.gamma_q * most.max(axis=0),
        hogging_nmm=np.minimum(hogging, 0.0),
        shear_n=basis.gamma_g * forces.self_weight_shear_n + basis.gamma_q * forces.shear_n[load].max(axis=0),
        used=strengths.rails_along(forces.body, load),
        capacity=_capacity(design, forces.body, carried.spans.joint_mm),
    )


def _capacity(design: Design, body: Literal["inner", "outer"], joint_mm: MM) -> tuple[Array, Array] | None:
    leaf, start = (design.inner_leaf, 0.0) if body == "inner" else (design.outer_leaf, joint_mm)
    half = leaf.cross_section.width_mm / 2
    steps = [
        edge + hair
        for at in leaf.cross_positions_mm
        for edge in (at - half, at + half)
        for hair in (-_HAIR_MM, _HAIR_MM)
    ]
    taper = leaf.length_mm - design.toe.length_mm
    if body == "outer" and design.toe.kind == "taper":
        steps += [taper, taper + _HAIR_MM, *np.linspace(taper, leaf.length_mm, _TAPER_POINTS)[1:]]
    along = np.unique(np.clip([0.0, *steps, leaf.length_mm], 0.0, leaf.length_mm))
    values = rail_capacity_nmm(design, body, along)
    return None if values is None else (start + along, values)
