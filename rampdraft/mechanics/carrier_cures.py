"""What keeps all wheels on twisted ground: softer springs or ballast, and what each does to the drop as users climb."""

from collections.abc import Callable
from dataclasses import replace
from math import exp, log
from typing import Final

from rampdraft.geometry.member import Assembly
from rampdraft.mechanics.carrier import carrier_standing, twist_share
from rampdraft.mechanics.carrier_results import Cure, Cures, Standing
from rampdraft.model.design import Design
from rampdraft.units import KG

HALF: Final = 0.5
"""Fewer leaves in a spring, or fewer springs to a wheel, make half the rate; common practice of the trade."""
_RATE_FACTORS: Final = (1e-3, 1e3)
_MOST_BALLAST_KG: Final = 20000.0
_MOST_TRIES: Final = 60
_JUST: Final = 1e-9
"""Share by which a root may be missed."""


def cures(design: Design, assembly: Assembly) -> Cures | None:
    """Return what softer springs and ballast do to the wheels on twisted ground, and to the drop.

    None where the carrier cannot stand, has no springs, or no twist is asked for. The figures of each row are those of the
    whole model; where a share just passes is found by a root search on that model.
    """
    body = design.carrier_body
    springs = any(support.kind == "spring" for support in design.supports)
    if not (springs and body.twist_mm and isinstance(carrier_standing(design, assembly), Standing)):
        return None
    limit = body.least_share_percent / 100
    rows = [_cure(design, assembly, "as designed"), _cure(with_rates(design, HALF), assembly, "springs half as stiff", HALF)]
    missing: list[str] = []
    power = _root(lambda power: twist_share(with_rates(design, exp(power)), assembly) - limit, *map(log, _RATE_FACTORS))
    if power is None:
        missing.append("no other rate of the springs just passes")
    else:
        factor = exp(power)
        way = "softer" if factor < 1 else "stiffer"
        rows.append(_cure(with_rates(design, factor), assembly, f"springs {way}, just passing", factor))
    ballast = _root(lambda ballast: twist_share(with_ballast(design, ballast), assembly) - limit, 0.0, _MOST_BALLAST_KG)
    if ballast is not None:
        rows.append(_cure(with_ballast(design, ballast), assembly, f"ballast of {ballast:.0f} kg, just passing"))
    elif twist_share(with_ballast(design, 0.0), assembly) < limit:
        missing.append("no ballast where it is placed brings it there")
    return Cures(limit=limit, rows=tuple(rows), missing=tuple(missing))


def with_rates(design: Design, factor: float) -> Design:
    """Return the design with all spring rates multiplied."""
    supports = tuple(
        replace(support, rate_n_mm=factor * support.rate_n_mm) if support.kind == "spring" else support
        for support in design.supports
    )
    return replace(design, supports=supports)


def with_ballast(design: Design, ballast_kg: KG) -> Design:
    """Return the design with so much ballast where its ballast is placed."""
    return replace(design, carrier_body=replace(design.carrier_body, ballast_kg=ballast_kg))


def _root(value: Callable[[float], float], low: float, high: float) -> float | None:
    """Return where a value passes through zero, from the side where it is not negative; None where both ends lie on one side.

    False position by turns with halving: the first is quick on a smooth value, the second sure on any.
    """
    below, above = value(low), value(high)
    if (below >= 0) == (above >= 0):
        return None
    for turn in range(_MOST_TRIES):
        middle = (low + high) / 2 if turn % 3 == 2 else low + (high - low) * below / (below - above)
        here = value(middle)
        if 0 <= here <= _JUST:
            return middle
        if (here >= 0) == (below >= 0):
            low, below = middle, here
        else:
            high, above = middle, here
    return low if below >= 0 else high


def _cure(design: Design, assembly: Assembly, words: str, rate_factor: float = 1.0) -> Cure:
    standing = carrier_standing(design, assembly)
    stands = isinstance(standing, Standing)
    climb = standing.worst_climb if stands else None
    twisted = standing.worst_twist if stands else None
    return Cure(
        words=words,
        rate_factor=rate_factor,
        ballast_kg=design.carrier_body.ballast_kg,
        twist_share=twisted.share if twisted else 0.0,
        climb_share=float(climb.share.min()) if climb and not climb.tips else None,
        edge_drop_mm=standing.loaded_drop_mm if stands else None,
    )
