"""Rules between values: each may be allowed alone, and the ramp still cannot be built.

What is named here cannot be built at all. A ramp that can be built but is too steep, clashes or folds under its load gets
that said by its checks. The rules are plain geometry of the parts; none is a limit from a standard.
"""

import math
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from itertools import pairwise
from typing import Final

from rampdraft.errors import Problem
from rampdraft.model.catalogue import materials
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.model.edits import value_at
from rampdraft.model.fields import fields_of
from rampdraft.model.nearest import did_you_mean
from rampdraft.model.places import cross_top_mm, deck_bracket_centres_mm, joint_pairs_mm, knuckle_centres_mm
from rampdraft.model.values import shown
from rampdraft.units import DEG, MM

Rule = Callable[[Design], Iterable[Problem]]

TOUCH_MM: Final = 1e-6
"""Sums of decimal mm differ by less than this; parts that touch do not overlap."""

LEAST_GAS_SPRING_MM: Final = 50.0
"""No gas spring is shorter from eye to eye; common practice."""


def _wrong(design: Design, key: str, rule: str, way_out: str = "") -> Problem:
    return Problem(key=key, value=shown(value_at(design, key)), rule=rule, way_out=way_out)


def _mm(length: MM) -> str:
    return f"{round(length, 1):g} mm"


# One leaf -------------------------------------------------------------------------------------------------------------


def _leaf(name: str, design: Design) -> Leaf:
    return value_at(design, name)


def _rails(name: str, design: Design) -> Iterator[Problem]:
    leaf, key = _leaf(name, design), f"{name}.rail_lanes_mm"
    lanes, width = leaf.rail_lanes_mm, leaf.rail_section.width_mm
    if len(lanes) < 2:
        yield _wrong(design, key, "must have at least 2 rails", "give a lane for each side")
    for number, (left, right) in enumerate(pairwise(lanes), start=2):
        if right <= left:
            yield _wrong(design, f"{key}[{number}]", "must rise: each lane further right than the one before", "sort the lanes")
        elif right - left < width - TOUCH_MM:
            rule = f"is {_mm(right - left)} from the rail before, which is {_mm(width)} wide: they overlap"
            yield _wrong(design, f"{key}[{number}]", rule, f"leave at least {_mm(width)} from lane to lane")
    most = (leaf.width_mm - width) / 2
    for number, lane in enumerate(lanes, start=1):
        if abs(lane) > most + TOUCH_MM:
            rule = f"puts the rail outside the surface width of {_mm(leaf.width_mm)}"
            yield _wrong(design, f"{key}[{number}]", rule, f"stay within {_mm(most)} of the middle" if most >= 0 else "")


def _cross_members(name: str, design: Design) -> Iterator[Problem]:
    leaf, key = _leaf(name, design), f"{name}.cross_positions_mm"
    half = leaf.cross_section.width_mm / 2
    for number, at in enumerate(leaf.cross_positions_mm, start=1):
        if at - half < -TOUCH_MM or at + half > leaf.length_mm + TOUCH_MM:
            rule = f"puts a cross member {_mm(2 * half)} wide past the end of the leaf"
            yield _wrong(design, f"{key}[{number}]", rule, f"stay from {_mm(half)} to {_mm(leaf.length_mm - half)}")
    places = sorted((at, number) for number, at in enumerate(leaf.cross_positions_mm, start=1))
    for (before, _), (after, number) in pairwise(places):
        if after - before < 2 * half - TOUCH_MM:
            rule = f"is {_mm(after - before)} from another cross member, and they are {_mm(2 * half)} wide: they overlap"
            yield _wrong(design, f"{key}[{number}]", rule, "move or delete one of them")


def _cross_depth(name: str, design: Design) -> Iterator[Problem]:
    leaf = _leaf(name, design)
    rail, cross, notch = leaf.rail_section.depth_mm, leaf.cross_section.depth_mm, leaf.half_lap_mm
    if not leaf.cross_positions_mm:
        return
    if leaf.cross_fitting == "between" and cross > rail + TOUCH_MM:
        rule = f"is deeper than the rails ({_mm(rail)}), so it would stand up into the slats"
        yield _wrong(design, f"{name}.cross_section", rule, "take a shallower section, or fit it under the rails")
    if leaf.cross_fitting != "half_lap":
        return
    key = f"{name}.half_lap_mm"
    if notch <= 0:
        yield _wrong(
            design, key, "must be more than 0 for cross members that are half-lapped", "fit them under the rails instead"
        )
    elif notch >= min(rail, cross) - TOUCH_MM:
        what = "rail" if rail <= cross else "cross member"
        yield _wrong(design, key, f"cuts the {what} through, which is {_mm(min(rail, cross))} deep", "make the notch shallower")
    elif cross_top_mm(leaf) > TOUCH_MM:
        rule = f"lifts the cross members {_mm(cross_top_mm(leaf))} above the rails, into the slats"
        yield _wrong(design, key, rule, f"make it at most {_mm(rail / 2)}")


def _slats(name: str, design: Design) -> Iterator[Problem]:
    leaf = _leaf(name, design)
    if leaf.slat_pitch_mm < leaf.slat_width_mm:
        rule = f"is less than the slat width of {_mm(leaf.slat_width_mm)}: the slats overlap"
        yield _wrong(design, f"{name}.slat_pitch_mm", rule, "widen the pitch or take narrower slats")
    room = leaf.length_mm - leaf.slat_first_mm - leaf.slat_last_gap_mm
    if room < leaf.slat_width_mm - TOUCH_MM:
        rule = f"leaves no room for a single slat: between first slat and free end there are {_mm(room)}"
        yield _wrong(design, f"{name}.slat_width_mm", rule, "take narrower slats, a smaller first offset or free end")


def _upstands(name: str, design: Design) -> Iterator[Problem]:
    leaf = _leaf(name, design)
    room = leaf.length_mm - leaf.upstand_end_gap_mm
    if leaf.upstand_height_mm > 0 and leaf.upstand_start_mm >= room - TOUCH_MM:
        rule = "starts where the edge upstand must have ended: nothing is left of it"
        yield _wrong(design, f"{name}.upstand_start_mm", rule, f"start before {_mm(room)}, or set the upstand height to 0")


def _opening(name: str, design: Design) -> Iterator[Problem]:
    leaf, opening = _leaf(name, design), design.carrier.opening_width_mm
    sides = 2 * leaf.upstand_thickness_mm if leaf.upstand_height_mm > 0 else 0.0
    if leaf.width_mm + sides > opening + TOUCH_MM:
        total = _mm(leaf.width_mm + sides) + (" with its edge upstands" if sides else "")
        rule = f"makes the leaf {total}, wider than the opening of {_mm(opening)}"
        yield _wrong(design, f"{name}.width_mm", rule, f"make it at most {_mm(opening - sides)}")


# Hinge lines ----------------------------------------------------------------------------------------------------------


def _pin(name: str, design: Design) -> Iterator[Problem]:
    hinge: Hinge = value_at(design, name)
    if hinge.pin_diameter_mm >= hinge.knuckle_diameter_mm:
        rule = f"leaves no wall in a knuckle of {_mm(hinge.knuckle_diameter_mm)}"
        yield _wrong(design, f"{name}.pin_diameter_mm", rule, "take a thinner pin or a thicker knuckle")


def _joint_lanes(design: Design) -> Iterator[Problem]:
    hinge, key = design.joint, "joint.knuckle_length_mm"
    pairs = joint_pairs_mm(design)
    if not pairs:
        return
    nearest = min(abs(outer - inner) for inner, outer in pairs)
    if nearest < hinge.knuckle_length_mm + hinge.side_gap_mm - TOUCH_MM:
        most = nearest - hinge.side_gap_mm
        rule = (
            f"is wider than its lane: with the side gap of {_mm(hinge.side_gap_mm)}, a knuckle of the inner leaf meets that of "
            f"the outer leaf {_mm(nearest)} beside it"
        )
        way_out = "move the rail lanes apart, or shift the knuckles outboard"
        yield _wrong(design, key, rule, f"make it at most {_mm(most)}, or {way_out}" if most > 0 else way_out)
    for leaf, words in ((design.inner_leaf, "inner"), (design.outer_leaf, "outer")):
        half = (hinge.knuckle_length_mm + leaf.rail_section.width_mm) / 2
        centres = enumerate(knuckle_centres_mm(leaf))
        lanes = tuple(enumerate(leaf.rail_lanes_mm))
        reach = min((abs(lane - y) for own, y in centres for other, lane in lanes if other != own), default=math.inf)
        if reach < half - TOUCH_MM:
            rule = f"is wider than its lane: a knuckle of the {words} leaf runs into the next rail, {_mm(reach)} from its middle"
            yield _wrong(design, key, rule, "shorten the knuckles or move the rail lanes apart")


def _deck_lanes(design: Design) -> Iterator[Problem]:
    length = design.deck_hinge.knuckle_length_mm
    centres = sorted((*design.inner_leaf.rail_lanes_mm, *deck_bracket_centres_mm(design)))
    nearest = min((right - left for left, right in pairwise(centres)), default=math.inf)
    if nearest < length - TOUCH_MM:
        rule = f"is wider than its lane: two knuckles at the deck are only {_mm(nearest)} apart, middle to middle"
        yield _wrong(
            design, "deck_hinge.knuckle_length_mm", rule, "shorten the knuckles or move the inner leaf's rail lanes apart"
        )


def _clear_of_copes(design: Design) -> Iterator[Problem]:
    """A cross member must leave the coped rail ends alone: distance of its side silhouette from the hinge centre."""
    length = design.inner_leaf.length_mm
    for name, hinge, hinge_u, words in (
        ("inner_leaf", design.deck_hinge, 0.0, "deck hinge"),
        ("inner_leaf", design.joint, length, "joint"),
        ("outer_leaf", design.joint, 0.0, "joint"),
    ):
        leaf = _leaf(name, design)
        top, half = cross_top_mm(leaf), leaf.cross_section.width_mm / 2
        above = max(hinge.height_mm - top, top - leaf.cross_section.depth_mm - hinge.height_mm, 0.0)
        for number, at in enumerate(leaf.cross_positions_mm, start=1):
            away = math.hypot(max(abs(at - hinge_u) - half, 0.0), above)
            if away < hinge.knuckle_diameter_mm / 2 - TOUCH_MM:
                rule = f"runs the cross member into the knuckle and the coped rail end at the {words}"
                key = f"{name}.cross_positions_mm[{number}]"
                yield _wrong(design, key, rule, f"move it away from {_mm(hinge_u)}")


# Fold and stop bars ---------------------------------------------------------------------------------------------------


def _stowed_points(design: Design) -> Iterator[tuple[str, MM]]:
    """Yield (what, height above the deck hinge) of the joint and the free end, stowed; offsets from the rails left out."""
    closed: DEG = design.fold.closed_deg * (1 if design.fold.closing == "faces" else -1)
    inner = math.radians(design.fold.stowed_deg)
    outer = inner + math.radians(closed)
    joint = design.inner_leaf.length_mm * math.sin(inner)
    toe = joint + design.outer_leaf.length_mm * math.sin(outer)
    yield "inner_leaf", joint
    yield "outer_leaf", toe
    if design.toe.kind == "flap":
        yield "toe", toe + design.toe.length_mm * math.sin(outer + math.radians(design.toe.carried_deg))


def _stows(design: Design) -> Iterator[Problem]:
    hinge_height = design.carrier.deck_height_mm - design.deck_hinge.below_mm
    for what, height in _stowed_points(design):
        below = -(hinge_height + height)
        if below > TOUCH_MM:
            part = {"inner_leaf": "the joint", "outer_leaf": "the toe", "toe": "the toe flap, as it is carried,"}[what]
            rule = f"is longer than can stow: {part} would come {_mm(below)} below the ground"
            way_out = {
                "inner_leaf": "shorten the inner leaf or stow it higher",
                "outer_leaf": "shorten the outer leaf, or lengthen the inner one",
                "toe": "carry the flap turned back (180), or shorten the outer leaf",
            }[what]
            yield _wrong(design, f"{what}.length_mm", rule, way_out)
            return
    yield from _stows_over_deck(design)


def _stows_over_deck(design: Design) -> Iterator[Problem]:
    """Faces together and upright, the outer leaf hangs on the deck's side and must not be longer than the inner one."""
    upright = 45 <= design.fold.stowed_deg <= 135
    reach_in = 2 * design.joint.height_mm + design.outer_leaf.rail_section.depth_mm - design.deck_hinge.height_mm
    if design.fold.closing != "faces" or not upright or reach_in <= design.deck_hinge.out_mm:
        return
    lowest = min(height for _, height in _stowed_points(design))
    if lowest < -TOUCH_MM:
        rule = f"is longer than can stow: faces together, its toe would meet the deck ({_mm(-lowest)} below the deck hinge)"
        yield _wrong(design, "outer_leaf.length_mm", rule, "make the outer leaf no longer than the inner one")


def _stop_bars(design: Design) -> Iterator[Problem]:
    stop, pairs = design.stop, len(design.inner_leaf.rail_lanes_mm)
    if stop.kind == "none":
        return
    if stop.count > pairs:
        rule = f"is more than the {pairs} pairs of rails that stop bars can sit on"
        yield _wrong(design, "stop.count", rule, f"make it at most {pairs}")
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    own, other = (inner, outer) if stop.fixed_to == "inner" else (outer, inner)
    if stop.kind == "butt":
        own = min(inner, outer)
        if stop.arm_mm <= 0 and design.fold.closing == "backs":
            rule = "cannot bear: a butting stop below the hinge centre opens under load instead of closing"
            yield _wrong(design, "stop.arm_mm", rule, "put the butting faces above the hinge centre")
        if stop.gap_mm >= 2 * stop.fixed_length_mm:
            yield _wrong(design, "stop.gap_mm", "leaves nothing of the stop bars", "make the gap smaller")
    elif stop.lap_mm > other:
        yield _wrong(design, "stop.lap_mm", f"reaches past the end of the other leaf ({_mm(other)})", "shorten the lap")
    if stop.fixed_length_mm > own:
        rule = f"is longer than the leaf that carries the bar ({_mm(own)})"
        yield _wrong(design, "stop.fixed_length_mm", rule, "shorten it")


# The rest -------------------------------------------------------------------------------------------------------------


def _carrier(design: Design) -> Iterator[Problem]:
    carrier = design.carrier
    if carrier.end_depth_mm < carrier.deck_thickness_mm:
        rule = f"is less than the deck thickness of {_mm(carrier.deck_thickness_mm)}, which is part of it"
        yield _wrong(design, "carrier.end_depth_mm", rule, "measure it from the deck surface down")
    if carrier.deck_drop_mm >= carrier.deck_height_mm:
        yield _wrong(design, "carrier.deck_drop_mm", "sinks the loaded deck edge into the ground", "measure it again")


def _deck_hinge_height(design: Design) -> Iterator[Problem]:
    loaded = design.carrier.deck_height_mm - design.carrier.deck_drop_mm
    if 0 < loaded <= design.deck_hinge.below_mm:
        rule = f"puts the hinge centre into the ground: the loaded deck edge is {_mm(loaded)} above it"
        yield _wrong(design, "deck_hinge.below_mm", rule, "raise the hinge centre")


def _prop(design: Design) -> Iterator[Problem]:
    prop = design.prop
    if prop.fitted and prop.shortest_mm > prop.longest_mm:
        rule = f"is more than the longest setting of {_mm(prop.longest_mm)}"
        yield _wrong(design, "prop.shortest_mm", rule, "swap the two")


def _bridge(design: Design) -> Iterator[Problem]:
    bridge = design.bridge
    if bridge.fitted and bridge.over_deck_mm >= bridge.length_mm:
        rule = f"is not less than the plate's length of {_mm(bridge.length_mm)}: nothing reaches the ramp"
        yield _wrong(design, "bridge.over_deck_mm", rule, "lengthen the plate or lay less of it on the deck")


def _taper(design: Design) -> Iterator[Problem]:
    toe, leaf = design.toe, design.outer_leaf
    if toe.kind != "taper":
        return
    depth = leaf.rail_section.depth_mm
    if toe.thickness_mm >= depth:
        rule = f"is not less than the depth of the outer leaf's rails ({_mm(depth)}): no taper is left"
        yield _wrong(design, "toe.thickness_mm", rule, "make it thinner, or choose a plain toe")
    start = leaf.length_mm - toe.length_mm
    least = design.joint.knuckle_diameter_mm / 2 + design.joint.running_clearance_mm
    if start <= least:
        rule = "tapers the rails all the way into the joint"
        yield _wrong(design, "toe.length_mm", rule, f"make it less than {_mm(leaf.length_mm - least)}")
        return
    half = leaf.cross_section.width_mm / 2
    for number, at in enumerate(leaf.cross_positions_mm, start=1):
        if leaf.cross_fitting != "between" and at + half > start + TOUCH_MM:
            rule = f"sets a cross member on the taper of the rails, which begins at {_mm(start)}"
            key = f"outer_leaf.cross_positions_mm[{number}]"
            yield _wrong(design, key, rule, f"make it at most {_mm(start - half)}")


def _sites(design: Design) -> Iterator[Problem]:
    if not design.sites:
        yield Problem(key="sites", value="", rule="must have at least one site", way_out="add a place where the ramp is used")
    for number, site in enumerate(design.sites, start=1):
        yield from _ground(design, f"sites[{number}].ground_mm", site.ground_mm)


def _ground(design: Design, key: str, points: tuple[tuple[MM, MM], ...]) -> Iterator[Problem]:
    """The ground goes outward, and up or down at a kerb: each x has one height, or the two of a kerb."""
    if not points:
        yield _wrong(design, key, "must have at least one point", "[[0, 0]] is level ground")
    for number, (before, after) in enumerate(pairwise(points), start=2):
        if after[0] < before[0]:
            rule, way_out = "goes back: x must not be less than that of the point before", "sort the points by x"
        elif after == before:
            rule, way_out = "is the same as the point before", "delete one of them"
        elif number > 2 and after[0] == before[0] == points[number - 3][0]:
            rule, way_out = "is a third point at the same x", "a kerb needs two: its foot and its top"
        else:
            continue
        yield _wrong(design, f"{key}[{number}]", rule, way_out)


def _obstacles(design: Design) -> Iterator[Problem]:
    for number, obstacle in enumerate(design.obstacles, start=1):
        key = f"obstacles[{number}]"
        if obstacle.right_mm <= obstacle.left_mm:
            way_out = f"give more than {_mm(obstacle.left_mm)}"
            yield _wrong(design, f"{key}.right_mm", "must lie further right than its left side", way_out)
        points = obstacle.outline_mm
        if len(points) < 2:
            yield _wrong(design, f"{key}.outline_mm", "must have at least two points", "give its corners in order round it")
        elif len(points) > 2 and _crosses_itself(points):
            rule = "crosses itself or has no room inside"
            yield _wrong(design, f"{key}.outline_mm", rule, "give its corners in order round it")


def _crosses_itself(points: tuple[tuple[MM, MM], ...]) -> bool:
    """Return whether sides of a closed outline meet elsewhere than at their common corners."""
    sides = list(zip(points, (*points[1:], points[0]), strict=True))
    area = sum(a[0] * b[1] - b[0] * a[1] for a, b in sides)
    apart = (
        (one, other)
        for first, one in enumerate(sides)
        for second, other in enumerate(sides)
        if second > first + 1 and not (first == 0 and second == len(sides) - 1)
    )
    return abs(area) < TOUCH_MM or len(set(points)) < len(points) or any(_meet(*one, *other) for one, other in apart)


def _meet(a: tuple[MM, MM], b: tuple[MM, MM], c: tuple[MM, MM], d: tuple[MM, MM]) -> bool:
    """Return whether the straight lines a-b and c-d have a point in common."""

    def side(p: tuple[MM, MM], q: tuple[MM, MM], r: tuple[MM, MM]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    boxes = all(max(a[k], b[k]) >= min(c[k], d[k]) and max(c[k], d[k]) >= min(a[k], b[k]) for k in range(2))
    return boxes and side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0


def _handles(design: Design) -> Iterator[Problem]:
    toe = design.toe.length_mm if design.toe.kind == "flap" else 0.0
    longest = {"inner": design.inner_leaf.length_mm, "outer": design.outer_leaf.length_mm + toe}
    for number, handle in enumerate(design.handles, start=1):
        if handle.at_mm > longest[handle.leaf]:
            rule = f"lies beyond the {handle.leaf} leaf, which ends at {_mm(longest[handle.leaf])}"
            yield _wrong(design, f"handles[{number}].at_mm", rule)


def _assist(design: Design) -> Iterator[Problem]:
    """A gas spring's eyes at the same distance from the deck hinge would meet as the leaf turns."""
    assist, hinge = design.assist, design.deck_hinge
    if assist.kind != "gas":
        return
    carrier = math.hypot(assist.carrier_out_mm - hinge.out_mm, hinge.below_mm - assist.carrier_below_mm)
    leaf = math.hypot(assist.leaf_at_mm, assist.leaf_above_mm - hinge.height_mm)
    if abs(carrier - leaf) < LEAST_GAS_SPRING_MM:
        rule = f"is {_mm(leaf)} from the deck hinge, and the eye on the carrier {_mm(carrier)}: they could meet"
        way_out = f"let the two distances differ by {LEAST_GAS_SPRING_MM:g} mm or more"
        yield _wrong(design, "assist.leaf_at_mm", rule, way_out)


def _named_rows(cls: type = Design, prefix: str = "") -> Iterator[str]:
    """Yield the dotted path of every list of rows that have names, by which people tell them apart."""
    for info in fields_of(cls):
        if info.rows is not None and any(field.name == "name" for field in fields_of(info.rows)):
            yield f"{prefix}{info.name}"
        elif info.group is not None:
            yield from _named_rows(info.group, f"{prefix}{info.name}.")


def _twice(design: Design, group: str) -> Iterator[Problem]:
    seen: dict[str, int] = {}
    for number, row in enumerate(value_at(design, group), start=1):
        first = seen.setdefault(row.name, number)
        if first != number:
            yield _wrong(design, f"{group}[{number}].name", f"is the name of row {first} too", "give it another name")


def _rule_sets(design: Design) -> Iterator[Problem]:
    names = design.use.rule_sets
    for number, name in enumerate(names, start=1):
        if name in names[: number - 1]:
            yield _wrong(design, f"use.rule_sets[{number}]", "is named twice", "delete one of them")


def _materials(design: Design) -> Iterator[Problem]:
    known = [material.name for material in (*design.materials, *materials())]
    keys = [f"made_of.{family}" for family in ("rails", "cross_members", "slats", "upstands", "fittings")]
    keys += [f"stock[{number}].material" for number in range(1, len(design.stock) + 1)]
    for key in keys:
        name: str = value_at(design, key)
        if name not in known:
            yield _wrong(design, key, "is no known material", did_you_mean(name, known))


_LEAVES: Final = ("inner_leaf", "outer_leaf")
_BOTH: Final = ("inner_leaf", "outer_leaf", "joint")

RULES: Final[tuple[tuple[tuple[str, ...], Rule], ...]] = (
    (("carrier",), _carrier),
    (("carrier", "deck_hinge"), _deck_hinge_height),
    *(((leaf,), partial(rule, leaf)) for leaf in _LEAVES for rule in (_rails, _cross_members, _cross_depth, _slats, _upstands)),
    *((("carrier", leaf), partial(_opening, leaf)) for leaf in _LEAVES),
    *(((hinge,), partial(_pin, hinge)) for hinge in ("deck_hinge", "joint")),
    (("inner_leaf", "deck_hinge"), _deck_lanes),
    (_BOTH, _joint_lanes),
    ((*_BOTH, "deck_hinge"), _clear_of_copes),
    ((*_BOTH, "deck_hinge", "carrier", "fold", "toe"), _stows),
    (("inner_leaf", "outer_leaf", "fold", "stop"), _stop_bars),
    (("prop",), _prop),
    (("bridge",), _bridge),
    (("outer_leaf", "joint", "toe"), _taper),
    (("sites",), _sites),
    (("obstacles",), _obstacles),
    (("handles", "inner_leaf", "outer_leaf", "toe"), _handles),
    (("assist", "deck_hinge"), _assist),
    *(((group.partition(".")[0],), partial(_twice, group=group)) for group in _named_rows()),
    (("use",), _rule_sets),
    (("materials", "made_of", "stock"), _materials),
)
"""(groups of the design that a rule reads, rule)."""
