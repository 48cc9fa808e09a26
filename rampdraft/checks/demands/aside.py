"""Whether users tip or slide to a side, on ground that slopes across and on a deck that leans."""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.demands.rolling_cases import PRACTICE
from rampdraft.checks.demands.rolling_grip import GRIPS, surface_lines
from rampdraft.checks.result import Check, Demand, Measured, Subjects, compose
from rampdraft.mechanics.carrier.results import CarrierStanding, Standing
from rampdraft.mechanics.rolling.grip import ROAD_VALUE, friction
from rampdraft.mechanics.rolling.sideways import side_tip_rad
from rampdraft.model.rolling_shape import RollingShape, shape_of
from rampdraft.rounding import greatest
from rampdraft.units import MM, RAD
from rampdraft.words.figures import degrees, mm, one_in
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

RESERVE_DEG: Final = 5.0
"""To be left before a user tips to a side: so far whoever sits in it brings the mass centre by leaning out;
common practice.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Lean:
    """What leans to a side under a user."""

    user: int
    words: str
    """Where."""
    grade: float
    """Along it."""
    across: float
    """Rise over width."""
    most: float
    """Friction there."""
    site: int
    """Counted from 1; 0 for the deck."""


def aside_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield what is left before users tip to a side, and whether their wheels hold there."""
    leans = list(_leans(subjects))
    if leans:
        tips = list(_tipping(subjects, leans))
        if tips:
            yield _tips(tips)
        yield _slides(subjects, leans)


def _leans(subjects: Subjects) -> Iterator[_Lean]:
    """Yield the ground of each site, and the ramp on its steepest with the deck as it leans with the user on
    it.
    """
    design = subjects.design
    grades = [abs(pose.steepest.ratio) for pose in subjects.poses() if pose.reaches]
    wet, road = friction(design.use.wet_grip), friction(ROAD_VALUE)
    for number in range(1, len(design.use.users) + 1):
        for place, site in enumerate(design.sites, start=1):
            yield _Lean(
                user=number, words=site.name, grade=0.0, across=abs(site.cross_slope_percent) / 100,
                most=road, site=place,
            )  # fmt: skip
        yield _Lean(
            user=number, words=say("deck and ramp"), grade=max(grades, default=0.0),
            across=math.tan(deck_lean_rad(subjects.standing, number)), most=wet, site=0,
        )  # fmt: skip


def deck_lean_rad(standing: CarrierStanding | None, user: int) -> RAD:
    """Return how far the deck leans at most as a user comes up and is on it; 0 where that is not known."""
    if not isinstance(standing, Standing):
        return 0.0
    found = (climb.stances.lean_rad for climb in standing.climbs if climb.user_number == user)
    return max((float(abs(lean).max()) for lean in found if lean.size), default=0.0)


_Tip = tuple[_Lean, RollingShape, RAD]


def _tipping(subjects: Subjects, leans: list[_Lean]) -> Iterator[_Tip]:
    for lean in leans:
        shape = shape_of(subjects.design.use.users[lean.user - 1])
        tips = side_tip_rad(shape, lean.grade)
        if tips is not None:
            yield lean, shape, tips


def _left_deg(tip: _Tip) -> float:
    return math.degrees(tip[2] - math.atan(tip[0].across))


def _tips(tips: list[_Tip]) -> Check:
    worst = greatest(tips, lambda one: -_left_deg(one))
    lean, shape, _ = worst
    demand = Demand.own(
        "aside/tips",
        say("Left before it tips to a side"),
        "at least",
        "deg",
        RESERVE_DEG,
        degrees(RESERVE_DEG),
        PRACTICE,
    )
    rows = tuple(
        _row(greatest([tip for tip in tips if tip[0].user == user], lambda one: -_left_deg(one)))
        for user in dict.fromkeys(one[0].user for one in tips)
    )
    return compose(
        demand,
        Measured(
            key="",
            subject=f"{shape.name}, {lean.words}",
            user=lean.user,
            site_number=lean.site,
            value=_left_deg(worst),
            working=prose(_tip_lines, rows),
        ),
    )


_Row = tuple[str, str, MM, float, float]
"""User, where, height of the mass centre, the angle at which it tips, what is left of it."""


def _row(tip: _Tip) -> _Row:
    lean, shape, tips = tip
    return shape.name, lean.words, shape.centre_height_mm, math.degrees(tips), _left_deg(tip)


def _tip_lines(rows: tuple[_Row, ...]) -> Lines:
    return (
        say(
            "tips at atan(d / h): h the height of the mass centre, d from below it to the line"
            " through the wheels of a side; on a grade below it means h x grade nearer to the"
            " lower axle"
        ),
        *(
            say(
                "{user}, {where}: h = {height}, tips at {tips}, less the lean: {left}",
                user=user,
                where=where,
                height=mm(height),
                tips=degrees(tips),
                left=degrees(left),
            )
            for user, where, height, tips, left in rows
        ),
    )


def _slides(subjects: Subjects, leans: list[_Lean]) -> Check:
    """Return whether wheels hold on what leans most."""
    worst = greatest(leans, lambda one: one.across / max(one.most, 1e-9))  # ice has none
    demand = Demand.own(
        "aside/slides",
        say("Slope across under wheels"),
        "at most",
        "gradient",
        worst.most,
        one_in(worst.most),
        GRIPS,
    )
    name = subjects.design.use.users[worst.user - 1].name
    return compose(
        demand,
        Measured(
            key="",
            subject=worst.words if worst.site else f"{name}, {worst.words}",
            user=0 if worst.site else worst.user,
            site_number=worst.site,
            value=worst.across,
            working=prose(_slide_lines, surface_lines(subjects.design)),
        ),
    )


def _slide_lines(surfaces: Lines) -> Lines:
    return (say("wheels slide to a side where the slope across is more than the friction"), surfaces[0])
