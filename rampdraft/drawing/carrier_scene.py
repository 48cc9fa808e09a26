"""The carrier as it is drawn: from the side or from the end, its sinking so many times as large; its body,
level and as it stands, and its supports.
"""

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from typing import Final, Literal

from rampdraft.drawing.ink import Ink, Path, polygon, polyline, ring
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
_WHEEL: Final = 0.33
"""Radius of a wheel drawn, of the room under the carrier: the design does not know it."""
_TURNS: Final = 7
"""Half turns of a spring."""


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


def _outlines(scene: Scene) -> Iterator[tuple[tuple[Point, ...], str]]:
    """Yield the level body in parts: what hangs below the deck, a drawbar to supports beyond it, and the
    deck.
    """
    carrier = scene.design.carrier
    x0, x1 = scene.span()
    setback = carrier.end_setback_mm if scene.view == "side" else 0.0
    yield box_of(x0, scene.under_mm, x1 - setback, scene.floor_mm), "carrier.end_depth_mm"
    beam = scene.under_mm + (scene.floor_mm - scene.under_mm) / 3
    for support in scene.design.supports:
        at = scene.place(support)
        if at < x0:
            yield box_of(at, scene.under_mm, x0, beam), "carrier.end_depth_mm"
        elif at > x1 - setback:
            yield box_of(x1 - setback, scene.under_mm, at, beam), "carrier.end_depth_mm"
    yield box_of(x0, scene.floor_mm, x1, scene.top_mm), "carrier.deck_height_mm"


def box_of(x0: MM, z0: MM, x1: MM, z1: MM) -> tuple[Point, ...]:
    """Return the corners of an upright box."""
    return (x0, z0), (x1, z0), (x1, z1), (x0, z1)


def ghost(scene: Scene) -> Iterator[Ink]:
    """Return the body level, faintly."""
    return (polygon(points, "ghost", "none") for points, _ in _outlines(scene))


def body(scene: Scene) -> Iterator[Ink]:
    """Return the body as it stands."""
    return (
        polygon((scene.moved(*point) for point in points), "outline", "carrier", owner)
        for points, owner in _outlines(scene)
    )


def supports(scene: Scene) -> Iterator[Ink]:
    """Yield all supports: springs on their wheels, jacks, bearers."""
    for number, support in enumerate(scene.design.supports):
        yield from _support(scene, number, support)


def _support(scene: Scene, number: int, support: Support) -> Iterator[Ink]:
    at, owner = scene.place(support), f"supports[{number + 1}]"
    top = scene.moved(at, scene.under_mm)
    if support.kind == "spring":
        radius = _WHEEL * scene.under_mm
        # A hanging wheel is off the ground, drawn larger.
        lift = scene.factor * max(0.0, -scene.sunk(at) - support.extension_mm)
        hub = (at, radius + lift)
        tread = box_of(at - radius / 3, lift, at + radius / 3, lift + 2 * radius)
        yield (
            ring(hub, radius, pen="thin", owner=owner)
            if scene.view == "side"
            else polygon(tread, "thin", "paper", owner)
        )
        yield ring(hub, 0.6 * scene.per_mm)
        yield _zigzag(hub, top, min(0.35 * radius, 2.2 * scene.per_mm), owner)
        return
    half = 1.2 * scene.per_mm
    post = box_of(at - half, 0.0, at + half, min(scene.under_mm - scene.factor * support.gap_mm, top[1]))
    yield polygon(post, "thin", "inner" if support.kind == "bearer" else "outer", owner)
    if support.kind == "jack":
        yield polygon(box_of(at - 2.5 * half, 0.0, at + 2.5 * half, half), "thin", "outer", owner)


def _zigzag(low: Point, high: Point, half: MM, owner: str) -> Path:
    """Return a spring: straight ends, and half turns between them."""
    (x, z0), (_, z1) = low, high
    start, end = z0 + 0.15 * (z1 - z0), z1 - 0.15 * (z1 - z0)
    step = (end - start) / _TURNS
    turns = ((x + (half if turn % 2 == 0 else -half), start + (turn + 0.5) * step) for turn in range(_TURNS))
    return polyline((low, (x, start), *turns, (x, end), (x, z1)), "outline", owner)
