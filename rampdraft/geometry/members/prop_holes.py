"""Where the holes stand that set the length of a prop: at the heights that it is needed at, as near to each
other as its tube bears them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.units import MM

END: Final = 1.2
"""A hole is so many of its diameters from the end of a tube: EN 1993-1-8, table 3.3, e1 (from memory)."""
APART: Final = 2.2
"""Holes of one row stand so many of their diameters apart: EN 1993-1-8, table 3.3, p1 (from memory)."""
PIN_ROOM_MM: Final = 0.5
"""A hole is so much wider than its pin; heights that differ by less share one. Common practice."""
_HAIR_MM: Final = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One hole of a prop's inner tube."""

    height_mm: MM
    """From the ground to the joint, with the pin in it."""
    face: int
    """0 through the sides, 1 through the other two walls."""


def settings(needs_mm: Sequence[MM], *, least_mm: MM, apart_mm: MM, faces: int) -> tuple[Setting, ...]:
    """Return the holes for these heights, the lowest setting first; those of one face keep their distance.

    A prop is pinned in the highest hole that does not push the joint up. Each height has its own hole where
    there is room; else all stand short by as little as is found by laying holes from the lowest height up.
    """
    needs = sorted(needs_mm)
    if not needs:
        return ()
    for short in _tried(needs, apart_mm):
        groups = _laid(needs, short, least_mm, apart_mm, faces)
        if groups:
            return _on_faces(_raised(groups, apart_mm, faces), apart_mm)
    raise AssertionError("holes a whole spacing apart always find room")


def _tried(needs: list[MM], apart_mm: MM) -> list[MM]:
    """Return by how much props may stand short, least first: where one more height shares a hole, or a row
    of holes becomes just long enough.
    """
    gaps = {high - low for low in needs for high in needs if high > low}
    rows = {(apart_mm - gap) / share for gap in gaps for share in (1, 2)} | gaps
    return sorted({PIN_ROOM_MM, apart_mm, *(one for one in rows if PIN_ROOM_MM < one < apart_mm)})


def _laid(needs: list[MM], short: MM, least: MM, apart: MM, faces: int) -> list[tuple[MM, MM]]:
    """Return the lowest hole of each group of heights, and its least height; nothing without room."""
    found: list[tuple[MM, MM]] = []
    rest = needs
    while rest:
        group = [need for need in rest if need <= rest[0] + short + _HAIR_MM]
        low = max(least, group[-1] - short)
        if len(found) >= faces:
            low = max(low, found[-faces][0] + apart)
        if low > group[0] + _HAIR_MM:
            return []
        found.append((min(low, group[0]), group[0]))
        rest = rest[len(group) :]
    return found


def _raised(groups: list[tuple[MM, MM]], apart: MM, faces: int) -> list[MM]:
    """Return the holes as high as they may stand."""
    found: list[MM] = []
    for _, most in reversed(groups):
        found.append(most if len(found) < faces else min(most, found[-faces] - apart))
    return found[::-1]


def _on_faces(heights: list[MM], apart: MM) -> tuple[Setting, ...]:
    """Return each hole on the first face that has room for it."""
    last: dict[int, MM] = {}
    found: list[Setting] = []
    for height in heights:
        face = next(
            (one for one in (0, 1) if height - last.get(one, -apart) >= apart - _HAIR_MM or one == 1), 0
        )
        last[face] = height
        found.append(Setting(height_mm=height, face=face))
    return tuple(found)
