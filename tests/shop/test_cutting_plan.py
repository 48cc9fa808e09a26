"""The cutting plan: nothing lost, nothing overlapping, every saw cut counted."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from timber_ramp import timber_ramp

from rampdraft.geometry.members.assembly import assemble
from rampdraft.geometry.members.leaves import SQUARE
from rampdraft.geometry.members.member import Piece
from rampdraft.geometry.outline import Profile, rectangle
from rampdraft.model.design import Stock, Workshop
from rampdraft.model.section import parse_section
from rampdraft.shop.parts import Part, cutting_plan, part_list

FLAT = parse_section("flat 30x6")
STEEL = "steel S235"


def part(number, length, quantity=1, section=FLAT, role="rail"):
    piece = Piece(
        role=role,
        section=section,
        material=STEEL,
        length_mm=length,
        profile=Profile(rectangle(0, 0, length, 30)),
        ends=(SQUARE, SQUARE),
    )
    return Part(
        number=number,
        name="piece",
        role=role,
        piece=piece,
        quantity=quantity,
        hand="",
        members=(number,),
        mass_kg=1,
    )


def design(*stock_mm, kerf=2.0, trim=0.0):
    stock = tuple(Stock(section=FLAT, material=STEEL, length_mm=length) for length in stock_mm)
    return replace(
        timber_ramp(), stock=stock, workshop=Workshop(kerf_mm=kerf, end_trim_mm=trim, slat_screw_mm=0)
    )


def lengths(plan):
    return [(bar.stock_mm, [cut.length_mm for cut in bar.cuts], round(bar.offcut_mm, 6)) for bar in plan.bars]


def test_the_longest_piece_goes_first_into_the_first_bar_with_room():
    plan = cutting_plan([part("A", 400, 2), part("B", 700), part("C", 250)], design(1000, kerf=0))
    assert lengths(plan) == [(1000, [700, 250], 50), (1000, [400, 400], 200)]


def test_a_saw_cut_lies_between_pieces_and_none_after_one_that_ends_with_the_bar():
    assert lengths(cutting_plan([part("A", 499, 2)], design(1000))) == [(1000, [499, 499], 0)]
    assert len(cutting_plan([part("A", 499.1, 2)], design(1000)).bars) == 2


def test_the_saw_cut_after_the_last_piece_is_no_part_of_the_offcut():
    assert lengths(cutting_plan([part("A", 300, 2)], design(1000))) == [(1000, [300, 300], 396)]


def test_end_trim_and_its_saw_cut_come_off_first():
    assert lengths(cutting_plan([part("A", 988)], design(1000, trim=10))) == [(1000, [988], 0)]
    plan = cutting_plan([part("A", 988.5)], design(1000, trim=10))
    assert plan.bars == ()
    assert plan.unplaced == (
        ("A", "988.5 mm is longer than the 988 mm that the longest stock length leaves"),
    )
    assert plan.words == "Nothing to cut from stock. 1 part is not placed."


def test_a_section_without_stock_is_named():
    other = part("B", 100, section=parse_section("round 12"))
    plan = cutting_plan([part("A", 400), other], design(1000))
    assert plan.unplaced == (("B", "no stock length is given for round 12 in steel S235"),)
    assert len(plan.bars) == 1


def test_the_material_must_match_as_well():
    wooden = replace(design(1000), stock=(Stock(section=FLAT, material="timber C24", length_mm=1000),))
    assert cutting_plan([part("A", 400)], wooden).bars == ()


def test_of_several_stock_lengths_each_bar_is_as_short_as_its_pieces_allow():
    plan = cutting_plan([part("A", 2500), part("B", 900)], design(1000, 3000, kerf=0))
    assert lengths(plan) == [(3000, [2500], 500), (1000, [900], 100)]


def test_washers_are_bought():
    plan = cutting_plan([part("W", 2, role="washer")], design(1000))
    assert plan.bars == plan.unplaced == ()


def test_the_words_claim_no_more_than_is_known():
    enough = cutting_plan([part("A", 600, 3)], design(1000, kerf=0))
    assert (
        enough.words
        == "3 stock lengths by first-fit decreasing, not proven least: no plan can do with fewer than 2."
    )
    assert (
        cutting_plan([part("A", 500, 4)], design(1000, kerf=0)).words
        == "2 stock lengths: no plan can do with fewer."
    )


def test_the_starter_plan_places_all_that_has_stock():
    starting = timber_ramp()
    parts = part_list(assemble(starting))
    plan = cutting_plan(parts, starting)
    stocked = {(row.section, row.material) for row in starting.stock}
    wanted = Counter({p.number: p.quantity for p in parts if (p.piece.section, p.piece.material) in stocked})
    assert Counter(cut.part for bar in plan.bars for cut in bar.cuts) == wanted


@given(
    pieces=st.lists(st.tuples(st.floats(1, 1500), st.integers(1, 6)), max_size=12),
    stock=st.lists(st.integers(100, 1400), max_size=3),
    kerf=st.floats(0, 10),
    trim=st.floats(0, 50),
)
def test_no_piece_is_lost_none_overlap_and_no_bar_is_longer_than_bought(pieces, stock, kerf, trim):
    parts = [part(f"P{k}", length, quantity) for k, (length, quantity) in enumerate(pieces)]
    plan = cutting_plan(parts, design(*stock, kerf=kerf, trim=trim))
    placed = Counter(cut.part for bar in plan.bars for cut in bar.cuts)
    missing = {number for number, _ in plan.unplaced}
    assert placed == Counter({p.number: p.quantity for p in parts if p.number not in missing})
    assert all(
        p.piece.length_mm > max(stock, default=0) - trim - (kerf if trim else 0) - 1e-5
        for p in parts
        if p.number in missing
    )
    for bar in plan.bars:
        at = trim + (kerf if trim else 0)
        for index, cut in enumerate(bar.cuts):
            at += cut.length_mm + (kerf if index else 0)
        assert at <= bar.stock_mm + 1e-5
        assert bar.offcut_mm == pytest.approx(max(0, bar.stock_mm - at - kerf), abs=1e-6)
    assert plan.least_bars <= len(plan.bars)
