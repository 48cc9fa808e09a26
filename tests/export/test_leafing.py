"""A reader of a PDF leafs to what its pages are headed with: by pypdf, another reader than the program's."""

import io

import pytest
from packed import sample
from pypdf import PdfReader

from rampdraft.export import pack
from rampdraft.export.pdf.pages import pages_of


@pytest.mark.parametrize("key", sorted(pack.PAPERS))
def test_each_heading_is_leafed_to_on_its_page(key: str) -> None:
    evaluation = sample("barn-stage")
    pdf = pack.PAPERS[key](evaluation, date="2026-01-01", revision="0123")
    reader = PdfReader(io.BytesIO(pdf))
    marks = [(reader.get_destination_page_number(one), one.title) for one in reader.outline]  # pyright: ignore
    assert marks or key in ("hand-over", "templates")
    for number, title in marks:
        assert number is not None
        words = " ".join(reader.pages[number].extract_text().split())
        assert " ".join(title.split()) in words, (number, title)
    by_page = [[title for number, title in marks if number == page] for page in range(len(reader.pages))]
    assert [list(page.titles) for page in pages_of(pdf, 10.0)] == by_page
