"""`rampdraft cut`: any list of pieces, planned for the saw."""

import json
from collections import Counter
from pathlib import Path

import pytest

from rampdraft.cli.main import BAD_INPUT, WITHIN, run

# The instance of Wikipedia, "Cutting stock problem": widths and how many, from 5600 mm, least 73.
WIDTHS = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14,
    2140: 16, 2150: 18, 2200: 20,
}  # fmt: skip


def no_window(_: Path | None) -> int:
    raise AssertionError("no window was asked for")


@pytest.fixture
def listed(tmp_path: Path) -> Path:
    rows = [f"roll,{length},{quantity}" for length, quantity in WIDTHS.items()]
    path = tmp_path / "list.csv"
    path.write_text("\n".join(["section,length_mm,quantity", *rows]) + "\n", encoding="utf-8")
    return path


def cut(capsys: pytest.CaptureFixture[str], *options: object) -> tuple[int, str, str]:
    code = run(["cut", *map(str, options)], no_window)
    out, err = capsys.readouterr()
    return code, out, err


def test_the_published_list_is_proven_at_73(listed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, out, _ = cut(capsys, listed, "--stock", "5600", "--json")
    plan = json.loads(out)
    assert code == WITHIN
    assert len(plan["bars"]) == plan["least_bars"] == 73
    assert plan["proven_least"] is True
    assert Counter(one["length_mm"] for bar in plan["bars"] for one in bar["cuts"]) == WIDTHS


def test_the_sheet_says_where_each_cut_ends(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "list.csv"
    path.write_text("part;section;material;length_mm;quantity\nA;box;S235;1000;3\n", encoding="utf-8")
    code, out, _ = cut(capsys, path, "--stock", "6000=20", "--kerf", "3", "--trim", "10")
    assert code == WITHIN
    assert out.splitlines()[0].startswith("1 stock length to buy for 20.00: proven least.")
    assert "  1 × 6000 mm, offcut 2978.0 mm" in out  # 6000 - 10 - 3 - 3 (1000 + 3)
    assert "3 × 1000 mm  A  ends at 1013.0, 2016.0, 3019.0" in out


@pytest.mark.parametrize(
    ("text", "options", "words"),
    [
        ("section,length_mm,quantity\nb,100,1\n", ("--stock", "0"), "--stock = 0: must be a length"),
        ("section,length_mm,quantity\nb,100,1\n", ("--stock", ""), "must name at least one length"),
        ("section,length_mm,quantity\nb,100,1\n", ("--stock", "500=3,600"), "has no price for 600"),
        ("section,length_mm,quantity\nb,100,1\n", ("--stock", "500=x"), "must have a price behind the ="),
        ("section,length_mm,quantity\nb,100,1\n", ("--stock", "500", "--in-hand", "90x0"), "behind the x"),
        ("section,length_mm,quantity\nb,100,1\n", ("--stock", "500", "--kerf", "-1"), "--kerf = -1: must be"),
        ("section,length_mm,quantity\nb,700,2\n", ("--stock", "500"), "row 2 = 2: 700.0 mm is longer"),
        (
            "section;length_mm;quantity\nb;12,5;1\n",
            ("--stock", "500"),
            "line 2: length_mm = 12,5: has a comma for the decimal (write 12.5)",
        ),
        ('section,length_mm,quantity\nb,"12,5",1\n', ("--stock", "500"), "has a comma for the decimal"),
        ("section,length_mm,quantity\nb,12,5,1\n", ("--stock", "500"), "line 2: the row: has 4 cells"),
        ("section,length_mm\nb,12\n", ("--stock", "500"), "line 1: quantity: this column is missing"),
        ("section,length_mm,quantity,colour\n", ("--stock", "500"), "line 1: colour: is no column"),
        ("section,length_mm,quantity,section\n", ("--stock", "500"), "line 1: section: stands there twice"),
        ("section,length_mm,quantity\n,5,1.5\n", ("--stock", "500"), "line 2: section: is empty"),
        (
            "section,length_mm,quantity\nb,5,1.5\n",
            ("--stock", "500"),
            "quantity = 1.5: must be a whole",
        ),
        ("section,length_mm,quantity\nb,nan,1\n", ("--stock", "500"), "length_mm = nan: is no number"),
        ("section,length_mm,quantity\nb,-5,1\n", ("--stock", "500"), "length_mm = -5: must be more than 0"),
        ("section,length_mm,quantity\nb,5,9999\n", ("--stock", "500"), "quantity = 9999: must be"),
        ("section,length_mm,quantity\n", ("--stock", "500"), "has no pieces"),
        ("", ("--stock", "500"), "is empty"),
    ],
)
def test_what_cannot_be_planned_is_told_by_row_and_column(
    text: str,
    options: tuple[str, ...],
    words: str,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    path = tmp_path / "list.csv"
    path.write_text(text, encoding="utf-8")
    code, out, err = cut(capsys, path, *options)
    assert (code, out) == (BAD_INPUT, "")
    assert words in err


def test_a_list_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    code, _, err = cut(capsys, tmp_path / "none.csv", "--stock", "500")
    assert code == BAD_INPUT
    assert "does not exist" in err
