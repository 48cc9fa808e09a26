"""What a rule set is: limits as data, each with the clause it comes from.

Numbers are held in the base unit of the quantity that they limit (mm, kg, rise over going); `words` keeps
what the source says.
"""

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import Final, Literal

from rampdraft.checks.result import Sense
from rampdraft.checks.rules.toml_table import limit_words
from rampdraft.checks.values import Unit
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.mechanics.loading.loads import (
    Axle,
    Footprint,
    Grades,
    Load,
    PerMetre,
    Rolling,
    any_way,
    ridden,
    rolling_kg,
    user_loads,
)
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design, SiteKind
from rampdraft.units import G_M_S2, MM, N
from rampdraft.words.say import say

Riders = Literal["", "only", "else advice"]
"""What a limit asks where users are named and nobody of them rides: the same, nothing, or it is advice."""

Authority = Literal["mandatory", "guideline", "secondary source", "user's own"]
"""What weight a rule set has: law where it applies, advice, read in a secondary source only, or the user's
own.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Condition:
    """When a limit applies: a plain number of the ramp, compared with each bound that is not None."""

    number: str
    """Name of the plain number (`checks.numbers`)."""
    over: float | None = None
    at_least: float | None = None
    up_to: float | None = None
    under: float | None = None

    def holds(self, value: float) -> bool:
        """Return whether the limit applies at this value."""
        return (
            (self.over is None or value > self.over)
            and (self.at_least is None or value >= self.at_least)
            and (self.up_to is None or value <= self.up_to)
            and (self.under is None or value < self.under)
        )


@dataclass(frozen=True, slots=True)
class Bound:
    """How a limit is told: in the words of its source, or where there are none by its figure; where a table
    holds it there may be neither.
    """

    source: str = ""
    value: float = 0.0
    """As it is written, in this unit ..."""
    unit: str = ""
    of: Unit = "none"
    """... of a quantity with this base unit."""

    @property
    def words(self) -> str:
        """Return it in the language that holds."""
        if self.source or self.of == "none":
            return say(self.source)
        return limit_words(self.value, self.unit, self.of)


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One row of a table of limits."""

    up_to: float | None
    """Greatest value of the plain number that the table goes by; None for the last row, beyond all others."""
    limit: float
    told: Bound


@dataclass(frozen=True, slots=True, kw_only=True)
class Relief:
    """A milder limit that the source grants under a condition that the program cannot see, so it is only
    told.
    """

    condition: Condition
    limit: float
    words: str
    """The whole relief as a sentence: `Existing sites short of space: 1:10 for a rise up to 6 in (150
    mm).`
    """


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleLoad:
    """A load that a rule demands; what is 0 is not given."""

    force_n: N = 0.0
    across_mm: MM = 0.0
    along_mm: MM = 0.0
    """The patch it is spread over; 0 for a load that rolls on wheels like the heaviest user."""
    anywhere: bool = False
    """Whether the patch may lie anywhere; otherwise it lies in the middle of the ramp."""
    n_mm: float = 0.0
    """Spread along the ramp over its whole width, N/mm."""
    times_rated: float = 0.0
    """So many times the rated load, spread over the whole surface."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Limit:
    """One limit of a rule set."""

    id: str
    title: str
    clause: str
    quantity: str
    """Name of the quantity that is judged (`checks.quantities`)."""
    sense: Sense
    limit: float | None
    """None where a table holds the limits, or where nothing can be judged."""
    told: Bound
    """The limit as the source gives it: `36 in (915 mm)`."""
    by: str = ""
    """Plain number that the table goes by."""
    steps: tuple[Step, ...] = ()
    sites: tuple[SiteKind, ...] = ("ground", "kerb", "platform")
    """Kinds of site on which it is judged."""
    kerb_mm: MM | None = None
    """Height of the reference kerb on which it is judged besides."""
    when: Condition | None = None
    reliefs: tuple[Relief, ...] = ()
    load: RuleLoad | None = None
    """The load under which strength is judged; None where the source gives none that could be computed."""
    note: str = ""
    riders: Riders = ""
    advice: bool = False
    """True when what is beyond it is told and fails nothing."""
    worst_only: bool = False
    """Whether it is told of the worst site alone."""

    def number(self, name: str, design: Design, pose: SitePose | None) -> float:
        """Return a plain number by name: of a pose on a site, or of the whole ramp."""
        return NUMBERS[name].value(design, pose, self.kerb_mm or 0.0)

    def applies(self, design: Design, pose: SitePose | None) -> bool:
        """Return whether it is judged there."""
        if self.riders == "only" and not ridden(design):
            return False
        return self.when is None or self.when.holds(self.number(self.when.number, design, pose))

    def advises(self, design: Design) -> bool:
        """Return whether it is advice only."""
        return self.advice or (self.riders == "else advice" and not ridden(design))


@dataclass(frozen=True, slots=True, kw_only=True)
class RuleSet:
    """A rule set: where it holds, what it weighs, and its limits."""

    key: str
    title: str
    status: Authority
    jurisdiction: str
    """Where and for what it holds, in words."""
    publication: str
    limits: tuple[Limit, ...]
    note: str = ""
    warning_only: bool = False
    """True when the rules were written for something else, so that exceeding them fails nothing."""
    text: str = field(default="", compare=False)
    """Of a user's own file, the file as it was read; empty for a rule set of the program."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PlainNumber:
    """A number of the ramp, in mm, that limits depend on."""

    words: str
    of_ramp: bool
    """True when it is one number for the whole ramp, False when each site has its own."""
    value: Callable[[Design, SitePose | None, MM], float]
    """(design, pose or None for the whole ramp, height of the rule's reference kerb) -> mm."""


def ramp_length_mm(design: Design) -> MM:
    """Return the length of the deployed ramp along its surface: both leaves, and the toe flap if there is
    one.
    """
    return design.inner_leaf.length_mm + design.outer_leaf.length_mm + flap_length_mm(design)


def flap_length_mm(design: Design) -> MM:
    """Return the length of the toe flap, 0 where there is none."""
    return design.toe.length_mm if design.toe.kind == "flap" else 0.0


def _posed(value: Callable[[SitePose], float]) -> Callable[[Design, SitePose | None, MM], float]:
    def of(_design: Design, pose: SitePose | None, _kerb_mm: MM) -> float:
        assert pose is not None, "the rule file's reader refuses numbers of a site for the whole ramp"
        return value(pose)

    return of


NUMBERS: Final[dict[str, PlainNumber]] = {
    "ramp_length": PlainNumber(
        words="length of the ramp", of_ramp=True, value=lambda design, _pose, _kerb: ramp_length_mm(design)
    ),
    "flap_length": PlainNumber(
        words="length of the toe flap",
        of_ramp=True,
        value=lambda design, _pose, _kerb: flap_length_mm(design),
    ),
    "rise": PlainNumber(words="rise", of_ramp=False, value=_posed(lambda pose: abs(pose.whole.rise_mm))),
    "going": PlainNumber(words="going", of_ramp=False, value=_posed(lambda pose: pose.whole.going_mm)),
    "floor_above_kerb": PlainNumber(
        words="height of the floor above the reference kerb",
        of_ramp=False,
        value=lambda design, pose, kerb: edge_height_mm(design, pose.drop_mm if pose else 0.0) - kerb,
    ),
}
"""By name, as rule files write it."""


def all_loads(design: Design, rule_sets: tuple[RuleSet, ...], grades: Grades) -> tuple[Load, ...]:
    """Return every load that the ramp is judged under: its users, its rated load, and the loads of the rules
    chosen, on slopes of these grades.
    """
    demanded = (
        replace(load, demanded=load_key(rule_set, limit))
        for rule_set in rule_sets
        for limit in rule_set.limits
        if limit.load is not None and limit.applies(design, None)
        for load in _loads(design, grades, load_key(rule_set, limit), limit)
    )
    return (*user_loads(design, grades), *demanded)


def load_key(rule_set: RuleSet, limit: Limit) -> str:
    """Return the key of a limit and of the load that it demands."""
    return f"{rule_set.key}/{limit.id}"


def _loads(design: Design, grades: Grades, key: str, limit: Limit) -> tuple[Load, ...]:
    """Return the load of a limit: a patch in the middle or anywhere, a load by the metre, or a mass on each
    user's wheels.
    """
    load, words = limit.load, limit.told.words
    assert load is not None, "only limits with a load are asked for one"
    length = design.inner_leaf.length_mm + design.outer_leaf.length_mm
    if load.times_rated:
        force = load.times_rated * design.use.rated_load_kg * G_M_S2
        return (PerMetre(key=key, words=words, n_mm=force / length),)
    if load.n_mm:
        return (PerMetre(key=key, words=words, n_mm=load.n_mm),)
    if load.anywhere:
        wheel = Axle(
            offset_mm=0.0, force_n=load.force_n, track_mm=0.0, patch_mm=(load.across_mm, load.along_mm)
        )
        return (Rolling(key=key, words=words, ways=any_way(wheel, grades)),)
    if load.across_mm:
        return (
            Footprint(
                key=key, words=words, force_n=load.force_n, across_mm=load.across_mm, along_mm=load.along_mm
            ),
        )
    return tuple(rolling_kg(design, grades, load.force_n / G_M_S2, key, words))
