"""What the ramp carries, and of the carrier that it stands on.

The load at its worst place with moment, shear and sag; the members, the loads; the carrier from the side and
from the end.

The working of each check stands further on.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from typing import Any, Final

from rampdraft.checks.demands.strength import MemberRow, member_rows
from rampdraft.checks.result import Result
from rampdraft.drawing.carrier_standing import carrier_end, carrier_side
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.loaded_ramp import force_text
from rampdraft.drawing.sheet import Placed
from rampdraft.drawing.strength import strength_picture
from rampdraft.drawing.style import ACCENT, INK, QUIET
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import FLOW_MM
from rampdraft.export.pdf.flowing import Column, Row, beside, heading, paragraph, picture, short, table
from rampdraft.export.pdf.workings import RESULT_SHAPES
from rampdraft.mechanics.loading.loads import Footprint, Load, Rolling
from rampdraft.strength.utilisation import LIMIT_STATES
from rampdraft.units import MM
from rampdraft.words.figures import exact, figure, fixed, one_in
from rampdraft.words.say import say

_TALL_MM: Final = 110.0  # smaller, and its words run into each other
_WORDS_MM: Final = 54.0


def _both() -> str:
    return say(
        "Strength used: by limit states, {gamma_g} × own weight and {gamma_q} × load against strengths"
        " lowered by their partial factors; at most 100 %. Safety factor: ultimate strength over what the"
        " loads as they are ask of it. Both are of the users and the rated load, with bumps; the working"
        " stands further on.",
        gamma_g=exact(LIMIT_STATES.gamma_g),
        gamma_q=exact(LIMIT_STATES.gamma_q),
    )


def strength_story(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the picture of the worst load, and the tables of the members and the loads."""
    yield from heading(
        say("What the ramp carries, under the load that bends a rail most"), room_mm=_TALL_MM + 12
    )
    yield picture(Placed(picture=strength_picture(evaluation, None, (FLOW_MM[0], _TALL_MM))))
    yield from heading(say("Strength of the members, worst first"))
    yield paragraph(_both(), colour=QUIET)
    columns = (
        Column(head=say("Result"), width_mm=22, bold=True),
        Column(head=say("Member"), width_mm=84),
        Column(head=say("Strength used"), width_mm=24, anchor="right"),
        Column(head=short("Safety factor"), width_mm=22, anchor="right"),
        Column(head=say("Under"), width_mm=28),
    )
    rows = member_rows((*evaluation.verdicts, *evaluation.fixed), evaluation.checks)
    under = {words: letters(k) for k, words in enumerate(dict.fromkeys(row.load for row in rows if row.load))}
    yield table(columns, (_member_row(row, under) for row in rows), size_pt=7.0)
    for words, letter in under.items():
        yield paragraph(f"{letter}: {words}", size_pt=7.0, colour=QUIET, after_mm=0.0)
    yield from heading(say("Loads"))
    columns = (
        Column(head=say("No."), width_mm=8, anchor="right"),
        Column(head=say("Load"), width_mm=58, bold=True),
        Column(head=say("In all"), width_mm=16, anchor="right"),
        Column(head=say("On the ramp"), width_mm=98),
    )
    yield table(
        columns,
        (
            Row(cells=(str(number), load.words, *_load_cells(load)))
            for number, load in enumerate(evaluation.carried.loads, start=1)
        ),
        size_pt=7.0,
    )


def carrier_story(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the carrier on its supports, where users tip it most or leave least; nothing where no supports
    are described.
    """
    design, standing = evaluation.design, evaluation.standing
    if standing is None:
        return
    draws = [partial(draw, design, standing) for draw in (carrier_side, carrier_end)]
    boxes = [draw(per_mm=1.0).box for draw in draws]
    scale = sum(x1 - x0 for x0, _, x1, _ in boxes) / (FLOW_MM[0] - 20.0)
    views = [
        Placed(picture=_no_narrower(draw(per_mm=scale), _WORDS_MM * scale), scale=scale) for draw in draws
    ]
    tall = max(view.size_mm[1] for view in views)
    yield from heading(say("Carrier at the worst, from the side and from the end"), room_mm=tall + 12.0)
    yield beside(*([picture(view)] for view in views), shares=tuple(view.size_mm[0] for view in views))


def _no_narrower(view: Picture, least: MM) -> Picture:
    """Return a picture in a box that its words fit, which wrap no shorter than that."""
    x0, y0, x1, y1 = view.box
    return replace(view, box=(x0, y0, max(x1, x0 + least), y1))


def letters(number: int) -> str:
    """Return a letter for a number counted from 0: a to z, then aa and so on."""
    return (letters(number // 26 - 1) if number >= 26 else "") + chr(ord("a") + number % 26)


def _member_row(row: MemberRow, under: dict[str, str]) -> Row:
    cells = (
        f"{RESULT_SHAPES[row.result]} {say(row.result)}",
        row.name,
        "–" if row.share is None else fixed(100 * row.share, 0, "%"),
        "–" if row.factor is None else fixed(row.factor, 1),
        under.get(row.load, row.why),
    )
    return Row(cells=cells, colour=ACCENT if row.result is Result.FAILS else INK)


def _ways(load: Rolling) -> Iterator[str]:
    """Yield the axles of a load on the steepest slope, each way round."""
    front, back = (
        ", ".join(
            say("{force} at {place}", force=force_text(one.force_n), place=figure(one.offset_mm, "", 0))
            for one in axles
            if one.force_n
        )
        for axles in load.ways[:2]
    )
    yield say("front leading up {forces} mm behind the first", forces=front)
    yield say("back leading up {forces} mm behind the first", forces=back)


def _load_cells(load: Load) -> Iterator[str]:
    """Yield the whole force, and where it acts."""
    match load:
        case Rolling():
            yield force_text(load.force_n)
            bumps = say("; with bumps × {factor}", factor=exact(load.factor)) if load.factor != 1 else ""
            slope = (
                say(
                    "; {grade}, mass centre {height} up",
                    grade=one_in(load.grade),
                    height=figure(load.mass_centre_mm, "mm", 0),
                )
                if load.mass_centre_mm
                else ""
            )
            yield say(
                "rolls over the whole ramp: {ways}{slope}{bumps}",
                ways="; ".join(_ways(load)),
                slope=slope,
                bumps=bumps,
            )
        case Footprint():
            yield force_text(load.force_n)
            yield say(
                "in the middle of the ramp, on {across} across by {along} mm along",
                across=figure(load.across_mm, "", 0),
                along=figure(load.along_mm, "", 0),
            )
        case _:
            yield ""
            yield say("{force} to the metre, over the whole ramp", force=fixed(load.n_mm, 2, "kN"))
