"""The page for the first ramp is walked on the window: all labels and figures that it names are there."""

import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtWidgets import QWidget
from stand_in import answers
from walked_page import Walker, items_of

from rampdraft.app.shell import filing
from rampdraft.app.shell.desk import Desk
from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.result import Result, tally
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export import pack
from rampdraft.progress import Progress

DOCS = Path(__file__).parents[2] / "docs"
TEXT = (DOCS / "first-ramp.md").read_text(encoding="utf-8")
MOST_BYTES = 1_200_000
"""All pictures of the page are no larger."""


def no_picture(_widget: QWidget, name: str) -> None:
    assert (DOCS / name).exists(), f"{name}: run: python tests/make_first_ramp.py"


@pytest.fixture
def files(monkeypatch: pytest.MonkeyPatch) -> set[str]:
    """Let an export make only the files that the page reads, and name all: making all takes its time, and is
    tested in `tests/export`.
    """
    read = {
        told.given[0] for item in items_of(TEXT) for told in item.told if getattr(told, "kind", "") == "read"
    }
    names: set[str] = set()

    def export(evaluation: Evaluation, folder: Path, _progress: Progress) -> tuple[Path, ...]:
        jobs: list[tuple[str, Callable[[], bytes]]] = [
            (name, make) for _, name, make in pack._jobs(evaluation, "2026-01-01")
        ]
        folder.mkdir()
        for name, make in jobs:
            if name in read:
                (folder / name).write_bytes(make())
        names.update(name for name, _ in jobs)
        names.add(pack.PACK_LIST)
        return tuple(folder / name for name in sorted(names))

    monkeypatch.setattr(filing, "work_out", export)
    return names


def test_the_page_says_what_the_window_shows(desk: Desk, files: set[str], tmp_path: Path) -> None:
    desk.window.resize(1280, 800)
    told = answers(desk)
    told.folder, told.save_path = tmp_path / "pack", tmp_path / "bread-trailer.toml"
    walker = Walker(
        desk=desk, pack=told.folder, told=lambda: (words for _, words in told.said), picture=no_picture
    )
    walker.walk(items_of(TEXT))
    assert not tally(desk.checks.known)[Result.FAILS]
    assert told.save_path.exists()
    table = TEXT.partition("what each file is for")[2].partition("**Before the first cut.**")[0]
    named = set(re.findall(r"`([^`]+)`", table))
    whole = {name.partition("/")[0] for name in files} - {"Bread-trailer.toml"}
    assert named == whole, "each file of the pack is told once, and no other"


def test_a_label_and_a_figure_that_are_not_true_are_found(
    desk: Desk, files: set[str], tmp_path: Path
) -> None:
    answers(desk).folder = tmp_path / "pack"
    walker = Walker(desk=desk, pack=tmp_path / "pack", told=tuple, picture=no_picture, longest_s=0.5)
    for wrong, why in (
        ("1. Type `1400` at **Inner leaf**, **Longness**.", "0 are called Longness"),
        ("1. Click **Sides**.", "not there to be clicked"),
        ("1. Go on to **Size**. It says `1 : 4.93`.", "is not seen"),
        ("1. Go on to **Size**. It says `1 : 6.2`.", "is not seen"),
        ("1. Click **File**, then **Export the pack**.", "0 are called Export the pack"),
    ):
        with pytest.raises(AssertionError, match=why):
            walker.walk(items_of(wrong))


def test_the_page_shows_all_its_pictures_and_no_other() -> None:
    shown = {item.picture for item in items_of(TEXT) if item.picture}
    there = sorted((DOCS / "first-ramp").iterdir())
    assert shown == {path.relative_to(DOCS).as_posix() for path in there}
    assert sum(path.stat().st_size for path in there) <= MOST_BYTES


def test_the_page_carries_the_cautions_in_full() -> None:
    assert TEXT.partition("\n## Cautions\n")[2].split("\n") == ["", *(f"- {one}" for one in CAUTIONS), ""]
