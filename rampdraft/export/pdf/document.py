"""The workshop pack as one PDF on A4, landscape: what goes to the saw, the welder and the customer; and its
cover: name, side view, key figures, cautions.
"""

from collections.abc import Callable, Iterator
from functools import partial
from typing import Final

from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.result import tally_words
from rampdraft.drawing.sheet import LANDSCAPE_MM, TitleBlock, check_line, filling, frame_marks
from rampdraft.drawing.style import QUIET
from rampdraft.drawing.text import gradient_text, mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf import drawings, fold, rolling, strength, tables
from rampdraft.export.pdf.drawings import at, deployed
from rampdraft.export.pdf.flow import (
    BODY_PT,
    BOTTOM_MM,
    LEFT_MM,
    TOP_MM,
    WIDTH_MM,
    Op,
    Page,
    block,
    line_mm,
    rule,
    text,
)
from rampdraft.export.pdf.paper import LOCK, Paper, fitted_text, wrapped
from rampdraft.export.pdf.tables import surfaces
from rampdraft.figures import exact, fixed, persons_words
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.mechanics.loading.loads import persons
from rampdraft.rounding import greatest
from rampdraft.units import MM

_WHAT: Final = "Two-section folding ramp: drawings, part list, cut list, gradients and checks"
CHECK_LINE_X_MM: Final = LEFT_MM - 2.8
"""In the inset between the frame and the drawing."""

SHORT_CAUTION: Final = (
    "An aid to a competent person, not approval. Prove by a test load before use. All cautions: last sheets."
)
"""At the foot of each sheet; the cautions stand in full on the cover and at the end."""


def workshop_pdf(evaluation: Evaluation, *, date: str, revision: str = "") -> bytes:
    """Return the workshop pack of a design: equal bytes for an equal evaluation, date and revision.

    `date` and `revision` are printed in the title blocks as they are given. Safe to call from any thread;
    calls wait for each other.
    """
    with LOCK:
        return _printed(evaluation, _pages(evaluation), date, revision)


def _pages(evaluation: Evaluation) -> list[Page]:
    return [
        cover_page(evaluation),
        *drawings.arrangement_pages(evaluation),
        *fold.fold_pages(evaluation),
        *fold.fold_chart_pages(evaluation),
        *drawings.site_pages(evaluation),
        *tables.part_list_pages(evaluation),
        *tables.cut_list_pages(evaluation),
        *drawings.part_pages(evaluation),
        *tables.gradient_pages(evaluation),
        *rolling.rolling_pages(evaluation),
        *tables.check_pages(evaluation),
        *strength.strength_pages(evaluation),
        *strength.carrier_pages(evaluation),
        *tables.caution_pages(evaluation),
    ]


def _printed(evaluation: Evaluation, pages: list[Page], date: str, revision: str) -> bytes:
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
            revision=revision,
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


def cover_page(evaluation: Evaluation) -> Page:
    """Return the cover: name, side view, key figures, cautions."""
    about, site = evaluation.design.about, evaluation.sites[0]
    page = Page(kind="Workshop pack")
    size_pt = 22.0 if len(wrapped(about.name, WIDTH_MM, 22.0, bold=True)) == 1 else 14.0
    y = TOP_MM - _few_lines(page, TOP_MM, about.name, size_pt, bold=True) - 1.5
    page.ops.append(text((LEFT_MM, y - 4.0), _WHAT, 10.0, colour=QUIET))
    y -= 6.5
    y -= _few_lines(page, y, about.note, 8.5) + 2.5
    left_mm, gap = 0.6 * WIDTH_MM, 10.0
    words, words_mm = _figures(tuple(_key_figures(evaluation)), left_mm)
    foot = max(BOTTOM_MM + words_mm, y - 62.0 - 3.0)
    room = y - foot - 3.0
    view = filling(partial(deployed, evaluation, site), WIDTH_MM, room)
    wide, tall = view.size_mm
    page.ops.append(at(view, LEFT_MM + (WIDTH_MM - wide) / 2, foot + 3.0 + (room - tall) / 2))
    page.ops.extend(words(foot))
    x, top = LEFT_MM + left_mm + gap, foot
    page.ops.append(text((x, top - 3.5), "Cautions", 10.0, bold=True))
    top -= 6.0
    for caution in CAUTIONS:
        ops, height = block((x, top), caution, WIDTH_MM - left_mm - gap, BODY_PT)
        page.ops.extend(ops)
        top -= height + 1.0
    return page


def _few_lines(page: Page, top: MM, words: str, size_pt: float, *, bold: bool = False) -> MM:
    """Print the first two lines of a text, and return their height."""
    ops, height = block((LEFT_MM, top), words, WIDTH_MM, size_pt, bold=bold)
    page.ops.extend(ops[:2])
    return height * len(ops[:2]) / len(ops)


def _figures(rows: tuple[tuple[str, str], ...], wide: MM) -> tuple[Callable[[MM], list[Op]], MM]:
    """Return the printing of the key figures from a height downwards, and how much room they need."""
    heights = [len(wrapped(value, wide - 40.0, BODY_PT)) * line_mm(BODY_PT) + 1.2 for _, value in rows]

    def printing(top: MM) -> list[Op]:
        ops: list[Op] = [text((LEFT_MM, top - 3.5), "Key figures", 10.0, bold=True)]
        y = top - 5.5
        for (name, value), height in zip(rows, heights, strict=True):
            ops.append(rule((LEFT_MM, y), (LEFT_MM + wide, y)))
            ops.append(text((LEFT_MM, y - 3.5), name, BODY_PT, colour=QUIET))
            ops.extend(block((LEFT_MM + 40.0, y - 0.6), value, wide - 40.0, BODY_PT)[0])
            y -= height
        return ops

    return printing, 5.5 + sum(heights)


def _key_figures(evaluation: Evaluation) -> Iterator[tuple[str, str]]:
    yield from _ramp_figures(evaluation)
    yield from _fold_figures(evaluation)
    yield "Checks", tally_words(evaluation.all_checks)


def _ramp_figures(evaluation: Evaluation) -> Iterator[tuple[str, str]]:
    design, assembly, stowed = evaluation.design, evaluation.assembly, evaluation.stowed
    loaded = edge_height_mm(design, evaluation.site_pose(1, "loaded").drop_mm)
    yield "Deck height", f"{mm_text(edge_height_mm(design))} mm empty, {mm_text(loaded)} mm loaded"
    yield (
        "Leaves",
        (
            f"inner {mm_text(design.inner_leaf.length_mm)} mm, outer {mm_text(design.outer_leaf.length_mm)}"
            f" mm, {mm_text(design.inner_leaf.width_mm)} mm wide; closing {design.fold.closing} together"
        ),
    )
    at_once = persons_words(persons(design))
    yield "Rated load", f"{exact(design.use.rated_load_kg, 'kg')}, at most {at_once} at once"
    steepest = max(evaluation.sites, key=lambda site: abs(site.steepest.ratio))
    name = next(name for name, leaf in surfaces(steepest) if leaf is steepest.steepest)
    yield (
        "Steepest gradient",
        f"{gradient_text(steepest.steepest)}, {name} at {steepest.site}, {steepest.deck}",
    )
    yield (
        "Stowed",
        (
            f"{mm_text(stowed.above_deck_mm, 0)} mm above the deck, {mm_text(stowed.thickness_mm, 0)} mm"
            f" thick, {mm_text(stowed.out_mm, 0)} mm out, {mm_text(stowed.over_deck_mm, 0)} mm in over the"
            " deck"
        ),
    )
    inner, outer, loose = assembly.inner.mass_kg, assembly.outer.mass_kg, assembly.loose_kg
    whole = sum(member.mass_kg for member in assembly.members)
    yield (
        "Mass",
        (
            f"{fixed(whole, 1, 'kg')}: inner leaf {inner:.1f}, outer leaf {outer:.1f}, bridge plate and props"
            f" {loose:.1f}, welded to the carrier {whole - inner - outer - loose:.1f}"
        ),
    )


def _fold_figures(evaluation: Evaluation) -> Iterator[tuple[str, str]]:
    fold = evaluation.fold
    least = fold.clearance.tightest.clearance_mm
    clear = f"{mm_text(least)} mm" if least >= 0 else f"clash, {mm_text(-least)} mm deep"
    yield "Least clearance", f"{clear}, {fold.clearance.tightest.what}"
    room, worst = fold.envelope, greatest(evaluation.hands, lambda stage: stage.share)
    place = f"{fixed(100 * worst.at, 0, '%')} of the way; friction left out"
    yield "Folding by hand", f"{hands_words(worst)}, {people_words(worst)}, at the worst place, {place}"
    yield (
        "Room to fold",
        (
            f"{mm_text(room.in_front_mm, 0)} mm in front of the deck edge, {mm_text(room.above_deck_mm, 0)}"
            " mm above the deck"
        ),
    )
    yield "Joint under load", fold.joint.words
