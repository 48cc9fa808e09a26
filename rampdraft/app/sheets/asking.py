"""The papers of a design and their pages, as questions of the window."""

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.progress import Progress

if TYPE_CHECKING:
    from rampdraft.export.pdf.pages import Page, Pixels

SMALL_DPI: Final = 9.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Paper:
    """What is printed together."""

    key: str
    pdf: bytes
    pages: "tuple[Page, ...]"


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One page of a paper."""

    pdf: bytes
    number: int
    """Counted from 0."""
    page: "Page"


def make_papers(evaluation: Evaluation, progress: Progress) -> tuple[Paper, ...]:
    """Return all that a design's pack holds to be printed."""
    from rampdraft.export.pack import papers
    from rampdraft.export.pdf.pages import pages_of

    made = papers(evaluation, progress).items()
    return tuple(Paper(key=key, pdf=pdf, pages=pages_of(pdf, SMALL_DPI)) for key, pdf in made)


def draw_page(pdf: bytes, number: int, dpi: float, _progress: Progress) -> "Pixels":
    """Return a page, counted from 0, with so many pixels to the inch."""
    from rampdraft.export.pdf.pages import page_pixels

    return page_pixels(pdf, number, dpi)
