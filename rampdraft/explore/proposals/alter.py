"""One thing of a design changed, and what has to follow it, so that the design stays whole. Designs that come
out are settled: their spacings have followed.
"""

import math
from dataclasses import replace
from typing import Any, Final, Literal

from rampdraft.explore.proposals.draft import CLEAR_MM
from rampdraft.explore.proposals.supply import guards
from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design, Handle, Leaf
from rampdraft.model.fields.paths import with_value
from rampdraft.model.section import Section
from rampdraft.units import MM

LeafName = Literal["inner_leaf", "outer_leaf"]
BOTH: Final[tuple[LeafName, LeafName]] = ("inner_leaf", "outer_leaf")
_ROAD_MM: Final = 150.0
"""So far above the ground the stowed outer leaf ends, so that it meets nothing on the road; common
practice.
"""


def longest_outer_mm(design: Design, inner_mm: MM) -> MM:
    """Return how long the outer leaf may be: backs together it hangs outside, and may reach below the deck;
    faces together it ends above it.
    """
    hinge = design.deck_hinge
    if design.fold.closing == "faces":
        return inner_mm - hinge.below_mm - 2 * design.bridge.thickness_mm - CLEAR_MM - 5
    drop = design.carrier.deck_drop_mm
    return inner_mm + max(0.0, design.carrier.deck_height_mm - drop - hinge.below_mm - _ROAD_MM)


def longest_inner_mm(design: Design) -> MM:
    """Return how long the inner leaf may be in the room above the deck, stowed upright."""
    above = max(
        design.joint.knuckle_diameter_mm / 2,
        design.stop.lap_mm if design.stop.kind == "lap" and design.stop.fixed_to == "inner" else 0.0,
    )
    return design.carrier.stow_height_mm + design.deck_hinge.below_mm - above - 1


def with_lengths(design: Design, inner_mm: MM, outer_mm: MM) -> Design:
    """Return a design with leaves of these lengths, a taper in proportion."""
    before = design.outer_leaf.length_mm
    toe = design.toe
    if toe.kind == "taper":
        length = min(round(toe.length_mm * outer_mm / before / 10) * 10, math.floor(outer_mm - 200))
        toe = replace(toe, length_mm=float(max(50, length)))
    handles = tuple(_at_the_end(design, one, inner_mm, outer_mm) for one in design.handles)
    return settled(
        replace(
            design,
            inner_leaf=replace(design.inner_leaf, length_mm=float(inner_mm)),
            outer_leaf=replace(design.outer_leaf, length_mm=float(outer_mm)),
            toe=toe,
            handles=handles,
        )
    )


def _at_the_end(design: Design, handle: Handle, inner_mm: MM, outer_mm: MM) -> Handle:
    """Return a handle at the end of its leaf as the leaf gets another length; further in it stays."""
    inner = handle.leaf == "inner"
    before = (design.inner_leaf if inner else design.outer_leaf).length_mm
    length = inner_mm if inner else outer_mm
    return replace(handle, at_mm=length if handle.at_mm >= before else min(handle.at_mm, length))


def of_length(design: Design, whole_mm: MM) -> Design | None:
    """Return a design whose leaves are so long together, alike where there is room; None where they cannot
    be stowed.
    """
    most = math.floor(longest_inner_mm(design))
    short = 0.0
    if design.fold.closing == "faces":
        short = math.ceil(-(longest_outer_mm(design, 0.0)))
    inner = min(math.ceil((whole_mm + short) / 2), most)
    outer = whole_mm - inner
    if inner < 250 or outer < 250 or outer > math.floor(longest_outer_mm(design, inner)) + 1:
        return None
    return with_lengths(design, inner, math.floor(outer))


def with_toe(design: Design, length_mm: MM) -> Design | None:
    """Return a design with a toe of another length; None where the leaf is too short for it."""
    most = design.outer_leaf.length_mm - 200 if design.toe.kind == "taper" else 1000.0
    length = float(math.ceil(length_mm / 10) * 10)
    if length > most or length > 1000 or length < 50:
        return None
    return settled(replace(design, toe=replace(design.toe, length_mm=length)))


def with_width(design: Design, width_mm: MM) -> Design | None:
    """Return a design with another surface width; None where it does not fit the opening."""
    guard = design.inner_leaf
    sides = 2 * guard.upstand_thickness_mm if guard.upstand_height_mm else 0.0
    if width_mm + sides > design.carrier.opening_width_mm:
        return None
    for name in BOTH:
        design = with_value(design, f"{name}.width_mm", float(width_mm))
    if design.stop.kind == "lap":
        design = with_value(design, "stop.section", replace(design.stop.section, width_mm=float(width_mm)))
    return settled(design)


def with_rails(design: Design, name: LeafName, section: Section) -> Design:
    """Return a design with other rails in a leaf; both leaves have rails of one depth and width."""
    old: Section = getattr(design, name).rail_section
    same = (old.depth_mm, old.width_mm) == (section.depth_mm, section.width_mm)
    for leaf in (name,) if same else BOTH:
        design = with_value(design, f"{leaf}.rail_section", section)
    if same:
        return settled(design)
    deeper = section.depth_mm - old.depth_mm
    if design.fold.closing == "backs":
        design = replace(
            design,
            joint=replace(design.joint, height_mm=design.joint.height_mm - deeper),
            stop=replace(design.stop, arm_mm=design.stop.arm_mm + deeper),
        )
    wider = section.width_mm - old.width_mm
    joint, deck = design.joint, design.deck_hinge
    design = replace(
        design,
        joint=replace(joint, knuckle_length_mm=joint.knuckle_length_mm + wider),
        deck_hinge=replace(deck, knuckle_length_mm=max(20.0, deck.knuckle_length_mm + wider)),
    )
    return settled(design)


def with_rail_count(design: Design, count: int) -> Design | None:
    """Return a design with so many rails a leaf; None where they find no room."""
    leaf = design.inner_leaf
    if count < 2 or (leaf.width_mm - leaf.rail_section.width_mm) / (count - 1) < 130:
        return None
    found = put(design, rails__count=count)
    return found if len(found.inner_leaf.rail_lanes_mm) == count else None


def with_slats(design: Design, section: Section) -> Design:
    """Return a design with other slats on both leaves: what lies on them keeps its place."""
    thicker = section.depth_mm - design.inner_leaf.slat_thickness_mm
    for name in BOTH:
        leaf: Leaf = getattr(design, name)
        height = leaf.upstand_height_mm - thicker if leaf.upstand_height_mm else 0.0
        changed = replace(
            leaf,
            slat_thickness_mm=section.depth_mm,
            slat_width_mm=section.width_mm,
            upstand_height_mm=max(0.0, height),
        )
        design = replace(design, **{name: changed})
    hinge, joint = design.deck_hinge, design.joint
    below = max(0.0, hinge.below_mm + thicker)
    design = replace(
        design,
        deck_hinge=replace(hinge, below_mm=below, out_mm=hinge.out_mm + max(0.0, thicker)),
        joint=replace(joint, height_mm=joint.height_mm + thicker)
        if design.fold.closing == "faces"
        else joint,
    )
    return settled(design)


def with_guards(design: Design, section: Section) -> Design | None:
    """Return a design with other bars along its edges; None where they do not fit the opening."""
    for name in BOTH:
        leaf: Leaf = getattr(design, name)
        height = section.depth_mm - leaf.slat_thickness_mm
        leaf = replace(leaf, upstand_height_mm=max(0.0, height), upstand_thickness_mm=section.width_mm)
        design = replace(design, **{name: leaf})
    return with_width(design, design.inner_leaf.width_mm)


def guarded(design: Design, least_mm: MM) -> Design:
    """Return a design whose guards are the lightest bars that stand high enough and are as thick as they are;
    one without guards stays without.
    """
    now = guard_of(design.inner_leaf)
    if now is None:
        return design
    tall = design.inner_leaf.slat_thickness_mm + least_mm
    found = [one for one in guards(design) if one.depth_mm >= tall and one.width_mm >= now.width_mm]
    return (with_guards(design, found[0]) if found else None) or design


def deepest_rail_mm(design: Design) -> MM:
    """Return how deep rails may be for what stands out, stowed upright."""
    leaf, hinge, joint, room = design.inner_leaf, design.deck_hinge, design.joint, design.carrier
    if design.fold.stowed_deg != 90:
        return math.inf
    if design.fold.closing == "faces":
        inside = room.stow_in_mm + hinge.out_mm + hinge.height_mm - 2 * joint.height_mm
        return min(inside, room.stow_out_mm - hinge.out_mm - hinge.height_mm)
    apart = -joint.height_mm - leaf.rail_section.depth_mm
    above = leaf.slat_thickness_mm + leaf.upstand_height_mm
    return (room.stow_out_mm - hinge.out_mm - hinge.height_mm - above) / 2 - apart


def guard_of(leaf: Leaf) -> Section | None:
    """Return the bar along a leaf's edges; None for none."""
    if not leaf.upstand_height_mm:
        return None
    depth = leaf.upstand_height_mm + leaf.slat_thickness_mm
    return Section(kind="flat", depth_mm=depth, width_mm=leaf.upstand_thickness_mm)


def slat_of(leaf: Leaf) -> Section:
    """Return a leaf's slat, lying."""
    return Section(kind="flat", depth_mm=leaf.slat_thickness_mm, width_mm=leaf.slat_width_mm)


def with_crosses(design: Design, name: LeafName, count: int) -> Design | None:
    """Return a design with so many cross members in a leaf; None where they find no room."""
    leaf: Leaf = getattr(design, name)
    if count < 2 or leaf.length_mm / count < 3 * leaf.cross_section.width_mm:
        return None
    found = put(design, **{f"{name}__cross_count": count})
    placed: Leaf = getattr(found, name)
    return found if len(placed.cross_positions_mm) == count else None


def with_bridge(design: Design, reach_mm: MM) -> Design:
    """Return a design whose bridge plate reaches so far beyond the deck edge, and has as much on the deck."""
    half = math.ceil(reach_mm / 5) * 5
    return put(design, bridge__length_mm=2.0 * half, bridge__over_deck_mm=float(half))


def put(design: Design, **values: Any) -> Design:
    """Return a design with plain values replaced; a double underscore stands for the point of a path."""
    for path, value in values.items():
        design = with_value(design, path.replace("__", "."), value)
    return settled(design)
