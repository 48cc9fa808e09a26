"""Grips in words: what one is called, and what its values are."""

from itertools import takewhile

from rampdraft.app.form import format
from rampdraft.drawing.grips.grip import Grip, Way
from rampdraft.drawing.grips.measured import letter_of
from rampdraft.drawing.grips.way_points import WayPointGrip
from rampdraft.model.design import Design
from rampdraft.model.fields.paths import info_of, label_of, value_at
from rampdraft.model.fields.record import Dim
from rampdraft.model.section import Section
from rampdraft.model.spacing import follows
from rampdraft.words.say import say


def name_of(grip: Grip) -> str:
    """Return what a grip is called: its value, its point, or what its values have in common."""
    if isinstance(grip, WayPointGrip):
        return say("Way-point {number}", number=grip.number)
    paths = grip.paths
    if paths[0].endswith("]"):
        number = paths[0].rpartition("[")[2].rstrip("]")
        if grip.ways[0].item is not None:
            return say("{name}, point {number}", name=label_of(paths[0]), number=number)
        return say("{name}, number {number}", name=label_of(paths[0]), number=number)
    words = zip(*(label_of(path).split() for path in paths), strict=False)
    alike = " ".join(same[0] for same in takewhile(lambda same: len(set(same)) == 1, words))
    return alike or label_of(paths[0])


def texts_of(grip: Grip, design: Design, values: tuple[float, ...]) -> tuple[str, ...]:
    """Return values as they would be written in the form; `design` has them."""
    found: list[str] = []
    for way, value in zip(grip.ways, values, strict=True):
        now = None if isinstance(grip, WayPointGrip) else value_at(design, way.path)
        found.append(now.text if isinstance(now, Section) else format.typed(round(value, 6), _unit_of(way)))
    return tuple(found)


def told(grip: Grip, design: Design, values: tuple[float, ...]) -> str:
    """Return values with their letters and units: `L 1652 mm`, `X 30 mm, Z 45 mm`."""
    parts: list[str] = []
    for way, text in zip(grip.ways, texts_of(grip, design, values), strict=True):
        unit = unit_of(way)
        space = "" if unit in ("", "°") else " "
        parts.append(f"{letter_of(way)} {text}{space}{unit}".strip())
    return ", ".join(parts)


def unit_of(way: Way) -> str:
    """Return the unit of a value as the screen writes it; nothing for a section, whose text says all."""
    return format.unit_text(_unit_of(way))


def _unit_of(way: Way) -> str:
    info = info_of(way.path)
    record = info.record if info is not None else None
    return record.unit if isinstance(record, Dim) else ""


def no_longer_follows(grip: Grip, design: Design) -> bool:
    """Return whether a value that a grip pulls follows from the rest of a design."""
    return not isinstance(grip, WayPointGrip) and any(follows(design, path) for path in grip.paths)
