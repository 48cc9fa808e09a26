"""Members spaced by the length and width that they are on: slats, cross members, lanes, stop bars."""

import math
from dataclasses import replace
from typing import Final

from rampdraft.model.design import Design, Leaf
from rampdraft.units import MM

GAP_MM: Final = 12.0
"""Greatest gap between slats: less than any rule lets open, more than a board swells; common practice."""
END_MM: Final = 4.0
"""From a leaf's hinge line to its first or last slat: half the gap over the joint."""


def slatted(leaf: Leaf, *, first_mm: MM, last_mm: MM) -> Leaf:
    """Return a leaf with even slats from `first_mm` to `last_mm` before its end, as few as gaps allow."""
    room = leaf.length_mm - first_mm - last_mm
    width = leaf.slat_width_mm
    count = max(1, math.ceil((room + GAP_MM) / (width + GAP_MM) - 1e-9))
    if count > 1 and count * width > room:
        count -= 1
    pitch = width if count == 1 else (room - width) / (count - 1)
    pitch = max(width, math.floor(pitch * 10 + 1e-6) / 10)
    return replace(leaf, slat_first_mm=first_mm, slat_last_gap_mm=last_mm, slat_pitch_mm=pitch)


def crossed(leaf: Leaf, count: int, *, start_mm: MM, end_mm: MM) -> Leaf:
    """Return a leaf with so many cross members from `start_mm` to `end_mm`, evenly."""
    step = (end_mm - start_mm) / max(1, count - 1)
    places = tuple(float(round(start_mm + step * number)) for number in range(count))
    return replace(leaf, cross_positions_mm=places)


def laned(design: Design, count: int, gap_mm: MM) -> Design:
    """Return a design with so many rails a leaf, the outermost flush with the slats, those of the outer leaf
    beside them towards the middle.
    """
    inner, outer = design.inner_leaf, design.outer_leaf
    wide = max(inner.rail_section.width_mm, outer.rail_section.width_mm)
    edge = (inner.width_mm - inner.rail_section.width_mm) / 2
    lanes = tuple(float(round(-edge + 2 * edge * number / (count - 1), 1)) for number in range(count))
    beside = wide + gap_mm
    others = tuple(round(lane - beside if lane > 0 else lane + beside, 1) for lane in lanes)
    return replace(
        design,
        inner_leaf=replace(inner, rail_lanes_mm=lanes),
        outer_leaf=replace(outer, rail_lanes_mm=others),
    )
