"""Contacts that push and never pull: which of them let go, and how far they open."""

from typing import Final

import numpy as np
from numpy.typing import NDArray

from rampdraft.units import Array

_ROUNDS: Final = 20


def openings(forces: Array, changes: Array, hair: Array) -> Array:
    """Return how far each contact opens so that none pulls, (N, Q).

    `forces` (N, Q): with all closed; `changes` (Q, Q): what an opening of 1 mm adds to each, symmetric
    and positive; `hair` (N, 1): a pull of so little is rounding. A linear complementarity problem: forces +
    opened @ changes >= 0, opened >= 0, and one of them 0. Solved by active sets, all cases at once; where
    those go round in circles, one by one.
    """
    opened = np.zeros_like(forces)
    lets_go = forces < -hair
    left = np.flatnonzero(lets_go.any(axis=1))
    lets_go, weights = lets_go[left], 2 ** np.arange(forces.shape[1], dtype=np.intp)
    for _ in range(_ROUNDS):
        if not left.size:
            break
        _, first, which = np.unique(lets_go @ weights, return_index=True, return_inverse=True)
        here, makes = forces[left], _letting_go(changes, lets_go[first])[which]
        found = (here[:, None] @ makes)[:, 0]
        opened[left] = found
        then = np.where(lets_go, found > 0, here + found @ changes < -hair[left])
        changed = (then != lets_go).any(axis=1)
        left, lets_go = left[changed], then[changed]
    for row in left.tolist():
        opened[row] = _by_least_index(forces[row], changes, float(hair[row, 0]))
    return opened


def _letting_go(changes: Array, some: NDArray[np.bool_]) -> Array:
    """Return what makes openings of forces where some contacts let go (..., Q), (..., Q, Q): none of them
    carries anything then.
    """
    both = some[..., :, None] & some[..., None, :]
    return np.where(both, -np.linalg.inv(np.where(both, changes, np.eye(len(changes)))), 0.0)


def _by_least_index(forces: Array, changes: Array, hair: float) -> Array:
    """Return how far each contact opens, (Q,), turning over the first one that is wrong until none is: where
    the changes are positive, no set of open ones comes twice (K. G. Murty's least-index rule).
    """
    lets_go = np.zeros(len(forces), dtype=np.bool_)
    opened = np.zeros_like(forces)
    for _ in range(2 ** len(forces)):
        wrong = np.where(lets_go, opened < 0, forces + opened @ changes < -hair)
        if not wrong.any():
            break
        lets_go[wrong.argmax()] ^= True
        opened = forces @ _letting_go(changes, lets_go)
    return np.maximum(opened, 0.0)
