"""How the finished ramp is proved: by what load, where, how long, what is measured, and what set may stay."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from rampdraft.geometry.members.member import OnLeaf
from rampdraft.mechanics.loading.loads import Rolling, is_of_use
from rampdraft.mechanics.loading.results import Carried
from rampdraft.model.design import Design
from rampdraft.rounding import greatest
from rampdraft.units import KG, MM
from rampdraft.words.say import say

PROOF_FACTOR: Final = 1.25
"""Over the rated load: Singapore, Road Traffic (Motor Vehicles, Construction and Use) Rules, 97E (2) (b), for
boarding ramps of buses; common practice elsewhere.
"""
HELD_MIN: Final = 10.0
"""Minutes that each load stays; the same rule asks for 10 s, common practice for long enough to see it
creep.
"""
SET_SHARE: Final = 0.05
SET_MM: Final = 0.5
"""Set that may stay when the load is off: so much of the sag, and no less than can be read off a rule; common
practice. The first load beds the joint, so only the second one is judged.
"""


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofPlace:
    """Where the load stands, on a board that spreads it."""

    at: OnLeaf
    """The leaf; empty at the joint."""
    from_hinge_mm: MM
    """Along the ramp from the deck hinge to the middle of the board."""
    across: int
    """Against the left guard 1, in the middle 0, against the right one -1."""
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Proof:
    """The plan of the proof load."""

    rated_kg: KG
    load_kg: KG
    steps_kg: tuple[KG, ...]
    """Put on one after the other at each place, each looked at before the next."""
    places: tuple[ProofPlace, ...]
    sag_mm: MM | None
    """What the load is expected to sink where it sinks most, play and own weight left out; None where that is
    not known.
    """
    set_mm: MM
    """That may stay."""


def proof_of(design: Design, carried: Carried) -> Proof:
    """Return the plan: places that ask most of rails, joint, toe and deck hinge."""
    rated = design.use.rated_load_kg
    load = PROOF_FACTOR * rated
    sag = _sag_mm(carried)
    return Proof(
        rated_kg=rated,
        load_kg=load,
        steps_kg=(rated / 2, rated, load),
        places=_places(design, carried),
        sag_mm=sag,
        set_mm=max(SET_MM, SET_SHARE * (sag or 0.0)),
    )


def _places(design: Design, carried: Carried) -> tuple[ProofPlace, ...]:
    inner, outer = design.inner_leaf.length_mm, design.outer_leaf.length_mm
    worst = greatest(
        [place for place in carried.worst if is_of_use(carried.loads[place.load])],
        lambda place: place.moment_nmm,
    )
    near = min(300.0, inner / 4, outer / 4)
    return (
        ProofPlace(
            at=worst.leaf, from_hinge_mm=worst.section_mm, across=0, why=say("a rail bends most here")
        ),
        ProofPlace(at="", from_hinge_mm=inner, across=0, why=say("joint, stop bars or prop")),
        ProofPlace(at="inner", from_hinge_mm=near, across=1, why=say("deck hinge, its pin and bracket")),
        ProofPlace(
            at="outer", from_hinge_mm=inner + outer - near, across=-1, why=say("one corner of the toe")
        ),
    )


def _sag_mm(carried: Carried) -> MM | None:
    """Return what the proof load sinks: the worst of the rated load on wheels, raised by the factor."""
    if carried.sag is None or not carried.held:
        return None
    rolls = [
        number
        for number, load in enumerate(carried.loads)
        if isinstance(load, Rolling) and is_of_use(load) and not load.user
    ]
    if not rolls:
        return None
    return PROOF_FACTOR * float(np.max(carried.sag.load_mm[rolls]))
