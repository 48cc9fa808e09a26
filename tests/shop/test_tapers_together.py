"""Rails laid taper to taper: what the saw leaves of both, and plans that save by it."""

from collections import Counter
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import Polygon, affinity
from shop.test_cutting_plan import STEEL, fewest_by_trying, saw, stock
from tries import tries

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.export.json_shop import plan_report
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import samples_folder
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import with_value
from rampdraft.shop.cutting.pairs import beside_mm
from rampdraft.shop.cutting.plan import least_plan, quick_plan
from rampdraft.shop.cutting.plan_words import together
from rampdraft.shop.cutting.results import Wanted
from rampdraft.shop.parts import Part
from rampdraft.shop.tables import plan_table


def trailer(together: bool = True) -> Design:
    design = load_design(samples_folder() / "library-trailer.toml")
    return with_value(design, "workshop.tapers_together", together)


def tapered(design: Design) -> Part:
    """Return the outer rails of which there are several alike."""
    found = [one for one in evaluate(design).parts if any(end.kind == "taper" for end in one.piece.ends)]
    return max(found, key=lambda one: one.quantity)


@pytest.mark.parametrize("kerf", [0.0, 2.4, 6.0])
@pytest.mark.parametrize(("length", "left"), [(568.0, 5.0), (120.0, 12.0), (300.0, 26.0)])
def test_the_saw_takes_its_kerf_and_no_more_of_a_pair(kerf: float, length: float, left: float) -> None:
    """By shapely: a rail and the same turned by half a turn, toe past toe, are a saw cut from each other."""
    design = trailer()
    for path, value in (
        ("toe.length_mm", length),
        ("toe.thickness_mm", left),
        ("workshop.kerf_mm", kerf),
    ):
        design = with_value(design, path, value)
    piece = tapered(design).piece
    beside = beside_mm(piece, design.workshop)
    assert 0 < beside < length
    one = Polygon(piece.profile.outline.points(0.05))
    low, _, high, _ = one.bounds
    other = affinity.rotate(one, 180, origin=(high, (one.bounds[1] + one.bounds[3]) / 2))
    at = affinity.translate(other, -beside)
    assert at.bounds[0] == pytest.approx(high - beside)
    assert one.distance(at) == pytest.approx(kerf, abs=2e-3)
    assert one.union(at).bounds[2] - low == pytest.approx(2 * piece.length_mm - beside)
    nearer = affinity.translate(other, -beside - 1.0)
    assert one.distance(nearer) < kerf or one.intersection(nearer).area > 0


def test_tapers_too_blunt_lie_end_to_end() -> None:
    design = with_value(trailer(), "toe.thickness_mm", 29.0)
    piece = tapered(design).piece
    assert beside_mm(piece, design.workshop) == 0.0, "29 mm twice and a kerf are more than 60"
    assert beside_mm(replace(piece, ends=(piece.ends[0], piece.ends[0])), design.workshop) == 0.0


@given(
    tapering=st.tuples(st.integers(300, 900), st.integers(0, 5), st.integers(1, 290)),
    others=st.lists(st.integers(120, 1000), max_size=3),
    kerf=st.integers(0, 5),
)
def test_the_plan_is_as_good_as_trying_every_number_of_pairs(
    tapering: tuple[int, int, int], others: list[int], kerf: int
) -> None:
    length, quantity, beside = tapering
    here = [
        Wanted(part=f"P{k}", section="flat 30x6", material=STEEL, length_mm=one, quantity=1)
        for k, one in enumerate(others)
    ]
    here.append(
        Wanted(
            part="R", section="flat 30x6", material=STEEL, length_mm=length, quantity=quantity,
            beside_mm=beside,
        )
    )  # fmt: skip
    plan = least_plan(here, stock(1000), saw(kerf))
    pair = 2 * length - beside
    tried = [
        fewest_by_trying([*others, *[length] * (quantity - 2 * pairs), *[pair] * pairs], 1000, kerf)
        for pairs in range(quantity // 2 + 1)
        if pair <= 1000 or not pairs
    ]
    assert len(plan.bars) == min(tried)
    assert plan.least_bars <= len(plan.bars)
    assert plan.proven_least == (plan.least_bars == len(plan.bars))
    cuts = Counter(cut.part for bar in plan.bars for cut in bar.cuts)
    assert cuts == Counter({f"P{k}": 1 for k in range(len(others))} | ({"R": quantity} if quantity else {}))
    for bar in plan.bars:
        ends = -float(kerf)
        for cut in bar.cuts:
            assert cut.at_mm == pytest.approx(ends + (-cut.beside_mm if cut.beside_mm else kerf))
            assert cut.beside_mm in ((0.0, beside) if cut.part == "R" else (0.0,))
            ends = cut.at_mm + cut.length_mm
        assert ends <= 1000 + 1e-6


def test_no_stock_length_is_longer_than_a_pair_has_room_for() -> None:
    rail = Wanted(part="R", section="flat 30x6", material=STEEL, length_mm=600.0, quantity=2, beside_mm=150.0)
    assert len(least_plan([rail], stock(1049), saw()).bars) == 2
    assert len(least_plan([rail], stock(1050), saw()).bars) == 1


@pytest.mark.parametrize("number", range(tries(2)))
def test_a_pair_is_told_wherever_the_plan_is(number: int) -> None:
    design = trailer()
    found = evaluate(with_value(design, "workshop.kerf_mm", 2.0 + number))
    plan = found.least_plan
    beside = [cut for bar in plan.bars for cut in bar.cuts if cut.beside_mm]
    assert beside
    assert all(
        cut.beside_mm == pytest.approx(beside_mm(tapered(found.design).piece, found.design.workshop))
        for cut in beside
    )
    alike = [cut for bar in plan.bars for cut in bar.cuts if cut.part == beside[0].part]
    assert "taper to taper" in together(alike)
    assert "taper to taper" not in together(alike[:1])
    rows = plan_table(plan, found.parts).rows
    told = [row for row in rows if "taper to taper with the one before" in str(row[-1])]
    assert len(told) == len(beside)
    said = [cut["beside_mm"] for bar in plan_report(plan)["bars"] for cut in bar["cuts"]]  # pyright: ignore
    assert sum(one > 0 for one in said) == len(beside)
    apart = evaluate(trailer(together=False))
    assert not any(cut.beside_mm for bar in apart.least_plan.bars for cut in bar.cuts)
    bought = [sum(bar.stock_mm for bar in one.least_plan.bought) for one in (found, apart)]
    assert bought[0] <= bought[1]
    assert len(quick_plan(found.parts, found.design).bars) <= len(quick_plan(apart.parts, apart.design).bars)
