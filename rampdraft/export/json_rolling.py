"""How users roll over it, as plain data for other programs: documented in README.md, and stable like
`json_report.py`.
"""

import math
from collections.abc import Iterator
from typing import Any, Final

import numpy as np

from rampdraft.checks.notes import CAUTIONS
from rampdraft.evaluation.evaluate import Evaluation
from rampdraft.mechanics.rolling.results import CannotRoll, Roll, RolledWheel, WayWorst, Worst
from rampdraft.mechanics.rolling.summary import PLACES, gone, worst_bump
from rampdraft.units import MM, Array

FORMAT: Final = "rampdraft roll"
VERSION: Final = 1
EVERY_MM: Final = 10.0
_DIGITS: Final = 4
"""Decimals of lengths: a wheel's way is told to 0.01 mm."""

Json = Any


def rolling_report(evaluation: Evaluation) -> dict[str, Json]:
    """Return how every user rolls, ready for json.dumps(..., allow_nan=False)."""
    design, rolls = evaluation.design, evaluation.rolling
    return {
        "format": FORMAT,
        "version": VERSION,
        "design": {"name": design.about.name, "drawing_number": design.about.drawing_number},
        "every_mm": EVERY_MM,
        "places": {
            place: None if found is None else {**_gone(evaluation, found[0].roll, found[0].worst),
                                               **_figure(found[1], 1.0)}
            for place in PLACES
            for found in (worst_bump(rolls, place),)
        },
        "rolling": [_one(evaluation, one.roll, one.worst) for one in gone(rolls)],
        "cannot_roll": [_cannot(evaluation, one) for one in rolls if isinstance(one, CannotRoll)],
        "not_reached": [
            {"site": pose.site, "site_number": pose.site_number, "deck": pose.state}
            for pose in evaluation.sites
            if not pose.reaches
        ],
        "cautions": list(CAUTIONS),
    }  # fmt: skip


def _gone(evaluation: Evaluation, roll: Roll, way: WayWorst) -> dict[str, Json]:
    design = evaluation.design
    return {
        "user": design.use.users[roll.user - 1].name,
        "user_number": roll.user,
        "site": design.sites[roll.site_number - 1].name,
        "site_number": roll.site_number,
        "deck": roll.state,
        "way": way.way,
    }


def _one(evaluation: Evaluation, roll: Roll, way: WayWorst) -> dict[str, Json]:
    at = slice(None, None, round(EVERY_MM / roll.step_mm))
    force = roll.forwards_n if way is roll.ways[0] else roll.backwards_n
    return {
        **_gone(evaluation, roll, way),
        "across_mm": roll.across_mm,
        "side_margin_mm": roll.side_margin_mm,
        "remarks": list(roll.remarks),
        "worst": {
            "clearance_mm": _worst(roll.clearance, 1.0),
            "tip_back_deg": _worst(roll.tip_back, math.degrees(1.0)),
            "tip_forward_deg": _worst(roll.tip_forward, math.degrees(1.0)),
            "hanging_mm": _worst(roll.hanging, 1.0),
            "drop_mm": _worst(roll.drop, 1.0),
            "head_mm": _worst(roll.head, 1.0),
            "push_n": _worst(way.push, 1.0),
            "brake_n": _worst(way.brake, 1.0),
            "bump": _worst(way.bump, 1.0),
            "speed_left": _worst(way.slowed, 1.0),
            "grip_share": _worst(way.grip, 1.0),
            "run_up_m_s": _worst(way.run_up, 1.0),
            "slide_m_s": _worst(way.slide, 1.0),
        },
        "front_mm": _numbers(roll.front_mm[at]),
        "pitch_deg": _numbers(np.degrees(roll.pitch_rad[at])),
        "lean": _numbers(roll.lean[at]),
        "deck_drop_mm": _numbers(roll.drop_mm[at]),
        "deck_nod_deg": _numbers(np.degrees(roll.nod_rad[at])),
        "clearance_mm": _numbers(roll.clearance_mm[at]),
        "force_n": _numbers(force[at]),
        "wheels": list(_wheels(roll)),
    }


def _worst(found: Worst | None, unit: float) -> dict[str, Json] | None:
    return None if found is None else _figure(found, unit)


def _figure(found: Worst, unit: float) -> dict[str, Json]:
    """Return a worst figure; its value is null where it has none: a face that no force climbs."""
    value = found.value * unit
    return {
        "value": round(value, 6) if math.isfinite(value) else None,
        "x_mm": round(found.x_mm, _DIGITS),
        "front_mm": round(found.front_mm, _DIGITS),
        "part": found.part,
        "met": found.met,
        "place": found.place,
        "across_mm": round(found.across_mm, _DIGITS),
    }


def _wheels(roll: Roll) -> Iterator[dict[str, Json]]:
    """Yield each wheel, in each stretch of the way."""
    for stretch in roll.stretches:
        for wheel in stretch.wheels:
            centre = _centre(wheel, stretch.from_mm, stretch.to_mm)
            yield {
                "name": "feet" if wheel.held else f"{wheel.axle} wheel",
                "across_mm": wheel.across_mm,
                "radius_mm": wheel.radius_mm,
                "from_mm": round(stretch.from_mm, _DIGITS),
                "to_mm": round(stretch.to_mm, _DIGITS),
                "deck_drop_mm": round(stretch.pose.drop_mm, _DIGITS),
                "deck_nod_deg": round(math.degrees(stretch.pose.nod_rad), _DIGITS),
                "centre_mm": [_numbers(point) for point in centre],
                "surface_mm": [_numbers(point) for point in wheel.surface.points_mm],
            }


def _centre(wheel: RolledWheel, start_mm: MM, end_mm: MM) -> Array:
    """Return the way of a wheel's centre at every 10 mm between where front axles begin and end."""
    first, last = math.ceil(start_mm / EVERY_MM), math.floor(end_mm / EVERY_MM)
    x = EVERY_MM * np.arange(first, last + 1.0)
    return np.stack((x, wheel.path.height_mm(x)), axis=1)


def _numbers(values: Array) -> list[float | None]:
    found: list[float] = np.round(values, _DIGITS).tolist()
    return [value if math.isfinite(value) else None for value in found]


def _cannot(evaluation: Evaluation, one: CannotRoll) -> dict[str, Json]:
    return {
        "user": evaluation.design.use.users[one.user - 1].name,
        "user_number": one.user,
        "why": one.why,
        "width_mm": one.width_mm,
        "room_mm": one.room_mm,
    }
