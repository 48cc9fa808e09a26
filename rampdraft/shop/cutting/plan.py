"""The cutting plan: a quick one while dimensions change, and one that is proven least for the saw."""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import Final

from rampdraft.model.design import Design
from rampdraft.progress import Progress, nobody
from rampdraft.rounding import steps_over
from rampdraft.shop.cutting.fewest import Packing, StockKind, least_cost_packing
from rampdraft.shop.cutting.pairs import HowMany, all_or_none, any_number, beside_mm, paired, singles
from rampdraft.shop.cutting.patterns import best_fillings
from rampdraft.shop.cutting.plan_words import bought, left_over, missing
from rampdraft.shop.cutting.results import Bar, Cut, CuttingPlan, Length, Saw, Unplaced, Wanted
from rampdraft.shop.parts import BOUGHT, Part
from rampdraft.units import MM
from rampdraft.words.figures import fixed, mm
from rampdraft.words.say import called, say

_FIT_MM: Final = 1e-6
"""Rounding of the computer, so that a piece as long as the room left for it fits."""
_PER_MM: Final = 1_000_000
"""Lengths are counted in nanometres: whole numbers, so that nothing hangs on rounding."""
_WITHOUT: Final = 1e4
"""Cost of a stock length that is not there: no plan takes one that can do without."""

_CENT: Final = 0.01
"""Prices are told to a hundredth of the money."""

_Taken = tuple[Length, list[Wanted]]
"""A stock length and its pieces, each a single one."""


def quick_plan(parts: Sequence[Part], design: Design) -> CuttingPlan:
    """Return a plan for all parts, quick enough for every edit, by first-fit decreasing: the longest piece
    first, each into the first stock length that still has room for it. What lies in the shop is used first.
    Where a section comes in several stock lengths the longest is filled, then each is bought as short as its
    pieces allow. `least_bars` is what no plan can beat.

    Source of the method: D. S. Johnson, A. Demers, J. D. Ullman, M. R. Garey, R. L. Graham, Worst-case
    performance bounds for simple one-dimensional packing algorithms, SIAM Journal on Computing 3 (1974),
    299-325.
    """
    return _plan(wanted_of(parts, design), lengths_of(design), saw_of(design), _first_fit, all_or_none)


def least_plan(
    wanted: Sequence[Wanted], lengths: Sequence[Length], saw: Saw, progress: Progress = nobody
) -> CuttingPlan:
    """Return the plan that buys the fewest stock lengths, among such the shortest that is found; where all
    of a section's stock lengths have a price, the one that costs least. It says whether that is proven.
    """

    def least(pieces: Sequence[Wanted], stock: Sequence[Length], saw: Saw) -> _Filled:
        return _least(pieces, stock, saw, progress)

    return _plan(wanted, lengths, saw, least, any_number)


def least_plan_of(parts: Sequence[Part], design: Design, progress: Progress = nobody) -> CuttingPlan:
    """Return that plan for the parts of a design."""
    return least_plan(wanted_of(parts, design), lengths_of(design), saw_of(design), progress)


def wanted_of(parts: Iterable[Part], design: Design) -> tuple[Wanted, ...]:
    """Return what is to be sawn of the parts, with what those save that are laid taper to taper."""
    return tuple(
        Wanted(
            part=part.number,
            section=part.piece.section.text,
            material=part.piece.material,
            length_mm=part.piece.length_mm,
            quantity=part.quantity,
            beside_mm=beside_mm(part.piece, design.workshop) if design.workshop.tapers_together else 0.0,
        )
        for part in parts
        if part.role not in BOUGHT
    )


def lengths_of(design: Design) -> tuple[Length, ...]:
    """Return the stock lengths that a design has."""
    return tuple(
        Length(
            section=row.section.text,
            material=row.material,
            length_mm=row.length_mm,
            in_hand=row.in_hand,
            price=row.price,
        )
        for row in design.stock
    )


def saw_of(design: Design) -> Saw:
    """Return how a design's workshop saws."""
    shop = design.workshop
    return Saw(kerf_mm=shop.kerf_mm, trim_mm=shop.end_trim_mm, least_offcut_mm=shop.least_offcut_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Filled:
    """The plan of one section."""

    taken: Sequence[_Taken]
    least: int
    """So many stock lengths must be bought."""
    proven: bool
    least_cost: float = 0.0
    """So much must be paid, where all prices are known."""


def _best(found: Sequence[_Filled]) -> _Filled:
    """Return the best of some plans, proven where none of them could be better."""
    best = min(found, key=lambda one: (*_priced(one.taken), *_bill(one.taken)))
    least, cost = min(one.least for one in found), min(one.least_cost for one in found)
    paid, bought = _priced(best.taken)[1], _bill(best.taken)[1]
    proven = paid <= cost + _CENT / 2 if cost > 0 else bought == least
    return replace(best, least=least, least_cost=cost, proven=proven)


def _priced(taken: Sequence[_Taken]) -> tuple[int, float]:
    """Return how many pieces find no stock length, and what is paid, where all has a price."""
    bought = [one.price for one, _ in taken if one is not _NONE and not one.in_hand]
    lacks = sum(len(list(singles(cut))) for one, cut in taken if one is _NONE)
    return lacks, math.fsum(bought) if all(bought) else 0.0


_Fill = Callable[[Sequence[Wanted], Sequence[Length], Saw], _Filled]
"""Returns the plan for single pieces that all fit."""


def _plan(
    wanted: Sequence[Wanted], lengths: Sequence[Length], saw: Saw, fill: _Fill, pairs: HowMany
) -> CuttingPlan:
    """Return the plan for everything, a section and material at a time; of those with so many `pairs` laid
    taper to taper the best.
    """
    bars: list[Bar] = []
    unplaced: list[Unplaced] = []
    least, proven, least_cost = 0, True, 0.0
    for (section, material), alike in _alike(wanted).items():
        stock = [one for one in lengths if (one.section, one.material) == (section, material)]
        fitting, out = _that_fit(alike, stock, saw)
        unplaced += out
        if not fitting:
            continue
        room = max(one.length_mm for one in stock) - saw.start_mm + _FIT_MM
        found = _best([fill(some, stock, saw) for some in paired(fitting, room, pairs)])
        unplaced += _not_in_hand([(one, cut) for one, cut in found.taken if one is _NONE])
        least, proven, least_cost = (
            least + found.least,
            proven and found.proven,
            least_cost + found.least_cost,
        )
        bars += sorted(
            (_bar(one, cut, saw) for one, cut in found.taken if one is not _NONE),
            key=lambda bar: (
                not bar.in_hand,
                -bar.stock_mm,
                bar.offcut_mm,
                [-cut.length_mm for cut in bar.cuts],
            ),
        )
    cost = _cost(bars, lengths)
    return CuttingPlan(
        bars=tuple(bars),
        unplaced=tuple(unplaced),
        least_bars=least,
        proven_least=proven and not unplaced,
        cost=cost,
        saw=saw,
        words=" ".join(
            [bought(bars, least, proven, cost, least_cost), *left_over(bars, saw), *missing(unplaced)]
        ),
    )


_NONE: Final = Length(section="", material="", length_mm=math.inf)
"""Stands for a stock length that is not there."""


def _alike(wanted: Iterable[Wanted]) -> dict[tuple[str, str], list[Wanted]]:
    found: dict[tuple[str, str], list[Wanted]] = {}
    for one in wanted:
        found.setdefault((one.section, one.material), []).append(one)
    return found


def _that_fit(
    alike: Sequence[Wanted], stock: Sequence[Length], saw: Saw
) -> tuple[list[Wanted], list[Unplaced]]:
    """Return single pieces, the longest first, and the parts that no stock length holds."""
    if not stock:
        section, material = called(alike[0].section), called(alike[0].material)
        words = (
            say("no stock length is given for {section} in {material}", section=section, material=material)
            if material
            else say("no stock length is given for {section}", section=section)
        )
        return [], [
            Unplaced(part=one.part, quantity=one.quantity, why="no stock", words=words) for one in alike
        ]
    room = max(one.length_mm for one in stock) - saw.start_mm
    fitting = [one for one in alike if one.length_mm <= room + _FIT_MM for _ in range(one.quantity)]
    return sorted(fitting, key=lambda one: -one.length_mm), [
        Unplaced(
            part=one.part,
            quantity=one.quantity,
            why="too long",
            words=say(
                "{length} is longer than the {room} that the longest stock length leaves",
                length=fixed(one.length_mm, 1, "mm"),
                room=mm(max(room, 0.0)),
            ),
        )
        for one in alike
        if one.length_mm > room + _FIT_MM
    ]


def _not_in_hand(taken: Sequence[_Taken]) -> list[Unplaced]:
    pieces = sorted((one for _, cut in taken for one in singles(cut)), key=lambda one: one.part)
    return [
        Unplaced(
            part=part,
            quantity=len(list(same)),
            why="not enough in hand",
            words=say("what lies in the shop does not hold it, and no stock length can be bought"),
        )
        for part, same in groupby(one.part for one in pieces)
    ]


def _bar(stock: Length, pieces: Sequence[Wanted], saw: Saw) -> Bar:
    """Return a stock length and what is cut from it; without room for the last saw cut nothing is left."""
    at, cuts = saw.start_mm, list[Cut]()
    for piece in sorted(pieces, key=lambda one: (-one.length_mm, one.part)):
        start, beside = at, 0.0
        for one in singles([piece]):
            cuts.append(Cut(part=one.part, length_mm=one.length_mm, at_mm=start - beside, beside_mm=beside))
            start, beside = start - beside + one.length_mm, one.beside_mm
        at += piece.length_mm + saw.kerf_mm
    return Bar(
        section=stock.section,
        material=stock.material,
        stock_mm=stock.length_mm,
        in_hand=stock.in_hand > 0,
        cuts=tuple(cuts),
        offcut_mm=max(0.0, stock.length_mm - at),
    )


def _used(pieces: Sequence[Wanted], saw: Saw) -> MM:
    """Return the length of a stock length that the pieces take, with the saw cuts between them."""
    return saw.start_mm + math.fsum(one.length_mm for one in pieces) + saw.kerf_mm * (len(pieces) - 1)


def _shortest(pieces: Sequence[Wanted], stock: Iterable[Length], saw: Saw) -> Length:
    used = _used(pieces, saw)
    return min(
        (one for one in stock if not one.in_hand and used <= one.length_mm + _FIT_MM),
        key=lambda one: one.length_mm,
        default=_NONE,
    )


def _first_fit(pieces: Sequence[Wanted], stock: Sequence[Length], saw: Saw) -> _Filled:
    free = sorted((one for one in stock for _ in range(one.in_hand)), key=lambda one: one.length_mm)
    longest = max((one for one in stock if not one.in_hand), key=lambda one: one.length_mm, default=_NONE)
    taken: list[_Taken] = []
    for piece in pieces:
        open_bar = next(
            (cut for one, cut in taken if _used([*cut, piece], saw) <= one.length_mm + _FIT_MM), None
        )
        if open_bar is not None:
            open_bar.append(piece)
            continue
        held = next((one for one in free if _used([piece], saw) <= one.length_mm + _FIT_MM), None)
        if held is not None:
            free.remove(held)
        taken.append((held or longest, [piece]))
    taken = [(one if one.in_hand else _shortest(cut, stock, saw), cut) for one, cut in taken]
    bought = sum(not one.in_hand for one, _ in taken)
    least = _least_bought(pieces, stock, longest, saw)
    return _Filled(taken=taken, least=least, proven=bought == least)


def _least_bought(pieces: Sequence[Wanted], stock: Iterable[Length], longest: Length, saw: Saw) -> int:
    """Return how many stock lengths no plan can do without: all lengths, each with its cut, less what lies
    in the shop, over the room of the longest, which may be overfilled by rounding.
    """
    needed = math.fsum(one.length_mm + saw.kerf_mm for one in pieces)
    needed -= math.fsum(one.in_hand * _room(one, saw) for one in stock)
    return steps_over(needed, _room(longest, saw) + _FIT_MM) if needed > 0 else 0


def _room(stock: Length, saw: Saw) -> MM:
    """Return what pieces with a saw cut each may take together."""
    return max(0.0, stock.length_mm - saw.start_mm + saw.kerf_mm)


def _least(pieces: Sequence[Wanted], stock: Sequence[Length], saw: Saw, progress: Progress) -> _Filled:
    bought = [one for one in stock if not one.in_hand]
    quick = _first_fit(pieces, stock, saw)
    best, least, proven, least_cost = quick.taken, quick.least, quick.proven, 0.0
    programme = _Programme(pieces, stock if bought else [*stock, _NONE], saw, progress)
    if bought and all(one.price > 0 for one in bought):
        best, least_cost = programme.of_least_price()
        proven = math.fsum(one.price for one, _ in best if not one.in_hand) <= least_cost + _CENT / 2
    else:
        if not proven:
            found, fewest = programme.of_fewest()
            best, least = min((best, found), key=_bill), max(least, fewest)
            proven = _bill(best)[1] == least
        if len(stock) > 1:
            best = min((best, programme.of_least_length(len(best))), key=_bill)
    return _Filled(taken=_gathered(best, saw), least=least, proven=proven, least_cost=least_cost)


def _bill(taken: Sequence[_Taken]) -> tuple[int, int, MM]:
    """Return what makes one plan better than another: pieces that find no stock length, stock lengths bought,
    and how long all together are, bought or not.
    """
    there = [one for one, _ in taken if one is not _NONE]
    return (
        sum(len(list(singles(cut))) for one, cut in taken if one is _NONE),
        sum(not one.in_hand for one in there),
        math.fsum(one.length_mm for one in there),
    )


class _Programme:
    """The pieces and stock lengths of one section, as the integer programme sees them."""

    def __init__(
        self, pieces: Sequence[Wanted], stock: Sequence[Length], saw: Saw, progress: Progress
    ) -> None:
        self._stock, self._progress = stock, progress
        self._by_size: dict[int, list[Wanted]] = {}
        for piece in pieces:
            self._by_size.setdefault(round((piece.length_mm + saw.kerf_mm) * _PER_MM), []).append(piece)
        longest = max(_room(one, saw) for one in stock if one is not _NONE)
        rooms = [longest if one is _NONE else _room(one, saw) for one in stock]
        self._rooms = [math.floor((room + _FIT_MM) * _PER_MM) for room in rooms]

    def of_least_price(self) -> tuple[list[_Taken], float]:
        """Return the plan that costs least, and what no plan can cost less than."""
        cents = [round(one.price / _CENT) for one in self._stock if not one.in_hand]
        costs = [0.0 if one.in_hand else one.price for one in self._stock]
        packing = self._packed(costs, math.gcd(*cents) * _CENT)
        return self._cut(packing), packing.least_cost

    def of_fewest(self) -> tuple[list[_Taken], int]:
        """Return the plan that buys fewest stock lengths, and what no plan can beat."""
        packing = self._packed([0.0 if one.in_hand else 1.0 for one in self._stock], 1.0)
        return self._cut(packing), round(packing.least_cost) if _NONE not in self._stock else 0

    def of_least_length(self, count: int) -> list[_Taken]:
        """Return a plan of few stock lengths, among such a short one; some plan has `count` of them."""
        longest = max(one.length_mm for one in self._stock if one is not _NONE)
        small = 0.25 / (count + 1) / longest
        costs = [
            (0.0 if one.in_hand else 1.0) + (0.0 if one is _NONE else small * one.length_mm)
            for one in self._stock
        ]
        return self._cut(self._packed(costs, 0.0))

    def _packed(self, costs: Sequence[float], grain: float) -> Packing:
        kinds = [
            StockKind(
                room=room,
                cost=_WITHOUT if one is _NONE else cost,
                at_most=one.in_hand or None,
            )
            for one, room, cost in zip(self._stock, self._rooms, costs, strict=True)
        ]
        counts = [len(alike) for alike in self._by_size.values()]
        return least_cost_packing(list(self._by_size), counts, kinds, grain, self._progress)

    def _cut(self, packing: Packing) -> list[_Taken]:
        left = [list(alike) for alike in self._by_size.values()]
        return [
            (
                self._stock[bar.stock],
                [left[kind].pop() for kind, count in enumerate(bar.counts) for _ in range(count)],
            )
            for bar in packing.bars
        ]


def _gathered(taken: Sequence[_Taken], saw: Saw) -> list[_Taken]:
    """Return the plan with what is left over gathered in the emptiest stock length, as far as another can be
    filled up from it: one long offcut is of more use than many short ones.
    """
    bars = [(one, list(cut)) for one, cut in taken]
    if not bars:
        return bars
    loosest = max(range(len(bars)), key=lambda k: bars[k][0].length_mm - _used(bars[k][1], saw))
    for index, (stock, cut) in enumerate(bars):
        if index == loosest or stock is _NONE or bars[loosest][0] is _NONE:
            continue
        both = cut + bars[loosest][1]
        sizes = [round((one.length_mm + saw.kerf_mm) * _PER_MM) for one in both]
        room = math.floor((_room(stock, saw) + _FIT_MM) * _PER_MM)
        fullest = best_fillings(sizes, [1] * len(both), [float(size) for size in sizes], [room], [0.0])[0]
        if fullest is None:
            continue
        kept = [one for one, count in zip(both, fullest.counts, strict=True) if count]
        rest = [one for one, count in zip(both, fullest.counts, strict=True) if not count]
        if rest and _used(kept, saw) > _used(cut, saw) + _FIT_MM:
            bars[index], bars[loosest] = (stock, kept), (bars[loosest][0], rest)
    return bars


def _cost(bars: Iterable[Bar], lengths: Iterable[Length]) -> float | None:
    """Return what the bought stock lengths cost, None where a price is missing or nothing is bought."""
    prices = {(one.section, one.material, one.length_mm): one.price for one in lengths if not one.in_hand}
    paid = [prices[bar.section, bar.material, bar.stock_mm] for bar in bars if not bar.in_hand]
    return math.fsum(paid) if paid and all(paid) else None
