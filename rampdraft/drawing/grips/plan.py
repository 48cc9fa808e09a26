"""The grips of a ramp seen from above: how wide each leaf is, and where its rails lie across."""

from collections.abc import Iterator
from typing import cast

from rampdraft.drawing.grips.grip import Grip, Slide
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, value_at
from rampdraft.model.fields.record import Dim
from rampdraft.units import MM

_WIDTH_AT, _RAILS_AT = 0.5, 0.2
"""Shares of a leaf's length."""


def plan_grips(design: Design) -> tuple[Grip, ...]:
    """Return the grips of the ramp laid flat, x away from the deck edge, y across."""
    start = design.deck_hinge.out_mm
    joint = start + design.inner_leaf.length_mm
    return (
        *_across(design, "inner_leaf", start, design.inner_leaf.length_mm),
        *_across(design, "outer_leaf", joint, design.outer_leaf.length_mm),
    )


def _across(design: Design, group: str, start: MM, length: MM) -> Iterator[Grip]:
    """Yield a leaf's width, at its edge to the left of somebody who walks down, and its rails."""
    width = f"{group}.width_mm"
    value: MM = value_at(design, width)
    at = (start + _WIDTH_AT * length, value / 2)
    way = Slide(path=width, value=value, toward=(0.0, 0.5), low=_dim(width).low, high=_dim(width).high)
    # Its dimension would run from the middle to one edge only: the plan has one of the whole width.
    yield Grip(key=width, at=at, ways=(way,), rank=0, measures=False)
    lanes = f"{group}.rail_lanes_mm"
    for number, lane in enumerate(cast("tuple[MM, ...]", value_at(design, lanes)), start=1):
        one = f"{lanes}[{number}]"
        way = Slide(path=one, value=lane, toward=(0.0, 1.0), low=_dim(lanes).low, high=_dim(lanes).high)
        yield Grip(key=one, at=(start + _RAILS_AT * length, lane), ways=(way,), rank=1)


def _dim(path: str) -> Dim:
    info = info_of(path)
    assert info is not None
    return cast("Dim", info.record)
