"""A cutting plan in words: what is to be bought, how that stands to what no plan can beat, what is left."""

import math
from collections.abc import Iterable, Sequence

from rampdraft.shop.cutting.results import Bar, Cut, Saw, Unplaced
from rampdraft.words.figures import fixed, mm
from rampdraft.words.say import counted, say


def bought(bars: Sequence[Bar], least: int, proven: bool, cost: float | None, least_cost: float) -> str:
    """Return what is to be bought, and how that stands to what no plan can beat, in words."""
    if not bars:
        return say("Nothing to cut from stock.")
    count, held = sum(not bar.in_hand for bar in bars), sum(bar.in_hand for bar in bars)
    said = counted(count, "{count} stock length to buy", "{count} stock lengths to buy")
    said += say(", {held} in hand", held=held) if held else ""
    if cost is not None and least_cost > 0:
        said = say("{said} for {cost}", said=said, cost=fixed(cost, 2))
        if proven:
            return say("{said}: proven least.", said=said)
        return say("{said}: no plan costs less than {least}.", said=said, least=fixed(least_cost, 2))
    if proven:
        return say("{said}: proven fewest.", said=said)
    return say("{said}, not proven fewest: no plan can do with fewer than {least}.", said=said, least=least)


def missing(unplaced: Sequence[Unplaced]) -> list[str]:
    """Return how many parts have no place, in words."""
    count = len({one.part for one in unplaced})
    return (
        [counted(count, "{count} part is not placed.", "{count} parts are not placed.")] if unplaced else []
    )


def left_over(bars: Sequence[Bar], saw: Saw) -> list[str]:
    """Return what is of use another time, and what is lost, in words."""
    if not bars:
        return []
    useful = [bar.offcut_mm for bar in bars if 0 < saw.least_offcut_mm <= bar.offcut_mm]
    whole = math.fsum(bar.stock_mm for bar in bars)
    cut = math.fsum(one.length_mm - one.beside_mm for bar in bars for one in bar.cuts)
    lost = fixed(100.0 * (whole - cut - math.fsum(useful)) / whole, 1, "%")
    if not useful:
        return [say("{lost} of the length is lost.", lost=lost)]
    return [
        say(
            "{offcuts} of {least} or more, {whole} in all; {lost} of the length is lost.",
            offcuts=counted(len(useful), "{count} offcut", "{count} offcuts"),
            least=mm(saw.least_offcut_mm),
            whole=fixed(math.fsum(useful), 0, "mm"),
            lost=lost,
        )
    ]


def together(cuts: Iterable[Cut]) -> str:
    """Return how many of some cuts lie taper to taper, in words; empty where none do."""
    beside = [cut.beside_mm for cut in cuts if cut.beside_mm]
    if not beside:
        return ""
    pairs = counted(len(beside), "{count} pair", "{count} pairs")
    return say(
        " ({pairs} taper to taper, {beside} beside each other)",
        pairs=pairs,
        beside=fixed(beside[0], 1, "mm"),
    )
