"""The sheets of the fold: its stages in numbered pictures, the clearance map, clearance and hand force, the
room needed.
"""

from dataclasses import dataclass
from functools import partial
from typing import Final

from rampdraft.drawing.charts import clearance_chart, clearance_curve, force_chart
from rampdraft.drawing.fold_map import fold_map
from rampdraft.drawing.ink import Picture
from rampdraft.drawing.room import room_view, swept_room
from rampdraft.drawing.sheet import Placed, filling
from rampdraft.drawing.side import side_view
from rampdraft.drawing.style import QUIET
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.drawings import TITLE_MM, at, titled
from rampdraft.export.pdf.flow import BOTTOM_MM, LEFT_MM, TOP_MM, WIDTH_MM, Page, block, text
from rampdraft.figures import fixed
from rampdraft.geometry.linkage import Pose
from rampdraft.mechanics.folding.clearance_map import clearance_map
from rampdraft.mechanics.handling.words import hands_words, people_words
from rampdraft.mechanics.results import ClashingPair, PairClearance
from rampdraft.units import MM

_GAP_MM: Final = 6.0
_COLUMNS: Final = 3
_ROWS: Final = 2
_UNDER_MM: Final = 7.5
"""Room for the figures under a picture."""
_CHART_MM: Final = (106.0, 33.0)
_MAP_SHARE: Final = 0.55
"""Of the sheet's width, for the map."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Step:
    """One picture of the fold."""

    say: str
    pose: Pose
    held: tuple[str, ...] = ()
    under: str = ""
    """Figures of the stage that ends here."""
    nearest: PairClearance | None = None


def fold_pages(evaluation: Evaluation) -> list[Page]:
    """Return the fold in numbered pictures, all of one size: deployed, the stages, and the tightest place.

    A fold of few stages is shown half way through each as well. Under the end of each stage stand its
    greatest hand force and its least clearance.
    """
    steps = _steps(evaluation)
    cell_w, cell_h = (WIDTH_MM - (_COLUMNS - 1) * _GAP_MM) / _COLUMNS, (TOP_MM - BOTTOM_MM - _GAP_MM) / _ROWS
    words_mm = max(block((0, 0), f"00  {step.say}", cell_w, 9.0)[1] for step in steps) + 2.0

    def draw(step: _Step, per_mm: MM) -> Picture:
        return side_view(
            evaluation, pose=step.pose, drop_mm=evaluation.sites[0].drop_mm, nearest=step.nearest,
            clashing=_clashing(step.nearest), hands=step.held, dimensions=False, per_mm=per_mm,
        )  # fmt: skip

    scale = max(filling(partial(draw, step), cell_w, cell_h - words_mm - _UNDER_MM).scale for step in steps)
    pages: list[Page] = []
    for number, step in enumerate(steps):
        cell = number % (_COLUMNS * _ROWS)
        if cell == 0:
            pages.append(Page(kind="Fold", scale="not to scale", is_drawing=True))
        x, top = (
            LEFT_MM + (cell % _COLUMNS) * (cell_w + _GAP_MM),
            TOP_MM - (cell // _COLUMNS) * (cell_h + _GAP_MM),
        )
        view = Placed(picture=draw(step, scale), scale=scale)
        foot = top - words_mm - view.size_mm[1]
        pages[-1].ops.extend(block((x, top), f"{number + 1}  {step.say}", cell_w, 9.0)[0])
        pages[-1].ops.append(at(view, x, foot))
        pages[-1].ops.extend(block((x, foot - 1.0), step.under, cell_w, 7.5, colour=QUIET)[0])
    return pages


def fold_chart_pages(evaluation: Evaluation) -> list[Page]:
    """Return the sheet with the clearance map, the room that the fold needs, and clearance and hand force
    along the way.
    """
    design, path, envelope = evaluation.design, evaluation.fold.path, evaluation.fold.envelope
    page = Page(kind="Fold: clearance, hand force, room", scale="not to scale")
    charts = [Placed(picture=chart(evaluation, _CHART_MM)) for chart in (clearance_chart, force_chart)]
    charts_mm = max(chart.size_mm[1] for chart in charts)
    tall = TOP_MM - BOTTOM_MM - charts_mm - 2 * _GAP_MM - 8.0
    map_mm = _MAP_SHARE * WIDTH_MM
    surface = clearance_map(design, evaluation.assembly, design.sites[0], path.poses[0].inner_rad)
    swept = swept_room(evaluation)

    fold = filling(lambda per_mm: fold_map(surface, design, path, per_mm), map_mm, tall)
    room_x = LEFT_MM + map_mm + _GAP_MM
    room_mm = WIDTH_MM - map_mm - _GAP_MM
    room = filling(lambda per_mm: room_view(evaluation, per_mm=per_mm, swept=swept), room_mm, tall - 12.0)
    page.ops.extend(
        titled(fold, "Clearance map: where the fold may go, and the way it goes", LEFT_MM, TOP_MM)
    )
    page.ops.extend(titled(room, "Room that the fold needs, deck empty", room_x, TOP_MM))
    words = (
        f"Keep free {mm_text(envelope.in_front_mm, 0)} mm in front of the deck edge,"
        f" {mm_text(envelope.above_deck_mm, 0)} mm above the deck and {mm_text(envelope.over_deck_mm, 0)} mm"
        " in over it. Nobody stands where the leaves move."
    )
    foot = TOP_MM - TITLE_MM - room.size_mm[1]
    page.ops.extend(block((room_x, foot - 1.0), words, room_mm, 8.0)[0])
    titles = ("Least clearance along the way", "Hand force along the way, friction left out")
    for title, chart, x in zip(titles, charts, (LEFT_MM, LEFT_MM + (WIDTH_MM + _GAP_MM) / 2), strict=True):
        page.ops.append(text((x, BOTTOM_MM + charts_mm + 2.0), title, 9.0, bold=True))
        page.ops.append(at(chart, x, BOTTOM_MM + charts_mm - chart.size_mm[1]))
    return [page]


def _steps(evaluation: Evaluation) -> list[_Step]:
    fold = evaluation.fold
    path, tightest = fold.path, fold.clearance.tightest
    verdict = "least clearance" if tightest.clearance_mm >= 0 else "clash, deepest"
    place = f"Tightest place, {fixed(100 * tightest.at, 0, '%')} of the way: {tightest.what}"
    curve = clearance_curve(fold.clearance)
    hands = [tuple(one.handle for one in asked.places) for asked in evaluation.hands]
    steps = [_Step(say="Deployed", pose=path.poses[0], held=hands[0])]
    for stage, asked, held in zip(path.stages, evaluation.hands, hands, strict=True):
        if len(path.stages) <= 2:
            steps.append(_Step(say="On the way", pose=path.pose((stage.start + stage.end) / 2), held=held))
        least = min(value for share, value in curve if stage.start - 1e-9 <= share <= stage.end + 1e-9)
        clear = (
            f"clearance {mm_text(least)} mm or more" if least >= 0 else f"clash, {mm_text(-least)} mm deep"
        )
        steps.append(
            _Step(
                say=stage.say,
                pose=stage.pose_end,
                held=held,
                under=f"{hands_words(asked)}, {people_words(asked)}; {clear}",
            )
        )
    closest = f"{place}, {verdict} {mm_text(abs(tightest.clearance_mm))} mm"
    return [*steps, _Step(say=closest, pose=tightest.pose, nearest=tightest)]


def _clashing(pair: PairClearance | None) -> tuple[ClashingPair, ...]:
    """Return the pair as one to be hatched, where it clashes."""
    if pair is None or pair.clearance_mm >= 0:
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
