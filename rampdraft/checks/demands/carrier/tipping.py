"""Whether the carrier tips, with the moments about a line of supports as drawn up by hand."""

import math

from rampdraft.checks.demands.carrier.working import STATICS, metres, where
from rampdraft.checks.result import Check, Demand, compose
from rampdraft.checks.subjects import Measured
from rampdraft.figures import mm, newton, percent
from rampdraft.mechanics.carrier.results import Standing, TippingLine, Weight
from rampdraft.mechanics.carrier.standing import tipping_line, weights_of
from rampdraft.model.design import Design
from rampdraft.prose import Lines, prose
from rampdraft.rounding import greatest_at
from rampdraft.units import MM, NMM


def tips(design: Design, standing: Standing) -> Check:
    """Return the tipping check: the moments of all weights about the line of two supports, beyond it against
    inside it.
    """
    climb = standing.most_overturning
    (at,) = greatest_at(climb.overturning)
    line = tipping_line(standing, weights_of(design, climb, at), cargo=climb.cargo)
    ratio = line.overturning_nmm / line.righting_nmm if line.righting_nmm else math.inf
    finite = math.isfinite(ratio)
    finding = Measured(
        key="",
        subject=climb.words,
        value=ratio,
        working=prose(_lines, line, where(design, climb, at)),
        text=f"{percent(ratio)} of the righting moment" if finite else "nothing holds it down",
        why=f"It tips over {_named(line)}." if ratio >= 1 else "",
    )
    limit = "100 % of the righting moment"
    return compose(
        Demand.own("carrier-tips", "Carrier does not tip", "at most", "share", 1.0, limit, STATICS), finding
    )


def _named(line: TippingLine) -> str:
    return f"the line through {line.names[0]} and {line.names[1]}"


def _lines(line: TippingLine, place: str) -> Lines:
    over, holds = line.overturning_nmm, line.righting_nmm
    return (
        f"moments about {_named(line)}, {place}",
        *_moments("beyond it", line.overturning, over),
        *_moments("inside it", line.righting, holds),
        f"overturning / righting = {metres(over)} / {metres(holds)}"
        + (f" = {percent(over / holds)}" if holds else ""),
    )


def _moments(side: str, weights: tuple[tuple[Weight, MM], ...], total: NMM) -> Lines:
    lines = (f"{side}: {weight.words} {newton(weight.force_n)} x {mm(arm)}" for weight, arm in weights)
    return (*lines, f"{side} in all = {metres(total)}")
