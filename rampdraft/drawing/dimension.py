"""Dimensions as ink: dimension lines, extension lines, arrowheads, running dimensions and leaders.

ISO 129-1: the value stands above its line and is read from below or from the right; extension lines leave a
gap at the feature and run a little past the dimension line; running dimensions start at a common origin,
marked by a circle. `per_mm` is how much of the view one millimetre of paper shows: 10 at a scale of 1 : 10.
"""

import math
from typing import Final, Literal

from rampdraft.drawing.ink import Anchor, Ink, Label, Measures, Path, line, polyline, ring
from rampdraft.geometry.outline import Point
from rampdraft.units import MM

ARROW_MM: Final = 2.2
GAP_MM: Final = 0.8
OVERRUN_MM: Final = 1.2
LIFT_MM: Final = 0.8
"""From the dimension line up to the baseline of its value."""
_TAIL_MM: Final = 5.5
"""How far the line runs on where its arrows stand outside."""
SIZE_PT: Final = 8.0
_LETTERS_MM: Final = 2.1
"""Height of a capital letter of that size."""
_LETTER_MM: Final = 1.75
"""Mean width of a letter at that size."""

Outside = Literal["after", "before", "across"]


def level(
    a: Point, b: Point, text: str, *, at: MM, per_mm: MM, owner: str = "", outside: Outside = "after"
) -> tuple[Ink, ...]:
    """Return the dimension between a and b along x, its line at the height `at`.

    A value that has no room between them stands after the greater coordinate, `before` the lesser one, or
    `across` its line from where others beside it stand.
    """
    a, b = sorted((a, b), key=lambda point: point[0])
    return _drawn((a, (a[0], at)), (b, (b[0], at)), text, per_mm, owner, outside)


def upright(
    a: Point, b: Point, text: str, *, at: MM, per_mm: MM, owner: str = "", outside: Outside = "after"
) -> tuple[Ink, ...]:
    """Return the dimension between a and b along y, its line at x = `at`; else as `level`."""
    a, b = sorted((a, b), key=lambda point: point[1])
    return _drawn((a, (at, a[1])), (b, (at, b[1])), text, per_mm, owner, outside)


def aligned(a: Point, b: Point, text: str, *, offset_mm: MM, per_mm: MM, owner: str = "") -> tuple[Ink, ...]:
    """Return the dimension from a to b, parallel to it, `offset_mm` to the left of the way from a to b."""
    length = math.dist(a, b)
    nx, nz = -(b[1] - a[1]) / length * offset_mm, (b[0] - a[0]) / length * offset_mm
    return _drawn((a, (a[0] + nx, a[1] + nz)), (b, (b[0] + nx, b[1] + nz)), text, per_mm, owner)


def in_chain(count: int) -> tuple[Outside, ...]:
    """Return where the values of so many dimensions in one line stand that have no room: those between others
    do not run into them.
    """
    places: list[Outside] = ["across"] * count
    places[-1:], places[:1] = ["after"], ["before"]
    return tuple(places[:count])


def has_room(text: str, length_mm: MM, per_mm: MM) -> bool:
    """Return whether a value fits above a dimension line of this length."""
    return (len(text) * _LETTER_MM + 1.5) * per_mm <= length_mm


def _arrows_within(text: str, length_mm: MM, per_mm: MM) -> bool:
    return length_mm > (3 * ARROW_MM + len(text) * _LETTER_MM * 0.3) * per_mm


def upright_reach(low: MM, high: MM, text: str, per_mm: MM) -> MM:
    """Return how high an upright dimension reaches: arrows and value stand beyond it where there is no room
    within.
    """
    tail = 0.0 if _arrows_within(text, high - low, per_mm) else _TAIL_MM
    value = 0.0 if has_room(text, high - low, per_mm) else ARROW_MM + len(text) * _LETTER_MM + 1.5
    return high + max(tail, value) * per_mm


def running(
    origin: Point, places: tuple[tuple[Point, str], ...], *, at: MM, per_mm: MM, owner: str = ""
) -> tuple[Ink, ...]:
    """Return running dimensions along x from `origin`, their line at the height `at`; values stand along the
    extension lines.

    A value that would run into the one before it moves on to the next free place, by two places at most;
    beyond that it is left out, its place keeps its arrow, and the cut list has them all. A place at the
    origin is the origin: it has its 0 and no arrow.
    """
    places = tuple(place for place in places if place[0][0] != origin[0])
    last = max((point[0] for point, _ in places), default=origin[0])
    start = (origin[0], at)
    marks: list[Ink] = [
        line(start, (last, at), "dimension", owner),
        ring(start, 0.7 * per_mm),
        *_extension(origin, start, per_mm, owner),
        _running_value(start, "0", per_mm, owner),
    ]
    step = SIZE_PT * 0.35 * per_mm
    free_from = origin[0] + step
    for point, text in sorted(places, key=lambda place: place[0][0]):
        end = (point[0], at)
        lines = (*_extension(point, end, per_mm, owner), _arrow(end, (1.0, 0.0), per_mm, owner))
        marks.extend(lines)
        shown_at = max(point[0], free_from)
        if shown_at - point[0] <= 2 * step:
            measures = Measures(features=(origin, point), ends=(start, end), lines=len(lines))
            marks.append(_running_value((shown_at, at), text, per_mm, owner, measures))
            free_from = shown_at + step
    return tuple(marks)


def leader(tip: Point, to: Point, text: str, *, per_mm: MM, owner: str = "") -> tuple[Ink, ...]:
    """Return a leader with its arrow at `tip` and a text beside its other end, on the side away from the
    tip.
    """
    length = math.dist(tip, to) or 1.0
    toward = ((tip[0] - to[0]) / length, (tip[1] - to[1]) / length)
    anchor: Anchor = "left" if to[0] >= tip[0] else "right"
    shift = GAP_MM * per_mm * (1 if anchor == "left" else -1)
    return (
        line(to, tip, "dimension", owner),
        _arrow(tip, toward, per_mm, owner),
        Label(text=text, at=(to[0] + shift, to[1] - per_mm), anchor=anchor, size_pt=SIZE_PT, owner=owner),
    )


def leader_line(tip: Point, to: Point, end: Literal["arrow", "dot"], *, per_mm: MM) -> tuple[Ink, ...]:
    """Return a leader from words to what they are about: to an edge with an arrow, into an area with a dot
    (ISO 128-2).
    """
    length = math.dist(tip, to) or 1.0
    if end == "dot":
        return line(to, tip, "dimension"), ring(tip, 0.3 * per_mm, pen="outline", fill="none")
    toward = ((tip[0] - to[0]) / length, (tip[1] - to[1]) / length)
    return line(to, tip, "dimension"), _arrow(tip, toward, per_mm, "")


def centre_mark(at: Point, reach_mm: MM, owner: str = "") -> tuple[Ink, ...]:
    """Return the two crossing centre lines of a hole or a hinge."""
    x, z = at
    return (
        line((x - reach_mm, z), (x + reach_mm, z), "centre", owner),
        line((x, z - reach_mm), (x, z + reach_mm), "centre", owner),
    )


def _drawn(
    start: tuple[Point, Point],
    end: tuple[Point, Point],
    text: str,
    per_mm: MM,
    owner: str,
    outside: Outside = "after",
) -> tuple[Ink, ...]:
    """Return the dimension of two features, each given with the end of the dimension line that belongs to
    it.
    """
    (_, p), (_, q) = start, end
    length = math.dist(p, q)
    if length == 0:
        return ()
    ux, uz = (q[0] - p[0]) / length, (q[1] - p[1]) / length
    roomy = _arrows_within(text, length, per_mm)
    tail = 0.0 if roomy else _TAIL_MM * per_mm
    ends = (p[0] - ux * tail, p[1] - uz * tail), (q[0] + ux * tail, q[1] + uz * tail)
    turned = 1.0 if roomy else -1.0
    angle = math.degrees(math.atan2(uz, ux))
    if angle > 90.0001 or angle <= -89.9999:
        angle -= math.copysign(180.0, angle)
    dx, dz = math.cos(math.radians(angle)), math.sin(math.radians(angle))
    middle, anchor = ((p[0] + q[0]) / 2, (p[1] + q[1]) / 2), "centre"
    lift, fits = LIFT_MM, has_room(text, length, per_mm)
    if not fits and outside == "across":
        lift = -LIFT_MM - _LETTERS_MM
    elif not fits:  # beyond the end of the line that comes last in reading
        first, last = (p, q) if dx * ux + dz * uz > 0 else (q, p)
        beyond, reach = (last, ARROW_MM * per_mm) if outside == "after" else (first, -ARROW_MM * per_mm)
        middle = (beyond[0] + dx * reach, beyond[1] + dz * reach)
        anchor = "left" if outside == "after" else "right"
    at = (middle[0] - dz * lift * per_mm, middle[1] + dx * lift * per_mm)
    lines = (
        *_extension(*start, per_mm, owner),
        *_extension(*end, per_mm, owner),
        line(*ends, "dimension", owner),
        _arrow(p, (-ux * turned, -uz * turned), per_mm, owner),
        _arrow(q, (ux * turned, uz * turned), per_mm, owner),
    )
    measures = Measures(features=(start[0], end[0]), ends=(p, q), lines=len(lines))
    value = Label(
        text=text, at=at, anchor=anchor, size_pt=SIZE_PT, angle_deg=angle, owner=owner, measures=measures
    )
    return (*lines, value)


def _extension(feature: Point, end: Point, per_mm: MM, owner: str) -> tuple[Ink, ...]:
    length = math.dist(feature, end)
    if length <= 2 * GAP_MM * per_mm:
        return ()
    ux, uz = (end[0] - feature[0]) / length, (end[1] - feature[1]) / length
    gap, past = GAP_MM * per_mm, OVERRUN_MM * per_mm
    start = (feature[0] + ux * gap, feature[1] + uz * gap)
    return (line(start, (end[0] + ux * past, end[1] + uz * past), "dimension", owner),)


def _arrow(tip: Point, toward: tuple[float, float], per_mm: MM, owner: str) -> Path:
    """Return an open arrowhead of 30 degrees whose tip points along `toward`."""
    back, half = ARROW_MM * per_mm, ARROW_MM * per_mm * math.tan(math.radians(15))
    (tx, tz), (ux, uz) = tip, toward
    left = (tx - ux * back - uz * half, tz - uz * back + ux * half)
    right = (tx - ux * back + uz * half, tz - uz * back - ux * half)
    return polyline((left, tip, right), "dimension", owner)


def _running_value(at: Point, text: str, per_mm: MM, owner: str, measures: Measures | None = None) -> Label:
    return Label(
        text=text,
        at=(at[0] + 1.0 * per_mm, at[1] + (OVERRUN_MM + GAP_MM) * per_mm),
        anchor="left",
        size_pt=SIZE_PT,
        angle_deg=90.0,
        owner=owner,
        measures=measures,
        runs=True,
    )
