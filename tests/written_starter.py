"""The starter with each spacing written down, for tests that work out its figures by hand."""

from dataclasses import replace

from rampdraft.model.design import Design, Leaf
from rampdraft.model.spacing import SPACINGS, fixed
from rampdraft.model.starter import starter_design


def all_given(design: Design) -> Design:
    """Return a design in which nothing follows from anything else, with the figures that it has."""
    for spacing in SPACINGS:
        design = fixed(design, spacing.values[0])
    return design


def written_starter() -> Design:
    """Return the starter with slats 112 and 111.4 mm apart, rails and cross members in round places, and
    upstands that begin 70 mm from the hinge lines and end 20 mm before the leaves' ends.
    """
    start = all_given(starter_design())
    return replace(
        start,
        inner_leaf=_written(start.inner_leaf, 112.0, (-410, -138, 138, 410), (200, 670, 1140)),
        outer_leaf=_written(start.outer_leaf, 111.4, (-358, -86, 86, 358), (150, 430, 700)),
    )


def _written(leaf: Leaf, pitch_mm: float, lanes_mm: tuple[float, ...], crosses_mm: tuple[float, ...]) -> Leaf:
    return replace(
        leaf,
        slat_pitch_mm=pitch_mm,
        slat_first_mm=4,
        slat_last_gap_mm=0,
        rail_lanes_mm=lanes_mm,
        cross_positions_mm=crosses_mm,
        upstand_start_mm=70,
        upstand_end_gap_mm=20,
    )
