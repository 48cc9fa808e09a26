"""A list as CSV (RFC 4180): UTF-8, CRLF, a header row that carries the units.

The last column is the mark of the pack, where one is given. A cell of text that a spreadsheet would take for
a formula gets an apostrophe in front; numbers stay numbers.
"""

import csv
import io
import re
from typing import Final

from rampdraft.shop.tables import Cell, Table
from rampdraft.words.figures import shortest
from rampdraft.words.say import say

_INNER_FORMULA: Final = re.compile(r"""(?<=[;\t\r\n"'|,])(\s*)(?=[=+\-@＝＋－＠])""")
"""Where a formula would begin if the table were read with another separator or quote than it is written with:
by `;` in much of Europe, by tab out of the clipboard.
"""

_FORMULA_STARTS: Final = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
"""What makes a spreadsheet calculate or call out; the wide forms of the signs do so in some."""


def table_csv(table: Table, revision: str = "") -> bytes:
    """Return a list as CSV."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    mark = (revision,) if revision else ()
    writer.writerow((*table.head, say("Revision")) if mark else table.head)
    writer.writerows([_cell(cell) for cell in (*row, *mark)] for row in table.rows)
    return stream.getvalue().encode("utf-8")


def _cell(cell: Cell) -> str:
    if not isinstance(cell, str):
        return shortest(cell)
    text = _INNER_FORMULA.sub(r"\1'", printable(cell))
    return f"'{text}" if text.lstrip(" ").startswith(_FORMULA_STARTS) else text


def printable(text: str) -> str:
    """Return text without control characters, but for tabs and the ends of lines."""
    return "".join(letter for letter in text if letter.isprintable() or letter in "\t\r\n")
