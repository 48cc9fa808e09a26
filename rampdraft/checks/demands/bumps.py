"""What the steps at deck edge, joint and toe ask of the smallest wheel, at each edit: advice. What
wheels meet all along their way is judged where users are rolled.
"""

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from rampdraft.checks.demands.rolling_cases import PRACTICE
from rampdraft.checks.quantities.steps import step
from rampdraft.checks.result import MOST_RATIO, Check, Demand, Measured, Subjects, compose
from rampdraft.mechanics.rolling.bumps import climb_share
from rampdraft.model.rolling_shape import shape_of
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words.figures import mm, number
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say

ITS_LOAD: Final = 1.0
"""A wheel that must be pushed on by more than its load is hard to get over a step; common practice."""
_WHEELS: Final = {
    "front": "{user}, front wheel",
    "middle": "{user}, middle wheel",
    "rear": "{user}, rear wheel",
}
_HARD: Final = "Rolling over it says how much of it is left beside slope and grip."


def bump_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield what the highest step asks of the smallest wheel of any user, as a share of that wheel's load."""
    steps = [one for one in step(subjects) if isinstance(one, Measured)]
    wheels = [
        (axle.radius_mm, user, say(_WHEELS[axle.name], user=shape.name))
        for user, shape in enumerate(map(shape_of, subjects.design.use.users), start=1)
        for axle in shape.axles
        if not axle.held
    ]
    if not steps or not wheels:
        return
    highest = greatest(steps, lambda one: one.value)
    radius, user, words = greatest(wheels, lambda one: -one[0])
    share = min(climb_share(radius, highest.value), MOST_RATIO)
    demand = Demand.own(
        "bump",
        say("Push that a step asks of a wheel"),
        "at most",
        "factor",
        ITS_LOAD,
        say("its load"),
        PRACTICE,
    )
    said = (
        say("{share} of its load", share=number(share, 2)) if share < MOST_RATIO else say("no force lifts it")
    )
    yield compose(
        replace(demand, warning=say(_HARD)),
        replace(
            highest,
            key="",
            subject=f"{words}, {highest.subject}",
            user=user,
            value=share,
            text=said,
            working=prose(_lines, radius, highest.value, said),
        ),
    )


def _lines(radius_mm: MM, step_mm: MM, said: str) -> Lines:
    return (
        say("level force on the axle over the wheel's load = root of (2 r h - h2) / (r - h)"),
        f"r = {mm(radius_mm)}, h = {mm(step_mm)}: {said}",
    )
