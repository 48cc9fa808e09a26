"""The cutting plan: nothing lost, nothing overlapping, every saw cut counted."""

from collections import Counter
from dataclasses import replace
from functools import cache

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
from rampdraft.shop.cutting.plan import least_plan, quick_plan
from rampdraft.shop.cutting.results import Length, Saw, Wanted
from rampdraft.shop.parts import Part, part_list

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
        code="piece",
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
    plan = quick_plan([part("A", 400, 2), part("B", 700), part("C", 250)], design(1000, kerf=0))
    assert lengths(plan) == [(1000, [700, 250], 50), (1000, [400, 400], 200)]


def test_a_saw_cut_lies_between_pieces_and_none_after_one_that_ends_with_the_bar():
    assert lengths(quick_plan([part("A", 499, 2)], design(1000))) == [(1000, [499, 499], 0)]
    assert len(quick_plan([part("A", 499.1, 2)], design(1000)).bars) == 2


def test_the_saw_cut_after_the_last_piece_is_no_part_of_the_offcut():
    assert lengths(quick_plan([part("A", 300, 2)], design(1000))) == [(1000, [300, 300], 396)]


def test_end_trim_and_its_saw_cut_come_off_first():
    assert lengths(quick_plan([part("A", 988)], design(1000, trim=10))) == [(1000, [988], 0)]
    plan = quick_plan([part("A", 988.5)], design(1000, trim=10))
    assert plan.bars == ()
    (out,) = plan.unplaced
    assert (out.part, out.quantity, out.why) == ("A", 1, "too long")
    assert out.words == "988.5 mm is longer than the 988 mm that the longest stock length leaves"
    assert plan.words == "Nothing to cut from stock. 1 part is not placed."


def test_a_section_without_stock_is_named():
    other = part("B", 100, section=parse_section("round 12"))
    plan = quick_plan([part("A", 400), other], design(1000))
    (out,) = plan.unplaced
    assert (out.part, out.words) == ("B", "no stock length is given for round 12 in steel S235")
    assert len(plan.bars) == 1


def test_the_material_must_match_as_well():
    wooden = replace(design(1000), stock=(Stock(section=FLAT, material="timber C24", length_mm=1000),))
    assert quick_plan([part("A", 400)], wooden).bars == ()


def test_of_several_stock_lengths_each_bar_is_as_short_as_its_pieces_allow():
    plan = quick_plan([part("A", 2500), part("B", 900)], design(1000, 3000, kerf=0))
    assert lengths(plan) == [(3000, [2500], 500), (1000, [900], 100)]


def test_washers_are_bought():
    plan = quick_plan([part("W", 2, role="washer")], design(1000))
    assert plan.bars == plan.unplaced == ()


def test_the_words_claim_no_more_than_is_known():
    enough = quick_plan([part("A", 600, 3)], design(1000, kerf=0))
    assert enough.words.startswith(
        "3 stock lengths to buy, not proven fewest: no plan can do with fewer than 2."
    )
    assert not enough.proven_least
    best = quick_plan([part("A", 500, 4)], design(1000, kerf=0))
    assert best.words.startswith("2 stock lengths to buy: proven fewest.")
    assert best.proven_least


def test_the_starter_plan_places_all_that_has_stock():
    starting = timber_ramp()
    parts = part_list(assemble(starting).members)
    plan = quick_plan(parts, starting)
    stocked = {(row.section, row.material) for row in starting.stock}
    wanted = Counter({p.number: p.quantity for p in parts if (p.piece.section, p.piece.material) in stocked})
    assert Counter(cut.part for bar in plan.bars for cut in bar.cuts) == wanted


def wanted(*pieces, section="flat 30x6"):
    return [
        Wanted(part=f"P{k}", section=section, material=STEEL, length_mm=length, quantity=quantity)
        for k, (length, quantity) in enumerate(pieces)
    ]


def stock(*lengths, section="flat 30x6", **more):
    return [Length(section=section, material=STEEL, length_mm=length, **more) for length in lengths]


def saw(kerf=0.0, trim=0.0):
    return Saw(kerf_mm=kerf, trim_mm=trim, least_offcut_mm=300)


def fewest_by_trying(lengths, room, kerf):
    """The least number of stock lengths, by trying all ways to put the longest piece left beside others."""

    @cache
    def fewest(left):
        if not left:
            return 0
        first, rest = left[0], left[1:]
        return 1 + min(
            fewest(tuple(one for k, one in enumerate(rest) if not beside >> k & 1))
            for beside in range(1 << len(rest))
            if first + sum(one + kerf for k, one in enumerate(rest) if beside >> k & 1) <= room
        )

    return fewest(tuple(sorted(lengths, reverse=True)))


@given(
    pieces=st.lists(st.integers(120, 1000), min_size=1, max_size=7),
    kerf=st.integers(0, 5),
)
def test_the_least_plan_is_as_good_as_trying_everything(pieces, kerf):
    plan = least_plan(wanted(*((length, 1) for length in pieces)), stock(1000), saw(kerf))
    assert len(plan.bars) == fewest_by_trying(pieces, 1000, kerf)
    assert plan.least_bars <= len(plan.bars)
    assert plan.proven_least == (plan.least_bars == len(plan.bars))


@given(
    pieces=st.lists(st.tuples(st.floats(50, 1400), st.integers(1, 5)), min_size=1, max_size=10),
    lengths=st.lists(st.integers(1450, 3000), min_size=1, max_size=3, unique=True),
    held=st.lists(
        st.tuples(st.integers(200, 1400), st.integers(1, 3)), max_size=2, unique_by=lambda one: one[0]
    ),
    price=st.sampled_from([0.0, 0.01]),
    kerf=st.floats(0, 5),
    trim=st.floats(0, 20),
)
def test_the_least_plan_loses_and_overlaps_nothing(pieces, lengths, held, price, kerf, trim):
    here = [one for length in lengths for one in stock(length, price=length * price)]
    here += [one for length, count in held for one in stock(length, in_hand=count)]
    plan = least_plan(wanted(*pieces), here, saw(kerf, trim))
    quick = Counter(cut.part for bar in plan.bars for cut in bar.cuts)
    assert quick == Counter({f"P{k}": quantity for k, (_, quantity) in enumerate(pieces)})
    assert plan.unplaced == ()
    for length, count in held:
        assert sum(bar.in_hand and bar.stock_mm == length for bar in plan.bars) <= count
    for bar in plan.bars:
        ends = saw(kerf, trim).start_mm - kerf
        for cut in bar.cuts:
            assert cut.at_mm >= ends + kerf - 1e-6
            ends = cut.at_mm + cut.length_mm
        assert ends <= bar.stock_mm + 1e-5
        assert bar.offcut_mm == pytest.approx(max(0.0, bar.stock_mm - ends - kerf), abs=1e-5)
    assert plan.least_bars <= len(plan.bought)
    if price:
        assert plan.cost is None or plan.cost == pytest.approx(
            sum(bar.stock_mm * price for bar in plan.bars if not bar.in_hand)
        )


def test_offcuts_in_hand_are_used_before_anything_is_bought():
    here = [*stock(1000), *stock(600, in_hand=2)]
    plan = least_plan(wanted((550, 2), (900, 1)), here, saw())
    assert [(bar.stock_mm, bar.in_hand) for bar in plan.bars] == [(600, True), (600, True), (1000, False)]
    assert plan.proven_least
    assert plan.words.startswith("1 stock length to buy, 2 in hand: proven fewest.")


def test_what_lies_in_the_shop_alone_may_not_suffice():
    plan = least_plan(wanted((550, 3)), stock(600, in_hand=2), saw())
    (out,) = plan.unplaced
    assert (out.part, out.quantity, out.why) == ("P0", 1, "not enough in hand")
    assert len(plan.bars) == 2
    assert not plan.proven_least


def test_prices_decide_where_they_are_known():
    cheap_short = [*stock(1000, price=10.0), *stock(2000, price=25.0)]
    plan = least_plan(wanted((900, 2)), cheap_short, saw())
    assert ([bar.stock_mm for bar in plan.bars], plan.cost) == ([1000, 1000], 20.0)
    assert plan.words.startswith("2 stock lengths to buy for 20.00: proven least.")
    cheap_long = [*stock(1000, price=10.0), *stock(2000, price=15.0)]
    assert [bar.stock_mm for bar in least_plan(wanted((900, 2)), cheap_long, saw()).bars] == [2000]


def test_of_plans_with_the_fewest_stock_lengths_the_shortest_is_taken():
    plan = least_plan(wanted((900, 3)), stock(1000, 2000), saw())
    assert [bar.stock_mm for bar in plan.bars] == [2000, 1000]


def test_what_is_left_over_is_gathered_in_one_stock_length():
    plan = least_plan(wanted((400, 2), (300, 2), (200, 1)), stock(1000), saw())
    assert sorted(bar.offcut_mm for bar in plan.bars) == [0, 400]
    assert "1 offcut of 300 mm or more, 400 mm in all; 0.0 % of the length is lost." in plan.words


@given(
    pieces=st.lists(st.tuples(st.floats(1, 1500), st.integers(1, 6)), max_size=12),
    stock=st.lists(st.integers(100, 1400), max_size=3),
    kerf=st.floats(0, 10),
    trim=st.floats(0, 50),
)
def test_no_piece_is_lost_none_overlap_and_no_bar_is_longer_than_bought(pieces, stock, kerf, trim):
    parts = [part(f"P{k}", length, quantity) for k, (length, quantity) in enumerate(pieces)]
    plan = quick_plan(parts, design(*stock, kerf=kerf, trim=trim))
    placed = Counter(cut.part for bar in plan.bars for cut in bar.cuts)
    missing = {one.part for one in plan.unplaced}
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
