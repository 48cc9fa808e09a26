"""Every hole of a part: where it is from one datum end and one face, how wide and deep, what it is for."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final, NamedTuple

from rampdraft.geometry.members.member import Drilled, Face, HoleUse, Role
from rampdraft.model.catalogue import screw_through
from rampdraft.model.design import Design
from rampdraft.shop.bought import NUMBERS, Bought, BoughtKind
from rampdraft.shop.parts import Part
from rampdraft.units import MM


@dataclass(frozen=True, slots=True, kw_only=True)
class DrilledHole:
    """A hole of a part, with what goes into it."""

    at_mm: MM
    """Running dimension from the datum end."""
    across_mm: MM
    """From the lower edge of the profile, or as `Drilled` says; 0 of a bore, which lies on the axis."""
    face: Face
    diameter_mm: MM
    use: HoleUse
    deep_mm: MM
    """From the face; 0 for right through the piece."""
    takes: str
    """Number of what goes into it: of what is bought, or of the first part; empty where the lists hold it
    not.
    """


class _Seen(NamedTuple):
    """What the holes of a profile are, by the role of the part."""

    face: Face
    use: HoleUse
    takes: BoughtKind | None


_SEEN: Final[dict[Role, _Seen]] = {
    "slat": _Seen("top", "clearance", "slat screw"),
    "pin": _Seen("side", "clearance", "split pin"),
    "knuckle": _Seen("ends", "bore", None),
    "washer": _Seen("ends", "bore", None),
    "edge upstand": _Seen("side", "clearance", "upstand screw"),
    "bracket plate": _Seen("top", "clearance", "bracket bolt"),
    "bridge strip": _Seen("top", "clearance", "bridge screw"),
    "prop": _Seen("side", "clearance", "prop pin"),
    "prop inner tube": _Seen("side", "clearance", "prop pin"),
}

_IN_DRILLED: Final[dict[Role, BoughtKind]] = {
    "slat": "upstand screw",
    "prop": "prop pin",
    "prop inner tube": "prop pin",
}
"""What goes into holes that no profile shows, but for the screws of slats."""


def holes_of(design: Design, part: Part, things: Sequence[Bought]) -> tuple[DrilledHole, ...]:
    """Return all holes of a part, along it from the datum end; those of `things` that are listed go in."""
    numbers: dict[BoughtKind, str] = {}
    for one in things:  # what is bought for this part, else the first of its kind
        if one.kind not in numbers or not set(part.members).isdisjoint(one.members):
            numbers[one.kind] = one.number
    piece = part.piece
    x0, y0, _, _ = piece.profile.outline.box
    seen = _SEEN.get(part.role)
    found = [
        DrilledHole(
            at_mm=0.0 if seen.use == "bore" else hole.x_mm - x0,
            across_mm=0.0 if seen.use == "bore" else hole.y_mm - y0,
            face=seen.face,
            diameter_mm=hole.diameter_mm,
            use=seen.use,
            deep_mm=0.0,
            takes=numbers.get(seen.takes, "") if seen.takes else "",
        )
        for hole in piece.profile.holes
        if seen is not None
    ]
    kind = _IN_DRILLED.get(part.role, "slat screw")
    found += [
        DrilledHole(
            at_mm=hole.at_mm,
            across_mm=hole.across_mm,
            face=hole.face,
            diameter_mm=hole.diameter_mm,
            use=hole.use,
            deep_mm=_deep_mm(design, part, hole),
            takes=numbers.get(kind, NUMBERS[kind]),
        )
        for hole in piece.drilled
    ]
    return tuple(sorted(found, key=lambda one: (one.at_mm, one.across_mm, one.face)))


def _deep_mm(design: Design, part: Part, hole: Drilled) -> MM:
    """Return how deep a hole for a screw is: as deep as the screw holds, through a wall, or two diameters
    into a solid bar (common practice).
    """
    if hole.use == "pilot":
        return design.workshop.screw_held_mm
    wall = part.piece.section.wall_mm
    screw = screw_through(design.workshop.slat_screw_mm, "steel")
    return wall or min(part.piece.section.depth_mm, 2 * screw.diameter_mm)
