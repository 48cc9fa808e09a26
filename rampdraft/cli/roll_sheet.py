"""How users roll over it, as text for a terminal."""

import math
import textwrap
from collections.abc import Iterator
from typing import Final

from rampdraft.checks.notes import CAUTIONS
from rampdraft.cli.sheet import table
from rampdraft.drawing.rolling_words import ENDS, speed_text, told_of
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.rolling.results import CannotRoll, Roll, Worst
from rampdraft.mechanics.rolling.summary import PLACES, Summed, summed, worst_bump
from rampdraft.mechanics.rolling.words import PLACE_WORDS, odd_words
from rampdraft.words.figures import fixed
from rampdraft.words.say import named, say

_WIDTH: Final = 100
_STOPS: Final = "stops it"
HEAD: Final = (
    "way", "", "clearance", "tips back", "forward", "push", "brake", "bump", "speed left", "grip", "run-up",
)  # fmt: skip
_MOST_SHARE: Final = 10.0
"""No more is told: it does not come over."""


def roll_sheet(evaluation: Evaluation) -> str:
    """Return everything that `rampdraft roll` prints: the worst of each user at each site each way, over the
    states of the deck; the three places; the cautions.
    """
    design, odd = evaluation.design, list(_odd(evaluation))
    blocks = (
        [say("{name}: users rolling over it, the worst over the states of the deck", name=design.about.name)],
        *_users(evaluation),
        [say("Bumps: level force on the axle over its load, worst user"), *_places(evaluation)],
        [say("What is odd"), *odd] if odd else [],
        [say("Cautions"), *(line for caution in CAUTIONS for line in _wrapped(f"- {say(caution)}"))],
    )
    return "\n\n".join("\n".join(lines) for lines in blocks if lines) + "\n"


def rolls_through(evaluation: Evaluation) -> bool:
    """Return whether all come through everywhere: nothing aground, nobody tipping, no wheel stopped or
    spinning.
    """
    rolls = evaluation.rolling
    if any(isinstance(one, CannotRoll) for one in rolls) or not all(
        pose.reaches for pose in evaluation.sites
    ):
        return False
    return not any(told_of(one).outcome in ENDS for one in summed(rolls))


def _users(evaluation: Evaluation) -> Iterator[list[str]]:
    design = evaluation.design
    found = summed(evaluation.rolling)
    head = tuple(map(say, HEAD))
    for number, user in enumerate(design.use.users, start=1):
        for place, site in enumerate(design.sites, start=1):
            rows = [one for one in found if (one.user, one.site_number) == (number, place)]
            if rows:
                yield [f"{user.name} - {site.name}", *table([head, *(_row(one) for one in rows)])]


def _row(one: Summed) -> tuple[str, ...]:
    low = one.clearance[1]
    return (
        say(one.way),
        say(told_of(one).outcome),
        f"{fixed(low.value, 1, 'mm')} {named(low.part)} {say(PLACE_WORDS[low.place])}",
        _angle(one.tip_back),
        _angle(one.tip_forward),
        fixed(one.push[1].value, 0, "N"),
        fixed(one.brake[1].value, 0, "N"),
        "-" if one.bump is None else f"{_bump(one.bump[1])} {say(PLACE_WORDS[one.bump[1].place])}",
        "-" if one.slowed is None else fixed(100 * one.slowed[1].value, 0, "%"),
        "-" if one.grip is None else fixed(100 * min(one.grip[1].value, _MOST_SHARE), 0, "%"),
        "-" if one.run_up is None else speed_text(one.run_up[1].value),
    )


def _angle(found: tuple[Roll, Worst] | None) -> str:
    return say("held") if found is None else fixed(math.degrees(found[1].value), 1, "°")


def _bump(worst: Worst) -> str:
    return fixed(worst.value, 2) if math.isfinite(worst.value) else say(_STOPS)


def _places(evaluation: Evaluation) -> Iterator[str]:
    design = evaluation.design
    for place in PLACES:
        found = worst_bump(evaluation.rolling, place)
        if found is None:
            yield say("  {place}: none", place=say(PLACE_WORDS[place]))
            continue
        one, worst = found
        user, site = design.use.users[one.roll.user - 1].name, design.sites[one.roll.site_number - 1].name
        yield from _wrapped(
            say(
                "{place}: {bump}, {user}, {site}, deck {state}, {way}: {part} on {met}",
                place=say(PLACE_WORDS[place]),
                bump=_bump(worst),
                user=user,
                site=site,
                state=say(one.roll.state),
                way=say(one.worst.way),
                part=named(worst.part),
                met=named(worst.met),
            )
        )


def _odd(evaluation: Evaluation) -> Iterator[str]:
    for words in odd_words(evaluation.design, evaluation.rolling, evaluation.sites):
        yield from _wrapped(f"- {words}")


def _wrapped(text: str) -> list[str]:
    return textwrap.wrap(text, _WIDTH, initial_indent="  ", subsequent_indent="     ")
