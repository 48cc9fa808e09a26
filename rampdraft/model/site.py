"""Where the ramp is used and by whom: what it hangs on, the places where it is put down, who rolls over it,
how heavy, and by which rules it is judged.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, Words
from rampdraft.units import KG, MM


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
            label="End depth",
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
            label="End set back",
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
            label="Ground bears",
            unit="kPa",
            low=0,
            high=2000,
            step=5,
            help=(
                "Pressure that the ground bears under toe and prop; 0 for concrete, stone or a deck, which is"
                " not judged. Soft clay bears less than 75 kPa, firm clay and grass on firm soil 75 to 150"
                " kPa (presumed values, to be tried)."
            ),
        ),
    ] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class WheeledUser:
    """Who or what rolls over the ramp."""

    name: Annotated[str, Words(label="Name", help="Name of the user.", longest=60)]
    kind: Annotated[
        Literal["manual wheelchair", "powered wheelchair", "scooter", "pushchair", "barrow"],
        Choice(
            label="Class",
            options=tuple(
                (word, word)
                for word in ("manual wheelchair", "powered wheelchair", "scooter", "pushchair", "barrow")
            ),
            help="Class of wheeled user.",
        ),
    ]
    mass_kg: Annotated[KG, Dim(label="Mass", unit="kg", low=1, high=600, help="With occupant or load.")]
    width_mm: Annotated[
        MM, Dim(label="Width", unit="mm", low=100, high=1500, help="Overall width with hands and elbows.")
    ]
    attendant_kg: Annotated[
        KG,
        Dim(label="Attendant", unit="kg", low=0, high=200, help="Mass of the person who pushes; 0 for none."),
    ] = 0.0
    wheelbase_mm: Annotated[
        MM,
        Dim(
            label="Wheelbase",
            unit="mm",
            low=100,
            high=3000,
            step=10,
            help="From the front axle to the rear one; of a barrow, from the wheel to the hands.",
        ),
    ] = 450.0
    front_share_percent: Annotated[
        float,
        Dim(
            label="Share on the front axle",
            unit="%",
            low=0,
            high=100,
            help=(
                "How much of the mass the front axle carries on the level; the rear axle, or the feet behind"
                " a barrow, has the rest."
            ),
        ),
    ] = 40.0
    middle_share_percent: Annotated[
        float,
        Dim(
            label="Share on a middle axle",
            unit="%",
            low=0,
            high=100,
            help="Of a chair that its middle wheels drive; 0 for none.",
        ),
    ] = 0.0
    middle_behind_mm: Annotated[
        MM,
        Dim(
            label="Middle axle behind",
            unit="mm",
            low=0,
            high=3000,
            step=10,
            help="From the front axle to the middle one, where there is one.",
        ),
    ] = 0.0
    mass_centre_height_mm: Annotated[
        MM,
        Dim(
            label="Mass centre height",
            unit="mm",
            low=0,
            high=2000,
            step=10,
            help=(
                "Of user and wheels above the surface: on a slope it moves load to the lower axle. 0 for what"
                " is usual: 650 in a chair or on a scooter, 500 of a pushchair or barrow."
            ),
        ),
    ] = 0.0
    front_track_mm: Annotated[
        MM,
        Dim(
            label="Front track",
            unit="mm",
            low=0,
            high=1500,
            help="Between the middles of the front wheels; 0 for a single one.",
        ),
    ] = 500.0
    rear_track_mm: Annotated[
        MM,
        Dim(
            label="Rear track",
            unit="mm",
            low=0,
            high=1500,
            help="Between the middles of the rear wheels; 0 for a single one.",
        ),
    ] = 560.0
    tyre_width_mm: Annotated[
        MM,
        Dim(
            label="Tyre width",
            unit="mm",
            low=5,
            high=300,
            help="Width of the tyre on the surface, across the ramp.",
        ),
    ] = 25.0
    tyre_contact_mm: Annotated[
        MM,
        Dim(
            label="Tyre contact",
            unit="mm",
            low=5,
            high=300,
            help="Length of the tyre's contact, along the ramp.",
        ),
    ] = 25.0
    attendant_behind_mm: Annotated[
        MM,
        Dim(
            label="Attendant behind",
            unit="mm",
            low=0,
            high=2000,
            step=10,
            help="From the rear axle to the attendant's feet.",
        ),
    ] = 500.0


ServiceClass = Literal["1", "2", "3"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Who uses it, how heavy, and by which rules it is judged."""

    rated_load_kg: Annotated[
        KG,
        Dim(label="Rated load", unit="kg", low=10, high=2000, help="The load marked on the ramp.", step=10),
    ]
    rule_sets: Annotated[
        tuple[str, ...],
        Words(label="Rule sets", help="Names of rule sets: built in, or the path of your own rule file."),
    ]
    users: tuple[WheeledUser, ...] = ()
    bump_factor: Annotated[
        float,
        Dim(
            label="Bump factor",
            unit="",
            low=1,
            high=3,
            step=0.05,
            help=(
                "Rolling loads are multiplied by it for bumps and braking; 1.25 is common practice. Loads of"
                " rules go as given."
            ),
        ),
    ] = 1.25
    overall_factor: Annotated[
        float,
        Dim(
            label="Safety factor",
            unit="",
            low=1,
            high=10,
            step=0.1,
            help=(
                "Least factor on ultimate strength, judged beside the limit states: 3 by 49 CFR 38 for"
                " vehicle ramps."
            ),
        ),
    ] = 3.0
    sag_limit: Annotated[
        float,
        Dim(
            label="Sag, length over",
            unit="",
            low=20,
            high=1000,
            step=10,
            help=(
                "The ramp may sag its length divided by this; the joint's play counts. 100 is common practice"
                " for a loose ramp."
            ),
        ),
    ] = 100.0
    crossings: Annotated[
        float,
        Dim(
            label="Crossings meant",
            unit="",
            low=0,
            high=100e6,
            step=10000,
            help=(
                "How often somebody goes over it before its welds are renewed, all users alike;"
                " 0 for not judged. 100000 is 40 a day on 250 days of 10 years, common practice."
            ),
        ),
    ] = 100000.0
    service_class: Annotated[
        ServiceClass,
        Choice(
            label="Timber stands",
            options=(("1", "indoors and heated"), ("2", "under a roof"), ("3", "in the weather")),
            help="Service class of EN 1995-1-1, 2.3.1.3: wet timber carries less.",
        ),
    ] = "3"
    wet_grip: Annotated[
        float,
        Dim(
            label="Wet grip",
            unit="",
            low=0,
            high=150,
            help=(
                "Pendulum test value of the running surface, wet, as its maker states it. Bare wet metal or"
                " boards have 20 or so; grit strips 60 and more. Level floors are asked for 36."
            ),
        ),
    ] = 20.0
