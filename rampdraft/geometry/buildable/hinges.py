"""Rules about the hinge lines: knuckles, pins and copes have room."""

import math
from collections.abc import Iterator
from itertools import pairwise

from rampdraft.errors import Problem
from rampdraft.figures import mm
from rampdraft.geometry.buildable.words import leaf_called, wrong
from rampdraft.geometry.lanes import (
    PIN_TAIL_MM,
    TOUCH_MM,
    cross_top_mm,
    deck_bracket_centres_mm,
    joint_pairs_mm,
    knuckle_centres_mm,
    rail_intervals_mm,
)
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.model.fields.paths import value_at
from rampdraft.units import MM


def pin(name: str, design: Design) -> Iterator[Problem]:
    """Yield a pin that leaves no wall in its knuckle."""
    hinge: Hinge = value_at(design, name)
    if hinge.pin_diameter_mm >= hinge.knuckle_diameter_mm:
        yield wrong(
            design,
            f"{name}.pin_diameter_mm",
            f"leaves no wall in a knuckle of {mm(hinge.knuckle_diameter_mm)}",
            "take a thinner pin or a thicker knuckle",
        )


def joint_lanes(design: Design) -> Iterator[Problem]:
    """Yield knuckles that are wider than their lanes at the joint, and rails without a partner."""
    hinge, key = design.joint, "joint.knuckle_length_mm"
    pairs = joint_pairs_mm(design)
    if not pairs:
        return
    if len({outer for _, outer in pairs}) < len(pairs) or len(pairs) < len(design.outer_leaf.rail_lanes_mm):
        yield wrong(
            design,
            "outer_leaf.rail_lanes_mm",
            "do not pair one to one with those of the inner leaf: each joint pin needs a knuckle of both",
            "give a rail of the outer leaf beside each of the inner leaf",
        )
        return
    nearest = min(abs(outer - inner) for inner, outer in pairs)
    if nearest < hinge.knuckle_length_mm + hinge.side_gap_mm - TOUCH_MM:
        most = nearest - hinge.side_gap_mm
        way_out = "move the rail lanes apart, or shift the knuckles outboard"
        yield wrong(
            design,
            key,
            f"is wider than its lane: with the side gap of {mm(hinge.side_gap_mm)}, a knuckle of the inner"
            f" leaf meets that of the outer leaf {mm(nearest)} beside it",
            f"make it at most {mm(most)}, or {way_out}" if most > 0 else way_out,
        )
    for leaf, words in ((design.inner_leaf, "inner"), (design.outer_leaf, "outer")):
        if crowded := _crowded(leaf, hinge.knuckle_length_mm, words):
            rule = f"is wider than its lane: {crowded}"
            yield wrong(design, key, rule, "shorten the knuckles or move the rail lanes apart")


def _crowded(leaf: Leaf, length: MM, words: str) -> str:
    """Return what a leaf's joint knuckles, so long, run into; empty where they have room."""
    centres, lanes = knuckle_centres_mm(leaf), leaf.rail_lanes_mm
    reach = min(
        (abs(lane - y) for own, y in enumerate(centres) for other, lane in enumerate(lanes) if other != own),
        default=math.inf,
    )
    if reach < (length + leaf.rail_section.width_mm) / 2 - TOUCH_MM:
        return f"a knuckle of the {words} leaf runs into the next rail, {mm(reach)} from its middle"
    apart = min((right - left for left, right in pairwise(sorted(centres))), default=math.inf)
    if apart < length - TOUCH_MM:
        return f"two knuckles of the {words} leaf are only {mm(apart)} apart, middle to middle"
    return ""


def pins_clear(design: Design) -> Iterator[Problem]:
    """A pin's tails must not run into the rails next to its pair, where the hinge line goes through their
    depth.
    """
    joint, half = design.joint, design.joint.knuckle_length_mm / 2 + PIN_TAIL_MM
    radius = joint.pin_diameter_mm / 2
    for leaf, words in ((design.inner_leaf, "inner"), (design.outer_leaf, "outer")):
        if not -leaf.rail_section.depth_mm - radius < joint.height_mm < radius:
            continue
        centres, rails = knuckle_centres_mm(leaf), rail_intervals_mm(leaf)
        for pair in joint_pairs_mm(design):
            y0, y1 = min(pair) - half, max(pair) + half
            met = [
                y
                for y, (left, right) in zip(centres, rails, strict=True)
                if y not in pair and left < y1 and right > y0
            ]
            if met:
                yield wrong(
                    design,
                    f"{words}_leaf.rail_lanes_mm",
                    f"let a joint pin, {mm(y1 - y0)} long with its tails, run into a rail of the {words} leaf"
                    f" at {mm(met[0])}",
                    "move the rail lanes apart or shorten the knuckles",
                )
                return


def deck_lanes(design: Design) -> Iterator[Problem]:
    """Yield knuckles that are wider than their lanes at the deck."""
    length = design.deck_hinge.knuckle_length_mm
    centres = sorted((*design.inner_leaf.rail_lanes_mm, *deck_bracket_centres_mm(design)))
    nearest = min((right - left for left, right in pairwise(centres)), default=math.inf)
    if nearest < length - TOUCH_MM:
        yield wrong(
            design,
            "deck_hinge.knuckle_length_mm",
            f"is wider than its lane: two knuckles at the deck are only {mm(nearest)} apart, middle to"
            " middle",
            "shorten the knuckles or move the inner leaf's rail lanes apart",
        )


def clear_of_copes(design: Design) -> Iterator[Problem]:
    """A cross member must leave the coped rail ends alone: distance of its side silhouette from the hinge
    centre.
    """
    length = design.inner_leaf.length_mm
    for name, hinge, hinge_u, words in (
        ("inner_leaf", design.deck_hinge, 0.0, "deck hinge"),
        ("inner_leaf", design.joint, length, "joint"),
        ("outer_leaf", design.joint, 0.0, "joint"),
    ):
        leaf = leaf_called(name, design)
        top, half = cross_top_mm(leaf), leaf.cross_section.width_mm / 2
        # A notch must not run into the widest cope either, that round another body's knuckle.
        gap = hinge.running_clearance_mm if leaf.cross_fitting == "half_lap" else 0.0
        cope = hinge.knuckle_diameter_mm / 2 + gap
        above = max(hinge.height_mm - top, top - leaf.cross_section.depth_mm - hinge.height_mm, 0.0)
        for number, at in enumerate(leaf.cross_positions_mm, start=1):
            away = math.hypot(max(abs(at - hinge_u) - half, 0.0), above)
            if away < cope - TOUCH_MM:
                rule = f"runs the cross member into the knuckle and the coped rail end at the {words}"
                key = f"{name}.cross_positions_mm[{number}]"
                yield wrong(design, key, rule, f"move it away from {mm(hinge_u)}")
