"""The working is what an inspector writes: formula, numbers, result with unit."""

import pytest
from ramps import all_sloping, base_design, checks, rule_set, with_leaves

from rampdraft.checks.notes import CAUTIONS
from rampdraft.checks.rules.sets import builtin_rule_sets
from rampdraft.words import figures
from rampdraft.words.manner import INCHES, PLAIN, PRINTED, Shown, Style, manner_of, speaking


def test_gradient_is_written_three_ways() -> None:
    """398 mm over 2611 mm: 0.1524, 1 : 6.56, 15.24 %, 8.67° by pocket calculator."""
    assert figures.quotient("gradient", ("rise", 398), ("going", 2611)) == (
        "gradient = rise / going",
        "= 398 mm / 2611 mm = 0.1524",
        "= 1 : 6.56 = 15.24 % = 8.67°",
    )


def test_level_has_no_n() -> None:
    assert figures.gradient(0) == "level = 0 % = 0°"
    assert figures.one_in(0) == "level"


def test_numbers_have_no_idle_zeros() -> None:
    assert [figures.number(value) for value in (398, 398.04, 398.46, -0.01, 0.5, 1000)] == [
        "398", "398", "398.5", "0", "0.5", "1000",
    ]  # fmt: skip


def test_gradient_check_shows_formula_numbers_result_and_limit() -> None:
    check = checks(rule_set("us-building"), sites=all_sloping(0.1, 2000))[
        "us-building/running-slope/site-1-empty"
    ]
    assert check.working == (
        "gradient = rise / going",
        "= 100 mm / 1000 mm = 0.1",
        "= 1 : 10 = 10 % = 5.71°",
        "limit: at most 1:12, value / limit = 120.0 %: fails",
    )
    assert check.value_text == "1 : 10 = 10 % = 5.71°"


def test_width_check_shows_what_it_is_the_least_of() -> None:
    design = with_leaves(base_design(), width_mm=850.5)
    assert checks(rule_set("france-vehicle"), design=design)["france-vehicle/width"].working == (
        "clear width = least of (inner leaf, outer leaf, opening)",
        "= least of (850.5 mm, 850.5 mm, 1000 mm)",
        "= 850.5 mm",
        "limit: at least 730 mm, limit / value = 85.8 %: passes",
    )


def test_every_judged_check_has_working_a_source_and_a_limit() -> None:
    for check in checks(*builtin_rule_sets()).values():
        assert check.source.title
        assert check.source.publication
        if check.ratio is not None:
            assert len(check.working) >= 2
            assert check.working[-1].startswith(f"limit: {check.limit_words}")
            assert check.limit_text
            assert check.value_text


def test_nothing_is_ever_called_safe() -> None:
    words = " ".join(
        text.lower()
        for check in checks(*builtin_rule_sets()).values()
        for text in (
            check.title,
            check.subject,
            check.value_text,
            check.limit_text,
            check.why,
            check.result,
            *check.working,
        )
    )
    assert "safe" not in words.replace("safety factor", "")
    assert "safe" not in " ".join(CAUTIONS).lower()


def test_cautions_say_all_that_must_be_said() -> None:
    said = " ".join(CAUTIONS).lower()
    for word in (
        "competent",
        "not approval",
        "engineer",
        "welder",
        "test load",
        "hinge lines",
        "marked load",
        "steeper",
    ):
        assert word in said


def test_another_style_has_another_decimal_sign_and_other_units() -> None:
    """1 in is 25.4 mm exactly, so that 398.46 mm is 15.687 in."""
    inches = Style(decimal=",", units=(("mm", Shown("in", 1 / 25.4, 2)),))
    assert figures.mm(398.46, inches) == "15,687 in"
    assert figures.fixed(25.4, 1, "mm", inches) == "1,000 in"
    assert figures.gradient(0.25, inches) == "1 : 4 = 25 % = 14,04°"
    assert figures.newton(-24100, PRINTED) == "−24.1 kN"


def test_nothing_has_no_sign() -> None:
    assert figures.fixed(-0.04, 1, "kg") == "0.0 kg"
    assert figures.exact(-0.0) == figures.number(-0.04) == "0"
    assert figures.fixed(-0.06, 1) == "−0.1"
    assert figures.fixed(-0.06, 1, style=PLAIN) == "-0.1"


@pytest.mark.parametrize(
    ("value_mm", "text"),
    [
        (400.05, "15 3/4 in"),
        (19.05, "3/4 in"),
        (-12.7, "−1/2 in"),
        (304.8, "12 in"),
        (0.0, "0 in"),
        (0.1, "0.004 in"),
    ],
)
def test_a_length_is_read_off_a_rule_in_inches(value_mm: float, text: str) -> None:
    """One inch is 25.4 mm exactly (international inch, 1959)."""
    style = Style(minus="−", units=INCHES)
    assert figures.mm(value_mm, style) == text


def test_what_asks_for_more_digits_gets_decimals_of_an_inch() -> None:
    style = Style(minus="−", units=INCHES)
    assert figures.figure(12.7, "mm", 2, style) == "0.5 in"
    assert figures.exact(25.4, "mm", style) == "1 in"


def test_the_workshop_writes_mm_without_their_name() -> None:
    assert figures.size(6.6) == "6.6"
    assert figures.size(6.6, Style(decimal=",")) == "6,6"
    assert figures.size(6.35, Style(minus="−", units=INCHES)) == "0.25 in"


def test_a_length_that_is_reckoned_with_is_no_fraction() -> None:
    """3 mm are 0.118 in; on a rule 1/8 in, which is 3.175 mm."""
    assert figures.measure(3.0) == "3 mm"
    with speaking(manner_of("en", "in")):
        assert figures.mm(3.0) == "1/8 in"
        assert figures.measure(3.0) == "0.118 in"
