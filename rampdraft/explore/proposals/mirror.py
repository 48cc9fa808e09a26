"""A design seen in a mirror: left for right. A survey and its mirror image are worked out once, so that their
proposals are mirror images too.
"""

from dataclasses import replace

from rampdraft.geometry.spacing.settled import settled
from rampdraft.model.design import Design
from rampdraft.model.spacing import GIVEN


def mirrored(design: Design) -> Design:
    """Return a design with left and right changed over. Rails that follow with one in the middle, whose mate
    follows to the left of it, are given in the mirror image, where the mate is on the right.
    """
    body = design.carrier_body
    found = replace(
        design,
        inner_leaf=replace(design.inner_leaf, rail_lanes_mm=_turned(design.inner_leaf.rail_lanes_mm)),
        outer_leaf=replace(design.outer_leaf, rail_lanes_mm=_turned(design.outer_leaf.rail_lanes_mm)),
        sites=tuple(replace(one, cross_slope_percent=0.0 - one.cross_slope_percent) for one in design.sites),
        obstacles=tuple(
            replace(one, left_mm=0.0 - one.right_mm, right_mm=0.0 - one.left_mm) for one in design.obstacles
        ),
        supports=tuple(replace(one, across_mm=0.0 - one.across_mm) for one in design.supports),
        carrier_body=replace(
            body,
            body_across_mm=0.0 - body.body_across_mm,
            cargo_across_mm=0.0 - body.cargo_across_mm,
            ballast_across_mm=0.0 - body.ballast_across_mm,
        ),
    )
    if settled(found).outer_leaf.rail_lanes_mm != found.outer_leaf.rail_lanes_mm:
        return replace(found, rails=replace(found.rails, lanes=GIVEN))
    return found


def _turned(lanes: tuple[float, ...]) -> tuple[float, ...]:
    return tuple(0.0 - lane for lane in reversed(lanes))


def faces_left(survey: Design) -> bool:
    """Return whether a survey is the one of itself and its mirror image that is worked out."""
    return _sides(survey) >= _sides(mirrored(survey))


def _sides(survey: Design) -> tuple[float, ...]:
    body = survey.carrier_body
    return (
        *(one.cross_slope_percent for one in survey.sites),
        *(side for one in survey.obstacles for side in (one.left_mm, one.right_mm)),
        *(one.across_mm for one in survey.supports),
        body.body_across_mm,
        body.cargo_across_mm,
        body.ballast_across_mm,
    )
