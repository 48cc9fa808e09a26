"""Sizes that are sold: of the catalogue, and of what the user has."""

from dataclasses import replace

from rampdraft.model.design import Stock
from rampdraft.model.section import parse_section
from rampdraft.model.sold import sold_sections, sold_sizes
from rampdraft.model.starter import starter_design

START = starter_design()


def test_boards_of_timber_come_in_the_thicknesses_and_widths_of_boards():
    timber = replace(START, made_of=replace(START.made_of, slats="timber C24"), stock=())
    assert sold_sizes(timber, "inner_leaf.slat_thickness_mm") == (18, 21, 28)
    assert sold_sizes(timber, "both_leaves.slat_width_mm") == (95, 120)


def test_what_lies_in_the_shop_counts_where_it_is_of_the_parts_material():
    sheet = Stock(section=parse_section("flat 4.5x300"), material="aluminium 6082-T6", length_mm=2000)
    design = replace(START, stock=(sheet,))
    assert 4.5 in sold_sizes(design, "outer_leaf.slat_thickness_mm")
    assert 300 in sold_sizes(design, "outer_leaf.slat_width_mm")
    assert 4.5 not in sold_sizes(design, "bridge.thickness_mm")  # which is of steel
    assert 8 in sold_sizes(design, "bridge.thickness_mm")
    assert sheet.section in sold_sections(design, "flat")
    assert sheet.section not in sold_sections(design, "box")


def test_pins_and_knuckles_are_round_bars():
    pins = sold_sizes(START, "joint.pin_diameter_mm")
    assert {12, 16, 20} <= set(pins)
    assert pins == tuple(sorted(pins))
    assert sold_sizes(START, "joint.knuckle_diameter_mm") == pins


def test_what_is_sawn_or_set_has_no_sizes():
    for path in ("inner_leaf.length_mm", "stop.fixed_length_mm", "joint.height_mm", "toe.length_mm"):
        assert sold_sizes(START, path) == ()
    assert START.toe.kind == "taper"
    assert sold_sizes(START, "toe.thickness_mm") == ()
    flap = replace(START, toe=replace(START.toe, kind="flap"))
    assert 6 in sold_sizes(flap, "toe.thickness_mm")
