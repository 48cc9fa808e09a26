"""The weld between a knuckle and its rail: the line along which they touch."""

import math
from dataclasses import dataclass

from rampdraft.model.design import Hinge, Leaf
from rampdraft.units import MM


@dataclass(frozen=True, slots=True, kw_only=True)
class KnuckleWeld:
    """Length of weld round one knuckle, and how far from the middle of the rail it lies."""

    arc_mm: MM
    """On one side of the rail, round the knuckle."""
    lines: int
    """How many lines run along the knuckle, over the rail's top and underside."""
    width_mm: MM
    """Of the rail under the knuckle: length of such a line, and distance between the arcs."""

    @property
    def length_mm(self) -> MM:
        """Return the length of all of it."""
        return 2 * self.arc_mm + self.lines * self.width_mm

    @property
    def twist_mm2(self) -> float:
        """Return the plastic modulus of the weld's line against a couple about the upright through its
        middle, mm3 a mm.

        EN 1993-1-8, 2.5 and 4.9: forces in a weld may be taken as spread plastically.
        """
        return self.arc_mm * self.width_mm + self.lines * self.width_mm**2 / 4


def knuckle_weld(hinge: Hinge, leaf: Leaf, shift_mm: MM) -> KnuckleWeld | None:
    """Return the weld between a knuckle and the end of its rail; None where the knuckle does not lie on the
    rail.

    The rail's end face stands on the hinge line and is coped to the knuckle: on each side the weld follows
    the knuckle from the rail's underside to its top, as far as the knuckle reaches; over the top and under
    the underside a line runs along the knuckle where it comes through. A knuckle that stands on top of the
    rail has two lines along it.
    """
    width = min(
        leaf.rail_section.width_mm, (leaf.rail_section.width_mm + hinge.knuckle_length_mm) / 2 - abs(shift_mm)
    )
    width = min(width, hinge.knuckle_length_mm)
    if width <= 0:
        return None
    radius, height, depth = hinge.knuckle_diameter_mm / 2, hinge.height_mm, leaf.rail_section.depth_mm
    top, bottom = -height / radius, (-depth - height) / radius
    if top <= -1 or bottom >= 1:
        return KnuckleWeld(arc_mm=0.0, lines=2, width_mm=width)
    arc = radius * (math.asin(min(1.0, top)) - math.asin(max(-1.0, bottom)))
    return KnuckleWeld(arc_mm=arc, lines=(top < 1) + (bottom > -1), width_mm=width)
