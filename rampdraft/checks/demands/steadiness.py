"""Whether the carrier stands steadily on its supports: at all, against tipping, by what is left on each of
them, and how far it turns.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rampdraft.checks.result import Check, Demand, Finding, Measured, Source, Subjects, Unjudged, compose
from rampdraft.geometry.linkage import edge_height_mm
from rampdraft.mechanics.carrier.results import (
    CannotStand,
    CarrierStanding,
    Climb,
    Standing,
    TippingLine,
    Weight,
)
from rampdraft.mechanics.carrier.standing import tipping_line, weights_of
from rampdraft.model.design import Design, Support
from rampdraft.rounding import greatest_at
from rampdraft.units import KG, MM, NMM, RAD, Array, N
from rampdraft.words.figures import degrees, figure, kg, mm, newton, number, one_in, percent
from rampdraft.words.prose import Lines, prose, stated


def steadiness_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the carrier stands on its supports, and how steadily as users climb; nothing where no
    supports are described.
    """
    design, standing = subjects.design, subjects.standing
    if standing is None:
        return
    yield _stands(standing)
    if isinstance(standing, CannotStand):
        return
    yield _tips(design, standing)
    yield _share_left(design, standing, standing.worst_climb)
    tipping = next((climb for climb in standing.climbs if climb.tips), None)
    yield _turned(design, standing, tipping, "lean")
    yield _turned(design, standing, tipping, "nod")


def unladen_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the checks of the carrier on its supports for which nobody has to climb."""
    design, standing = subjects.design, subjects.unladen
    if not isinstance(standing, Standing):
        return
    if standing.twisted:
        yield _twist(design, standing)
        yield _rocks(design, standing)
    yield _off_ground(design, standing)


DEMANDED: Final = Source(
    rule_set="own",
    title="As given in the design",
    clause="",
    publication="as given under Supports and Carrier's weight",
)
STATICS: Final = Source(
    rule_set="own", title="A carrier that stands", clause="", publication="statics of a rigid body"
)

TIPS: Final = "The carrier tips, so no figure of it standing means anything."


def _metres(moment: NMM) -> str:
    return figure(moment / 1000, "N m", 0)


def _place_of(weight: Weight) -> str:
    behind = weight.x_mm <= 0
    along = f"{mm(abs(weight.x_mm))} {'behind' if behind else 'before'} the deck edge"
    return along + (f", {mm(weight.y_mm)} across" if weight.y_mm else "")


def _where(design: Design, climb: Climb, at: int) -> str:
    first, grade = float(climb.first_axle_mm[at]), float(climb.grade[at])
    round_ = ("forwards" if climb.forwards[at] else "backwards") + f", ramp {one_in(grade)}"
    if first >= 0:
        return f"{round_}: first axle on the ramp, {mm(first)} from the deck hinge"
    back = -first - design.deck_hinge.out_mm
    return f"{round_}: first axle {mm(abs(back))} {'behind' if back >= 0 else 'before'} the deck edge"


def _balance_lines(
    supports: tuple[Support, ...], weights: tuple[Weight, ...], wheels: tuple[N, ...]
) -> Lines:
    """Return the equilibrium in lines: each weight and each support with its moment about the deck edge, and
    the two sums.
    """
    total = sum(weight.force_n for weight in weights)
    moment = sum(weight.force_n * -weight.x_mm for weight in weights)
    held = sum(force * support.back_mm for force, support in zip(wheels, supports, strict=True))
    return (
        "distances back from the deck edge:",
        *(f"{weight.words}: {newton(weight.force_n)} x {mm(-weight.x_mm)}" for weight in weights),
        *(
            f"{support.name}: {newton(force)} x {mm(support.back_mm)}"
            for support, force in zip(supports, wheels, strict=True)
        ),
        f"sum of weights = {newton(total)}, of supports = {newton(sum(wheels))}",
        f"moments about the deck edge: weights {_metres(moment)}, supports {_metres(held)}",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Left:
    """The support with the least share left, in the equilibrium that leaves it so."""

    case: str
    """What has come about, in words."""
    supports: tuple[Support, ...]
    weights: tuple[Weight, ...]
    wheels_n: tuple[N, ...]
    least: int
    empty_n: N
    share: float

    def found(self, subject: str) -> Measured:
        return Measured(
            key="",
            subject=subject,
            value=self.share,
            working=prose(_Left.lines, self),
            text=f"{percent(self.share)} left",
            why=f"{self.supports[self.least].name} has the least.",
        )

    def lines(self) -> Lines:
        left = f"{newton(self.wheels_n[self.least])} / {newton(self.empty_n)}"
        name = self.supports[self.least].name
        return (
            self.case,
            *_balance_lines(self.supports, self.weights, self.wheels_n),
            f"{name}: left / empty = {left} = {percent(self.share)}",
        )


def _demand(name: str, title: str, design: Design) -> Demand:
    limit = design.carrier_body.least_share_percent / 100
    return Demand.own(
        f"carrier-{name}",
        title,
        "at least",
        "share",
        limit,
        f"{percent(limit)} of what it carries when empty",
        DEMANDED,
    )


def _share_left(design: Design, standing: Standing, climb: Climb) -> Check:
    stance = None if climb.tips else climb.stance(climb.worst)
    if stance is None:
        finding: Finding = Measured(
            key="", subject=climb.words, value=0.0, working=stated(TIPS), text="none", why="The carrier tips."
        )
    else:
        cargo = (standing.cargo,) if climb.cargo and standing.cargo else ()
        finding = _Left(
            case=_where(design, climb, climb.worst),
            supports=standing.supports,
            weights=(*standing.weights, *cargo, *weights_of(design, climb, climb.worst)),
            wheels_n=stance.wheels_n,
            least=stance.least,
            empty_n=float(standing.empty_wheels_n[stance.least]),
            share=stance.share,
        ).found(climb.words)
    return compose(_demand("share", "Least wheel load while boarding", design), finding)


def _twist(design: Design, standing: Standing) -> Check:
    low, twisted = mm(design.carrier_body.twist_mm), standing.worst_twist
    assert twisted is not None
    lowered = standing.supports[twisted.lowered].name
    left = _Left(
        case=f"ground under {lowered} {low} below the plane of the others, carrier empty, jacks up",
        supports=standing.supports,
        weights=standing.weights,
        wheels_n=tuple(twisted.wheels_n.tolist()),
        least=twisted.least,
        empty_n=float(standing.empty_wheels_n[twisted.least]),
        share=twisted.share,
    )
    return compose(
        _demand("twist", "Least wheel load on uneven ground", design),
        left.found(f"{low} of twist, {lowered} low"),
    )


def _rocks(design: Design, standing: Standing) -> Check:
    """Return whether every support still carries some of the body on twisted ground: else it rocks on the
    others.
    """
    rocking = max(standing.twisted, key=lambda one: len(one.lifted))
    low, lifted = standing.supports[rocking.lowered].name, rocking.lifted
    cure = "Softer springs or ballast cure that."
    return compose(
        Demand.own(
            "carrier-rocks",
            "Carrier rests on every support on twisted ground",
            "is",
            "yes/no",
            1.0,
            "every support carries some",
            STATICS,
        ),
        Measured(
            key="",
            subject=f"{mm(design.carrier_body.twist_mm)} of twist",
            value=float(not lifted),
            working=prose(_rocks_lines, design.carrier_body.twist_mm, low, lifted),
            why=f"It rocks on the others, {low} or {lifted[0]} in the air. {cure}" if lifted else "",
        ),
    )


def _rocks_lines(twist: MM, low: str, lifted: tuple[str, ...]) -> Lines:
    if lifted:
        under = f"with the ground under {low} {mm(twist)} low"
        return (f"{under}, {' and '.join(lifted)} carries nothing of the body",)
    under = f"with the ground under any one support {mm(twist)} low"
    return (f"{under}, every support carries some of the body",)


def _stands(standing: CarrierStanding) -> Check:
    if isinstance(standing, CannotStand):
        why = f"{standing.why[0].upper()}{standing.why[1:]}: {standing.way_out}."
        finding = Measured(key="", subject="carrier empty", value=0.0, working=stated(why), why=why)
    else:
        pushes, wheels = standing.empty_push_n.tolist(), standing.empty_wheels_n.tolist()
        carried = tuple(zip(standing.supports, pushes, wheels, strict=True))
        finding = Measured(
            key="",
            subject="carrier empty",
            value=1.0,
            working=prose(_stands_lines, standing.weights, carried),
        )
    return compose(
        Demand.own(
            "carrier-stands", "Carrier stands on its supports", "is", "yes/no", 1.0, "stands on them", STATICS
        ),
        finding,
    )


def _stands_lines(weights: tuple[Weight, ...], carried: tuple[tuple[Support, N, N], ...]) -> Lines:
    whole, pressed = sum(weight.force_n for weight in weights), sum(wheel for _, _, wheel in carried)
    return (
        *(f"{weight.words}: {newton(weight.force_n)}, {_place_of(weight)}" for weight in weights),
        *(
            f"{support.name}: {newton(push)}"
            + (f", with what is below its spring {newton(wheel)} on the ground" if wheel > push else "")
            for support, push, wheel in carried
        ),
        f"on the ground in all = {newton(pressed)}, all weights = {newton(whole)}",
    )


def _off_ground(design: Design, standing: Standing) -> Check:
    carrier, drop = design.carrier, standing.loaded_drop_mm
    room = edge_height_mm(design) - carrier.end_depth_mm
    if drop is None:
        finding: Finding = Unjudged(
            key="", subject="deck loaded", why=f"{TIPS} Heaviest user on the deck edge."
        )
    else:
        cargo = design.carrier_body.cargo_kg if standing.cargo else 0.0
        finding = Measured(
            key="",
            subject="deck loaded",
            value=drop,
            working=prose(_drop_lines, drop, cargo, carrier.deck_height_mm, carrier.end_depth_mm),
        )
    return compose(
        Demand.own(
            "carrier-drop",
            "Deck edge stays off the ground",
            "at most",
            "mm",
            room,
            f"{mm(room)}, then the carrier's end lies on the ground",
            STATICS,
        ),
        finding,
    )


def _drop_lines(drop: MM, cargo: KG, height: MM, depth: MM) -> Lines:
    aboard = f"cargo of {kg(cargo)} and " if cargo else ""
    return (
        f"drop of the deck edge under {aboard}the heaviest user standing on it = {mm(drop)}",
        f"room = deck height, empty − end depth = {mm(height)} − {mm(depth)} = {mm(height - depth)}",
    )


def _tips(design: Design, standing: Standing) -> Check:
    """Return the tipping check: the moments of all weights about the line of two supports, beyond it against
    inside it.
    """
    climb = standing.most_overturning
    (at,) = greatest_at(climb.overturning)
    line = tipping_line(standing, weights_of(design, climb, at), cargo=climb.cargo)
    ratio = line.overturning_nmm / line.righting_nmm if line.righting_nmm else math.inf
    finite = math.isfinite(ratio)
    return compose(
        Demand.own(
            "carrier-tips",
            "Carrier does not tip",
            "at most",
            "share",
            1.0,
            "100 % of the righting moment",
            STATICS,
        ),
        Measured(
            key="",
            subject=climb.words,
            value=ratio,
            working=prose(_tips_lines, line, _where(design, climb, at)),
            text=f"{percent(ratio)} of the righting moment" if finite else "nothing holds it down",
            why=f"It tips over {_named(line)}." if ratio >= 1 else "",
        ),
    )


def _named(line: TippingLine) -> str:
    return f"the line through {line.names[0]} and {line.names[1]}"


def _tips_lines(line: TippingLine, place: str) -> Lines:
    over, holds = line.overturning_nmm, line.righting_nmm
    return (
        f"moments about {_named(line)}, {place}",
        *_moments("beyond it", line.overturning, over),
        *_moments("inside it", line.righting, holds),
        f"overturning / righting = {_metres(over)} / {_metres(holds)}"
        + (f" = {percent(over / holds)}" if holds else ""),
    )


def _moments(side: str, weights: tuple[tuple[Weight, MM], ...], total: NMM) -> Lines:
    lines = (f"{side}: {weight.words} {newton(weight.force_n)} x {mm(arm)}" for weight, arm in weights)
    return (*lines, f"{side} in all = {_metres(total)}")


Turn = Literal["lean", "nod"]


def _turned(design: Design, standing: Standing, tipping: Climb | None, turn: Turn) -> Check:
    """Return the check of the greatest turn of the deck one way: the difference of two drops over their
    distance.
    """
    limit = design.carrier_body.lean_limit_deg
    if tipping is not None:
        finding: Finding = Unjudged(key="", subject=tipping.words, why=TIPS)
    else:
        climb = standing.most(lambda one: np.abs(_turns(one, turn)))
        (at,) = greatest_at(np.abs(_turns(climb, turn)))
        angle, drop = float(_turns(climb, turn)[at]), float(climb.stances.edge_drop_mm[at])
        carrier = design.carrier
        apart = carrier.opening_width_mm if turn == "lean" else carrier.deck_length_mm
        finding = Measured(
            key="",
            subject=climb.words,
            value=abs(math.degrees(angle)),
            working=prose(_turned_lines, _where(design, climb, at), turn, drop, angle, apart),
            text=degrees(abs(math.degrees(angle))),
        )
    return compose(
        Demand.own(
            f"carrier-{turn}",
            f"Deck's {turn} as users climb",
            "at most",
            "deg",
            limit,
            degrees(limit),
            DEMANDED,
        ),
        finding,
    )


def _turns(climb: Climb, turn: Turn) -> Array:
    return climb.stances.lean_rad if turn == "lean" else climb.stances.nod_rad


def _turned_lines(place: str, turn: Turn, drop: MM, angle: RAD, apart: MM) -> Lines:
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
