"""The check sheet on paper tells the ways out of what fails."""

from functools import partial

import pytest
from paper_text import texts

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.ways_out.words import way_words
from rampdraft.export.pdf import workings
from rampdraft.export.pdf.check_sheet import check_sheet_pdf
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths


@pytest.mark.soak
def test_every_way_out_is_on_the_check_sheet(monkeypatch: pytest.MonkeyPatch) -> None:
    quick = partial(ways_out, rolling=False)  # what a way does to rolling takes four times as long
    monkeypatch.setattr(workings, "ways_out", quick)
    path = next(path for path in sample_paths() if path.stem == "too-steep")
    evaluation = evaluate(load_design(path), path.parent)
    pages = texts(check_sheet_pdf(evaluation, date="2020-01-01"))
    text = " ".join(page[: page.rindex("Check sheet")] for page in pages)  # head and foot come last
    ways = quick(evaluation)
    assert any(ways.values())
    for found in ways.values():
        for way in found:
            assert f"Way out: {way_words(way)}." in text
