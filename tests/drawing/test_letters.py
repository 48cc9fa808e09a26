"""How wide words are, beside what reportlab reads from the same font."""

import pytest
from reportlab.pdfbase.pdfmetrics import stringWidth

from rampdraft.drawing.letters import MM_PER_PT, words_mm
from rampdraft.drawing.style import FONT
from rampdraft.export.pdf.paper import ready_fonts

ASCII = "".join(map(chr, range(32, 127)))


@pytest.mark.parametrize("text", [ASCII, "1346 to 1388.5 from deck hinge", "W12", ""])
def test_words_are_as_wide_as_they_are_printed(text: str) -> None:
    ready_fonts()
    assert words_mm(text, 8.0) == pytest.approx(stringWidth(text, FONT, 8.0) * MM_PER_PT, rel=2e-3, abs=1e-9)


@pytest.mark.parametrize("text", ["Ø 20", "9.2°", "8 × 5.5", "a3 ◺ W3", "Ähre", "±½"])
def test_other_letters_are_no_wider_than_they_are_taken_for(text: str) -> None:
    ready_fonts()
    assert words_mm(text, 8.0) >= stringWidth(text, FONT, 8.0) * MM_PER_PT - 1e-9
