"""What driven and braked wheels give before they slip, beside what the way asks of them.

Equilibrium of the rigid user in the side plane, at each place. Wheels that neither drive nor brake push
square to their way, through their centre; what is driven pushes with N square to its way and T along it, at
its contact. Moments about the centre of the free wheels leave them out:

    N (P x n) + T (P x t) = W a - s r c N'     P: from that centre to the contact; n, t: square to the way and
                                               along the motion; a: how far the mass centre is behind it; c N'
                                               the free wheels' rolling resistance, s its sense

T itself is by work: what lifts the user and overcomes its rolling resistance, over how far the wheel turns
against the body, which pitches meanwhile. It slips where T is more than mu N. A middle axle carries its own
share as long as it is down (the others rock), and the two others take the transfer.

What T is short of along a stretch a user may bring as speed. Speed is lost at each kink
(`bumps.speed_left`), so it is counted back from the far end: what is left must be enough beyond every place.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.rolling.about import Rolling
from rampdraft.mechanics.rolling.resting import Resting
from rampdraft.model.design import AxleName
from rampdraft.units import G_M_S2, Array, N

ROAD_VALUE: Final = 45.0
"""Wet pendulum value of the ground: least of roads that ask for nothing special (Transport and Road Research
Laboratory, Road Note 27, 1969; from memory).
"""
RUN_UP_M_S: Final = 1.0
"""Speed with which a bump may be met: walking pace, a third of what chairs may do on footways; common
practice. Obstacles are tested with half a metre to run up as well (ISO 7176-10, from memory).
"""
ROCKS_MM: Final = 40.0
"""Castors before and behind driven middle wheels hang on rockers: so far these stay down; common practice."""
MOST: Final = 1000.0
"""Told of a share where hardly anything is given."""
_LEAST_TRAVEL: Final = 0.1
"""Where the front axle's way hardly turns the driven wheels."""
_KINK_MM: Final = 1e-3
"""Places nearer than this are the two sides of a kink."""
_LEAST_ARM_MM: Final = 1e-3
_LEAST_LEFT: Final = 1e-6
_UPRIGHT_RAD: Final = 1.57
_NEVER_N: Final = 1e6
_MM_PER_M: Final = 1000.0


def friction(value: float) -> float:
    """Return the friction of a wet surface by its pendulum value V: 3 V / (330 - V)."""
    return 3 * value / (330 - value)


@dataclass(frozen=True, slots=True, kw_only=True)
class Going:
    """A user going one way, at N places: what is needed of it to say what its wheels give."""

    rolling: Rolling
    resting: Resting
    resistance: Array
    """Rolling resistance over load of each support, (N, n)."""
    friction: Array
    """Of what is below each support, (N, n)."""
    effort_n: Array
    """Level force that keeps it moving, (N,); negative holds back."""
    forwards: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Traction:
    """What one axle does at N places."""

    asked_n: Array
    """Force along its way, with the motion; negative holds back."""
    most_n: Array
    """Greatest before it slips."""
    short_j: Array
    """Energy that lacks, J: what it must have at each place, driving; what it has picked up, braking."""

    @property
    def share(self) -> Array:
        """Return what is asked over what is given, the sense of the demand aside."""
        return np.minimum(np.maximum(self.asked_n, 0.0) / np.maximum(self.most_n, 1e-9), MOST)


def drive(going: Going, axle: AxleName, motor_n: N = 0.0) -> Traction:
    """Return what the driven axle is asked for and gives; no more than its motor, where that is known."""
    traction, spare, travel, drag = _axle(going, axle)
    most = np.minimum(spare, motor_n - drag) if motor_n else spare
    lost = _left(going)
    back = slice(None) if going.forwards else slice(None, None, -1)
    return Traction(
        asked_n=traction,
        most_n=np.maximum(most, 0.0),
        short_j=_short_j(going, traction - most, travel, lost, back),
    )


def brake(going: Going, axle: AxleName) -> Traction:
    """Return what the braked axle is asked for and gives, holding back."""
    traction, most, travel, _ = _axle(going, axle)
    on = slice(None, None, -1) if going.forwards else slice(None)
    nothing = np.ones(len(traction) - 1)
    return Traction(
        asked_n=-traction, most_n=most, short_j=_short_j(going, -traction - most, travel, nothing, on)
    )


def _axle(going: Going, axle: AxleName) -> tuple[Array, Array, Array, Array]:
    """Return traction, its greatest size before it slips, how far the wheel turns against the body over the
    front axle's travel, and the axle's own rolling resistance, all (N,).
    """
    shape, body, resting = going.rolling.shape, going.rolling.body, going.resting
    weight = shape.mass_kg * G_M_S2
    here = [axle == shape.axles[one.axle].name for one in body.supports]
    mine, other = _mean(resting, np.array(here)), _mean(resting, ~np.array(here))
    carried = np.maximum(resting.shares[:, here].sum(axis=1), 0.0)
    radius = next(one.radius_mm for one in body.supports if shape.axles[one.axle].name == axle)
    slope = mine(resting.slope)
    secant = np.hypot(1.0, slope)
    pace = 1 - _down(going, axle) * resting.turning
    travel = np.maximum(secant * pace + radius * resting.turning, _LEAST_TRAVEL)
    rim = going.effort_n * resting.pace / travel
    drag = weight * (going.resistance * np.maximum(resting.shares, 0.0))[:, here].sum(axis=1)
    traction, mu = rim - drag, mine(going.friction)
    if len(shape.axles) > 2:
        share = next(one.share for one in shape.axles if one.name == axle)
        down = resting.gaps_mm[:, here].min(axis=1) <= ROCKS_MM
        own = share if axle == "middle" else carried
        return traction, np.where(down, mu * weight * own * np.cos(resting.pitch_rad), 0.0), travel, drag
    way = 1.0 if going.forwards else -1.0
    centre_x, centre_z = other(resting.x_mm), other(_heights(going))
    x = mine(resting.x_mm) + slope / secant * radius - centre_x
    z = mine(_heights(going)) - radius / secant - centre_z
    square = (x + z * slope) / secant
    along = way * (z - x * slope) / secant
    free = other(np.broadcast_to([one.radius_mm for one in body.supports], resting.x_mm.shape))
    resists = weight * (going.resistance * np.maximum(resting.shares, 0.0)) @ ~np.array(here)
    moment = weight * (resting.centre(body)[0] - centre_x) - way * free * resists
    square = np.where(np.abs(square) > _LEAST_ARM_MM, square, np.inf)
    return traction, mu * np.maximum((moment - traction * along) / square, 0.0), travel, drag


def _mean(resting: Resting, which: NDArray[np.bool_]) -> Callable[[Array], Array]:
    """Return the mean over some supports by what they carry; a plain one where none of them does."""
    shares = np.maximum(resting.shares[:, which], 0.0)
    carried = shares.sum(axis=1)
    weights = np.where(carried[:, None] > 0, shares, 1.0)
    weights = weights / weights.sum(axis=1)[:, None]
    return lambda values: (values[:, which] * weights).sum(axis=1)


def _heights(going: Going) -> Array:
    """Return z of the supports' centres in the middle of the user, (N, n)."""
    body = going.rolling.body
    return np.stack(
        [going.resting.point(body, one.behind_mm, one.radius_mm)[1] for one in body.supports], axis=1
    )


def _down(going: Going, axle: AxleName) -> Array:
    """Return how far below the front axle's centre an axle's own is behind it, as the body pitches, (N,)."""
    body = going.rolling.body
    one = next(one for one in body.supports if going.rolling.shape.axles[one.axle].name == axle)
    pitch = going.resting.pitch_rad
    return one.behind_mm * np.sin(pitch) + (one.radius_mm - body.radius_mm) * np.cos(pitch)


def _left(going: Going) -> Array:
    """Return what of the energy each step from one place to the next leaves: less than all at a kink."""
    resting = going.resting
    slope = resting.slope
    shares = np.minimum(resting.shares[:-1], resting.shares[1:])
    turn = np.tan(np.clip(np.diff(np.arctan(slope), axis=0), 0.0, _UPRIGHT_RAD))
    speed = 1 / (1 + (np.maximum(shares, 0.0) * turn**2).sum(axis=1))
    return np.where(np.diff(resting.front_mm) < _KINK_MM, speed**2, 1.0)


def _short_j(going: Going, lack_n: Array, travel: Array, left: Array, order: slice) -> Array:
    """Return the energy that must be there at each place for what lacks beyond it, J; `order` is from the
    last place of the motion to the first for what is brought, the other way for what is picked up.
    """
    if not (lack_n > 0).any():
        return np.zeros_like(lack_n)
    lack = np.clip(lack_n, -_NEVER_N, _NEVER_N) * travel
    steps = (lack[1:] + lack[:-1]) / 2 * np.diff(going.resting.front_mm) / _MM_PER_M
    found = [0.0]
    for work, kept in zip(steps[order].tolist(), left[order].tolist(), strict=True):
        found.append(max(found[-1] + work, 0.0) / max(kept, _LEAST_LEFT))
    return np.array(found)[order]
