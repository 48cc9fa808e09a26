"""What can be found by typing: values, checks and parts, by the words that they go under."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.checks.result import Check
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import label_of, walk
from rampdraft.shop.spoken import spoken
from rampdraft.words.say import say

MOST: Final = 40
"""More are not looked through by anybody."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Thing:
    """Something that can be found."""

    kind: Literal["value", "check", "part"]
    key: str
    """Path of a value, id of a check, key of a member."""
    words: str
    beside: str = ""
    """Other words that it is found by."""


def things(design: Design, evaluation: Evaluation | None, checks: Iterable[Check]) -> tuple[Thing, ...]:
    """Return all that can be found: values, then checks, then parts."""
    return (*_values(design), *_checks(checks), *(_parts(evaluation) if evaluation is not None else ()))


def _values(design: Design) -> Iterator[Thing]:
    for path, info, _ in walk(design):
        assert info.record is not None
        yield Thing(kind="value", key=path, words=label_of(path), beside=say(info.record.help))


def _checks(checks: Iterable[Check]) -> Iterator[Thing]:
    for check in checks:
        words = f"{check.title}, {check.subject}" if check.subject else check.title
        yield Thing(kind="check", key=check.id, words=words, beside=say(check.result))


def _parts(evaluation: Evaluation) -> Iterator[Thing]:
    numbers = {key: part.number for part in evaluation.parts for key in part.members}
    for member in evaluation.assembly.members:
        number = numbers.get(member.key, "")
        yield Thing(kind="part", key=member.key, words=f"{spoken(member)}  {number}".rstrip())


def found(typed: str, among: Iterable[Thing]) -> tuple[Thing, ...]:
    """Return what has all typed words in it, first where its name begins with them, last where only the words
    beside it have them.
    """
    words = typed.lower().split()
    if not words:
        return ()
    ranked: list[tuple[int, Thing]] = []
    for thing in among:
        name = thing.words.lower()
        if all(word in name for word in words):
            ranked.append((_rank(words, name), thing))
        elif all(word in name or word in thing.beside.lower() for word in words):
            ranked.append((3, thing))
    return tuple(thing for _, thing in sorted(ranked, key=lambda one: one[0])[:MOST])


def _rank(words: list[str], name: str) -> int:
    if name.startswith(" ".join(words)):
        return 0
    starts = name.replace(",", " ").split()
    return 1 if all(any(start.startswith(word) for start in starts) for word in words) else 2
