"""What a value of a wheeled user is where it is left to the user's class, as the form shows it."""

import re
from dataclasses import dataclass
from typing import Final

from rampdraft.app.form import format
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import value_at
from rampdraft.model.rolling_shape import left_to_class

LEFT: Final = "as its class"
_OF_USER: Final = re.compile(r"(use\.users\[\d+\])\.(\w+)")


@dataclass(frozen=True, slots=True)
class Usual:
    """What the class gives."""

    value: float
    """0 for none, and for what is no number."""
    words: str


def usual_of(design: Design, path: str) -> Usual | None:
    """Return what the class gives for the value at `path`; None for a value that is never left to a class."""
    found = _OF_USER.fullmatch(path)
    usual = left_to_class(value_at(design, found[1]), found[2]) if found else None
    if usual is None:
        return None
    if isinstance(usual, str):
        return Usual(0.0, f"{LEFT}: {usual}")
    return Usual(usual, f"{format.number(usual) if usual else 'none'} of its class")
