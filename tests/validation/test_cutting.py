"""Both cutting plans against a published cutting-stock instance.

The instance and its least number of stock lengths: Wikipedia, "Cutting stock problem" (master rolls of 5600
mm, 13 widths, 219 pieces, least 73). What first-fit decreasing makes of it, 82, is the figure of the
project's list of check values.
"""

from collections import Counter
from dataclasses import replace

from timber_ramp import timber_ramp

from rampdraft.geometry.members.leaves import SQUARE
from rampdraft.geometry.members.member import Piece
from rampdraft.geometry.outline import Profile, rectangle
from rampdraft.model.design import Stock, Workshop
from rampdraft.model.section import parse_section
from rampdraft.shop.cutting.plan import least_plan_of, quick_plan
from rampdraft.shop.parts import Part

WIDTHS = {
    1380: 22,
    1520: 25,
    1560: 12,
    1710: 14,
    1820: 18,
    1880: 18,
    1930: 20,
    2000: 10,
    2050: 12,
    2100: 14,
    2140: 16,
    2150: 18,
    2200: 20,
}
BAR = parse_section("flat 30x6")


def part(length, quantity):
    piece = Piece(
        role="rail",
        section=BAR,
        material="steel S235",
        length_mm=length,
        profile=Profile(rectangle(0, 0, length, 30)),
        ends=(SQUARE, SQUARE),
    )
    return Part(
        number=f"P{length}",
        code="piece",
        name="piece",
        role="rail",
        piece=piece,
        quantity=quantity,
        hand="",
        members=(),
        mass_kg=1,
    )


DESIGN = replace(
    timber_ramp(),
    stock=(Stock(section=BAR, material="steel S235", length_mm=5600),),
    workshop=Workshop(kerf_mm=0, end_trim_mm=0, slat_screw_mm=0),
)
PARTS = [part(length, quantity) for length, quantity in WIDTHS.items()]


def test_first_fit_decreasing_needs_82_where_73_is_least():
    plan = quick_plan(PARTS, DESIGN)
    assert len(plan.bars) == 82
    assert plan.least_bars <= 73
    assert plan.least_bars == 73  # 407 160 mm in all / 5600 mm = 72.7: here the simple bound is sharp
    assert not plan.proven_least


def test_the_least_plan_needs_73_and_says_that_it_is_proven():
    plan = least_plan_of(PARTS, DESIGN)
    assert len(plan.bars) == 73
    assert plan.proven_least
    cut = Counter(one.length_mm for bar in plan.bars for one in bar.cuts)
    assert cut == WIDTHS
    assert all(sum(one.length_mm for one in bar.cuts) <= 5600 for bar in plan.bars)
