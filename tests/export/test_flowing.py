"""Tables and paragraphs that run on from page to page, and sheets bound together with them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from paper_text import flat, letter_sizes, pages, parts_of, places, texts

from rampdraft.drawing.sheet import PAPER_MM
from rampdraft.export.pdf.book import FLOW_MM, PORTRAIT_MM, SHORT_CAUTION, Flowed, Plain, Sheet
from rampdraft.export.pdf.flowing import Column, Row, beside, heading, paragraph, table

COLUMNS = (
    Column(head="Part", width_mm=30, bold=True),
    Column(head="What it is", width_mm=100),
    Column(head="mm", width_mm=30, anchor="right"),
)
X0, X1 = 20.0, 20.0 + FLOW_MM[0]

rows = st.lists(
    st.integers(0, 60).map(lambda count: Row(cells=("N1", "word " * count, "12.5"))), min_size=1, max_size=40
)


def flowed(*story, columns=1):
    return parts_of(Flowed(kind="Test", story=list(story), columns=columns))


@given(rows)
def test_a_table_stays_on_its_page_and_repeats_its_head(found):
    data = flowed(table(COLUMNS, found))
    for page in pages(data):
        spots = places(page)
        assert "What it is" in [text for text, _, _ in spots]
        assert all(9.9 <= y <= PORTRAIT_MM[1] - 10 for _, _, y in spots)
        assert all(X0 - 0.1 <= x <= X1 for _, x, _ in spots)


def test_nothing_is_lost_between_pages():
    data = flowed(table(COLUMNS, [Row(cells=(f"R{n}", f"row {n}.", str(n))) for n in range(180)]))
    assert len(pages(data)) > 2
    whole = " ".join(texts(data))
    assert all(f"row {n}." in whole for n in range(180))


def test_two_columns_run_on_in_reading_order():
    data = flowed(*(paragraph(f"word{n} " * 9) for n in range(300)), columns=2)
    found = [int(word[4:]) for text in texts(data) for word in text.split() if word.startswith("word")]
    assert sorted(set(found)) == list(range(300))
    assert found == sorted(found)
    assert len({round(x) for _, x, _ in places(pages(data)[0]) if x < X1 - 30}) >= 2


def test_a_heading_takes_its_first_lines_along():
    filler = [paragraph("filler", after_mm=3.0) for _ in range(41)]
    data = flowed(*filler, *heading("Next matter"), *(paragraph(f"about it {n}") for n in range(9)))
    first, second = texts(data)[:2]
    assert ("Next matter" in first) == ("about it 2" in first)
    assert ("Next matter" in second) != ("Next matter" in first)


@given(st.text(min_size=1, max_size=120))
def test_words_are_printed_as_they_are_written(words):
    """Nothing in them is taken for markup, and nothing breaks the page."""
    data = flowed(paragraph(words), table(COLUMNS, [Row(cells=(words, words, "1"))]))
    assert len(pages(data)) >= 1


def test_markup_is_no_markup():
    words = "<b>Ramp</b> & <para> &amp; </font>"
    assert words in " ".join(texts(flowed(paragraph(words))))


def test_a_word_wider_than_its_column_is_broken():
    data = flowed(table(COLUMNS, [Row(cells=("A", "x" * 400, "7"))]))
    assert sum(text.count("x") for text in texts(data)) == 400
    assert all(x <= X1 for _, x, _ in places(pages(data)[0]))


def test_cells_stand_side_by_side():
    data = flowed(beside([paragraph("left one")], [paragraph("right one")]))
    at = {text: (x, y) for text, x, y in places(pages(data)[0])}
    assert at["right one"][0] - at["left one"][0] == pytest.approx(FLOW_MM[0] / 2, abs=0.1)
    assert at["right one"][1] == at["left one"][1]


def test_each_part_has_its_paper_and_every_sheet_its_number():
    parts = (
        Sheet(kind="Drawing", size_mm=PAPER_MM["A3"]),
        Flowed(kind="Lists", story=[paragraph("a list")]),
        Plain(size_mm=(100.0, 80.0), ops=[lambda paper: paper.text((5, 5), "bare", 9.0)]),
        Sheet(kind="Drawing", scale="1 : 5"),
    )
    found = pages(parts_of(*parts))
    sizes = [(float(page.mediabox.width), float(page.mediabox.height)) for page in found]
    expected = [PAPER_MM["A3"], PORTRAIT_MM, (100.0, 80.0), PAPER_MM["A4"]]
    assert [(w * 25.4 / 72, h * 25.4 / 72) for w, h in sizes] == [
        pytest.approx(one, abs=0.01) for one in expected
    ]
    said = [flat(page.extract_text()) for page in found]
    assert [f"{number} / 4" in text for number, text in enumerate(said, start=1)] == [True, True, False, True]
    assert [flat(SHORT_CAUTION) in text for text in said] == [True, True, False, True]
    assert said[2] == "bare"
    assert "1 : 5" in said[3]


def test_equal_contents_give_equal_bytes():
    def made():
        return flowed(paragraph("one"), table(COLUMNS, [Row(cells=("A", "b", "c"))]))

    assert made() == made()


def test_no_letter_is_smaller_than_7_point():
    assert min(letter_sizes(pages(flowed(*heading("Title"), paragraph("body")))[0])) >= 7
