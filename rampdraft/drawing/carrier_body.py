"""The body of the carrier, level and as it stands, and its supports, as ink."""

from collections.abc import Iterator
from typing import Final

from rampdraft.drawing.carrier_scene import Scene
from rampdraft.drawing.ink import Ink, Path, polygon, polyline, ring
from rampdraft.geometry.outline import Point
from rampdraft.model.design import Support
from rampdraft.units import MM

_WHEEL: Final = 0.33
"""Radius of a wheel drawn, of the room under the carrier: the design does not know it."""
_TURNS: Final = 7
"""Half turns of a spring."""


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
