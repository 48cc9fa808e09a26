"""A list of pieces to saw as CSV: what any spreadsheet saves."""

import csv
import io
import math
import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.errors import FileError, Problem
from rampdraft.files.text_file import read_text
from rampdraft.units import MM
from rampdraft.words.say import say

NEEDED: Final = ("section", "length_mm", "quantity")
OPTIONAL: Final = ("part", "material")
LONGEST_MM: Final = 20_000.0
MOST_PIECES: Final = 5_000
"""Of a list in all: more are better planned in lots."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedPiece:
    """A row of the list."""

    part: str
    """`row 2` where the list has no such column."""
    section: str
    material: str
    """Empty where the list has no such column."""
    length_mm: MM
    quantity: int


def load_cut_list(path: str | os.PathLike[str]) -> tuple[ListedPiece, ...]:
    """Return the pieces of a list: columns section, length_mm and quantity, in any order, and if wanted part
    and material. Columns are parted by commas, semicolons or tabs; a decimal is a point.

    Raises FileError that names every row and column that cannot be taken.
    """
    return read_cut_list(read_text(path), os.fspath(path))


def read_cut_list(text: str, name: str) -> tuple[ListedPiece, ...]:
    """Return the pieces of a list given as text; `name` is for messages. Raises as `load_cut_list`."""
    head, *rows = _rows(text, name)
    columns = [cell.lower() for cell in head[1]]
    problems = _head_problems(columns)
    if problems:
        raise FileError(say("{name} has not the columns of a list to cut:", name=name), problems)
    pieces: list[ListedPiece] = []
    for row, cells in rows:
        wrong = _row_problems(row, cells, columns)
        problems += wrong
        if not wrong:
            values = dict(zip(columns, cells, strict=True))
            pieces.append(
                ListedPiece(
                    part=values.get("part") or f"row {row}",
                    section=values["section"],
                    material=values.get("material", ""),
                    length_mm=float(values["length_mm"]),
                    quantity=int(values["quantity"]),
                )
            )
    count = sum(one.quantity for one in pieces)
    if count > MOST_PIECES:
        rule = say("must be at most {most} in all", most=MOST_PIECES)
        problems.append(
            Problem(key="quantity", value=str(count), rule=rule, way_out=say("plan them in lots"))
        )
    if problems:
        raise FileError(say("{name} cannot be planned:", name=name), problems)
    if not pieces:
        raise FileError(say("{name} has no pieces: below the row of columns each row is one.", name=name))
    return tuple(pieces)


def _rows(text: str, name: str) -> list[tuple[int, list[str]]]:
    """Return the rows that are not empty, each with its number in the file."""
    first = text.lstrip().split("\n", 1)[0]
    separator = next((one for one in (";", "\t") if one in first), ",")
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=separator)
    try:
        rows = [(reader.line_num, [cell.strip() for cell in row]) for row in reader]
    except csv.Error as error:
        raise FileError(
            say("{name}, row {row}: {error}.", name=name, row=reader.line_num, error=error)
        ) from None
    rows = [(number, row) for number, row in rows if any(row)]
    if not rows:
        raise FileError(
            say("{name} is empty: its first row names the columns {list}.", name=name, list=", ".join(NEEDED))
        )
    return rows


def _head_problems(columns: Sequence[str]) -> list[Problem]:
    known = say("known are {list}", list=", ".join((*NEEDED, *OPTIONAL)))
    twice = {one for one in columns if columns.count(one) > 1}
    return [
        *(
            Problem(key=one, value="", rule=say("this column is missing"), way_out=known, line=1)
            for one in NEEDED
            if one not in columns
        ),
        *(
            Problem(
                key=one or "a column",
                value="",
                rule=say("is no column of such a list"),
                way_out=known,
                line=1,
            )
            for one in columns
            if one not in (*NEEDED, *OPTIONAL)
        ),
        *(Problem(key=one, value="", rule=say("stands there twice"), line=1) for one in sorted(twice)),
    ]


def _row_problems(row: int, cells: Sequence[str], columns: Sequence[str]) -> list[Problem]:
    if len(cells) != len(columns):
        rule = say(
            "has {cells} cells, and there are {columns} columns", cells=len(cells), columns=len(columns)
        )
        way_out = say("a decimal is written with a point, and a text that holds the separator in quotes")
        return [Problem(key="the row", value="", rule=rule, way_out=way_out, line=row)]
    values = dict(zip(columns, cells, strict=True))
    found = [] if values["section"] else [Problem(key="section", value="", rule=say("is empty"), line=row)]
    return [*found, *_number_problems(row, values)]


def _number_problems(row: int, values: Mapping[str, str]) -> list[Problem]:
    found: list[Problem] = []
    for column, low, high in (("length_mm", 0.0, LONGEST_MM), ("quantity", 1.0, MOST_PIECES)):
        text = values[column]
        number = _number(text)
        whole = column == "quantity"
        above = number > low or (whole and number == low)
        if math.isnan(number) and "," in text and not math.isnan(number := _number(text.replace(",", "."))):
            plain = text.replace(",", ".")
            rule, way_out = say("has a comma for the decimal"), say("write {number}", number=plain)
        elif math.isnan(number):
            rule, way_out = (
                say("is no number"),
                say("give a whole number") if whole else say("give a length in mm"),
            )
        elif not above or number > high or (whole and number != int(number)):
            least = say("a whole number from 1") if whole else say("more than 0")
            rule, way_out = (
                say("must be {least} to {high:g}", least=least, high=high)
                if whole
                else say("must be {least} and at most {high:g}", least=least, high=high),
                "",
            )
        else:
            continue
        found.append(Problem(key=column, value=text, rule=rule, way_out=way_out, line=row))
    return found


def _number(text: str) -> float:
    try:
        number = float(text)
    except ValueError:
        return math.nan
    return number if math.isfinite(number) else math.nan
