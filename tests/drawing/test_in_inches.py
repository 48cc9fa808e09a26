"""Views in inches: dimensions are read off a rule, and say what they measure."""

import math
import re
from fractions import Fraction

import pytest
from views import views

from rampdraft.drawing.axes import length_ticks
from rampdraft.drawing.ink import Label, Measures
from rampdraft.drawing.sheet import check_line
from rampdraft.drawing.text import length_unit, mm_text
from rampdraft.evaluation.evaluate import evaluate
from rampdraft.files.design_file import load_design
from rampdraft.files.samples import sample_paths
from rampdraft.words.manner import manner_of, speaking

INCH_MM = 25.4
"""The international inch of 1959."""
SAMPLES = [path for path in sample_paths() if path.stem in ("barn-stage", "library-trailer")]
VALUE = re.compile(r"^(?:H − D = |[A-Za-z ]*)\(?(\d+(?: \d+/\d+|/\d+|\.\d+)?)\)?$")


def read_mm(text: str) -> float:
    """Return a length as somebody reads it off a rule in inches."""
    return INCH_MM * float(sum(Fraction(part) for part in text.split()))


@pytest.fixture(scope="module", params=SAMPLES, ids=lambda path: path.stem)
def labels(request: pytest.FixtureRequest) -> list[tuple[str, str, Measures]]:
    with speaking(manner_of("en", "in")):
        evaluation = evaluate(load_design(request.param), request.param.parent)
        return [
            (name, mark.text, mark.measures)
            for name, marks in views(evaluation)
            for mark in marks
            if isinstance(mark, Label) and mark.measures is not None
        ]


def test_dimensions_say_what_they_measure(labels: list[tuple[str, str, Measures]]) -> None:
    """Within half of a 32nd of an inch, in which a rule is divided (common practice)."""
    read = 0
    for name, text, measures in labels:
        found = VALUE.match(text)
        if found is None:
            continue
        read += 1
        assert read_mm(found[1]) == pytest.approx(math.dist(*measures.ends), abs=INCH_MM / 64), (name, text)
    assert read > 0.9 * len(labels) > 50


@pytest.mark.parametrize(
    ("value_mm", "decimals", "text"),
    [
        (400.05, 1, "15 3/4"),
        (400.05, 2, "15 3/4"),
        (304.8, 0, "12"),
        (19.05, 2, "3/4"),
        (0.5, 2, "0.0197"),
        (3.2, 1, "1/8"),
        (-12.7, 1, "−1/2"),
    ],
)
def test_a_length_has_no_unit(value_mm: float, decimals: int, text: str) -> None:
    with speaking(manner_of("en", "in")):
        assert mm_text(value_mm, decimals) == text


def test_ticks_are_round_in_the_unit_shown() -> None:
    with speaking(manner_of("en", "in")):
        assert length_unit() == "in"
        ticks = length_ticks(0.0, 300.0, 8)
    assert [text for _, text in ticks] == ["0", "2", "4", "6", "8", "10"]
    assert [value for value, _ in ticks] == pytest.approx([INCH_MM * inches for inches in range(0, 12, 2)])
    assert length_unit() == "mm"
    assert [text for _, text in length_ticks(0.0, 300.0, 8)] == ["0", "50", "100", "150", "200", "250", "300"]


def test_the_line_to_check_the_scale_by_is_told_in_inches() -> None:
    with speaking(manner_of("en", "in")):
        texts = [mark.text for mark in check_line(0.0, 0.0) if isinstance(mark, Label)]
    assert texts == ["measure: 3 15/16 in"]
