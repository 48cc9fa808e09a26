"""One figure, however many papers it stands on: the pack of a design is read back from PDF, DXF, CSV, XLSX
and JSON, each by another reader than wrote it, and what they say of parts, holes, fixings and welds is
compared.
"""

import csv
import json
import re
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import ezdxf
import openpyxl
import pytest
from packed import packed, sample
from paper_text import texts

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.export.pack import write_pack
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.fields.paths import with_value

ODD = '=Ramp & "Ähre" <b>№ 7</b> ±½'
"""A name that is a formula, markup and a path to somebody who does not look."""


@dataclass(frozen=True)
class Papers:
    """A pack, read back."""

    folder: Path
    told: dict[str, Any]
    """The JSON."""
    parts: dict[str, dict[str, Any]]
    """Of the JSON, by the full number."""
    front: str

    def table(self, key: str) -> list[dict[str, str]]:
        with (self.folder / f"{key}.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file))

    @property
    def bench(self) -> str:
        return " ".join(texts((self.folder / "bench-pack.pdf").read_bytes()))


@pytest.fixture(scope="module", params=["library-trailer", "barn-stage"])
def papers(request, tmp_path_factory) -> Papers:
    if request.param == "library-trailer":
        design, folder = sample(request.param).design, packed(request.param)
    else:
        path = next(path for path in sample_paths() if path.stem == request.param)
        design = with_value(load_design(path), "about.name", ODD)
        folder = tmp_path_factory.mktemp("pack")
        write_pack(evaluate(design, path.parent), folder, date="2026-03-01")
    told = json.loads((folder / "checks.json").read_text(encoding="utf-8"))
    front = design.about.drawing_number
    return Papers(folder, told, {f"{front}-{part['number']}": part for part in told["parts"]}, front)


def test_part_list_and_cut_list_say_the_same_of_every_part(papers):
    listed = {row["Part"]: row for row in papers.table("part-list")}
    assert listed.keys() == papers.parts.keys()
    for number, part in papers.parts.items():
        row = listed[number]
        assert int(row["Quantity"]) == part["quantity"] == len(part["members"])
        assert float(row["Length (mm)"]) == pytest.approx(part["length_mm"], abs=0.0051)
        assert float(row["Mass each (kg)"]) == pytest.approx(part["mass_kg"], abs=0.00051)
        assert (row["Section"], row["Material"]) == (part["section"], part["material"])
    for row in papers.table("cut-list"):
        for column in ("Quantity", "Length (mm)", "Section", "Material"):
            assert row[column] == listed[row["Part"]][column], row["Part"]


def test_the_bench_pack_prints_the_same_parts(papers):
    bench = papers.bench
    for number, row in ((row["Part"], row) for row in papers.table("part-list")):
        name = f"{row['Name']}{', ' + row['Hand'] if row['Hand'] else ''}"
        length = float(row["Length (mm)"])
        printed = f"{number} {name} {row['Quantity']} {row['Section']}, {row['Material']} {length:.10g} "
        assert printed in bench, number
    pieces = sum(part["quantity"] for part in papers.parts.values())
    mass = sum(part["quantity"] * part["mass_kg"] for part in papers.parts.values())
    assert f"{len(papers.parts)} parts, {pieces} pieces, {mass:.1f} kg" in bench


def test_the_cutting_plan_cuts_every_part_as_often_as_it_is_needed(papers):
    cut: Counter[str] = Counter()
    for row in papers.table("cutting-plan"):
        if row["Cut"]:
            cut[row["Part"]] += 1
            assert float(row["Length (mm)"]) == pytest.approx(
                papers.parts[row["Part"]]["length_mm"], abs=0.0051
            )
    sawn = {row["Part"]: int(row["Quantity"]) for row in papers.table("cut-list")}
    assert dict(cut) == sawn
    bench = papers.bench
    for bar in papers.told["cutting_plan"]["bars"]:
        for cut_there in bar["cuts"]:
            length = round(cut_there["length_mm"], 2)
            assert f"{cut_there['part']} {length:.10g}" in bench, (
                "the plan on paper is cut to the same length"
            )


def seen_in_the_profile(role: str, face: str) -> bool:
    """Return whether a hole is a circle of the profile: what lies in the top of a rail, in the other pair of
    walls of a prop or in the end of a slat is not.
    """
    edges = {"rail": ("top",), "slat": ("ends",)}
    return face not in edges.get(role, ("top", "underside") if role.startswith("prop") else ())


def test_profiles_are_as_long_as_listed_and_have_the_holes_listed(papers):
    rows, read = papers.table("hole-list"), 0
    for path in (papers.folder / "profiles").glob("*.dxf"):
        part = papers.parts.get(path.stem)
        if part is None or part["role"] == "washer":  # unrolled, or bought with its hole
            continue
        read += 1
        space = ezdxf.readfile(path).modelspace()
        circles = [one for one in space.query("CIRCLE") if one.dxf.layer == "CUT_HOLES"]
        listed = Counter(
            round(float(row["Diameter (mm)"]), 3)
            for row in rows
            if row["Part"] == path.stem and seen_in_the_profile(part["role"], row["Face"])
        )
        assert Counter(round(2 * circle.dxf.radius, 3) for circle in circles) == listed, path.stem
        if part["role"] != "knuckle":
            outline = [one for one in space.query("LWPOLYLINE") if one.dxf.layer == "CUT_OUTLINE"]
            xs = [x for one in outline for x, _ in one.get_points("xy")]
            assert max(xs) - min(xs) == pytest.approx(part["length_mm"], abs=1e-6), path.stem
        words = " ".join(one.dxf.text for one in space.query("TEXT"))
        assert f"{part['quantity']} off" in words
        assert f"length {round(part['length_mm'], 2):.10g} mm" in words
    assert read > 5


def test_every_workbook_sheet_is_its_csv(papers):
    book = openpyxl.load_workbook(papers.folder / "lists.xlsx")
    keys = [
        "part-list", "cut-list", "cutting-plan", "hole-list", "weld-list", "purchase-list", "assembly",
        "key-dimensions", "remarks",
    ]  # fmt: skip
    assert len(book.sheetnames) == len(keys)
    for key, sheet in zip(keys, book.worksheets, strict=True):
        head, *cells = sheet.iter_rows(values_only=True)
        rows = papers.table(key)
        assert not rows or [*head, "Revision"] == list(rows[0])
        assert len(cells) == len(rows)
        for row, found in zip(rows, cells, strict=True):
            for name, value in zip(head, found, strict=True):
                said = row[name]
                if isinstance(value, int | float):
                    assert float(said) == pytest.approx(value), (key, name)
                else:
                    assert said.replace("'", "") == (value or "").replace("'", ""), (key, name)


def test_fixings_are_counted_alike_wherever_they_stand(papers):
    bought = {one["number"]: one["quantity"] for one in papers.told["bought"]}
    purchases = {
        row["Number"].removeprefix(f"{papers.front}-"): float(row["Quantity"])
        for row in papers.table("purchase-list")
        if row["Number"]
    }
    by_piece = {
        part["number"]: part["quantity"]
        for part in papers.parts.values()
        if part["role"] in ("washer", "latch", "latch hook")
    }
    assert by_piece, "washers"
    assert purchases == {**by_piece, **bought}
    taken: Counter[str] = Counter()
    for step in papers.told["assembly"]:
        taken.update({one["number"]: one["quantity"] for one in (*step["parts"], *step["bought"])})
    assert taken == Counter({part["number"]: part["quantity"] for part in papers.parts.values()} | bought)
    bench = papers.bench
    for one in papers.told["bought"]:
        assert f"{one['number']} {one['name']} {one['quantity']:g}" in bench, one["number"]
    holes: Counter[str] = Counter()
    for row in papers.table("hole-list"):
        if row["For"] != "bore":
            holes[row["Takes"], row["For"] == "clearance"] += int(row["Quantity"])
    for one in papers.told["bought"]:
        if one["kind"] in ("slat screw", "upstand screw"):
            tapped = sum(
                count for (number, clear), count in holes.items() if number == one["number"] and not clear
            )
            # A slat's hole in its end is one row for both ends.
            assert (2 if one["kind"] == "upstand screw" else 1) * tapped == one["quantity"]


def test_welds_are_told_alike(papers):
    rows = papers.table("weld-list")
    assert len(rows) == len(papers.told["welds"])
    bench = papers.bench
    for row, weld in zip(rows, papers.told["welds"], strict=True):
        assert row["Weld"] == weld["number"]
        assert float(row["Throat (mm)"]) == weld["throat_mm"]
        assert int(row["Quantity"]) == weld["quantity"] == len(weld["places"])
        assert float(row["Length of one (mm)"]) == pytest.approx(weld["length_mm"], abs=0.051)
        assert f"{weld['number']} {weld['quantity']} {weld['designation']}" in bench, weld["number"]
        assert re.search(rf"{weld['parts'][0]} to {weld['parts'][1]}\b", bench)
