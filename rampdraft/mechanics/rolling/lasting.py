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

    The mean is work over going: what lifts the user from one end of the stretch to the other, whatever kinks
    are met between, and the rolling resistance, which is the mean of the forces of both ways.
    """
    resists = (roll.forwards_n + roll.backwards_n) / 2
    lost = np.concatenate(([0.0], np.cumsum((resists[1:] + resists[:-1]) / 2 * np.diff(roll.middle_mm))))
    outward = way.way in ("down forwards", "down backwards")
    work = lost + (1.0 if outward else -1.0) * roll.weight_n * roll.climbed_mm
    count = min(max(round(STRETCH_MM / roll.step_mm), 1), len(work) - 1)
    means: Array = np.abs(work[count:] - work[:-count]) / (roll.middle_mm[count:] - roll.middle_mm[:-count])
    (at,) = greatest_at(means)
    middle: MM = float(roll.front_mm[at : at + count + 1].mean())
    return replace(
        way.push, value=float(means[at]), x_mm=middle, front_mm=middle, met="", place="", across_mm=0.0
    )
