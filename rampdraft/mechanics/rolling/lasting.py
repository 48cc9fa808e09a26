"""What a push has to keep up: the mean force over a stretch of way. A kink lasts a moment, and momentum helps
over it; a slope lasts.
"""

from typing import Final

import numpy as np

from rampdraft.mechanics.rolling.results import Roll, Way
from rampdraft.units import MM, Array, N

STRETCH_MM: Final = 500.0
"""What is kept up for less than so much of the way is a moment; common practice."""


def lasting_n(roll: Roll, way: Way) -> tuple[N, MM]:
    """Return the greatest mean force, pushing or holding back, over any stretch of one way, and the front
    axle's x in the middle of it.
    """
    force = roll.forwards_n if way.endswith("forwards") else roll.backwards_n
    count = min(max(round(STRETCH_MM / roll.step_mm), 1), len(force) - 1)
    between = (force[1:] + force[:-1]) / 2
    sums: Array = np.concatenate(([0.0], np.cumsum(between)))
    means = (sums[count:] - sums[:-count]) / count
    at = int(np.argmax(np.round(np.abs(means), 6)))
    middle = roll.front_mm[at : at + count + 1]
    return float(means[at]), float(middle.mean())
