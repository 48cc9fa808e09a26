"""What one rail takes in bending along its leaf: less holes, notches and tapers, each just where it is."""

from dataclasses import replace

import numpy as np
import pytest
from ramps import with_leaves
from timber_ramp import timber_ramp

from rampdraft.geometry.sections import cut_from_below, holed
from rampdraft.model.design import Design
from rampdraft.model.section import parse_section
from rampdraft.strength.rails import rail_capacity_nmm

RAIL, YIELD_MPA = parse_section("box 40x20x2"), 235
START = timber_ramp()
HOLE_MM = START.workshop.slat_screw_mm
DRILLED = holed(RAIL, HOLE_MM).elastic_modulus_mm3


def modulus_mm3(design: Design, body, *places_mm: float) -> list[float]:
    capacity = rail_capacity_nmm(design, body, np.array(places_mm))
    assert capacity is not None
    return list(capacity / YIELD_MPA)


def test_a_rail_is_weakened_by_the_holes_of_its_screws():
    assert HOLE_MM > 0
    assert modulus_mm3(START, "inner", 0.0, 675.0, 1350.0) == pytest.approx([DRILLED] * 3)


def test_a_notch_is_as_wide_as_the_cross_member_in_it():
    cross = parse_section("box 30x36x2")
    lapped = with_leaves(START, cross_section=cross, cross_fitting="half_lap", half_lap_mm=15.0)
    at = lapped.inner_leaf.cross_positions_mm[1]
    found = modulus_mm3(lapped, "inner", at - 18.01, at - 17.99, at, at + 17.99, at + 18.01)
    notched = cut_from_below(RAIL, 25).elastic_modulus_mm3
    assert notched < DRILLED
    assert found == pytest.approx([DRILLED, notched, notched, notched, DRILLED])


@pytest.mark.parametrize("closed", [False, True])
def test_a_tapered_rail_grows_from_its_tip(closed: bool):
    design = replace(
        START, toe=replace(START.toe, kind="taper", length_mm=400, thickness_mm=10, closed=closed)
    )
    length = design.outer_leaf.length_mm
    places = (length - 400.0, length - 399.0, length - 200.0, length - 100.0, length)
    depths = (39.925, 25.0, 17.5, 10.0)
    left = [cut_from_below(RAIL, depth, closed=closed).elastic_modulus_mm3 for depth in depths]
    assert modulus_mm3(design, "outer", *places) == pytest.approx(
        [DRILLED, *(min(DRILLED, modulus) for modulus in left)]
    )
    # The inner leaf has none.
    assert modulus_mm3(design, "inner", design.inner_leaf.length_mm) == pytest.approx([DRILLED])


def test_walls_that_buckle_have_no_capacity():
    thin = with_leaves(START, rail_section=parse_section("box 40x60x1"))
    assert rail_capacity_nmm(thin, "inner", np.array([100.0])) is None
