"""What belongs to a leaf's ends: prop, toe, bridge plate."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, SectionChoice, Switch
from rampdraft.model.section import Section
from rampdraft.units import DEG, MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Prop:
    """A loose leg put under the joint. It is carried apart, so it takes no part in the fold."""

    fitted: Annotated[
        bool, Switch(label="Prop under the joint", help="A leg that carries the joint when deployed.")
    ]
    section: Annotated[Section, SectionChoice(label="Prop section", help="Section of the leg.")]
    shortest_mm: Annotated[
        MM, Dim(label="Prop, shortest", unit="mm", low=20, high=3000, help="Shortest setting of the leg.")
    ]
    longest_mm: Annotated[
        MM, Dim(label="Prop, longest", unit="mm", low=20, high=3000, help="Longest setting of the leg.")
    ]
    foot_mm: Annotated[
        MM, Dim(label="Prop foot", unit="mm", low=10, high=600, help="Side of the square foot plate.")
    ]


ToeKind = Literal["plain", "taper", "flap"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Toe:
    """The free end on the ground."""

    kind: Annotated[
        ToeKind,
        Choice(
            label="Toe",
            options=(("plain", "plain"), ("taper", "tapered rails"), ("flap", "hinged flap")),
            help="How the running surface comes down to the ground.",
        ),
    ]
    length_mm: Annotated[
        MM,
        Dim(
            label="Toe length",
            unit="mm",
            low=10,
            high=1000,
            letter="t",
            help="Length of the flap, or of the taper of the rails.",
        ),
    ]
    thickness_mm: Annotated[
        MM,
        Dim(
            label="Toe thickness",
            unit="mm",
            low=1,
            high=60,
            step=0.5,
            help=(
                "Thickness of the flap, or what a taper leaves of the rail at its tip. It is the step a small"
                " wheel meets."
            ),
        ),
    ]
    carried_deg: Annotated[
        DEG,
        Dim(
            label="Flap carried at",
            unit="deg",
            low=-180,
            high=180,
            help=(
                "Angle of the flap to the outer leaf while folding: 0 straight on, 180 turned back on the"
                " running surface."
            ),
        ),
    ]
    closed: Annotated[
        bool,
        Switch(
            label="Taper closed underneath",
            help=(
                "A plate of the wall's thickness is welded into the open underside of tapered box rails: open"
                " they are weak."
            ),
        ),
    ] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgePlate:
    """A plate hinged on the deck that covers the gap to the inner leaf and rides on it."""

    fitted: Annotated[
        bool, Switch(label="Bridge plate", help="A plate over the gap between deck and inner leaf.")
    ]
    length_mm: Annotated[
        MM, Dim(label="Bridge plate length", unit="mm", low=20, high=1000, help="Along the ramp.")
    ]
    over_deck_mm: Annotated[
        MM,
        Dim(
            label="Bridge plate over deck",
            unit="mm",
            low=0,
            high=900,
            help="How much of it lies on the deck.",
        ),
    ]
    thickness_mm: Annotated[
        MM,
        Dim(
            label="Bridge plate thickness",
            unit="mm",
            low=1,
            high=30,
            step=0.5,
            help="It is a step on the deck side.",
        ),
    ]
