"""The room that the fold needs: drawn with the figures of the envelope, about the deck edge."""

from functools import cache

import pytest
from inked import texts
from timber_ramp import timber_ramp

from rampdraft.drawing.ink import Path
from rampdraft.drawing.room import room_view, swept_room
from rampdraft.evaluation.evaluate import Evaluation, evaluate


@cache
def ramp() -> Evaluation:
    return evaluate(timber_ramp())


def test_the_figures_are_those_of_the_envelope():
    room = ramp().fold.envelope
    words = texts(room_view(ramp(), per_mm=20.0, swept=swept_room(ramp())))
    assert f"in front {room.in_front_mm:.0f}" in words
    assert f"above deck {room.above_deck_mm:.0f}" in words
    assert f"above ground {room.above_ground_mm:.0f}" in words
    assert f"over deck {room.over_deck_mm:.0f}" in words


def test_the_envelope_is_about_what_is_drawn_as_moved_through():
    """The envelope is never too small; what is drawn, in many poses, comes up to it but for the steps between
    them.
    """
    room, top = ramp().fold.envelope, ramp().design.carrier.deck_height_mm
    boxes = [outline.box for outline in swept_room(ramp())]
    front, high = max(box[2] for box in boxes), max(box[3] for box in boxes)
    assert front <= room.in_front_mm + 1e-6
    assert high <= room.above_ground_mm + 1e-6
    assert front == pytest.approx(room.in_front_mm, abs=5.0)
    assert high - top == pytest.approx(room.above_deck_mm, abs=5.0)


def test_all_of_it_is_within_the_box():
    picture = room_view(ramp(), per_mm=20.0, swept=swept_room(ramp()))
    x0, y0, x1, y1 = picture.box
    dimensions = [
        mark for mark in picture.marks if isinstance(mark, Path) and mark.pen in ("dimension", "swept")
    ]
    above = [
        vertex
        for mark in dimensions
        for vertex in mark.vertices
        if vertex[1] >= -1e-6 or mark.pen == "dimension"
    ]
    assert all(x0 <= x <= x1 and y0 <= y <= y1 for x, y, _ in above)
