"""How far the deck leans and nods as users climb."""

import math
from typing import Literal

import numpy as np

from rampdraft.checks.demands.carrier.working import DEMANDED, TIPS, where
from rampdraft.checks.result import Check, Demand, compose
from rampdraft.checks.subjects import Finding, Measured, Unjudged
from rampdraft.figures import degrees, mm, number
from rampdraft.mechanics.carrier.results import Climb, Standing
from rampdraft.model.design import Design
from rampdraft.prose import Lines, prose
from rampdraft.rounding import greatest, greatest_at
from rampdraft.units import MM, RAD, Array

Turn = Literal["lean", "nod"]


def turned(design: Design, standing: Standing, turn: Turn) -> Check:
    """Return the check of the greatest turn of the deck one way: the difference of two drops over their
    distance.
    """
    limit = design.carrier_body.lean_limit_deg
    tipping = next((climb for climb in standing.climbs if climb.tips), None)
    if tipping is not None:
        finding: Finding = Unjudged(key="", subject=tipping.words, why=TIPS)
    else:
        climb = greatest(standing.climbs, lambda one: float(np.abs(_turns(one, turn)).max()))
        (at,) = greatest_at(np.abs(_turns(climb, turn)))
        angle, drop = float(_turns(climb, turn)[at]), float(climb.stances.edge_drop_mm[at])
        carrier = design.carrier
        apart = carrier.opening_width_mm if turn == "lean" else carrier.deck_length_mm
        finding = Measured(
            key="",
            subject=climb.words,
            value=abs(math.degrees(angle)),
            working=prose(_lines, where(design, climb, at), turn, drop, angle, apart),
            text=degrees(abs(math.degrees(angle))),
        )
    title = f"Deck's {turn} as users climb"
    return compose(
        Demand.own(f"carrier-{turn}", title, "at most", "deg", limit, degrees(limit), DEMANDED), finding
    )


def _turns(climb: Climb, turn: Turn) -> Array:
    return climb.stances.lean_rad if turn == "lean" else climb.stances.nod_rad


def _lines(place: str, turn: Turn, drop: MM, angle: RAD, apart: MM) -> Lines:
    if turn == "lean":
        (down, up), names = (
            (drop + angle * apart / 2, drop - angle * apart / 2),
            ("on the left", "on the right"),
        )
    else:
        (down, up), names = (drop, drop - angle * apart), ("at the edge", "at the deck's far end")
    return (
        place,
        f"{turn} = (drop {names[0]} − drop {names[1]}) / distance",
        f"= ({number(down, 2)} mm − {number(up, 2)} mm) / {mm(apart)}",
        f"= {number(angle, 5)} = {degrees(math.degrees(angle))}",
    )
