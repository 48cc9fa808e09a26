"""The workbook of all lists, read back by openpyxl, which did not write it."""

import hashlib
import io
import os
import subprocess
import sys

import openpyxl
import pytest
from timber_ramp import timber_ramp

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.export.lists import lists
from rampdraft.export.xlsx import lists_xlsx
from rampdraft.shop.tables import Table


@pytest.fixture(scope="module")
def tables():
    return lists(evaluate(timber_ramp()))


def read(data):
    return openpyxl.load_workbook(io.BytesIO(data))


def test_every_cell_comes_back_as_it_was(tables):
    book = read(lists_xlsx(tables, "Ramp", "abcd1234"))
    assert book.sheetnames == [table.title for table in tables]
    for table in tables:
        head, *rows = book[table.title].iter_rows(values_only=True)
        assert head == table.head
        assert len(rows) == len(table.rows)
        for row, cells in zip(rows, table.rows, strict=True):
            assert row == tuple(cell if cell != "" else None for cell in cells)


def test_nothing_that_people_write_becomes_a_formula_or_a_link():
    nasty = (
        "=1+1",
        "+cmd|' /C calc'!A0",
        "@SUM(A1)",
        "http://example.org",
        "a\x00b\x1fc",
        "−5",
        "007",
        "漢字 ±",
    )
    table = Table(key="part-list", title="Part list", head=("What",), rows=tuple((one,) for one in nasty))
    sheet = read(lists_xlsx([table], "T & T", "r&"))["Part list"]
    cells = [row[0] for row in sheet.iter_rows(min_row=2)]
    assert [cell.value for cell in cells] == [*nasty[:4], "abc", *nasty[5:]]
    assert all(cell.data_type == "s" and cell.hyperlink is None for cell in cells)


def test_equal_lists_make_equal_bytes_whatever_the_hash_seed(tables):
    program = (
        "import sys, hashlib; sys.path.insert(0, 'tests'); from timber_ramp import timber_ramp;"
        "from rampdraft.evaluation.evaluate import evaluate; from rampdraft.export.lists import lists;"
        "from rampdraft.export.xlsx import lists_xlsx;"
        "print(hashlib.sha256(lists_xlsx(lists(evaluate(timber_ramp())), 'Ramp', 'r')).hexdigest())"
    )
    here = hashlib.sha256(lists_xlsx(tables, "Ramp", "r")).hexdigest()
    made = subprocess.run(
        [sys.executable, "-c", program],
        env={**os.environ, "PYTHONHASHSEED": "7"},
        capture_output=True,
        text=True,
        check=True,
    )
    assert made.stdout.strip() == here
