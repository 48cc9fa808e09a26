"""Proposals as text for a terminal."""

from collections.abc import Iterator

from rampdraft.checks.notes import CAUTIONS
from rampdraft.cli.sheet import table
from rampdraft.explore.proposals.improve import Improved
from rampdraft.explore.proposals.results import Proposal, Proposals
from rampdraft.explore.proposals.words import HEADS, best_words, closest_words, figures_row, kind_words
from rampdraft.export.proposals import named
from rampdraft.model.design import Design
from rampdraft.words.say import say


def propose_sheet(survey: Design, found: Proposals) -> str:
    """Return everything that `rampdraft propose` prints where it found a ramp: the table, what each is, the
    other ramps.
    """
    names = named(found)
    chosen = names[: len(found.chosen)]
    lines = [
        say(
            "{name}: {count}, {tried} designs looked at",
            name=survey.about.name,
            count=_count(len(found.found)),
            tried=found.tried,
        ),
        "",
    ]
    lines += table([("", *map(say, HEADS)), *((name, *figures_row(one)) for name, one in chosen)])
    lines.append("")
    for name, one in chosen:
        lines += _words(name, one)
    if len(names) > len(chosen):
        lines += [
            "",
            say("Other ramps that pass"),
            *table([(name, *figures_row(one)) for name, one in names[len(chosen) :]]),
        ]
    return "\n".join((*lines, "", *(f"- {say(caution)}" for caution in CAUTIONS))) + "\n"


def improve_sheet(found: Improved) -> str:
    """Return what `rampdraft improve` prints where it found a better design."""
    rows = ((say("before"), found.before), (say("after"), found.after))
    lines = table([("", *map(say, HEADS)), *((name, *figures_row(one)) for name, one in rows)])
    return "\n".join((*lines, "", *(f"- {say(caution)}" for caution in CAUTIONS))) + "\n"


def _count(number: int) -> str:
    return say("1 ramp that passes") if number == 1 else say("{number} ramps that pass", number=number)


def _words(name: str, one: Proposal) -> Iterator[str]:
    best, closest = best_words(one), closest_words(one)
    yield f"{name}: {kind_words(one)}" + (f"; {best}" if best else "")
    if closest:
        yield f"  {closest}"
