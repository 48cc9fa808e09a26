"""The drawing sheets of the bench pack: general arrangement, fold, parts."""

from collections.abc import Iterator
from typing import Final

from rampdraft.drawing.arrangement import arrangement
from rampdraft.drawing.details import Detail, details
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.part import END_MM, PART_MM, end_view, part_view
from rampdraft.drawing.sheet import SCALES, Placed, fitted, scale_text
from rampdraft.drawing.style import QUIET
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import Imprint, Op, Sheet
from rampdraft.export.pdf.fold import fold_pictures
from rampdraft.export.pdf.packing import GAP_MM, Cell, in_order, packed, stacked, titled_cell
from rampdraft.export.pdf.paper import shortened
from rampdraft.export.pdf.room import Room, block, put, text
from rampdraft.shop.parts import Part, full_number
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import called, say

_DETAIL_MM: Final = (138.0, 88.0)
"""Room for a detail with what stands beside it."""
_FOLD_MM: Final = (80.0, 50.0)
"""Room for a picture of the fold."""


def imprint_of(evaluation: Evaluation, date: str, revision: str) -> Imprint:
    """Return what stands on every sheet of the papers of a design."""
    about = evaluation.design.about
    return Imprint(
        title=about.name, number=about.drawing_number, author=about.author, date=date, revision=revision
    )


def arrangement_sheets(evaluation: Evaluation, room: Room) -> list[Sheet]:
    """Return the general arrangement at one scale, side view deployed, plan and side view stowed, and the
    fold in numbered pictures.

    The scale is the largest at which the views fit on one sheet; where their part numbers then do not, each
    view goes to the next sheet that has room for it.
    """
    scale = next(
        (one for one in SCALES if _one_sheet(*_arranged(evaluation, one, numbers=False)[:2], room)),
        SCALES[-1],
    )
    standing, stowed, end = _arranged(evaluation, scale, numbers=True)
    both = stacked(stowed, end)
    if _one_sheet(standing, both, room):
        shown: tuple[Cell, ...] = (standing, both)
    elif _one_sheet(standing, stowed, room):
        shown = (standing, stowed, end)
    else:
        shown = _views(evaluation, scale, numbers=True)
    return in_order((*shown, *_fold_cells(evaluation)), say("General arrangement and fold"), room)


def _arranged(evaluation: Evaluation, scale: float, *, numbers: bool) -> tuple[Cell, Cell, Cell]:
    """Return side view and plan above each other, the side view stowed, and the end view."""
    side, plan, stowed, end = _views(evaluation, scale, numbers=numbers)
    return stacked(side, plan), stowed, end


def _views(evaluation: Evaluation, scale: float, *, numbers: bool) -> tuple[Cell, Cell, Cell, Cell]:
    """Return side view, plan, side view stowed and end view."""
    site = evaluation.sites[0]
    views, name = arrangement(evaluation, scale, numbers=numbers), shortened(site.site, 75.0, 9.0)

    def cell(view: Picture, words: str) -> Cell:
        return titled_cell(Placed(picture=view, scale=scale), f"{words}, {scale_text(scale)}")

    return (
        cell(views.deployed, say("Side view, deployed: {name}, {deck}", name=name, deck=site.deck)),
        cell(views.plan, say("Plan, laid flat")),
        cell(views.stowed, say("Side view, stowed")),
        cell(views.end, say("End view, from the toe")),
    )


def _one_sheet(standing: Cell, stowed: Cell, room: Room) -> bool:
    """Return whether both fit beside each other."""
    wide = standing.wide + GAP_MM + stowed.wide
    return wide <= room.wide and max(standing.tall, stowed.tall) <= room.tall


def _fold_cells(evaluation: Evaluation) -> Iterator[Cell]:
    """Yield the fold in numbered pictures."""
    for number, one in enumerate(fold_pictures(evaluation, *_FOLD_MM), start=1):
        yield _fold_cell(f"{number}  {one.say}", one.view, one.under)


def _fold_cell(say: str, view: Placed, under: str) -> Cell:
    wide = _FOLD_MM[0]
    words_mm, under_mm = block((0, 0), say, wide, 9.0)[1] + 1.0, block((0, 0), under, wide, 7.5)[1] + 1.0

    def draw(x: MM, top: MM) -> list[Op]:
        foot = top - words_mm - view.size_mm[1]
        return [
            *block((x, top), say, wide, 9.0)[0],
            put(view, x, foot),
            *block((x, foot - 1.0), under, wide, 7.5, colour=QUIET)[0],
        ]

    return Cell(draw=draw, wide=wide, tall=words_mm + view.size_mm[1] + under_mm)


def detail_sheets(evaluation: Evaluation, room: Room) -> list[Sheet]:
    """Return the details of the ramp, enlarged, and the drawings of the parts, as many to a sheet as fit;
    what of a part is coped or tapered has its ends enlarged.
    """
    number = evaluation.design.about.drawing_number
    groups = (
        [_detail_cell(detail) for detail in details(evaluation)],
        [_part_cell(part, number) for part in evaluation.parts],
    )
    return packed(groups, say("Details and parts"), room)


def _detail_cell(detail: Detail) -> Cell:
    view = fitted(detail.draw, *_DETAIL_MM)
    return titled_cell(view, f"{detail.title}, {scale_text(view.scale)}")


def _part_cell(part: Part, drawing_number: str) -> Cell:
    """Return a part's drawing."""
    piece = part.piece
    cut = [which for which in (0, 1) if piece.ends[which].kind != "square"]
    views = [fitted(lambda per_mm: part_view(part, per_mm=per_mm), *PART_MM)]
    notes = [scale_text(views[0].scale)]
    for which in cut:
        view = fitted(lambda per_mm, which=which: end_view(part, which, per_mm=per_mm), *END_MM)
        views.append(view)
        notes.append(
            say("other end, {scale}" if which else "datum end, {scale}", scale=scale_text(view.scale))
        )
    wide = max(48.0, sum(view.size_mm[0] for view in views) + 2.0 * (len(views) - 1))
    head = say(
        "{number}  {name}: {quantity} off",
        number=full_number(part, drawing_number),
        name=part.with_hand,
        quantity=part.quantity,
    )
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
            ops.append(put(view, x, view_y))
            ops.append(
                text(
                    (x + view.size_mm[0] / 2, y - pictures_mm - 3.0), note, 7.0, colour=QUIET, anchor="centre"
                )
            )
            x += view.size_mm[0] + 2.0
        return ops

    return Cell(draw=draw, wide=wide, tall=words_mm + pictures_mm + 4.0)


def _part_words(part: Part) -> Iterator[str]:
    """Yield the lines below a part's name: what it is made of, its ends, what its dimensions lead to."""
    piece = part.piece
    yield say(
        "{section}, {material}, {length} long, {mass} each",
        section=called(piece.section.text),
        material=called(piece.material),
        length=mm_text(piece.length_mm, 2),
        mass=fixed(part.mass_kg, 2, "kg"),
    )
    sides = zip((say("datum end"), say("other end")), piece.ends, strict=True)
    ends = "; ".join(f"{side}: {end.text}" for side, end in sides if end.kind != "square")
    if ends:
        yield ends
    seen = "; ".join(sorted({mark.what for mark in piece.marks}))
    if seen:
        yield seen if piece.role == "knuckle" else say("at the running dimensions: {marks}", marks=seen)
