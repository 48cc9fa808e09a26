"""Details of a picture enlarged where its sheet is empty (ISO 128-3: a letter at the place and at the detail,
with how many times as large it is), never over what the picture shows.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from rampdraft.drawing.clip import Box, Enlarged
from rampdraft.drawing.ink import Ink, Label, Path, Picture, area
from rampdraft.drawing.lattice import LETTER_MM, Cells, Lattice
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.units import MM
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

CLEAR: Final = 2
"""So many cells are left free about a detail."""
SIZES_MM: Final = tuple(range(78, 26, -4))
"""Widths of a detail on paper, tried from the largest."""
FLATNESS: Final = 0.72
"""Height of a detail to its width."""
LEAST_TIMES: Final = 1.7
"""Nothing is enlarged by less."""


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


def with_insets(picture: Picture, places: tuple[Place, ...], sheet: Box, per_mm: MM) -> Picture:
    """Return a picture with places enlarged, all at one size, on the part of it that a sheet shows; as it is
    where there is no room. `per_mm`: see `dimension`.
    """
    return with_these(picture, insets(picture, places, sheet, per_mm), per_mm)


def insets(picture: Picture, places: tuple[Place, ...], sheet: Box, per_mm: MM) -> tuple[Inset, ...]:
    """Return where places are enlarged; nothing where there is no room. Arguments as of `with_insets`."""
    lattice = _Sheet(sheet, per_mm)
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


def with_these(picture: Picture, found: tuple[Inset, ...], per_mm: MM) -> Picture:
    """Return a picture with what of it lies in the windows of insets, enlarged in their frames."""
    marks: list[Ink] = []
    for inset in found:
        (x, y), (dx, dy), frame = inset.place.at, inset.beside, inset.frame
        marks.append(_letter(inset.letter, (x + dx, y + dy)))
        room = (frame[2] - frame[0] - 3 * per_mm) / (LETTER_MM * per_mm)
        words = f"{inset.letter}  {inset.place.name}"
        marks.extend(_inset(picture, words, _window(inset.place), frame, room, per_mm))
    return replace(picture, marks=(*picture.marks, *marks))


def _letter(letter: str, at: Point) -> Label:
    return Label(text=letter, at=at, size_pt=9.0, pen="outline")


def _window(place: Place) -> Box:
    (x, y), across, up = place.at, place.wide_mm / 2, FLATNESS * place.wide_mm / 2
    return x - across, y - up, x + across, y + up


class _Sheet(Lattice):
    """The cells of a sheet that details are enlarged on."""

    def beside(self, taken: Cells, letter: str, window: Box) -> Label:
        """Return a letter at a corner of a window, where there is room for it."""
        x0, y0, x1, y1 = window
        out, tall, wide = (size * self.per_mm for size in (0.8, 3.2, 2.4))
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
            free = np.argwhere(self.held(taken, wide, tall) == 0)
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
