"""Part list, cut list and cutting plan as CSV (RFC 4180): UTF-8, CRLF, a header row that carries the units.

The last column is the mark of the pack, where one is given. A cell of text that a spreadsheet would take for
a formula gets an apostrophe in front; numbers stay numbers.
"""

import csv
import io
import re
from collections.abc import Iterable, Sequence
from typing import Final

from rampdraft.figures import shortest
from rampdraft.shop.cutting.results import CuttingPlan
from rampdraft.shop.parts import BOUGHT, Part, full_number

Cell = str | float
"""Text as it is, or a number."""

_INNER_FORMULA: Final = re.compile(r"""(?<=[;\t\r\n"'|,])(\s*)(?=[=+\-@＝＋－＠])""")
"""Where a formula would begin if the table were read with another separator or quote than it is written with:
by `;` in much of Europe, by tab out of the clipboard.
"""

_FORMULA_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What makes a spreadsheet calculate or call out; the wide forms of the signs do so in some."""


def part_list_csv(parts: Sequence[Part], drawing_number: str = "", revision: str = "") -> bytes:
    """Return the part list: a row a part."""
    head = (
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
    )
    rows = (
        (
            full_number(part, drawing_number),
            part.name,
            part.hand,
            part.quantity,
            part.piece.section.text,
            part.piece.material,
            _rounded(part.piece.length_mm, 2),
            _rounded(part.mass_kg, 3),
            _rounded(part.mass_kg * part.quantity, 3),
            ", ".join(part.members),
        )
        for part in parts
    )
    return _table(head, rows, revision)


def cut_list_csv(parts: Sequence[Part], drawing_number: str = "", revision: str = "") -> bytes:
    """Return the cut list: a row a part that is sawn, a section after the other, the longest first.

    Lengths run from longest point to longest point, marks from the left end.
    """
    head = (
        "Section",
        "Material",
        "Part",
        "Quantity",
        "Length (mm)",
        "Left end (mm)",
        "Right end (mm)",
        "Marks from left end (mm)",
    )
    sawn = [part for part in parts if part.role not in BOUGHT]
    groups = list(dict.fromkeys((part.piece.section, part.piece.material) for part in sawn))
    sawn.sort(
        key=lambda part: (groups.index((part.piece.section, part.piece.material)), -part.piece.length_mm)
    )
    rows = (
        (
            part.piece.section.text,
            part.piece.material,
            full_number(part, drawing_number),
            part.quantity,
            _rounded(part.piece.length_mm, 2),
            part.piece.ends[0].text,
            part.piece.ends[1].text,
            "; ".join(f"{shortest(_rounded(mark.at_mm, 2))}: {mark.what}" for mark in part.piece.marks),
        )
        for part in sawn
    )
    return _table(head, rows, revision)


def cutting_plan_csv(
    plan: CuttingPlan, parts: Sequence[Part], drawing_number: str = "", revision: str = ""
) -> bytes:
    """Return the cutting plan: a row a cut in the order of sawing, then the parts that are not placed, and
    what is known.
    """
    numbers = {part.number: full_number(part, drawing_number) for part in parts}
    head = (
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
    )
    rows: list[tuple[Cell, ...]] = []
    for number, bar in enumerate(plan.bars, start=1):
        for index, cut in enumerate(bar.cuts, start=1):
            offcut = _rounded(bar.offcut_mm, 1) if index == len(bar.cuts) else ""
            length = _rounded(cut.length_mm, 2)
            rows.append(
                (
                    number,
                    bar.section,
                    bar.material,
                    bar.stock_mm,
                    index,
                    numbers[cut.part],
                    length,
                    _rounded(cut.at_mm, 2),
                    _rounded(cut.at_mm + cut.length_mm, 2),
                    offcut,
                    "in hand" if bar.in_hand and index == 1 else "",
                )
            )
    rows += [
        (*[""] * 5, numbers[one.part], *[""] * 4, f"{one.quantity} not placed: {one.words}")
        for one in plan.unplaced
    ]
    rows.append((*[""] * 10, plan.words))
    return _table(head, rows, revision)


def _table(head: Sequence[str], rows: Iterable[Sequence[Cell]], revision: str) -> bytes:
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    mark = (revision,) if revision else ()
    writer.writerow((*head, "Revision") if mark else head)
    writer.writerows([_cell(cell) for cell in (*row, *mark)] for row in rows)
    return stream.getvalue().encode("utf-8")


def _cell(cell: Cell) -> str:
    if not isinstance(cell, str):
        return shortest(cell)
    text = "".join(letter for letter in cell if letter.isprintable() or letter in "\t\r\n")
    text = _INNER_FORMULA.sub(r"\1'", text)
    return f"'{text}" if text.lstrip(" ").startswith(_FORMULA_STARTS) else text


def _rounded(value: float, decimals: int) -> float:
    """Return the value rounded; -0 becomes 0."""
    return round(value, decimals) + 0.0
