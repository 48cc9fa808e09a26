"""The ramp as a plain beam: influence lines of its moments and of what its deck hinge carries.

Frame: x along the ramp from the deck hinge to the toe, loads square to it and positive downward; moments
are positive where they sag. The ramp is one span where a stop holds the joint, and two simple spans where
a prop stands under the joint: the moment there would be hogging, and the stop opens. Influence lines of a
simple span are straight between section and supports (Mueller-Breslau).
"""

from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.units import MM, Array

_HAIR_MM: Final = 1e-7
"""By how little a load on a support may seem to miss it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Spans:
    """Where the beam is supported: at 0, at its length, and under the joint if a prop stands there."""

    length_mm: MM
    joint_mm: MM
    propped: bool

    @property
    def ends_mm(self) -> tuple[tuple[MM, MM], ...]:
        """Return start and end of each simple span."""
        if self.propped:
            return (0.0, self.joint_mm), (self.joint_mm, self.length_mm)
        return ((0.0, self.length_mm),)

    def over(self, x: MM) -> tuple[MM, MM]:
        """Return start and end of the span that a section lies in; the joint belongs to the first."""
        return next((start, end) for start, end in self.ends_mm if x <= end + _HAIR_MM)


def moment_line(spans: Spans, x: MM, at: Array) -> Array:
    """Return the moment at x of a load of 1 N at each place, mm. A load beyond the span gives nothing."""
    start, end = spans.over(x)
    line = np.where(at <= x, (at - start) * (end - x), (x - start) * (end - at)) / (end - start)
    return np.where(_on(start, end, at), line, 0.0)


def hinge_line(spans: Spans, at: Array) -> Array:
    """Return what the deck hinge carries of a load of 1 N at `at`; a load on the deck is none of the
    hinge's.
    """
    end = spans.ends_mm[0][1]
    return np.where(_on(0.0, end, at), (end - at) / end, 0.0)


def _on(start: MM, end: MM, at: Array) -> NDArray[np.bool_]:
    """Return whether a load is on the span; rounding may not take one off its support, which carries all of
    it.
    """
    return (at >= start - _HAIR_MM) & (at <= end + _HAIR_MM)
