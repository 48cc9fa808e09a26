"""The plan that costs least, with a bound that no plan can beat: an integer programme over ways to fill a
stock length, made by column generation.

Source: P. C. Gilmore, R. E. Gomory, A linear programming approach to the cutting-stock problem, Operations
Research 9 (1961), 849-859; the bound before the last column is found: A. A. Farley, A note on bounding a
class of linear programming problems, including cutting stock problems, Operations Research 38 (1990),
922-923.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final

import numpy as np

from rampdraft.progress import Progress, nobody
from rampdraft.shop.cutting.patterns import best_fillings
from rampdraft.units import Array

_GAIN: Final = 1e-9
"""A filling that lowers the cost by no more of a stock length is no gain."""
_ROUNDS: Final = 600
"""So many times new fillings are asked for, where a plan is to be proven."""
_ROUNDS_UNPROVEN: Final = 30
_BESIDE: Final = 8
"""So many more fillings are asked for at a time, of what the best one leaves."""
_NODES: Final = 400
"""So many branches of the integer programme are looked at: counted, not timed, so that every machine finds
the same plan.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockKind:
    """A stock length as the programme sees it."""

    room: int
    cost: float
    at_most: int | None = None
    """How many there are; None for as many as are wanted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Filled:
    """One stock length and how many pieces of each kind are cut from it."""

    stock: int
    counts: tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Packing:
    """A plan, and what no plan can beat."""

    bars: tuple[Filled, ...]
    cost: float
    least_cost: float


def least_cost_packing(
    sizes: Sequence[int],
    wanted: Sequence[int],
    stocks: Sequence[StockKind],
    grain: float,
    progress: Progress = nobody,
) -> Packing:
    """Return how to cut `wanted[k]` pieces of each size from the stocks at least cost. At least one stock is
    there without limit and holds every size; all sizes differ; all costs are whole multiples of `grain`, if
    that is not 0.

    It ends as soon as a plan is found that costs no more than the bound, raised to the next multiple.
    """
    columns = _Columns(sizes, wanted, stocks)
    quick = columns.filled_up(wanted)
    columns.add(quick)
    columns.add(columns.of_one_size())
    least, shares = _relaxed(columns, grain, columns.cost(quick), progress)
    best = quick
    if columns.cost(best) > least + _GAIN:
        best = min((best, columns.rounded(shares)), key=columns.cost)
    if columns.cost(best) > least + _GAIN:
        best = min((best, columns.whole(columns.cost(best))), key=columns.cost)
    return Packing(bars=tuple(best), cost=columns.cost(best), least_cost=least)


def _relaxed(columns: "_Columns", grain: float, known: float, progress: Progress) -> tuple[float, Array]:
    """Return the bound, as a multiple of the grain, and how often the linear programme takes each column; no
    further than to where a plan that costs `known` is proven.
    """
    rooms = [one.room for one in columns.stocks]
    proven, shares = 0.0, np.zeros(0)
    centre = np.zeros(len(columns.sizes))
    rounds = _ROUNDS if grain else _ROUNDS_UNPROVEN
    for turn in range(rounds):
        progress(turn / rounds, "fillings of a stock length")
        cost, shares, worths, limits = columns.relaxed()
        floors = [one.cost + limit + _GAIN for one, limit in zip(columns.stocks, limits, strict=True)]
        new: list[Filled] = []
        for tried in ((centre + worths) / 2, worths) if turn else (worths,):
            found = best_fillings(columns.sizes, columns.wanted, tried, rooms, floors)
            most = [one.worth if one else floor for one, floor in zip(found, floors, strict=True)]
            bound = _up(columns.bound(tried, most), grain)
            if bound > proven:
                proven, centre = bound, tried
            new = [
                Filled(stock=k, counts=one.counts)
                for k, one in enumerate(found)
                if one and np.dot(one.counts, worths) > floors[k]
            ]
            if new:
                new += columns.beside(new, worths, floors)
                break
        if proven >= min(known, _up(cost, grain)) - _GAIN or not columns.add(new):
            break
    return proven, shares


def _up(cost: float, grain: float) -> float:
    """Return the next multiple of the grain that is not below the cost but by rounding; the cost where there
    is no grain.
    """
    return cost if not grain else math.ceil(cost / grain - 1e-6) * grain


class _Columns:
    """The ways to fill a stock length that are known so far."""

    def __init__(self, sizes: Sequence[int], wanted: Sequence[int], stocks: Sequence[StockKind]) -> None:
        self.sizes, self.wanted, self.stocks = sizes, wanted, stocks
        self.all: dict[Filled, None] = {}

    def add(self, bars: Iterable[Filled]) -> bool:
        """Keep them; return whether one was new."""
        before = len(self.all)
        self.all.update(dict.fromkeys(bars))
        return len(self.all) > before

    def cost(self, bars: Iterable[Filled]) -> float:
        return math.fsum(self.stocks[bar.stock].cost for bar in bars)

    def of_one_size(self) -> list[Filled]:
        """Return each stock filled with one size alone, so that every plan can be made up."""
        return [
            Filled(
                stock=index,
                counts=tuple(
                    min(self.wanted[kind], stock.room // size) if other == kind else 0
                    for other in range(len(self.sizes))
                ),
            )
            for index, stock in enumerate(self.stocks)
            for kind, size in enumerate(self.sizes)
            if size <= stock.room
        ]

    def filled_up(self, wanted: Sequence[int]) -> list[Filled]:
        """Return a plan that fills stock length after stock length as full as can be, longest first."""
        left, free = list(wanted), [stock.at_most for stock in self.stocks]
        bars: list[Filled] = []
        while any(left):
            # A long piece counts for more than two of half its length: what fits badly goes first.
            worths = [float(size) ** 1.02 for size in self.sizes]
            found = best_fillings(
                self.sizes, left, worths, [one.room for one in self.stocks], [0.0] * len(free)
            )
            index, counts = max(
                ((k, one.counts) for k, one in enumerate(found) if one and free[k] != 0),
                key=lambda pair: self._yield(*pair),
            )
            bars.append(Filled(stock=index, counts=counts))
            left = [have - cut for have, cut in zip(left, counts, strict=True)]
            limit = free[index]
            free[index] = None if limit is None else limit - 1
        return bars

    def _yield(self, index: int, counts: Sequence[int]) -> tuple[float, float]:
        length = sum(n * size for n, size in zip(counts, self.sizes, strict=True))
        return (length / max(self.stocks[index].cost, 1e-9), length)

    def relaxed(self) -> tuple[float, Array, Array, list[float]]:
        """Return the least cost where parts of a stock length can be taken, how often each column is then
        taken, what a piece of each size is worth, and what one more stock length of each kind would save.
        """
        # Loaded when a plan is made: it takes longer to load than the window has time to open.
        from scipy.optimize import linprog  # pyright: ignore

        costs, upper, most = self._programme()
        found: Any = linprog(costs, A_ub=upper, b_ub=most, method="highs")
        marginals = np.asarray(found.ineqlin.marginals, dtype=float)
        kinds = len(self.sizes)
        limited = iter(marginals[kinds:])
        limits = [-float(next(limited)) if stock.at_most is not None else 0.0 for stock in self.stocks]
        worths = np.maximum(0.0, -marginals[:kinds])
        return float(found.fun), np.asarray(found.x, dtype=float), worths, limits

    def _programme(self) -> tuple[Array, Array, Array]:
        """Return costs, and the rows of what is wanted and of what there is, as `rows @ x <= most`."""
        bars = list(self.all)
        costs = np.array([self.stocks[bar.stock].cost for bar in bars])
        wanted = -np.array([bar.counts for bar in bars], dtype=float).T
        scarce = [k for k, stock in enumerate(self.stocks) if stock.at_most is not None]
        there = np.array([[float(bar.stock == k) for bar in bars] for k in scarce]).reshape(
            len(scarce), len(bars)
        )
        most = [-float(n) for n in self.wanted] + [float(self.stocks[k].at_most or 0) for k in scarce]
        return costs, np.vstack((wanted, there)), np.array(most)

    def beside(self, bars: Sequence[Filled], worths: Array, floors: Sequence[float]) -> list[Filled]:
        """Return further gainful fillings, each of pieces that those before it leave: a linear programme
        takes longer than they do.
        """
        left = np.array(self.wanted)
        found: list[Filled] = []
        taken = max(bars, key=lambda bar: np.dot(bar.counts, worths) - floors[bar.stock])
        for _ in range(_BESIDE):
            left -= np.array(taken.counts)
            room = [self.stocks[taken.stock].room]
            one = best_fillings(self.sizes, left.tolist(), worths, room, [floors[taken.stock]])[0]
            if one is None:
                break
            found.append(taken := Filled(stock=taken.stock, counts=one.counts))
        return found

    def bound(self, worths: Array, most: Sequence[float]) -> float:
        """Return a cost that no plan is below, for any worths of the pieces that are not negative and what no
        filling of each stock is worth more than: they are shrunk until no filling of a stock that can be
        bought is worth more than it costs; what the others are worth beyond their cost counts against it.
        """
        pairs = list(zip(most, self.stocks, strict=True))
        bought = [stock.cost / worth for worth, stock in pairs if stock.at_most is None]
        shrunk = min(1.0, *bought)
        saved = math.fsum(
            stock.at_most * max(0.0, shrunk * worth - stock.cost)
            for worth, stock in pairs
            if stock.at_most is not None
        )
        return shrunk * float(np.dot(self.wanted, worths)) - saved

    def rounded(self, shares: Array) -> list[Filled]:
        """Return a plan from whole numbers of what the linear programme takes, the rest filled up."""
        left, bars = list(self.wanted), list[Filled]()
        for bar, share in sorted(zip(self.all, shares, strict=False), key=lambda pair: -(pair[1] % 1.0)):
            for _ in range(int(share + 1e-6)):
                if all(cut <= have for cut, have in zip(bar.counts, left, strict=True)):
                    bars.append(bar)
                    left = [have - cut for have, cut in zip(left, bar.counts, strict=True)]
        used = [sum(bar.stock == k for bar in bars) for k in range(len(self.stocks))]
        rest = _Columns(
            self.sizes,
            left,
            [
                StockKind(
                    room=stock.room,
                    cost=stock.cost,
                    at_most=None if stock.at_most is None else stock.at_most - used[k],
                )
                for k, stock in enumerate(self.stocks)
            ],
        )
        return bars + rest.filled_up(left)

    def whole(self, cost: float) -> list[Filled]:
        """Return the cheapest plan of whole columns that is found; one that cuts more than is wanted is
        thinned. `cost` is that of a plan that is known.
        """
        from scipy.optimize import Bounds, LinearConstraint, milp  # pyright: ignore

        costs, rows, most = self._programme()
        found: Any = milp(
            costs,
            constraints=[
                LinearConstraint(rows, -np.inf, most),  # pyright: ignore[reportArgumentType]
                LinearConstraint(costs[None, :], -np.inf, cost),
            ],
            integrality=np.ones(len(costs)),
            bounds=Bounds(lb=0.0),
            options={"node_limit": _NODES},
        )
        if found.x is None:
            return self.filled_up(self.wanted)
        left, bars = list(self.wanted), list[Filled]()
        for bar, times in zip(self.all, np.rint(found.x).astype(int), strict=True):
            for _ in range(int(times)):
                counts = tuple(min(cut, have) for cut, have in zip(bar.counts, left, strict=True))
                if any(counts):
                    bars.append(Filled(stock=bar.stock, counts=counts))
                    left = [have - cut for have, cut in zip(left, counts, strict=True)]
        return bars
