"""Strips along the fold as ink: the clearance and the hand's force as a window shows them below a scrubber,
without axes and words.
"""

import math
from dataclasses import dataclass

import numpy as np

from rampdraft.drawing.charts import (
    Curve,
    clearance_curve,
    clearance_range,
    force_limits,
    force_range,
    force_runs,
)
from rampdraft.drawing.ink import Ink, area, line, polyline, ring
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.geometry.outline import Point, rectangle
from rampdraft.units import MM

ROOM_OVER: float = 1.1
"""The force strip ends a little above the peak and its limits."""
SPOT_MM = 0.8
LEAST_MM = 0.5
"""A clash shows at least so wide."""
OVERRUN_MM = 0.8
"""How far the cursor runs past the frame."""

Frame = tuple[MM, MM, MM, MM]
"""(x0, y0, x1, y1) of the strip in its picture."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """What a strip shows, over shares of the way from 0 to 1."""

    low: float
    top: float
    runs: tuple[Curve, ...]
    """Unbroken pieces of the curve."""
    limits: tuple[tuple[float, str], ...]
    """Limits, with their words where they have any."""
    ends: tuple[float, ...]
    """Shares where stages end."""
    marked: tuple[float, float]
    """Share and value of the place that counts most: the tightest one, or the peak."""
    clashes: tuple[tuple[float, float], ...] = ()

    def value(self, share: float) -> float:
        """Return the value at a share; where two runs meet, that of the later one. NaN where there is
        none.
        """
        for run in reversed(self.runs):
            if run[0][0] <= share <= run[-1][0]:
                return float(np.interp(share, [at for at, _ in run], [value for _, value in run]))
        return math.nan

    def at(self, share: float, value: float, frame: Frame) -> Point:
        """Return the place of a value in a frame; what lies beyond the strip stands at its edge."""
        x0, y0, x1, y1 = frame
        part = (min(max(value, self.low), self.top) - self.low) / (self.top - self.low)
        return x0 + share * (x1 - x0), y0 + part * (y1 - y0)


def clearance_strip(evaluation: Evaluation) -> Strip:
    """Return the clearance over the fold."""
    fold, demanded = evaluation.fold, evaluation.design.fold.clearance_mm
    curve, tightest = clearance_curve(fold.clearance), fold.clearance.tightest
    low, top = clearance_range(curve, demanded)
    return Strip(
        low=low,
        top=top,
        runs=(curve,),
        limits=((demanded, ""),),
        ends=_ends(evaluation),
        marked=(tightest.at, tightest.clearance_mm),
        clashes=fold.clearance.spans_clashing,
    )


def force_strip(evaluation: Evaluation) -> Strip:
    """Return the hand force over the fold."""
    hand = evaluation.hand
    runs, limits = force_runs(hand), force_limits(evaluation)
    least, most = force_range(runs, limits)
    return Strip(
        low=ROOM_OVER * least,
        top=ROOM_OVER * most,
        runs=runs,
        limits=limits,
        ends=_ends(evaluation),
        marked=(hand.peak.at, hand.peak.peak_n),
    )


def _ends(evaluation: Evaluation) -> tuple[float, ...]:
    return tuple(stage.end for stage in evaluation.path.stages[:-1])


def strip_ground(strip: Strip, frame: Frame) -> tuple[Ink, ...]:
    """Return curve, limits, ends of stages and the place that counts most, in a frame of a picture."""
    _, y0, _, y1 = frame
    marks: list[Ink] = []
    for start, end in strip.clashes:
        left, right = (strip.at(share, 0.0, frame)[0] for share in (start, end))
        marks.append(area(rectangle(left, y0, max(right, left + LEAST_MM), y1), "swept", "clash"))
    for end in strip.ends:
        x, _ = strip.at(end, 0.0, frame)
        marks.append(line((x, y0), (x, y1), "ghost"))
    marks.append(line(strip.at(0.0, 0.0, frame), strip.at(1.0, 0.0, frame), "thin"))
    marks.extend(
        line(strip.at(0.0, limit, frame), strip.at(1.0, limit, frame), "hidden") for limit, _ in strip.limits
    )
    marks.extend(
        polyline((strip.at(share, value, frame) for share, value in run), "outline") for run in strip.runs
    )
    share, value = strip.marked
    if not math.isnan(value):
        marks.append(ring(strip.at(share, value, frame), SPOT_MM))
    return tuple(marks)


def strip_cursor(strip: Strip, share: float, frame: Frame) -> tuple[Ink, ...]:
    """Return the cursor at a share, with the value there where there is one."""
    _, y0, _, y1 = frame
    now, (x, _) = strip.value(share), strip.at(share, 0.0, frame)
    upright = line((x, y0 - OVERRUN_MM), (x, y1 + OVERRUN_MM), "accent")
    if math.isnan(now):
        return (upright,)
    return upright, ring(strip.at(share, now, frame), SPOT_MM, pen="accent")
