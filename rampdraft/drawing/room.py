"""The room that the fold needs, as ink: all that the leaves move through, with its reach dimensioned from the
deck edge.
"""

from typing import Final

from rampdraft.drawing import dimension
from rampdraft.drawing.ink import Ink, Picture
from rampdraft.drawing.side import side_view
from rampdraft.drawing.text import mm_text
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.geometry.outline import Outline
from rampdraft.mechanics.folding.envelope import swept_outlines
from rampdraft.units import MM
from rampdraft.words.say import say

_POSES: Final = 320
"""Enough that the far corners of the leaves leave no gaps between them."""


def swept_room(evaluation: Evaluation) -> tuple[Outline, ...]:
    """Return the outlines of both leaves all along the fold, for `side_view`."""
    return swept_outlines(evaluation.design, evaluation.assembly, evaluation.path, _POSES)


def room_view(evaluation: Evaluation, *, per_mm: MM, swept: tuple[Outline, ...]) -> Picture:
    """Return the deployed ramp in the room that its fold needs, with the deck empty; `per_mm`: see
    `dimension`.
    """
    path, room, top = evaluation.path, evaluation.envelope, edge_height_mm(evaluation.design)
    view = side_view(
        evaluation, pose=path.poses[0], drop_mm=0.0, dimensions=False, swept=swept, per_mm=per_mm
    )
    x0, z0, x1, z1 = view.box
    high, front, over = top + room.above_deck_mm, room.in_front_mm, room.over_deck_mm
    beside, under, upon = front + 7 * per_mm, z0 - 6 * per_mm, high + 6 * per_mm
    above = (
        say("above deck {height}", height=mm_text(room.above_deck_mm, 0)),
        say("above ground {height}", height=mm_text(room.above_ground_mm, 0)),
    )
    marks: list[Ink] = [
        *dimension.level(
            (0.0, top),
            (front, 0.0),
            say("in front {length}", length=mm_text(front, 0)),
            at=under,
            per_mm=per_mm,
        ),
        *dimension.upright((0.0, top), (0.0, high), above[0], at=beside, per_mm=per_mm),
        *dimension.upright((0.0, 0.0), (0.0, high), above[1], at=beside + 7 * per_mm, per_mm=per_mm),
    ]
    if over > 0:
        words = say("over deck {length}", length=mm_text(over, 0))
        marks.extend(dimension.level((-over, high), (0.0, high), words, at=upon, per_mm=per_mm))
    box = (x0, under - 3 * per_mm, max(x1, beside + 10 * per_mm), max(z1, upon + 6 * per_mm))
    return Picture(marks=(*view.marks, *marks), box=box, title=say("Room that the fold needs"))
