"""Spacings that nobody wants to type: each is given, or follows from the rest of the design.

Which, is a choice of the design itself (`inner_leaf.slats`); what follows stands in the design all the same,
as ordinary figures (`geometry.spacing.settled` puts them there).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final

from rampdraft.model.design import Design, Leaf
from rampdraft.model.fields.paths import info_of, value_at, with_value
from rampdraft.model.fields.record import Choice
from rampdraft.rounding import steps_over, whole_steps
from rampdraft.units import MM

GIVEN: Final = "given"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spacing:
    """Values that are given, or follow together."""

    rule: str
    """Path of the choice."""
    values: tuple[str, ...]
    """Paths of what follows."""
    by: Mapping[str, tuple[str, ...]]
    """By each word of the choice that lets them follow, the paths of what they are then worked out from
    besides the sizes of the ramp.
    """


def _of_leaf(leaf: str) -> tuple[Spacing, ...]:
    return (
        Spacing(
            rule=f"{leaf}.slats",
            values=(f"{leaf}.slat_pitch_mm",),
            by={"even": (f"{leaf}.slat_greatest_gap_mm",)},
        ),
        Spacing(
            rule=f"{leaf}.slat_ends",
            values=(f"{leaf}.slat_first_mm", f"{leaf}.slat_last_gap_mm"),
            by={"clear": ()},
        ),
        Spacing(
            rule=f"{leaf}.cross_members",
            values=(f"{leaf}.cross_positions_mm",),
            by={"number": (f"{leaf}.cross_count",), "spacing": (f"{leaf}.cross_greatest_mm",)},
        ),
        Spacing(
            rule=f"{leaf}.upstands",
            values=(f"{leaf}.upstand_start_mm", f"{leaf}.upstand_end_gap_mm"),
            by={"end_to_end": ()},
        ),
    )


SPACINGS: Final = (
    Spacing(
        rule="rails.lanes",
        values=tuple(
            f"{leaf}.{name}"
            for leaf in ("inner_leaf", "outer_leaf")
            for name in ("rail_lanes_mm", "knuckle_shift_mm")
        ),
        by={"neighbouring": ("rails.count", "rails.inset_mm")},
    ),
    Spacing(rule="stop.bars", values=("stop.count",), by={"each_rail": ()}),
    *_of_leaf("inner_leaf"),
    *_of_leaf("outer_leaf"),
)
ASKED: Final = frozenset(path for spacing in SPACINGS for paths in spacing.by.values() for path in paths)
"""Paths of all that spacings can be worked out from."""
_OF: Final = {path: spacing for spacing in SPACINGS for path in spacing.values}


def spacing_of(path: str) -> Spacing | None:
    """Return the spacing that the value at a path is part of, or the item of a list; None for none."""
    return _OF.get(path.partition("[")[0])


def follows(design: Design, path: str) -> bool:
    """Return whether the value at a path follows from the rest of the design."""
    spacing = spacing_of(path)
    return spacing is not None and value_at(design, spacing.rule) != GIVEN


def following(design: Design) -> frozenset[str]:
    """Return the paths of all values that follow from the rest of a design."""
    return frozenset(path for path in _OF if follows(design, path))


def worked_out_from(design: Design, path: str) -> tuple[str, ...]:
    """Return the paths of what a value that follows is worked out from, besides the sizes of the ramp."""
    spacing = spacing_of(path)
    return spacing.by.get(value_at(design, spacing.rule), ()) if spacing is not None else ()


def idle(design: Design) -> frozenset[str]:
    """Return the paths of what spacings could be worked out from, and are not."""
    asked = {path for spacing in SPACINGS for path in worked_out_from(design, spacing.values[0])}
    return ASKED - asked


def fixed(design: Design, path: str) -> Design:
    """Return a design in which a value that follows, and those that follow with it, are given from now on,
    as they are.
    """
    spacing = spacing_of(path)
    assert spacing is not None
    return with_value(design, spacing.rule, GIVEN)


def freed(design: Design, path: str) -> Design:
    """Return a design in which a value that is given, and those that go with it, follow from now on: from
    such figures as it has now. What follows is not worked out here.
    """
    spacing = spacing_of(path)
    assert spacing is not None
    for source, value in _present(design, spacing):
        design = with_value(design, source, value)
    info = info_of(spacing.rule)
    assert info is not None
    assert isinstance(info.record, Choice)
    return with_value(design, spacing.rule, info.record.options[1][0])


def _present(design: Design, spacing: Spacing) -> tuple[tuple[str, Any], ...]:
    """Return what a spacing is to be worked out from, as the given figures have it."""
    group, _, name = spacing.rule.partition(".")
    if name == "lanes":
        leaf = design.inner_leaf
        lanes = leaf.rail_lanes_mm
        edge = (leaf.width_mm - leaf.rail_section.width_mm) / 2 - max(map(abs, lanes), default=0.0)
        return ("rails.count", min(max(len(lanes), 2), 12)), ("rails.inset_mm", min(max(edge, 0.0), 1000.0))
    leaf = value_at(design, group)
    if name == "slats":
        return ((f"{group}.slat_greatest_gap_mm", _gap_of_as_many_mm(leaf)),)
    if name == "cross_members":
        return ((f"{group}.cross_count", min(len(leaf.cross_positions_mm), 40)),)
    return ()


def _gap_of_as_many_mm(leaf: Leaf) -> MM:
    """Return the gap with which as many slats as there are lie evenly, rounded up to a tenth of a mm."""
    room = leaf.length_mm - leaf.slat_first_mm - leaf.slat_last_gap_mm
    pitches = whole_steps(room - leaf.slat_width_mm, leaf.slat_pitch_mm, leaf.length_mm)
    if pitches < 1:
        return 12.0
    gap = (room - leaf.slat_width_mm) / pitches - leaf.slat_width_mm
    return min(max(steps_over(gap, 0.1, room), 0) / 10, 500.0)
