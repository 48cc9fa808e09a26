"""What is to be bought, what it costs by the user's own prices, and which prices are missing."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.model.design import Design
from rampdraft.shop.bought import Bought
from rampdraft.shop.cutting.results import CuttingPlan
from rampdraft.shop.parts import BOUGHT, Part, part_size
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import called, say

NAMED: Final = 5
"""So many things without a price are named."""

PurchaseKind = Literal["stock", "part", "fixing"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Purchase:
    """A row of what is to be bought."""

    kind: PurchaseKind
    number: str
    """Of the part or of what is bought; that of its part of a piece that no stock length is given for, else
    empty.
    """
    name: str
    material: str
    standard: str
    length_mm: MM
    """Of a stock length; 0 of others."""
    quantity: float
    unit: Literal["off", "m"]
    each: float | None
    """Price of one, or of a metre; None where it is not known."""

    @property
    def cost(self) -> float | None:
        """Return what the row costs; None where its price is not known."""
        return None if self.each is None else self.each * self.quantity


@dataclass(frozen=True, slots=True, kw_only=True)
class Untold:
    """A price that is missing, or one for what is not bought."""

    row: int
    """Of the purchase list, or of the prices of the design; counted from 1."""
    column: Literal["price", "item"]
    item: str
    why: Literal["no price", "not bought", "twice"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Costs:
    """What is to be bought, and what all of it costs."""

    rows: tuple[Purchase, ...]
    untold: tuple[Untold, ...]
    known: float
    """Of all rows whose price is known, in the money of the prices."""

    @property
    def total(self) -> float | None:
        """Return what everything costs; None where a price is missing."""
        return None if any(row.each is None for row in self.rows) else self.known

    @property
    def told(self) -> tuple[str, ...]:
        """Return in sentences what is bought costs, what has no price, and which prices are for nothing;
        nothing where nobody has given a price.
        """
        unpriced = [one.item for one in self.untold if one.why == "no price"]
        idle = tuple(
            say(
                "The price of {item} is for nothing that is bought."
                if one.why == "not bought"
                else "The price of {item} stands there twice: the last counts.",
                item=repr(one.item),
            )
            for one in self.untold
            if one.why != "no price"
        )
        known = fixed(self.known, 2)
        if not unpriced:
            return (say("All that is bought costs {known}.", known=known), *idle)
        if len(unpriced) == len(self.rows):
            return idle
        names, more = ", ".join(map(called, unpriced[:NAMED])), len(unpriced) - NAMED
        if more > 0:
            names = say("{names} and {count} more", names=names, count=more)
        words = say("What has a price costs {known}; without one: {names}.", known=known, names=names)
        return (words, *idle)


def costs(design: Design, plan: CuttingPlan, parts: Sequence[Part], things: Sequence[Bought]) -> Costs:
    """Return the purchase list with its cost: the stock lengths that the cutting plan buys, the parts that
    are bought by the piece, and all fixings.
    """
    prices = {price.item.strip(): price.each for price in design.prices if price.item.strip()}
    rows = (*_stock(design, plan), *_unplaced(plan, parts), *_parts(parts, prices), *_fixings(things, prices))
    missing = (
        Untold(row=number, column="price", item=row.number or row.name, why="no price")
        for number, row in enumerate(rows, start=1)
        if row.each is None
    )
    return Costs(
        rows=rows,
        untold=(*missing, *_idle(design, rows)),
        known=sum(row.cost for row in rows if row.cost is not None),
    )


def _stock(design: Design, plan: CuttingPlan) -> Iterator[Purchase]:
    """Yield the stock lengths to buy, and what no stock length was given for."""
    prices = {(row.section.text, row.material, row.length_mm): row.price for row in design.stock if row.price}
    counts: dict[tuple[str, str, MM], int] = {}
    for bar in plan.bought:
        key = bar.section, bar.material, bar.stock_mm
        counts[key] = counts.get(key, 0) + 1
    for (section, material, length), count in counts.items():
        yield Purchase(
            kind="stock",
            number="",
            name=section,
            material=material,
            standard="",
            length_mm=length,
            quantity=count,
            unit="off",
            each=prices.get((section, material, length)),
        )


def _unplaced(plan: CuttingPlan, parts: Sequence[Part]) -> Iterator[Purchase]:
    """Yield the pieces that no stock length of the design holds, as long as they are."""
    known = {part.number: part for part in parts}
    for one in plan.unplaced:
        piece = known[one.part].piece
        yield Purchase(
            kind="stock",
            number=one.part,
            name=piece.section.text,
            material=piece.material,
            standard="",
            length_mm=piece.length_mm,
            quantity=one.quantity,
            unit="off",
            each=None,
        )


def _parts(parts: Sequence[Part], prices: Mapping[str, float]) -> Iterator[Purchase]:
    for part in parts:
        if part.role in BOUGHT:
            yield Purchase(
                kind="part",
                number=part.number,
                name=f"{part.words}, {part_size(part)}",
                material=part.piece.material,
                standard="",
                length_mm=0.0,
                quantity=part.quantity,
                unit="off",
                each=prices.get(part.number),
            )


def _fixings(things: Sequence[Bought], prices: Mapping[str, float]) -> Iterator[Purchase]:
    for thing in things:
        yield Purchase(
            kind="fixing",
            number=thing.number,
            name=thing.name,
            material="",
            standard=thing.standard,
            length_mm=0.0,
            quantity=thing.quantity,
            unit=thing.unit,
            each=prices.get(thing.number),
        )


def _idle(design: Design, rows: Sequence[Purchase]) -> Iterator[Untold]:
    """Yield the prices of the design that nothing is bought for, or that stand there twice."""
    known, seen = {row.number for row in rows if row.number}, set[str]()
    for number, price in enumerate(design.prices, start=1):
        item = price.item.strip()
        if item not in known:
            yield Untold(row=number, column="item", item=price.item, why="not bought")
        elif item in seen:
            yield Untold(row=number, column="item", item=price.item, why="twice")
        seen.add(item)
