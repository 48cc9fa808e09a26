"""Cells on sheets: all there, none on another, none outside the room."""

import itertools

from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import box
from tries import tries

from rampdraft.export.pdf.packing import Cell, in_order, packed, stacked
from rampdraft.export.pdf.room import room_on

ROOM = room_on("A4")
sizes = st.lists(st.tuples(st.floats(5, ROOM.wide), st.floats(5, ROOM.tall)), max_size=25)


def cells(found):
    return [
        Cell(draw=lambda x, top, at=(number, size): [(at, x, top)], wide=size[0], tall=size[1])
        for number, size in enumerate(found)
    ]


def laid(sheets):
    """Return for each sheet the boxes on it, with the number of their cell."""
    return [
        [(number, box(x, top - size[1], x + size[0], top)) for (number, size), x, top in sheet.ops]
        for sheet in sheets
    ]


def held(found, sheets) -> None:
    boxes = laid(sheets)
    assert sorted(number for sheet in boxes for number, _ in sheet) == list(range(len(found)))
    room = box(ROOM.left - 1e-3, ROOM.bottom - 1e-3, ROOM.right + 1e-3, ROOM.top + 1e-3)
    for sheet in boxes:
        assert sheet
        assert all(room.contains(one) for _, one in sheet)
        assert all(a.intersection(b).area < 1e-6 for (_, a), (_, b) in itertools.combinations(sheet, 2))


@settings(max_examples=tries(25))
@given(sizes)
def test_packed_cells_are_all_there_and_apart(found) -> None:
    held(found, packed([cells(found)], "Test", ROOM))


@settings(max_examples=tries(25))
@given(sizes)
def test_cells_in_order_are_all_there_apart_and_in_order(found) -> None:
    sheets = in_order(cells(found), "Test", ROOM)
    held(found, sheets)
    assert [number for sheet in laid(sheets) for number, _ in sheet] == list(range(len(found)))


def test_small_cells_share_a_sheet_and_a_second_group_fills_the_first() -> None:
    big, small = [(ROOM.wide, 0.6 * ROOM.tall)], [(40.0, 30.0)] * 5
    assert len(packed([cells(big), cells(small)], "Test", ROOM)) == 1


def test_stacked_cells_are_one() -> None:
    one = stacked(*cells([(30.0, 10.0), (50.0, 20.0)]))
    assert one.wide == 50.0
    assert one.tall > 30.0
    (_, _, first), (_, _, second) = one.draw(0.0, 100.0)
    assert first == 100.0
    assert second < 90.0
