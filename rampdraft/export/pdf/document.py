"""The workshop pack as one PDF on A4, landscape: what goes to the saw, the welder and the customer."""

from typing import Final

from rampdraft.drawing.sheet import LANDSCAPE_MM, TitleBlock, check_line, frame_marks
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf import cover, drawings, fold, strength, tables
from rampdraft.export.pdf.flow import BOTTOM_MM, LEFT_MM, Page
from rampdraft.export.pdf.paper import LOCK, Paper, fitted_text

CHECK_LINE_X_MM: Final = LEFT_MM - 2.8
"""In the inset between the frame and the drawing."""

SHORT_CAUTION: Final = (
    "An aid to a competent person, not approval. Prove by a test load before use. All cautions: last sheets."
)
"""At the foot of each sheet; the cautions stand in full on the cover and at the end."""


def workshop_pdf(evaluation: Evaluation, *, date: str) -> bytes:
    """Return the workshop pack of a design: equal bytes for an equal evaluation and date.

    `date` is printed in the title blocks as it is given. Safe to call from any thread; calls wait for each
    other.
    """
    with LOCK:
        return _printed(evaluation, _pages(evaluation), date)


def _pages(evaluation: Evaluation) -> list[Page]:
    return [
        cover.cover_page(evaluation),
        *drawings.arrangement_pages(evaluation),
        *fold.fold_pages(evaluation),
        *fold.fold_chart_pages(evaluation),
        *drawings.site_pages(evaluation),
        *tables.part_list_pages(evaluation),
        *tables.cut_list_pages(evaluation),
        *drawings.part_pages(evaluation),
        *tables.gradient_pages(evaluation),
        *tables.check_pages(evaluation),
        *strength.strength_pages(evaluation),
        *strength.carrier_pages(evaluation),
        *tables.caution_pages(evaluation),
    ]


def _printed(evaluation: Evaluation, pages: list[Page], date: str) -> bytes:
    about = evaluation.design.about
    paper = Paper(title=about.name, author=about.author)
    for number, page in enumerate(pages, start=1):
        paper.sheet(LANDSCAPE_MM)
        block = TitleBlock(
            title=about.name,
            kind=page.kind,
            number=about.drawing_number,
            author=about.author,
            date=date,
            scale=page.scale,
            sheet=number,
            sheets=len(pages),
            caution=SHORT_CAUTION,
        )
        paper.marks(frame_marks(LANDSCAPE_MM, block, fitted_text))
        if page.is_drawing:
            paper.marks(check_line(CHECK_LINE_X_MM, BOTTOM_MM))
        for op in page.ops:
            op(paper)
        paper.sheet_done()
    return paper.finished()
