"""How a rigid user lies on its wheels: which of them carry, its pitch and lean, and what each carries.

The body's frame: u back from the front axle, w up, both 0 on the level surface below that axle; the front
points to -x. In the world, with pitch p (positive: the rear is higher) a point lies at

    x = t + u cos p - (w - r) sin p        t, z: the centre of the front axle, r its wheels' radius
    z = z + u sin p + (w - r) cos p + lean y

The lean is small and counts linearly, and no shift of the mass centre by it. Axles have no springs. Each
wheel's centre is on or above its own way. The body lies lowest: that is on a facet of the upper hull of the
wheels' heights that has the mass centre above it: three wheels, or two axles where left and right are alike.
Pitch moves the wheels along, so it is sought: Newton's method on what the facet says less the pitch, in a
bracket.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from itertools import combinations
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.mechanics.rolling.wheel_path import WheelPath
from rampdraft.units import MM, Array

STEEPEST_RAD: Final = 1.2
_ROUNDS: Final = 60
_CLOSE: Final = 1e-11
"""Of the pitch's sine."""
_TOUCH_MM: Final = 1e-7
_LEAST_PACE: Final = 0.1
"""Where the front axle hardly takes the body along, as over a face that stops the wheel."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Support:
    """A wheel, or an axle where left and right are alike, or hands on their feet's way."""

    axle: int
    behind_mm: MM
    radius_mm: MM
    across_mm: MM
    path: WheelPath


@dataclass(frozen=True, slots=True, kw_only=True)
class Body:
    """What lies on the supports."""

    supports: tuple[Support, ...]
    centre_behind_mm: MM
    centre_height_mm: MM

    @property
    def radius_mm(self) -> MM:
        """Return the radius of the front wheels."""
        return self.supports[0].radius_mm


@dataclass(frozen=True, slots=True, kw_only=True)
class Resting:
    """A body at N places of its front axle, on n supports."""

    front_mm: Array
    """x of the front axle's centre, (N,)."""
    height_mm: Array
    """z of the front axle's centre in the middle, (N,)."""
    pitch_rad: Array
    lean: Array
    """Rise over width, to the left, (N,)."""
    shares: Array
    """Of the weight on each support, (N, n); 0 of one that hangs."""
    gaps_mm: Array
    """How far each hangs above its way, (N, n)."""
    x_mm: Array
    """Of each support's centre, (N, n)."""
    slope: Array
    """dz/dx of each support's way, (N, n)."""
    turning: Array
    """dp/dt, rad per mm of the front axle towards +x, (N,)."""
    climbing: Array
    """Rise of the mass centre over level travel of the wheelbase's middle towards +x, (N,)."""
    pace: Array
    """That travel over the front axle's, (N,)."""

    @property
    def middle_mm(self) -> Array:
        """Return x of the middle between the centres of the first and the last axle, (N,)."""
        return (self.x_mm[:, 0] + self.x_mm[:, -1]) / 2

    def point(self, body: Body, behind_mm: MM, above_mm: MM) -> tuple[Array, Array]:
        """Return where a point of the body in its middle plane is, x and z, both (N,)."""
        cos, sin = np.cos(self.pitch_rad), np.sin(self.pitch_rad)
        up = above_mm - body.radius_mm
        return self.front_mm + behind_mm * cos - up * sin, self.height_mm + behind_mm * sin + up * cos

    def joined(self, other: "Resting") -> "Resting":
        """Return the places of both, in order along the way."""
        order = np.argsort(np.concatenate((self.front_mm, other.front_mm)), kind="stable")
        return Resting(
            **{
                one.name: np.concatenate((getattr(self, one.name), getattr(other, one.name)))[order]
                for one in fields(self)
            }
        )

    @staticmethod
    def of_parts(parts: "Sequence[Resting]", cuts: Sequence[int]) -> "Resting":
        """Return the places of parts that follow one another, so many of each."""
        pairs = list(zip(parts, cuts, strict=True))
        return Resting(
            **{
                one.name: np.concatenate([getattr(part, one.name)[:cut] for part, cut in pairs])
                for one in fields(Resting)
            }
        )

    def centre(self, body: Body) -> tuple[Array, Array]:
        """Return where the mass centre is; the lean moves it to the side alone."""
        return self.point(body, body.centre_behind_mm, body.centre_height_mm)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Facets:
    """The ways to lie on as few supports as hold it."""

    plan: Array
    """(n, d): 1, u and, in space, y of each support."""
    sets: NDArray[np.intp]
    """(F, d) supports of each facet."""
    inverse: Array
    """(F, d, d): from the heights of a facet's supports to its level, slope along and slope across."""


@dataclass(slots=True)
class _State:
    """A trial at N places; the places come last, which is quicker."""

    x: Array
    slope: Array
    height: Array
    """(n, N)."""
    facet: NDArray[np.intp]
    level: Array
    """(d, N): what the facet says."""
    wanted: Array
    """dR/dp, (N,)."""


def rest(body: Body, front_mm: Array, beside: Resting | None = None) -> Resting:
    """Return how a body lies with its front axle at each place; the places `beside` say where to begin."""
    facets = _facets(body)
    if beside is None:
        pitch = np.zeros(len(front_mm))
    else:
        pitch = np.interp(front_mm, beside.front_mm, beside.pitch_rad)
    low, high = np.full_like(pitch, -STEEPEST_RAD), np.full_like(pitch, STEEPEST_RAD)
    open_ = np.arange(len(pitch))
    for _ in range(_ROUNDS):
        now = pitch[open_]
        state = _lie(body, facets, front_mm[open_], now)
        off = state.level[1] - np.sin(now)
        going = (np.abs(off) > _CLOSE) & (high[open_] - low[open_] > _CLOSE)
        if not going.any():
            break
        open_, now, off, slope = open_[going], now[going], off[going], state.wanted[going]
        above = off > 0
        low[open_[above]], high[open_[~above]] = now[above], now[~above]
        step = now - off / np.minimum(slope, -_CLOSE)
        inside = (step > low[open_]) & (step < high[open_])
        pitch[open_] = np.where(inside, step, (low[open_] + high[open_]) / 2)
    return _rested(body, facets, front_mm, pitch)


def _facets(body: Body) -> _Facets:
    supports = body.supports
    flat = all(one.across_mm == 0 for one in supports)
    plan = np.array([(1.0, one.behind_mm, one.across_mm)[: 2 if flat else 3] for one in supports])
    size = plan.shape[1]
    sets = np.array(list(combinations(range(len(supports)), int(size))), dtype=np.intp)
    holds = np.abs(np.linalg.det(plan[sets])) > 1.0
    return _Facets(plan=plan, sets=sets[holds], inverse=np.linalg.inv(plan[sets[holds]]))


def _lie(body: Body, facets: _Facets, front_mm: Array, pitch: Array) -> _State:
    """Return what the facet below the mass centre says with the body at a pitch."""
    cos, sin = np.cos(pitch), np.sin(pitch)
    behind, bigger = _arms(body)
    x = front_mm + behind * cos - bigger * sin
    found = [one.path.at(row) for one, row in zip(body.supports, x, strict=True)]
    height, slope = (np.array(each) for each in zip(*found, strict=True))
    height -= bigger * cos
    facet, level = _lowest(body, facets, height, pitch)
    change = slope * (-behind * sin - bigger * cos) + bigger * sin
    rows, taken = facets.inverse[facet, 1].T, _taken(facets, facet, change)
    return _State(x, slope, height, facet, level, (rows * taken).sum(axis=0) - cos)


def _arms(body: Body) -> tuple[Array, Array]:
    """Return how far each support is behind the front axle, and by how much its radius is greater, (n, 1)."""
    behind = np.array([[one.behind_mm] for one in body.supports])
    return behind, np.array([[one.radius_mm - body.radius_mm] for one in body.supports])


def _taken(facets: _Facets, facet: NDArray[np.intp], values: Array) -> Array:
    """Return the values (n, N) of the supports of the facet at each place, (d, N)."""
    if len(facets.sets) == 1:
        return values[facets.sets[0]]
    return np.take_along_axis(values, facets.sets[facet].T, axis=0)


def _lowest(body: Body, facets: _Facets, height: Array, pitch: Array) -> tuple[NDArray[np.intp], Array]:
    """Return the facet on which it lies, and its plane: the one below no wheel that is least left by the
    mass centre.
    """
    levels: Array = facets.inverse @ height[facets.sets]
    if len(facets.sets) == 1:
        return np.zeros(len(pitch), dtype=np.intp), levels[0]
    below: Array = (height - facets.plan @ levels).max(axis=1)
    least: Array = _shares(body, facets, pitch).min(axis=1)
    holds: Array = np.where(below <= _TOUCH_MM, least, -1e6 * (1 + below))
    facet = holds.argmax(axis=0)
    return facet, np.take_along_axis(levels, facet[None, None], axis=0)[0]


def _shares(body: Body, facets: _Facets, pitch: Array) -> Array:
    """Return what the supports of each facet carry, (F, d, N): the place that is straight below the mass
    centre, on the surface, as a mean of theirs. So W h tan / b moves to the lower axle, as braked wheels have
    it.
    """
    along = body.centre_behind_mm - body.centre_height_mm * np.tan(pitch)
    # The rows of the inverse are weights of 1, of the place along and of the one across, which is 0.
    return facets.inverse[:, 0, :, None] + facets.inverse[:, 1, :, None] * along


def _rested(body: Body, facets: _Facets, front_mm: Array, pitch: Array) -> Resting:
    state = _lie(body, facets, front_mm, pitch)
    cos, sin = np.cos(pitch), np.sin(pitch)
    facet, inverse = state.facet, facets.inverse[state.facet]
    behind, bigger = _arms(body)
    slope = _taken(facets, facet, state.slope)
    turning = (inverse[:, 1].T * slope).sum(axis=0) / np.maximum(-state.wanted, _CLOSE)
    along = _taken(facets, facet, -behind * sin - bigger * cos)
    lifted = _taken(facets, facet, bigger * sin) * turning
    rising = slope * (1 + along * turning) + lifted
    up = body.centre_height_mm - body.radius_mm
    rise = (inverse[:, 0].T * rising).sum(axis=0) + (body.centre_behind_mm * cos - up * sin) * turning
    pace = np.maximum(1 - (behind[-1] * sin + bigger[-1] * cos) * turning / 2, _LEAST_PACE)
    carried = np.take_along_axis(_shares(body, facets, pitch), facet[None, None], axis=0)[0]
    shares = np.zeros((len(body.supports), len(pitch)))
    np.put_along_axis(shares, facets.sets[facet].T, carried, axis=0)
    return Resting(
        front_mm=front_mm,
        height_mm=state.level[0],
        pitch_rad=pitch,
        lean=state.level[2] if len(state.level) == 3 else np.zeros_like(pitch),
        shares=shares.T,
        gaps_mm=np.maximum(facets.plan @ state.level - state.height, 0.0).T,
        x_mm=state.x.T,
        slope=state.slope.T,
        turning=turning,
        climbing=rise / pace,
        pace=pace,
    )
