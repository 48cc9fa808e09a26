"""The carrier as it is drawn: from the side or from the end, its sinking so many times as large."""

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Final, Literal

from rampdraft.geometry.linkage import edge_height_mm, linkage
from rampdraft.geometry.outline import Point
from rampdraft.mechanics.carrier.results import (
    Stance,
)
from rampdraft.model.design import Design, Support
from rampdraft.units import MM, N

PAPER_WIDTH_MM: Final = 240.0
FACTORS: Final = (1, 2, 5, 10, 20, 50, 100)
"""By which sinking is drawn larger; the largest that leaves room under the deck."""
_ROOM: Final = 0.45
"""Share of the room under the carrier that the drawn sinking may take."""
View = Literal["side", "end"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Scene:
    """What is drawn: along is -back seen from the side, across seen from the end."""

    design: Design
    view: View
    per_mm: MM
    factor: int
    sunk: Callable[[MM], MM]
    """How far the body has sunk at a place along the picture, true size."""
    wheels_n: tuple[N, ...] | None
    """None where it tips or cannot stand."""

    @property
    def top_mm(self) -> MM:
        """Height of the deck surface."""
        return edge_height_mm(self.design)

    @property
    def floor_mm(self) -> MM:
        """Height of the deck's underside."""
        return self.top_mm - self.design.carrier.deck_thickness_mm

    @property
    def under_mm(self) -> MM:
        """Height of the carrier's underside, not drawn lower than half way down."""
        return min(self.floor_mm, max(self.top_mm - self.design.carrier.end_depth_mm, self.top_mm / 2))

    def moved(self, x: MM, z: MM) -> Point:
        """Return a point of the body as it stands, its sinking drawn larger."""
        return x, z - self.factor * self.sunk(x)

    def place(self, support: Support) -> MM:
        """Return where a support stands in the picture."""
        return -support.back_mm if self.view == "side" else support.across_mm

    def span(self) -> tuple[MM, MM]:
        """Return from where to where the deck runs."""
        carrier = self.design.carrier
        half = carrier.opening_width_mm / 2
        return (-carrier.deck_length_mm, 0.0) if self.view == "side" else (-half, half)


def reach_mm(design: Design, view: View) -> tuple[MM, MM]:
    """Return from where to where the picture runs."""
    if view == "side":
        places = [-support.back_mm for support in design.supports]
        ends = (-design.carrier.deck_length_mm, design.deck_hinge.out_mm + ramp_run_mm(design))
    else:
        places = [support.across_mm for support in design.supports]
        ends = (-design.carrier.opening_width_mm / 2, design.carrier.opening_width_mm / 2)
    low, high = min(ends[0], *places), max(ends[1], *places)
    margin = (0.06 if view == "side" else 0.4) * (high - low)
    return low - margin, high + margin


def ramp_run_mm(design: Design) -> MM:
    """Return how far out from its hinge the ramp reaches on level ground."""
    rise = linkage(design).hinge[1]
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    return math.sqrt(max(length**2 - rise**2, 0.0))


def scene_of(design: Design, view: View, per_mm: MM, stance: Stance | None) -> Scene:
    """Return what is drawn of a stance, its sinking as large as there is room for; None is level."""
    drop, nod, lean = (stance.edge_drop_mm, stance.nod_rad, stance.lean_rad) if stance else (0.0, 0.0, 0.0)
    turn = nod if view == "side" else lean

    def sunk(x: MM) -> MM:
        return drop + turn * x

    scene = Scene(
        design=design, view=view, per_mm=per_mm, factor=1, sunk=sunk,
        wheels_n=stance.wheels_n if stance else None,
    )  # fmt: skip
    if stance is None:
        return scene
    most = max(abs(sunk(x)) for x in (*scene.span(), *(scene.place(support) for support in design.supports)))
    fitting = [factor for factor in FACTORS if factor * most <= _ROOM * scene.under_mm]
    return replace(scene, factor=max(fitting, default=1))
