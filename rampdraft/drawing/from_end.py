"""The end view: ramp and deck as somebody sees them who stands at the toe and looks at the deck, y to the
right, z up.
"""

from collections.abc import Iterator
from itertools import pairwise

from rampdraft.drawing import dimension
from rampdraft.drawing.ink import Ink, Picture, line
from rampdraft.drawing.side import PAPER_WIDTH_MM
from rampdraft.drawing.solid.camera import Camera
from rampdraft.drawing.solid.scene import Solid, Stand
from rampdraft.drawing.text import mm_text
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.model.design import Design
from rampdraft.units import MM
from rampdraft.words.say import say

CAMERA = Camera(0.0, 0.0)


def from_end(
    design: Design,
    solid: Solid,
    stand: Stand,
    *,
    dimensions: bool = True,
    room: tuple[Stand, ...] = (),
    per_mm: MM | None = None,
) -> Picture:
    """Return the ramp from its toe, with height and widths; `room` and `per_mm`: see `Solid.picture` and
    `dimension`.
    """
    view = solid.picture(stand, CAMERA, room=room)
    x0, z0, x1, z1 = view.box
    per_mm = per_mm or 1.4 * (x1 - x0) / PAPER_WIDTH_MM
    middle = line((0.0, z0 - 3 * per_mm), (0.0, z1 + 3 * per_mm), "centre")
    marks, box = [*view.marks, middle], (x0, z0 - 4 * per_mm, x1, z1 + 4 * per_mm)
    if dimensions:
        marks.extend(_widths(design, z0, per_mm))
        marks.extend(_opening(design, stand, z1, per_mm))
        marks.extend(_heights(design, stand, per_mm))
        box = (x0 - 16 * per_mm, z0 - 20 * per_mm, x1 + 4 * per_mm, z1 + 12 * per_mm)
    return Picture(marks=tuple(marks), box=box, title=say("End view"))


def _widths(design: Design, low: MM, per_mm: MM) -> Iterator[Ink]:
    """Yield below the ground how the rails divide the outer leaf, and its width."""
    leaf = design.outer_leaf
    half = leaf.width_mm / 2
    lanes = (-half, *sorted(leaf.rail_lanes_mm), half)
    for (a, b), outside in zip(pairwise(lanes), dimension.in_chain(len(lanes) - 1), strict=True):
        yield from dimension.level(
            (a, low), (b, low), mm_text(b - a), at=low - 7 * per_mm, per_mm=per_mm,
            outside=outside, owner="outer_leaf.rail_lanes_mm",
        )  # fmt: skip
    text = f"W {mm_text(leaf.width_mm)}"
    yield from dimension.level(
        (-half, low), (half, low), text, at=low - 14 * per_mm, per_mm=per_mm, owner="outer_leaf.width_mm"
    )


def _opening(design: Design, stand: Stand, high: MM, per_mm: MM) -> Iterator[Ink]:
    """Yield above all how wide the opening is: below, its lines would cross the values beside the rails."""
    half, top = design.carrier.opening_width_mm / 2, edge_height_mm(design, stand.drop_mm)
    yield from dimension.level(
        (-half, top), (half, top), f"O {mm_text(2 * half)}", at=high + 7 * per_mm, per_mm=per_mm,
        owner="carrier.opening_width_mm",
    )  # fmt: skip


def _heights(design: Design, stand: Stand, per_mm: MM) -> Iterator[Ink]:
    """Yield on the left how high the deck is."""
    top = edge_height_mm(design, stand.drop_mm)
    left = -design.carrier.opening_width_mm / 2
    text = f"H − D = {mm_text(top)}" if stand.drop_mm else f"H {mm_text(top)}"
    yield from dimension.upright(
        (left, 0.0), (left, top), text, at=left - 9 * per_mm, per_mm=per_mm, owner="carrier.deck_height_mm"
    )
