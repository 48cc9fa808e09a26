"""Tables and paragraphs that flow from sheet to sheet."""

import io

import pypdf
import pytest
from hypothesis import given
from hypothesis import strategies as st

from rampdraft.drawing.sheet import LANDSCAPE_MM
from rampdraft.export.pdf.flow import BOTTOM_MM, LEFT_MM, RIGHT_MM, TOP_MM, Column, Flow, Row
from rampdraft.export.pdf.paper import MM_PER_PT, Paper

COLUMNS = (
    Column(head="Part", width_mm=40, bold=True),
    Column(head="What it is", width_mm=120),
    Column(head="mm", width_mm=30, anchor="right"),
)


def printed(flow: Flow) -> list[pypdf.PageObject]:
    paper = Paper(title="Test", author="")
    for page in flow.pages:
        paper.sheet(LANDSCAPE_MM)
        for op in page.ops:
            op(paper)
        paper.sheet_done()
    return list(pypdf.PdfReader(io.BytesIO(paper.finished())).pages)


def places(page: pypdf.PageObject) -> list[tuple[str, float, float]]:
    """Return each text with its baseline's start in mm."""
    found = []

    def visit(text, cm, tm, _font, _size):
        if text.strip():
            x, y = tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5]
            found.append((text.strip(), x * MM_PER_PT, y * MM_PER_PT))

    page.extract_text(visitor_text=visit)
    return found


rows = st.lists(
    st.tuples(st.integers(0, 60), st.integers(0, 30)).map(
        lambda sizes: Row(
            cells=("N1", "word " * sizes[0], "12.5"), under=tuple(f"line {n}" for n in range(sizes[1]))
        )
    ),
    max_size=30,
)


@given(rows)
def test_a_table_stays_in_the_frame_and_repeats_its_head(found):
    flow = Flow("Test")
    flow.table(COLUMNS, found)
    for page in printed(flow):
        spots = places(page)
        assert "What it is" in [text for text, _, _ in spots]
        assert all(BOTTOM_MM <= y <= TOP_MM for _, _, y in spots)
        assert all(LEFT_MM <= x <= RIGHT_MM for _, x, _ in spots)


def test_nothing_is_lost_between_sheets():
    flow = Flow("Test")
    flow.table(
        COLUMNS, [Row(cells=(f"R{n}", f"row {n}", str(n)), under=(f"because {n}",)) for n in range(80)]
    )
    pages = printed(flow)
    assert len(pages) > 2
    text = "\n".join(page.extract_text() for page in pages)
    assert all(f"row {n}\n" in text and f"because {n}\n" in text + "\n" for n in range(80))


def test_a_row_keeps_its_working_on_its_sheet():
    flow = Flow("Test")
    flow.table(
        COLUMNS,
        [Row(cells=(f"R{n}", "x", "1"), under=tuple(f"u{n}-{k}" for k in range(7))) for n in range(20)],
    )
    for page in printed(flow):
        text = page.extract_text()
        for n in range(20):
            assert (f"u{n}-0\n" in text) == (f"u{n}-6" in text)


def test_cells_wrap_in_their_column():
    flow = Flow("Test")
    flow.table(COLUMNS, [Row(cells=("A", "many words " * 20, "7"))])
    spots = places(printed(flow)[0])
    lines = [x for text, x, _ in spots if text.startswith(("many", "words"))]
    assert len(lines) > 2
    assert lines == [pytest.approx(LEFT_MM + 40 + 1.5, abs=0.01)] * len(lines)


def test_a_heading_takes_its_first_lines_along():
    flow = Flow("Test")
    while flow.y > BOTTOM_MM + 20:
        flow.paragraph("filler")
    flow.heading("Next matter")
    assert len(flow.pages) == 2
    assert "Next matter" in printed(flow)[1].extract_text()


def test_a_long_paragraph_runs_on():
    flow = Flow("Test")
    flow.paragraph("word " * 6000)
    pages = printed(flow)
    assert len(pages) > 1
    assert sum(page.extract_text().count("word") for page in pages) == 6000
