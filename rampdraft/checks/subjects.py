"""What checks are made on, and what a quantity measures there."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from rampdraft.geometry.members.member import Assembly, Body, Kin, Member, OnLeaf
from rampdraft.mechanics.carrier.results import CarrierStanding
from rampdraft.mechanics.handling.staying import Staying
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Subject:
    """What something is found of, in words and in the keys that a check is `About`."""

    key: str
    """Joins the check's id; empty for the whole ramp."""
    subject: str
    part: str = ""
    leaf: OnLeaf = ""
    state: DeckState | Literal[""] = ""
    user: int = 0
    pair: tuple[Kin, Kin] | None = None
    site_number: int = 0
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

    Anything else is refused with a KeyError, so that what a check needs cannot be declared too narrowly.
    `kept` holds what several checks on these very subjects ask for, measured once.
    """

    __slots__ = ("_of", "design", "kept")

    def __init__(self, design: Design, of: Mapping[str, Any]) -> None:
        self.design, self._of = design, of
        self.kept: dict[object, Any] = {}

    @property
    def assembly(self) -> Assembly:
        """Return the members."""
        return self._of["assembly"]

    @property
    def sites(self) -> tuple[SitePose, ...]:
        """Return each site with the deck empty, then loaded."""
        return self._of["sites"]

    @property
    def kerbs(self) -> Mapping[MM, tuple[SitePose, ...]]:
        """Return the ramp put down on each reference kerb of the rules, by its height."""
        return self._of["kerbs"]

    @property
    def drop_mm(self) -> MM:
        """Return how far the loaded deck sinks."""
        return self._of["drop_mm"]

    @property
    def path(self) -> FoldPath:
        """Return the way of the fold."""
        return self._of["path"]

    @property
    def clearance(self) -> Clearance:
        """Return the clearance along it."""
        return self._of["clearance"]

    @property
    def hand(self) -> HandForce:
        """Return the hand force along it."""
        return self._of["hand"]

    @property
    def staying(self) -> tuple[Staying, ...]:
        """Return how the empty ramp stays down at each site."""
        return self._of["staying"]

    @property
    def stowed(self) -> Stowed:
        """Return the stowed size."""
        return self._of["stowed"]

    @property
    def joint(self) -> JointVerdict:
        """Return what holds the joint."""
        return self._of["joint"]

    @property
    def carried(self) -> Carried:
        """Return what each load puts on the members."""
        return self._of["carried"]

    @property
    def strengths(self) -> Members:
        """Return the members as they are judged under whichever load."""
        return self._of["strengths"]

    @property
    def verdicts(self) -> tuple[Verdict, ...]:
        """Return what they use of their strength under the users and the rated load."""
        return self._of["verdicts"]

    @property
    def standing(self) -> CarrierStanding | None:
        """Return the carrier on its supports."""
        return self._of["standing"]

    def poses(self, kinds: tuple[SiteKind, ...]) -> Iterator[SitePose]:
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
        place = f"site-{pose.site_number}" if pose.site_number else f"kerb-{pose.site.split()[0]}"
        return f"{place}-{pose.state}"

    def words(self, pose: SitePose) -> str:
        """Return the subject of a pose: `Kerb, deck loaded`; the bare site where the deck does not sink."""
        return f"{pose.site}, deck {pose.state}" if self.drop_mm > 0 else pose.site
