"""The working of every check, worst first, in two columns: what was found, the limit, where it is from, and
how it follows.
"""

from collections.abc import Iterator, Sequence
from itertools import takewhile
from typing import Any, Final

from rampdraft.checks.result import Check, Result
from rampdraft.drawing.rolling_cure import cure_picture
from rampdraft.drawing.sheet import Placed
from rampdraft.drawing.style import ACCENT, INK
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.explore.ways_out.results import WayOut
from rampdraft.explore.ways_out.ways import ways_out
from rampdraft.explore.ways_out.words import ways_lines
from rampdraft.export.pdf.book import column_mm
from rampdraft.export.pdf.flowing import gap, in_bold, in_quiet, marked, of_markup, picture
from rampdraft.words.prose import Lines
from rampdraft.words.say import say

RESULT_SHAPES: Final = {
    Result.FAILS: "✗", Result.ADVICE: "△", Result.CLOSE: "△", Result.UNJUDGED: "?", Result.PASSES: "✓",
}  # fmt: skip
"""Printed before a result, so that it is told by shape as well."""

EFFECTS_SHOWN: Final = 3
"""So many other checks are named that a way out makes worse or cures too."""
_HELD: Final = (Result.PASSES, Result.CLOSE)
"""Of these the working says all."""
MOST_CURED: Final = 12
"""Ways out are printed of so many of the worst checks: who cures those has another ramp, of other checks."""
_SIZE_PT: Final = 7.0
_CURE_TALL_MM: Final = 30.0
"""Room for a picture of a way out."""


def in_groups(checks: Sequence[Check]) -> tuple[tuple[Check, ...], ...]:
    """Return the checks by what is asked, the group of the worst one first, in each the worst one first."""
    groups: dict[tuple[str, ...], list[Check]] = {}
    for check in checks:
        asked = check.title, check.limit_words, check.source.title, check.source.clause
        groups.setdefault(asked, []).append(check)
    return tuple(tuple(group) for group in groups.values())


def numbers(checks: Sequence[Check]) -> dict[str, int]:
    """Return under which number the working of each check stands, by its id."""
    ordered = (check.id for group in in_groups(checks) for check in group)
    return {name: number for number, name in enumerate(ordered, start=1)}


def workings(evaluation: Evaluation) -> Iterator[Any]:
    """Yield the checks by what is asked, each with its number, its working and its ways out.

    What all of a group are judged by alike stands at its head; what two checks are judged by alike is printed
    with the first of them, and the other names that one.
    """
    failing = [check.id for check in evaluation.all_checks if check.fails]
    ways = ways_out(evaluation, frozenset(failing[:MOST_CURED]))
    if len(failing) > MOST_CURED:
        yield of_markup(in_quiet(_more(len(failing))), size_pt=_SIZE_PT, after_mm=1.0)
    number, told = 0, dict[Lines, int]()
    for group in in_groups(evaluation.all_checks):
        shared = _shared(group)
        head = _head(group[0], shared)
        if len(group) > 1:
            yield of_markup(head, size_pt=_SIZE_PT, after_mm=0.2, keep=True)
            head = ""
        for check in group:
            number += 1
            steps = tuple(words for words in check.steps if words not in shared)
            first = told.setdefault(check.steps, number)
            if steps and first != number:
                steps = (say("as {number}", number=first),)
            cures = tuple(ways_lines(ways[check.id], EFFECTS_SHOWN)) if check.id in ways else ()
            words = " ".join(part for part in (head, _told(number, check, steps, cures)) if part)
            yield of_markup(words, size_pt=_SIZE_PT, after_mm=0.3)
            view = _cure(evaluation, check, ways[check.id][0]) if ways.get(check.id) else None
            if view is not None:
                yield picture(view)
        yield gap(0.6)


def _more(failing: int) -> str:
    return say(
        "{failing} checks fail: ways out are printed of the {most} worst; the window has them of each.",
        failing=failing,
        most=MOST_CURED,
    )


def _shared(group: tuple[Check, ...]) -> Lines:
    """Return the first steps that are alike in the working of all of several checks."""
    if len(group) == 1:
        return ()
    alike = takewhile(
        lambda lines: len(set(lines)) == 1, zip(*(check.steps for check in group), strict=False)
    )
    return tuple(lines[0] for lines in alike)


def _head(check: Check, shared: Lines) -> str:
    """Return what is asked in bold, with the limit, its source, and what its checks share."""
    source = ", ".join(words for words in (check.source.title, check.source.clause) if words)
    under = "; ".join(words for words in (check.limit_words, source) if words)
    head = f"{in_bold(check.title)}  {in_quiet(under)}"
    return "<br/>".join((head, *([marked(_run_on(shared))] if shared else [])))


def _told(number: int, check: Check, steps: Lines, cures: Lines) -> str:
    """Return one check in markup: sign and number, what it is of, the value, how it follows."""
    sign = in_bold(f"{RESULT_SHAPES[check.result]} {number}", ACCENT if check.fails else INK)
    found = ": ".join(words for words in (check.subject, check.value_text) if words)
    share = check.used_words.rpartition(" = ")[2]
    word = "" if check.result is Result.PASSES else say(check.result)
    verdict = ", ".join(words for words in (share, word) if words)
    told = [sign, marked(found), in_quiet(f"[{verdict}]") if verdict else "", marked(_run_on(steps))]
    why = "" if check.result in _HELD and check.steps else check.why
    lines = (" ".join(words for words in told if words), *map(in_quiet, ((why,) if why else ())))
    return "<br/>".join((*lines, *map(in_quiet, cures)))


def _run_on(steps: Lines) -> str:
    """Return the steps of a working one behind the other."""
    words = ""
    for step in steps:
        words += step if not words else f" {step}" if step.startswith("=") else f"; {step}"
    return words


def _cure(evaluation: Evaluation, check: Check, way: WayOut) -> Placed | None:
    """Return the place of a check of rolling before and after its first way out; None for other checks."""
    after = evaluation.following(way.taken(evaluation.design))
    view = cure_picture(evaluation, after, check, way, (column_mm(2), _CURE_TALL_MM))
    return Placed(picture=view, scale=1.0) if view is not None else None
