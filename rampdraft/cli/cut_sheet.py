"""A cutting plan for any list of pieces: what `rampdraft cut` takes and prints."""

import math
from collections.abc import Sequence
from itertools import groupby
from typing import Final

from rampdraft.errors import FileError, Problem
from rampdraft.files.cut_list import LONGEST_MM, ListedPiece
from rampdraft.shop.cutting.plan import least_plan
from rampdraft.shop.cutting.results import Bar, CuttingPlan, Length, Saw, Wanted
from rampdraft.words.figures import exact, fixed, shortest
from rampdraft.words.say import say

_OPTIONS: Final = {"stock": "--stock", "in_hand": "--in-hand"}


def plan_of_list(pieces: Sequence[ListedPiece], stock: str, in_hand: str, saw: Saw) -> CuttingPlan:
    """Return the cutting plan of a list. Every section is bought in the lengths of `stock` (`6000,7500`, or
    with prices `6000=21.50,7500=26`) and lies in the shop in those of `in_hand` (`1250,2400x3`).

    Raises FileError for lengths that are none, prices that are not given for all, and pieces that no stock
    length holds.
    """
    lengths = _stock(stock, in_hand)
    groups = dict.fromkeys((piece.section, piece.material) for piece in pieces)
    plan = least_plan(
        [
            Wanted(
                part=piece.part,
                section=piece.section,
                material=piece.material,
                length_mm=piece.length_mm,
                quantity=piece.quantity,
            )
            for piece in pieces
        ],
        [
            Length(
                section=section,
                material=material,
                length_mm=one.length_mm,
                in_hand=one.in_hand,
                price=one.price,
            )
            for section, material in groups
            for one in lengths
        ],
        saw,
    )
    if plan.unplaced:
        problems = [Problem(key=one.part, value=f"{one.quantity}", rule=one.words) for one in plan.unplaced]
        raise FileError(say("Some pieces fit no stock length:"), problems)
    return plan


def _stock(stock: str, in_hand: str) -> list[Length]:
    """Return what is bought, then what lies in the shop."""
    bought, problems = _lengths(stock, "stock")
    held, wrong = _lengths(in_hand, "in_hand")
    problems += wrong
    if not bought and not problems:
        rule = say("must name at least one length, as 6000,7500")
        problems.append(Problem(key="--stock", value=stock, rule=rule))
    lacking = [shortest(one.length_mm) for one in bought if not one.price]
    if 0 < len(lacking) < len(bought):
        rule = say("has no price for {lacking}", lacking=", ".join(lacking))
        way_out = say("give a price to each length, or to none")
        problems.append(Problem(key="--stock", value=stock, rule=rule, way_out=way_out))
    if problems:
        raise FileError(say("The stock lengths cannot be taken:"), problems)
    return [*bought, *held]


def cut_sheet(plan: CuttingPlan) -> str:
    """Return everything that `rampdraft cut` prints: like ones together, with where each cut ends."""
    saw = plan.saw
    lines = [plan.words]
    lines.append(
        say("Saw cut {kerf}, end trim {trim}.", kerf=exact(saw.kerf_mm, "mm"), trim=exact(saw.trim_mm, "mm"))
    )
    if plan.cost is not None:
        lines.append(say("To pay: {cost}.", cost=fixed(plan.cost, 2)))
    for (section, material), bars in groupby(plan.bars, lambda bar: (bar.section, bar.material)):
        lines += ["", f"{section}{', ' if material else ''}{material}"]
        for bar, same in groupby(bars, lambda bar: bar):
            lines += _bar_lines(bar, len(list(same)))
    return "\n".join(lines) + "\n"


def _bar_lines(bar: Bar, count: int) -> list[str]:
    hand = say(" in hand") if bar.in_hand else ""
    lines = [
        say(
            "  {count} × {stock}{hand}, offcut {offcut}",
            count=count,
            stock=exact(bar.stock_mm, "mm"),
            hand=hand,
            offcut=fixed(bar.offcut_mm, 1, "mm"),
        )
    ]
    for (part, length), same in groupby(bar.cuts, lambda cut: (cut.part, cut.length_mm)):
        cuts = list(same)
        ends = ", ".join(fixed(cut.at_mm + cut.length_mm, 1) for cut in cuts)
        lines.append(
            say(
                "      {count} × {length}  {part}  ends at {ends}",
                count=len(cuts),
                length=exact(length, "mm"),
                part=part,
                ends=ends,
            )
        )
    return lines


def _lengths(text: str, option: str) -> tuple[list[Length], list[Problem]]:
    """Return the lengths of an option, and what is wrong with it."""
    found: list[Length] = []
    problems: list[Problem] = []
    for item in filter(None, (part.strip() for part in text.split(","))):
        length, mark, more = item.partition("=" if option == "stock" else "x")
        length_mm, number = _number(length), _number(more) if mark else 0.0
        if not 0 < length_mm <= LONGEST_MM:
            rule = say("must be a length of more than 0 and at most {longest:g} mm", longest=LONGEST_MM)
            problems.append(Problem(key=_OPTIONS[option], value=item, rule=rule))
        elif mark and not (0 < number < 1e6 and (option == "stock" or number == int(number))):
            rule = (
                say("must have a price behind the =")
                if option == "stock"
                else say("must have a number behind the x")
            )
            problems.append(Problem(key=_OPTIONS[option], value=item, rule=rule))
        elif option == "stock":
            found.append(Length(section="", material="", length_mm=length_mm, price=number))
        else:
            found.append(Length(section="", material="", length_mm=length_mm, in_hand=int(number) or 1))
    return found, problems


def _number(text: str) -> float:
    try:
        return float(text)
    except ValueError:
        return math.nan
