"""What the road and the wind do to the stowed ramp, and what a latch has to hold.

The stowed pack hangs on the deck hinge, the outer leaf on the joint. A horizontal acceleration a g on the
mass m at the height z above its hinge has the moment m a g z; wind on the area A at half its height the
moment c_f q A h / 2, with q = rho v^2 / 2 (EN 1991-1-4, 4.5, rho = 1.25 kg/m3) and c_f = 1.8 of a board
(EN 1991-1-4, 7.4.3 (2)). The moment of weights and springs is the slope of their energy with the angle
(`lifting`). They act together, the worse way round, and a latch at the arm r holds F = M / r, square to its
leaf.

Accelerations of loads on road vehicles: 0.8 g forward, 0.5 g backward and sideways (EN 12195-1, as quoted by
the CTU Code; its scope begins at 3.5 t, lighter vehicles may exceed them).

Left out: what shakes the pack along its hinge line, which the knuckles take; jolts that lift it.
"""

from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rampdraft.geometry.linkage import linkage
from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.folding.folding import closing_sense
from rampdraft.mechanics.handling.lifting import slope_nmm, weighed_linkage
from rampdraft.mechanics.results import Stowed
from rampdraft.model.design import Design, Road
from rampdraft.rounding import greatest
from rampdraft.units import G_M_S2, KG, MM, NMM, N

AIR_KG_M3: Final = 1.25
BOARD: Final = 1.8
"""Force coefficient of a board: EN 1991-1-4, 7.4.3 (2)."""
_LEAST_ARM_MM: Final = 10.0

StowedPart = Literal["pack", "leaf"]
"""The whole ramp about the deck hinge, or the outer leaf about the joint."""
Way = Literal["out", "in"]
"""Away from the deck, or over it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shaken:
    """The stowed ramp, or its outer leaf, thrown the way that asks most of its latch."""

    part: StowedPart
    way: Way
    mass_kg: KG
    accelerated_g: float
    height_mm: MM
    """Of the mass centre above the hinge."""
    pressure_pa: float
    """q."""
    area_m2: float
    wind_at_mm: MM
    still_nmm: NMM
    """Moment of weights and springs, that way."""
    arm_mm: MM

    @property
    def moment_nmm(self) -> NMM:
        """Return the moment about the hinge that the latch holds."""
        return self.mass_kg * G_M_S2 * self.accelerated_g * self.height_mm + self.gale_nmm + self.still_nmm

    @property
    def wind_n(self) -> N:
        """Return the force of the wind."""
        return BOARD * self.pressure_pa * self.area_m2

    @property
    def gale_nmm(self) -> NMM:
        """Return the wind's part of it."""
        return self.wind_n * self.wind_at_mm

    @property
    def latch_n(self) -> N:
        """Return what the latch holds; nothing where the pack does not move."""
        return max(self.moment_nmm, 0.0) / self.arm_mm


def pressure_pa(wind_m_s: float) -> float:
    """Return the pressure q of wind."""
    return AIR_KG_M3 * wind_m_s**2 / 2


def shaken(design: Design, assembly: Assembly, stowed: Stowed) -> tuple[Shaken, Shaken]:
    """Return what the latches hold: that of the pack, and that of the outer leaf."""
    weighed, pose = weighed_linkage(design, assembly), stowed.pose
    by_inner, by_fold = slope_nmm(weighed, np.array(pose.inner_rad), np.array(pose.fold_rad))
    bars, outer = linkage(design), assembly.outer
    joint_z, hinge_z = bars.joint(pose.inner_rad)[1], bars.hinge[1]
    outer_z = bars.placings(pose)["outer"].point(*outer.centre_uw_mm)[1]
    high = max(stowed.above_deck_mm + bars.edge[1] - hinge_z, 0.0)
    drop = min(2 * abs(outer_z - joint_z), design.outer_leaf.length_mm)
    kg, leaves = sum(assembly.leaves_kg), (design.inner_leaf, design.outer_leaf)
    widths = max(leaf.width_mm for leaf in leaves), design.outer_leaf.width_mm
    arms = [_arm_mm(design, assembly, body) for body in ("inner", "outer")]
    still = float(by_inner), closing_sense(design) * float(by_fold)
    whole = _Board(
        part="pack",
        mass_kg=kg,
        height_mm=abs(stowed.centre[1] - hinge_z),
        across_mm=widths[0],
        high_mm=high,
        arm_mm=arms[0],
    )
    leaf = _Board(
        part="leaf",
        mass_kg=outer.mass_kg,
        height_mm=abs(outer_z - joint_z),
        across_mm=widths[1],
        high_mm=drop,
        arm_mm=arms[1],
    )
    ways = (_shaken(design.road, whole, "out", still[0]), _shaken(design.road, whole, "in", -still[0]))
    opens: Way = "in" if design.fold.closing == "faces" else "out"
    return greatest(ways, lambda one: one.moment_nmm), _shaken(design.road, leaf, opens, still[1])


def _arm_mm(design: Design, assembly: Assembly, body: Literal["inner", "outer"]) -> MM:
    """Return how far from its hinge the nearest stow latch of a leaf lies; where one is wanted, if none is
    fitted.
    """
    leaf = design.inner_leaf if body == "inner" else design.outer_leaf
    plates = ("latch", (2, 3)) if body == "inner" else ("latch hook", (4, 5))
    fitted = [
        one.centre_mm[0] for one in assembly.of(body) if one.role == plates[0] and one.tag.number in plates[1]
    ]
    at = min(fitted, default=design.road.latch_at_mm or leaf.length_mm)
    return max(min(at, leaf.length_mm), _LEAST_ARM_MM)


def leaning_nmm(design: Design, assembly: Assembly, stowed: Stowed) -> NMM:
    """Return the moment of weights and springs of the stowed pack about the deck hinge, positive away from
    the deck.
    """
    pose = stowed.pose
    angles = np.array(pose.inner_rad), np.array(pose.fold_rad)
    return float(slope_nmm(weighed_linkage(design, assembly), *angles)[0])


@dataclass(frozen=True, slots=True, kw_only=True)
class _Board:
    """What is shaken, as a mass above a hinge and a board in the wind."""

    part: StowedPart
    mass_kg: KG
    height_mm: MM
    across_mm: MM
    high_mm: MM
    arm_mm: MM


def _shaken(road: Road, board: _Board, way: Way, still_nmm: NMM) -> Shaken:
    return Shaken(
        part=board.part,
        way=way,
        mass_kg=board.mass_kg,
        accelerated_g=_thrown_g(road, way),
        height_mm=board.height_mm,
        pressure_pa=pressure_pa(road.wind_m_s),
        area_m2=board.across_mm * board.high_mm / 1e6,
        wind_at_mm=board.high_mm / 2,
        still_nmm=still_nmm,
        arm_mm=board.arm_mm,
    )


def _thrown_g(road: Road, way: Way) -> float:
    """Return what throws the ramp away from the deck, or over it: hung on the rear end braking throws it over
    the deck, on the front end away from it.
    """
    if road.end == "side":
        return road.sideways_g
    return road.forward_g if (road.end == "rear") is (way == "in") else road.backward_g
