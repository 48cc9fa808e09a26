"""Contacts that push and never pull: which of them let go, and how far they open."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.units import Array

_ROUNDS: Final = 20
_HAIR: Final = 1e-9


def openings(forces: Array, changes: Array, hair: Array) -> Array:
    """Return how far each contact opens so that none pulls, (N, Q).

    `forces` (N, Q): with all closed; `changes` (Q, Q): what an opening of 1 mm adds to each, symmetric
    and positive; `hair` (N, 1): a pull of so little is rounding. A linear complementarity problem: forces
    + opened @ changes >= 0, opened >= 0, and one of them 0. Solved by active sets, cases with the same
    contacts open together; where those go round in circles, as least squares.
    """
    opened = np.zeros_like(forces)
    open_ = forces < -hair
    left = np.flatnonzero(open_.any(axis=1))
    weights = 2 ** np.arange(forces.shape[1], dtype=np.intp)
    for _ in range(_ROUNDS):
        if not left.size:
            return opened
        codes: NDArray[np.intp] = open_[left] @ weights
        for code in np.unique(codes).tolist():
            rows = left[codes == code]
            which = np.flatnonzero(open_[rows[0]])
            opened[rows] = 0.0
            opened[np.ix_(rows, which)] = -np.linalg.solve(
                changes[np.ix_(which, which)], forces[np.ix_(rows, which)].T
            ).T
        now = forces[left] + opened[left] @ changes
        then = np.where(open_[left], opened[left] > 0, now < -hair[left])
        changed = (then != open_[left]).any(axis=1)
        open_[left] = then
        left = left[changed]
    if left.size:
        opened[left] = _least_squares(forces[left], changes)
    return opened


def _least_squares(forces: Array, changes: Array) -> Array:
    """Return the same of what is left, by least squares that are nowhere negative (Lawson and Hanson)."""
    # scipy takes its time to load, and this is hardly ever needed.
    from scipy.optimize import nnls  # pyright: ignore

    sizes, ways = np.linalg.eigh(changes)
    root = np.sqrt(np.maximum(sizes, _HAIR * sizes[-1]))
    found: list[Array] = [nnls(root[:, None] * ways.T, -(ways.T @ one) / root)[0] for one in forces]
    return np.array(found)
