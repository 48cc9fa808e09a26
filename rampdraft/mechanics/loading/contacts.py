"""Contacts that push and never pull: which of them let go, and how far they open."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.units import Array, of_each_row

_ROUNDS: Final = 20
_STEPS: Final = 4
"""So many for each contact at most."""


def openings(forces: Array, changes: Array, hair: Array) -> Array:
    """Return how far each contact opens so that none pulls, (N, Q).

    `forces` (N, Q): with all closed; `changes` (Q, Q): what an opening of 1 mm adds to each, symmetric
    and positive; `hair` (N, 1): a pull of so little is rounding. A linear complementarity problem: forces +
    opened @ changes >= 0, opened >= 0, and one of them 0. Solved by active sets, cases with the same
    contacts open together; where those go round in circles, by least energy one by one.
    """
    opened = np.zeros_like(forces)
    lets_go = forces < -hair
    left = np.flatnonzero(of_each_row(np.logical_or, lets_go))
    lets_go, weights = lets_go[left], 2 ** np.arange(forces.shape[1], dtype=np.intp)
    for _ in range(_ROUNDS):
        if not left.size:
            break
        codes = lets_go @ weights
        order = np.argsort(codes)
        left, lets_go, codes = left[order], lets_go[order], codes[order]
        here = forces[left]
        found = np.empty_like(here)
        starts = np.flatnonzero(np.diff(codes, prepend=-1))
        makes = _letting_go(changes, lets_go[starts])
        for make, start, end in zip(makes, starts, (*starts[1:], len(left)), strict=True):
            found[start:end] = here[start:end] @ make
        opened[left] = found
        then = np.where(lets_go, found > 0, here + found @ changes < -hair[left])
        changed = then @ weights != codes
        left, lets_go = left[changed], then[changed]
    for row in left.tolist():
        opened[row] = _by_least_energy(forces[row], changes, float(hair[row, 0]))
    return opened


def _letting_go(changes: Array, some: NDArray[np.bool_]) -> Array:
    """Return what makes openings of forces where some contacts let go (..., Q), (..., Q, Q): none of them
    carries anything then.
    """
    both = some[..., :, None] & some[..., None, :]
    return np.where(both, -np.linalg.inv(np.where(both, changes, np.eye(len(changes)))), 0.0)


def _by_least_energy(forces: Array, changes: Array, hair: float) -> Array:
    """Return how far each contact opens, (Q,), as the least of the energy forces @ o + o @ changes @ o / 2
    where no o is negative.

    That which pulls most opens as well, and whatever would close again stays closed (C. L. Lawson and R. J.
    Hanson's method): the energy falls with each step, so that this ends, and with a limit where rounding has
    left the changes less than positive.
    """
    opened = np.zeros_like(forces)
    free = np.zeros(len(forces), dtype=np.bool_)
    for _ in range(_STEPS * len(forces)):
        left = np.where(free, 0.0, forces + opened @ changes)
        if left.min() >= -hair:
            break
        free[left.argmin()] = True
        while free.any():
            next_one = forces @ _letting_go(changes, free)
            falls = free & (next_one <= 0)
            if not falls.any():
                opened = next_one
                break
            parts = np.full(len(forces), np.inf)
            parts[falls] = opened[falls] / (opened[falls] - next_one[falls])
            opened += parts.min() * (next_one - opened)
            free[parts.argmin()] = False
            opened[~free] = 0.0
    return opened
