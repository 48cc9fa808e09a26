"""What checks of rolling are made of: figures of several rolls, the worst of them, and its working."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.checks.result import Demand, Measured, Sense, Source
from rampdraft.checks.values import Unit
from rampdraft.geometry.members.member import OnLeaf
from rampdraft.mechanics.results import DECK_WORDS, DeckState
from rampdraft.mechanics.rolling.lasting import STRETCH_MM
from rampdraft.mechanics.rolling.results import Facing, Roll, Way, WayWorst, Worst
from rampdraft.mechanics.rolling.words import PLACE_WORDS
from rampdraft.model.design import Design
from rampdraft.rounding import greatest
from rampdraft.units import MM, RAD
from rampdraft.words.figures import degrees, fixed, mm
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

PRACTICE: Final = Source(
    rule_set="own",
    title="Rolling over it",
    clause="",
    publication="geometry and statics of the rolling user; how much is to be left, common practice",
)
_LEAVES: Final[dict[str, OnLeaf]] = {"inner": "inner", "outer": "outer", "toe": "outer", "edge": "inner"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A figure of one roll."""

    roll: Roll
    worst: Worst
    way: Way | None = None
    """None where it is the same both ways."""
    limit: float = 0.0

    @property
    def value(self) -> float:
        """Return the figure."""
        return self.worst.value


@dataclass(frozen=True, slots=True, kw_only=True)
class Rolled(Measured):
    """What is worst of a user that rolls, and where that is."""

    facing: Facing
    way: Way | None
    """None where it is the same both ways."""
    worst: Worst
    drop_mm: MM
    nod_rad: RAD
    """How far the deck has sunk and how it slopes then."""


_Row = tuple[str, str, DeckState, str, float]
"""User, site, state of the deck, way or facing, value: of each user its worst."""


def demand_of(  # many: what a demand is
    name: str, title: str, sense: Sense, unit: Unit, limit: float, text: str, source: Source = PRACTICE
) -> Demand:
    """Return a demand of rolling."""
    return Demand.own(f"roll-{name}", title, sense, unit, limit, text, source)


def finding_of(design: Design, worst: Case, cases: Sequence[Case], name: str, more: Lines = ()) -> Rolled:
    """Return the worst of several cases; its text is what of the user it is, and where; `more` joins the
    working.
    """
    one, roll, sign = worst.worst, worst.roll, -1.0 if name in _LEAST else 1.0
    users: dict[int, list[Case]] = {}
    for case in cases:
        users.setdefault(case.roll.user, []).append(case)
    pose = roll.about(one.front_mm).pose
    rows = tuple(row_of(design, greatest(own, lambda case: sign * case.value)) for own in users.values())
    return Rolled(
        facing=roll.facing,
        way=worst.way,
        worst=one,
        drop_mm=pose.drop_mm,
        nod_rad=pose.nod_rad,
        key="",
        subject=_where(design, worst),
        part=one.place,
        leaf=_LEAVES.get(one.place, ""),
        state=roll.state,
        user=roll.user,
        site_number=roll.site_number,
        value=one.value,
        working=prose(_lines, name, place_words(one), one, rows, (*_sunk(roll, one), *more)),
        member=one.met if one.met not in ("", "deck", "ground") else "",
        text=place_words(one),
    )


def _sunk(roll: Roll, one: Worst) -> Lines:
    """Return how far the deck has sunk where it is worst, of one that sinks on the way."""
    if roll.state != "sinking":
        return ()
    pose = roll.about(one.front_mm).pose
    sunk = say(
        "the deck edge is {far} higher than empty there, by the supports under this user"
        if pose.drop_mm < 0
        else "the deck edge is {far} lower than empty there, by the supports under this user",
        far=mm(abs(pose.drop_mm)),
    )
    slopes = say(
        "the deck slopes down to it by {angle}"
        if pose.nod_rad >= 0
        else "the deck slopes up to it by {angle}",
        angle=degrees(abs(math.degrees(pose.nod_rad))),
    )
    return (f"{sunk}; {slopes}",)


def hardest(_: Roll, way: WayWorst) -> Worst:
    """Return the greatest force one way, be it to push or to hold back."""
    return greatest((way.push, way.brake), lambda one: one.value)


def place_words(one: Worst) -> str:
    """Return what of the user it is, and where; nothing where no place is told."""
    return f"{say(one.part)} {say(PLACE_WORDS[one.place])}" if one.place else ""


def row_of(design: Design, case: Case) -> _Row:
    """Return a line of the working."""
    roll = case.roll
    user, site = design.use.users[roll.user - 1].name, design.sites[roll.site_number - 1].name
    return user, site, roll.state, _way(case), case.value


def _where(design: Design, case: Case) -> str:
    user, site, state, way, _ = row_of(design, case)
    return f"{user}, {site}, {say(DECK_WORDS[state])}, {way}"


def _way(case: Case) -> str:
    if case.way:
        return say(case.way)
    return say("facing the deck" if case.roll.facing == "deck" else "facing away")


_MEANS: Final = {
    "mm": "least room below each part, upright, on the way of the rigid user",
    "deg": "angle between the upright through the mass centre and the line to the axle it would tip over",
    "above": "room between heads and what hangs above the way in, which goes on over the deck",
    "share": "level force on the axle of a rigid wheel that just climbs, over its load",
    "start": "greatest level force that moves it or holds it back: slope, rolling resistance, kink",
    "keep": "mean of that force over {stretch} of way: momentum helps over what is shorter",
    "m/s": "speed of the energy that lacks: what is asked less what grip, or motor, gives, over the travel",
    "given": "force of the driven wheels along the way over the greatest that grip, or the motor, gives",
    "sinks": "r - root of (r2 - (b / 2)2) between two corners b apart",
    "hangs": "how far a wheel is above its way while the others carry",
}
_LEAST: Final = ("mm", "deg", "above")
"""Figures that are worst where they are least."""
_UNITS: Final = {"deg": "°", "m/s": "m/s", "share": "", "given": "", "start": "N", "keep": "N"}


def _lines(  # many: what the working shows
    name: str, words: str, worst: Worst, rows: tuple[_Row, ...], more: Lines
) -> Lines:
    """Write what is measured, where it is worst, each user's worst."""
    front = mm(worst.front_mm)
    unit, digits = _UNITS.get(name, "mm"), 0 if _UNITS.get(name) == "N" else 2
    return (
        say(_MEANS[name], stretch=mm(STRETCH_MM)) if name == "keep" else say(_MEANS[name]),
        say("worst: {words}, front axle {front} from the deck edge", words=words, front=front)
        if words
        else say("worst, front axle {front} from the deck edge in the middle of it", front=front),
        *(
            f"{user}, {site}, {say(DECK_WORDS[state])}, {way}: "
            + (fixed(value, digits, unit) if math.isfinite(value) else say("stopped"))
            for user, site, state, way, value in rows
        ),
        *_across(worst),
        *more,
    )


def _across(worst: Worst) -> Lines:
    if not worst.across_mm:
        return ()
    off = mm(abs(worst.across_mm))
    return (
        say(
            "its middle {off} to the left of the ramp's, as somebody sees it who walks down"
            if worst.across_mm > 0
            else "its middle {off} to the right of the ramp's, as somebody sees it who walks down",
            off=off,
        ),
    )
