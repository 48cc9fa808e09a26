import re

import pytest

from rampdraft.app.form.sums import LONGEST, SumError, value_of


@pytest.mark.parametrize(
    ("text", "unit", "value"),
    [
        ("1350", "mm", 1350),
        ("  -3.5 ", "mm", -3.5),
        ("1.7 m", "mm", 1700),
        ("1.7m", "mm", 1700),
        ("42 cm", "mm", 420),
        ("2*850 - 12", "mm", 1688),
        ("(1200 + 80) / 2", "mm", 640),
        ("2 × 850 − 12", "mm", 1688),
        ("-(3 - 5)", "mm", 2),
        ("- -3", "mm", 3),
        ("1 in", "mm", 25.4),
        ("5 ft 6 in", "mm", 1676.4),
        ("5' 6\"", "mm", 1676.4),
        ("-5 ft 6 in", "mm", -1676.4),
        ("4 1/2 in", "mm", 114.3),
        ("1/2 in", "mm", 12.7),
        ("1/2 in + 1/4 in", "mm", 19.05),
        ("5 ft 6 1/2 in", "mm", 1689.1),
        ("2 * 1.7 m", "mm", 3400),
        ("1 m / 4", "mm", 250),
        ("1 m / 250 mm", "mm", 4),
        ("1 m + 20", "mm", 1020),
        ("10/4", "mm", 2.5),
        ("2 lb", "kg", 0.90718474),
        ("500 g", "kg", 0.5),
        ("90°", "deg", 90),
        ("2.5 %", "%", 2.5),
        ("3", "", 3),
    ],
)
def test_a_sum_with_units_comes_to(text: str, unit: str, value: float) -> None:
    assert value_of(text, unit) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("", "is empty"),
        ("   ", "is empty"),
        ("wide", "'wide'"),
        ("12 miles", "'miles'"),
        ("1 min", "'min'"),
        ("12 kg", "'kg'"),
        ("__import__('os')", "'_'"),
        ("2**3", "'*'"),
        ("1 2", "'2'"),
        ("1 m 2", "without one"),
        ("1 m * 2 m", "multiplies two sizes"),
        ("2 / (1 m)", "divides by a size"),
        ("1 / 0", "divides by zero"),
        ("1/0 in", "divides by zero"),
        ("(1 + 2", "not closed"),
        ("1 + 2)", "')'"),
        ("1 +", "ends where"),
        ("1 mm mm", "where nothing more"),
        ("1,5", "','"),
        ("٣", "'٣'"),
        ("nan", "'nan'"),
        ("(" * (LONGEST + 1), "too long"),
        ("(" * (LONGEST - 1), "too many brackets"),
        ("-" * (LONGEST - 1), "ends where"),
    ],
)
def test_a_text_that_is_no_size_says_why(text: str, why: str) -> None:
    with pytest.raises(SumError, match=re.escape(why)):
        value_of(text, "mm")


def test_a_decimal_comma_counts_where_the_locale_has_one() -> None:
    assert value_of("1,7 m + 0.3 m", "mm", ",") == 2000


@pytest.mark.parametrize("text", ["1.400", "12.500", "3 + 1.200"])
def test_thousands_and_decimals_are_not_taken_for_each_other(text: str) -> None:
    """Where the comma is the decimal sign, the point groups thousands; common practice."""
    with pytest.raises(SumError, match="two ways"):
        value_of(text, "mm", ",")
    value_of(text, "mm")
    assert value_of("0.125", "mm", ",") == value_of("0,125", "mm", ",") == 0.125
