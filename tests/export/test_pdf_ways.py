"""The check sheet on paper tells the ways out of what fails."""

import math

import pytest
from paper_text import texts

from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.ways_out.words import way_words
from rampdraft.export.pdf import workings
from rampdraft.export.pdf.check_sheet import check_sheet_pdf
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths


def test_ways_out_of_the_worst_checks_are_on_the_check_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[frozenset[str], dict[str, tuple[WayOut, ...]]]] = []

    def quick(evaluation: Evaluation, only: frozenset[str]) -> dict[str, tuple[WayOut, ...]]:
        """What a way does to rolling takes four times as long."""
        asked.append((only, ways_out(evaluation, only, rolling=False)))
        return asked[-1][1]

    monkeypatch.setattr(workings, "ways_out", quick)
    path = next(path for path in sample_paths() if path.stem == "too-steep")
    evaluation = evaluate(load_design(path), path.parent)
    pages = texts(check_sheet_pdf(evaluation, date="2020-01-01"))
    text = " ".join(page[: page.rindex("Check sheet")] for page in pages)  # head and foot come last
    ((only, ways),) = asked
    failing = [check for check in evaluation.all_checks if check.fails]
    assert len(failing) > len(only) == workings.MOST_CURED
    assert f"{len(failing)} checks fail: ways out are printed of the {len(only)} worst" in text
    assert min(check.ratio or math.inf for check in failing if check.id in only) >= max(
        check.ratio or math.inf for check in failing if check.id not in only
    )
    assert any(ways.values())
    for found in ways.values():
        for way in found:
            assert f"Way out: {way_words(way)}." in text
