"""Rules about obstacles, handles and assist springs."""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.errors import Problem
from rampdraft.figures import exact, mm
from rampdraft.geometry.buildable.words import wrong
from rampdraft.geometry.lanes import TOUCH_MM
from rampdraft.model.design import Design
from rampdraft.units import MM

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
                "must lie further right than its left side",
                f"give more than {mm(obstacle.left_mm)}",
            )
        points = obstacle.outline_mm
        if len(points) < 2:
            yield wrong(
                design,
                f"{key}.outline_mm",
                "must have at least two points",
                "give its corners in order round it",
            )
        elif len(points) > 2 and _crosses_itself(points):
            yield wrong(
                design,
                f"{key}.outline_mm",
                "crosses itself or has no room inside",
                "give its corners in order round it",
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
                f"lies beyond the {handle.leaf} leaf, which ends at {mm(longest[handle.leaf])}",
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
            f"is {mm(leaf)} from the deck hinge, and the eye on the carrier {mm(carrier)}: they could meet",
            f"let the two distances differ by {exact(LEAST_GAS_SPRING_MM, 'mm')} or more",
        )
