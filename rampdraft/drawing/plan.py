"""The plan: both leaves laid flat and seen from above, x away from the deck, y across and up the sheet."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Final

from rampdraft.drawing import dimension, surroundings
from rampdraft.drawing.ink import Ink, Picture, area, line, polygon, polyline
from rampdraft.drawing.side import PAPER_WIDTH_MM, fill_of
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.members.hinges import flap_outline
from rampdraft.geometry.members.leaves import slat_starts_mm
from rampdraft.geometry.members.member import Member, Role
from rampdraft.geometry.outline import Outline, rectangle
from rampdraft.model.design import Design, Leaf
from rampdraft.units import MM
from rampdraft.words.say import say

_HIDDEN: Final[frozenset[Role]] = frozenset(
    ("rail", "cross member", "knuckle", "pin", "stop bar", "taper plate", "latch", "latch hook")
)
"""Roles that slats or plates may cover: their edges are drawn once more, dashed, over everything."""


def plan_view(evaluation: Evaluation, *, dimensions: bool = True, per_mm: MM | None = None) -> Picture:
    """Return the plan of the ramp laid flat, with the deck edge, hinge lines, centre line and widths."""
    design = evaluation.design
    shapes = [
        (member, _seen_from_above(design, member))
        for member in sorted(evaluation.assembly.of("inner", "outer", "carrier"), key=_top)
    ]
    end = max(shape.vertices[1][0] for _, shape in shapes)
    half = max(design.carrier.opening_width_mm / 2, *(abs(member.y0_mm) for member, _ in shapes))
    back = surroundings.shown_mm(design)
    per_mm = per_mm or 1.1 * (end + back) / PAPER_WIDTH_MM
    marks: list[Ink] = [*_deck(design, back), *_obstacles(design)]
    marks.extend(
        area(shape, "thin" if member.role == "washer" else "outline", fill_of(member), member.key)
        for member, shape in shapes
    )
    marks.extend(
        area(shape, "hidden", "none", member.key) for member, shape in shapes if member.role in _HIDDEN
    )
    first, joint = design.deck_hinge.out_mm, design.deck_hinge.out_mm + design.inner_leaf.length_mm
    reach = half + 4 * per_mm
    marks.append(line((-back - 3 * per_mm, 0.0), (end + 4 * per_mm, 0.0), "centre"))
    marks.extend(line((x, -reach), (x, reach), "centre") for x in (first, joint))
    box = (-back - 4 * per_mm, -reach - 2 * per_mm, end + 6 * per_mm, reach + 2 * per_mm)
    if dimensions:
        marks.extend(_dimensions(design, back, end, half, per_mm))
        box = (box[0] - 7 * per_mm, -half - 21.5 * per_mm, box[2] + 11 * per_mm, half + 11 * per_mm)
    return Picture(marks=tuple(marks), box=box, title=say("Plan, laid flat"))


def _top(member: Member) -> MM:
    return max(w for _, w, _ in member.silhouette.vertices) + (1000.0 if member.body == "carrier" else 0.0)


def _seen_from_above(design: Design, member: Member) -> Outline:
    """Return the rectangle that a member covers, with the ramp straight out from the deck."""
    shape = flap_outline(design, 0.0) if member.role == "toe flap" else member.silhouette
    u0, _, u1, _ = shape.box
    hinge = design.deck_hinge.out_mm
    shift = {"inner": hinge, "outer": hinge + design.inner_leaf.length_mm}.get(member.body, 0.0)
    return rectangle(shift + u0, member.y0_mm, shift + u1, member.y1_mm)


def _deck(design: Design, back: MM) -> tuple[Ink, ...]:
    """Return the floor in the opening, and the deck edge."""
    half = design.carrier.opening_width_mm / 2
    corners = ((-back, -half), (0.0, -half), (0.0, half), (-back, half))
    return polygon(corners, "thin", "carrier"), polyline(corners, "outline")


def _obstacles(design: Design) -> Iterator[Ink]:
    """Yield the ground that each obstacle covers, whatever its height."""
    for obstacle in design.obstacles:
        xs = [x for x, _ in obstacle.outline_mm]
        shape = rectangle(min(xs), obstacle.left_mm, max(xs), obstacle.right_mm)
        yield area(shape, "thin", "carrier", f"obstacle {obstacle.name}")


def _dimensions(design: Design, back: MM, end: MM, half: MM, per_mm: MM) -> tuple[Ink, ...]:
    return (*_lengths(design, end, half, per_mm), *_widths(design, back, end, per_mm))


def _lengths(design: Design, end: MM, half: MM, per_mm: MM) -> Iterator[Ink]:
    """Yield the leaves' lengths and the whole below the plan, the runs of slats above it."""
    start, low, whole = design.deck_hinge.out_mm, -half - 4 * per_mm, -half - 19 * per_mm
    at = start
    for leaf, group in ((design.inner_leaf, "inner_leaf"), (design.outer_leaf, "outer_leaf")):
        a, b, text = (at, low), (at + leaf.length_mm, low), f"L {mm_text(leaf.length_mm)}"
        below, owner = -half - 12 * per_mm, f"{group}.length_mm"
        yield from dimension.level(a, b, text, at=below, per_mm=per_mm, owner=owner)
        yield from _slat_run(leaf, group, at, half, per_mm)
        at = b[0]
    left = -design.bridge.over_deck_mm if design.bridge.fitted else start
    text = say("overall {length}", length=mm_text(end - left, 0))
    yield from dimension.level((left, low), (end, low), text, at=whole, per_mm=per_mm)


def _widths(design: Design, back: MM, end: MM, per_mm: MM) -> Iterator[Ink]:
    """Yield the opening on the left; on the right the outer leaf's width, and how its rails divide it."""
    opening, width = design.carrier.opening_width_mm / 2, design.outer_leaf.width_mm / 2
    lanes = (-width, *sorted(design.outer_leaf.rail_lanes_mm), width)
    rows = (
        (-back, opening, f"O {mm_text(2 * opening)}", -back - 7 * per_mm, "carrier.opening_width_mm"),
        (end, width, f"W {mm_text(2 * width)}", end + 14 * per_mm, "outer_leaf.width_mm"),
    )
    for x, half, text, at, owner in rows:
        yield from dimension.upright((x, -half), (x, half), text, at=at, per_mm=per_mm, owner=owner)
    for (a, b), outside in zip(pairwise(lanes), dimension.in_chain(len(lanes) - 1), strict=True):
        yield from dimension.upright(
            (end, a), (end, b), mm_text(b - a), at=end + 7 * per_mm, per_mm=per_mm,
            outside=outside, owner="outer_leaf.rail_lanes_mm",
        )  # fmt: skip


def _slat_run(leaf: Leaf, group: str, start: MM, half: MM, per_mm: MM) -> tuple[Ink, ...]:
    """Return the run of slats as one dimension of equal spaces (ISO 129-1)."""
    starts = slat_starts_mm(leaf)
    if len(starts) < 2:
        return ()
    spaces, pitch = len(starts) - 1, leaf.slat_pitch_mm
    counted = f"{spaces} × p {mm_text(pitch)}"
    whole = say(
        "{pitches} (= {length}), slat b {width}",
        pitches=counted,
        length=mm_text(spaces * pitch),
        width=mm_text(leaf.slat_width_mm),
    )
    run = whole if dimension.has_room(whole, spaces * pitch, per_mm) else counted
    a, b = start + starts[0], start + starts[-1]
    return dimension.level(
        (a, half),
        (b, half),
        run,
        at=half + 7 * per_mm,
        per_mm=per_mm,
        owner=f"{group}.slat_pitch_mm",
    )
