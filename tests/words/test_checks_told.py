"""What checks tell in German: the same ids and figures, and nothing that is left English."""

import re
from dataclasses import replace

import pytest

import rampdraft.words.say as saying
from rampdraft.checks.result import Check, worst_first
from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.evaluation.evaluate import Evaluation, evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.model.design import Design
from rampdraft.words.manner import manner_of, speaking

TOLD_IN_GERMAN = ("reed-ferry", "too-steep")
WORD = re.compile(r"[^\W\d_]{4,}|\b(?:the|and|for|not|by|of|at)\b")

SYMBOLS = {"walls"}
"""Of formulas, which are the same in every language."""


class Recorded(dict[str, str]):
    """Translations that note what was asked for and is not among them."""

    def __init__(self, known: dict[str, str]) -> None:
        super().__init__(known)
        self.missed: dict[str, None] = {}

    def get(self, key: str, default: str = "") -> str:  # pyright: ignore[reportIncompatibleMethodOverride]
        if key not in self and not key.endswith("]"):  # of that meaning; asked for without one besides
            self.missed[key] = None
        return super().get(key, default)


@pytest.fixture(scope="module")
def german() -> tuple[dict[str, Evaluation], list[str]]:
    """Return the samples worked out in German, and what was said of them without a translation."""
    recorded = Recorded(dict(saying.sentences("de")))
    with pytest.MonkeyPatch.context() as patch, speaking(manner_of("de")):
        patch.setattr(saying, "sentences", lambda _language: recorded)
        found = {name: evaluate(held_to_all(name)) for name in TOLD_IN_GERMAN}
        for one in found.values():
            for check in one.all_checks:
                told_of(check)
    return found, list(recorded.missed)


def held_to_all(name: str) -> Design:
    """Return a sample that is judged by every rule set of the program."""
    (path,) = (path for path in sample_paths() if path.stem == name)
    design = load_design(path)
    return replace(design, use=replace(design.use, rule_sets=tuple(one.key for one in builtin_rule_sets())))


def told_of(check: Check) -> tuple[str, ...]:
    return (
        check.title,
        check.subject,
        check.value_text,
        check.limit_words,
        check.result.words,
        check.why,
        check.source.title,
        *check.working,
    )


def english_words() -> set[str]:
    """Return the words of which English sentences are made and German ones are not."""
    pairs = saying.sentences("de")
    english, german = (
        {word.lower() for text in texts for word in WORD.findall(text)} for texts in (pairs, pairs.values())
    )
    return english - german - SYMBOLS


def typed_in(design: Design) -> set[str]:
    """Return what whoever made a design wrote for people."""
    named = (*design.sites, *design.use.users, *design.supports, *design.obstacles, *design.handles)
    return {one.name for one in named}


def bare(text: str, typed: set[str]) -> str:
    """Return a text without what somebody typed, longest first."""
    for name in sorted(typed, key=len, reverse=True):
        text = text.replace(name, "")
    return text


@pytest.mark.parametrize("sample", TOLD_IN_GERMAN)
def test_no_check_is_left_english(sample: str, german) -> None:
    evaluation = german[0][sample]
    english, typed = english_words(), typed_in(evaluation.design)
    with speaking(manner_of("de")):
        lines = {line for check in evaluation.all_checks for line in told_of(check)}
    left = {
        line: words
        for line in lines
        if (words := english & set(map(str.lower, WORD.findall(bare(line, typed)))))
    }
    assert not left


def test_all_that_is_said_of_a_sample_has_its_german(german) -> None:
    found, missed = german
    english, typed = english_words(), set[str]().union(*(typed_in(one.design) for one in found.values()))
    quoted = {
        text
        for one in found.values()
        for check in one.all_checks
        for text in (check.demand.source.publication,)
    }
    left = [
        one
        for one in missed
        if one not in quoted and english & set(map(str.lower, WORD.findall(bare(one, typed))))
    ]
    assert not left


def test_a_check_is_the_same_in_every_language(german) -> None:
    told = german[0]["too-steep"]
    here = evaluate(held_to_all("too-steep"))
    for one, other in zip(here.all_checks, told.all_checks, strict=True):
        assert (one.id, one.result, one.status, one.ratio, one.value, one.limit, one.about) == (
            other.id, other.result, other.status, other.ratio, other.value, other.limit, other.about,
        )  # fmt: skip
        assert (one.sense, one.unit, one.member, one.demand.id) == (
            other.sense,
            other.unit,
            other.member,
            other.demand.id,
        )
    assert [one.id for one in worst_first(here.all_checks)] == [
        one.id for one in worst_first(told.all_checks)
    ]
    assert here.all_checks[0].title != told.all_checks[0].title
