"""What checks are made on, what is found there, and what a check says of it: ratio, verdict, worst first."""

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any, Final, Generic, Literal, Self, TypeVar, get_args

from rampdraft.checks.values import SHOWN_UNITS, Unit, value_words
from rampdraft.geometry.attached import Attached
from rampdraft.geometry.members.member import Assembly, Body, Kin, Member, OnLeaf
from rampdraft.mechanics.carrier.results import CarrierStanding
from rampdraft.mechanics.folding.bridge_room import BridgeRoom
from rampdraft.mechanics.handling.fall import Fall
from rampdraft.mechanics.handling.hands import StageHands
from rampdraft.mechanics.handling.lifted import Lifted
from rampdraft.mechanics.handling.staying import Staying
from rampdraft.mechanics.handling.stowed import Shaken
from rampdraft.mechanics.handling.thrust import Thrust, ToeGround
from rampdraft.mechanics.loading.results import Carried
from rampdraft.mechanics.results import (
    ClashingPair,
    Clearance,
    DeckState,
    FoldPath,
    HandForce,
    JointVerdict,
    SitePose,
    Stowed,
)
from rampdraft.mechanics.rolling.results import CannotRoll, Roll
from rampdraft.mechanics.standing.props import PropsSet
from rampdraft.model.design import Design, SiteKind
from rampdraft.strength.members import Members, Verdict
from rampdraft.units import MM, NMM
from rampdraft.words import figures
from rampdraft.words.manner import manner
from rampdraft.words.prose import Lines, Prose
from rampdraft.words.say import say

T = TypeVar("T")

State = DeckState | Literal[""]
"""Of the deck; empty where nothing is judged at one site."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Topic:
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
class Subject(Topic):
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

    Anything else it does not have (AttributeError): what a check needs cannot be declared too narrowly. What
    each is stands beside its stage.
    """

    design: Design
    assembly: Assembly
    attached: Attached
    sites: tuple[SitePose, ...]
    """Each with the deck empty, with somebody starting up where its cargo moves it, then loaded."""
    props_set: PropsSet
    meeting: tuple[ClashingPair, ...] | None
    kerbs: Mapping[MM, tuple[SitePose, ...]]
    """The ramp put down on each reference kerb of the rules, by its height."""
    drop_mm: MM
    """How far the loaded deck sinks; below 0 where it rises."""
    path: FoldPath
    clearance: Clearance
    bridge_room: BridgeRoom | None
    hand: HandForce
    hands: tuple[StageHands, ...]
    falls: tuple[Fall, ...]
    stowed: Stowed
    shaken: tuple[Shaken, ...]
    leaning_nmm: NMM
    """About the deck hinge, positive away from the deck."""
    thrust: Thrust | None
    toe_ground: ToeGround | None
    staying: tuple[Staying, ...]
    lifted: tuple[Lifted, ...]
    rolling: tuple[Roll | CannotRoll, ...]
    joint: JointVerdict
    carried: Carried
    strengths: Members
    fixed_on: Members
    """As they are judged under whichever load; upstands and what holds the slats under wheels."""
    verdicts: tuple[Verdict, ...]
    fixed: tuple[Verdict, ...]
    unladen: CarrierStanding | None
    standing: CarrierStanding | None
    _kept: dict[object, Any]

    def __init__(self, design: Design, of: Mapping[str, Any]) -> None:
        vars(self).update(of, design=design, _kept={})

    def poses(self, kinds: tuple[SiteKind, ...] = get_args(SiteKind)) -> Iterator[SitePose]:
        """Yield the poses at sites of these kinds; a deck that does not move has only one state."""
        for pose in self.sites:
            kind = self.design.sites[pose.site_number - 1].kind
            if kind in kinds and (self.drop_mm or pose.state != "loaded"):
                yield pose

    def members(self, body: Body, role: str) -> tuple[Member, ...]:
        """Return the members of one body and role, in the order of the assembly."""
        members, of = self.assembly.members, (body, role)
        return self.once(of, lambda: tuple(one for one in members if (one.tag.body, one.piece.role) == of))

    def once(self, key: object, make: Callable[[], T]) -> T:
        """Return what several checks on these very subjects ask for, made at the first time of asking."""
        if key not in self._kept:
            self._kept[key] = make()
        return self._kept[key]

    def key(self, pose: SitePose) -> str:
        """Return what stands for a pose in an id: `site-2-loaded`, `kerb-150-empty`."""
        if pose.site_number:
            return f"site-{pose.site_number}-{pose.state}"
        (height,) = (height for height, poses in self.kerbs.items() if any(one is pose for one in poses))
        return f"kerb-{height:g}-{pose.state}"

    def words(self, pose: SitePose) -> str:
        """Return the subject of a pose: `Kerb, deck loaded`; the bare site where the deck does not move."""
        return f"{pose.site}, {pose.deck}" if self.drop_mm or pose.drop_mm else pose.site


class Status(StrEnum):
    """How a value lies to its limit, as other programs are told it; people are told the `Result`."""

    WITHIN = "within the limit"
    CLOSE = "close to the limit"
    EXCEEDS = "exceeds the limit"
    UNJUDGED = "cannot be judged"


class Result(StrEnum):
    """The verdict on a check in the one word that people are told, wherever it stands; it is never `safe`."""

    FAILS = "fails"
    ADVICE = "advice"
    CLOSE = "close"
    UNJUDGED = "not judged"
    PASSES = "passes"

    @property
    def words(self) -> str:
        """Return it in the language that holds."""
        return say(self.value)


_RESULTS: Final = {
    Status.EXCEEDS: Result.FAILS,
    Status.CLOSE: Result.CLOSE,
    Status.UNJUDGED: Result.UNJUDGED,
    Status.WITHIN: Result.PASSES,
}

Sense = Literal["at most", "at least", "is"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Where a limit is published."""

    rule_set: str
    """Key of the rule set, or `own` for what the program itself asks of any folding ramp."""
    title: str
    """Of the rule set: `US vehicles`."""
    clause: str
    publication: str

    def said(self) -> Self:
        """Return it in the language that holds; a clause is quoted."""
        if manner().language == "en":
            return self
        return replace(self, title=say(self.title), publication=say(self.publication))


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckTopic(Topic):
    """What a check is about."""

    kind: str
    """The quantity that a rule limits, as rule files write it; `own/` and a name for the program's own:
    `own/clearance`, `own/stowed`, `own/strength`, `own/carrier-tips`.
    """
    limit: str = ""
    """Id of the limit in its rule set; empty for the program's own."""


WORKS: Final = Source(
    rule_set="own",
    title="Any folding ramp",
    clause="",
    publication="what this program asks of any folding ramp",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Demand:
    """What is asked of a value, and where it is published."""

    id: str
    """As `Check.id`, without the subject."""
    kind: str
    """As `CheckTopic.kind`."""
    limit_id: str = ""
    """As `CheckTopic.limit`."""
    title: str
    source: Source
    sense: Sense
    unit: Unit
    limit: float | None
    limit_text: str
    warning: str = ""
    """When not empty it is advice only, and this is told of what is beyond the limit."""

    @classmethod
    def own(
        cls, name: str, title: str, sense: Sense, unit: Unit, limit: float, text: str, source: Source = WORKS
    ) -> Self:
        """Return a demand of the program's own. These are what a demand is, so they are many."""
        id = f"own/{name}"
        return cls(
            id=id, kind=id, title=title, source=source, sense=sense, unit=unit, limit=limit, limit_text=text
        )


class _Said(Generic[T]):
    """What a check says as its demand or its finding has it."""

    def __init__(self, of: "Callable[[Check], T]") -> None:
        self.of = of

    def __get__(self, check: "Check", kind: type) -> T:
        return self.of(check)


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """One check: value against limit, with the working that an inspector would write by hand."""

    id: str
    """Stable: rule set, limit and subject joined by `/`."""
    demand: Demand
    found: Finding
    value: float | None
    """None when it cannot be judged or is no number."""
    limit: float | None
    ratio: float | None
    """How much of the limit is used: above 1 is beyond it."""
    status: Status
    notes: Lines = ()
    """What joins the finding's own words on it."""
    table: Lines = ()
    """How the limit follows, where a table holds it."""

    title = _Said(lambda check: check.demand.title)
    limit_text = _Said(lambda check: check.demand.limit_text)
    sense = _Said[Sense](lambda check: check.demand.sense)
    source = _Said(lambda check: check.demand.source.said())
    unit = _Said(lambda check: SHOWN_UNITS[check.demand.unit])
    """As it is shown."""
    warning_only = _Said(lambda check: bool(check.demand.warning))
    """True for advice, where the source asks this of something else than a ramp like this one, or nobody gets
    hurt: what is beyond it is told and fails nothing.
    """
    subject = _Said(lambda check: check.found.subject)
    """What it was judged on: a site and deck state, a leaf, a wheeled user; empty for the whole ramp."""
    site_number = _Said(lambda check: check.found.site_number)
    """The site it speaks of, counted from 1; 0 for none."""
    share = _Said(lambda check: check.found.share)
    """The place on the fold path it speaks of."""
    member = _Said(lambda check: check.found.member if isinstance(check.found, Measured) else "")
    """Key of the member it speaks of, for the drawing; empty for none."""

    result = _Said(lambda check: result_of(check.status, advice=bool(check.demand.warning)))
    """The verdict in one word."""
    fails = _Said(lambda check: check.result is Result.FAILS)
    """Whether it is beyond a limit, and that is no mere advice."""
    limit_words = _Said(lambda check: sided(check.sense, check.limit_text))
    """On which side of what the value is to lie: `at least 51 mm`; `asked for: toe first`."""

    @property
    def about(self) -> CheckTopic:
        """Return what logic reads of it."""
        demand, found = self.demand, self.found
        return CheckTopic(
            kind=demand.kind,
            limit=demand.limit_id,
            part=found.part,
            leaf=found.leaf,
            state=found.state,
            user=found.user,
            pair=found.pair,
        )

    @property
    def value_text(self) -> str:
        """Return the value in words; empty where there is none."""
        found, demand = self.found, self.demand
        measured = isinstance(found, Measured)
        return found.text or value_words(found.value, demand.unit, demand.limit) if measured else ""

    @property
    def why(self) -> str:
        """Return why it cannot be judged, or plain words on the verdict; may be empty."""
        beyond = self.demand.warning if self.status is Status.EXCEEDS else ""
        return " ".join((self.found.why, *self.notes, beyond)).strip()

    @property
    def working(self) -> Lines:
        """Return the lines of the working: formula, the numbers put in, the result and the limit."""
        if self.ratio is None:
            return self.steps
        used = f", {self.used_words}" if self.used_words else ""
        limit = say("limit: {limit}", limit=self.limit_words)
        return *self.steps, f"{limit}{used}: {self.result.words}"

    @property
    def steps(self) -> Lines:
        """Return the lines of the working up to the value, and how the limit follows."""
        lines = self.found.working.lines() if isinstance(self.found, Measured) else ()
        return lines if self.ratio is None else (*lines, *self.table)

    @property
    def used_words(self) -> str:
        """Return how much of the limit is used: `value / limit = 94.4 %`; empty where that says nothing."""
        if self.ratio is None or not 0 < self.ratio < MOST_RATIO:
            return ""
        quotient = say("value / limit") if self.sense == "at most" else say("limit / value")
        return f"{quotient} = {figures.fixed(100 * self.ratio, 1, '%')}"

    @property
    def against(self) -> str:
        """Return the value and its limit: `54 mm, at least 51 mm`."""
        return ", ".join(part for part in (self.value_text or say("no figure"), self.limit_words) if part)


def result_of(status: Status, *, advice: bool) -> Result:
    """Return the verdict in one word: what is beyond a limit fails, or is advice."""
    return Result.ADVICE if advice and status is Status.EXCEEDS else _RESULTS[status]


def sided(sense: Sense, limit: str) -> str:
    """Return a limit with its side: `at most 15 mm`; nothing where none is told."""
    if not limit:
        return ""
    if sense == "is":
        return say("asked for: {limit}", limit=limit)
    return say("at most {limit}" if sense == "at most" else "at least {limit}", limit=limit)


def tally(checks: Iterable[Check]) -> dict[Result, int]:
    """Return how many checks came out how, worst first."""
    found = Counter(check.result for check in checks)
    return {result: found[result] for result in Result}


def tally_words(checks: Iterable[Check]) -> str:
    """Return how many checks came out how: `fails: 0; close: 2; passes: 71`. What none did is not told, but
    that none fails is.
    """
    counts = tally(checks).items()
    return "; ".join(
        f"{result.words}: {count}" for result, count in counts if count or result is Result.FAILS
    )


CLOSE_FROM: Final = 0.95
"""From so much of a limit on a value is called close: saw, weld and ground are never exact. Our choice."""

TOLERANCE: Final = 1e-9
"""A value that misses its limit by less than this share of it is within: only rounding parts them."""

MOST_RATIO: Final = 1000.0
"""Ratio told where the limit is nothing, or the value is: a finite number, so that it sorts and prints."""


def verdict(value: float, limit: float, sense: Sense) -> tuple[float, Status]:
    """Return how much of the limit is used, and the status that follows."""
    if sense == "is":
        same = abs(value - limit) <= TOLERANCE * max(1.0, abs(limit))
        return (0.0, Status.WITHIN) if same else (MOST_RATIO, Status.EXCEEDS)
    used, all_of = (value, limit) if sense == "at most" else (limit, value)
    if all_of > 0:
        ratio = min(max(used, 0.0) / all_of, MOST_RATIO)
    else:
        ratio = 0.0 if used < all_of else 1.0 if used == all_of else MOST_RATIO
    if ratio > 1 + TOLERANCE:
        return ratio, Status.EXCEEDS
    return ratio, Status.CLOSE if ratio >= CLOSE_FROM * (1 - TOLERANCE) else Status.WITHIN


def compose(demand: Demand, finding: Finding, *, notes: Lines = (), table: Lines = ()) -> Check:
    """Return the check of one finding against one limit; a finding or limit that is missing cannot be judged.

    `notes` and `table` join what the finding says of itself.
    """
    value, limit = finding.value if isinstance(finding, Measured) else None, demand.limit
    ratio, status = None, Status.UNJUDGED
    if value is not None and limit is not None:
        ratio, status = verdict(value, limit, demand.sense)
        if demand.unit in ("yes/no", "none"):
            value = limit = None
    return Check(
        id=f"{demand.id}/{finding.key}" if finding.key else demand.id,
        demand=demand,
        found=finding,
        value=value,
        limit=limit,
        ratio=ratio,
        status=status,
        notes=notes,
        table=table,
    )


_ORDER: Final = tuple(Result)


def worst_first(checks: Iterable[Check]) -> tuple[Check, ...]:
    """Return checks, worst first; among equals the one that uses most of its limit comes first."""
    return tuple(sorted(checks, key=lambda one: (_ORDER.index(one.result), -round(one.ratio or 0.0, 9))))
