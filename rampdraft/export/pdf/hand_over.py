"""The hand-over: how it is folded, how it is proved, what is looked at later, and the label on it."""

import math
from collections.abc import Iterator, Sequence
from typing import Any, Final

from rampdraft.checks.notes import CAUTIONS, at_hand
from rampdraft.drawing.ink import Ink, Label, Picture, area, line
from rampdraft.drawing.sheet import Placed, check_line
from rampdraft.drawing.style import QUIET
from rampdraft.drawing.text import degrees_text, gradient_text, mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import FLOW_MM, Flowed, bound
from rampdraft.export.pdf.drawings import imprint_of
from rampdraft.export.pdf.flowing import (
    Column,
    Drawn,
    Row,
    beside,
    gap,
    heading,
    paragraph,
    picture,
    table,
)
from rampdraft.export.pdf.fold import Pictured, fold_pictures
from rampdraft.export.pdf.paper import MM_PER_PT, fitted_text, wrapped
from rampdraft.geometry.outline import rectangle
from rampdraft.mechanics.loading.loads import persons
from rampdraft.shop.inspection import inspection_of
from rampdraft.shop.proof import HELD_MIN, PROOF_FACTOR, SET_MM, SET_SHARE, Proof, ProofPlace, proof_of
from rampdraft.words.figures import exact, figure, fixed, persons_words
from rampdraft.words.say import say

_CELL_MM: Final = (FLOW_MM[0] / 2 - 4.0, 48.0)
LABEL_MM: Final = (140.0, 90.0)
"""The label, at true size."""
_BLANK: Final = "\n\u00a0"
"""Room to write by hand."""
SIGNED: Final = (
    "Welds made and looked over by a competent welder",
    "Proof load carried, nobody near",
    "Marked load shown on the ramp",
)


def hand_over_pdf(evaluation: Evaluation, *, date: str, revision: str = "") -> bytes:
    """Return the hand-over of a design: equal bytes for an equal evaluation, date and revision."""
    stories = (_folding, _proving, _inspecting, _labelled)
    kinds = (
        say("Hand-over: How it is folded"),
        say("Hand-over: Proof load"),
        say("Hand-over: Inspection"),
        say("Hand-over: Label"),
    )
    parts = [
        Flowed(kind=kind, story=list(story(evaluation))) for kind, story in zip(kinds, stories, strict=True)
    ]
    return bound(parts, imprint_of(evaluation, date, revision))


def _folding(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the fold in numbered pictures, for whoever folds it."""
    people = max((stage.needed or 0 for stage in evaluation.hands), default=0)
    room = evaluation.fold.envelope
    yield paragraph(
        say("How to stow it; to put it down, go through the pictures backwards."), size_pt=11.0, bold=True
    )
    told = [
        say("It takes {people}.", people=persons_words(people)) if people else "",
        say(
            "Keep {front} in front of the deck edge free: nobody stands where the leaves move.",
            front=figure(room.in_front_mm, "mm", 0),
        ),
        *at_hand(evaluation.design),
    ]
    yield paragraph(" ".join(words for words in told if words), size_pt=9.0, after_mm=2.0)
    steps = fold_pictures(evaluation, *_CELL_MM)
    for start in range(0, len(steps), 2):
        pair = enumerate(steps[start : start + 2], start=start + 1)
        yield beside(*(_step(number, step) for number, step in pair), count=2)
        yield gap(3.0)
    yield paragraph(
        say("Latch it, and look whether the latch holds, before the carrier moves."), size_pt=9.0, bold=True
    )


def _step(number: int, step: Pictured) -> Sequence[Any]:
    return (
        paragraph(f"{number}  {step.say}", size_pt=10.0, bold=True),
        picture(step.view),
        paragraph(step.under, size_pt=8.0, colour=QUIET),
    )


def _proving(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the plan of the proof load."""
    proof = proof_of(evaluation.design, evaluation.carried)
    load, rated = exact(proof.load_kg, "kg"), exact(proof.rated_kg, "kg")
    yield paragraph(
        say(
            "Proof load {load}: {factor} times the rated load of {rated}",
            load=load,
            factor=exact(PROOF_FACTOR),
            rated=rated,
        ),
        size_pt=11.0,
        bold=True,
    )
    for number, words in enumerate(_proof_steps(proof), start=1):
        yield paragraph(f"{number}  {words}", size_pt=8.5, after_mm=1.5)
    yield from heading(say("Where, and what was read"))
    columns = (
        Column(head=say("Place"), width_mm=52),
        Column(head=say("From deck hinge mm"), width_mm=20, anchor="right"),
        Column(head=say("It proves"), width_mm=34),
        Column(head=say("Before mm"), width_mm=16),
        Column(head=say("At {load}", load=rated), width_mm=18),
        Column(head=say("At {load}", load=load), width_mm=20),
        Column(head=say("After mm"), width_mm=20),
    )
    yield table(columns, (_place_row(place) for place in proof.places), size_pt=8.0)
    yield from heading(say("Before anybody uses it"))
    columns = (
        Column(head=say("Done"), width_mm=80),
        Column(head=say("By"), width_mm=60),
        Column(head=say("Date"), width_mm=40),
    )
    yield table(columns, (Row(cells=(f"{say(words)}{_BLANK}", "", "")) for words in SIGNED), size_pt=8.5)
    yield paragraph(
        say(
            "Factor: Singapore, Road Traffic (Motor Vehicles, Construction and Use) Rules, 97E"
            " (2) (b), which asks for 10 s and no permanent set; time and set: common practice."
        ),
        colour=QUIET,
    )


def _proof_steps(proof: Proof) -> Iterator[str]:
    steps = ", ".join(exact(round(step, 1), "kg") for step in proof.steps_kg)
    yield say(
        "Nobody on, under or beside the ramp while it is loaded. Put it down on firm, level"
        " ground where it is used, with the carrier chocked; put blocks under both leaves, 20"
        " mm clear, that catch it."
    )
    yield say(
        "Load: bags, weights or cans of water that have been weighed, on a board of 600 by"
        " 400 mm. Steps of {steps}; look and listen after each.",
        steps=steps,
    )
    yield say(
        "Leave the last step {minutes} minutes. Stop and unload at any crack, at creaking that goes"
        " on, or where it goes on sinking.",
        minutes=exact(HELD_MIN),
    )
    yield say(
        "Read the height of the underside of both outer rails over the ground, under the"
        " load, to {half}: before, with each load, and after it is off. The first time beds"
        " the joint: unload, read again, then load again and judge that.",
        half=exact(0.5, "mm"),
    )
    expected = (
        say(
            " Expected to sink at most {sag} under {load}, play left out; half as much again"
            " wants an answer first.",
            sag=fixed(proof.sag_mm, 1, "mm"),
            load=exact(proof.load_kg, "kg"),
        )
        if proof.sag_mm is not None
        else ""
    )
    yield say(
        "May stay when the load is off: {set} ({share} of the sag, and at least {least} that can be"
        " read).{expected}",
        set=fixed(proof.set_mm, 1, "mm"),
        share=exact(100 * SET_SHARE, "%"),
        least=exact(SET_MM, "mm"),
        expected=expected,
    )
    yield say(
        "Then look at the welds of knuckles and stop bars, pins, brackets, latches: no crack, nothing bent."
    )


def _place_row(place: ProofPlace) -> Row:
    where = say(f"{place.at} leaf") if place.at else say("over the joint")
    across = {
        1: say("against the left guard"),
        0: say("in the middle"),
        -1: say("against the right guard"),
    }
    return Row(
        cells=(
            f"{where}, {across[place.across]}",
            mm_text(place.from_hinge_mm, 0),
            place.why,
            _BLANK,
            "",
            "",
            "",
        )
    )


def _inspecting(evaluation: Evaluation) -> Iterator[Any]:
    """Yield what is looked at by month and by year, with room to sign."""
    yield paragraph(say("What is looked at, and what takes it out of use"), size_pt=11.0, bold=True)
    looks = inspection_of(evaluation.design)
    columns = (
        Column(head=say("When"), width_mm=27, bold=True),
        Column(head=say("What"), width_mm=82),
        Column(head=say("Out of use if"), width_mm=71),
    )
    yield table(
        columns,
        (
            Row(
                cells=(say(look.when) if first else "", look.what, look.out_if),
                opens_group=first,
            )
            for number, look in enumerate(looks)
            for first in (number == 0 or looks[number - 1].when != look.when,)
        ),
        size_pt=8.5,
    )
    yield from heading(say("Looked over"))
    months = tuple(Column(head=f"{month}", width_mm=12.0) for month in range(1, 13))
    columns = (
        Column(head=say("Year / month"), width_mm=20),
        *months,
        Column(head=say("Yearly"), width_mm=16),
    )
    yield table(columns, (Row(cells=(_BLANK, *[""] * 13)) for _ in range(8)), size_pt=8.5)


def _labelled(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the label at true size, and how it is put on."""
    yield paragraph(
        say(
            "Print at 100 %, cut out, seal against water, and fix it where whoever uses the ramp"
            " sees it: one on the ramp, one beside the deck edge."
        ),
        size_pt=8.5,
        after_mm=4.0,
    )
    view = Placed(picture=label_picture(evaluation))
    ruler = Drawn((8.0, 104.0), lambda paper: paper.marks(check_line(5.0, 1.0)))
    yield beside([ruler], [picture(view)], shares=(10.0, 170.0))
    yield gap(4.0)
    yield from heading(say("Cautions in full"))
    for number, words in enumerate(CAUTIONS, start=1):
        yield paragraph(f"{number}  {say(words)}", size_pt=8.5)


def label_picture(evaluation: Evaluation) -> Picture:
    """Return the label, in mm of paper: load, persons, steepest use, cautions."""
    design = evaluation.design
    wide, tall = LABEL_MM
    steepest = max((site.steepest for site in evaluation.sites), key=lambda leaf: abs(leaf.ratio))
    slope = f"{gradient_text(steepest)}, {degrees_text(math.atan(abs(steepest.ratio)))}"
    name, name_pt = fitted_text(design.about.name, wide - 12.0, 11.0)
    big = say("{load} at most", load=exact(design.use.rated_load_kg, "kg"))
    marks: list[Ink] = [
        area(rectangle(0.0, 0.0, wide, tall), "outline", "paper"),
        Label(text=name, at=(6.0, tall - 9.0), pen="outline", size_pt=name_pt),
        line((0.0, tall - 13.0), (wide, tall - 13.0), "outline"),
        Label(text=big, at=(6.0, tall - 27.0), pen="outline", size_pt=30.0),
        Label(
            text=say("{persons} at most at once", persons=persons_words(persons(design))),
            at=(6.0, tall - 36.0), pen="outline", size_pt=14.0,
        ),
        Label(
            text=say("No steeper than {slope}", slope=slope),
            at=(6.0, tall - 44.0), pen="outline", size_pt=12.0,
        ),
        line((0.0, tall - 48.0), (wide, tall - 48.0), "thin"),
    ]  # fmt: skip
    y = tall - 53.5
    for words in (
        *map(say, CAUTIONS[4:]),
        say("Nobody under it. Prove it by a test load before it is used."),
    ):
        for row in wrapped(words, wide - 12.0, 9.0):
            marks.append(Label(text=row, at=(6.0, y), pen="outline", size_pt=9.0))
            y -= 9.0 * MM_PER_PT * 1.3
        y -= 0.8
    number, size = fitted_text(design.about.drawing_number, 40.0, 8.0)
    foot = ((6.0, number, size), (50.0, say("proved on"), 8.0), (95.0, say("by"), 8.0))
    marks.extend(Label(text=words, at=(x, 3.0), size_pt=size_pt) for x, words, size_pt in foot if words)
    return Picture(marks=tuple(marks), box=(-0.5, -0.5, wide + 0.5, tall + 0.5), title=say("Label"))
