"""What a rigid wheel meets at a kink of its centre's way: the force to climb it, the speed it costs, and how
deep it sinks into a gap. They hang on the way alone, not on the pose.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.rolling.wheel_path import WheelPath
from rampdraft.units import MM, Array

JUMP_MM = 1e-3
"""A face higher than the radius: the centre's way jumps by more than this."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kinks:
    """The k kinks of a way, where a wheel that touches one thing meets the next; every one turns it up,
    whichever way it comes.
    """

    x_mm: Array
    to_left: Array
    to_right: Array
    """Rise over going to be climbed when going to -x and to +x, (k,): level force on the axle over its load;
    infinite at a face that stops the wheel.
    """
    turn_rad: Array
    """By which the way turns up, (k,)."""
    drop_mm: Array
    """How deep the wheel hangs into the gap between two corners; 0 where one side is no corner, (k,)."""
    contacts_mm: tuple[Array, Array]
    """x of what it touches on the left and on the right, both (k,)."""
    points: tuple[NDArray[np.intp], NDArray[np.intp]]
    """Numbers of the outline's points there, or of those that the straight parts there begin at."""


def climb_share(radius_mm: MM, step_mm: MM) -> float:
    """Return the level force on its axle that lifts a wheel over a step, as a share of its load.

    Moments about the corner: F (r - h) = W sqrt(2 r h - h^2) (Halliday, Resnick, Walker, Fundamentals of
    Physics, chapter 12). Infinite where the step is as high as the radius.
    """
    if step_mm >= radius_mm:
        return float("inf")
    return float(np.sqrt(2 * radius_mm * step_mm - step_mm**2) / (radius_mm - step_mm))


def sink_mm(radius_mm: MM, gap_mm: MM) -> MM:
    """Return how deep a wheel sinks into a gap between two level edges: r - sqrt(r^2 - (b / 2)^2)."""
    if gap_mm >= 2 * radius_mm:
        return float("inf")
    return float(radius_mm - np.sqrt(radius_mm**2 - gap_mm**2 / 4))


def speed_left(turn_rad: Array, share: float) -> Array:
    """Return what is left of the speed of a user rolling level after its wheels are turned up by a kink.

    The masses stand over the axles, `share` over those that meet it. The impulse is square to the new way and
    does no work along it; all go on level at one speed u, the one lump also up at u tan(turn). Momentum
    level: J sin = M (v - u), upward: J cos = share M u tan, so u / v = 1 / (1 + share tan(turn)^2). The rest
    of the energy is lost: with all mass on it, u / v = cos^2, which is v cos along the new way.
    """
    return 1 / (1 + share * np.tan(turn_rad) ** 2)


def kinks(path: WheelPath) -> Kinks:
    """Return the kinks of a way; smooth joins from an arc to its own straight part are none."""
    x = path.breaks_mm
    left, right = _side(path, np.arange(len(x))), _side(path, np.arange(1, len(x) + 1))
    turn = np.arctan(right[1]) - np.arctan(left[1])
    jump = right[0] - left[0]
    to_right = np.where(jump > JUMP_MM, np.inf, right[1])
    to_left = np.where(jump < -JUMP_MM, np.inf, -left[1])
    corners = np.isnan(path.slope[:-1]) & np.isnan(path.slope[1:])
    apart = np.hypot(np.diff(path.x_mm), np.diff(path.z_mm))
    inside = np.maximum(path.radius_mm**2 - apart**2 / 4, 0.0)
    sunk = np.where(corners & (np.abs(jump) <= JUMP_MM), path.radius_mm - np.sqrt(inside), 0.0)
    found = (turn > 1e-6) | (np.abs(jump) > JUMP_MM)
    turn = np.where(np.abs(jump) > JUMP_MM, np.pi / 2, turn)
    return Kinks(
        x_mm=x[found],
        to_left=to_left[found],
        to_right=to_right[found],
        turn_rad=turn[found],
        drop_mm=sunk[found],
        contacts_mm=(
            _touched(path, slice(-1), left[1])[found],
            _touched(path, slice(1, None), right[1])[found],
        ),
        points=(path.point[:-1][found], path.point[1:][found]),
    )


def _touched(path: WheelPath, pieces: slice, slope: Array) -> Array:
    """Return x of what is touched at the breaks by the pieces on one side of them."""
    beside = path.breaks_mm + slope * path.radius_mm / np.hypot(1.0, slope)
    return np.where(np.isnan(path.slope[pieces]), path.x_mm[pieces], beside)


def _side(path: WheelPath, piece: NDArray[np.intp]) -> tuple[Array, Array]:
    """Return height and slope of the pieces at their breaks: those before, or those beyond them."""
    return path.on(piece, path.breaks_mm)
