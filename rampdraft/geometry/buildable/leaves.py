"""Rules between the values of one leaf, and of the hinge lines: knuckles, pins and copes have room."""

import math
from collections.abc import Iterator
from itertools import pairwise

from rampdraft.errors import Problem
from rampdraft.geometry.lanes import (
    PIN_TAIL_MM,
    TOUCH_MM,
    cope_reach_mm,
    cross_top_mm,
    deck_bracket_centres_mm,
    joint_pairs_mm,
    knuckle_centres_mm,
    rail_intervals_mm,
)
from rampdraft.model.design import Design, Hinge, Leaf
from rampdraft.model.fields.paths import value_at
from rampdraft.model.fields.values import wrong
from rampdraft.model.spacing import follows
from rampdraft.units import MM
from rampdraft.words.figures import mm
from rampdraft.words.say import named, say


def rails(design: Design, leaf: Leaf, name: str) -> Iterator[Problem]:
    """Yield what is wrong with a leaf's rail lanes."""
    key = f"{name}.rail_lanes_mm"
    lanes, width = leaf.rail_lanes_mm, leaf.rail_section.width_mm
    if follows(design, key) and 2 * width > leaf.width_mm + TOUCH_MM:
        yield wrong(
            design,
            f"{name}.width_mm",
            say("leaves no room for two rails of {width}", width=mm(width)),
            say("widen the surface or take narrower rails"),
        )
        return
    if len(lanes) < 2:
        yield wrong(design, key, say("must have at least 2 rails"), say("give a lane for each side"))
    for number, (left, right) in enumerate(pairwise(lanes), start=2):
        if right <= left:
            yield wrong(
                design,
                f"{key}[{number}]",
                say("must rise: each lane further right than the one before"),
                say("sort the lanes"),
            )
        elif right - left < width - TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                say(
                    "is {pitch} from the rail before, which is {width} wide: they overlap",
                    pitch=mm(right - left),
                    width=mm(width),
                ),
                say("leave at least {width} from lane to lane", width=mm(width)),
            )
    most = (leaf.width_mm - width) / 2
    for number, lane in enumerate(lanes, start=1):
        if abs(lane) > most + TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                say("puts the rail outside the surface width of {width}", width=mm(leaf.width_mm)),
                say("stay within {most} of the middle", most=mm(most)) if most >= 0 else "",
            )


def cross_members(design: Design, leaf: Leaf, name: str) -> Iterator[Problem]:
    """Yield cross members that stand past the leaf or overlap."""
    key = f"{name}.cross_positions_mm"
    half = leaf.cross_section.width_mm / 2
    for number, at in enumerate(leaf.cross_positions_mm, start=1):
        if at - half < -TOUCH_MM or at + half > leaf.length_mm + TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                say("puts a cross member {width} wide past the end of the leaf", width=mm(2 * half)),
                say("stay from {least} to {most}", least=mm(half), most=mm(leaf.length_mm - half)),
            )
    places = sorted((at, number) for number, at in enumerate(leaf.cross_positions_mm, start=1))
    for (before, _), (after, number) in pairwise(places):
        if after - before < 2 * half - TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                say(
                    "is {apart} from another cross member, and they are {width} wide: they overlap",
                    apart=mm(after - before),
                    width=mm(2 * half),
                ),
                say("move or delete one of them"),
            )


def cross_depth(design: Design, leaf: Leaf, name: str) -> Iterator[Problem]:
    """Yield cross members and half-laps deeper than there is room for."""
    rail, cross, notch = leaf.rail_section.depth_mm, leaf.cross_section.depth_mm, leaf.half_lap_mm
    if not leaf.cross_positions_mm:
        return
    if leaf.cross_fitting == "between" and cross > rail + TOUCH_MM:
        yield wrong(
            design,
            f"{name}.cross_section",
            say("is deeper than the rails ({depth}), so it would stand up into the slats", depth=mm(rail)),
            say("take a shallower section, or fit it under the rails"),
        )
    if leaf.cross_fitting != "half_lap":
        return
    key = f"{name}.half_lap_mm"
    if notch <= 0:
        yield wrong(
            design,
            key,
            say("must be more than 0 for cross members that are half-lapped"),
            say("fit them under the rails instead"),
        )
    elif notch >= min(rail, cross) - TOUCH_MM:
        cut = say("rail" if rail <= cross else "cross member")
        yield wrong(
            design,
            key,
            say("cuts the {part} through, which is {depth} deep", part=cut, depth=mm(min(rail, cross))),
            say("make the notch shallower"),
        )
    elif cross_top_mm(leaf) > TOUCH_MM:
        yield wrong(
            design,
            key,
            say(
                "lifts the cross members {height} above the rails, into the slats",
                height=mm(cross_top_mm(leaf)),
            ),
            say("make it at most {most}", most=mm(rail / 2)),
        )


def slats(design: Design, leaf: Leaf, name: str) -> Iterator[Problem]:
    """Yield slats that overlap or do not fit."""
    if leaf.slat_pitch_mm < leaf.slat_width_mm:
        yield wrong(
            design,
            f"{name}.slat_pitch_mm",
            say("is less than the slat width of {width}: the slats overlap", width=mm(leaf.slat_width_mm)),
            say("widen the pitch or take narrower slats"),
        )
    room = leaf.length_mm - leaf.slat_first_mm - leaf.slat_last_gap_mm
    if room < leaf.slat_width_mm - TOUCH_MM:
        yield wrong(
            design,
            f"{name}.slat_width_mm",
            say(
                "leaves no room for a single slat: between first slat and free end there are {room}",
                room=mm(room),
            ),
            say("take narrower slats, a smaller first offset or free end"),
        )


def upstands(design: Design, leaf: Leaf, name: str) -> Iterator[Problem]:
    """Yield edge upstands of which nothing is left."""
    room = leaf.length_mm - leaf.upstand_end_gap_mm
    if leaf.upstand_height_mm > 0 and leaf.upstand_start_mm >= room - TOUCH_MM:
        yield wrong(
            design,
            f"{name}.upstand_start_mm",
            say("starts where the edge upstand must have ended: nothing is left of it"),
            say("start before {room}, or set the upstand height to 0", room=mm(room)),
        )


def opening(design: Design, leaf: Leaf, name: str) -> Iterator[Problem]:
    """Yield a leaf wider than the way in."""
    opening = design.carrier.opening_width_mm
    sides = 2 * leaf.upstand_thickness_mm if leaf.upstand_height_mm > 0 else 0.0
    if leaf.width_mm + sides > opening + TOUCH_MM:
        yield wrong(
            design,
            f"{name}.width_mm",
            say(
                "makes the leaf {width} with its edge upstands, wider than the opening of {opening}"
                if sides
                else "makes the leaf {width}, wider than the opening of {opening}",
                width=mm(leaf.width_mm + sides),
                opening=mm(opening),
            ),
            say("make it at most {most}", most=mm(opening - sides)),
        )


def pin(name: str, design: Design) -> Iterator[Problem]:
    """Yield a pin that leaves no wall in its knuckle."""
    hinge: Hinge = value_at(design, name)
    if hinge.pin_diameter_mm >= hinge.knuckle_diameter_mm:
        yield wrong(
            design,
            f"{name}.pin_diameter_mm",
            say("leaves no wall in a knuckle of {diameter}", diameter=mm(hinge.knuckle_diameter_mm)),
            say("take a thinner pin or a thicker knuckle"),
        )


def joint_lanes(design: Design) -> Iterator[Problem]:
    """Yield knuckles that are wider than their lanes at the joint, and rails without a partner."""
    hinge, key = design.joint, "joint.knuckle_length_mm"
    pairs = joint_pairs_mm(design)
    if not pairs:
        return
    if len({outer for _, outer in pairs}) < len(pairs) or len(pairs) < len(design.outer_leaf.rail_lanes_mm):
        yield _unpaired(design)
        return
    nearest = min(abs(outer - inner) for inner, outer in pairs)
    if nearest < hinge.knuckle_length_mm + hinge.side_gap_mm - TOUCH_MM:
        most = nearest - hinge.side_gap_mm
        yield wrong(
            design,
            key,
            say(
                "is wider than its lane: with the side gap of {side_gap}, a knuckle of the inner"
                " leaf meets that of the outer leaf {nearest} beside it",
                side_gap=mm(hinge.side_gap_mm),
                nearest=mm(nearest),
            ),
            say(
                "make it at most {most}, or move the rail lanes apart, or shift the knuckles outboard",
                most=mm(most),
            )
            if most > 0
            else say("move the rail lanes apart, or shift the knuckles outboard"),
        )
    for leaf, words in ((design.inner_leaf, "inner"), (design.outer_leaf, "outer")):
        if crowded := _crowded(leaf, hinge.knuckle_length_mm, words):
            yield wrong(
                design,
                key,
                say("is wider than its lane: {crowded}", crowded=crowded),
                say("shorten the knuckles or move the rail lanes apart"),
            )


def _unpaired(design: Design) -> Problem:
    """Return what is wrong where knuckles of the outer leaf have no partner; of lanes that follow, their
    length is told of.
    """
    lanes = "outer_leaf.rail_lanes_mm"
    if follows(design, lanes):
        return wrong(
            design,
            "joint.knuckle_length_mm",
            say(
                "puts knuckles where they do not pair one to one with those of the inner leaf: each joint pin"
                " needs a knuckle of both"
            ),
            say("shorten the knuckles"),
        )
    return wrong(
        design,
        lanes,
        say("do not pair one to one with those of the inner leaf: each joint pin needs a knuckle of both"),
        say("give a rail of the outer leaf beside each of the inner leaf"),
    )


def _crowded(leaf: Leaf, length: MM, words: str) -> str:
    """Return what a leaf's joint knuckles, so long, run into; empty where they have room."""
    centres, lanes = knuckle_centres_mm(leaf), leaf.rail_lanes_mm
    reach = min(
        (abs(lane - y) for own, y in enumerate(centres) for other, lane in enumerate(lanes) if other != own),
        default=math.inf,
    )
    if reach < (length + leaf.rail_section.width_mm) / 2 - TOUCH_MM:
        return say(
            "a knuckle of the {leaf} runs into the next rail, {reach} from its middle",
            leaf=named(f"{words} leaf"),
            reach=mm(reach),
        )
    apart = min((right - left for left, right in pairwise(sorted(centres))), default=math.inf)
    if apart < length - TOUCH_MM:
        return say(
            "two knuckles of the {leaf} are only {apart} apart, middle to middle",
            leaf=named(f"{words} leaf"),
            apart=mm(apart),
        )
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
                key = f"{words}_leaf.rail_lanes_mm"
                yield wrong(
                    design,
                    "joint.knuckle_length_mm" if follows(design, key) else key,
                    say(
                        "let a joint pin, {length} long with its tails, run into a rail of the {leaf} at"
                        " {place}",
                        length=mm(y1 - y0),
                        leaf=named(f"{words} leaf"),
                        place=mm(met[0]),
                    ),
                    say("move the rail lanes apart or shorten the knuckles"),
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
            say(
                "is wider than its lane: two knuckles at the deck are only {nearest} apart, middle to middle",
                nearest=mm(nearest),
            ),
            say("shorten the knuckles or move the inner leaf's rail lanes apart"),
        )


def clear_of_copes(design: Design) -> Iterator[Problem]:
    """A cross member must leave the knuckle and the coped rail ends alone."""
    length = design.inner_leaf.length_mm
    for name, hinge, hinge_u, words in (
        ("inner_leaf", design.deck_hinge, 0.0, say("deck hinge")),
        ("inner_leaf", design.joint, length, say("joint")),
        ("outer_leaf", design.joint, 0.0, say("joint")),
    ):
        leaf: Leaf = value_at(design, name)
        clear = cope_reach_mm(hinge, leaf) + leaf.cross_section.width_mm / 2
        for number, at in enumerate(leaf.cross_positions_mm, start=1):
            if abs(at - hinge_u) < clear - TOUCH_MM:
                yield wrong(
                    design,
                    f"{name}.cross_positions_mm[{number}]",
                    say(
                        "runs the cross member into the knuckle and the coped rail end at the {hinge}",
                        hinge=words,
                    ),
                    say("move it away from {place}", place=mm(hinge_u)),
                )
