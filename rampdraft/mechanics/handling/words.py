"""What hands give, in words."""

from rampdraft.mechanics.handling.hands import StageHands
from rampdraft.words.figures import newton


def hands_words(stage: StageHands) -> str:
    """Return all forces of the pose that asks most: `539 N at the joint and 186 N at the toe at once`."""
    told = (
        f"{newton(abs(one.force_n))} {'' if one.force_n >= 0 else 'held back '}at the {one.handle}"
        for one in stage.places
    )
    return " and ".join(told) + (" at once" if len(stage.places) > 1 else "")


def people_words(stage: StageHands) -> str:
    """Return how many people that takes: `2 people`, `more than people lift`."""
    if not stage.needed:
        return "more than people lift"
    return "1 person" if stage.needed == 1 else f"{stage.needed} people"
