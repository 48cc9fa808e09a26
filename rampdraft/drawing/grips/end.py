"""The grips of a ramp seen from its toe: the outer leaf's width and rails, and the deck's height."""

from collections.abc import Iterator

from rampdraft.drawing.grips.grip import Grip, slide
from rampdraft.drawing.grips.plan import across_grips
from rampdraft.geometry.linkage import Pose, linkage
from rampdraft.model.design import Design
from rampdraft.units import MM


def end_grips(design: Design, pose: Pose, drop_mm: MM) -> Iterator[Grip]:
    """Yield the grips of the ramp in a pose, y across to the right, z up: width and rails at the toe end."""
    bars, leaf = linkage(design, drop_mm), design.outer_leaf
    toe = bars.placings(pose)["outer"]
    surface = toe.point(leaf.length_mm, leaf.slat_thickness_mm)[1]
    rails = toe.point(leaf.length_mm, -leaf.rail_section.depth_mm / 2)[1]
    yield from across_grips(design, "outer_leaf", lambda y: (y, surface), lambda y: (y, rails))
    height = "carrier.deck_height_mm"
    at = (-design.carrier.opening_width_mm / 2, bars.edge[1])
    yield Grip(key=height, at=at, ways=(slide(design, height, (0.0, 1.0)),), rank=2, measures=False)
