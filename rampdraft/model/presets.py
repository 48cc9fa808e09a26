"""Ordinary places to put a ramp down, told by one figure: level, a kerb, falling ground, a platform."""

from collections.abc import Collection
from dataclasses import dataclass, replace
from typing import Final, Literal

from rampdraft.model.design import Site, SiteKind
from rampdraft.model.fields.values import numbered
from rampdraft.words.say import say

PresetKind = Literal["level", "kerb", "fall", "platform", "own"]

FAR_MM: Final = 6000.0
"""So far the ground is told: no two leaves reach farther."""
EDGE_MM: Final = 400.0
"""From the deck edge to a kerb or a platform, common practice."""
USUAL: Final[dict[PresetKind, float]] = {"level": 0.0, "kerb": 120.0, "fall": 3.0, "platform": 300.0}
"""What is taken until somebody says: mm, of falling ground per cent; common practice."""
NAMES: Final[dict[PresetKind, str]] = {
    "level": "Level ground",
    "kerb": "Kerb",
    "fall": "Falling ground",
    "platform": "Platform",
}
_KINDS: Final[dict[PresetKind, SiteKind]] = {
    "level": "ground",
    "kerb": "kerb",
    "fall": "ground",
    "platform": "platform",
}


@dataclass(frozen=True, slots=True)
class Preset:
    """An ordinary place."""

    kind: PresetKind
    """`own` for ground by points that is none of the others."""
    value: float = 0.0
    """Height of a kerb or a platform, mm; how much ground falls away from the deck, per cent."""


def preset_of(site: Site) -> Preset:
    """Return which ordinary place a site is."""
    points = site.ground_mm
    kind = _risen(site)
    if kind is not None:
        return Preset(kind, points[2][1])
    if site.kind != "ground":
        return Preset("own")
    if points and all(z == 0 for _, z in points):
        return Preset("level")
    if len(points) == 2 and points[0] == (0, 0) and points[1][0] > 0:
        return Preset("fall", round(-100 * points[1][1] / points[1][0], 6))
    return Preset("own")


def _risen(site: Site) -> PresetKind | None:
    """Return whether the ground is level, rises at one place, and is level again, as a kerb or a platform."""
    points = site.ground_mm
    kind: PresetKind | None = (
        "kerb" if site.kind == "kerb" else "platform" if site.kind == "platform" else None
    )
    if kind is None or len(points) != 4:
        return None
    (_, low), (foot, foot_z), (top, top_z), (_, far_z) = points
    return kind if low == foot_z == 0 and foot == top and top_z == far_z else None


def site_as(preset: Preset, before: Site) -> Site:
    """Return a site as an ordinary place; where it was one of the same kind, its step stays where it is, and
    how far its ground is told.
    """
    if preset.kind == "own":
        return before
    points = before.ground_mm
    same = preset_of(before).kind == preset.kind
    far = points[-1][0] if same else FAR_MM
    value = preset.value
    if preset.kind == "level":
        ground = ((0.0, 0.0), (far, 0.0))
    elif preset.kind == "fall":
        ground = ((0.0, 0.0), (far, -far * value / 100))
    else:
        edge = points[1][0] if same else EDGE_MM
        ground = ((0.0, 0.0), (edge, 0.0), (edge, value), (far, value))
    return replace(before, kind=_KINDS[preset.kind], ground_mm=ground)


def turned_into(before: Site, kind: PresetKind, taken: Collection[str]) -> Site:
    """Return a site as an ordinary place of another kind with its usual figure, under a name that is free."""
    if kind in ("own", preset_of(before).kind):
        return before
    usual = usual_site(kind)
    name = numbered(usual.name, taken)
    return replace(before, name=name, kind=usual.kind, ground_mm=usual.ground_mm)


def usual_site(kind: PresetKind) -> Site:
    """Return an ordinary place with its usual figure."""
    bare = Site(name=say(NAMES[kind]), kind=_KINDS[kind], ground_mm=((0.0, 0.0),))
    return site_as(Preset(kind, USUAL[kind]), bare)
