"""What a grip measures, as a dimension on the drawing: from where its value counts to where it is pulled."""

import math
from dataclasses import replace
from typing import Final

from rampdraft.drawing import dimension
from rampdraft.drawing.grips.grip import Grip, Slide, Turn
from rampdraft.drawing.ink import Ink, Label, polyline
from rampdraft.drawing.text import mm_text
from rampdraft.model.fields.paths import info_of
from rampdraft.model.fields.record import Dim
from rampdraft.units import MM
from rampdraft.words.figures import figure

_ARC_STEPS: Final = 24
_BESIDE_MM: Final = 7.0
"""How far beside the feature its dimension line lies, on paper."""
_HALF_MM: Final = 1.05
"""Half the height of a capital letter of 8 point, on paper."""
_AXES: Final = ("x", "z")
"""What both numbers of a point are called."""


def measured(grip: Grip, path: str, per_mm: MM) -> tuple[Ink, ...]:
    """Return the dimensions of the value at a path that a grip pulls; `per_mm`: see `dimension`."""
    found: list[Ink] = []
    for number, way in enumerate(grip.ways):
        if way.path == path and isinstance(way, Turn):
            found.extend(_arc(grip, way, per_mm))
        elif way.path == path and isinstance(way, Slide):
            found.extend(_straight(grip, way, per_mm, aside=number > 0))
    return tuple(found)


def letter_of(way: Slide | Turn) -> str:
    """Return the letter that a drawing shows for a value; of a point's numbers x and z."""
    info = info_of(way.path)
    letter = info.record.letter if info is not None and isinstance(info.record, Dim) else ""
    return _AXES[way.item] if way.item is not None else letter


def _straight(grip: Grip, way: Slide, per_mm: MM, *, aside: bool) -> tuple[Ink, ...]:
    """Return the dimension to the left of its way; the second of a point `aside`, away from the deck, where
    the first is not.
    """
    start = way.moved(grip.at, 0.0)
    side = -1 if aside and grip.at[1] > start[1] else 1
    if math.dist(start, grip.at) < 1e-9:
        return ()
    text = f"{letter_of(way)} {mm_text(way.value)}".strip()
    offset = side * _BESIDE_MM * per_mm
    marks = dimension.aligned(start, grip.at, text, offset_mm=offset, per_mm=per_mm, owner=way.path)
    # It stands over what is drawn already, so its letters need paper behind them.
    return tuple(_boxed(mark, per_mm) if isinstance(mark, Label) else mark for mark in marks)


def _boxed(label: Label, per_mm: MM) -> Label:
    """Return a label with its middle where the middle of its letters was."""
    angle, up = math.radians(label.angle_deg), _HALF_MM * per_mm
    at = (label.at[0] - math.sin(angle) * up, label.at[1] + math.cos(angle) * up)
    return replace(label, at=at, boxed=True)


def _arc(grip: Grip, way: Turn, per_mm: MM) -> tuple[Ink, ...]:
    points = [way.moved(grip.at, way.value * step / _ARC_STEPS) for step in range(_ARC_STEPS + 1)]
    x, z = points[_ARC_STEPS // 2]
    text = f"{letter_of(way)} {figure(way.value, '°')}".strip()
    return (
        polyline(points, "dimension", way.path),
        Label(text=text, at=(x + 2 * per_mm, z), size_pt=dimension.SIZE_PT, boxed=True, owner=way.path),
    )
