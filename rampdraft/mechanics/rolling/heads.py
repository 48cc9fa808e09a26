"""Heads under what hangs above the way in: a raised tailgate, a lintel, a roof over the deck.

It begins above the deck edge and goes on over the deck. A head is above the mass centre of the user, as broad
along as a head is; whoever pushes walks upright on the deck.
"""

from typing import Final

import numpy as np

from rampdraft.mechanics.rolling.about import Rolling
from rampdraft.mechanics.rolling.resting import Resting
from rampdraft.mechanics.rolling.results import Worst
from rampdraft.rounding import greatest_at
from rampdraft.units import MM, RAD

HEAD_HALF_MM: Final = 150.0
"""How far a head with its hair reaches before and behind the mass centre's place; common practice."""
ATTENDANT_MM: Final = 1900.0
"""Height of whoever pushes, with shoes: taller than 19 of 20 men; common practice."""


def head_room(  # many: who rolls, under what
    rolling: Rolling, resting: Resting, deck_mm: MM, nod_rad: RAD, room_mm: MM
) -> Worst | None:
    """Return the least room above heads on the way; None where nothing hangs there, or nobody comes under
    it. What hangs at `room_mm` above the deck, 0 for nothing, nods with it.
    """
    shape, sign = rolling.shape, rolling.sign
    if not room_mm:
        return None
    found: list[Worst] = []
    if shape.head_height_mm:
        x, z = resting.point(rolling.body, shape.centre_behind_mm, shape.head_height_mm)
        hangs = deck_mm + room_mm - sign * x * np.tan(nod_rad)
        above = np.where(sign * x <= HEAD_HALF_MM, hangs - z, np.inf)
        (at,) = greatest_at(-above)
        if np.isfinite(above[at]):
            found.append(_worst(rolling, resting, at, float(above[at]), float(x[at]) * sign, "head"))
    if shape.attendant_kg:
        x = resting.front_mm * sign + sign * (shape.wheelbase_mm + shape.attendant_behind_mm)
        at = int(np.abs(x).argmin())
        room = room_mm - ATTENDANT_MM
        found.append(_worst(rolling, resting, at, room, 0.0, "attendant's head"))
    return min(found, key=lambda one: one.value, default=None)


def _worst(  # many: what a figure is, and where
    rolling: Rolling, resting: Resting, at: int, value: float, x_mm: MM, part: str
) -> Worst:
    return Worst(
        value=value,
        x_mm=x_mm,
        front_mm=float(resting.front_mm[at]) * rolling.sign,
        part=part,
        met="deck",
        place=rolling.place.of(x_mm),
        across_mm=rolling.across_mm,
    )
