"""Pages as pictures: their sizes and where their ink lies."""

import datetime
import io

import pytest
from reportlab.pdfgen.canvas import Canvas

from rampdraft.export import pack
from rampdraft.export.pdf.pages import page_pixels, pages_of


def drawn() -> bytes:
    """Return one page of 200 x 100 pt with a black square of 20 pt, 30 pt from the left, 10 pt from below."""
    stream = io.BytesIO()
    canvas = Canvas(stream, pagesize=(200, 100))
    canvas.rect(30, 10, 20, 20, stroke=0, fill=1)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def test_a_page_has_its_size_in_mm() -> None:
    (page,) = pages_of(drawn(), 36.0)
    # A point is 1/72 inch, an inch 25.4 mm.
    assert (page.width_mm, page.height_mm) == (pytest.approx(70.56, abs=0.01), pytest.approx(35.28, abs=0.01))
    assert (page.small.wide, page.small.high) == (100, 50)


def test_ink_lies_where_the_pdf_puts_it() -> None:
    pixels = page_pixels(drawn(), 0, 144.0)
    assert (pixels.wide, pixels.high) == (400, 200)

    def at(x: int, y: int) -> tuple[int, ...]:
        start = y * pixels.stride + 3 * x
        return tuple(pixels.data[start : start + 3])

    for x, y in ((64, 144), (96, 144), (64, 176), (96, 176)):  # within the corners of the square
        assert at(x, y) == (0, 0, 0)
    for x, y in ((56, 160), (104, 160), (80, 136), (80, 184)):  # beside it
        assert at(x, y) == (255, 255, 255)


def test_the_papers_are_those_of_the_pack(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[str, str]] = []

    def printed(key: str):
        def make(evaluation: object, *, date: str, revision: str = "") -> bytes:
            asked.append((date, revision))
            return key.encode()

        return make

    monkeypatch.setattr(pack, "PAPERS", {key: printed(key) for key in pack.PAPERS})
    monkeypatch.setattr(pack, "with_rules_of_the_pack", lambda evaluation: evaluation)
    monkeypatch.setattr(pack, "revision_of", lambda evaluation: f"mark of {evaluation}")
    told: list[str] = []
    made = pack.papers("a ramp", lambda share, key: told.append(key))  # type: ignore[arg-type]
    assert made == {key: key.encode() for key in ("templates", "bench-pack", "check-sheet", "hand-over")}
    assert told == list(made)
    assert set(asked) == {(datetime.date.today().isoformat(), "mark of a ramp")}
