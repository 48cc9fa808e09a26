"""How a user comes up: what his axles weigh, where they stand, and what of that is on the deck."""

from typing import NamedTuple

import numpy as np

from rampdraft.mechanics.carrier.at_rest import spans_of
from rampdraft.mechanics.loading.beam import hinge_line
from rampdraft.mechanics.loading.loads import Axle, axles_of
from rampdraft.model.design import Design, WheeledUser
from rampdraft.units import MM, Array


class Way(NamedTuple):
    """How a user comes up, his A axles from the deck outward."""

    forwards: bool
    grade: float
    level: tuple[Axle, ...]
    level_n: Array
    leaning_n: Array
    """What they weigh on the level and on the grade, (A,)."""
    offsets_mm: Array
    """Behind the first, (A,)."""
    near_mm: MM
    """How far behind the first axle the nearest of the chair is: none, but behind an attendant."""
    base_mm: MM
    """The wheelbase."""


def way_up(user: WheeledUser, forwards: bool, grade: float) -> Way:
    """Return a user who comes up on a grade, front or rear axle first."""
    level, leaning = (axles_of(user, forwards=forwards, grade=one) for one in (0.0, grade))
    return Way(
        forwards=forwards,
        grade=grade,
        level=level,
        level_n=np.array([axle.force_n for axle in level]),
        leaning_n=np.array([axle.force_n for axle in leaning]),
        offsets_mm=np.array([axle.offset_mm for axle in level]),
        near_mm=0.0 if forwards else level[-1].offset_mm - user.wheelbase_mm,
        base_mm=user.wheelbase_mm,
    )


def stood(way: Way, first_mm: Array) -> tuple[Array, Array]:
    """Return what a user's axles weigh, N, and where they stand, mm along the ramp from the deck hinge, with
    the first of them at P places: (P, A) both.

    On the slope as `axles_of` says; astride the deck hinge the line through both outer wheels slopes by so
    much less as of the wheelbase is on the deck, and W h grade / b goes with it.
    """
    lower = first_mm + way.near_mm + way.base_mm
    part = (np.maximum(lower, 0.0) - np.maximum(first_mm + way.near_mm, 0.0)) / way.base_mm
    force = way.level_n + part[:, None] * (way.leaning_n - way.level_n)
    return force, first_mm[:, None] + way.offsets_mm


def onto_deck(design: Design, force_n: Array, at_mm: Array) -> tuple[Array, Array]:
    """Return what axles put on the deck, N, and where, x in mm, standing along the ramp from the deck hinge
    at `at_mm`.

    On the ramp an axle hands part of its force to the deck hinge; beyond the hinge it stands on the deck
    itself.
    """
    part = np.where(at_mm < 0, 1.0, hinge_line(spans_of(design), at_mm))
    return part * force_n, design.deck_hinge.out_mm + np.minimum(at_mm, 0.0)
