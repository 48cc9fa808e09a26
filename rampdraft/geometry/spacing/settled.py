"""The one function that fills in what follows: `settled(design)`."""

from dataclasses import replace

from rampdraft.geometry.spacing.across import with_lanes
from rampdraft.geometry.spacing.along import even_pitch, even_places, slat_ends, upstand_ends
from rampdraft.model.design import Design, Leaf
from rampdraft.model.spacing import GIVEN


def settled(design: Design) -> Design:
    """Return a design in which all that follows has the figures that the rest of it asks for.

    It is the design itself where nothing follows, or where all that does is so already. Whatever the values
    are, each alone within its range, what follows comes out within its own.
    """
    found = design if design.rails.lanes == GIVEN else with_lanes(design)
    if found.stop.bars != GIVEN:
        count = min(max(len(found.inner_leaf.rail_lanes_mm), 1), 12)
        found = replace(found, stop=replace(found.stop, count=count))
    inner, outer = _along(found, found.inner_leaf, inner=True), _along(found, found.outer_leaf, inner=False)
    if inner is not found.inner_leaf or outer is not found.outer_leaf:
        found = replace(found, inner_leaf=inner, outer_leaf=outer)
    return design if found == design else found


def _along(design: Design, leaf: Leaf, *, inner: bool) -> Leaf:
    """Return a leaf with what follows along it."""
    if leaf.slat_ends != GIVEN:
        near, far = slat_ends(design, leaf, inner=inner)
        leaf = replace(leaf, slat_first_mm=near, slat_last_gap_mm=far)
    if leaf.slats != GIVEN:
        room = leaf.length_mm - leaf.slat_first_mm - leaf.slat_last_gap_mm
        pitch = even_pitch(room, leaf.slat_width_mm, leaf.slat_greatest_gap_mm)
        leaf = replace(leaf, slat_pitch_mm=pitch)
    if leaf.cross_members != GIVEN:
        leaf = replace(leaf, cross_positions_mm=even_places(design, leaf, inner=inner))
    if leaf.upstands != GIVEN:
        near, far = upstand_ends(design, leaf, inner=inner)
        leaf = replace(leaf, upstand_start_mm=near, upstand_end_gap_mm=far)
    return leaf
