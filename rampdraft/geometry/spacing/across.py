"""What follows across the ramp: the rails of both leaves in neighbouring lanes."""

import math
from dataclasses import replace
from typing import Final, NamedTuple

from rampdraft.geometry.buildable.fold import stop_bears
from rampdraft.geometry.buildable.leaves import deck_lanes, joint_lanes, pins_clear, rails
from rampdraft.geometry.lanes import PIN_TAIL_MM
from rampdraft.model.design import Design
from rampdraft.units import MM

LEAST: Final = 2
"""No leaf has fewer rails."""


class Across(NamedTuple):
    """Where rails and joint knuckles of both leaves lie."""

    inner_mm: tuple[MM, ...]
    outer_mm: tuple[MM, ...]
    inner_shift_mm: MM
    """How far the inner leaf's joint knuckles sit outboard of their rails."""
    outer_shift_mm: MM


def step_and_shifts_mm(design: Design, count: int) -> tuple[MM, MM, MM]:
    """Return how far a rail of the outer leaf lies beside its mate of the inner one, and how far the joint
    knuckles of the inner and of the outer leaf sit outboard of theirs.

    There is room for both rails side by side, and for a knuckle of each. A butting stop bar fills what is
    between the rails, in the middle of both knuckles, so that those are shifted where they are longer or the
    rails are not alike; but a rail in the middle has no side to shift them to.
    """
    joint, stop = design.joint, design.stop
    inner, outer = design.inner_leaf.rail_section.width_mm, design.outer_leaf.rail_section.width_mm
    knuckles, sides = joint.knuckle_length_mm + joint.side_gap_mm, (inner + outer) / 2
    if stop.kind != "butt":
        return max(knuckles, sides + joint.side_gap_mm), 0.0, 0.0
    step = sides + stop.section.width_mm
    if count % 2:
        return max(step, knuckles), 0.0, 0.0
    apart, aside = max(knuckles - step, 0.0), (outer - inner) / 2
    return step, _shift((aside + apart) / 2), _shift((aside - apart) / 2)


def _shift(shift: MM) -> MM:
    return min(max(shift, -200.0), 200.0)


def with_lanes(design: Design) -> Design:
    """Return a design with its rails evenly over the inner leaf, those of the outer leaf each beside its
    mate: as many as are wanted, or as find room with all their knuckles and pins and let stop bars bear.
    """
    for count in range(max(design.rails.count, LEAST), LEAST, -1):
        found = _with(design, even_lanes(design, count))
        if _fits(found):
            return found
    return _with(design, even_lanes(design, LEAST))


def even_lanes(design: Design, count: int) -> Across:
    """Return where so many rails of each leaf lie, whether or not they find room."""
    step, inner_shift, outer_shift = step_and_shifts_mm(design, count)
    inner_leaf, outer_leaf = design.inner_leaf, design.outer_leaf
    inset, narrow = design.rails.inset_mm, outer_leaf.rail_section.width_mm / 2
    widest = inner_leaf.width_mm / 2 - inner_leaf.rail_section.width_mm / 2
    outer_most = outer_leaf.width_mm / 2 - narrow
    most = min(widest, outer_most + step)
    edge = max(
        min(most, max(most - inset, _least_edge_mm(design, step - outer_shift))),
        inner_leaf.rail_section.width_mm / 2,
    )
    inner = tuple(_lane(edge, number, count) for number in range(count))
    outer = tuple(_mate(lane, step, narrow) for lane in inner)
    return Across(inner, outer, inner_shift, outer_shift)


def _least_edge_mm(design: Design, reach: MM) -> MM:
    """Return how near to the middle a pair may lie with a pair on the other side: their knuckles, pins and
    the carrier's knuckles, all towards the middle, have room; `reach` is from an inner rail to the outer
    knuckle. Rails are set in from the edge no further.
    """
    joint, deck = design.joint.knuckle_length_mm, design.deck_hinge.knuckle_length_mm
    rail = max(design.inner_leaf.rail_section.width_mm, design.outer_leaf.rail_section.width_mm)
    at_joint = reach + max(joint / 2, (joint / 2 + PIN_TAIL_MM + rail / 2) / 2)
    return max(at_joint, 1.5 * deck + design.deck_hinge.side_gap_mm)


def _lane(edge: MM, number: int, count: int) -> MM:
    """Return a lane of so many from edge to edge; those between in whole mm, alike on both sides."""
    if number in (0, count - 1):
        return edge if number else -edge
    at = edge * (2 * number - count + 1) / (count - 1)
    return math.copysign(math.floor(abs(at) + 0.5), at) if at else 0.0


def _mate(lane: MM, step: MM, narrow: MM) -> MM:
    """Return the lane beside one, towards the middle of the ramp but on the same side of it."""
    return math.copysign(max(abs(lane) - step, narrow), lane) if lane else step


def _with(design: Design, across: Across) -> Design:
    inner, outer, inner_shift, outer_shift = across
    return replace(
        design,
        inner_leaf=replace(design.inner_leaf, rail_lanes_mm=inner, knuckle_shift_mm=inner_shift),
        outer_leaf=replace(design.outer_leaf, rail_lanes_mm=outer, knuckle_shift_mm=outer_shift),
    )


def _fits(design: Design) -> bool:
    leaves = (("inner_leaf", design.inner_leaf), ("outer_leaf", design.outer_leaf))
    return not (
        any(problem for name, leaf in leaves for problem in rails(design, leaf, name))
        or any(
            problem for rule in (joint_lanes, pins_clear, deck_lanes, stop_bears) for problem in rule(design)
        )
    )
