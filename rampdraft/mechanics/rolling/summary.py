"""The worst of many rolls: of each user at each site each way, over the states of the deck; and of each of
the three places that wheels meet.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from rampdraft.mechanics.rolling.results import CannotRoll, Roll, Way, WayWorst, Worst
from rampdraft.rounding import greatest

PLACES: Final = ("edge", "joint", "toe")


@dataclass(frozen=True, slots=True, kw_only=True)
class Gone:
    """One way of one roll."""

    roll: Roll
    worst: WayWorst


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
    slowed: tuple[Roll, Worst] | None
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
            clearance=_least([(one.roll, one.roll.clearance) for one in found]),
            tip_back=_or_none(_least, [(one.roll, one.roll.tip_back) for one in found]),
            tip_forward=_or_none(_least, [(one.roll, one.roll.tip_forward) for one in found]),
            push=_most([(one.roll, one.worst.push) for one in found]),
            brake=_most([(one.roll, one.worst.brake) for one in found]),
            bump=_or_none(_most, [(one.roll, one.worst.bump) for one in found]),
            slowed=_or_none(_least, [(one.roll, one.worst.slowed) for one in found]),
            hanging=_or_none(_most, [(one.roll, one.roll.hanging) for one in found]),
        )
        for (user, site, way), found in groups.items()
    )


def worst_bump(rolls: Iterable[Roll | CannotRoll], place: str) -> tuple[Gone, Worst] | None:
    """Return the greatest bump of all users at a place: `edge`, `joint` or `toe`; None where nobody meets
    one there.
    """
    found = [(one, bump) for one in gone(rolls) for bump in one.worst.bumps if bump.place == place]
    return greatest(found, lambda pair: pair[1].value) if found else None


_Found = Sequence[tuple[Roll, Worst]]


def _most(found: _Found) -> tuple[Roll, Worst]:
    return greatest(found, lambda pair: pair[1].value)


def _least(found: _Found) -> tuple[Roll, Worst]:
    return greatest(found, lambda pair: -pair[1].value)


def _or_none(
    which: Callable[[_Found], tuple[Roll, Worst]], found: Sequence[tuple[Roll, Worst | None]]
) -> tuple[Roll, Worst] | None:
    there = [(roll, worst) for roll, worst in found if worst is not None]
    return which(there) if there else None
