"""The lists of the bench pack: parts, what each is cut from, what is welded and screwed."""

from collections.abc import Iterable, Iterator
from itertools import groupby
from typing import Any, Final

from rampdraft.drawing.ink import Label, Path, area, line
from rampdraft.drawing.style import QUIET
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import FLOW_MM
from rampdraft.export.pdf.flowing import Column, Drawn, Row, heading, paragraph, table
from rampdraft.export.pdf.paper import Paper, width_mm
from rampdraft.geometry.outline import Outline, rectangle
from rampdraft.model.section import parse_section
from rampdraft.shop.cutting.plan_words import together
from rampdraft.shop.cutting.results import Bar
from rampdraft.shop.parts import Part, full_number
from rampdraft.shop.tolerances import CUT_STANDARD, WELD_STANDARD
from rampdraft.units import MM
from rampdraft.words.figures import figure, fixed, mm
from rampdraft.words.say import called, counted, say

_WIDE_MM: Final = FLOW_MM[0]
_BAR_MM: Final = 5.0


def part_list(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the part list: sizes, quantities, lengths, ends, marks, masses."""
    columns = (
        Column(head=say("Part"), width_mm=22, bold=True),
        Column(head=say("Name"), width_mm=28),
        Column(head=say("Off"), width_mm=8, anchor="right"),
        Column(head=say("Section, material"), width_mm=31),
        Column(head=say("Length mm"), width_mm=14, anchor="right"),
        Column(head=say("Ends: datum / other"), width_mm=28),
        Column(head=say("Marks at, mm from the datum end"), width_mm=36),
        Column(head=say("kg each"), width_mm=13, anchor="right"),
    )
    number = evaluation.design.about.drawing_number
    yield from heading(say("Part list"))
    yield paragraph(
        say(
            "Lengths are from longest point to longest point, before any end is cut; general"
            " tolerances {cut}, of weldments {welded}.",
            cut=CUT_STANDARD,
            welded=WELD_STANDARD,
        )
    )
    yield table(columns, (_part_row(part, number) for part in evaluation.parts), size_pt=7.0)
    pieces = sum(part.quantity for part in evaluation.parts)
    mass = sum(part.quantity * part.mass_kg for part in evaluation.parts)
    yield paragraph(
        say(
            "{parts} parts, {pieces} pieces, {mass}; paint, welds and screws not counted.",
            parts=len(evaluation.parts),
            pieces=pieces,
            mass=fixed(mass, 1, "kg"),
        )
    )


def _part_row(part: Part, drawing_number: str) -> Row:
    piece = part.piece
    ends = " / ".join(end.text for end in piece.ends)
    places: dict[str, list[str]] = {}
    for mark in piece.marks:
        places.setdefault(mark.what, []).append(figure(mark.at_mm, "", 2))
    marks = "; ".join(f"{', '.join(at)}: {what}" for what, at in places.items()) or "–"
    cells = (
        full_number(part, drawing_number),
        f"{part.words}, {say(part.hand)}" if part.hand else part.words,
        str(part.quantity),
        f"{called(piece.section.text)}, {called(piece.material)}",
        figure(piece.length_mm, "", 2),
        say("square") if all(end.kind == "square" for end in piece.ends) else ends,
        marks,
        fixed(part.mass_kg, 2),
    )
    return Row(cells=cells)


def cutting_plan(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the stock lengths with what is cut from each, like ones together, all at one scale."""
    plan, workshop = evaluation.least_plan, evaluation.design.workshop
    yield from heading(say("Cutting plan"))
    yield paragraph(plan.words)
    yield paragraph(
        say("Saw kerf {kerf}, end trim {trim}.", kerf=mm(workshop.kerf_mm), trim=mm(workshop.end_trim_mm)),
        colour=QUIET,
    )
    yield from _bars(plan.bars)
    if plan.unplaced:
        yield from heading(say("Not in the plan"), size_pt=9.0)
        for one in plan.unplaced:
            yield paragraph(f"{one.quantity} × {one.part}: {one.words}")


def _bars(bars: Iterable[Bar]) -> Iterator[Any]:
    bars = tuple(bars)
    per_mm = max((bar.stock_mm for bar in bars), default=1.0) / (_WIDE_MM - 32.0)
    for (section, material), of_section in groupby(bars, key=lambda bar: (bar.section, bar.material)):
        like = [(bar, len(list(same))) for bar, same in groupby(of_section)]
        count = sum(number for _, number in like)
        lengths = counted(count, "{count} stock length", "{count} stock lengths")
        yield paragraph(
            f"{called(section)}, {called(material)}: {lengths}",
            bold=True,
            keep=True,
        )
        for bar, number in like:
            yield _bar(bar, number, per_mm)
            yield paragraph(_cuts_words(bar), size_pt=7.0, colour=QUIET, after_mm=2.0)


def _cuts_words(bar: Bar) -> str:
    runs = [
        (part, length, list(same))
        for (part, length), same in groupby(bar.cuts, lambda cut: (cut.part, cut.length_mm))
    ]
    words = ", ".join(
        f"{len(cuts)} × {part} {figure(length, '', 2)}{together(cuts)}" for part, length, cuts in runs
    )
    return say("{cuts}; offcut {length}", cuts=words, length=figure(bar.offcut_mm, "", 1))


def _bar(bar: Bar, number: int, per_mm: MM) -> Drawn:
    x0 = 10.0
    ends, tall = x0 + bar.stock_mm / per_mm, _BAR_MM
    marks: list[Path | Label] = [area(rectangle(x0, 0, ends, tall), "thin", "paper")]
    fill = "timber" if parse_section(bar.section).kind == "timber" else "inner"
    for cut in bar.cuts:
        start = x0 + cut.at_mm / per_mm
        end = start + cut.length_mm / per_mm
        # Taper to taper, upside down: it leans on the one before it.
        leans = start, start + cut.beside_mm / per_mm
        shape = Outline(((leans[0], 0, 0), (end, 0, 0), (end, tall, 0), (leans[1], tall, 0)))
        marks.append(area(shape, "thin", fill))
        if width_mm(cut.part, 7.0) < end - start - 1.0:
            middle = ((start + end) / 2, 1.6)
            marks.append(Label(text=cut.part, at=middle, anchor="centre", pen="outline", size_pt=7.0))
    left = ends - bar.offcut_mm / per_mm
    if ends - left > 1.0:
        marks.append(line((left, 0), (ends, tall), "thin"))
    length = figure(bar.stock_mm, "", 1)
    words = say("{length} in hand", length=length) if bar.in_hand else length

    def printed(paper: Paper) -> None:
        paper.marks(marks)
        paper.text((0.0, 1.6), f"{number} ×", 8.0, bold=True)
        paper.text((ends + 1.5, 1.6), words, 7.0)

    return Drawn((_WIDE_MM, tall + 0.6), printed)
