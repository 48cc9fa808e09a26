"""What mends a design, as text for a terminal."""

import textwrap
from collections.abc import Iterator
from typing import Final

from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.mend_words import edit_words, head_words, left_words
from rampdraft.explore.mending import Mending
from rampdraft.words.say import say

_WIDTH: Final = 100


def mend_sheet(evaluation: Evaluation, mending: Mending) -> str:
    """Return the edits that mend a design, with what each cures, and what still fails and why."""
    return "\n".join(_lines(evaluation, mending)) + "\n"


def _lines(evaluation: Evaluation, mending: Mending) -> Iterator[str]:
    yield say("Correct all: {head}", head=head_words(mending))
    for number, edit in enumerate(mending.edits, start=1):
        yield from _wrapped(f"{number}. {edit_words(edit)}")
    if mending.left:
        yield say("Still failing")
    for left in mending.left:
        yield from _wrapped(f"- {left_words(evaluation, left)}")


def _wrapped(paragraph: str) -> list[str]:
    return textwrap.wrap(paragraph, _WIDTH, initial_indent="  ", subsequent_indent="     ")
