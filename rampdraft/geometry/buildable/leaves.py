"""Rules between the values of one leaf."""

from collections.abc import Iterator
from itertools import pairwise

from rampdraft.errors import Problem
from rampdraft.figures import mm
from rampdraft.geometry.buildable.words import leaf_called, wrong
from rampdraft.geometry.lanes import (
    TOUCH_MM,
    cross_top_mm,
)
from rampdraft.model.design import Design


def rails(name: str, design: Design) -> Iterator[Problem]:
    """Yield what is wrong with a leaf's rail lanes."""
    leaf, key = leaf_called(name, design), f"{name}.rail_lanes_mm"
    lanes, width = leaf.rail_lanes_mm, leaf.rail_section.width_mm
    if len(lanes) < 2:
        yield wrong(design, key, "must have at least 2 rails", "give a lane for each side")
    for number, (left, right) in enumerate(pairwise(lanes), start=2):
        if right <= left:
            yield wrong(
                design,
                f"{key}[{number}]",
                "must rise: each lane further right than the one before",
                "sort the lanes",
            )
        elif right - left < width - TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                f"is {mm(right - left)} from the rail before, which is {mm(width)} wide: they overlap",
                f"leave at least {mm(width)} from lane to lane",
            )
    most = (leaf.width_mm - width) / 2
    for number, lane in enumerate(lanes, start=1):
        if abs(lane) > most + TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                f"puts the rail outside the surface width of {mm(leaf.width_mm)}",
                f"stay within {mm(most)} of the middle" if most >= 0 else "",
            )


def cross_members(name: str, design: Design) -> Iterator[Problem]:
    """Yield cross members that stand past the leaf or overlap."""
    leaf, key = leaf_called(name, design), f"{name}.cross_positions_mm"
    half = leaf.cross_section.width_mm / 2
    for number, at in enumerate(leaf.cross_positions_mm, start=1):
        if at - half < -TOUCH_MM or at + half > leaf.length_mm + TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                f"puts a cross member {mm(2 * half)} wide past the end of the leaf",
                f"stay from {mm(half)} to {mm(leaf.length_mm - half)}",
            )
    places = sorted((at, number) for number, at in enumerate(leaf.cross_positions_mm, start=1))
    for (before, _), (after, number) in pairwise(places):
        if after - before < 2 * half - TOUCH_MM:
            yield wrong(
                design,
                f"{key}[{number}]",
                f"is {mm(after - before)} from another cross member, and they are {mm(2 * half)} wide: they"
                " overlap",
                "move or delete one of them",
            )


def cross_depth(name: str, design: Design) -> Iterator[Problem]:
    """Yield cross members and half-laps deeper than there is room for."""
    leaf = leaf_called(name, design)
    rail, cross, notch = leaf.rail_section.depth_mm, leaf.cross_section.depth_mm, leaf.half_lap_mm
    if not leaf.cross_positions_mm:
        return
    if leaf.cross_fitting == "between" and cross > rail + TOUCH_MM:
        yield wrong(
            design,
            f"{name}.cross_section",
            f"is deeper than the rails ({mm(rail)}), so it would stand up into the slats",
            "take a shallower section, or fit it under the rails",
        )
    if leaf.cross_fitting != "half_lap":
        return
    key = f"{name}.half_lap_mm"
    if notch <= 0:
        yield wrong(
            design,
            key,
            "must be more than 0 for cross members that are half-lapped",
            "fit them under the rails instead",
        )
    elif notch >= min(rail, cross) - TOUCH_MM:
        what = "rail" if rail <= cross else "cross member"
        yield wrong(
            design,
            key,
            f"cuts the {what} through, which is {mm(min(rail, cross))} deep",
            "make the notch shallower",
        )
    elif cross_top_mm(leaf) > TOUCH_MM:
        yield wrong(
            design,
            key,
            f"lifts the cross members {mm(cross_top_mm(leaf))} above the rails, into the slats",
            f"make it at most {mm(rail / 2)}",
        )


def slats(name: str, design: Design) -> Iterator[Problem]:
    """Yield slats that overlap or do not fit."""
    leaf = leaf_called(name, design)
    if leaf.slat_pitch_mm < leaf.slat_width_mm:
        yield wrong(
            design,
            f"{name}.slat_pitch_mm",
            f"is less than the slat width of {mm(leaf.slat_width_mm)}: the slats overlap",
            "widen the pitch or take narrower slats",
        )
    room = leaf.length_mm - leaf.slat_first_mm - leaf.slat_last_gap_mm
    if room < leaf.slat_width_mm - TOUCH_MM:
        yield wrong(
            design,
            f"{name}.slat_width_mm",
            f"leaves no room for a single slat: between first slat and free end there are {mm(room)}",
            "take narrower slats, a smaller first offset or free end",
        )


def upstands(name: str, design: Design) -> Iterator[Problem]:
    """Yield edge upstands of which nothing is left."""
    leaf = leaf_called(name, design)
    room = leaf.length_mm - leaf.upstand_end_gap_mm
    if leaf.upstand_height_mm > 0 and leaf.upstand_start_mm >= room - TOUCH_MM:
        yield wrong(
            design,
            f"{name}.upstand_start_mm",
            "starts where the edge upstand must have ended: nothing is left of it",
            f"start before {mm(room)}, or set the upstand height to 0",
        )


def opening(name: str, design: Design) -> Iterator[Problem]:
    """Yield a leaf wider than the way in."""
    leaf, opening = leaf_called(name, design), design.carrier.opening_width_mm
    sides = 2 * leaf.upstand_thickness_mm if leaf.upstand_height_mm > 0 else 0.0
    if leaf.width_mm + sides > opening + TOUCH_MM:
        total = mm(leaf.width_mm + sides) + (" with its edge upstands" if sides else "")
        yield wrong(
            design,
            f"{name}.width_mm",
            f"makes the leaf {total}, wider than the opening of {mm(opening)}",
            f"make it at most {mm(opening - sides)}",
        )
