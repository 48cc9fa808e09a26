"""The sheets of the fold: its stages in numbered pictures, the clearance map, clearance and hand force, the
room needed.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import partial
from typing import Any, Final

from rampdraft.drawing.charts import clearance_chart, force_chart
from rampdraft.drawing.fold_map import fold_map
from rampdraft.drawing.fold_stages import fold_steps, step_view
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.room import room_view, swept_room
from rampdraft.drawing.sheet import Placed, filling
from rampdraft.drawing.side import side_view
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import FLOW_MM
from rampdraft.export.pdf.flowing import beside, gap, heading, paragraph, picture
from rampdraft.mechanics.results import ClashingPair, PairClearance
from rampdraft.units import MM
from rampdraft.words.figures import figure, fixed, mm
from rampdraft.words.say import named, say

_MAP_MM: Final = 62.0
"""Height of the clearance map and of the room, on paper."""
_ROOM_MM: Final = 40.0
_TIGHT_MM: Final = 16.0
_CHART_MM: Final = 28.0
_CLEAR_MM: Final = 18.0
"""Room for the words at the tightest place, beyond the ramp."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Pictured:
    """One picture of the fold with its words."""

    say: str
    view: Placed
    under: str


def fold_pictures(evaluation: Evaluation, wide_mm: MM, tall_mm: MM) -> tuple[Pictured, ...]:
    """Return the fold in pictures, all of one size: deployed, and the stages.

    A fold of few stages is shown half way through each as well. With the end of each stage stand its
    greatest hand force and its least clearance.
    """
    steps = fold_steps(evaluation)
    scale = max(filling(partial(step_view, evaluation, step), wide_mm, tall_mm).scale for step in steps)
    return tuple(
        Pictured(
            say=step.say,
            view=Placed(picture=step_view(evaluation, step, scale), scale=scale),
            under=step.under,
        )
        for step in steps
    )


def fold_charts(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the clearance map, the room that the fold needs, and clearance and hand force along the way."""
    design, path, envelope = evaluation.design, evaluation.fold.path, evaluation.fold.envelope
    half = FLOW_MM[0] / 2 - 3.0
    swept = swept_room(evaluation)
    fold = filling(lambda per_mm: fold_map(evaluation.clearance_map, design, path, per_mm), half, _MAP_MM)
    room = filling(lambda per_mm: room_view(evaluation, per_mm=per_mm, swept=swept), half, _ROOM_MM)
    pair = evaluation.fold.clearance.tightest
    tight = filling(partial(_tightest_view, evaluation, pair), half, _TIGHT_MM)
    words = say(
        "Keep free {front} in front of the deck edge, {above} above the deck and {over} in over it."
        " Nobody stands where the leaves move.",
        front=figure(envelope.in_front_mm, "mm", 0),
        above=figure(envelope.above_deck_mm, "mm", 0),
        over=figure(envelope.over_deck_mm, "mm", 0),
    )
    yield from heading(say("The fold"), room_mm=_MAP_MM + 20.0)
    yield beside(
        [_title(say("Clearance map: where the fold may go, and the way it goes")), picture(fold)],
        [
            _title(say("Room that the fold needs, deck empty")),
            picture(room),
            paragraph(words),
            _title(_tightest_words(pair)),
            picture(tight),
        ],
    )
    yield gap(2.0)
    size = half - 20.0, _CHART_MM  # its figures stand beside it
    titles = (say("Least clearance along the way"), say("Hand force along the way, friction left out"))
    charts = [Placed(picture=chart(evaluation, size)) for chart in (clearance_chart, force_chart)]
    yield beside(*([_title(words), picture(chart)] for words, chart in zip(titles, charts, strict=True)))


def _title(words: str) -> Any:
    return paragraph(words, bold=True)


def _tightest_words(pair: PairClearance) -> str:
    return say(
        "Tightest place, {share} of the way: {pair}, least clearance {size}"
        if pair.clearance_mm >= 0
        else "Tightest place, {share} of the way: {pair}, clash, deepest {size}",
        share=fixed(100 * pair.at, 0, "%"),
        pair=named(pair.what),
        size=mm(abs(pair.clearance_mm)),
    )


def _tightest_view(evaluation: Evaluation, pair: PairClearance, per_mm: MM) -> Picture:
    view = side_view(
        evaluation, pose=pair.pose, drop_mm=evaluation.sites[0].drop_mm, nearest=pair,
        clashing=_clashing(pair), dimensions=False, per_mm=per_mm,
    )  # fmt: skip
    x0, y0, x1, y1 = view.box
    return replace(view, box=(x0, y0, x1 + _CLEAR_MM * per_mm, y1))


def _clashing(pair: PairClearance) -> tuple[ClashingPair, ...]:
    """Return the pair as one to be hatched, where it clashes."""
    if pair.clearance_mm >= 0:
        return ()
    return (
        ClashingPair(
            member_a=pair.member_a,
            member_b=pair.member_b,
            clearance_mm=pair.clearance_mm,
            point_a=pair.point_a,
            point_b=pair.point_b,
        ),
    )
