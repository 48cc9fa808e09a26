"""Sheets: frame, title block, scales, the line to check the printer by."""

import math

import pytest

from rampdraft.drawing.ink import Label, Path, Picture
from rampdraft.drawing.sheet import (
    LANDSCAPE_MM,
    Placed,
    TitleBlock,
    check_line,
    filling,
    fitted,
    frame_box,
    frame_marks,
    scale_text,
    stepped,
)

BLOCK = TitleBlock(
    title="Barn stage",
    kind="Part drawings",
    number="BS1",
    author="Barn friends",
    date="2026-03-01",
    revision="0f1e2d3c",
    scale="1 : 20",
    sheet=3,
    sheets=12,
    caution="An aid, not approval.",
)


def plain(width, height, border=0.0):
    """Return a way to draw `width` x `height` mm with a border that keeps its size on paper."""
    return lambda per_mm: Picture(marks=(), box=(0, 0, width + border * per_mm, height + border * per_mm))


@pytest.mark.parametrize("size", [LANDSCAPE_MM[::-1], LANDSCAPE_MM])
def test_margins_are_those_of_iso_5457(size):
    x0, y0, x1, y1 = frame_box(size)
    assert (x0, y0, size[0] - x1, size[1] - y1) == (20, 10, 10, 10)


def test_sheets_are_a4():
    assert LANDSCAPE_MM == (297, 210)  # ISO 216


def test_the_title_block_is_180_wide_in_the_lower_right_corner():
    """ISO 7200, clause on dimensions: 180 mm."""
    marks = frame_marks(LANDSCAPE_MM, BLOCK, lambda text, _room, size: (text, size))
    frame, block, *_ = [mark for mark in marks if isinstance(mark, Path) and mark.closed]
    assert (frame.vertices[0][:2], frame.vertices[2][:2]) == ((20, 10), (287, 200))
    assert (block.vertices[1][0], block.vertices[1][1]) == (287, 10)
    assert block.vertices[1][0] - block.vertices[0][0] == 180


def test_the_title_block_says_what_iso_7200_asks_for():
    marks = frame_marks(LANDSCAPE_MM, BLOCK, lambda text, _room, size: (text, size))
    said = {mark.text for mark in marks if isinstance(mark, Label)}
    assert {"Title", "Drawn by", "Date", "Scale", "Sheet", "Units", "Document", "Drawing number"} <= said
    assert {
        "Barn stage",
        "Barn friends",
        "2026-03-01",
        "1 : 20",
        "3 / 12",
        "mm",
        "BS1",
        "An aid, not approval.",
    } <= said


def test_values_are_cut_to_their_room():
    rooms = []

    def cut(text, room, size):
        rooms.append((text, room))
        return text[:3], size

    marks = frame_marks(LANDSCAPE_MM, BLOCK, cut)
    assert ("Barn stage", 82.0) in rooms
    assert "Bar" in {mark.text for mark in marks if isinstance(mark, Label)}


def test_letters_are_at_least_7_point():
    marks = (*frame_marks(LANDSCAPE_MM, BLOCK, lambda text, _room, size: (text, size)), *check_line(0, 0))
    assert min(mark.size_pt for mark in marks if isinstance(mark, Label)) >= 7


@pytest.mark.parametrize(
    ("width", "scale"),
    [(99, 1), (100, 1), (101, 2), (200, 2), (201, 5), (999, 10), (1001, 20), (5001, 100), (99999, 100)],
)
def test_the_largest_scale_of_iso_5455_that_fits_is_taken(width, scale):
    assert fitted(plain(width, 10), 100, 100).scale == scale


def test_height_counts_as_well_and_letters_take_room_on_paper():
    assert fitted(plain(10, 300), 100, 100).scale == 5
    assert fitted(plain(190, 10), 100, 100).scale == 2
    assert fitted(plain(190, 10, border=20), 100, 100).scale == 5


@pytest.mark.parametrize(("width", "height"), [(3000, 500), (500, 3000), (2650, 420)])
@pytest.mark.parametrize("border", [0.0, 15.0])
def test_a_sketch_fills_its_room(width, height, border):
    placed = filling(plain(width, height, border), 200, 80)
    wide, tall = placed.size_mm
    assert wide <= 200 + 1e-6
    assert tall <= 80 + 1e-6
    assert wide == pytest.approx(200) or tall == pytest.approx(80)


def test_a_placed_picture_knows_its_size_on_paper():
    assert Placed(picture=plain(1000, 200)(1), scale=10).size_mm == (100, 20)


def test_scales_are_written_with_a_colon():
    assert scale_text(20.0) == "1\u00a0:\u00a020", "no line ends within it"


def test_the_check_line_is_100_mm_long():
    line, *ticks = [mark for mark in check_line(20, 40) if isinstance(mark, Path)]
    ends = [y for _, y, _ in line.vertices]
    assert max(ends) - min(ends) == 100
    assert [tick.vertices[0][1] for tick in ticks] == [50, 60, 70, 80, 90, 100, 110, 120, 130]


def test_a_picture_whose_words_wrap_is_stepped_down_until_it_fits() -> None:
    def make(per_mm: float) -> Picture:
        # 4000 mm wide and 100 high, and on paper a line of 4 mm more for each 20 mm that the sheet is
        # narrower than 100.
        lines = 3 + max(0, math.ceil((100 - 4000 / per_mm) / 20))
        return Picture(marks=(), box=(0.0, 0.0, 4000.0, 100.0 + 4 * lines * per_mm))

    wide = stepped(make, 200.0, 60.0)
    assert wide.size_mm == pytest.approx((200.0, 5.0 + 12.0))
    low = stepped(make, 200.0, 16.0)
    assert low.size_mm[1] <= 16.0
    assert low.size_mm[0] > 200.0 / 1.15**3
