"""Details of a picture enlarged where its sheet is empty (ISO 128-3: a letter at the place and at the detail,
with how many times as large it is), never over what the picture shows.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.drawing.clip import Box, Enlarged
from rampdraft.drawing.ink import Ink, Label, Path, Picture, area
from rampdraft.geometry.outline import Outline, Point, rectangle
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

CELL_MM: Final = 2.0
"""On paper, of the lattice that tells where the sheet is empty."""
CLEAR: Final = 2
"""So many cells are left free about a detail."""
SIZES_MM: Final = tuple(range(78, 26, -4))
"""Widths of a detail on paper, tried from the largest."""
FLATNESS: Final = 0.72
"""Height of a detail to its width."""
LEAST_TIMES: Final = 1.7
"""Nothing is enlarged by less."""

LETTER_MM: Final = 1.8
"""About how wide a letter is."""
Cells = NDArray[np.bool_]
Places = NDArray[np.float64]
"""(n, 2)."""
_MOST: Final = 4000.0
"""So many places on one line are enough for any sheet."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """What is to be enlarged."""

    name: str
    at: Point
    wide_mm: MM
    """How much of it is shown across."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Inset:
    """A place enlarged in a frame of its own."""

    place: Place
    frame: Box
    letter: str
    beside: Point
    """From the place to the letter beside it."""

    @property
    def detail(self) -> Enlarged:
        """Return what of the picture is seen in the frame."""
        return Enlarged(window=_window(self.place), frame=self.frame)


def with_insets(
    picture: Picture, places: tuple[Place, ...], sheet: Box, per_mm: MM, letters: float = 1.0
) -> Picture:
    """Return a picture with places enlarged, all at one size, on the part of it that a sheet shows; as it is
    where there is no room. `per_mm`: see `dimension`; `letters` is how many times their usual size they have.
    """
    return with_these(picture, insets(picture, places, sheet, per_mm, letters), per_mm, letters)


def insets(
    picture: Picture, places: tuple[Place, ...], sheet: Box, per_mm: MM, letters: float = 1.0
) -> tuple[Inset, ...]:
    """Return where places are enlarged; nothing where there is no room. Arguments as of `with_insets`."""
    lattice = _Lattice(sheet, per_mm, letters)
    taken = lattice.taken(picture.marks)
    for width in SIZES_MM:
        size = width * per_mm, FLATNESS * width * per_mm
        if any(size[0] / place.wide_mm < LEAST_TIMES for place in places):
            break
        windows = [_window(place) for place in places]
        frames = lattice.frames(lattice.with_areas(taken, windows), places, size)
        if frames is None:
            continue
        full = lattice.with_areas(taken, frames)
        found: list[Inset] = []
        for letter, place, window, frame in zip("ABCDEF", places, windows, frames, strict=False):
            x, y = lattice.beside(full, letter, window).at
            beside = (x - place.at[0], y - place.at[1])
            found.append(Inset(place=place, frame=frame, letter=letter, beside=beside))
        return tuple(found)
    return ()


def with_these(picture: Picture, found: tuple[Inset, ...], per_mm: MM, letters: float = 1.0) -> Picture:
    """Return a picture with what of it lies in the windows of insets, enlarged in their frames."""
    marks: list[Ink] = []
    for inset in found:
        (x, y), (dx, dy), frame = inset.place.at, inset.beside, inset.frame
        marks.append(_letter(inset.letter, (x + dx, y + dy)))
        room = (frame[2] - frame[0] - 3 * per_mm) / (LETTER_MM * per_mm * letters)
        words = f"{inset.letter}  {inset.place.name}"
        marks.extend(_inset(picture, words, _window(inset.place), frame, room, per_mm))
    return replace(picture, marks=(*picture.marks, *marks))


def _letter(letter: str, at: Point) -> Label:
    return Label(text=letter, at=at, size_pt=9.0, pen="outline")


def _window(place: Place) -> Box:
    (x, y), across, up = place.at, place.wide_mm / 2, FLATNESS * place.wide_mm / 2
    return x - across, y - up, x + across, y + up


class _Lattice:
    """A sheet in cells."""

    def __init__(self, sheet: Box, per_mm: MM, letters: float) -> None:
        self.sheet, self.step = sheet, CELL_MM * per_mm
        self._per_mm, self._letter = per_mm, per_mm * letters
        x0, y0, x1, y1 = sheet
        self.columns, self.rows = int((x1 - x0) / self.step), int((y1 - y0) / self.step)

    def taken(self, marks: tuple[Ink, ...]) -> Cells:
        """Return which cells hold any ink, (columns, rows)."""
        taken = np.zeros((max(self.columns, 0), max(self.rows, 0)), dtype=bool)
        starts: list[Point] = []
        ends: list[Point] = []
        found: list[Places] = []
        for mark in marks:
            if isinstance(mark, Label):
                found.append(self._letters(mark))
                continue
            bare = tuple((x, y) for x, y, _ in mark.vertices)
            corners = Outline(mark.vertices).points(self.step) if mark.closed else bare
            starts.extend(corners if mark.closed else corners[:-1])
            ends.extend((*corners[1:], corners[0]) if mark.closed else corners[1:])
            if mark.closed and mark.fill != "none":
                found.append(self._within(np.array(corners)))
        found.append(self._along(np.array(starts).reshape(-1, 2), np.array(ends).reshape(-1, 2)))
        cells = np.floor((np.concatenate(found) - self.sheet[:2]) / self.step).astype(np.intp)
        inside = ((cells >= 0) & (cells < taken.shape)).all(axis=1)
        taken[tuple(cells[inside].T)] = True
        return taken

    def _along(self, a: Places, b: Places) -> Places:
        """Return places on lines, none farther from the next than a cell."""
        counts = np.minimum(np.hypot(*(b - a).T) / (0.7 * self.step), _MOST).astype(np.intp) + 2
        line = np.repeat(np.arange(len(a)), counts)
        step = np.arange(len(line)) - np.repeat(np.cumsum(counts) - counts, counts)
        share = (step / (counts - 1)[line])[:, None]
        return a[line] * (1 - share) + b[line] * share

    def _within(self, corners: Places) -> Places:
        """Return the middles of the cells within a convex hull's box that lie in a polygon."""
        low, high = corners.min(axis=0), corners.max(axis=0)
        low, high = np.maximum(low, self.sheet[:2]), np.minimum(high, self.sheet[2:])
        if (high - low < self.step).any():
            return np.empty((0, 2))
        x, y = np.meshgrid(*(np.arange(a, b, self.step) for a, b in zip(low, high, strict=True)))
        inside = np.zeros(x.shape, dtype=bool)
        for (ax, ay), (bx, by) in zip(corners, np.roll(corners, -1, axis=0), strict=True):
            if ay != by:
                inside ^= ((ay > y) != (by > y)) & (x < ax + (y - ay) * (bx - ax) / (by - ay))
        return np.stack((x[inside], y[inside]), axis=1)

    def _letters(self, label: Label) -> Places:
        """Return places on the letters of a label."""
        size = label.size_pt / 8.0 * self._letter
        wide, tall = LETTER_MM * len(label.text) * size, 3.2 * size
        start = {"left": 0.0, "centre": -wide / 2, "right": -wide}[label.anchor]
        up = np.array((0.0, tall / 2, tall))
        along = np.linspace(start, start + wide, int(wide / (0.7 * self.step)) + 2)
        u, v = (one.ravel() for one in np.meshgrid(along, up - (tall / 2 if label.boxed else 0.0)))
        angle = np.radians(label.angle_deg)
        turned = np.stack(
            (u * np.cos(angle) - v * np.sin(angle), u * np.sin(angle) + v * np.cos(angle)), axis=1
        )
        return turned + np.array(label.at)

    def with_areas(self, taken: Cells, boxes: Sequence[Box]) -> Cells:
        """Return the cells with those of areas taken too."""
        found = taken.copy()
        for box in boxes:
            low = [max(int((box[axis] - self.sheet[axis]) / self.step), 0) for axis in (0, 1)]
            high = [max(int((box[axis + 2] - self.sheet[axis]) / self.step) + 1, 0) for axis in (0, 1)]
            found[low[0] : high[0], low[1] : high[1]] = True
        return found

    def beside(self, taken: Cells, letter: str, window: Box) -> Label:
        """Return a letter at a corner of a window, where there is room for it."""
        x0, y0, x1, y1 = window
        out, tall, wide = 0.8 * self._per_mm, 3.2 * self._letter, 2.4 * self._letter
        corners = ((x1 + out, y1 + out), (x0 - out - wide, y1 + out), (x1 + out, y0 - out - tall))
        marks = [_letter(letter, at) for at in (*corners, (x0 - out - wide, y0 - out - tall))]
        return next((mark for mark in marks if not (self.taken((mark,)) & taken).any()), marks[0])

    def frames(self, taken: Cells, places: tuple[Place, ...], size: tuple[MM, MM]) -> list[Box] | None:
        """Return a frame for each place, each as near to it as there is room; None where one has none."""
        wide, tall = (int(np.ceil(side / self.step)) + 2 * CLEAR for side in size)
        if wide > taken.shape[0] or tall > taken.shape[1]:
            return None
        taken, found = taken.copy(), list[Box]()
        for place in places:
            sums = np.zeros((taken.shape[0] + 1, taken.shape[1] + 1), dtype=np.intp)
            sums[1:, 1:] = taken.cumsum(axis=0).cumsum(axis=1)
            held = sums[wide:, tall:] - sums[:-wide, tall:] - sums[wide:, :-tall] + sums[:-wide, :-tall]
            free = np.argwhere(held == 0)
            if not len(free):
                return None
            middles = (free + np.array((wide, tall)) / 2) * self.step + self.sheet[:2]
            column, row = free[int(np.argmin(np.hypot(*(middles - np.array(place.at)).T)))].tolist()
            taken[column + CLEAR : column + wide - CLEAR, row + CLEAR : row + tall - CLEAR] = True
            left = self.sheet[0] + (column + CLEAR) * self.step
            low = self.sheet[1] + (row + CLEAR) * self.step
            found.append((left, low, left + size[0], low + size[1]))
        return found


def _inset(picture: Picture, words: str, window: Box, frame: Box, room: float, per_mm: MM) -> Iterator[Ink]:
    """Yield the frame about a place, and the place enlarged in its own; `room` is for so many letters."""
    detail = Enlarged(window=window, frame=frame)
    yield area(rectangle(*window), "centre", "none")
    yield area(rectangle(*frame), "thin", "paper")
    yield from detail.marks(filter(_shows, picture.marks), 0.05 * per_mm)
    yield area(rectangle(*frame), "thin", "none")
    told = (
        say("{place}, {times} times as large", place=words, times=fixed(detail.times, 1)),
        f"{words}, × {fixed(detail.times, 1)}",
        words,
    )
    text = next((one for one in told if len(one) <= room), words)
    yield Label(text=text, at=(frame[0] + 1.5 * per_mm, frame[1] + 2.6 * per_mm), size_pt=8.0, boxed=True)


def _shows(mark: Ink) -> bool:
    """Return whether a mark is worth enlarging: the thing, without dimensions, earth and letters."""
    if not isinstance(mark, Path) or mark.pen == "dimension":
        return False
    return mark.closed or bool(mark.owner) or mark.pen != "thin"
