"""What checks are made on, and what a quantity measures there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal, get_args

from rampdraft.geometry.members.member import Assembly, Body, Kin, Member, OnLeaf
from rampdraft.mechanics.carrier.results import CarrierStanding
from rampdraft.mechanics.loading.results import Carried
from rampdraft.mechanics.results import (
    Clearance,
    DeckState,
    FoldPath,
    HandForce,
    JointVerdict,
    SitePose,
    Stowed,
)
from rampdraft.model.design import Design, SiteKind
from rampdraft.prose import Prose
from rampdraft.strength.members import Members, Verdict
from rampdraft.units import MM

Unit = Literal["mm", "kg", "N", "deg", "gradient", "kPa", "count", "share", "factor", "yes/no", "none"]
"""Base unit: a gradient is rise over going, a share that of the strength; `none` is for what no number is
known of yet.
"""

State = DeckState | Literal[""]
"""Of the deck; empty where nothing is judged at one site."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Keys:
    """What something is said of, in keys: what logic reads, so that it need not read words, names or ids."""

    part: str = ""
    """What of the ramp: `deck-edge`, `joint`, `toe`, `prop`; of the stowed sizes `height`, `out`, `in`; of
    strength the family of members (`inner-rails`), under the load of a rule that of the worst one.
    """
    leaf: OnLeaf = ""
    state: State = ""
    user: int = 0
    """Place of a wheeled user in the design's list, counted from 1; 0 for none."""
    pair: tuple[Kin, Kin] | None = None
    """The two that come nearest while folding."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject(Keys):
    """What something is found of."""

    key: str
    """Joins the check's id; empty for the whole ramp."""
    subject: str
    """In words."""
    site_number: int = 0
    """The site, counted from 1; 0 for none."""
    share: float | None = None
    """The place on the fold path where it is so."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured(Subject):
    """A value measured on one subject, in the quantity's base unit, with its working."""

    value: float
    """Yes and no are 1 and 0."""
    working: Prose
    text: str = ""
    """The value in words, where it is no plain number."""
    why: str = ""
    member: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Unjudged(Subject):
    """A subject on which the quantity cannot be measured, and why."""

    why: str


Finding = Measured | Unjudged


def on_whole(value: float, working: Prose, member: str = "") -> tuple[Finding, ...]:
    """Return the one finding of a quantity that the whole ramp has."""
    return (Measured(key="", subject="", value=value, working=working, member=member),)


class Subjects:
    """The design, and what follows from it as far as a check is declared to need it.

    Anything else it does not have (AttributeError): what a check needs cannot be declared too narrowly.
    """

    design: Design
    assembly: Assembly
    sites: tuple[SitePose, ...]
    """Each with the deck empty, then loaded."""
    kerbs: Mapping[MM, tuple[SitePose, ...]]
    """The ramp put down on each reference kerb of the rules, by its height."""
    drop_mm: MM
    """How far the loaded deck sinks."""
    path: FoldPath
    clearance: Clearance
    hand: HandForce
    stowed: Stowed
    joint: JointVerdict
    carried: Carried
    strengths: Members
    """As they are judged under whichever load."""
    verdicts: tuple[Verdict, ...]
    """Under the users and the rated load."""
    unladen: CarrierStanding | None
    standing: CarrierStanding | None
    kept: dict[object, Any]
    """What several checks on these very subjects ask for, measured once."""

    def __init__(self, design: Design, of: Mapping[str, Any]) -> None:
        vars(self).update(of, design=design, kept={})

    def poses(self, kinds: tuple[SiteKind, ...] = get_args(SiteKind)) -> Iterator[SitePose]:
        """Yield the poses at sites of these kinds; a deck that does not sink has only one state."""
        for pose in self.sites:
            kind = self.design.sites[pose.site_number - 1].kind
            if kind in kinds and (self.drop_mm > 0 or pose.state == "empty"):
                yield pose

    def members(self, body: Body, role: str) -> tuple[Member, ...]:
        """Return the members of one body and role, in the order of the assembly."""
        return tuple(one for one in self.assembly.members if one.body == body and one.role == role)

    def key(self, pose: SitePose) -> str:
        """Return what stands for a pose in an id: `site-2-loaded`, `kerb-150-empty`."""
        if pose.site_number:
            return f"site-{pose.site_number}-{pose.state}"
        (height,) = (height for height, poses in self.kerbs.items() if any(one is pose for one in poses))
        return f"kerb-{height:g}-{pose.state}"

    def words(self, pose: SitePose) -> str:
        """Return the subject of a pose: `Kerb, deck loaded`; the bare site where the deck does not sink."""
        return f"{pose.site}, deck {pose.state}" if self.drop_mm > 0 else pose.site
