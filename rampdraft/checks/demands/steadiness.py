"""Whether the carrier stands steadily on its supports: at all, against tipping, by what is left on each of
them, and how far it turns.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final, Literal

import numpy as np

from rampdraft.checks.result import Check, Demand, Finding, Measured, Source, Subjects, Unjudged, compose
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
from rampdraft.units import MM, NMM, RAD, Array, N
from rampdraft.words.figures import degrees, figure, mm, newton, number, one_in, percent
from rampdraft.words.prose import Lines, prose, stated
from rampdraft.words.say import say


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
    along = say(
        "{far} behind the deck edge" if behind else "{far} before the deck edge", far=mm(abs(weight.x_mm))
    )
    return f"{along}, {say('{far} across', far=mm(weight.y_mm))}" if weight.y_mm else along


def _where(design: Design, climb: Climb, at: int) -> str:
    first, grade = float(climb.first_axle_mm[at]), float(climb.grade[at])
    on = say(
        "forwards, ramp {grade}" if climb.forwards[at] else "backwards, ramp {grade}", grade=one_in(grade)
    )
    if first >= 0:
        return say("{ramp}: first axle on the ramp, {far} from the deck hinge", ramp=on, far=mm(first))
    back = -first - design.deck_hinge.out_mm
    return say(
        "{ramp}: first axle {far} behind the deck edge"
        if back >= 0
        else "{ramp}: first axle {far} before the deck edge",
        ramp=on,
        far=mm(abs(back)),
    )


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
        say("distances back from the deck edge:"),
        *(f"{weight.words}: {newton(weight.force_n)} x {mm(-weight.x_mm)}" for weight in weights),
        *(
            f"{support.name}: {newton(force)} x {mm(support.back_mm)}"
            for support, force in zip(supports, wheels, strict=True)
        ),
        say(
            "sum of weights = {weights}, of supports = {supports}",
            weights=newton(total),
            supports=newton(sum(wheels)),
        ),
        say(
            "moments about the deck edge: weights {weights}, supports {supports}",
            weights=_metres(moment),
            supports=_metres(held),
        ),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Left:
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
        """Return what is found of it."""
        return Measured(
            key="",
            subject=subject,
            value=self.share,
            working=prose(Left.lines, self),
            text=say("{share} left", share=percent(self.share)),
            why=say("{support} has the least.", support=self.supports[self.least].name),
        )

    def lines(self) -> Lines:
        """Write the equilibrium."""
        left = f"{newton(self.wheels_n[self.least])} / {newton(self.empty_n)}"
        name = self.supports[self.least].name
        return (
            self.case,
            *_balance_lines(self.supports, self.weights, self.wheels_n),
            say(
                "{support}: left / empty = {left} = {share}",
                support=name,
                left=left,
                share=percent(self.share),
            ),
        )


def share_demand(name: str, title: str, design: Design) -> Demand:
    """Return what is asked of the share that each support keeps."""
    limit = design.carrier_body.least_share_percent / 100
    return Demand.own(
        f"carrier-{name}",
        title,
        "at least",
        "share",
        limit,
        say("{share} of what it carries when empty", share=percent(limit)),
        DEMANDED,
    )


def _share_left(design: Design, standing: Standing, climb: Climb) -> Check:
    stance = None if climb.tips else climb.stance(climb.worst)
    if stance is None:
        finding: Finding = Measured(
            key="",
            subject=climb.words,
            value=0.0,
            working=prose(_tipped_lines),
            text=say("none"),
            why=say("The carrier tips."),
        )
    else:
        cargo = (standing.cargo,) if climb.cargo and standing.cargo else ()
        finding = Left(
            case=_where(design, climb, climb.worst),
            supports=standing.supports,
            weights=(*standing.weights, *cargo, *weights_of(design, climb, climb.worst)),
            wheels_n=stance.wheels_n,
            least=stance.least,
            empty_n=float(standing.empty_wheels_n[stance.least]),
            share=stance.share,
        ).found(climb.words)
    return compose(share_demand("share", say("Least wheel load while boarding"), design), finding)


def _tipped_lines() -> Lines:
    return (say(TIPS),)


def _stands(standing: CarrierStanding) -> Check:
    if isinstance(standing, CannotStand):
        why = f"{standing.why[0].upper()}{standing.why[1:]}: {standing.way_out}."
        finding = Measured(key="", subject=say("carrier empty"), value=0.0, working=stated(why), why=why)
    else:
        pushes, wheels = standing.empty_push_n.tolist(), standing.empty_wheels_n.tolist()
        carried = tuple(zip(standing.supports, pushes, wheels, strict=True))
        finding = Measured(
            key="",
            subject=say("carrier empty"),
            value=1.0,
            working=prose(_stands_lines, standing.weights, carried),
        )
    return compose(
        Demand.own(
            "carrier-stands",
            say("Carrier stands on its supports"),
            "is",
            "yes/no",
            1.0,
            say("stands on them"),
            STATICS,
        ),
        finding,
    )


def _stands_lines(weights: tuple[Weight, ...], carried: tuple[tuple[Support, N, N], ...]) -> Lines:
    whole, pressed = sum(weight.force_n for weight in weights), sum(wheel for _, _, wheel in carried)
    return (
        *(f"{weight.words}: {newton(weight.force_n)}, {_place_of(weight)}" for weight in weights),
        *(
            f"{support.name}: {newton(push)}"
            + (
                f", {say('with what is below its spring {force} on the ground', force=newton(wheel))}"
                if wheel > push
                else ""
            )
            for support, push, wheel in carried
        ),
        say(
            "on the ground in all = {pressed}, all weights = {whole}",
            pressed=newton(pressed),
            whole=newton(whole),
        ),
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
            say("Carrier does not tip"),
            "at most",
            "share",
            1.0,
            say("100 % of the righting moment"),
            STATICS,
        ),
        Measured(
            key="",
            subject=climb.words,
            value=ratio,
            working=prose(_tips_lines, line, _where(design, climb, at)),
            text=say("{share} of the righting moment", share=percent(ratio))
            if finite
            else say("nothing holds it down"),
            why=say("It tips over {line}.", line=_line_words(line)) if ratio >= 1 else "",
        ),
    )


def _line_words(line: TippingLine) -> str:
    return say("the line through {one} and {other}", one=line.names[0], other=line.names[1])


def _tips_lines(line: TippingLine, place: str) -> Lines:
    over, holds = line.overturning_nmm, line.righting_nmm
    return (
        say("moments about {line}, {place}", line=_line_words(line), place=place),
        *_moments(say("beyond it"), line.overturning, over),
        *_moments(say("inside it"), line.righting, holds),
        say("overturning / righting = {over} / {holds}", over=_metres(over), holds=_metres(holds))
        + (f" = {percent(over / holds)}" if holds else ""),
    )


def _moments(side: str, weights: tuple[tuple[Weight, MM], ...], total: NMM) -> Lines:
    lines = (f"{side}: {weight.words} {newton(weight.force_n)} x {mm(arm)}" for weight, arm in weights)
    return (*lines, say("{side} in all = {moment}", side=side, moment=_metres(total)))


Turn = Literal["lean", "nod"]


def _turned(design: Design, standing: Standing, tipping: Climb | None, turn: Turn) -> Check:
    """Return the check of the greatest turn of the deck one way: the difference of two drops over their
    distance.
    """
    limit = design.carrier_body.lean_limit_deg
    if tipping is not None:
        finding: Finding = Unjudged(key="", subject=tipping.words, why=say(TIPS))
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
            say("Deck's lean as users climb" if turn == "lean" else "Deck's nod as users climb"),
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
    down, up = drop, drop - angle * apart
    if turn == "lean":
        down, up = drop + angle * apart / 2, drop - angle * apart / 2
    return (
        place,
        say(
            "lean = (drop on the left − drop on the right) / distance"
            if turn == "lean"
            else "nod = (drop at the edge − drop at the deck's far end) / distance"
        ),
        f"= ({figure(down, 'mm', 2)} − {figure(up, 'mm', 2)}) / {mm(apart)}",
        f"= {number(angle, 5)} = {degrees(math.degrees(angle))}",
    )
