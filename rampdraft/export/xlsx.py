"""All lists in one workbook (ISO/IEC 29500), a sheet each: numbers as numbers, text as text, never a formula.

Equal lists make equal bytes: the workbook's date is fixed, and what it is packed with carries none.
"""

# The library comes without types of its own.
# pyright: reportMissingTypeStubs=false, reportUnknownMemberType=false

import datetime
import io
from collections.abc import Sequence
from typing import Final

from xlsxwriter import Workbook

from rampdraft.export.csv_table import printable
from rampdraft.shop.tables import Cell, Table

_DATE: Final = datetime.datetime(2000, 1, 1, tzinfo=datetime.UTC).replace(tzinfo=None)
_LONGEST: Final = 32767
"""Characters that a cell holds at most."""
_WIDEST: Final = 60
"""Characters that a column is wide at most."""


def lists_xlsx(tables: Sequence[Table], title: str = "", revision: str = "") -> bytes:
    """Return the workbook of these lists; title and revision stand at the foot of each sheet."""
    stream = io.BytesIO()
    options = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    book = Workbook(stream, options)
    book.set_properties({"title": printable(title), "comments": printable(revision), "created": _DATE})
    head = book.add_format({"bold": True, "text_wrap": True, "valign": "top", "bottom": 1})
    body = book.add_format({"text_wrap": True, "valign": "top"})
    for table in tables:
        sheet = book.add_worksheet(table.title)
        for column, words in enumerate(table.head):
            sheet.write_string(0, column, words, head)
            sheet.set_column(column, column, _width(table, column))
        for row, cells in enumerate(table.rows, start=1):
            for column, cell in enumerate(cells):
                if cell == "":
                    sheet.write_blank(row, column, None, body)
                elif isinstance(cell, str):
                    sheet.write_string(row, column, printable(cell)[:_LONGEST], body)
                else:
                    sheet.write_number(row, column, cell, body)
        sheet.freeze_panes(1, 0)
        sheet.repeat_rows(0)
        sheet.set_landscape()
        sheet.set_paper(9)  # A4
        sheet.fit_to_pages(1, 0)
        sheet.set_footer(f"&L{_plain(title)}&C{_plain(revision)}&R&P / &N")
    book.close()
    return stream.getvalue()


def _plain(text: str) -> str:
    """Return text for a footer, where `&` begins a code, as long as one holds."""
    return printable(text).replace("\n", " ").replace("&", "&&")[:80].removesuffix("&")


def _width(table: Table, column: int) -> float:
    """Return how many characters a column is wide."""
    cells: list[Cell] = [table.head[column].split(" (")[0], *(row[column] for row in table.rows)]
    return min(_WIDEST, max(6, *(len(str(cell)) for cell in cells)) + 2)
