"""What mends a design, in words: an edit with what it cures, and what is left with why."""

from typing import Final

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.mending import Edit, Left, Mending
from rampdraft.explore.ways_out.words import changes_words
from rampdraft.explore.wishes.words import why_not_words
from rampdraft.words.say import counted, say, within

_MOST: Final = 4
"""So many checks are named that an edit cures or breaks."""


def head_words(mending: Mending) -> str:
    """Return how many edits there are, and whether anything fails after them."""
    count = len(mending.edits)
    if not count:
        return say("nothing that was tried corrects it") if mending.left else say("nothing fails")
    edits = counted(count, "{count} edit", "{count} edits")
    if not mending.left:
        return say("{edits}, after which nothing fails", edits=edits)
    return say("{edits}, after which {count} still fail", edits=edits, count=len(mending.left))


def edit_words(edit: Edit) -> str:
    """Return an edit and what it does: `Joint pin diameter 5 → 16 mm: cures joint pins.`"""
    does = (
        *((say("cures {checks}", checks=_listed(edit.cures)),) if edit.cures else ()),
        *((say("breaks for now {checks}", checks=_listed(edit.breaks)),) if edit.breaks else ()),
    )
    told = "; ".join(does) or say("needed by the next")
    return f"{changes_words(edit.changes)}: {told}."


def left_words(evaluation: Evaluation, left: Left) -> str:
    """Return a check that still fails, and why it was not corrected."""
    if left.bar is not None:
        why = why_not_words(left.bar, evaluation.design, evaluation.rule_sets)
    elif left.ways:
        why = say("every way out that was found makes other checks fail.")
    else:
        why = say("no way out was found.")
    return f"{_named(left.check)}: {why}"


def _listed(checks: tuple[Check, ...]) -> str:
    more = len(checks) - _MOST
    return "; ".join(
        (*map(_named, checks[:_MOST]), *((say("and {count} more", count=more),) if more > 0 else ()))
    )


def _named(check: Check) -> str:
    title = within(check.title)
    return f"{title} ({check.subject})" if check.subject else title
