"""What stands on the papers, read back by another library."""

import io
from functools import cache

import pypdf
import pypdfium2
from PIL import Image

from rampdraft.export.pdf.book import Flowed, Imprint, Part, bound
from rampdraft.export.pdf.paper import MM_PER_PT

IMPRINT = Imprint(title="Test", number="T1", author="", date="2026-03-01", revision="")


def pages(data: bytes) -> list[pypdf.PageObject]:
    return list(pypdf.PdfReader(io.BytesIO(data)).pages)


def flat(text: str) -> str:
    """Return a text without its line breaks, so that wrapped words can be looked for."""
    return " ".join(text.split())


@cache
def texts(data: bytes) -> tuple[str, ...]:
    """Return what stands on each page, on one line."""
    if not pages(data):  # pdfium opens no paper without a page
        return ()
    return tuple(flat(page.get_textpage().get_text_range()) for page in pypdfium2.PdfDocument(data))


def of_story(*story: object) -> str:
    """Return what flows over pages of its own, without what stands around it."""
    data = bound([Flowed(kind="", story=list(story))], IMPRINT)
    return " ".join(texts(data))


def parts_of(*parts: Part) -> bytes:
    return bound(parts, IMPRINT)


def rendered(data: bytes, number: int, dpi: int) -> Image.Image:
    return pypdfium2.PdfDocument(data)[number].render(scale=dpi / 72).to_pil().convert("L")


def ink_box(image: Image.Image, dpi: int) -> tuple[float, float, float, float]:
    """Return the box of all that is not white, in mm from the lower left corner."""
    left, top, right, bottom = image.point(lambda grey: 255 if grey < 250 else 0).getbbox()
    mm = 25.4 / dpi
    return left * mm, (image.height - bottom) * mm, right * mm, (image.height - top) * mm


def places(page: pypdf.PageObject) -> list[tuple[str, float, float]]:
    """Return each text with its baseline's start in mm."""
    found = []

    def visit(text, cm, tm, _font, _size):
        if text.strip():
            x = tm[4] * cm[0] + tm[5] * cm[2] + cm[4]
            y = tm[4] * cm[1] + tm[5] * cm[3] + cm[5]
            found.append((text.strip(), x * MM_PER_PT, y * MM_PER_PT))

    page.extract_text(visitor_text=visit)
    return found


def letter_sizes(page: pypdf.PageObject) -> set[float]:
    """Return the sizes of all letters of a page, in points."""
    sizes = set()

    def visit(text, cm, tm, _font, size):
        if text.strip():
            along = size * (abs(cm[0] * tm[0] + cm[2] * tm[1]) + abs(cm[1] * tm[0] + cm[3] * tm[1]))
            sizes.add(round(along, 1))

    page.extract_text(visitor_text=visit)
    return sizes
