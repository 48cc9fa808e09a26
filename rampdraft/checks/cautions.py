"""The cautions that every screen and every export carries, in one place."""

from typing import Final

CAUTIONS: Final[tuple[str, ...]] = (
    "These figures are an aid to a competent person. They are not approval.",
    "Where people ride, or the public is admitted, local codes and a licensed engineer decide.",
    "Welds by a competent welder.",
    "Prove the ramp by a test load, with nobody near, before anybody uses it.",
    "Keep hands out of the hinge lines.",
    "Never exceed the marked load.",
    "Do not use the ramp on steeper ground than marked.",
)
"""One sentence a caution; say all of them, in this order."""
