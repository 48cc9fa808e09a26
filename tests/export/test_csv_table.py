"""Part list, cut list and cutting plan as CSV."""

import csv
import io
from collections import Counter
from dataclasses import replace
from itertools import groupby

import pytest
from hypothesis import given
from hypothesis import strategies as st
from timber_ramp import timber_ramp

from rampdraft.export.csv_table import table_csv
from rampdraft.geometry.members.assembly import assemble
from rampdraft.shop.cutting.plan import least_plan_of
from rampdraft.shop.parts import BOUGHT, part_list
from rampdraft.shop.tables import cut_table, part_table, plan_table

DESIGN = timber_ramp()
PARTS = part_list(assemble(DESIGN).members)
PLAN = least_plan_of(PARTS, DESIGN)


def part_list_csv(parts, drawing_number=""):
    return table_csv(part_table(parts, drawing_number))


def cut_list_csv(parts, drawing_number=""):
    return table_csv(cut_table(parts, drawing_number))


def cutting_plan_csv(plan, parts, drawing_number=""):
    return table_csv(plan_table(plan, parts, drawing_number))


def rows(data):
    return list(csv.DictReader(io.StringIO(data.decode("utf-8"), newline="")))


def test_the_part_list_has_a_row_a_part_with_units_in_the_header():
    table = rows(part_list_csv(PARTS, "R1"))
    assert [row["Part"] for row in table] == [f"R1-{part.number}" for part in PARTS]
    rail = table[0]
    assert rail["Name"] == "inner rail"
    assert rail["Quantity"] == "3"
    assert rail["Section"] == "box 40x20x2"
    assert float(rail["Length (mm)"]) == 1350
    assert float(rail["Mass (kg)"]) == pytest.approx(3 * PARTS[0].mass_kg, abs=0.0006)
    assert rail["Members"] == "inner rail 1, inner rail 2, inner rail 3"


def test_part_numbers_stand_alone_without_a_drawing_number():
    assert rows(part_list_csv(PARTS))[0]["Part"] == "IR1"


def test_the_cut_list_has_ends_and_running_dimensions_and_nothing_bought():
    table = rows(cut_list_csv(PARTS))
    rail = table[0]
    assert rail["Left end (mm)"] == "cope Ø30, centre 20 below the top line"
    assert rail["Marks from left end (mm)"].startswith("200: cross member 20 wide, side, centre; 675: ")
    assert {row["Part"] for row in table} == {part.number for part in PARTS if part.role not in BOUGHT}
    sections = [row["Section"] for row in table]
    assert len([section for section, _ in groupby(sections)]) == len(set(sections))
    assert [float(row["Length (mm)"]) for row in table if row["Section"] == "box 40x20x2"] == [
        1350,
        1300,
        366,
        278,
    ]


def test_the_cutting_plan_has_every_cut_every_offcut_and_what_is_not_placed():
    table = rows(cutting_plan_csv(PLAN, PARTS, "R1"))
    cuts = Counter(row["Part"] for row in table if row["Cut"])
    assert cuts == Counter(f"R1-{cut.part}" for bar in PLAN.bars for cut in bar.cuts)
    offcuts = [float(row["Offcut (mm)"]) for row in table if row["Offcut (mm)"]]
    assert offcuts == pytest.approx([bar.offcut_mm for bar in PLAN.bars], abs=0.051)
    told = {row["Part"]: row["Note"] for row in table if row["Note"] and row["Part"]}
    assert told == {f"R1-{one.part}": f"{one.quantity} not placed: {one.words}" for one in PLAN.unplaced}
    assert table[-1]["Note"] == PLAN.words


def test_lines_end_as_rfc_4180_says_and_quotes_are_doubled():
    material = 'steel, "bright"'
    part = replace(PARTS[0], piece=replace(PARTS[0].piece, material=material))
    data = part_list_csv([part])
    assert data.endswith(b"\r\n")
    assert data.count(b"\r\n") == 2
    assert b'"steel, ""bright"""' in data
    assert rows(data)[0]["Material"] == material


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\r", "  =", "＝"])
def test_a_cell_that_would_calculate_is_text(start):
    material = f"{start}1+1"
    part = replace(PARTS[0], piece=replace(PARTS[0].piece, material=material))
    assert rows(part_list_csv([part], drawing_number="=R"))[0]["Material"] == f"'{material}"


@pytest.mark.parametrize("between", [";", "\t", '"', "'", "|", ",", "\n", "; ", '";', "\r\n"])
@pytest.mark.parametrize("start", ["=", "+", "-", "@", "＝"])
@pytest.mark.parametrize("quoting", [csv.QUOTE_MINIMAL, csv.QUOTE_NONE])
def test_no_other_separator_or_quote_makes_a_formula_of_a_text(between, start, quoting):
    material = f"steel{between}{start}1+1"
    data = part_list_csv([replace(PARTS[0], piece=replace(PARTS[0].piece, material=material))])
    for separator in (",", ";", "\t", "|"):
        stream = io.StringIO(data.decode("utf-8"), newline="")
        for row in csv.reader(stream, delimiter=separator, quoting=quoting):
            assert not [
                cell for cell in row if cell.strip(" \t\r\n\"'").startswith(start) and "'" not in cell
            ]


def test_an_ordinary_cell_is_left_alone():
    part = replace(PARTS[0], piece=replace(PARTS[0].piece, material="steel = S235"))
    assert rows(part_list_csv([part]))[0]["Material"] == "steel = S235"


@given(st.text(max_size=30), st.text(max_size=20))
def test_whatever_a_user_writes_the_table_keeps_its_shape_and_starts_no_formula(material, drawing_number):
    part = replace(PARTS[0], piece=replace(PARTS[0].piece, material=material))
    for data in (part_list_csv([part], drawing_number), cut_list_csv([part], drawing_number)):
        table = list(csv.reader(io.StringIO(data.decode("utf-8"), newline="")))
        assert len(table) == 2
        assert len(table[0]) == len(table[1])
        assert not any(
            cell.lstrip(" ").startswith(("=", "+", "-", "@", "\t", "\r", "\n")) for cell in table[1]
        )
