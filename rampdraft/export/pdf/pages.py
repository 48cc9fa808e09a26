"""The pages of a PDF as they come out of a printer: alone imports pypdfium2."""

# pypdfium2's types are partly open.
# pyright: reportUnknownMemberType=false, reportUnknownArgumentType=false, reportUnknownVariableType=false
# pyright: reportMissingTypeStubs=false, reportUnknownParameterType=false

import threading
from contextlib import closing
from dataclasses import dataclass
from typing import Final

import pypdfium2

from rampdraft.units import MM

_PT_PER_INCH: Final = 72.0
_MM_PER_INCH: Final = 25.4
_LOCK: Final = threading.Lock()
"""PDFium works for one thread at a time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pixels:
    """A picture, row by row from the top, three bytes a pixel: blue, green, red."""

    wide: int
    high: int
    stride: int
    """Bytes from one row to the next."""
    data: bytes


@dataclass(frozen=True, slots=True, kw_only=True)
class Page:
    """One page, with a small picture of it."""

    width_mm: MM
    height_mm: MM
    small: Pixels
    titles: tuple[str, ...] = ()
    """What it is headed with."""


def pages_of(pdf: bytes, small_dpi: float) -> tuple[Page, ...]:
    """Return the pages of a PDF, with small pictures of them."""
    with _LOCK, closing(pypdfium2.PdfDocument(pdf)) as document:
        titles: dict[int | None, list[str]] = {}
        for mark in document.get_toc():
            place = mark.get_dest()
            titles.setdefault(place.get_index() if place is not None else None, []).append(mark.get_title())
        found: list[Page] = []
        for number, page in enumerate(document):
            wide, high = (_MM_PER_INCH * pt / _PT_PER_INCH for pt in page.get_size())
            found.append(
                Page(
                    width_mm=round(wide, 2),
                    height_mm=round(high, 2),
                    small=_pixels(page, small_dpi),
                    titles=tuple(titles.get(number, ())),
                )
            )
        return tuple(found)


def page_pixels(pdf: bytes, number: int, dpi: float) -> Pixels:
    """Return a page, counted from 0, as a picture with so many pixels to the inch."""
    with _LOCK, closing(pypdfium2.PdfDocument(pdf)) as document:
        return _pixels(document[number], dpi)


def _pixels(page: pypdfium2.PdfPage, dpi: float) -> Pixels:
    bitmap = page.render(scale=dpi / _PT_PER_INCH)  # pyright: ignore[reportArgumentType]: a float is meant
    # A copy: the bitmap's memory goes with the document.
    made = Pixels(wide=bitmap.width, high=bitmap.height, stride=bitmap.stride, data=bytes(bitmap.buffer))
    bitmap.close()
    return made
