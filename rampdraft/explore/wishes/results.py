"""What is said of wishes that exclude each other."""

from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.mechanics.results import DeckState

Clash = Literal["slope", "width", "load", "cross slope"]
"""What cannot be had: a going that is long enough, a way that is wide enough, a rated load that is great
enough, ground that is level enough across.
"""

RULES: Final = "use.rule_sets"
"""Path of the wish that a limit is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """One of the wishes that exclude each other."""

    key: str
    """Path of the value; that of the rule sets for a limit, which `rule` names."""
    rule: str = ""
    """Key of the limit, `us-vehicle-2016/slope-ground`; empty for a value of the survey."""
    value: float
    """mm, kg or rise over going, as the value or the limit is held."""
    would_do: float | None = None
    """What it alone would have to be, all else as wished; None where nothing in its range would do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WhyNot:
    """The smallest set of wishes that exclude each other."""

    clash: Clash
    wishes: tuple[Wish, ...]
    needed: float
    """Of a slope the least going, mm from the deck edge; else what is asked for."""
    possible: float
    """Of a slope how far from the deck edge a ramp reaches at most, mm; else what there is."""
    site_number: int = 0
    """The site it is about, from 1; 0 for none, and for the reference kerb of a rule."""
    kerb_mm: float | None = None
    """Height of that reference kerb."""
    state: DeckState | None = None
    """State of the deck it is about."""

    of_any: bool = True
    """Whether it is proved of every ramp that can be drawn; else of ramps as they are usually made."""

    def would_do(self, key: str) -> float | None:
        """Return what the wish of a key alone would have to be; None where there is none, or nothing does."""
        return next((wish.would_do for wish in self.wishes if wish.key == key), None)
