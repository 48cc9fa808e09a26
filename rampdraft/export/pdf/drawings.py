"""The drawing sheets of the workshop pack: general arrangement, sites, parts, cutting plan."""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import groupby
from typing import Final

from rampdraft.drawing.ink import Label, Path, Picture, area, line
from rampdraft.drawing.part import end_view, part_view
from rampdraft.drawing.plan import plan_view
from rampdraft.drawing.sheet import SCALES, Placed, filling, fitted, scale_text
from rampdraft.drawing.side import standing_view, stowed_view
from rampdraft.drawing.style import QUIET
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.flow import (
    BOTTOM_MM,
    LEFT_MM,
    RIGHT_MM,
    TOP_MM,
    WIDTH_MM,
    Flow,
    Op,
    Page,
    block,
    line_mm,
    text,
)
from rampdraft.export.pdf.paper import shortened, width_mm
from rampdraft.figures import fixed
from rampdraft.geometry.outline import rectangle
from rampdraft.mechanics.results import SitePose
from rampdraft.model.section import parse_section
from rampdraft.shop.cutting.results import Bar
from rampdraft.shop.parts import Part, full_number
from rampdraft.units import MM

_GAP_MM: Final = 6.0
TITLE_MM: Final = 6.0
"""Room for a view's title above it."""


def at(placed: Placed, x: MM, y: MM) -> Op:
    """Return the printing of a picture with the lower left corner of its box at (x, y)."""
    return lambda paper: paper.placed(placed, x, y)


def deployed(evaluation: Evaluation, site: SitePose, per_mm: MM) -> Picture:
    """Return the side view of the ramp put down at a site, without room for a toe flap that it has not."""
    return standing_view(evaluation, site, per_mm, flap=evaluation.design.toe.kind == "flap")


def titled(placed: Placed, words: str, x: MM, top: MM) -> tuple[Op, Op]:
    """Return the printing of a picture below its title, whose top left corner is at (x, top)."""
    title = text((x, top - 3.5), words, 9.0, bold=True)
    return title, at(placed, x, top - TITLE_MM - placed.size_mm[1])


def arrangement_pages(evaluation: Evaluation) -> list[Page]:
    """Return the general arrangement at one scale: side view deployed and plan, one above the other, and side
    view stowed.

    They share one sheet where they fit at the scale that the longest view allows, and take two where they do
    not.
    """
    site = evaluation.sites[0]
    name = shortened(site.site, 75.0, 9.0)
    titles = (f"Side view, deployed: {name}, {site.deck}", "Plan, laid flat", "Side view, stowed")

    def draw(scale: float) -> list[Placed]:
        views = (
            deployed(evaluation, site, scale),
            plan_view(evaluation, per_mm=scale),
            stowed_view(evaluation, scale),
        )
        return [Placed(picture=view, scale=scale) for view in views]

    height = TOP_MM - BOTTOM_MM - TITLE_MM
    views = next(
        (views for views in map(draw, SCALES) if all(_fits(view, WIDTH_MM, height) for view in views)),
        draw(SCALES[-1]),
    )
    spots = _spots([view.size_mm for view in views], height)
    pages = [
        Page(kind="General arrangement", scale=scale_text(views[0].scale), is_drawing=True)
        for _ in {sheet for sheet, _, _ in spots}
    ]
    for view, words, (sheet, x, top) in zip(views, titles, spots, strict=True):
        pages[sheet].ops.extend(titled(view, words, x, top))
    return pages


def _spots(sizes: list[tuple[MM, MM]], height: MM) -> list[tuple[int, MM, MM]]:
    """Return (sheet, left, top) of the side view, the plan and the stowed side view, on as few sheets as may
    be.
    """
    (side_w, side_h), (plan_w, plan_h), (stowed_w, _) = sizes
    right, below = RIGHT_MM - stowed_w, TOP_MM - side_h - TITLE_MM - _GAP_MM
    room = WIDTH_MM - stowed_w - _GAP_MM
    stacked = side_h + plan_h + _GAP_MM + TITLE_MM <= height
    if stacked:
        last = (0, right, TOP_MM) if max(side_w, plan_w) <= room else (1, LEFT_MM, TOP_MM)
        return [(0, LEFT_MM, TOP_MM), (0, LEFT_MM, below), last]
    last = (
        (0, right, TOP_MM)
        if side_w <= room
        else (1, right, TOP_MM)
        if plan_w <= room
        else (2, LEFT_MM, TOP_MM)
    )
    return [(0, LEFT_MM, TOP_MM), (1, LEFT_MM, TOP_MM), last]


def _fits(view: Placed, wide: MM, tall: MM) -> bool:
    return view.size_mm[0] <= wide and view.size_mm[1] <= tall


def site_pages(evaluation: Evaluation) -> list[Page]:
    """Return the ramp put down at each site, deck empty on the left and loaded on the right: sketches of one
    size.
    """
    cell_w, cell_h = (WIDTH_MM - _GAP_MM) / 2, 60.0
    scale = max(
        filling(partial(deployed, evaluation, site), cell_w, cell_h).scale for site in evaluation.sites
    )
    views = [Placed(picture=deployed(evaluation, site, scale), scale=scale) for site in evaluation.sites]
    pages: list[Page] = []
    top = BOTTOM_MM
    for start in range(0, len(views), 2):
        shelf = list(zip(views[start : start + 2], evaluation.sites[start : start + 2], strict=True))
        height = max(view.size_mm[1] for view, _ in shelf) + TITLE_MM
        if not pages or top - height < BOTTOM_MM:
            pages.append(Page(kind="Sites", scale="not to scale", is_drawing=True))
            top = TOP_MM
        for column, (view, site) in enumerate(shelf):
            x = LEFT_MM + column * (cell_w + _GAP_MM)
            name = shortened(site.site, cell_w - 35.0, 9.0)
            pages[-1].ops.extend(titled(view, f"{site.site_number}  {name}, {site.deck}", x, top))
        top -= height + _GAP_MM
    return pages


def part_pages(evaluation: Evaluation) -> list[Page]:
    """Return the drawings of the parts, as many to a sheet as fit; what is coped or tapered has its ends
    enlarged.

    Shelves are filled tallest drawing first, each into the first shelf with room for it.
    """
    pages: list[Page] = []
    shelves: list[_Shelf] = []
    free_mm = 0.0
    cells = [_part_cell(part, evaluation.design.about.drawing_number) for part in evaluation.parts]
    for draw, wide, tall in sorted(cells, key=lambda cell: -cell[2]):
        shelf = next((shelf for shelf in shelves if shelf.x_mm + wide <= RIGHT_MM), None)
        if shelf is None:
            if not pages or free_mm < tall:
                pages.append(Page(kind="Part drawings", scale="as shown", is_drawing=True))
                free_mm = TOP_MM - BOTTOM_MM
            shelf = _Shelf(page=pages[-1], x_mm=LEFT_MM, top_mm=BOTTOM_MM + free_mm)
            shelves.append(shelf)
            free_mm -= tall + _GAP_MM
        shelf.page.ops.extend(draw(shelf.x_mm, shelf.top_mm))
        shelf.x_mm += wide + 1.5 * _GAP_MM
    return pages


@dataclass(slots=True, kw_only=True)
class _Shelf:
    """A row of drawings that is being filled from the left."""

    page: Page
    x_mm: MM
    top_mm: MM


def _part_cell(part: Part, drawing_number: str) -> tuple[Callable[[MM, MM], list[Op]], MM, MM]:
    """Return the printing of a part's drawing from its top left corner, and its width and height."""
    piece = part.piece
    cut = [which for which in (0, 1) if piece.ends[which].kind != "square"]
    views = [fitted(lambda per_mm: part_view(part, per_mm=per_mm), 124.0 if cut else 122.0, 62.0)]
    notes = [scale_text(views[0].scale)]
    for which in cut:
        view = fitted(lambda per_mm, which=which: end_view(part, which, per_mm=per_mm), 64.0, 62.0)
        views.append(view)
        notes.append(f"{'other' if which else 'datum'} end, {scale_text(view.scale)}")
    wide = max(70.0, sum(view.size_mm[0] for view in views) + 2.0 * (len(views) - 1))
    hand = f", {part.hand} hand" if part.hand else ""
    head = f"{full_number(part, drawing_number)}  {part.name}{hand}: {part.quantity} off"
    lines = tuple(_part_words(part))
    _, head_mm = block((0, 0), head, wide, 9.0, bold=True)
    heights = [block((0, 0), words, wide, 7.5)[1] for words in lines]
    words_mm = head_mm + sum(heights)
    pictures_mm = max(view.size_mm[1] for view in views)

    def draw(x: MM, top: MM) -> list[Op]:
        ops, y = list(block((x, top), head, wide, 9.0, bold=True)[0]), top - head_mm
        for words, height in zip(lines, heights, strict=True):
            ops.extend(block((x, y), words, wide, 7.5, colour=QUIET)[0])
            y -= height
        for view, note in zip(views, notes, strict=True):
            view_y = y - (pictures_mm + view.size_mm[1]) / 2
            ops.append(at(view, x, view_y))
            ops.append(
                text(
                    (x + view.size_mm[0] / 2, y - pictures_mm - 3.0), note, 7.0, colour=QUIET, anchor="centre"
                )
            )
            x += view.size_mm[0] + 2.0
        return ops

    return draw, wide, words_mm + pictures_mm + 4.0


def _part_words(part: Part) -> Iterator[str]:
    """Yield the lines below a part's name: what it is made of, its ends, what its dimensions lead to."""
    piece = part.piece
    yield (
        f"{piece.section.text}, {piece.material}, {mm_text(piece.length_mm, 2)} long,"
        f" {fixed(part.mass_kg, 2, 'kg')} each"
    )
    named = zip(("datum", "other"), piece.ends, strict=True)
    ends = "; ".join(f"{name} end: {end.text}" for name, end in named if end.kind != "square")
    if ends:
        yield ends
    seen = "; ".join(sorted({mark.what for mark in piece.marks}))
    if seen:
        yield seen if piece.role == "knuckle" else f"at the running dimensions: {seen}"


def cutting_plan(flow: Flow, bars: Iterable[Bar]) -> None:
    """Print the stock lengths with what is cut from each, like ones together, all at one scale."""
    bars = tuple(bars)
    longest = max((bar.stock_mm for bar in bars), default=1.0)
    per_mm = longest / (WIDTH_MM - 40.0)
    for (section, material), of_section in groupby(bars, key=lambda bar: (bar.section, bar.material)):
        like = [(bar, len(list(same))) for bar, same in groupby(of_section)]
        flow.room_for(28.0)
        count = sum(number for _, number in like)
        flow.add(
            [
                text(
                    (LEFT_MM, flow.y - 4.0),
                    f"{section}, {material}: {count} stock length{'s' if count > 1 else ''}",
                    9.0,
                    bold=True,
                )
            ],
            6.5,
        )
        for bar, number in like:
            _bar(flow, bar, number, per_mm)


def _bar(flow: Flow, bar: Bar, number: int, per_mm: MM) -> None:
    tall, x0 = 6.0, LEFT_MM + 14.0
    runs = [
        (part, length, len(list(same)))
        for (part, length), same in groupby((cut.part, cut.length_mm) for cut in bar.cuts)
    ]
    words = ", ".join(f"{count} × {part} {mm_text(length)}" for part, length, count in runs)
    words = f"{words}; offcut {mm_text(bar.offcut_mm)}"
    flow.room_for(tall + 2 * line_mm(7.5) + 4.0)
    y = flow.y - tall
    ends = x0 + bar.stock_mm / per_mm
    marks: list[Path | Label] = [area(rectangle(x0, y, ends, y + tall), "thin", "paper")]
    fill = "timber" if parse_section(bar.section).kind == "timber" else "inner"
    for cut in bar.cuts:
        start = x0 + cut.at_mm / per_mm
        end = start + cut.length_mm / per_mm
        marks.append(area(rectangle(start, y, end, y + tall), "thin", fill))
        if width_mm(cut.part, 7.0) < end - start - 1.0:
            marks.append(
                Label(
                    text=cut.part,
                    at=((start + end) / 2, y + 2.0),
                    anchor="centre",
                    pen="outline",
                    size_pt=7.0,
                )
            )
    left = ends - bar.offcut_mm / per_mm
    if ends - left > 1.0:
        marks.append(line((left, y), (ends, y + tall), "thin"))
    wrapped_ops, words_mm = block((x0, y - 0.5), words, WIDTH_MM - 16.0, 7.5, colour=QUIET)
    ops: list[Op] = [
        text((LEFT_MM, y + 2.0), f"{number} ×", 9.0, bold=True),
        lambda paper: paper.marks(marks),
        text((ends + 1.5, y + 2.0), mm_text(bar.stock_mm) + (" in hand" if bar.in_hand else ""), 8.0),
        *wrapped_ops,
    ]
    flow.add(ops, tall + words_mm + 3.0)
