"""What keeps all wheels on twisted ground: softer springs or ballast, and what each does to the drop as users
climb.
"""

from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise
from typing import Final, cast

from scipy.optimize import brentq  # pyright: ignore[reportMissingTypeStubs, reportUnknownVariableType]

from rampdraft.geometry.members.member import Assembly
from rampdraft.mechanics.carrier.results import Cure, Cures, Standing
from rampdraft.mechanics.carrier.standing import carrier_standing, twist_share
from rampdraft.mechanics.loading.loads import Grades
from rampdraft.model.design import Design
from rampdraft.units import KG
from rampdraft.words.figures import fixed
from rampdraft.words.say import say

HALF: Final = 0.5
"""Fewer leaves in a spring, or fewer springs to a wheel, make half the rate; common practice of the trade."""
PART: Final = 0.5
"""Ballast that is shown beside: so much of the body's mass."""
_POWERS: Final = (1.0, 2.0, 4.0, 8.0)
"""Powers of two by which the rates are tried."""
_BALLASTS: Final = tuple(range(-1, 8))
"""Powers of two of that ballast which are tried."""
_PLACES: Final = 8
"""Parts of the deck's length at whose ends ballast is tried."""
_JUST: Final = 1e-9
"""Share by which a root may be missed."""


def cures(design: Design, assembly: Assembly, grades: Grades) -> Cures | None:
    """Return what softer springs and ballast do to the wheels on twisted ground, and to the drop.

    Users climb on these grades, whatever the deck sinks. None where the carrier cannot stand, has no springs,
    or no twist is asked for. The figures of each row are
    those of the whole model; where a share just passes is found by a root search on that model.
    """
    body = design.carrier_body
    springs = any(support.kind == "spring" for support in design.supports)
    if not (springs and body.twist_mm and isinstance(carrier_standing(design, assembly, grades), Standing)):
        return None
    limit, more = body.least_share_percent / 100, body.ballast_kg + PART * body.body_kg
    on = assembly, grades
    best = placed(with_ballast(design, more), on)
    rows = [
        _cure(design, on, say("as designed")),
        _cure(with_rates(design, HALF), on, say("springs half as stiff"), HALF),
        _cure(
            with_ballast(design, more),
            on,
            say("ballast of {mass} {where}", mass=_mass(more), where=_place(design)),
        ),
    ]
    if best.carrier_body.ballast_back_mm != body.ballast_back_mm:
        words = say("ballast where it does most, {mass} {where}", mass=_mass(more), where=_place(best))
        rows.append(_cure(best, on, words))
    missing: list[str] = []
    if rows[0].twist_share < limit:
        for row, without in (_softest(design, on, limit), _lightest(design, best, on, limit)):
            rows += row
            missing += without
    return Cures(limit=limit, rows=tuple(rows), missing=tuple(missing))


_On = tuple[Assembly, Grades]
_Found = tuple[tuple[Cure, ...], tuple[str, ...]]
"""A row of the table, or what does not lead there."""


def _softest(design: Design, on: _On, limit: float) -> _Found:
    """Return the stiffest springs that pass, softer than they are."""

    def by_rate(power: float) -> float:
        return twist_share(with_rates(design, 2.0**power), on[0]) - limit

    power = _root(by_rate, (0.0, *(-step for step in _POWERS)))
    if power is None:
        return (), (say("no softer springs bring it there"),)
    softer, words = with_rates(design, 2.0**power), say("stiffest springs that just pass")
    return (_cure(softer, on, words, 2.0**power),), ()


def _lightest(design: Design, best: Design, on: _On, limit: float) -> _Found:
    """Return the least ballast that passes: where it is placed, or else where it does most."""
    body = design.carrier_body
    steps = tuple(body.ballast_kg + PART * body.body_kg * 2.0**step for step in _BALLASTS)
    for at in dict.fromkeys((design, with_ballast(best, body.ballast_kg))):

        def by_ballast(ballast_kg: float, at: Design = at) -> float:
            return twist_share(with_ballast(at, ballast_kg), on[0]) - limit

        found = _root(by_ballast, (body.ballast_kg, *steps))
        if found is not None:
            words = say("least ballast that passes, {mass} {where}", mass=_mass(found), where=_place(at))
            return (_cure(with_ballast(at, found), on, words),), ()
    return (), (say("no ballast on the deck brings it there"),)


def placed(design: Design, on: _On) -> Design:
    """Return the design with its ballast where it leaves most on every wheel, on twisted ground and as users
    climb: of places along the deck; where it is, unless another is better.
    """
    body, deck = design.carrier_body, design.carrier.deck_length_mm
    places = (body.ballast_back_mm, *(on_grid * deck / _PLACES for on_grid in range(_PLACES + 1)))
    tried = (replace(design, carrier_body=replace(body, ballast_back_mm=place)) for place in places)
    return max(tried, key=lambda one: _left(one, on))


def _left(design: Design, on: _On) -> float:
    """Return the least share left on a wheel, rounded to what decides; below 0 where the carrier tips."""
    cure = _cure(design, on, "")
    return -1.0 if cure.climb_share is None else round(min(cure.twist_share, cure.climb_share), 3)


def _mass(ballast_kg: KG) -> str:
    return fixed(ballast_kg, 0, "kg")


def _place(design: Design) -> str:
    """Return where the ballast lies."""
    back = design.carrier_body.ballast_back_mm
    if not back:
        return say("at the deck edge")
    far = fixed(abs(back), 0, "mm")
    return say("{length} back", length=far) if back > 0 else say("{length} out", length=far)


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


_brent: Final = cast("Callable[[Callable[[float], float], float, float, tuple[()], float], float]", brentq)
"""scipy has no types of its own."""


def _root(value: Callable[[float], float], places: tuple[float, ...]) -> float | None:
    """Return where a value first changes sign on its way over `places`, where it is not negative; or None.

    Brent's method (scipy.optimize.brentq); a root that rounding leaves below nothing is moved to the side on
    which the value is not negative.
    """
    signs = ((place, value(place)) for place in places)
    for (low, below), (high, above) in pairwise(signs):
        if (below >= 0) != (above >= 0):
            root = _brent(value, low, high, (), _JUST * abs(high - low))
            aside = 2 * _JUST * (high - low) * (1 if above >= 0 else -1)
            return root if value(root) >= 0 else root + aside
    return None


def _cure(design: Design, on: _On, words: str, rate_factor: float = 1.0) -> Cure:
    standing = carrier_standing(design, *on)
    stands = isinstance(standing, Standing)
    climb = standing.worst_climb if stands else None
    twisted = standing.worst_twist if stands else None
    return Cure(
        words=words,
        rate_factor=rate_factor,
        ballast_kg=design.carrier_body.ballast_kg,
        twist_share=twisted.share if twisted else 0.0,
        climb_share=float(climb.stances.share.min()) if climb and not climb.tips else None,
        edge_drop_mm=standing.loaded_drop_mm if stands else None,
    )
