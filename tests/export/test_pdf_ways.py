"""The check sheet on paper tells the ways out of what fails."""

import io

from pypdf import PdfReader

from rampdraft.evaluation.evaluate import evaluate
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.ways_out.words import way_words
from rampdraft.export.pdf.document import workshop_pdf
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths


def test_every_way_out_is_on_the_check_sheet() -> None:
    path = next(path for path in sample_paths() if path.stem == "too-steep")
    evaluation = evaluate(load_design(path), path.parent)
    reader = PdfReader(io.BytesIO(workshop_pdf(evaluation, date="2020-01-01")))
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    ways = ways_out(evaluation)
    assert any(ways.values())
    for found in ways.values():
        for way in found:
            assert f"Way out: {way_words(way)}." in text
