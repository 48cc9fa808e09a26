"""A rigid deck on supports that push and do not pull: equilibrium of many loads at once.

The deck has three freedoms, small enough to be linear: the drop of the deck edge's middle, the nod (positive
with the deck edge down) and the lean (positive with the left side down), so a place (x, y) sinks by drop +
nod x + lean y. Every support pushes by a rising, broken line of its own sinking. The elastic energy less the
work of the loads is convex, so Newton's method, in the end with an exact line search, comes to the one
equilibrium after a few changes of the pieces in use.

One exists, and one alone, where the resultant of the loads and of what the supports at most hold down lies
inside the outline of those that push. For far along a direction d of the freedoms the energy grows by

    sum over the supports of (least push . sinking along d) - load . d

and by more, without bound, where a support that pushes is pressed: it rises in every direction exactly where
the load less the least pushes is made up of pushes above nothing at all of those supports (Farkas' lemma;
Rockafellar, Convex Analysis, 1970, theorem 27.1). On the outline itself the deck may turn about the line for
nothing, and its freedoms are anybody's guess: that counts as none.

Arrays: B loads, n supports. Lengths across the deck are in metres here, so that the three equations are alike
in size.
"""

from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.errors import DesignError, Problem
from rampdraft.units import MM, Array, ArrayRecord, Kind, of_each_row
from rampdraft.words.say import say

RIGID_N_MM: Final = 1.0e5
"""Rate of what does not give: jacks, bearers, a spring on its stop. Ten tonnes press it by 1 mm; the
program's own choice.
"""

MM_PER_M: Final = 1000.0

_PLAIN_STEPS: Final = 8
"""So many steps go all the way, which mostly finds the pieces in use in two or three; those after them never
go uphill.
"""
_MOST_STEPS: Final = 100
_CLOSE: Final = 1e-11
"""Residual over total weight at which the forces balance."""
_ROUNDING: Final = 1e-15
"""Share of the forces of which a push is the difference by which rounding may change it."""
_SMALL: Final = 1e-3
"""Share of the sinkings up to which a step adds to them."""
_ON_OUTLINE: Final = 1e-8
"""Moment of the resultant about a line of the outline, over the total weight, N m per N, up to which it lies
on that line: above what the balance may be out by, so that the support across carries what decides its
sinking.
"""
_SLACK: Final = 1e-6
"""Share of the softest rate by which a freedom that nothing holds is held while the search goes on."""
_SINGULAR: Final = 1e-10
"""Determinant over the cube of the mean of the diagonal below which cofactors lose too many digits."""
_NEVER: Final = 1e100
"""Steps to a break that no search takes."""
_ON_LINE_MM: Final = 1e-3
"""Supports nearer to one line than this make no area to stand on."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Laws(ArrayRecord):
    """How each support pushes as the deck sinks onto it by d: arrays (n,).

    max(0, push + rate d), more by the rigid rate beyond `bump`, less by it beyond `extension` upward, down to
    `least`: then the wheel hangs free.
    """

    places: Array
    """(n, 3): 1, x and y in metres."""
    rate: Array
    """N/mm."""
    push: Array
    """N at d = 0; negative for what stands off."""
    bump: Array
    """mm; infinite without a stop."""
    extension: Array
    """mm; infinite without a stop."""
    least: Array
    """N, 0 or less: minus the weight that hangs on a spring at full extension."""

    def hold(self, loads: Array) -> NDArray[np.bool_]:
        """Return which loads (B, 3) have one balance and no more: see above."""
        pushing = np.isfinite(self.push) | np.isfinite(self.bump)
        x, y = MM_PER_M * self.places[pushing, 1:].T
        area = outline(tuple(zip(x.tolist(), y.tolist(), strict=True)))
        pulled = np.where(np.isfinite(self.extension), self.least, 0.0) @ self.places
        return np.zeros(len(loads), dtype=np.bool_) if area is None else area.hold(loads - pulled)

    def breaks(self) -> Array:
        """Return where the lines break, mm, (n, 4); infinite where they do not."""
        off = -self.push / self.rate
        hung_off = -self.extension + self.least / RIGID_N_MM
        with np.errstate(invalid="ignore"):
            hung_on = (self.least - self.push - RIGID_N_MM * self.extension) / (self.rate + RIGID_N_MM)
        return np.stack(
            (off, self.bump, -self.extension, np.where(hung_off <= off, hung_off, hung_on)), axis=-1
        )


def fixed(array: NDArray[Kind]) -> NDArray[Kind]:
    """Return the array, read-only; what is cut from it then is too."""
    array.setflags(write=False)
    return array


def places_of(x_mm: Array, y_mm: Array) -> Array:
    """Return (1, x, y) with x and y in metres, (..., 3)."""
    return np.stack((np.ones_like(x_mm), x_mm / MM_PER_M, y_mm / MM_PER_M), axis=-1)


def pushes(laws: Laws, sunk: Array) -> tuple[Array, Array]:
    """Return what each support pushes when sunk by so many mm, N, and its rate there, N/mm, both (..., n)."""
    sunk = sunk.T.copy()  # supports first: numpy runs along what is many
    push, rate, on_bump, extension, least = (
        one.reshape(-1, *[1] * (sunk.ndim - 1))
        for one in (laws.push, laws.rate, laws.bump, laws.extension, laws.least)
    )
    spring = push + rate * sunk
    bump, hang = sunk - on_bump, -extension - sunk
    stops = np.maximum(bump, 0.0) - np.maximum(hang, 0.0)
    force = np.maximum(np.maximum(spring, 0.0) + RIGID_N_MM * stops, least)
    rate = rate * (spring > 0) + RIGID_N_MM * ((bump > 0) | (hang > 0))
    return force.T, (rate * (force > least)).T


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Balance(ArrayRecord):
    """Equilibrium of B loads."""

    freedoms: Array
    """(B, 3): drop in mm, nod and lean in mm per metre."""
    push_n: Array
    """(B, n)."""


def balance(laws: Laws, loads: Array, lowered: Array | None = None) -> Balance:
    """Return the equilibrium of the deck under loads (B, 3): N, and moments N m about the deck edge's middle.

    `lowered` (B, n) is how much lower than the plane the ground lies under each support, mm. Raises
    DesignError where one of the loads has no balance, or not one alone.
    """
    if not laws.hold(loads).all():
        rule = say(
            "have no balance of forces for their resultant does not lie inside the outline of those that push"
        )
        raise _no_balance(rule, say("move a support out, or what weighs in"))
    enough = _CLOSE * of_each_row(np.add, np.abs(loads)) + _rounding_n(laws)
    squares = (laws.places[:, :, None] * laws.places[:, None, :]).reshape(-1, 9)
    slack = _SLACK * float(laws.rate.min())
    q, push_n = np.zeros_like(loads), np.empty((len(loads), len(laws.rate)))
    low = np.broadcast_to(np.float64(0.0 if lowered is None else lowered), push_n.shape)
    sunk, rows = -low, np.arange(len(loads))
    for number in range(_MOST_STEPS):
        here = sunk[rows]
        force, rate = pushes(laws, here)
        push_n[rows] = force
        rest = loads[rows] - force @ laws.places
        wrong = ~(of_each_row(np.maximum, np.abs(rest)) <= enough[rows])  # what is no number too
        if not wrong.any():
            return Balance(freedoms=q, push_n=push_n)
        if not wrong.all():
            rows, here, rate, rest = rows[wrong], here[wrong], rate[wrong], rest[wrong]
        step = _solved((rate @ squares).reshape(-1, 3, 3), rest, slack)
        change = step @ laws.places.T
        if number >= _PLAIN_STEPS:
            length = _length(laws, here, change, loads[rows], step)[:, None]
            step, change = length * step, length * change
        q[rows] += step
        sunk[rows] = q[rows] @ laws.places.T - low[rows]
        if number >= _PLAIN_STEPS:
            # A small step is added as it is: from far freedoms its digits would be lost.
            small = np.abs(change).max(axis=1) <= _SMALL * np.abs(sunk[rows]).max(axis=1)
            sunk[rows[small]] = here[small] + change[small]
    raise _no_balance(
        say("have no balance of forces that {count} steps find", count=_MOST_STEPS),
        say("bring their rates, gaps and travels nearer together"),
    )


def _rounding_n(laws: Laws) -> float:
    """Return what rounding does to the pushes of all supports, N, wherever the deck is."""
    stops = RIGID_N_MM * np.stack((laws.bump, laws.extension))
    forces = np.concatenate((laws.push[None], stops))
    return _ROUNDING * float(np.abs(forces[np.isfinite(forces)]).sum()) + 1e-12


def _no_balance(rule: str, way_out: str) -> DesignError:
    problem = Problem(key="supports", value="", rule=rule, way_out=way_out)
    return DesignError(say("The carrier cannot be judged."), [problem])


def _solved(matrix: Array, right: Array, slack: float) -> Array:
    """Return the solutions of symmetric 3 x 3 systems by cofactors, far quicker than a general solver on so
    many.

    Where nothing holds a freedom, it is held by the rate `slack`, so that the step still leads downhill.
    """
    a, b, c = matrix[:, 0, 0], matrix[:, 0, 1], matrix[:, 0, 2]
    d, e, f = matrix[:, 1, 1], matrix[:, 1, 2], matrix[:, 2, 2]
    aa, ab, ac = d * f - e * e, c * e - b * f, b * e - c * d
    bb, bc, cc = a * f - c * c, b * c - a * e, a * d - b * b
    x, y, z = right[:, 0], right[:, 1], right[:, 2]
    top = np.stack((aa * x + ab * y + ac * z, ab * x + bb * y + bc * z, ac * x + bc * y + cc * z), axis=-1)
    whole = a * aa + b * ab + c * ac
    loose = whole <= _SINGULAR * ((a + d + f) / 3) ** 3
    found = top / np.where(loose, 1.0, whole)[:, None]
    if loose.any():
        values, axes = np.linalg.eigh(matrix[loose])
        along = (axes.swapaxes(1, 2) @ right[loose, :, None])[:, :, 0] / np.maximum(values, slack)
        found[loose] = (axes @ along[:, :, None])[:, :, 0]
    return found


def _length(laws: Laws, sunk: Array, change: Array, loads: Array, step: Array) -> Array:
    """Return how far along each step the energy falls, in lengths of the step, (B,).

    Along a step the energy's slope is a rising line, broken where a support's law is: between the last break
    where it falls and the first where it rises it is straight. Where nothing yet holds, that may be many
    steps away.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        at = ((laws.breaks() - sunk[:, :, None]) / change[:, :, None]).reshape(len(sunk), -1)
    # What a support hardly moves towards is not met: at the others' places its length would be no number.
    at = np.sort(np.where((at > 0) & (at < _NEVER), at, 0.0), axis=1)
    at = np.concatenate((np.zeros((len(at), 1)), at, np.maximum(2 * at[:, -1:], 1.0)), axis=1)
    force = pushes(laws, sunk[:, None, :] + at[:, :, None] * change[:, None, :])[0]
    slopes = ((force @ laws.places - loads[:, None, :]) * step[:, None, :]).sum(axis=-1)
    row, last = np.arange(len(at)), np.clip((slopes <= 0).sum(axis=1) - 1, 0, at.shape[1] - 2)
    low, high, falls, rises = at[row, last], at[row, last + 1], slopes[row, last], slopes[row, last + 1]
    crosses = rises > 0
    return np.where(crosses, low + (high - low) * falls / np.where(crosses, falls - rises, -1.0), high)


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Outline(ArrayRecord):
    """The convex outline of supports in plan: E lines, each through two supports, with the inside on its
    left.
    """

    ends: tuple[tuple[int, int], ...]
    """Indices of the two supports of each line."""
    normals: Array
    """Inward unit normals, (E, 2)."""
    offsets_mm: Array
    """A place lies inside a line by normal . place - offset, (E,)."""

    def inside_mm(self, places_mm: Array) -> Array:
        """Return how far inside each line places (..., 2) lie, negative beyond it, (..., E)."""
        return places_mm @ self.normals.T - self.offsets_mm

    def hold(self, loads: Array) -> NDArray[np.bool_]:
        """Return which loads (..., 3), N and N m, press down with their resultant inside every line, (...).

        Inside all lines there is no load that lifts: they close.
        """
        moments = loads[..., 1:] @ self.normals.T - loads[..., :1] * (self.offsets_mm / MM_PER_M)
        weights = of_each_row(np.add, np.abs(loads))[..., None]
        return of_each_row(np.logical_and, moments > _ON_OUTLINE * weights)


@lru_cache(maxsize=64)
def outline(places_mm: tuple[tuple[MM, MM], ...]) -> Outline | None:
    """Return the outline of supports in plan, by Andrew's monotone chain; None for fewer than three, or all
    in one line.
    """
    order = sorted(range(len(places_mm)), key=lambda index: places_mm[index])
    corners = (*_chain(places_mm, order), *_chain(places_mm, order[::-1]))
    if len(corners) < 3:
        return None
    points = np.array([places_mm[index] for index in (*corners, corners[0])], dtype=np.float64)
    along = np.diff(points, axis=0)
    normals = np.stack((-along[:, 1], along[:, 0]), axis=-1) / np.hypot(along[:, 0], along[:, 1])[:, None]
    offsets = (normals * points[:-1]).sum(axis=1)
    found = Outline(
        ends=tuple(pairwise((*corners, corners[0]))), normals=fixed(normals), offsets_mm=fixed(offsets)
    )
    across = found.inside_mm(points[:-1]).max(axis=0).min()
    return found if across > _ON_LINE_MM else None


def _chain(places_mm: tuple[tuple[MM, MM], ...], order: list[int]) -> list[int]:
    """Return the corners of one side of the outline, without its last one."""
    kept: list[int] = []
    for index in order:
        while len(kept) >= 2 and _turn(*(places_mm[one] for one in (kept[-2], kept[-1], index))) <= 0:
            kept.pop()
        kept.append(index)
    return kept[:-1]


def _turn(a: tuple[MM, MM], b: tuple[MM, MM], c: tuple[MM, MM]) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
