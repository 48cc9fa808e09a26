"""A drawing in cells: where ink is, and where there is room for more."""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.drawing.clip import Box
from rampdraft.drawing.ink import Ink, Label
from rampdraft.geometry.outline import Outline, Point
from rampdraft.units import MM

CELL_MM: Final = 2.0
"""On paper, of a cell, where nothing else is said."""
LETTER_MM: Final = 1.8
"""About how wide a letter is."""
Cells = NDArray[np.bool_]
Places = NDArray[np.float64]
"""(n, 2)."""
_MOST: Final = 4000.0
"""So many places on one line are enough for any sheet."""


class Lattice:
    """A sheet in cells."""

    def __init__(self, sheet: Box, per_mm: MM, cell_mm: MM = CELL_MM) -> None:
        self.sheet, self.per_mm, self.step = sheet, per_mm, cell_mm * per_mm
        x0, y0, x1, y1 = sheet
        self.columns, self.rows = int((x1 - x0) / self.step), int((y1 - y0) / self.step)

    def taken(self, marks: tuple[Ink, ...]) -> Cells:
        """Return which cells hold any ink, (columns, rows)."""
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
        return self._in_cells(np.concatenate(found))

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
        size = label.size_pt / 8.0 * self.per_mm
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

    def with_lines(self, taken: Cells, lines: Sequence[tuple[Point, Point]]) -> Cells:
        """Return the cells with those that straight lines go through taken too."""
        if not lines:
            return taken
        ends = np.array(lines)
        return taken | self._in_cells(self._along(ends[:, 0], ends[:, 1]))

    def open(self, taken: Cells, size: tuple[MM, MM]) -> Cells:
        """Return at which of every second cell a place of a size may begin, none of its cells taken."""
        wide, tall = (int(np.ceil(side / self.step)) for side in size)
        if wide > taken.shape[0] or tall > taken.shape[1]:
            return np.zeros((0, 0), dtype=bool)
        return self.held(taken, wide, tall)[::2, ::2] == 0

    def free(self, taken: Cells, size: tuple[MM, MM]) -> tuple[NDArray[np.intp], Places]:
        """Return where places of a size are `open`, (n, 2), and their lower left corners, (n, 2)."""
        cells = np.argwhere(self.open(taken, size))
        return cells, (2 * cells * self.step + np.array(self.sheet[:2])).astype(np.float64)

    @staticmethod
    def held(taken: Cells, wide: int, tall: int) -> NDArray[np.intp]:
        """Return how many cells are taken of each rectangle of so many, by its lower left one."""
        sums = np.zeros((taken.shape[0] + 1, taken.shape[1] + 1), dtype=np.intp)
        sums[1:, 1:] = taken.cumsum(axis=0).cumsum(axis=1)
        return sums[wide:, tall:] - sums[:-wide, tall:] - sums[wide:, :-tall] + sums[:-wide, :-tall]

    def _in_cells(self, places: Places) -> Cells:
        taken = np.zeros((max(self.columns, 0), max(self.rows, 0)), dtype=bool)
        cells = np.floor((places - self.sheet[:2]) / self.step).astype(np.intp)
        inside = ((cells >= 0) & (cells < taken.shape)).all(axis=1)
        taken[tuple(cells[inside].T)] = True
        return taken
