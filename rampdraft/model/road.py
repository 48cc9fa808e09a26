"""Who folds the ramp, and what holds it while it travels and while it is used."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, Switch
from rampdraft.units import MM, N

CarrierEnd = Literal["rear", "front", "side"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Hands:
    """Who folds and unfolds the ramp, and what catches it when they let go."""

    people: Annotated[
        int,
        Dim(label="People", unit="", low=1, high=6, help="How many are at hand to fold and unfold it."),
    ] = 2
    person_n: Annotated[
        N,
        Dim(
            label="A person lifts",
            unit="N",
            low=10,
            high=500,
            step=10,
            help=(
                "What one person lifts without strain, both hands at the best height: by HSE's guideline 250"
                " N of men, 160 N of women. Twice that is the most that is let pass."
            ),
        ),
    ] = 250.0
    stay: Annotated[
        bool,
        Switch(
            label="Damper or stay",
            help="A damper, stay or check rope stops the ramp, or lets it down slowly, when it is let go.",
        ),
    ] = False


TWO_PEOPLE = Hands()
"""What a design that says nothing of who folds it has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Road:
    """What shakes the stowed ramp, and what holds it; what holds the carrier while people roll over it."""

    end: Annotated[
        CarrierEnd,
        Choice(
            label="Ramp hangs on the",
            options=(("rear", "rear end"), ("front", "front end"), ("side", "side")),
            help="Of the carrier as it travels: it says which way braking throws the stowed ramp.",
        ),
    ] = "rear"
    forward_g: Annotated[
        float,
        Dim(
            label="Braking",
            unit="g",
            low=0,
            high=3,
            step=0.1,
            help=(
                "What throws the stowed ramp forward: 0.8 g on the road by EN 12195-1. A slower carrier may"
                " state its own; 0 for one that never travels."
            ),
        ),
    ] = 0.8
    backward_g: Annotated[
        float,
        Dim(
            label="Pulling away",
            unit="g",
            low=0,
            high=3,
            step=0.1,
            help="What throws it backward: 0.5 g on the road by EN 12195-1.",
        ),
    ] = 0.5
    sideways_g: Annotated[
        float,
        Dim(
            label="Cornering",
            unit="g",
            low=0,
            high=3,
            step=0.1,
            help="What throws it sideways: 0.5 g on the road by EN 12195-1.",
        ),
    ] = 0.5
    wind_m_s: Annotated[
        float,
        Dim(
            label="Wind",
            unit="m/s",
            low=0,
            high=80,
            help=(
                "Greatest speed of the air past the stowed ramp, of travel and wind together: 30 is 80 km/h"
                " against a strong breeze. 0 indoors."
            ),
        ),
    ] = 30.0
    latch_at_mm: Annotated[
        MM,
        Dim(
            label="Latches at",
            unit="mm",
            low=0,
            high=6500,
            step=10,
            help=(
                "Where the stow latches hold, from the deck hinge along the inner leaf, and from the joint"
                " along the outer one; 0 for the leaf's far end."
            ),
        ),
    ] = 0.0
    latch_n: Annotated[
        N,
        Dim(
            label="Stow latch",
            unit="N",
            low=0,
            high=50000,
            step=100,
            help=(
                "Working load, as marked, of what holds the stowed ramp to the carrier, and the outer leaf to"
                " the inner one, both ways; 0 for none."
            ),
        ),
    ] = 0.0
    second_n: Annotated[
        N,
        Dim(
            label="Second lock",
            unit="N",
            low=0,
            high=50000,
            step=100,
            help="Working load of what holds each of them alone when its latch comes undone; 0 for none.",
        ),
    ] = 0.0
    held_n: Annotated[
        N,
        Dim(
            label="Carrier held",
            unit="N",
            low=0,
            high=100000,
            step=100,
            help=(
                "Force along the ground that brake, chocks or mooring of the carrier hold while people roll"
                " over it; 0 for nothing, or for a floor that cannot move."
            ),
        ),
    ] = 0.0


ON_THE_ROAD = Road()
"""What a design that says nothing of its travel has."""
