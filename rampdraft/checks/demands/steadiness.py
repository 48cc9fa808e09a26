"""Whether the carrier stands steadily on its supports, with the moments about a line of supports as drawn up
by hand.
"""

import math
from collections.abc import Callable, Iterator
from typing import Any, Final

import numpy as np

from rampdraft import figures
from rampdraft.checks.judge import Demand, compose
from rampdraft.checks.quantities.table import Unit
from rampdraft.checks.result import Check, Sense, Source
from rampdraft.checks.subjects import Finding, Measured, Subjects, Unjudged
from rampdraft.figures import newton
from rampdraft.mechanics.carrier.results import (
    CannotStand,
    CarrierStanding,
    Climb,
    Standing,
    TippingLine,
    Weight,
)
from rampdraft.mechanics.carrier.standing import tipping_line, weights_of
from rampdraft.mechanics.loading.beam import Array
from rampdraft.model.design import Design
from rampdraft.prose import Lines, prose
from rampdraft.rounding import greatest_at
from rampdraft.units import MM, N

_DEMANDED: Final = Source(
    rule_set="own",
    title="Demanded in the design",
    clause="",
    publication="as given under Supports and Carrier's weight",
)
_STATICS: Final = Source(
    rule_set="own", title="A carrier that stands", clause="", publication="statics of a rigid body"
)

_TIPS: Final = "The carrier tips, so no figure of it standing means anything."


def steadiness_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the checks of the carrier on its supports; none where no supports are described."""
    standing = subjects.standing
    if standing is None:
        return
    yield _stands(standing)
    if isinstance(standing, CannotStand):
        return
    design, climb = subjects.design, standing.worst_climb
    yield _tips(design, standing)
    yield _share_left(design, standing, climb)
    for key, title, of in _TURNS:
        yield _turned(design, standing, key, title, of)
    if standing.twisted:
        yield _twist(design, standing)
        yield _rocks(design, standing)
    yield _off_ground(design, standing)


def _check(
    id: str,
    title: str,
    finding: Finding,
    limit: float,
    text: str,
    sense: Sense,
    unit: Unit,
    source: Source = _DEMANDED,
) -> Check:
    demand = Demand(
        id=f"own/carrier-{id}",
        kind=f"own/carrier-{id}",
        title=title,
        source=source,
        sense=sense,
        unit=unit,
        limit=limit,
        limit_text=text,
    )
    return compose(demand, finding)


def _stands(standing: CarrierStanding) -> Check:
    title = "Carrier stands on its supports"
    if isinstance(standing, CannotStand):
        why = f"{standing.why[0].upper()}{standing.why[1:]}: {standing.way_out}."
        finding = Measured(key="", subject="carrier empty", value=0.0, working=(why,), why=why)
    else:
        work = prose(
            _standing_lines,
            standing.weights,
            _names(standing),
            _plain(standing.empty_push_n),
            _plain(standing.empty_wheels_n),
        )
        finding = Measured(key="", subject="carrier empty", value=1.0, working=work)
    return _check("stands", title, finding, 1.0, "demanded", "is", "yes/no", _STATICS)


def _standing_lines(
    weights: tuple[Weight, ...], names: tuple[str, ...], pushes_n: tuple[N, ...], wheels_n: tuple[N, ...]
) -> Lines:
    supports = zip(names, pushes_n, wheels_n, strict=True)
    return (
        *(f"{weight.words}: {newton(weight.force_n)}, {_place(weight)}" for weight in weights),
        *(
            f"{name}: {newton(push)}"
            + (f", with what is below its spring {newton(wheel)} on the ground" if wheel > push else "")
            for name, push, wheel in supports
        ),
        (
            f"on the ground in all = {newton(sum(wheels_n))}, all weights ="
            f" {newton(sum(weight.force_n for weight in weights))}"
        ),
    )


def _tips(design: Design, standing: Standing) -> Check:
    """Return the tipping check: the moments of all weights about the line of two supports, beyond it against
    inside it.
    """
    climb = standing.most_overturning
    (at,) = greatest_at(climb.overturning)
    line = tipping_line(standing, weights_of(design, climb, at), cargo=climb.cargo)
    over, holds = line.overturning_nmm, line.righting_nmm
    work = prose(_tipping_lines, line, float(climb.first_axle_mm[at]), design.deck_hinge.out_mm)
    ratio = over / holds if holds else math.inf
    text = (
        f"{figures.percent(ratio)} of the righting moment"
        if math.isfinite(ratio)
        else "nothing holds it down"
    )
    why = f"It tips over the line through {line.names[0]} and {line.names[1]}." if ratio >= 1 else ""
    finding = Measured(key="", subject=climb.words, value=ratio, working=work, text=text, why=why)
    return _check(
        "tips",
        "Carrier does not tip",
        finding,
        1.0,
        "100 % of the righting moment",
        "at most",
        "share",
        _STATICS,
    )


def _tipping_lines(line: TippingLine, first_mm: MM, out_mm: MM) -> Lines:
    over, holds = line.overturning_nmm, line.righting_nmm
    return (
        f"moments about the line through {line.names[0]} and {line.names[1]}, {_where(first_mm, out_mm)}",
        *_moments("beyond it", line.overturning, over),
        *_moments("inside it", line.righting, holds),
        f"overturning / righting = {_metres(over)} / {_metres(holds)}"
        + (f" = {figures.percent(over / holds)}" if holds else ""),
    )


def _share_left(design: Design, standing: Standing, climb: Climb) -> Check:
    limit, title = design.carrier_body.least_share_percent / 100, "Load left on every support"
    if climb.tips:
        finding: Finding = Measured(
            key="", subject=climb.words, value=0.0, working=(_TIPS,), text="none", why="The carrier tips."
        )
    else:
        at = climb.worst
        stance = climb.stance(at)
        assert stance is not None, "a climb that does not tip stands everywhere"
        support, share = stance.least, stance.share
        weights = (
            *standing.weights,
            *((standing.cargo,) if climb.cargo and standing.cargo else ()),
            *weights_of(design, climb, at),
        )
        work = prose(
            _share_lines,
            (float(climb.first_axle_mm[at]), design.deck_hinge.out_mm),
            *_of_balance(standing, weights, stance.wheels_n, support, share),
        )
        why = f"{standing.supports[support].name} has the least."
        finding = Measured(
            key="",
            subject=climb.words,
            value=share,
            working=work,
            text=f"{figures.percent(share)} left",
            why=why,
        )
    return _check("share", title, finding, limit, _of_empty(limit), "at least", "share")


def _share_lines(where: tuple[MM, MM], *balance: Any) -> Lines:
    return _where(*where), *_balance(*balance)


def _nod(climb: Climb) -> Array:
    return climb.stances.nod_rad


def _lean(climb: Climb) -> Array:
    return climb.stances.lean_rad


_TURNS: Final[tuple[tuple[str, str, Callable[[Climb], Array]], ...]] = (
    ("lean", "Deck's lean as users climb", _lean),
    ("nod", "Deck's nod as users climb", _nod),
)


def _turned(design: Design, standing: Standing, key: str, title: str, of: Callable[[Climb], Array]) -> Check:
    """Return the check of the greatest turn of the deck one way: the difference of two drops over their
    distance.
    """
    limit = design.carrier_body.lean_limit_deg
    tipping = next((climb for climb in standing.climbs if climb.tips), None)
    if tipping is not None:
        finding: Finding = Unjudged(key="", subject=tipping.words, why=_TIPS)
    else:
        climb = standing.most(lambda one: np.abs(of(one)))
        (at,) = greatest_at(np.abs(of(climb)))
        turn, drop = float(of(climb)[at]), float(climb.stances.edge_drop_mm[at])
        if key == "lean":
            apart = design.carrier.opening_width_mm
            ends, places = (drop + turn * apart / 2, drop - turn * apart / 2), ("on the left", "on the right")
        else:
            apart = design.carrier.deck_length_mm
            ends, places = (drop, drop - turn * apart), ("at the edge", "at the deck's far end")
        degrees = abs(math.degrees(turn))
        work = (
            _where(float(climb.first_axle_mm[at]), design.deck_hinge.out_mm),
            f"{key} = (drop {places[0]} − drop {places[1]}) / distance",
            f"= ({figures.number(ends[0], 2)} mm − {figures.number(ends[1], 2)} mm) / {figures.mm(apart)}",
            f"= {figures.number(turn, 5)} = {figures.number(math.degrees(turn), 2)}°",
        )
        finding = Measured(
            key="", subject=climb.words, value=degrees, working=work, text=f"{figures.number(degrees, 2)}°"
        )
    return _check(key, title, finding, limit, f"{figures.number(limit, 2)}°", "at most", "deg")


def _twist(design: Design, standing: Standing) -> Check:
    body = design.carrier_body
    limit, twisted = body.least_share_percent / 100, standing.worst_twist
    assert twisted is not None
    lowered, support = standing.supports[twisted.lowered].name, twisted.least
    work = prose(
        _twist_lines,
        (lowered, body.twist_mm),
        *_of_balance(standing, standing.weights, _plain(twisted.wheels_n), support, twisted.share),
    )
    finding = Measured(
        key="",
        subject=f"{figures.mm(body.twist_mm)} of twist, {lowered} low",
        value=twisted.share,
        working=work,
        text=f"{figures.percent(twisted.share)} left",
        why=f"{standing.supports[support].name} has the least.",
    )
    return _check(
        "twist",
        "Load left on every wheel on twisted ground",
        finding,
        limit,
        _of_empty(limit),
        "at least",
        "share",
    )


def _twist_lines(low: tuple[str, MM], *balance: Any) -> Lines:
    name, twist_mm = low
    return (
        (
            f"ground under {name} {figures.mm(twist_mm)} below the plane of the others, carrier"
            " empty, jacks up"
        ),
        *_balance(*balance),
    )


def _rocks(design: Design, standing: Standing) -> Check:
    """Return whether every support still carries some of the body on twisted ground: else it rocks on the
    others.
    """
    rocking = max(standing.twisted, key=lambda one: len(one.lifted))
    twist = figures.mm(design.carrier_body.twist_mm)
    if rocking.lifted:
        low = standing.supports[rocking.lowered].name
        work = (
            (
                f"with the ground under {low} {twist} low, {' and '.join(rocking.lifted)} carries nothing of"
                " the body"
            ),
        )
        why = (
            f"It rocks on the others, {low} or {rocking.lifted[0]} in the air. Softer springs or ballast cure"
            " that."
        )
    else:
        work, why = (
            (f"with the ground under any one support {twist} low, every support carries some of the body",),
            "",
        )
    finding = Measured(
        key="", subject=f"{twist} of twist", value=float(not rocking.lifted), working=work, why=why
    )
    return _check(
        "rocks",
        "Carrier rests on every support on twisted ground",
        finding,
        1.0,
        "demanded",
        "is",
        "yes/no",
        _STATICS,
    )


def _off_ground(design: Design, standing: Standing) -> Check:
    carrier = design.carrier
    room = carrier.deck_height_mm - carrier.end_depth_mm
    if standing.loaded_drop_mm is None:
        finding: Finding = Unjudged(
            key="", subject="deck loaded", why=f"{_TIPS} Heaviest user on the deck edge."
        )
    else:
        drop = standing.loaded_drop_mm
        cargo = f"cargo of {figures.number(design.carrier_body.cargo_kg)} kg and " if standing.cargo else ""
        work = (
            f"drop of the deck edge under {cargo}the heaviest user standing on it = {figures.mm(drop)}",
            (
                f"room = deck height, empty − end depth = {figures.mm(carrier.deck_height_mm)} −"
                f" {figures.mm(carrier.end_depth_mm)} = {figures.mm(room)}"
            ),
        )
        finding = Measured(key="", subject="deck loaded", value=drop, working=work)
    text = f"{figures.mm(room)}, then the carrier's end lies on the ground"
    return _check("drop", "Deck edge stays off the ground", finding, room, text, "at most", "mm", _STATICS)


def _of_balance(
    standing: Standing, weights: tuple[Weight, ...], wheels: tuple[N, ...], support: int, share: float
) -> tuple[Any, ...]:
    """Return what `_balance` is written of, where a share is left on a support."""
    backs = tuple(one.back_mm for one in standing.supports)
    empty = float(standing.empty_wheels_n[support])
    return weights, _names(standing), backs, wheels, (support, empty, share)


def _balance(
    weights: tuple[Weight, ...],
    names: tuple[str, ...],
    backs_mm: tuple[MM, ...],
    wheels_n: tuple[N, ...],
    left: tuple[int, N, float],
) -> Lines:
    """Return the equilibrium in lines: each weight and each support with its moment about the deck edge, the
    two sums, and what is left on a support of what it carries when empty.
    """
    total = sum(weight.force_n for weight in weights)
    moment = sum(weight.force_n * -weight.x_mm for weight in weights)
    held = sum(force * back for force, back in zip(wheels_n, backs_mm, strict=True))
    support, empty, share = left
    return (
        "distances back from the deck edge:",
        *(f"{weight.words}: {newton(weight.force_n)} x {_back(weight.x_mm)}" for weight in weights),
        *(
            f"{name}: {newton(force)} x {figures.mm(back)}"
            for name, back, force in zip(names, backs_mm, wheels_n, strict=True)
        ),
        f"sum of weights = {newton(total)}, of supports = {newton(sum(wheels_n))}",
        f"moments about the deck edge: weights {_metres(moment)}, supports {_metres(held)}",
        (
            f"{names[support]}: left / empty = {newton(wheels_n[support])} / {newton(empty)} ="
            f" {figures.percent(share)}"
        ),
    )


def _names(standing: Standing) -> tuple[str, ...]:
    return tuple(support.name for support in standing.supports)


def _plain(forces_n: Array) -> tuple[N, ...]:
    return tuple(forces_n.tolist())


def _moments(side: str, weights: tuple[tuple[Weight, MM], ...], total: float) -> tuple[str, ...]:
    lines = (
        f"{side}: {weight.words} {newton(weight.force_n)} x {figures.mm(arm)}" for weight, arm in weights
    )
    return (*lines, f"{side} in all = {_metres(total)}")


def _metres(moment_nmm: float) -> str:
    return f"{figures.number(moment_nmm / 1000, 0)} N m"


def _back(x_mm: MM) -> str:
    return figures.mm(-x_mm)


def _place(weight: Weight) -> str:
    along = (
        f"{_back(weight.x_mm)} behind the deck edge"
        if weight.x_mm <= 0
        else f"{figures.mm(weight.x_mm)} before the deck edge"
    )
    return along + (f", {figures.mm(weight.y_mm)} across" if weight.y_mm else "")


def _of_empty(limit: float) -> str:
    return f"{figures.percent(limit)} of what it carries when empty"


def _where(first_mm: MM, out_mm: MM) -> str:
    """Return in words where the first axle stands, from the deck hinge and how far out that is."""
    if first_mm >= 0:
        return f"first axle on the ramp, {figures.mm(first_mm)} from the deck hinge"
    back = -first_mm - out_mm
    return f"first axle {figures.mm(abs(back))} {'behind' if back >= 0 else 'before'} the deck edge"
