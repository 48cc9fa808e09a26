"""Rolling over it in words: where on the way something is, and who or what is not looked at like the rest."""

from collections.abc import Iterable, Sequence
from typing import Final

from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.model.design import Design
from rampdraft.words.figures import exact

PLACE_WORDS: Final = {
    "deck": "on the deck",
    "edge": "at the deck edge",
    "inner": "on the inner leaf",
    "joint": "at the joint",
    "outer": "on the outer leaf",
    "toe": "at the toe",
    "ground": "on the ground",
}


def odd_words(
    design: Design, rolls: Iterable[Roll | CannotRoll], sites: Sequence[SitePose]
) -> tuple[str, ...]:
    """Return a sentence for each user that cannot roll or is remarked on, for each site that the ramp does
    not reach, and for a design that names no user.
    """
    told: dict[str, None] = {}
    for one in rolls:
        name = design.use.users[one.user - 1].name
        if isinstance(one, CannotRoll):
            width, room = exact(round(one.width_mm, 1), "mm"), exact(round(one.room_mm, 1), "mm")
            told[f"{name} is not rolled: its wheels are {width} wide, the ramp has room for {room}"] = None
        else:
            told |= {f"{name}: {remark}": None for remark in one.remarks}
    for pose in sites:
        if not pose.reaches:
            told[f"nobody rolls at {pose.site}, deck {pose.state}: the ramp does not reach the ground"] = None
    if not design.use.users:
        told["the design names no user"] = None
    return tuple(told)
