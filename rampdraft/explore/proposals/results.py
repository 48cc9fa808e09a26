"""What comes of a search: proposals with their figures, every ramp that passes, or what is nearest."""

from dataclasses import dataclass
from typing import Final

from rampdraft.checks.result import Check, Result
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.proposals.worth import mass_kg, pieces, steepest, stock_cost
from rampdraft.explore.wishes.results import WhyNot
from rampdraft.model.design import Design, Towards
from rampdraft.rounding import greatest
from rampdraft.units import KG, MM, N

_GIVEN: Final = ("own/user-load", "rated_load")
"""Checks that hang on the survey alone."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Figures:
    """What a proposal is told by."""

    gradient: float
    """Steepest part at any site, in any state of the deck, rise over going."""
    inner_kg: KG
    outer_kg: KG
    loose_kg: KG
    """Carried apart."""
    hand_n: N
    """Greatest force at one place, of what is asked of the hands."""
    above_mm: MM
    out_mm: MM
    thick_mm: MM
    """Stowed: above the deck, out past its edge, and from face to face."""
    cost: float
    """Of the stock lengths to buy, by the survey's prices."""
    pieces: int
    closest: Check | None
    """The check that uses most of its limit and passes."""

    @property
    def mass_kg(self) -> KG:
        """Return what all of it weighs."""
        return self.inner_kg + self.outer_kg + self.loose_kg


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposal:
    """A ramp that passes every check."""

    design: Design
    figures: Figures
    best: tuple[Towards, ...] = ()
    """In what it is the best of all that were found."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Nearest:
    """The ramp that came nearest, where none passes."""

    title: str
    against: str
    """Of the check that could not be mended: its title, its value and limit."""
    failing: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Proposals:
    """What a search for a survey comes to."""

    chosen: tuple[Proposal, ...]
    """At most three that differ where it matters, what is wished first before the others."""
    found: tuple[Proposal, ...]
    """All that pass, the lightest first: points of mass against gradient."""
    nearest: Nearest | None
    """None where something was found."""
    why: WhyNot | None = None
    """Which wishes exclude each other; None where that is not known."""
    tried: int
    """Designs looked at."""
    seconds: tuple[tuple[str, float], ...]
    """Processor time by stage of the checks, most first."""


def figures_of(evaluation: Evaluation) -> Figures:
    """Return what a proposal is told by."""
    stowed = evaluation.stowed
    inner_kg, outer_kg = evaluation.leaves_kg
    passing = [
        check
        for check in evaluation.all_checks
        if check.result in (Result.PASSES, Result.CLOSE) and check.ratio is not None and check.sense != "is"
        and not check.warning_only and check.about.kind not in _GIVEN
    ]  # fmt: skip
    return Figures(
        gradient=steepest(evaluation),
        inner_kg=inner_kg,
        outer_kg=outer_kg,
        loose_kg=mass_kg(evaluation) - inner_kg - outer_kg,
        hand_n=max((stage.most.force for stage in evaluation.hands), default=0.0),
        above_mm=stowed.above_deck_mm,
        out_mm=stowed.out_mm,
        thick_mm=stowed.thickness_mm,
        cost=stock_cost(evaluation),
        pieces=pieces(evaluation),
        closest=greatest(passing, lambda one: one.ratio or 0.0) if passing else None,
    )
