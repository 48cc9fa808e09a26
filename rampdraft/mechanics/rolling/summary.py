"""The worst of many rolls: of each user at each site each way, over the states of the deck; of each figure
over all of them.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Final, Literal

from rampdraft.mechanics.rolling.grip import RUN_UP_M_S
from rampdraft.mechanics.rolling.results import CannotRoll, Roll, Way, WayWorst, Worst
from rampdraft.model.design import Design
from rampdraft.model.rolling_shape import shape_of
from rampdraft.rounding import greatest

Bumped = Literal["edge", "joint", "toe"]
PLACES: Final[tuple[Bumped, ...]] = ("edge", "joint", "toe")
ExtremeKey = Literal[
    "clearance", "tip_back", "tip_forward", "push", "drive", "hold", "brake", Bumped, "slowed", "run_up",
    "drop", "hanging",
]  # fmt: skip
"""`push` and `hold` are of hands, `drive` and `brake` of wheels."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Gone:
    """One way of one roll."""

    roll: Roll
    worst: WayWorst


@dataclass(frozen=True, slots=True, kw_only=True)
class Extreme:
    """The worst of one figure, whoever's it is."""

    key: ExtremeKey
    roll: Roll
    ways: tuple[Way, ...]
    """Both that somebody goes who faces so, where it is the same on both."""
    worst: Worst


@dataclass(frozen=True, slots=True, kw_only=True)
class Summed:
    """One user at one site going one way: the worst of each figure over the states of the deck, and the roll
    it is of.
    """

    user: int
    site_number: int
    way: Way
    clearance: tuple[Roll, Worst]
    tip_back: tuple[Roll, Worst] | None
    tip_forward: tuple[Roll, Worst] | None
    push: tuple[Roll, Worst]
    brake: tuple[Roll, Worst]
    bump: tuple[Roll, Worst] | None
    bumps: dict[str, tuple[Roll, Worst]]
    """At each of the three places where a wheel meets one."""
    slowed: tuple[Roll, Worst] | None
    grip: tuple[Roll, Worst] | None
    run_up: tuple[Roll, Worst] | None
    hanging: tuple[Roll, Worst] | None

    @property
    def grounds(self) -> bool:
        """Return whether something low is aground."""
        return self.clearance[1].value < 0

    @property
    def tips(self) -> bool:
        """Return whether it tips over an axle as it stands."""
        return any(found is not None and found[1].value <= 0 for found in (self.tip_back, self.tip_forward))

    @property
    def stopped(self) -> bool:
        """Return whether a wheel meets a face that it cannot climb, whatever the force."""
        return self.bump is not None and self.bump[1].value == float("inf")

    @property
    def spins(self) -> bool:
        """Return whether its driven wheels do not take it over, with a run either."""
        return self.run_up is not None and self.run_up[1].value > RUN_UP_M_S


def gone(rolls: Iterable[Roll | CannotRoll]) -> Iterator[Gone]:
    """Yield both ways of every roll."""
    for one in rolls:
        if isinstance(one, Roll):
            yield from (Gone(roll=one, worst=way) for way in one.ways)


def summed(rolls: Iterable[Roll | CannotRoll]) -> tuple[Summed, ...]:
    """Return the worst of each user at each site each way, in that order."""
    groups: dict[tuple[int, int, Way], list[Gone]] = {}
    for one in gone(rolls):
        groups.setdefault((one.roll.user, one.roll.site_number, one.worst.way), []).append(one)
    return tuple(
        Summed(
            user=user,
            site_number=site,
            way=way,
            clearance=_least([(one.roll, one.roll.lowest) for one in found]),
            tip_back=_or_none(_least, [(one.roll, one.roll.tip_back) for one in found]),
            tip_forward=_or_none(_least, [(one.roll, one.roll.tip_forward) for one in found]),
            push=_most([(one.roll, one.worst.push) for one in found]),
            brake=_most([(one.roll, one.worst.brake) for one in found]),
            bump=_or_none(_most, [(one.roll, one.worst.bump) for one in found]),
            bumps=dict(_bumps(found)),
            grip=_or_none(_most, [(one.roll, one.worst.grip) for one in found]),
            run_up=_or_none(_most, [(one.roll, one.worst.run_up) for one in found]),
            slowed=_or_none(_least, [(one.roll, one.worst.slowed) for one in found]),
            hanging=_or_none(_most, [(one.roll, one.roll.hanging) for one in found]),
        )
        for (user, site, way), found in groups.items()
    )


def worst_bump(rolls: Iterable[Roll | CannotRoll], place: str) -> tuple[Gone, Worst] | None:
    """Return the greatest bump of all users at a place: `edge`, `joint` or `toe`; None where nobody meets
    one there.
    """
    return _bump_at(gone(rolls), place)


def extremes(design: Design, rolls: Iterable[Roll | CannotRoll]) -> tuple[Extreme, ...]:
    """Return the worst of each figure over all users, sites, ways and states of the deck; of a figure that
    nobody has, nothing.
    """
    found = tuple(gone(rolls))
    driven = [user for user, one in enumerate(design.use.users, start=1) if shape_of(one).driven]
    braked = [user for user, one in enumerate(design.use.users, start=1) if shape_of(one).braked]
    figures: tuple[tuple[ExtremeKey, float, Callable[[Gone], Worst | None]], ...] = (
        ("clearance", -1, lambda one: one.roll.lowest),
        ("tip_back", -1, lambda one: one.roll.tip_back),
        ("tip_forward", -1, lambda one: one.roll.tip_forward),
        ("push", 1, lambda one: None if one.roll.user in driven else one.worst.push),
        ("drive", 1, lambda one: one.worst.push if one.roll.user in driven else None),
        ("hold", 1, lambda one: None if one.roll.user in braked else one.worst.brake),
        ("brake", 1, lambda one: one.worst.brake if one.roll.user in braked else None),
        *((place, 1, partial(_bump_of, place=place)) for place in PLACES),
        ("slowed", -1, lambda one: one.worst.slowed),
        ("run_up", 1, lambda one: one.worst.run_up),
        ("drop", 1, lambda one: one.roll.drop),
        ("hanging", 1, lambda one: one.roll.hanging),
    )
    return tuple(one for key, sense, which in figures for one in _extreme(found, key, sense, which))


def _extreme(
    found: Sequence[Gone], key: ExtremeKey, sense: float, which: Callable[[Gone], Worst | None]
) -> Iterator[Extreme]:
    there = [(one, worst) for one in found if (worst := which(one)) is not None]
    if not there:
        return
    one, worst = greatest(there, lambda pair: sense * pair[1].value)
    if worst.value or sense < 0:  # nobody runs away: nothing to hold back
        ways: tuple[Way, ...] = tuple(
            each.worst.way for each, other in there if each.roll is one.roll and other is worst
        )
        yield Extreme(key=key, roll=one.roll, ways=ways, worst=worst)


def _bump_of(one: Gone, place: str) -> Worst | None:
    return next((bump for bump in one.worst.bumps if bump.place == place), None)


def _bump_at(found: Iterable[Gone], place: str) -> tuple[Gone, Worst] | None:
    there = [(one, bump) for one in found if (bump := _bump_of(one, place)) is not None]
    return greatest(there, lambda pair: pair[1].value) if there else None


_Found = Sequence[tuple[Roll, Worst]]


def _bumps(found: Sequence[Gone]) -> Iterator[tuple[str, tuple[Roll, Worst]]]:
    for place in PLACES:
        bump = _bump_at(found, place)
        if bump is not None:
            yield place, (bump[0].roll, bump[1])


def _most(found: _Found) -> tuple[Roll, Worst]:
    return greatest(found, lambda pair: pair[1].value)


def _least(found: _Found) -> tuple[Roll, Worst]:
    return greatest(found, lambda pair: -pair[1].value)


def _or_none(
    which: Callable[[_Found], tuple[Roll, Worst]], found: Sequence[tuple[Roll, Worst | None]]
) -> tuple[Roll, Worst] | None:
    there = [(roll, worst) for roll, worst in found if worst is not None]
    return which(there) if there else None
