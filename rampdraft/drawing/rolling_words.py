"""What rolling over comes to, in words and a sign each: for a drawing's caption, a table, a list of places."""

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.drawing.text import degrees_text, mm_text
from rampdraft.figures import fixed, newton
from rampdraft.mechanics.results import DeckState
from rampdraft.mechanics.rolled import UserAt
from rampdraft.mechanics.rolling.results import WAYS, CannotRoll, Facing, Roll, Way, Worst
from rampdraft.rounding import greatest
from rampdraft.units import RAD

Outcome = Literal["not reached", "too wide", "grounds", "stops", "tips", "hard", "hangs", "rolls"]
"""Worst first. `hard`: a wheel meets a kink that takes more than its own load to climb (common practice);
`hangs`: a wheel is off what is below it somewhere.
"""
OUTCOMES: Final[tuple[Outcome, ...]] = (
    "not reached", "too wide", "grounds", "stops", "tips", "hard", "hangs", "rolls"
)  # fmt: skip
SIGNS: Final[dict[Outcome, str]] = {
    "not reached": "✕", "too wide": "✕", "grounds": "✕", "stops": "■", "tips": "▲", "hard": "◆", "hangs": "◇", "rolls": "○",
}  # fmt: skip
"""Filled for what ends the way, open for what does not."""
ALL_WAYS: Final[tuple[Way, ...]] = ("up forwards", "down backwards", "down forwards", "up backwards")
PLACES: Final = {
    "deck": "deck", "edge": "deck edge", "inner": "inner leaf", "joint": "joint", "outer": "outer leaf",
    "toe": "toe", "ground": "ground",
}  # fmt: skip


_NAMES: Final[dict[Outcome, str]] = {"hard": "hard bump", "hangs": "wheel off"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Told:
    """The outcome of one way of going over a site, and the place that it is told of."""

    outcome: Outcome
    worst: Worst | None
    """None where nothing rolls."""
    state: DeckState = "empty"

    @property
    def rank(self) -> tuple[int, float]:
        """Return what is greater the worse it is."""
        value = round(self.worst.value, 6) if self.worst is not None else 0.0
        return -OUTCOMES.index(self.outcome), value if self.outcome in ("stops", "hard", "hangs") else -value

    @property
    def words(self) -> str:
        """Return the outcome with its sign: `✕ grounds, outer`; `○ 43 mm clear`."""
        sign, worst = SIGNS[self.outcome], self.worst
        if worst is None:
            return f"{sign} {self.outcome}"
        if self.outcome == "rolls":
            return f"{sign} {mm_text(worst.value, 0)} mm clear"
        return f"{sign} {_NAMES.get(self.outcome, self.outcome)}, {worst.place}"


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


def told_of(roll: Roll | CannotRoll, number: int) -> Told:
    """Return the outcome of one of the two ways of a roll, 0 forwards, 1 backwards."""
    if isinstance(roll, CannotRoll):
        return Told(outcome="too wide", worst=None)
    bump = roll.ways[number].bump
    tips = [one for one in (roll.tip_back, roll.tip_forward) if one is not None and one.value < 0]
    if roll.clearance.value < 0:
        found: tuple[Outcome, Worst] = "grounds", roll.clearance
    elif bump is not None and math.isinf(bump.value):
        found = "stops", bump
    elif tips:
        found = "tips", greatest(tips, lambda one: -one.value)
    elif bump is not None and bump.value > 1:
        found = "hard", bump
    elif roll.hanging is not None:
        found = "hangs", roll.hanging
    else:
        found = "rolls", roll.clearance
    return Told(outcome=found[0], worst=found[1], state=roll.state)


def rows_of(rolls: Iterable[Roll | CannotRoll], users: int, sites: tuple[int, ...]) -> tuple[Row, ...]:
    """Return the table of all rolls, by user and by site: so many users, over sites of these numbers."""
    found: dict[tuple[int, int, Way], Told] = {}
    for roll in rolls:
        places = sites if isinstance(roll, CannotRoll) else (roll.site_number,)
        ways = ALL_WAYS if isinstance(roll, CannotRoll) else WAYS[roll.facing]
        for place in places:
            for number, way in enumerate(ways):
                key, one = (roll.user, place, way), told_of(roll, number)
                found[key] = max((found.get(key, one), one), key=lambda each: each.rank)
    nowhere = Told(outcome="not reached", worst=None)
    return tuple(
        Row(
            user=user,
            site_number=site,
            told={way: found.get((user, site, way), nowhere) for way in ALL_WAYS},
        )
        for user in range(1, users + 1)
        for site in sites
    )


def spots(roll: Roll, number: int) -> tuple[Spot, ...]:
    """Return the places along one way that something is worst at, the outcome's first."""
    told = told_of(roll, number)
    assert told.worst is not None
    return Spot(key="worst", worst=told.worst, words=f"The worst: {told.words}"), *_spots(roll, number)


def _spots(roll: Roll, number: int) -> Iterator[Spot]:
    way = roll.ways[number]
    yield Spot(key="clearance", worst=roll.clearance, words=clearance_words(roll.clearance))
    for key, word, tip in (("tip_back", "back", roll.tip_back), ("tip_forward", "forward", roll.tip_forward)):
        if tip is not None:
            yield Spot(key=key, worst=tip, words=f"{tip_words(tip.value, word)}, {PLACES[tip.place]}")
    yield Spot(key="push", worst=way.push, words=f"Most push: {_force(way.push)}")
    if way.brake.value > 0:
        yield Spot(key="brake", worst=way.brake, words=f"Most to hold back: {_force(way.brake)}")
    for bump in way.bumps:
        words = f"Bump at the {PLACES[bump.place]}: {bump_text(bump.value)}"
        yield Spot(key=f"bump {bump.place}", worst=bump, words=words)
    if way.slowed is not None:
        words = f"Keeps {fixed(100 * way.slowed.value, 0, '%')} of its speed, {PLACES[way.slowed.place]}"
        yield Spot(key="slowed", worst=way.slowed, words=words)
    if roll.drop is not None:
        words = f"A wheel sinks {mm_text(roll.drop.value)} mm into a gap, {PLACES[roll.drop.place]}"
        yield Spot(key="drop", worst=roll.drop, words=words)
    if roll.hanging is not None:
        off = roll.hanging
        words = f"{off.part.capitalize()} {mm_text(off.value)} mm off, {PLACES[off.place]}"
        yield Spot(key="hanging", worst=off, words=words)


def clearance_words(worst: Worst) -> str:
    """Return the least clearance: `23 mm under the footrest, toe`."""
    if worst.value < 0:
        return f"Aground by {mm_text(-worst.value)} mm: {worst.part}, {PLACES[worst.place]}"
    return f"{mm_text(worst.value)} mm under the {worst.part}, {PLACES[worst.place]}"


def bump_text(share: float) -> str:
    """Return what a wheel needs to climb a kink: `0.42 of its load`."""
    return "more than can be had" if math.isinf(share) else f"{fixed(share, 2)} of its load"


def tip_words(left_rad: RAD, word: str) -> str:
    """Return the angle left before it tips `back` or `forward`; by how much it tips, where none is."""
    if left_rad < 0:
        return f"tips {word}, {degrees_text(-left_rad)} too far"
    return f"{degrees_text(left_rad)} before it tips {word}"


def _force(worst: Worst) -> str:
    return f"{newton(worst.value)}, {PLACES[worst.place]}"


def pose_words(user: UserAt, way: int) -> tuple[str, str]:
    """Return how a user stands, and what is left there: two lines."""
    pitch, lean = math.degrees(user.pitch_rad), math.degrees(math.atan(user.lean))
    stands = [f"leans {'back' if pitch > 0 else 'forward'} {fixed(abs(pitch), 1, '°')}"]
    if abs(pitch) < 0.05:
        stands = ["level"]
    if abs(lean) >= 0.05:
        stands.append(f"{fixed(abs(lean), 1, '°')} to the {'right' if lean > 0 else 'left'}")
    force = user.forces_n[way]
    stands.append(f"{newton(force)} to keep moving" if force >= 0 else f"{newton(-force)} to hold back")
    stands += [
        f"{wheel.axle} wheel {mm_text(wheel.gap_mm)} mm off" for wheel in user.wheels if wheel.gap_mm > 1
    ]
    clear = user.low.clearance_mm
    left = [
        f"{user.low.part} {mm_text(clear)} mm clear"
        if clear >= 0
        else f"{user.low.part} aground by {mm_text(-clear)} mm"
    ]
    if user.tip_back_rad is not None and user.tip_forward_rad is not None:
        back = user.tip_back_rad <= user.tip_forward_rad
        angle = min(user.tip_back_rad, user.tip_forward_rad)
        left.append(tip_words(angle, "back" if back else "forward"))
    return "; ".join(stands), "; ".join(left)
