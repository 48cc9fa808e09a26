"""Proposals as text for a terminal."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.rules.sets import rule_sets_for
from rampdraft.cli.sheet import table
from rampdraft.explore.proposals.results import Proposal, Proposals
from rampdraft.explore.wishes.words import why_not_words
from rampdraft.export.proposals import named
from rampdraft.figures import fixed, one_in
from rampdraft.model.design import Design, Towards

_BEST: Final[dict[Towards, str]] = {
    "light": "lightest",
    "gentle": "gentlest",
    "cheap": "cheapest",
    "quick": "fewest pieces",
}
_HEADS: Final = (
    "", "steepest", "inner leaf", "outer leaf", "hands", "above deck", "out", "thick", "stock", "pieces",
)  # fmt: skip


def propose_sheet(survey: Design, found: Proposals) -> str:
    """Return everything that `rampdraft propose` prints where it found a ramp: the table, what each is, the
    other ramps.
    """
    names = named(found)
    chosen = names[: len(found.chosen)]
    lines = [f"{survey.about.name}: {_count(len(found.found))}, {found.tried} designs looked at", ""]
    lines += table([_HEADS, *(_row(name, one) for name, one in chosen)])
    lines.append("")
    for name, one in chosen:
        lines += _words(name, one)
    if len(names) > len(chosen):
        lines += [
            "",
            "Other ramps that pass",
            *table([_row(name, one) for name, one in names[len(chosen) :]]),
        ]
    return "\n".join((*lines, "", *(f"- {caution}" for caution in CAUTIONS))) + "\n"


def reason_of(found: Proposals, survey: Design, folder: Path) -> str:
    """Return why nothing is proposed, in one line; empty where something is."""
    if found.chosen:
        return ""
    if found.why is not None:
        return why_not_words(found.why, survey, rule_sets_for(survey, folder))
    if found.nearest is None:
        return "No ramp is proposed: none that reaches the ground can be stowed in the room given."
    near = found.nearest
    return f"No ramp was found that passes; the nearest one fails: {near.title} ({near.against})."


def _count(number: int) -> str:
    return "1 ramp that passes" if number == 1 else f"{number} ramps that pass"


def _row(name: str, one: Proposal) -> tuple[str, ...]:
    figures = one.figures
    return (
        name,
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


def _words(name: str, one: Proposal) -> Iterator[str]:
    design, closest = one.design, one.figures.closest
    held = {"none": "props under the joint", "butt": "butting stop bars", "lap": "lapping stop bars"}
    toes = {"plain": "a plain toe", "taper": "tapered rails", "flap": "a toe flap"}
    best = ", ".join(_BEST[aim] for aim in one.best)
    yield (
        f"{name}: {design.fold.closing} together, {held[design.stop.kind]}, {toes[design.toe.kind]}"
        + (f"; {best}" if best else "")
    )
    if closest is not None:
        subject = f", {closest.subject}" if closest.subject else ""
        yield f"  closest: {closest.title}{subject}: {closest.against}"
