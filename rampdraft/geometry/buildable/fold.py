"""Rules about stowing, stop bars that can bear, obstacles, handles and assist springs."""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.errors import Problem
from rampdraft.geometry.attached import WELD_GAP_MM
from rampdraft.geometry.lanes import TOUCH_MM, rail_intervals_mm, stop_intervals_mm
from rampdraft.geometry.linkage import linkage
from rampdraft.model.design import Design
from rampdraft.model.fields.values import wrong
from rampdraft.units import DEG, MM
from rampdraft.words.figures import exact, mm
from rampdraft.words.say import named, say


def _stowed_points(design: Design) -> Iterator[tuple[str, MM]]:
    """Yield (what, height above the deck hinge) of the joint and the free end, stowed; offsets from the rails
    left out.
    """
    closed: DEG = design.fold.closed_deg * (1 if design.fold.closing == "faces" else -1)
    inner = math.radians(design.fold.stowed_deg)
    outer = inner + math.radians(closed)
    joint = design.inner_leaf.length_mm * math.sin(inner)
    toe = joint + design.outer_leaf.length_mm * math.sin(outer)
    yield "inner_leaf", joint
    yield "outer_leaf", toe
    if design.toe.kind == "flap":
        yield "toe", toe + design.toe.length_mm * math.sin(outer + math.radians(design.toe.carried_deg))


def stows(design: Design) -> Iterator[Problem]:
    """Yield an outer leaf too long to be stowed."""
    hinge_height = linkage(design).hinge[1]
    for what, height in _stowed_points(design):
        below = -(hinge_height + height)
        if below > TOUCH_MM:
            part, way_out = {
                "inner_leaf": (say("the joint"), say("shorten the inner leaf or stow it higher")),
                "outer_leaf": (say("the toe"), say("shorten the outer leaf, or lengthen the inner one")),
                "toe": (
                    say("the toe flap, as it is carried,"),
                    say("carry the flap turned back (180), or shorten the outer leaf"),
                ),
            }[what]
            yield wrong(
                design,
                f"{what}.length_mm",
                say(
                    "is longer than can stow: {part} would come {below} below the ground",
                    part=part,
                    below=mm(below),
                ),
                way_out,
            )
            return
    yield from _stows_over_deck(design)


def _stows_over_deck(design: Design) -> Iterator[Problem]:
    """Faces together and upright, the outer leaf hangs on the deck's side and must not be longer than the
    inner one.
    """
    upright = 45 <= design.fold.stowed_deg <= 135
    reach_in = (
        2 * design.joint.height_mm + design.outer_leaf.rail_section.depth_mm - design.deck_hinge.height_mm
    )
    if design.fold.closing != "faces" or not upright or reach_in <= design.deck_hinge.out_mm:
        return
    lowest = min(height for _, height in _stowed_points(design))
    if lowest < -TOUCH_MM:
        yield wrong(
            design,
            "outer_leaf.length_mm",
            say(
                "is longer than can stow: faces together, its toe would meet the deck ({below} below the deck"
                " hinge)",
                below=mm(-lowest),
            ),
            say("make the outer leaf no longer than the inner one"),
        )


def stop_bars(design: Design) -> Iterator[Problem]:
    """Yield stop bars that cannot be made or cannot bear."""
    stop, pairs = design.stop, len(design.inner_leaf.rail_lanes_mm)
    if stop.kind == "none":
        return
    if stop.count > pairs:
        yield wrong(
            design,
            "stop.count",
            say("is more than the {pairs} pairs of rails that stop bars can sit on", pairs=pairs),
            say("make it at most {pairs}", pairs=pairs),
        )
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    own, other = (inner, outer) if stop.fixed_to == "inner" else (outer, inner)
    if stop.kind == "butt":
        own = min(inner, outer)
        if stop.arm_mm <= 0 and design.fold.closing == "backs":
            yield wrong(
                design,
                "stop.arm_mm",
                say("cannot bear: a butting stop below the hinge centre opens under load instead of closing"),
                say("put the butting faces above the hinge centre"),
            )
    elif stop.lap_mm > other:
        yield wrong(
            design,
            "stop.lap_mm",
            say("reaches past the end of the other leaf ({length})", length=mm(other)),
            say("shorten the lap"),
        )
    if stop.fixed_length_mm + (stop.gap_mm / 2 if stop.kind == "butt" else 0.0) > own + TOUCH_MM:
        yield wrong(
            design,
            "stop.fixed_length_mm",
            say("is longer than the leaf that carries the bar ({length})", length=mm(own)),
            say("shorten it"),
        )


def stop_bears(design: Design) -> Iterator[Problem]:
    """A stop bar must have a rail of each leaf to sit on: under it when it laps, beside it when it butts."""
    stop = design.stop
    reach = {"none": 0.0, "lap": -TOUCH_MM, "butt": WELD_GAP_MM}[stop.kind]
    for y0, y1 in stop_intervals_mm(design):
        for leaf, words in ((design.inner_leaf, "inner"), (design.outer_leaf, "outer")):
            gap = min(
                (max(left - y1, y0 - right) for left, right in rail_intervals_mm(leaf)), default=math.inf
            )
            if gap > reach:
                least = mm(stop.section.width_mm + 2 * (gap - reach))
                lap = stop.kind == "lap"
                rule = say(
                    "cannot bear: a stop bar lies on no rail of the {leaf}, the next is {gap} away"
                    if lap
                    else "cannot bear: a stop bar is beside no rail of the {leaf}, the next is {gap} away",
                    leaf=named(f"{words} leaf"),
                    gap=mm(max(gap, 0.0)),
                )
                way_out = say(
                    "make it wider than {least}" if lap else "make it {least} wide or more", least=least
                )
                yield wrong(
                    design,
                    "stop.section",
                    rule,
                    way_out if math.isfinite(gap) else say("give the leaf rails"),
                )
                return


LEAST_GAS_SPRING_MM: Final = 50.0
"""No gas spring is shorter from eye to eye; common practice."""


def obstacles(design: Design) -> Iterator[Problem]:
    """Yield obstacles without an inside or an extent across."""
    for number, obstacle in enumerate(design.obstacles, start=1):
        key = f"obstacles[{number}]"
        if obstacle.right_mm <= obstacle.left_mm:
            yield wrong(
                design,
                f"{key}.right_mm",
                say("must lie further right than its left side"),
                say("give more than {left}", left=mm(obstacle.left_mm)),
            )
        points = obstacle.outline_mm
        if len(points) < 2:
            yield wrong(
                design,
                f"{key}.outline_mm",
                say("must have at least two points"),
                say("give its corners in order round it"),
            )
        elif len(points) > 2 and _crosses_itself(points):
            yield wrong(
                design,
                f"{key}.outline_mm",
                say("crosses itself or has no room inside"),
                say("give its corners in order round it"),
            )


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
    return (
        abs(area) < TOUCH_MM
        or len(set(points)) < len(points)
        or any(_meet(*one, *other) for one, other in apart)
    )


def _meet(a: tuple[MM, MM], b: tuple[MM, MM], c: tuple[MM, MM], d: tuple[MM, MM]) -> bool:
    """Return whether the straight lines a-b and c-d have a point in common."""

    def side(p: tuple[MM, MM], q: tuple[MM, MM], r: tuple[MM, MM]) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    boxes = all(max(a[k], b[k]) >= min(c[k], d[k]) and max(c[k], d[k]) >= min(a[k], b[k]) for k in range(2))
    return boxes and side(a, b, c) * side(a, b, d) <= 0 and side(c, d, a) * side(c, d, b) <= 0


def handles(design: Design) -> Iterator[Problem]:
    """Yield handles that lie beyond their leaf."""
    toe = design.toe.length_mm if design.toe.kind == "flap" else 0.0
    longest = {"inner": design.inner_leaf.length_mm, "outer": design.outer_leaf.length_mm + toe}
    for number, handle in enumerate(design.handles, start=1):
        if handle.at_mm > longest[handle.leaf]:
            yield wrong(
                design,
                f"handles[{number}].at_mm",
                say(
                    "lies beyond the {leaf}, which ends at {end}",
                    leaf=named(f"{handle.leaf} leaf"),
                    end=mm(longest[handle.leaf]),
                ),
            )


def assist(design: Design) -> Iterator[Problem]:
    """A gas spring's eyes at the same distance from the deck hinge would meet as the leaf turns."""
    assist, hinge = design.assist, design.deck_hinge
    if assist.kind != "gas":
        return
    carrier = math.hypot(assist.carrier_out_mm - hinge.out_mm, hinge.below_mm - assist.carrier_below_mm)
    leaf = math.hypot(assist.leaf_at_mm, assist.leaf_above_mm - hinge.height_mm)
    if abs(carrier - leaf) < LEAST_GAS_SPRING_MM:
        yield wrong(
            design,
            "assist.leaf_at_mm",
            say(
                "is {leaf} from the deck hinge, and the eye on the carrier {carrier}: they could meet",
                leaf=mm(leaf),
                carrier=mm(carrier),
            ),
            say("let the two distances differ by {least} or more", least=exact(LEAST_GAS_SPRING_MM, "mm")),
        )
