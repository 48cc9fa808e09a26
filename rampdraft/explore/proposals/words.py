"""Proposals in words: the row of a table, what one is, why there is none."""

from pathlib import Path
from typing import Final

from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.explore.proposals.results import Proposal, Proposals
from rampdraft.explore.wishes.words import why_not_words
from rampdraft.model.design import Design, Towards
from rampdraft.words.figures import fixed, one_in
from rampdraft.words.say import say

BEST: Final[dict[Towards, str]] = {
    "light": "lightest",
    "gentle": "gentlest",
    "cheap": "cheapest",
    "quick": "fewest pieces",
}
HEADS: Final = (
    "steepest",
    "inner leaf",
    "outer leaf",
    "hands",
    "above deck",
    "out",
    "thick",
    "stock",
    "pieces",
)
"""Of the columns of `figures_row`."""
HELD: Final = {"none": "props under the joint", "butt": "butting stop bars", "lap": "lapping stop bars"}
TOES: Final = {"plain": "a plain toe", "taper": "tapered rails", "flap": "a toe flap"}
"""What holds the joint, and how a proposal comes down, by what the design calls it."""


def figures_row(one: Proposal) -> tuple[str, ...]:
    """Return the figures of a proposal as the cells of a table."""
    figures = one.figures
    return (
        one_in(figures.gradient),
        fixed(figures.inner_kg, 1, "kg"),
        fixed(figures.outer_kg, 1, "kg"),
        fixed(figures.hand_n, 0, "N"),
        fixed(figures.above_mm, 0, "mm"),
        fixed(figures.out_mm, 0, "mm"),
        fixed(figures.thick_mm, 0, "mm"),
        fixed(figures.cost, 0),
        str(figures.pieces),
    )


def kind_words(one: Proposal) -> str:
    """Return what kind of ramp is proposed: `backs together, butting stop bars, a plain toe`."""
    design = one.design
    closes = say("backs together" if design.fold.closing == "backs" else "faces together")
    return ", ".join((closes, say(HELD[design.stop.kind]), say(TOES[design.toe.kind])))


def best_words(one: Proposal) -> str:
    """Return in what a proposal is the best of all that were found; empty for nothing."""
    return ", ".join(say(BEST[aim]) for aim in one.best)


def closest_words(one: Proposal) -> str:
    """Return which check uses most of its limit; empty where none does."""
    closest = one.figures.closest
    if closest is None:
        return ""
    subject = f", {closest.subject}" if closest.subject else ""
    return say(
        "closest: {title}{subject}: {against}", title=closest.title, subject=subject, against=closest.against
    )


def better_words(before: Proposal, after: Proposal) -> str:
    """Return what a design was and what it has become: `137.1 → 129.4 kg, steepest 1:6 → 1:6.2, ...`."""
    a, b = before.figures, after.figures
    return say(
        "{mass_before} → {mass_after}, steepest {slope_before} → {slope_after}, stock {cost_before} →"
        " {cost_after}, {pieces_before} → {pieces_after} pieces",
        mass_before=fixed(a.mass_kg, 1),
        mass_after=fixed(b.mass_kg, 1, "kg"),
        slope_before=one_in(a.gradient),
        slope_after=one_in(b.gradient),
        cost_before=fixed(a.cost, 0),
        cost_after=fixed(b.cost, 0),
        pieces_before=a.pieces,
        pieces_after=b.pieces,
    )


def reason_of(found: Proposals, survey: Design, folder: Path | None) -> str:
    """Return why nothing is proposed, in one line; empty where something is."""
    if found.chosen:
        return ""
    if found.why is not None:
        return why_not_words(found.why, survey, rule_sets_for(survey, folder))
    if found.nearest is None:
        return say("No ramp is proposed: none that reaches the ground can be stowed in the room given.")
    near = found.nearest
    return say(
        "No ramp was found that passes; the nearest one fails: {title} ({against}).",
        title=near.title,
        against=near.against,
    )
