"""How far the deck edge has sunk and the deck nods, with the cargo aboard, while one user comes up the ramp
or goes down it: as its weight passes from the ramp to the deck.

The user keeps to the middle. What of an axle's force is on the hinge goes with how far it is from the toe;
its weights are those on the grade of the ramp as it lies with the deck empty.
"""

import numpy as np

from rampdraft.mechanics.carrier.at_rest import AtRest, load_of, solve, spans_of
from rampdraft.mechanics.carrier.supports import MM_PER_M, places_of
from rampdraft.mechanics.carrier.ways import onto_deck, stood, way_up
from rampdraft.mechanics.results import SitePose
from rampdraft.model.design import Design
from rampdraft.units import Array


def sunk_along(  # many: who, where, how
    design: Design, rest: AtRest, number: int, empty: SitePose, front_mm: Array, *, forwards: bool
) -> tuple[Array, Array] | None:
    """Return how far the deck edge has sunk, mm, and how much the deck nods, rad, with the front axle of a
    user, counted from 1, at some places x over a site, both (N,); below 0 where the edge has risen, or lies
    higher than the deck behind it. None where the carrier tips at one of them.
    """
    way = way_up(design.use.users[number - 1], forwards, empty.whole.ratio)
    hinge = design.deck_hinge.out_mm
    foot = empty.contact[0] - hinge
    first = front_mm - (0.0 if forwards else way.offsets_mm[-1]) - hinge
    along = np.where(first > 0, first * spans_of(design).length_mm / foot, first)
    force, x = onto_deck(design, *stood(way, along))
    still = load_of((*rest.weights, *((rest.cargo,) if rest.cargo else ())))
    loads = still + (force[:, :, None] * places_of(x, np.zeros_like(x))).sum(axis=1)
    if not rest.area.hold(loads).all():
        return None
    freedoms = solve(rest, rest.laws, loads)[0]
    return freedoms[:, 0], freedoms[:, 1] / MM_PER_M
