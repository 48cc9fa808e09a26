"""The lists of the workshop as tables: the one place that says what stands in which column, for every format
that they are written in.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.model.design import Design
from rampdraft.shop.bought import Bought
from rampdraft.shop.costs import Costs
from rampdraft.shop.cutting.results import Bar, Cut, CuttingPlan
from rampdraft.shop.holes import holes_of
from rampdraft.shop.order import Count, Step
from rampdraft.shop.parts import BOUGHT, Part, full_number
from rampdraft.shop.remarks import Remark
from rampdraft.shop.spoken import code_words
from rampdraft.shop.tolerances import KeyDimension, cut_tolerance_mm
from rampdraft.shop.welds import Weld
from rampdraft.words.figures import exact
from rampdraft.words.say import called, counted, named, say

Cell = str | float
"""Text as it is, or a number."""

TableKey = Literal[
    "part-list", "cut-list", "cutting-plan", "hole-list", "weld-list", "purchase-list", "assembly",
    "key-dimensions", "remarks",
]  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Table:
    """A list: a row of heads, which carry the units, and rows of as many cells."""

    key: TableKey
    title: str
    head: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


HEADS: Final[dict[TableKey, tuple[str, tuple[str, ...]]]] = {
    "part-list": (
        "Part list",
        (
            "Part",
            "Name",
            "Hand",
            "Quantity",
            "Section",
            "Material",
            "Length (mm)",
            "Mass each (kg)",
            "Mass (kg)",
            "Members",
            "Code",
        ),
    ),
    "cut-list": (
        "Cut list",
        (
            "Section",
            "Material",
            "Part",
            "Quantity",
            "Length (mm)",
            "Left end (mm)",
            "Right end (mm)",
            "Marks from left end (mm)",
            "Off by at most (mm)",
        ),
    ),
    "cutting-plan": (
        "Cutting plan",
        (
            "Bar",
            "Section",
            "Material",
            "Stock length (mm)",
            "Cut",
            "Part",
            "Length (mm)",
            "From (mm)",
            "To (mm)",
            "Offcut (mm)",
            "Note",
        ),
    ),
    "hole-list": (
        "Holes",
        (
            "Part",
            "Quantity",
            "Hole",
            "From datum end (mm)",
            "Across (mm)",
            "Face",
            "Diameter (mm)",
            "For",
            "Deep (mm)",
            "Takes",
        ),
    ),
    "weld-list": (
        "Welds",
        (
            "Weld",
            "Where",
            "Shape",
            "Throat (mm)",
            "Length of one (mm)",
            "Quantity",
            "Length of all (mm)",
            "Part",
            "On part",
            "ISO 2553",
            "All round",
            "In this order",
        ),
    ),
    "purchase-list": (
        "To buy",
        (
            "Row",
            "Number",
            "What",
            "Material",
            "Standard",
            "Length (mm)",
            "Quantity",
            "Unit",
            "Price each",
            "Price",
            "Note",
        ),
    ),
    "assembly": (
        "Order of assembly",
        ("Step", "Kind", "What to do", "Parts", "Fixings", "Welds", "Before the next"),
    ),
    "key-dimensions": (
        "What matters",
        ("Dimension", "Size (mm)", "More by at most (mm)", "Less by at most (mm)", "Parts", "Why"),
    ),
    "remarks": (
        "Not in the lists",
        ("Concerns", "What", "Members"),
    ),
}
"""Title and heads of each list: whoever makes one says them."""


def _table(key: TableKey, rows: Iterable[tuple[Cell, ...]]) -> Table:
    title, head = HEADS[key]
    return Table(key=key, title=say(title), head=tuple(say(one, "head") for one in head), rows=tuple(rows))


def part_table(parts: Sequence[Part], drawing_number: str = "") -> Table:
    """Return the part list: a row a part."""
    return _table(
        "part-list",
        tuple(
            (
                full_number(part, drawing_number),
                part.words,
                say(part.hand) if part.hand else "",
                part.quantity,
                called(part.piece.section.text),
                called(part.piece.material),
                rounded(part.piece.length_mm, 2),
                rounded(part.mass_kg, 3),
                rounded(part.mass_kg * part.quantity, 3),
                ", ".join(map(named, part.members)),
                code_words(part.code),
            )
            for part in parts
        ),
    )


def cut_table(parts: Sequence[Part], drawing_number: str = "") -> Table:
    """Return the cut list: a row a part that is sawn, a section after the other, the longest first.

    Lengths run from longest point to longest point, marks from the left end.
    """
    sawn = [part for part in parts if part.role not in BOUGHT]
    groups = list(dict.fromkeys((part.piece.section, part.piece.material) for part in sawn))
    sawn.sort(
        key=lambda part: (groups.index((part.piece.section, part.piece.material)), -part.piece.length_mm)
    )
    return _table(
        "cut-list",
        tuple(
            (
                called(part.piece.section.text),
                called(part.piece.material),
                full_number(part, drawing_number),
                part.quantity,
                rounded(part.piece.length_mm, 2),
                part.piece.ends[0].text,
                part.piece.ends[1].text,
                "; ".join(f"{exact(rounded(mark.at_mm, 2))}: {mark.what}" for mark in part.piece.marks),
                cut_tolerance_mm(part.piece.length_mm),
            )
            for part in sawn
        ),
    )


def plan_table(plan: CuttingPlan, parts: Sequence[Part], drawing_number: str = "") -> Table:
    """Return the cutting plan: a row a cut in the order of sawing, then the parts that are not placed, and
    what is known.
    """
    numbers = {part.number: full_number(part, drawing_number) for part in parts}
    rows: list[tuple[Cell, ...]] = []
    for number, bar in enumerate(plan.bars, start=1):
        for index, cut in enumerate(bar.cuts, start=1):
            rows.append(
                (
                    number,
                    called(bar.section),
                    called(bar.material),
                    bar.stock_mm,
                    index,
                    numbers[cut.part],
                    rounded(cut.length_mm, 2),
                    rounded(cut.at_mm, 2),
                    rounded(cut.at_mm + cut.length_mm, 2),
                    rounded(bar.offcut_mm, 1) if index == len(bar.cuts) else "",
                    _of_cut(bar, cut),
                )
            )
    rows += [
        (
            *[""] * 5,
            numbers[one.part],
            *[""] * 4,
            say("{count} not placed: {why}", count=one.quantity, why=one.words),
        )
        for one in plan.unplaced
    ]
    rows.append((*[""] * 10, plan.words))
    return _table(
        "cutting-plan",
        tuple(rows),
    )


def _of_cut(bar: Bar, cut: Cut) -> str:
    words = [say("in hand")] if bar.in_hand and cut is bar.cuts[0] else []
    if cut.beside_mm:
        words.append(say("upside down, taper to taper with the one before"))
    return ", ".join(words)


def hole_table(
    design: Design, parts: Sequence[Part], things: Sequence[Bought], drawing_number: str = ""
) -> Table:
    """Return the holes of every part, a row each, as running dimensions from its datum end and face."""
    return _table(
        "hole-list",
        tuple(
            (
                full_number(part, drawing_number),
                part.quantity,
                place,
                rounded(hole.at_mm, 2),
                rounded(hole.across_mm, 2),
                say(hole.face) if hole.face else "",
                hole.diameter_mm,
                say(hole.use, "hole"),
                hole.deep_mm or say("through"),
                hole.takes,
            )
            for part in parts
            if part.role not in BOUGHT
            for place, hole in enumerate(holes_of(design, part, things), start=1)
        ),
    )


def weld_table(welds: Sequence[Weld], parts: Sequence[Part], drawing_number: str = "") -> Table:
    """Return the weld list: a row of alike welds, in the order in which they are laid."""
    numbers = {part.number: full_number(part, drawing_number) for part in parts}
    return _table(
        "weld-list",
        tuple(
            (
                weld.number,
                say(weld.kind),
                say(weld.shape),
                weld.throat_mm,
                rounded(weld.length_mm, 1),
                weld.quantity,
                rounded(weld.length_mm * weld.quantity, 1),
                *(numbers[part] for part in weld.parts),
                weld.designation,
                say("yes") if weld.around else say("no"),
                "; ".join(
                    say("{one} on {other}", one=named(one), other=named(other)) for one, other in weld.places
                ),
            )
            for weld in welds
        ),
    )


def purchase_table(costs: Costs, drawing_number: str = "") -> Table:
    """Return what is to be bought, with its cost; the last row is the sum of what is known."""
    rows: list[tuple[Cell, ...]] = [
        (
            place,
            f"{drawing_number}-{row.number}" if drawing_number and row.number else row.number,
            called(row.name) if row.kind == "stock" else row.name,
            called(row.material),
            row.standard,
            rounded(row.length_mm, 2) if row.length_mm else "",
            row.quantity,
            say(row.unit),
            "" if row.each is None else row.each,
            "" if row.cost is None else rounded(row.cost, 2),
            say("no price") if row.each is None else "",
        )
        for place, row in enumerate(costs.rows, start=1)
    ]
    missing = sum(row.each is None for row in costs.rows)
    told = (
        counted(missing, "{count} price missing", "{count} prices missing")
        if missing
        else say("all prices known")
    )
    rows.append((*[""] * 9, rounded(costs.known, 2), told))
    rows += [
        (
            *[""] * 10,
            say("price {row} of the design, {item!r}: {why}", row=one.row, item=one.item, why=say(one.why)),
        )
        for one in costs.untold
        if one.column == "item"
    ]
    return _table(
        "purchase-list",
        tuple(rows),
    )


def assembly_table(steps: Sequence[Step], drawing_number: str = "") -> Table:
    """Return the order of assembly: a row a step."""
    return _table(
        "assembly",
        tuple(
            (
                step.number,
                step.title,
                say(step.do),
                _counts(step.parts, drawing_number),
                _counts(step.bought, drawing_number),
                ", ".join(step.welds),
                say(step.look),
            )
            for step in steps
        ),
    )


def _counts(counts: Iterable[Count], drawing_number: str) -> str:
    front = f"{drawing_number}-" if drawing_number else ""
    return ", ".join(f"{exact(one.quantity)} × {front}{one.number}" for one in counts)


def key_table(keys: Sequence[KeyDimension], parts: Sequence[Part], drawing_number: str = "") -> Table:
    """Return the dimensions that matter: a row each."""
    numbers = {part.number: full_number(part, drawing_number) for part in parts}
    return _table(
        "key-dimensions",
        tuple(
            (
                key.what,
                rounded(key.size_mm, 2),
                key.over_mm,
                key.under_mm,
                ", ".join(numbers[part] for part in key.parts),
                key.why,
            )
            for key in keys
        ),
    )


def remark_table(found: Sequence[Remark]) -> Table:
    """Return what the lists cannot hold: a row each."""
    return _table(
        "remarks",
        tuple((say(one.kind), one.words, ", ".join(map(named, one.members))) for one in found),
    )


def rounded(value: float, decimals: int) -> float:
    """Return the value rounded; -0 becomes 0."""
    return round(value, decimals) + 0.0
