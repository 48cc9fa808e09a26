"""Every user over every site, in each state of the deck, facing both ways."""

from collections.abc import Iterator, Sequence
from typing import Final

from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.at_rest import AtRest
from rampdraft.mechanics.carrier.results import CannotStand
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.alike import Alike
from rampdraft.mechanics.rolling.results import CannotRoll, Facing, Roll
from rampdraft.mechanics.rolling.roll import cannot_roll, roll_anywhere
from rampdraft.mechanics.rolling.sinking import Sunk, roll_sinking
from rampdraft.mechanics.rolling.surfaces import Surfaces
from rampdraft.mechanics.standing.props import PropsSet
from rampdraft.mechanics.standing.standing import Straightened
from rampdraft.model.design import Design
from rampdraft.progress import Progress, nobody

_FACINGS: Final[tuple[Facing, Facing]] = ("deck", "away")


def roll_everywhere(  # many: what the stage needs
    design: Design,
    assembly: Assembly,
    sites: tuple[SitePose, ...],
    straight: Straightened,
    rest: AtRest | CannotStand | None,
    props: PropsSet,
    progress: Progress = nobody,
    alike: Alike | None = None,
) -> tuple[Roll | CannotRoll, ...]:
    """Return every user over every site that the ramp reaches, facing both ways: with the deck empty, with it
    loaded and, where the supports say how far, as it sinks under whoever rolls. What is kept of whoever rolls
    `alike` over a deck that lies still is taken from there.

    Raises what `progress` raises.
    """
    placed = [
        (borne := props.borne(pose), Surfaces(design, assembly, borne))
        for pose in sites
        if pose.reaches and pose.state != "starting"  # one who starts up is where the deck begins to sink
    ]
    sunk = Sunk(design, assembly, straight, rest, props) if isinstance(rest, AtRest) else None
    rolls: list[Roll | CannotRoll] = []
    for place, user in enumerate(design.use.users):
        for one in rolls_of(design, place + 1, placed, sunk, alike):
            rolls.append(one)
            progress(place / len(design.use.users), user.name)
    return tuple(rolls)


def rolls_of(
    design: Design,
    number: int,
    placed: Sequence[tuple[SitePose, Surfaces]],
    sunk: Sunk | None,
    alike: Alike | None = None,
) -> Iterator[Roll | CannotRoll]:
    """Yield one user over some poses, facing both ways."""
    cannot = cannot_roll(design, number)
    if cannot is not None:
        yield cannot
        return
    for pose, surfaces in placed:
        for facing in _FACINGS:
            yield roll_anywhere(design, number, pose, surfaces, facing, alike=alike)
        if pose.state == "empty" and sunk is not None:
            sinking = (roll_sinking(sunk, number, pose, facing) for facing in _FACINGS)
            yield from (one for one in sinking if one is not None)
