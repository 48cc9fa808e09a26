"""Rolling over it, on paper: what goes wrong and where, the worst of each figure and whose it is, every user
over every site, and the worst poses with the place that matters enlarged.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any, Final

import numpy as np

from rampdraft.drawing.rolling import rolling_sheet
from rampdraft.drawing.rolling_words import (
    ENDS,
    PLACES,
    SIGNS,
    Outcome,
    Row,
    bump_text,
    outcomes_of,
    rows_of,
    speed_text,
    told_of,
)
from rampdraft.drawing.sheet import Placed
from rampdraft.drawing.style import ACCENT, INK, QUIET
from rampdraft.drawing.text import degrees_text
from rampdraft.drawing.users.silhouette import main_figures
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.export.pdf.book import FLOW_MM
from rampdraft.export.pdf.flowing import Column, beside, gap, heading, paragraph, picture, short, table
from rampdraft.export.pdf.flowing import Row as Line
from rampdraft.mechanics.rolled import AlongSite
from rampdraft.mechanics.rolling.grip import RUN_UP_M_S
from rampdraft.mechanics.rolling.results import WAYS, Roll, Way, Worst
from rampdraft.mechanics.rolling.summary import (
    PLACES as BUMPED,
)
from rampdraft.mechanics.rolling.summary import (
    Extreme,
    ExtremeKey,
    Summed,
    extremes,
    summed,
)
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.rolling.words import odd_words
from rampdraft.model.rolling_shape import shape_of
from rampdraft.rounding import greatest
from rampdraft.words.figures import digits_that_part, fixed, newton
from rampdraft.words.say import named, say

_POSE_MM: Final = (FLOW_MM[0] / 2 - 3.0, 50.0)
"""Room for the picture of a pose."""
_WORST: Final = (
    "The worst over the states of the deck and the ways of going. Clearance is upright, under what hangs"
    " low; below 0 it is aground. Tips: the angle left before it falls back over its last axle, forward over"
    " its first. Push and hold back: the greatest level force that keeps it moving, or keeps it back, on the"
    " handles or at the rims of its wheels. Bump: the level force on its axle that takes a wheel over what"
    " it meets, over the load on it."
)
_THROUGH: Final = (
    "Nothing: at every site each way nothing is aground, nobody tips, no wheel is stopped, off the surface,"
    " or in need of more than its own load."
)
MEANS: Final[dict[Outcome, str]] = {
    "grounds": "something that hangs low is aground",
    "tips": "it falls over an axle as it stands",
    "stopped": "a wheel meets a face that no force takes it over",
    "spins": "its driven wheels do not take it over, with a run either",
    "bump": "a wheel needs more than its own load to climb; common practice",
    "wheel off": "a wheel does not touch what is below it",
}
TITLES: Final[dict[ExtremeKey, str]] = {
    "clearance": "Least clearance",
    "tip_back": "Least left before tipping back",
    "tip_forward": "Least left before tipping forward",
    "push": "Greatest push by hand",
    "drive": "Greatest drive of wheels",
    "hold": "Most to hold back by hand",
    "brake": "Most braking of wheels",
    "edge": "Greatest bump at the deck edge",
    "joint": "Greatest bump at the joint",
    "toe": "Greatest bump at the toe",
    "slowed": "Least speed left after a bump",
    "run_up": "Greatest run-up that driven wheels need",
    "drop": "Deepest sink into a gap",
    "hanging": "Wheel furthest off the surface",
}
NARROW: Final = {
    "Tips back": 12.0, "forw.": 12.0, "Push": 11.0, "Hold back": 11.0, "Bump: edge": 11.0, "joint": 10.0,
    "toe": 10.0,
}  # fmt: skip
"""Heads of narrow columns, with their widths in mm."""
_DRAWN: Final[tuple[ExtremeKey, ...]] = ("clearance",)
"""Besides the lesser angle left before tipping, the greatest bump, and what is worst of each user that does
not come through.
"""
_FIGURES: Final[dict[Outcome, tuple[ExtremeKey, float]]] = {
    "grounds": ("clearance", -1),
    "tips": ("tip_back", -1),
    "stopped": ("toe", 1),
    "spins": ("run_up", 1),
    "bump": ("toe", 1),
}
"""How the figure of an outcome that ends the way is told, and its sense: greater is worse, or less."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Look:
    """A pose to be drawn: one place of one roll."""

    title: str
    roll: Roll
    ways: tuple[Way, ...]
    worst: Worst


def rolling_story(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the tables of how users roll over it, and the worst poses."""
    found, ways = extremes(evaluation.design, evaluation.rolling), summed(evaluation.rolling)
    looks = _looks(evaluation, found, ways)
    yield from _tables(evaluation, found, ways, looks)
    yield from _poses(evaluation, looks)


# Tables
# ----------------------------------------------------------------------------------------------


def _tables(
    evaluation: Evaluation, found: Sequence[Extreme], ways: Sequence[Summed], looks: Sequence[_Look]
) -> Iterator[Any]:
    design = evaluation.design
    yield from heading(say("Rolling over it: what goes wrong, and what is odd"))
    wrong = tuple(_wrong(evaluation, ways)) or ((say(_THROUGH),) if ways else ())
    for words in (*wrong, *odd_words(design, evaluation.rolling, evaluation.sites)):
        yield paragraph(words[0].upper() + words[1:])
    if found:
        yield from _extremes(evaluation, found, looks)
    yield from _users(evaluation, ways)


def _wrong(evaluation: Evaluation, ways: Sequence[Summed]) -> Iterator[str]:
    """Yield of each user everything that happens to it, and where."""
    users, count = evaluation.design.use.users, len(evaluation.design.sites)
    for user, own in groupby(ways, lambda one: one.user):
        told = [(outcome, one.site_number) for one in own for outcome, _ in outcomes_of(one)]
        for outcome, means in MEANS.items():
            sites = dict.fromkeys(site for each, site in told if each == outcome)
            if sites:
                named = "; ".join(_site(evaluation, site) for site in sites)
                where = say("every site") if len(sites) == count > 1 else named
                yield say(
                    "{sign} {user}: {outcome} ({means}) at {where}",
                    sign=SIGNS[outcome],
                    user=users[user - 1].name,
                    outcome=say(outcome),
                    means=say(means),
                    where=where,
                )


def _extremes(evaluation: Evaluation, found: Sequence[Extreme], looks: Sequence[_Look]) -> Iterator[Any]:
    columns = (
        Column(head=say("The worst of all"), width_mm=34, bold=True),
        Column(head=say("Figure"), width_mm=21, anchor="right"),
        Column(head=say("Whose"), width_mm=26),
        Column(head=say("Where, and which way"), width_mm=54),
        Column(head=say("What meets what"), width_mm=34),
        Column(head=say("Pict."), width_mm=11, anchor="right"),
    )
    told = [_extreme_row(evaluation, one, looks) for one in found]
    keys = {one.key for one in found}
    none = [Line(cells=(say(TITLES[key]), say("none"), "", "", "", "")) for key in BUMPED if key not in keys]
    yield from heading(say("The worst of all users at all sites"))
    yield table(columns, (*told, *none), size_pt=7.0)


def _extreme_row(evaluation: Evaluation, one: Extreme, looks: Sequence[_Look]) -> Line:
    numbers = [number for number, look in enumerate(looks, start=1) if _same(look, one.roll, one.worst)]
    cells = (
        say(TITLES[one.key]),
        _figure(one.key, one.worst),
        evaluation.design.use.users[one.roll.user - 1].name,
        _where(evaluation, one.roll, one.ways),
        _meets(one.key, one.worst),
        str(numbers[0]) if numbers else "",
    )
    return Line(cells=cells, colour=ACCENT if _fails(one) else INK)


def _fails(one: Extreme) -> bool:
    match one.key:
        case "clearance":
            return one.worst.value < 0
        case "tip_back" | "tip_forward":
            return one.worst.value <= 0
        case "edge" | "joint" | "toe":
            return one.worst.value > 1
        case "run_up":
            return one.worst.value > RUN_UP_M_S
        case _:
            return False


def _figure(key: ExtremeKey, worst: Worst) -> str:
    match key:
        case "clearance" | "drop" | "hanging":
            return fixed(worst.value, digits_that_part(worst.value, 0.0, 1), "mm")
        case "tip_back" | "tip_forward":
            return degrees_text(worst.value)
        case "slowed":
            return fixed(100 * worst.value, 0, "%")
        case "edge" | "joint" | "toe":
            return bump_text(worst.value)
        case "run_up":
            return speed_text(worst.value)
        case _:
            return newton(worst.value)


def _meets(key: ExtremeKey, worst: Worst) -> str:
    """Return what of the user meets what, and where: `footrest against outer slat 1, joint`."""
    part, met = say(worst.part), named(worst.met)
    met = met if worst.met[-1].isdigit() else say("the {thing}", thing=met)
    where = "" if worst.met.startswith(worst.place) else f", {say(PLACES[worst.place])}"
    if key != "clearance":
        return say("{part} on {met}", part=part, met=met) + where
    return (
        say("{part} against {met}" if worst.value < 0 else "{part} above {met}", part=part, met=met) + where
    )


def _site(evaluation: Evaluation, number: int) -> str:
    return f"{number} {evaluation.design.sites[number - 1].name}"


def _where(evaluation: Evaluation, roll: Roll, ways: Sequence[Way]) -> str:
    return say(
        "{site}, {deck}, {ways}",
        site=_site(evaluation, roll.site_number),
        deck=say(f"deck {roll.state}"),
        ways=say(" or ").join(map(say, ways)),
    )


def _users(evaluation: Evaluation, ways: Sequence[Summed]) -> Iterator[Any]:
    """Yield every user over every site."""
    users = evaluation.design.use.users
    sites = tuple(dict.fromkeys(pose.site_number for pose in evaluation.sites))
    rows = rows_of(evaluation.rolling, len(users), sites)
    columns = (
        Column(head=say("User"), width_mm=25, bold=True),
        Column(head=say("Site"), width_mm=30),
        Column(head=say("Result"), width_mm=22, bold=True),
        Column(head=say("Clearance"), width_mm=26),
        *(Column(head=short(head), width_mm=wide, anchor="right") for head, wide in NARROW.items()),
    )
    yield from heading(say("Every user over every site"))
    yield paragraph(say(_WORST), colour=QUIET)
    yield table(columns, _user_rows(evaluation, rows, ways), size_pt=7.0)
    for number in dict.fromkeys(row.user for row in rows):
        shape = shape_of(users[number - 1])
        yield paragraph(
            f"{shape.name}, {say(shape.kind)}: {', '.join(main_figures(shape))}", size_pt=7.0, colour=QUIET
        )


def _user_rows(evaluation: Evaluation, rows: Sequence[Row], ways: Sequence[Summed]) -> Iterator[Line]:
    """Yield a row for each user at each site: the worst over all ways of going."""
    before = 0
    for row in rows:
        own = [one for one in ways if (one.user, one.site_number) == (row.user, row.site_number)]
        name = "" if row.user == before else evaluation.design.use.users[row.user - 1].name
        told = min(row.told.values(), key=lambda each: list(SIGNS).index(each.outcome))
        if told.outcome == "rolls":
            told = min(row.told.values(), key=lambda each: each.worst.value if each.worst else 0.0)
        figures = _worst_of(own) if own else ("",) * 8
        yield Line(
            cells=(name, _site(evaluation, row.site_number), told.words, *figures),
            colour=ACCENT if told.outcome in (*_FIGURES, *ENDS) else INK,
            opens_group=row.user != before,
        )
        before = row.user


def _worst_of(own: Sequence[Summed]) -> tuple[str, ...]:
    """Return the figures of one user at one site, each the worst over all ways of going."""
    low = min((one.clearance[1] for one in own), key=lambda worst: worst.value)
    bumps = {
        place: max(one.bumps[place][1].value for one in own if place in one.bumps)
        for place in BUMPED
        if any(place in one.bumps for one in own)
    }
    return (
        f"{_figure('clearance', low)}, {say(low.part)}, {say(PLACES[low.place])}",
        _tip([one.tip_back for one in own]),
        _tip([one.tip_forward for one in own]),
        newton(max(one.push[1].value for one in own)),
        newton(max(one.brake[1].value for one in own)),
        *(_bump(bumps.get(place)) for place in BUMPED),
    )


def _tip(found: Sequence[tuple[Roll, Worst] | None]) -> str:
    angles = [one[1].value for one in found if one is not None]
    return degrees_text(min(angles)) if angles else short("held")


def _bump(share: float | None) -> str:
    if share is None:
        return "–"
    return fixed(share, 2) if math.isfinite(share) else short("stops")


# Poses
# ----------------------------------------------------------------------------------------------


def _looks(evaluation: Evaluation, found: Sequence[Extreme], ways: Sequence[Summed]) -> tuple[_Look, ...]:
    """Return the poses that are drawn, each once."""
    tips = [one for one in found if one.key in ("tip_back", "tip_forward")]
    bumps = [one for one in found if one.key in BUMPED]
    least = greatest(tips, lambda one: -one.worst.value) if tips else None
    most = greatest(bumps, lambda one: one.worst.value) if bumps else None
    looks: list[_Look] = []
    for look in (
        *(_look(one) for one in found if one.key in _DRAWN or one is least or one is most),
        *_of_users(evaluation, ways),
    ):
        if not any(_same(other, look.roll, look.worst) for other in looks):
            looks.append(look)
    return tuple(looks)


def _look(one: Extreme) -> _Look:
    title = f"{say(TITLES[one.key])}: {_figure(one.key, one.worst)}, {_meets(one.key, one.worst)}"
    return _Look(title=title, roll=one.roll, ways=one.ways, worst=one.worst)


def _of_users(evaluation: Evaluation, ways: Sequence[Summed]) -> Iterator[_Look]:
    """Yield what is worst of each user that does not come through."""
    for user, own in groupby(ways, lambda one: one.user):
        told = [(one, told_of(one)) for one in own]
        outcome = next(outcome for outcome in SIGNS if outcome in {each.outcome for _, each in told})
        if outcome not in _FIGURES:
            continue
        key, sense = _FIGURES[outcome]
        there = [
            (sense * each.worst.value, one, each.worst)
            for one, each in told
            if each.outcome == outcome and each.worst is not None
        ]
        _, one, worst = greatest(there, lambda found: found[0])
        figures = (one.clearance, one.tip_back, one.tip_forward, one.bump, one.run_up)
        roll = next(figure[0] for figure in figures if figure is not None and figure[1] is worst)
        name = evaluation.design.use.users[user - 1].name
        yield _Look(
            title=say(
                "Worst of {user}: {sign} {outcome}, {figure}, {meets}",
                user=name,
                sign=SIGNS[outcome],
                outcome=say(outcome),
                figure=_figure(key, worst),
                meets=_meets(key, worst),
            ),
            roll=roll,
            ways=(one.way,) if key in ("toe", "run_up") else WAYS[roll.facing],
            worst=worst,
        )


def _same(look: _Look, roll: Roll, worst: Worst) -> bool:
    return look.roll is roll and look.worst == worst


def _poses(evaluation: Evaluation, looks: Sequence[_Look]) -> Iterator[Any]:
    """Yield the poses, each a user on the ramp, and beside it the place that it is about, enlarged."""
    cells: list[list[Any]] = []
    for number, look in enumerate(looks, start=1):
        name = evaluation.design.use.users[look.roll.user - 1].name
        words = f"{name}, {_where(evaluation, look.roll, look.ways)}"
        cells.append(
            [
                paragraph(f"{number}  {look.title}", bold=True, after_mm=0.0),
                paragraph(words, colour=QUIET, size_pt=7.0),
                picture(_pose(evaluation, look)),
                gap(2.0),
            ]
        )
    if looks:
        yield from heading(say("Rolling over it: the worst poses"), room_mm=_POSE_MM[1] + 24.0)
    for start in range(0, len(cells), 2):
        yield beside(*cells[start : start + 2], count=2)


def _pose(evaluation: Evaluation, look: _Look) -> Placed:
    """Return a user at the place of a look."""
    design, roll = evaluation.design, look.roll
    front = look.worst.front_mm
    here = roll.about(front)
    site = here.pose
    surfaces = Surfaces(design, evaluation.assembly, site)
    pitch = float(roll.pitch_rad[np.abs(roll.front_mm - front).argmin()])
    user = AlongSite(design, roll.user, site, surfaces, roll.facing, look.worst.across_mm).at(front, pitch)
    sheet = rolling_sheet(evaluation, site, here, look.ways[0], look.worst, _POSE_MM)
    return Placed(picture=sheet.picture(user), scale=sheet.per_mm)
