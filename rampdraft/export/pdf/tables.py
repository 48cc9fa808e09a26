"""The written sheets of the workshop pack: cover, part list, cut list, gradients, checks, cautions."""

import math
from collections.abc import Iterator
from typing import Final

from rampdraft.checks.notes import CAUTIONS, UNJUDGED
from rampdraft.checks.result import Check, Result
from rampdraft.drawing.rolling_cure import cure_picture
from rampdraft.drawing.sheet import Placed
from rampdraft.drawing.style import ACCENT, INK, QUIET
from rampdraft.drawing.text import degrees_text, mm_text, one_in, percent_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.ways_out.words import ways_lines
from rampdraft.export.pdf.drawings import cutting_plan
from rampdraft.export.pdf.flow import (
    BODY_PT,
    HEAD_PT,
    WIDTH_MM,
    Column,
    Flow,
    Page,
    Row,
)
from rampdraft.export.pdf.paper import width_mm
from rampdraft.figures import PRINTED, exact, fixed, persons_words
from rampdraft.mechanics.loading.loads import persons
from rampdraft.mechanics.results import LeafGradient, SitePose
from rampdraft.shop.parts import Part, full_number
from rampdraft.units import MM

EFFECTS_SHOWN: Final = 3
"""So many other checks are named that a way out makes worse or cures too."""

_CURE_MM: Final = (150.0, 52.0)
"""Room for a picture of a way out."""
RESULT_SHAPES: Final = {
    Result.FAILS: "✗", Result.ADVICE: "△", Result.CLOSE: "△", Result.UNJUDGED: "?", Result.PASSES: "✓",
}  # fmt: skip
"""Printed before a result, so that it is told by shape as well."""


def part_list_pages(evaluation: Evaluation) -> list[Page]:
    """Return the part list: sizes, quantities, lengths, masses."""
    flow = Flow("Part list", "Part list")
    columns = (
        Column(head="Part", width_mm=27, bold=True),
        Column(head="Name", width_mm=42),
        Column(head="Off", width_mm=10, anchor="right"),
        Column(head="Section", width_mm=32),
        Column(head="Material", width_mm=34),
        Column(head="Length mm", width_mm=20, anchor="right"),
        Column(head="Ends: datum / other", width_mm=54),
        Column(head="kg each", width_mm=18, anchor="right"),
        Column(head="kg all", width_mm=18, anchor="right"),
    )
    number = evaluation.design.about.drawing_number
    flow.table(columns, (_part_row(part, number) for part in evaluation.parts))
    pieces = sum(part.quantity for part in evaluation.parts)
    mass = sum(part.quantity * part.mass_kg for part in evaluation.parts)
    flow.paragraph(
        f"{len(evaluation.parts)} parts, {pieces} pieces, {fixed(mass, 1, 'kg')}; paint, welds and"
        " screws not counted."
    )
    return flow.pages


def _part_row(part: Part, drawing_number: str) -> Row:
    piece = part.piece
    ends = " / ".join(end.text for end in piece.ends)
    cells = (
        full_number(part, drawing_number),
        part.name + (f", {part.hand}" if part.hand else ""),
        str(part.quantity),
        piece.section.text,
        piece.material,
        mm_text(piece.length_mm, 2),
        ends,
        fixed(part.mass_kg, 2),
        fixed(part.quantity * part.mass_kg, 2),
    )
    return Row(cells=cells)


def cut_list_pages(evaluation: Evaluation) -> list[Page]:
    """Return the cut list with running dimensions, and the cutting plan of the stock lengths."""
    flow = Flow("Cut list and cutting plan", "Cut list")
    flow.paragraph(
        "Lengths are from longest point to longest point; running dimensions from the datum end.",
        colour=QUIET,
    )
    columns = (
        Column(head="Part", width_mm=27, bold=True),
        Column(head="Off", width_mm=10, anchor="right"),
        Column(head="Section", width_mm=32),
        Column(head="Material", width_mm=34),
        Column(head="Length mm", width_mm=20, anchor="right"),
        Column(head="Marks at, mm", width_mm=132),
    )
    ordered = sorted(
        evaluation.parts,
        key=lambda part: (part.piece.material, part.piece.section.text, -part.piece.length_mm),
    )
    flow.table(columns, (_cut_row(part) for part in ordered))
    flow.heading("Cutting plan")
    plan = evaluation.least_plan
    flow.paragraph(plan.words)
    workshop = evaluation.design.workshop
    flow.paragraph(
        f"Saw kerf {mm_text(workshop.kerf_mm)} mm, end trim {mm_text(workshop.end_trim_mm)} mm.", colour=QUIET
    )
    cutting_plan(flow, plan.bars)
    if plan.unplaced:
        flow.heading("Not in the plan", keep_with_mm=12.0)
        for one in plan.unplaced:
            flow.paragraph(f"{one.quantity} × {one.part}: {one.words}", size_pt=BODY_PT)
    return flow.pages


def _cut_row(part: Part) -> Row:
    places: dict[str, list[str]] = {}
    for mark in part.piece.marks:
        places.setdefault(mark.what, []).append(mm_text(mark.at_mm, 2))
    marks = "; ".join(f"{', '.join(at)}: {what}" for what, at in places.items()) or "–"
    piece = part.piece
    return Row(
        cells=(
            part.number,
            str(part.quantity),
            piece.section.text,
            piece.material,
            mm_text(piece.length_mm, 2),
            marks,
        )
    )


def gradient_pages(evaluation: Evaluation) -> list[Page]:
    """Return the gradients of each part of the running surface at each site, deck empty and loaded."""
    flow = Flow("Gradients", "Gradients")
    flow.paragraph(
        "Rise and going of the running surface, deployed; a gradient is positive when it climbs towards the"
        " deck.",
        colour=QUIET,
    )
    columns = (
        Column(head="Site", width_mm=44, bold=True),
        Column(head="Deck", width_mm=32),
        Column(head="Part of the ramp", width_mm=30),
        Column(head="Rise mm", width_mm=20, anchor="right"),
        Column(head="Going mm", width_mm=22, anchor="right"),
        Column(head="1 : N", width_mm=20, anchor="right"),
        Column(head="%", width_mm=20, anchor="right"),
        Column(head="Degrees", width_mm=20, anchor="right"),
        Column(head="Remarks", width_mm=47),
    )
    flow.table(columns, (row for site in evaluation.sites for row in _site_rows(evaluation, site)))
    return flow.pages


def _site_rows(evaluation: Evaluation, site: SitePose) -> Iterator[Row]:
    way = "lower" if site.drop_mm > 0 else "higher"
    deck = site.state + (f", {mm_text(abs(site.drop_mm))} {way}" if site.drop_mm else "")
    cross = evaluation.design.sites[site.site_number - 1].cross_slope_percent
    remarks = [] if site.reaches else ["the toe does not reach the ground"]
    if not site.grounds_at_toe:
        remarks.append(f"touches first with {site.touches_with}")
    if site.whole.ratio < 0:
        remarks.append("falls to the deck")
    if cross:
        remarks.append(f"cross slope {exact(cross, '%', PRINTED)}")
    parts = (*surfaces(site), ("whole", site.whole))
    for number, (name, leaf) in enumerate(parts):
        first = number == 0
        yield Row(
            cells=(
                f"{site.site_number}  {site.site}" if first else "",
                deck if first else "",
                name,
                _tenths(leaf.rise_mm),
                _tenths(leaf.going_mm),
                one_in(leaf),
                percent_text(leaf),
                degrees_text(math.atan(leaf.ratio)),
                "; ".join(remarks) if first else "",
            ),
            opens_group=first,
        )


def surfaces(site: SitePose) -> Iterator[tuple[str, LeafGradient]]:
    """Yield the parts of the running surface by name."""
    if site.bridge is not None:
        yield "bridge plate", site.bridge
    yield "inner leaf", site.inner
    yield "outer leaf", site.outer
    if site.flap is not None:
        yield "toe flap", site.flap


def _tenths(value_mm: MM) -> str:
    """Return a length with its tenths, so that a column of them lines up."""
    return fixed(value_mm, 1, style=PRINTED)


def check_pages(evaluation: Evaluation) -> list[Page]:
    """Return the checks, worst first, each with its source and the working shown."""
    flow = Flow("Checks", "Checks, worst first")
    flow.paragraph(CAUTIONS[0], colour=QUIET)
    if not evaluation.all_checks:
        flow.paragraph("No rule set was asked for.")
        return flow.pages
    columns = (
        Column(head="Result", width_mm=36, bold=True),
        Column(head="Check", width_mm=74),
        Column(head="Value", width_mm=48),
        Column(head="Limit", width_mm=32),
        Column(head="Source", width_mm=65),
    )
    ways = ways_out(evaluation)
    flow.table(
        columns, (_check_row(evaluation, check, ways.get(check.id)) for check in evaluation.all_checks)
    )
    return flow.pages


def _check_row(evaluation: Evaluation, check: Check, ways: tuple[WayOut, ...] | None) -> Row:
    result = f"{RESULT_SHAPES[check.result]} {check.result}"
    what = f"{check.title}: {check.subject}" if check.subject else check.title
    source = ", ".join(words for words in (check.source.title, check.source.clause) if words)
    cures = ways_lines(ways, EFFECTS_SHOWN) if ways is not None else ()
    under = (*((check.why,) if check.why else ()), *_joined(check.working), *cures)
    colour = ACCENT if check.fails else INK
    cells = (result, what, check.value_text, check.limit_words, source)
    picture = _cure(evaluation, check, ways[0]) if ways else None
    return Row(cells=cells, under=under, picture=picture, colour=colour)


def _cure(evaluation: Evaluation, check: Check, way: WayOut) -> Placed | None:
    """Return the place of a check of rolling before and after its first way out; None for other checks."""
    after = evaluation.following(way.taken(evaluation.design))
    picture = cure_picture(evaluation, after, check, way, _CURE_MM)
    return Placed(picture=picture, scale=1.0) if picture is not None else None


def _joined(working: tuple[str, ...]) -> Iterator[str]:
    """Yield the lines of a working, a line that begins with an equals sign put behind the one before it where
    it fits.
    """
    row = ""
    for words in working:
        longer = f"{row} {words}" if words.startswith("=") else ""
        if row and longer and width_mm(longer, HEAD_PT) < WIDTH_MM - 45.0:
            row = longer
            continue
        if row:
            yield row
        row = words
    if row:
        yield row


def caution_pages(evaluation: Evaluation) -> list[Page]:
    """Return the cautions in full, the publications that the checks cite, and room to sign."""
    flow = Flow("Cautions", "Cautions")
    for number, caution in enumerate(CAUTIONS, start=1):
        flow.paragraph(f"{number}  {caution}", size_pt=11.0)
    marked = exact(evaluation.design.use.rated_load_kg, "kg")
    at_once = persons_words(persons(evaluation.design))
    flow.paragraph(f"Marked load: {marked}, at most {at_once} at once.", size_pt=11.0)
    for heading, lines in (("Notes", evaluation.notes), ("Not judged", UNJUDGED)):
        flow.heading(heading)
        for line in lines:
            flow.paragraph(line, size_pt=BODY_PT)
    sources = sorted(
        {
            (check.source.title, check.source.publication)
            for check in evaluation.all_checks
            if check.source.publication
        }
    )
    if sources:
        flow.heading("Sources of the limits")
        for title, publication in sources:
            flow.paragraph(f"{title}: {publication}", size_pt=BODY_PT)
    flow.heading("Before anybody uses it", keep_with_mm=40.0)
    columns = (
        Column(head="Done", width_mm=105),
        Column(head="By", width_mm=75),
        Column(head="Date", width_mm=75),
    )
    done = (
        "Welds made and looked over by a competent welder",
        "Test load carried, nobody near",
        "Marked load shown on the ramp",
    )
    flow.table(columns, (Row(cells=(words + "\n ", "", "")) for words in done))
    return flow.pages
