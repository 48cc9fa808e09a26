"""What moves the ramp, as ink: handles, hands where they hold, the assist spring, and the room that is moved
through.
"""

import math
from typing import Final

from rampdraft.drawing.ink import Anchor, Ink, Label, Path, line, polygon, ring
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.linkage import Placing, linkage
from rampdraft.geometry.members.member import Body
from rampdraft.geometry.outline import Point
from rampdraft.mechanics.handling.lifting import usual_handles
from rampdraft.model.design import Design
from rampdraft.units import MM
from rampdraft.words.say import say

_HAND_MM: Final = 1.9
_HANDLE_MM: Final = 0.8
_EYE_MM: Final = 0.7
"""Radii on paper."""
_CAPITAL_MM: Final = 2.1
"""Height of a capital letter of 8 point."""
_STEEP: Final = 0.85
"""Cosine of a leaf's angle below which names stand beside it rather than above it."""
_TURNS: Final = 5
"""Half turns of a torsion spring's spiral."""


def hands_at(evaluation: Evaluation, share: float) -> tuple[str, ...]:
    """Return the names of the places that are held at a share of the fold."""
    return tuple(name for name, _ in evaluation.hand.given_n(share))


def handle_marks(
    design: Design, where: dict[Body, Placing], held: tuple[str, ...], per_mm: MM
) -> tuple[Ink, ...]:
    """Return the design's handles as small circles, and those that are `held` as a circle with a cross and
    the handle's name.
    """
    marks: list[Ink] = [
        ring(where[handle.leaf].point(handle.at_mm, handle.above_mm), _HANDLE_MM * per_mm)
        for handle in design.handles
    ]
    for handle in usual_handles(design):
        if handle.name in held:
            leaf = design.inner_leaf if handle.leaf == "inner" else design.outer_leaf
            at = where[handle.leaf].point(handle.at_mm, handle.above_mm)
            turned = where[handle.leaf].angle_rad
            # The name stands clear of the leaf on the side that never meets the other one.
            away = 1 if design.fold.closing == "backs" else -1
            if abs(math.cos(turned)) >= _STEEP and math.cos(turned) * away <= 0:
                away = -away  # and never in the ground
            edge = (
                leaf.slat_thickness_mm + leaf.upstand_height_mm if away > 0 else -leaf.rail_section.depth_mm
            )
            clear = max(away * (edge - handle.above_mm), _HAND_MM * per_mm) + 1.2 * per_mm
            beside = -math.sin(turned) * away * clear, math.cos(turned) * away * clear
            marks.extend(_hand(at, say(handle.name), beside, per_mm))
    return tuple(marks)


def spring_marks(design: Design, where: dict[Body, Placing], drop_mm: MM, per_mm: MM) -> tuple[Ink, ...]:
    """Return the assist spring: a gas spring between its eyes, a torsion spring as a spiral round the deck
    hinge.
    """
    assist, bars = design.assist, linkage(design, drop_mm)
    if assist.kind == "gas":
        fixed = (assist.carrier_out_mm, bars.edge[1] - assist.carrier_below_mm)
        return _gas(fixed, where["inner"].point(assist.leaf_at_mm, assist.leaf_above_mm), per_mm)
    if assist.kind == "torsion":
        return (_spiral(bars.hinge, 1.1 * design.deck_hinge.knuckle_diameter_mm),)
    return ()


def _hand(at: Point, name: str, beside: Point, per_mm: MM) -> tuple[Ink, ...]:
    """Return the circle with a cross, and the name that begins `beside` it."""
    (x, z), r, (dx, dz) = at, _HAND_MM * per_mm, beside
    slant = dx / math.hypot(dx, dz)
    anchor: Anchor = "left" if slant > 0.5 else "right" if slant < -0.5 else "centre"
    # Letters stand on their baseline above the leaf, beside it or hang below it.
    down = 1.0 - dz / math.hypot(dx, dz)
    label = Label(
        text=name,
        at=(x + dx, z + dz - down * _CAPITAL_MM * per_mm / 2),
        anchor=anchor,
        pen="accent",
        size_pt=8.0,
    )
    return (
        ring(at, r, pen="accent"),
        line((x - r, z), (x + r, z), "accent"),
        line((x, z - r), (x, z + r), "accent"),
        label,
    )


def _gas(fixed: Point, moving: Point, per_mm: MM) -> tuple[Ink, ...]:
    """Return the rod as a line and the cylinder as a narrow area about its first half."""
    length = math.dist(fixed, moving) or 1.0
    along = (moving[0] - fixed[0]) / length, (moving[1] - fixed[1]) / length
    half = 0.6 * per_mm
    ends = (fixed, (fixed[0] + along[0] * 0.55 * length, fixed[1] + along[1] * 0.55 * length))
    corners = (
        *((x - along[1] * half, z + along[0] * half) for x, z in ends),
        *((x + along[1] * half, z - along[0] * half) for x, z in reversed(ends)),
    )
    cylinder = polygon(corners, "thin", "paper", "assist.force_n")
    eyes = (ring(eye, _EYE_MM * per_mm) for eye in (fixed, moving))
    return line(fixed, moving, "outline", "assist.force_n"), cylinder, *eyes


def _spiral(centre: Point, radius: MM) -> Path:
    """Return a spiral of half circles out to `radius`."""
    x, z = centre
    radii = [radius * (0.45 + 0.55 * turn / _TURNS) for turn in range(_TURNS + 1)]
    vertices = tuple((x + (r if turn % 2 == 0 else -r), z, 1.0) for turn, r in enumerate(radii))
    return Path(vertices=vertices, closed=False, pen="outline", owner="assist.rate_nmm_deg")
