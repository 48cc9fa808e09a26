"""What mends a design, as text for a terminal."""

import textwrap
from collections.abc import Iterator
from typing import Final

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.mending import Edit, Left, Mending
from rampdraft.explore.ways_out.words import changes_words
from rampdraft.explore.wishes.words import why_not_words

_WIDTH: Final = 100
_MOST: Final = 4
"""So many checks are named that an edit cures or breaks."""


def mend_sheet(evaluation: Evaluation, mending: Mending) -> str:
    """Return the edits that mend a design, with what each cures, and what still fails and why."""
    lines = list(_lines(evaluation, mending))
    return "\n".join(lines) + "\n"


def _lines(evaluation: Evaluation, mending: Mending) -> Iterator[str]:
    if not mending.edits and not mending.left:
        yield "Mend all: nothing fails."
        return
    count = len(mending.edits)
    so_many = f"{count} edit{'' if count == 1 else 's'}"
    yield f"Mend all: {so_many}{'' if mending.left else ', after which nothing fails'}"
    for number, edit in enumerate(mending.edits, start=1):
        yield from _wrapped(f"{number}. {changes_words(edit.changes)}: {_effects(edit)}.")
    if mending.left:
        yield f"Still failing: {len(mending.left)}"
    for left in mending.left:
        yield from _wrapped(f"- {_named(left.check)}: {_why(evaluation, left)}")


def _effects(edit: Edit) -> str:
    parts = (("cures", edit.cures), ("breaks for now", edit.breaks))
    return "; ".join(f"{verb} {_listed(checks)}" for verb, checks in parts if checks) or "needed by the next"


def _listed(checks: tuple[Check, ...]) -> str:
    more = len(checks) - _MOST
    return "; ".join((*map(_named, checks[:_MOST]), *((f"and {more} more",) if more > 0 else ())))


def _named(check: Check) -> str:
    title = f"{check.title[0].lower()}{check.title[1:]}"
    return f"{title} ({check.subject})" if check.subject else title


def _why(evaluation: Evaluation, left: Left) -> str:
    if left.bar is not None:
        return why_not_words(left.bar, evaluation.design, evaluation.rule_sets)
    if left.ways:
        return "every way out that was found makes other checks fail."
    return "no way out was found."


def _wrapped(paragraph: str) -> list[str]:
    return textwrap.wrap(paragraph, _WIDTH, initial_indent="  ", subsequent_indent="     ")
