"""What rolling over comes to, in words and signs: for a caption, a table, a list of places."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.drawing.text import degrees_text
from rampdraft.mechanics.results import DeckState
from rampdraft.mechanics.rolled import UserAt
from rampdraft.mechanics.rolling.results import WAYS, CannotRoll, Facing, Roll, Way, Worst
from rampdraft.mechanics.rolling.summary import Summed, summed
from rampdraft.rounding import greatest
from rampdraft.units import RAD
from rampdraft.words.figures import figure, fixed, mm, newton
from rampdraft.words.say import say

Outcome = Literal[
    "not reached", "too wide", "grounds", "tips", "stopped", "spins", "bump", "wheel off", "rolls"
]  # fmt: skip
"""Worst first. `spins`: driven wheels do not take it over, with a run either; `bump`: a wheel needs more than
its own load to climb one (common practice).
"""
ENDS: Final[tuple[Outcome, ...]] = ("not reached", "too wide", "grounds", "tips", "stopped", "spins")
"""What does not let somebody through."""
SIGNS: Final[dict[Outcome, str]] = {
    "not reached": "✕", "too wide": "✕", "grounds": "✕", "tips": "▲", "stopped": "■", "spins": "●",
    "bump": "◆", "wheel off": "◇", "rolls": "○",
}  # fmt: skip
"""Filled, or crossed, for what ends the way; open for what does not."""
ALL_WAYS: Final[tuple[Way, ...]] = ("up forwards", "down backwards", "down forwards", "up backwards")
PLACES: Final = {
    "deck": "deck", "edge": "deck edge", "inner": "inner leaf", "joint": "joint", "outer": "outer leaf",
    "toe": "toe", "ground": "ground",
}  # fmt: skip
_HANGS_MM: Final = 1.0
_MOST_M_S: Final = 10.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """The outcome of one way of going over a site, and the place that it is told of."""

    outcome: Outcome
    worst: Worst | None
    """None where nothing rolls."""
    state: DeckState = "empty"

    @property
    def words(self) -> str:
        """Return the outcome with its sign: `✕ grounds, outer`; `○ 43 mm clear`."""
        sign, worst = SIGNS[self.outcome], self.worst
        if worst is None:
            return f"{sign} {say(self.outcome)}"
        if self.outcome == "rolls":
            return say("{sign} {clearance} clear", sign=sign, clearance=figure(worst.value, "mm", 0))
        return f"{sign} {say(self.outcome)}, {say(worst.place)}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Spot:
    """A place along one way that something is worst at."""

    key: str
    worst: Worst
    words: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One user over one site: the worst outcome of each way, whatever the deck's state."""

    user: int
    site_number: int
    told: dict[Way, Told]


def facing_of(way: Way) -> tuple[Facing, int]:
    """Return how somebody faces who goes a way, and which of the two ways of that it is."""
    return next((facing, ways.index(way)) for facing, ways in WAYS.items() if way in ways)


def told_of(one: Summed) -> Told:
    """Return the outcome of one way of going over a site."""
    outcome, (roll, worst) = next(outcomes_of(one), ("rolls", one.clearance))
    return Told(outcome=outcome, worst=worst, state=roll.state)


def outcomes_of(one: Summed) -> Iterator[tuple[Outcome, tuple[Roll, Worst]]]:
    """Yield all that goes wrong one way of going over a site, worst first, with what it is told of."""
    if one.grounds:
        yield "grounds", one.clearance
    tips = [found for found in (one.tip_back, one.tip_forward) if found is not None and found[1].value <= 0]
    if tips:
        yield "tips", greatest(tips, lambda found: -found[1].value)
    if one.bump is not None and one.stopped:
        yield "stopped", one.bump
    if one.run_up is not None and one.spins:
        yield "spins", one.run_up
    if one.bump is not None and one.bump[1].value > 1 and not one.stopped:
        yield "bump", one.bump
    if one.hanging is not None:
        yield "wheel off", one.hanging


def rows_of(rolls: Iterable[Roll | CannotRoll], users: int, sites: tuple[int, ...]) -> tuple[Row, ...]:
    """Return the table of all rolls, by user and by site: so many users, over sites of these numbers."""
    every = tuple(rolls)
    wide = {roll.user for roll in every if isinstance(roll, CannotRoll)}
    found = {(one.user, one.site_number, one.way): told_of(one) for one in summed(every)}

    def told(user: int, site: int, way: Way) -> Told:
        nothing: Outcome = "too wide" if user in wide else "not reached"
        return found.get((user, site, way), Told(outcome=nothing, worst=None))

    return tuple(
        Row(user=user, site_number=site, told={way: told(user, site, way) for way in ALL_WAYS})
        for user in range(1, users + 1)
        for site in sites
    )


def spots(roll: Roll, number: int) -> tuple[Spot, ...]:
    """Return the places along one way that something is worst at, the outcome's first."""
    told = told_of(summed((roll,))[number])
    assert told.worst is not None
    return Spot(
        key="worst", worst=told.worst, words=say("The worst: {outcome}", outcome=told.words)
    ), *_spots(roll, number)


def _spots(roll: Roll, number: int) -> Iterator[Spot]:
    way = roll.ways[number]
    yield Spot(key="clearance", worst=roll.clearance, words=clearance_words(roll.clearance))
    for key, word, tip in (("tip_back", "back", roll.tip_back), ("tip_forward", "forward", roll.tip_forward)):
        if tip is not None:
            yield Spot(key=key, worst=tip, words=f"{tip_words(tip.value, word)}, {_place(tip)}")
    yield Spot(key="push", worst=way.push, words=say("Most push: {force}", force=_force(way.push)))
    if way.brake.value > 0:
        yield Spot(
            key="brake", worst=way.brake, words=say("Most to hold back: {force}", force=_force(way.brake))
        )
    for bump in way.bumps:
        words = say("Bump at the {place}: {bump}", place=_place(bump), bump=bump_text(bump.value))
        yield Spot(key=f"bump {bump.place}", worst=bump, words=words)
    if way.slowed is not None:
        words = say(
            "Keeps {share} of its speed, {place}",
            share=fixed(100 * way.slowed.value, 0, "%"),
            place=_place(way.slowed),
        )
        yield Spot(key="slowed", worst=way.slowed, words=words)
    if way.run_up is not None and way.run_up.value > 0:
        words = say(
            "Wheels spin without a run of {speed}, {place}",
            speed=speed_text(way.run_up.value),
            place=_place(way.run_up),
        )
        yield Spot(key="run_up", worst=way.run_up, words=words)
    if roll.drop is not None:
        words = say(
            "A wheel sinks {depth} into a gap, {place}",
            depth=mm(roll.drop.value),
            place=_place(roll.drop),
        )
        yield Spot(key="drop", worst=roll.drop, words=words)
    if roll.hanging is not None:
        off = roll.hanging
        part = say(off.part)
        words = say(
            "{part} {gap} off, {place}",
            part=f"{part[:1].upper()}{part[1:]}",
            gap=mm(off.value),
            place=_place(off),
        )
        yield Spot(key="hanging", worst=off, words=words)


def clearance_words(worst: Worst) -> str:
    """Return the least clearance: `23 mm under the footrest, toe`."""
    if worst.value < 0:
        return say(
            "Aground by {depth}: {part}, {place}",
            depth=mm(-worst.value),
            part=say(worst.part),
            place=_place(worst),
        )
    return say(
        "{clearance} under the {part}, {place}",
        clearance=mm(worst.value),
        part=say(worst.part),
        place=_place(worst),
    )


def bump_text(share: float) -> str:
    """Return what a wheel needs to climb a kink: `0.42 of its load`."""
    return (
        say("more than can be had")
        if math.isinf(share)
        else say("{share} of its load", share=fixed(share, 2))
    )


def speed_text(speed_m_s: float) -> str:
    """Return the speed of a run-up; no more is told than somebody could come with."""
    if speed_m_s > _MOST_M_S:
        return say("more than {speed}", speed=fixed(_MOST_M_S, 0, "m/s"))
    return fixed(speed_m_s, 2, "m/s")


def tip_words(left_rad: RAD, word: str) -> str:
    """Return the angle left before it tips `back` or `forward`; by how much it tips, where none is."""
    back, angle = word == "back", degrees_text(abs(left_rad))
    if left_rad < 0:
        return say("tips back, {angle} too far" if back else "tips forward, {angle} too far", angle=angle)
    return say("{angle} before it tips back" if back else "{angle} before it tips forward", angle=angle)


def _force(worst: Worst) -> str:
    return f"{newton(worst.value)}, {_place(worst)}"


def _place(worst: Worst) -> str:
    return say(PLACES[worst.place])


def pose_words(user: UserAt, way: int) -> tuple[str, str]:
    """Return how a user stands, and what is left there: two lines."""
    pitch, lean = math.degrees(user.pitch_rad), math.degrees(math.atan(user.lean))
    leans = say(
        "leans back {angle}" if pitch > 0 else "leans forward {angle}", angle=fixed(abs(pitch), 1, "°")
    )
    stands = [say("level") if abs(pitch) < 0.05 else leans]
    if abs(lean) >= 0.05:
        stands.append(
            say("{angle} to the right" if lean > 0 else "{angle} to the left", angle=fixed(abs(lean), 1, "°"))
        )
    force = user.forces_n[way]
    stands.append(
        say("{force} to keep moving", force=newton(force))
        if force >= 0
        else say("{force} to hold back", force=newton(-force))
    )
    stands += [
        say("{wheel} {gap} off", wheel=say(f"{wheel.axle} wheel"), gap=mm(wheel.gap_mm))
        for wheel in user.wheels
        if wheel.gap_mm > _HANGS_MM
    ]
    clear = user.low.clearance_mm
    left = [
        say(
            "{part} {clearance} clear" if clear >= 0 else "{part} aground by {clearance}",
            part=say(user.low.part),
            clearance=mm(abs(clear)),
        )
    ]
    if user.tip_back_rad is not None and user.tip_forward_rad is not None:
        back = user.tip_back_rad <= user.tip_forward_rad
        angle = min(user.tip_back_rad, user.tip_forward_rad)
        left.append(tip_words(angle, "back" if back else "forward"))
    return "; ".join(stands), "; ".join(left)
