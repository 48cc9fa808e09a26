"""Rolling over it in words: where on the way something is, and who or what is not looked at like the rest."""

from collections.abc import Iterable, Sequence
from typing import Final

from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.model.design import Design
from rampdraft.words.figures import exact
from rampdraft.words.say import say

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
            words = say(
                "{user} is not rolled: its wheels are {width} wide, the ramp has room for {room}",
                user=name,
                width=width,
                room=room,
            )
            told[words] = None
        else:
            told |= {f"{name}: {say(remark)}": None for remark in one.remarks}
    for pose in sites:
        if not pose.reaches:
            words = say(
                "nobody rolls at {site}, deck {state}: the ramp does not reach the ground",
                site=pose.site,
                state=say(pose.state),
            )
            told[words] = None
    if not design.use.users:
        told[say("the design names no user")] = None
    return tuple(told)
