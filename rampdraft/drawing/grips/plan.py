"""The grips of a ramp seen from above: how wide each leaf is, and where its rails lie across."""

from collections.abc import Callable, Iterator
from functools import partial
from typing import Final, cast

from rampdraft.drawing.grips.grip import Grip, slide
from rampdraft.geometry.outline import Point
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at
from rampdraft.units import MM

_WIDTH_AT: Final = 0.5
_RAILS_AT: Final = 0.2
"""Where along a leaf they are, as shares of its length."""


def plan_grips(design: Design) -> tuple[Grip, ...]:
    """Return the grips of the ramp laid flat, x away from the deck edge, y across."""
    found: list[Grip] = []
    start = design.deck_hinge.out_mm
    for group in ("inner_leaf", "outer_leaf"):
        length: MM = value_at(design, f"{group}.length_mm")
        edge, rails = start + _WIDTH_AT * length, start + _RAILS_AT * length
        found.extend(across_grips(design, group, partial(_at, edge), partial(_at, rails)))
        start += length
    return tuple(found)


def across_grips(
    design: Design, group: str, edge: Callable[[MM], Point], rail: Callable[[MM], Point]
) -> Iterator[Grip]:
    """Yield a leaf's width, at its edge to the left of somebody who walks down, and its rails; `edge` and
    `rail` say where on the drawing a place y across is, which goes with y evenly.
    """
    width = f"{group}.width_mm"
    half: MM = value_at(design, width) / 2
    # Its dimension would run from the middle to one edge only: the drawing has one of the whole width.
    way = slide(design, width, _along(edge, 0.5))
    yield Grip(key=width, at=edge(half), ways=(way,), rank=0, measures=False)
    lanes = f"{group}.rail_lanes_mm"
    for number, lane in enumerate(cast("tuple[MM, ...]", value_at(design, lanes)), start=1):
        one = f"{lanes}[{number}]"
        yield Grip(key=one, at=rail(lane), ways=(slide(design, one, _along(rail, 1.0)),), rank=1)


def _at(x: MM, y: MM) -> Point:
    return x, y


def _along(where: Callable[[MM], Point], step: MM) -> Point:
    (x0, y0), (x1, y1) = where(0.0), where(step)
    return x1 - x0, y1 - y0
