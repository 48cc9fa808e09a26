"""What a check says."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from rampdraft.geometry.members.member import Kin, OnLeaf
from rampdraft.mechanics.results import DeckState
from rampdraft.prose import Prose


class Status(StrEnum):
    """The verdict in words; results never say `safe`."""

    WITHIN = "within the limit"
    CLOSE = "close to the limit"
    EXCEEDS = "exceeds the limit"
    UNJUDGED = "cannot be judged"


Sense = Literal["at most", "at least", "is"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a limit is published."""

    rule_set: str
    """Key of the rule set, or `own` for what the program itself demands of a ramp that works."""
    title: str
    """Of the rule set: `US vehicles`."""
    clause: str
    publication: str


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What a check is about, in keys: what logic reads, so that it need not read words, names or ids."""

    kind: str
    """The quantity that a rule limits, as rule files write it; `own/` and a name for the program's own:
    `own/clearance`, `own/stowed`, `own/strength`, `own/carrier-tips`.
    """
    limit: str = ""
    """Id of the limit in its rule set; empty for the program's own."""
    part: str = ""
    """What of the ramp: `deck-edge`, `joint`, `toe`, `prop`; of the stowed sizes `height`, `out`, `in`; of
    strength the family of members (`inner-rails`), under the load of a rule that of the worst one.
    """
    leaf: OnLeaf = ""
    state: DeckState | Literal[""] = ""
    """Of the deck, where it is judged at one site."""
    user: int = 0
    """Place of a wheeled user in the design's list, counted from 1; 0 for none."""
    pair: tuple[Kin, Kin] | None = None
    """The two that come nearest while folding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: value against limit, with the working that an inspector would write by hand."""

    id: str
    """Stable: rule set, limit and subject joined by `/`."""
    about: About
    title: str
    subject: str
    """What it was judged on: a site and deck state, a leaf, a wheeled user; empty for the whole ramp."""
    value: float | None
    """None when it cannot be judged or is no number."""
    limit: float | None
    unit: str
    value_text: str
    limit_text: str
    sense: Sense
    ratio: float | None
    """How much of the limit is used: above 1 exceeds it."""
    status: Status
    why: str
    """Why it cannot be judged, or plain words on the verdict; may be empty."""
    source: Source
    worked: Prose
    """The working, written when it is shown."""
    member: str = ""
    """Key of the member it speaks of, for the drawing; empty for none."""
    site_number: int = 0
    """The site it speaks of, counted from 1; 0 for none."""
    share: float | None = None
    """The place on the fold path it speaks of."""
    warning_only: bool = False
    """True when the source asks this of something else than a ramp like this one: what exceeds it is told and
    fails nothing.
    """

    @property
    def working(self) -> tuple[str, ...]:
        """Return the lines of the working: formula, the numbers put in, the result with its unit."""
        return self.worked.lines()

    @property
    def fails(self) -> bool:
        """Return whether a limit that is demanded is exceeded."""
        return self.status is Status.EXCEEDS and not self.warning_only
