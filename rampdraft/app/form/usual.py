"""What a value is where it is left at 0, as the form shows it: a user's as its class has it, ground that is
hard.
"""

import re
from dataclasses import dataclass
from typing import Final

from rampdraft.app.form import format
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, value_at
from rampdraft.model.fields.record import Dim
from rampdraft.model.rolling_shape import left_to_class
from rampdraft.words.say import say

LEFT: Final = "as its class"
HARD: Final = "hard"
_GROUND: Final = re.compile(r"sites\[\d+\]\.ground_bears_kpa")
_OF_USER: Final = re.compile(r"(use\.users\[\d+\])\.(\w+)")


@dataclass(frozen=True, slots=True)
class Usual:
    """What the class gives, or 0 stands for."""

    value: float
    """0 for none, and for what is no number."""
    words: str
    left: str = LEFT
    """What an edit that leaves it so is called."""


def usual_of(design: Design, path: str) -> Usual | None:
    """Return what stands for 0 of the value at `path`; None for a value that 0 is a figure of."""
    if _GROUND.fullmatch(path):
        return Usual(0.0, say(HARD), say(HARD))
    found = _OF_USER.fullmatch(path)
    usual = left_to_class(value_at(design, found[1]), found[2]) if found else None
    if usual is None:
        return None
    if isinstance(usual, str):
        return Usual(0.0, f"{say(LEFT)}: {say(usual)}")
    info = info_of(path)
    unit = info.record.unit if info is not None and isinstance(info.record, Dim) else ""
    if not usual:
        return Usual(usual, say("none of its class"))
    return Usual(usual, say("{value} of its class", value=format.typed(usual, unit)))
