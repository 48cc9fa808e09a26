"""The table of lines, and the shipped font."""

from typing import get_args

import pytest

from rampdraft.drawing.ink import Fill, Pen
from rampdraft.drawing.style import FONT, FONT_BOLD, NARROW_MM, STROKES, WASHES, WIDE_MM, font_path


def test_every_pen_and_every_fill_has_its_look():
    assert set(STROKES) == set(get_args(Pen))
    assert set(WASHES) == set(get_args(Fill))


def test_the_wide_line_is_twice_the_narrow_one():
    """ISO 128-2: widths of a line group stand 2 : 1; 0.35 and 0.18 are the standard's rounded steps."""
    assert pytest.approx(2, abs=0.06) == WIDE_MM / NARROW_MM
    assert {stroke.width_mm for stroke in STROKES.values()} == {WIDE_MM, NARROW_MM}


def test_dashes_follow_the_width_of_the_line():
    """ISO 128-2: dashes of 12 d and gaps of 3 d; long dashes of 24 d, gaps of 3 d, dots of half d."""
    assert STROKES["hidden"].dash_mm == pytest.approx((12 * NARROW_MM, 3 * NARROW_MM))
    assert STROKES["centre"].dash_mm == pytest.approx(
        (24 * NARROW_MM, 3 * NARROW_MM, 0.5 * NARROW_MM, 3 * NARROW_MM)
    )


def test_a_clash_is_told_by_more_than_its_colour():
    hatched = {fill for fill, wash in WASHES.items() if wash is not None and wash.hatched}
    assert hatched == {"clash"}


@pytest.mark.parametrize("name", [FONT, FONT_BOLD])
def test_the_font_is_shipped_with_its_licence(name):
    path = font_path(name)
    assert path.read_bytes()[:4] == b"\x00\x01\x00\x00", "a TrueType font"
    assert "Bitstream Vera" in (path.parent / "LICENSE.txt").read_text(encoding="utf-8")
