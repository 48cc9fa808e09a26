"""What the workings of the carrier share: places, moments, the equilibrium, the sources of their limits."""

from typing import Final

from rampdraft import figures
from rampdraft.checks.result import Source
from rampdraft.figures import mm, newton
from rampdraft.mechanics.carrier.results import Climb, Weight
from rampdraft.model.design import Design, Support
from rampdraft.prose import Lines
from rampdraft.units import NMM, N

DEMANDED: Final = Source(
    rule_set="own",
    title="Demanded in the design",
    clause="",
    publication="as given under Supports and Carrier's weight",
)
STATICS: Final = Source(
    rule_set="own", title="A carrier that stands", clause="", publication="statics of a rigid body"
)

TIPS: Final = "The carrier tips, so no figure of it standing means anything."


def metres(moment: NMM) -> str:
    """Return a moment in whole N m."""
    return figures.figure(moment / 1000, "N m", 0)


def place_of(weight: Weight) -> str:
    """Return in words where a weight acts."""
    behind = weight.x_mm <= 0
    along = f"{mm(abs(weight.x_mm))} {'behind' if behind else 'before'} the deck edge"
    return along + (f", {mm(weight.y_mm)} across" if weight.y_mm else "")


def where(design: Design, climb: Climb, at: int) -> str:
    """Return in words where the first axle stands at a position of a climb."""
    first = float(climb.first_axle_mm[at])
    if first >= 0:
        return f"first axle on the ramp, {mm(first)} from the deck hinge"
    back = -first - design.deck_hinge.out_mm
    return f"first axle {mm(abs(back))} {'behind' if back >= 0 else 'before'} the deck edge"


def balance_lines(supports: tuple[Support, ...], weights: tuple[Weight, ...], wheels: tuple[N, ...]) -> Lines:
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
        f"moments about the deck edge: weights {metres(moment)}, supports {metres(held)}",
    )
