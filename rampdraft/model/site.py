"""Where the ramp is used: what it hangs on, and the places where it is put down."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, Words
from rampdraft.units import MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrier:
    """What the ramp hangs on."""

    deck_height_mm: Annotated[
        MM,
        Dim(
            label="Deck height, empty",
            unit="mm",
            low=50,
            high=2000,
            letter="H",
            help=(
                "Deck surface above the ground straight below the deck edge, nobody on board. Sets the"
                " gradient."
            ),
        ),
    ]
    deck_drop_mm: Annotated[
        MM,
        Dim(
            label="Drop when loaded",
            unit="mm",
            low=0,
            high=500,
            letter="D",
            help=(
                "How far the deck edge sinks with its load aboard and the heaviest user on its edge."
                " Measured on the carrier; 0 for a fixed floor. Where supports are described they say so"
                " instead."
            ),
        ),
    ]
    deck_length_mm: Annotated[
        MM,
        Dim(
            label="Deck length",
            unit="mm",
            low=100,
            high=20000,
            help="How far the floor runs back from the deck edge.",
            step=10,
        ),
    ]
    deck_thickness_mm: Annotated[
        MM,
        Dim(label="Deck thickness", unit="mm", low=5, high=500, help="Thickness of the floor at its edge."),
    ]
    opening_width_mm: Annotated[
        MM,
        Dim(
            label="Opening width",
            unit="mm",
            low=300,
            high=5000,
            letter="O",
            help="Clear width of the way in at the deck edge. The ramp must fit in it.",
        ),
    ]
    end_depth_mm: Annotated[
        MM,
        Dim(
            label="Depth of the carrier's end",
            unit="mm",
            low=5,
            high=2000,
            help=(
                "How far the carrier's end reaches down from the deck surface: chassis, bumper beam, stage"
                " front."
            ),
        ),
    ]
    end_setback_mm: Annotated[
        MM,
        Dim(
            label="Setback of the carrier's end",
            unit="mm",
            low=0,
            high=2000,
            help="How far the carrier's end below the floor stands back from the deck edge.",
        ),
    ]
    stow_height_mm: Annotated[
        MM,
        Dim(
            label="Room above deck, stowed",
            unit="mm",
            low=0,
            high=5000,
            help="Greatest height above the deck surface that the stowed ramp may reach.",
            step=10,
        ),
    ]
    stow_out_mm: Annotated[
        MM,
        Dim(
            label="Room outside, stowed",
            unit="mm",
            low=0,
            high=2000,
            help="How far the stowed ramp may stand out past the deck edge.",
        ),
    ]
    stow_in_mm: Annotated[
        MM,
        Dim(
            label="Room over deck, stowed",
            unit="mm",
            low=0,
            high=2000,
            help="How far the stowed ramp may stand in over the deck.",
        ),
    ]
    head_room_mm: Annotated[
        MM,
        Dim(
            label="Head room above deck",
            unit="mm",
            low=0,
            high=5000,
            help=(
                "Height above the deck surface of what hangs above the way in: a raised tailgate, a lintel, a"
                " roof; 0 for nothing."
            ),
            step=10,
        ),
    ] = 0.0


SiteKind = Literal["ground", "kerb", "platform"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Site:
    """A place where the ramp is put down, with its ground."""

    name: Annotated[str, Words(label="Name", help="What the place is called.", longest=60)]
    kind: Annotated[
        SiteKind,
        Choice(
            label="Ramp stands on",
            options=(
                ("ground", "ground or road"),
                ("kerb", "a kerb or pavement"),
                ("platform", "a platform or landing"),
            ),
            help="Some rules allow another gradient on a kerb or a platform.",
        ),
    ]
    ground_mm: Annotated[
        tuple[tuple[MM, MM], ...],
        Dim(
            label="Ground points",
            unit="mm",
            low=-20000,
            high=20000,
            help=(
                "Points (x, z) of the ground from the deck edge outward: x away from the deck, z up from the"
                " ground straight below the deck edge. The ground goes on level beyond both ends."
            ),
        ),
    ]
    cross_slope_percent: Annotated[
        float,
        Dim(
            label="Cross slope",
            unit="%",
            low=-20,
            high=20,
            step=0.1,
            help="How much the ground falls across the ramp, in per cent.",
        ),
    ] = 0.0
    ground_bears_kpa: Annotated[
        float,
        Dim(
            label="Ground bearing",
            unit="kPa",
            low=0,
            high=2000,
            step=5,
            help=(
                "Pressure that the ground bears under toe and prop; 0 for hard ground: concrete, stone or a"
                " deck, which is not judged. Soft clay bears less than 75 kPa, firm clay and grass on firm"
                " soil 75 to 150 kPa (presumed values, to be tried)."
            ),
        ),
    ] = 0.0
