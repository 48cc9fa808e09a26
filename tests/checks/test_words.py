"""What people are told of a check: one word for its verdict, and on which side of what its value lies."""

import re
from pathlib import Path

import pytest

from rampdraft.checks.result import Result, Status, result_of, sided, tally, tally_words
from rampdraft.checks.values import Unit, value_words
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.export.json_report import report
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths


def test_each_verdict_is_one_word() -> None:
    assert [result_of(one, advice=False) for one in Status] == ["passes", "close", "fails", "not judged"]
    assert [result_of(one, advice=True) for one in Status] == ["passes", "close", "advice", "not judged"]


def test_a_limit_says_its_side() -> None:
    assert sided("at least", "51 mm") == "at least 51 mm"
    assert sided("at most", "15 mm") == "at most 15 mm"
    assert sided("is", "toe first") == "asked for: toe first"
    assert sided("is", "") == ""


def test_a_value_is_not_rounded_to_its_limit() -> None:
    """Was `15 mm, at most 15 mm: fails` for a toe of 15.013 mm."""
    assert value_words(15.013, "mm", 15.0) == "15.01 mm"
    assert value_words(15.0, "mm", 15.0) == "15 mm"
    assert value_words(15.0 + 1e-12, "mm", 15.0) == "15 mm"
    assert value_words(250.2, "N", 250.0) == "250.2 N"
    assert value_words(255.2, "N", 250.0) == "255 N"
    assert value_words(1173.4, "kg", 300.0) == "1173 kg"


@pytest.mark.parametrize(
    ("value", "unit", "words"),
    [
        (12.34, "mm", "12.3 mm"),
        (999.44, "mm", "999.4 mm"),
        (1000.4, "mm", "1000 mm"),
        (1050.44, "kg", "1050 kg"),
        (12.7, "N", "13 N"),
        (12.7, "kPa", "13 kPa"),
        (3.0, "count", "3"),
        (8.66, "deg", "8.7 °"),
    ],
)
def test_a_value_has_the_digits_that_it_is_worth(value: float, unit: Unit, words: str) -> None:
    assert value_words(value, unit) == words


WRONG = re.compile(
    r"\bdemanded\b|\bexceeds?\b|a warning only|on ultimate$|; at (most|least)"
    r"|(?<![\w.])-\d|−0(\.0+)?(?![\d.])"
)
"""What is no longer said: that a minimum is exceeded, a verdict for a value, a hyphen for a minus."""


def test_the_look_for_wrong_words_finds_them() -> None:
    for text in ("is demanded", "exceeds the limit", "97 %; factor 2 on ultimate", "-3 mm", "−0.00 mm"):
        assert WRONG.search(text), text
    for text in ("site-1", "−3 mm", "0.5 mm", "EN 1993-1-8", "−0.05 mm"):
        assert not WRONG.search(text), text


@pytest.mark.parametrize("path", sample_paths(), ids=lambda path: path.stem)
def test_no_check_says_it_in_wrong_words(path: Path) -> None:
    for check in evaluate(load_design(path), path.parent).checks:
        for text in (check.value_text, check.limit_words, *check.working):
            assert not WRONG.search(text), text
        assert check.against
        if check.working and check.ratio is not None:
            assert check.working[-1].endswith(f": {check.result}")


def test_one_tally_everywhere() -> None:
    path = next(one for one in sample_paths() if one.stem == "too-steep")
    evaluation = evaluate(load_design(path), path.parent)
    counts = tally(evaluation.all_checks)
    assert sum(counts.values()) == len(evaluation.all_checks)
    assert tally_words(evaluation.all_checks).startswith(f"fails: {counts[Result.FAILS]}; advice: ")
    verdict = report(evaluation)["verdict"]
    assert list(verdict.values()) == [
        counts[one] for one in (Result.FAILS, Result.ADVICE, Result.CLOSE, Result.PASSES, Result.UNJUDGED)
    ]
    assert tally_words(()) == "fails: 0"
