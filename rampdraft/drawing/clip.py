"""What of some ink lies within a frame, drawn larger elsewhere: an enlarged detail (ISO 128-3)."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from rampdraft.drawing.ink import Ink, Path
from rampdraft.geometry.outline import Outline, Point, clipped, rectangle
from rampdraft.units import MM

Box = tuple[MM, MM, MM, MM]
"""(x0, y0, x1, y1)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Enlarged:
    """A window of a picture, and the frame that it fills: alike in shape."""

    window: Box
    frame: Box

    @property
    def times(self) -> float:
        """Return how many times as large the frame shows what is in the window."""
        return (self.frame[2] - self.frame[0]) / (self.window[2] - self.window[0])

    def shows(self, point: Point) -> bool:
        """Return whether a point lies in the window."""
        (x, y), (x0, y0, x1, y1) = point, self.window
        return x0 <= x <= x1 and y0 <= y <= y1

    def at(self, point: Point) -> Point:
        """Return where the frame shows a point."""
        (x, y), times = point, self.times
        return self.frame[0] + (x - self.window[0]) * times, self.frame[1] + (y - self.window[1]) * times

    def marks(self, ink: Iterable[Ink], sagitta_mm: MM) -> Iterator[Path]:
        """Yield lines and areas as the frame shows them, cut off at its edge; arcs that it cuts become chords
        that stay within `sagitta_mm`. The edge of an area that is cut runs along the frame.
        """
        for mark in ink:
            if isinstance(mark, Path):
                for part in cut(mark, self.window, sagitta_mm / self.times):
                    moved = tuple((*self.at((x, y)), bulge) for x, y, bulge in part.vertices)
                    yield replace(part, vertices=moved)


def around(boxes: Sequence[Box]) -> Box:
    """Return the box about boxes."""
    return (
        min(box[0] for box in boxes),
        min(box[1] for box in boxes),
        max(box[2] for box in boxes),
        max(box[3] for box in boxes),
    )


def grown(box: Box, by: MM) -> Box:
    """Return a box that is so much larger on every side."""
    return box[0] - by, box[1] - by, box[2] + by, box[3] + by


def cut(mark: Path, box: Box, sagitta_mm: MM) -> Iterator[Path]:
    """Yield what of a mark lies within a box."""
    points = _points(mark, sagitta_mm)
    x0, y0, x1, y1 = box
    xs, ys = [x for x, _ in points], [y for _, y in points]
    if max(xs) < x0 or min(xs) > x1 or max(ys) < y0 or min(ys) > y1:
        return
    if x0 <= min(xs) and max(xs) <= x1 and y0 <= min(ys) and max(ys) <= y1:
        yield mark
        return
    if mark.fill != "none":
        corners = [(x, y) for x, y, _ in rectangle(*box).vertices]
        left = clipped(points, corners)
        if len(left) > 2:
            yield _through(mark, left, closed=True)
        return
    run: list[Point] = []
    for a, b in zip(points, points[1:] + (points[:1] if mark.closed else ()), strict=False):
        part = within(a, b, box)
        if part is None:
            continue
        if not run or run[-1] != part[0]:
            if len(run) > 1:
                yield _through(mark, run, closed=False)
            run = [part[0]]
        run.append(part[1])
    if len(run) > 1:
        yield _through(mark, run, closed=False)


def _points(mark: Path, sagitta_mm: MM) -> tuple[Point, ...]:
    if not any(bulge for _, _, bulge in mark.vertices):
        return tuple([(x, y) for x, y, _ in mark.vertices])
    if mark.closed:
        return Outline(mark.vertices).points(sagitta_mm)
    *most, (x, y, _) = mark.vertices
    return Outline((*most, (x, y, 0.0))).points(sagitta_mm)


def _through(mark: Path, points: list[Point], *, closed: bool) -> Path:
    return replace(mark, vertices=tuple((x, y, 0.0) for x, y in points), closed=closed)


def within(a: Point, b: Point, box: Box) -> tuple[Point, Point] | None:
    """Return what of a straight line lies within a box.

    Liang and Barsky, A new concept and method for line clipping, 1984.
    """
    x0, y0, x1, y1 = box
    dx, dy = b[0] - a[0], b[1] - a[1]
    start, end = 0.0, 1.0
    for step, room in ((-dx, a[0] - x0), (dx, x1 - a[0]), (-dy, a[1] - y0), (dy, y1 - a[1])):
        if step == 0:
            if room < 0:
                return None
        elif step < 0:
            start = max(start, room / step)
        else:
            end = min(end, room / step)
    if start > end:
        return None
    return (
        a if start == 0 else (a[0] + start * dx, a[1] + start * dy),
        b if end == 1 else (a[0] + end * dx, a[1] + end * dy),
    )
