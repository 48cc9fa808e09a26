"""What hands give, in words."""

from rampdraft.mechanics.handling.hands import StageHands
from rampdraft.words.figures import newton
from rampdraft.words.say import counted, say


def hands_words(stage: StageHands) -> str:
    """Return all forces of the pose that asks most: `539 N at the joint and 186 N at the toe at once`."""
    told = (
        say(
            "{force} at the {handle}" if one.force_n >= 0 else "{force} held back at the {handle}",
            force=newton(abs(one.force_n)),
            handle=say(one.handle),
        )
        for one in stage.places
    )
    return say(" and ").join(told) + (say(" at once") if len(stage.places) > 1 else "")


def people_words(stage: StageHands) -> str:
    """Return how many people that takes: `2 people`, `more than people lift`."""
    if not stage.needed:
        return say("more than people lift")
    return counted(stage.needed, "{count} person", "{count} people")
