"""How far what hangs low is above what it passes over: level parts of a body, against the highest outline
below them.

Clearance is measured upright. Along a level part it is least where a corner of the outline that points up is
below it, or at one of its ends.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.rolling.resting import Body, Resting
from rampdraft.mechanics.rolling.surfaces import Surface
from rampdraft.model.rolling_shape import Low
from rampdraft.units import Array


@dataclass(frozen=True, slots=True, kw_only=True)
class Below:
    """A low part with what lies below it."""

    low: Low
    surface: Surface
    peaks: NDArray[np.intp]
    """Numbers of the outline's points that point up, in order."""

    @property
    def peaks_mm(self) -> Array:
        """Return the places of the peaks, (k, 2)."""
        return self.surface.points_mm[self.peaks]


@dataclass(frozen=True, slots=True, kw_only=True)
class Clear:
    """Clearance of one low part at N places."""

    clearance_mm: Array
    """Negative where it is aground."""
    at_mm: Array
    """x of where it is least."""
    point: NDArray[np.intp]
    """Number of the outline's point there, or of the one that the part of it begins at."""


def below(low: Low, surface: Surface) -> Below:
    """Return a low part with the outline below it."""
    step = np.diff(surface.points_mm, axis=0)
    turn = step[:-1, 0] * step[1:, 1] - step[:-1, 1] * step[1:, 0]
    return Below(low=low, surface=surface, peaks=1 + np.flatnonzero(turn < 0))


def clear_of(under: Below, body: Body, resting: Resting) -> Clear:
    """Return the clearance of a low part at each place."""
    low, surface = under.low, under.surface
    x0, z0 = resting.point(body, low.from_mm, low.height_mm)
    x1, z1 = resting.point(body, low.to_mm, low.height_mm)
    sunk = np.abs(resting.lean) * low.half_width_mm
    best, at, point = _at_end(surface, x0, z0)
    if low.to_mm > low.from_mm:
        end, x, number = _at_end(surface, x1, z1)
        nearer = end < best
        best, at, point = (
            np.where(nearer, end, best),
            np.where(nearer, x, at),
            np.where(nearer, number, point),
        )
        peak_x, peak_z = under.peaks_mm.T
        first, last = np.searchsorted(peak_x, x0), np.searchsorted(peak_x, x1, side="right")
        most = int((last - first).max(initial=0))
        if most:
            rows = first[:, None] + np.arange(most)
            within = rows < last[:, None]
            rows = np.minimum(rows, len(peak_x) - 1)
            grade = (z1 - z0) / (x1 - x0)
            gap = z0[:, None] + grade[:, None] * (peak_x[rows] - x0[:, None]) - peak_z[rows]
            gap[~within] = np.inf
            which = gap.argmin(axis=1)
            row = rows[np.arange(len(rows)), which]
            least = gap[np.arange(len(rows)), which]
            nearer = least < best
            best = np.where(nearer, least, best)
            at, point = np.where(nearer, peak_x[row], at), np.where(nearer, under.peaks[row], point)
    return Clear(clearance_mm=best - sunk, at_mm=at, point=point)


def _at_end(surface: Surface, x: Array, z: Array) -> tuple[Array, Array, NDArray[np.intp]]:
    """Return how high an end is above the outline, where, and over which part of it."""
    points = surface.points_mm
    number = np.searchsorted(points[:, 0], x, side="right").clip(1, len(points) - 1) - 1
    (x0, z0), (x1, z1) = points[number].T, points[number + 1].T
    level = z0 + (z1 - z0) * (x - x0) / np.where(x1 > x0, x1 - x0, 1.0)
    return z - level, x, number
