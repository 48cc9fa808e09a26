"""Clearance, pitch and force of a user along its way, as strips for a scrubber: shares of the way from the
deck to the ground, whichever way it goes. Upright lines stand where the front axle is over deck edge, joint
and toe.
"""

import math

import numpy as np

from rampdraft.drawing.charts import ROOM_OVER, Curve, Strip
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.rolling.results import Roll, Worst
from rampdraft.units import G_M_S2, KG, MM, Array

_LEAST_DEG = 1.0
"""No strip of pitch shows less to either side."""


def share_of(roll: Roll, front_mm: MM) -> float:
    """Return the share of the way at which the front axle is at a place."""
    first, last = float(roll.front_mm[0]), float(roll.front_mm[-1])
    return min(max((front_mm - first) / (last - first), 0.0), 1.0)


def front_of(roll: Roll, share: float) -> MM:
    """Return where the front axle is at a share of the way."""
    first, last = float(roll.front_mm[0]), float(roll.front_mm[-1])
    return first + share * (last - first)


def clearance_along(roll: Roll, site: SitePose) -> Strip:
    """Return the least clearance, in mm, with its least value marked."""
    curve = _curve(roll, roll.clearance_mm, (roll.clearance,))
    return Strip(
        low=min(0.0, roll.clearance.value),
        top=max(ROOM_OVER * float(roll.clearance_mm.max()), 1.0),
        runs=(curve,),
        limits=(),
        ends=_places(roll, site),
        marked=(share_of(roll, roll.clearance.front_mm), roll.clearance.value),
    )


def pitch_along(roll: Roll, site: SitePose) -> Strip:
    """Return the pitch in degrees, positive leaning back; marked is where least is left before it tips back
    and forward, or where it leans most, if hands hold it.
    """
    pitch = np.degrees(roll.pitch_rad)
    curve = _curve(roll, pitch, ())
    shares, values = zip(*curve, strict=True)
    tips = [share_of(roll, one.front_mm) for one in (roll.tip_back, roll.tip_forward) if one is not None]
    tips = tips or [shares[int(np.abs(pitch).argmax())]]
    marks = [(share, float(np.interp(share, shares, values))) for share in tips]
    return Strip(
        low=ROOM_OVER * min(float(pitch.min()), -_LEAST_DEG),
        top=ROOM_OVER * max(float(pitch.max()), _LEAST_DEG),
        runs=(curve,),
        limits=(),
        ends=_places(roll, site),
        marked=marks[0],
        besides=tuple(marks[1:]),
    )


def force_along(roll: Roll, site: SitePose, way: int, mass_kg: KG) -> Strip:
    """Return the level force that keeps it moving one of its ways, in N, no further up or down than its
    weight; marked is the greatest, and the greatest that holds it back.
    """
    values = roll.backwards_n if way else roll.forwards_n
    worst, weight = roll.ways[way], mass_kg * G_M_S2
    least = min(0.0, float(values.min()), -worst.brake.value)
    marked = share_of(roll, worst.push.front_mm), worst.push.value
    held = ((share_of(roll, worst.brake.front_mm), -worst.brake.value),) if worst.brake.value > 0 else ()
    curve = dict(_curve(roll, values, ())) | {marked[0]: marked[1]} | dict(held)
    return Strip(
        low=ROOM_OVER * max(least, -weight),
        top=ROOM_OVER * min(max(float(values.max()), worst.push.value, 1.0), weight),
        runs=(tuple(sorted(curve.items())),),
        limits=(),
        ends=_places(roll, site),
        marked=marked,
        besides=held,
    )


def _curve(roll: Roll, values: Array, worst: tuple[Worst, ...]) -> Curve:
    """Return values along the way, with what is worst put in between."""
    first, last = float(roll.front_mm[0]), float(roll.front_mm[-1])
    shares = (roll.front_mm - first) / (last - first)
    points = dict(zip(shares.tolist(), values.tolist(), strict=True))
    points.update((share_of(roll, one.front_mm), one.value) for one in worst)
    return tuple(sorted((share, value) for share, value in points.items() if math.isfinite(value)))


def _places(roll: Roll, site: SitePose) -> tuple[float, ...]:
    """Return where the front axle is over deck edge, joint and toe."""
    return tuple(share_of(roll, x) for x in (0.0, site.joint[0], site.contact[0]))
