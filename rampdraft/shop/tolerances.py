"""How exactly things are made: general tolerances, and the few dimensions that matter more."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.geometry.members.member import Body, HingeLine, Role
from rampdraft.model.design import Design, Hinge
from rampdraft.shop.parts import Part
from rampdraft.units import MM
from rampdraft.words.say import say

CUT_STANDARD: Final = "ISO 2768-1 m"
WELD_STANDARD: Final = "ISO 13920 B"

_CUT: Final = (
    (6.0, 0.1),
    (30.0, 0.2),
    (120.0, 0.3),
    (400.0, 0.5),
    (1000.0, 0.8),
    (2000.0, 1.2),
    (4000.0, 2.0),
    (8000.0, 2.0),
)
"""Up to a size so much to either side: ISO 2768-1, table 1, class m (from memory); beyond 4 m the last."""
_WELDED: Final = (
    (30.0, 1.0), (120.0, 2.0), (400.0, 2.0), (1000.0, 3.0), (2000.0, 4.0), (4000.0, 6.0), (8000.0, 8.0),
)  # fmt: skip
"""ISO 13920, table 1, class B (from memory)."""


def cut_tolerance_mm(size_mm: MM) -> MM:
    """Return what a length that is sawn or drilled may be off, to either side: ISO 2768-1 m."""
    return next((off for most, off in _CUT if size_mm <= most), _CUT[-1][1])


def weld_tolerance_mm(size_mm: MM) -> MM:
    """Return what a length between welded parts may be off, to either side: ISO 13920 B."""
    return next((off for most, off in _WELDED if size_mm <= most), _WELDED[-1][1])


@dataclass(frozen=True, slots=True, kw_only=True)
class KeyDimension:
    """A dimension that matters more than the general tolerances hold it to."""

    path: str
    """Of the value in the design."""
    what: str
    size_mm: MM
    over_mm: MM
    under_mm: MM
    """How much more and how much less it may be; both 0 or more."""
    why: str
    parts: tuple[str, ...]
    """Numbers of the parts that it is measured on."""


def key_dimensions(design: Design, parts: Sequence[Part]) -> tuple[KeyDimension, ...]:
    """Return the dimensions that matter. The tolerances are common practice."""
    return tuple(_keys(design, parts))


def _keys(design: Design, parts: Sequence[Part]) -> Iterator[KeyDimension]:
    yield from _hinge_keys(design, parts)
    stop = design.stop
    if stop.kind != "none" and not design.prop.fitted:
        yield KeyDimension(
            path="stop.gap_mm",
            what=say("gap at the stop bars, set with a feeler"),
            size_mm=stop.gap_mm,
            over_mm=0.1,
            under_mm=min(0.1, stop.gap_mm),
            why=say("it lets the joint drop, and all bars must bear together"),
            parts=_of(parts, "stop bar"),
        )
    if design.prop.fitted:
        yield from _prop_keys(parts)


def _prop_keys(parts: Sequence[Part]) -> Iterator[KeyDimension]:
    for part in parts:
        if part.role == "prop inner tube" and part.piece.marks:
            yield KeyDimension(
                path="prop.longest_mm",
                what=say("holes of a prop's inner tube, from its upper end; the first"),
                size_mm=part.piece.marks[0].at_mm,
                over_mm=0.2,
                under_mm=0.2,
                why=say("all props stand as high as they should, or one bears alone"),
                parts=(part.number,),
            )


def _hinge_keys(design: Design, parts: Sequence[Part]) -> Iterator[KeyDimension]:
    yield KeyDimension(
        path="inner_leaf.length_mm",
        what=say("deck hinge centre to joint centre"),
        size_mm=design.inner_leaf.length_mm,
        over_mm=0.5,
        under_mm=0.5,
        why=say("all rails alike, or the pins bind and the leaf stands on two corners"),
        parts=_of(parts, "rail", "inner"),
    )
    yield KeyDimension(
        path="joint.height_mm",
        what=say("joint centre from the top of the rails"),
        size_mm=abs(design.joint.height_mm),
        over_mm=0.3,
        under_mm=0.3,
        why=say("the same on both leaves, or the ramp is not straight when its stop bears"),
        parts=_of(parts, "rail"),
    )
    yield KeyDimension(
        path="deck_hinge.height_mm",
        what=say("deck hinge centre from the top of the rails"),
        size_mm=abs(design.deck_hinge.height_mm),
        over_mm=0.3,
        under_mm=0.3,
        why=say("all rails alike, or the pins bind"),
        parts=_of(parts, "rail", "inner"),
    )
    lines: tuple[tuple[HingeLine, str, Hinge], ...] = (
        ("deck", "deck_hinge", design.deck_hinge),
        ("joint", "joint", design.joint),
    )
    for line, path, hinge in lines:
        yield KeyDimension(
            path=f"{path}.pin_diameter_mm",
            what=say("bore of the knuckles"),
            size_mm=hinge.pin_diameter_mm,
            over_mm=0.3,
            under_mm=0.0,
            why=say("tighter the pin does not go in after welding, wider the joint sags"),
            parts=_of(parts, "knuckle", line),
        )


def _of(parts: Sequence[Part], role: Role, on: Body | HingeLine = "") -> tuple[str, ...]:
    """Return the numbers of the parts of a role that are somewhere on a body or a hinge line, or anywhere."""
    return tuple(
        part.number for part in parts if part.role == role and (not on or on in part.bodies | part.hinges)
    )
