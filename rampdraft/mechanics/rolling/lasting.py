"""What a push has to keep up: the mean force over a stretch of way. A kink lasts a moment, and momentum helps
over it; a slope lasts.
"""

from dataclasses import replace
from typing import Final

import numpy as np

from rampdraft.mechanics.rolling.results import Roll, WayWorst, Worst
from rampdraft.rounding import greatest_at
from rampdraft.units import MM, Array

STRETCH_MM: Final = 500.0
"""What is kept up for less than so much of the way is a moment; common practice."""


def lasting(roll: Roll, way: WayWorst) -> Worst:
    """Return the greatest mean force, pushing or holding back, N, over any stretch of one way, where the
    middle of that is; what is met there is not told.
    """
    force = roll.forwards_n if way.way.endswith("forwards") else roll.backwards_n
    count = min(max(round(STRETCH_MM / roll.step_mm), 1), len(force) - 1)
    sums: Array = np.concatenate(([0.0], np.cumsum((force[1:] + force[:-1]) / 2)))
    means = np.abs(sums[count:] - sums[:-count]) / count
    (at,) = greatest_at(means)
    middle: MM = float(roll.front_mm[at : at + count + 1].mean())
    return replace(
        way.push, value=float(means[at]), x_mm=middle, front_mm=middle, met="", place="", across_mm=0.0
    )
