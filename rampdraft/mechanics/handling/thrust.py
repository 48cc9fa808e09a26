"""What is pushed along the ground: by the toe that slides as the deck sinks, and by a user who stops.

While the deck sinks, friction holds the toe back and pushes the carrier away by mu N at most, N what the toe
presses (Coulomb). A user who comes to a stop on the deck pushes the carrier on by m a. Brake, chocks or
mooring hold both together, H = mu N + m a. A toe stands on sloping ground by friction where the ground's
slope is no more than mu; more of it pulls at the deck hinge.

A powered chair must stop from 6 km/h within 1 m (EN 12184, from memory), so a = v^2 / 2 s = 1.4 m/s2.
Friction of steel on stone or earth: 0.3 wet, 0.6 dry (common practice).

Left out: the slope that the carrier itself stands on, wind and current.
"""

import math
from dataclasses import dataclass
from typing import Final

from rampdraft.geometry.ground_line import ground_line
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.standing import climbers
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design
from rampdraft.rounding import greatest
from rampdraft.units import G_M_S2, KG, MM, N

STOPS_M_S2: Final = (6 / 3.6) ** 2 / 2
DRY: Final = 0.6
WET: Final = 0.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Thrust:
    """What pushes the carrier along the ground."""

    user_kg: KG
    toe_n: N
    """What the empty ramp presses on the ground with its toe; 0 where the deck does not sink."""
    slides_mm: MM
    """How far the toe slides as the deck sinks, at the site where it slides most."""

    @property
    def force_n(self) -> N:
        """Return H."""
        return DRY * self.toe_n + self.user_kg * STOPS_M_S2


@dataclass(frozen=True, slots=True, kw_only=True)
class ToeGround:
    """The ground under the toe at the site where it slopes most."""

    site: SitePose
    slope: float


def can_roll(design: Design) -> bool:
    """Return whether the carrier can roll or drift away: it stands on springs of wheels, or is held."""
    return bool(design.road.held_n) or any(support.kind == "spring" for support in design.supports)


def thrust(design: Design, assembly: Assembly, sites: tuple[SitePose, ...], drop_mm: MM) -> Thrust | None:
    """Return what pushes the carrier; None where it cannot move."""
    if not can_roll(design):
        return None
    a, b = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    inner, outer = assembly.inner, assembly.outer
    moment = inner.mass_kg * inner.centre_mm[0] + outer.mass_kg * (a + outer.centre_mm[0])
    there = {(pose.site_number, pose.state): pose.contact[0] for pose in sites if pose.reaches}
    slid = [
        abs(x - there[number, "loaded"])
        for (number, state), x in there.items()
        if state == "empty" and (number, "loaded") in there
    ]
    return Thrust(
        user_kg=max(user.mass_kg + user.attendant_kg for user in climbers(design)),
        toe_n=G_M_S2 * moment / (a + b) if drop_mm > 0 else 0.0,
        slides_mm=max(slid, default=0.0),
    )


def steepest_ground(design: Design, sites: tuple[SitePose, ...]) -> ToeGround | None:
    """Return where the ground under the toe slopes most; None where the ramp stands on its toe nowhere."""
    found = [
        ToeGround(site=site, slope=abs(_slope(design, site)))
        for site in sites
        if site.reaches and site.grounds_at_toe
    ]
    return greatest(found, lambda one: one.slope) if found else None


def _slope(design: Design, site: SitePose) -> float:
    slope = ground_line(design.sites[site.site_number - 1]).grade_before(site.contact[0])
    return slope if math.isfinite(slope) else 0.0
