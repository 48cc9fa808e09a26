"""The pages that are made from the program are as the program would make them now."""

import make_method
from make_dimension_table import PAGE, page


def test_the_page_of_dimensions_is_made_from_the_records() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "run: python tests/make_dimension_table.py"


def test_the_page_of_the_method_is_made_from_the_formulas() -> None:
    assert make_method.PAGE.read_text(encoding="utf-8") == make_method.page(), (
        "run: python tests/make_method.py"
    )
