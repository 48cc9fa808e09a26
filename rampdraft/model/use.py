"""Who uses the ramp, how heavy, and by which rules it is judged: wheeled users, on which wheels, and what
hangs low.

Values of a wheeled user that may be left at 0 are as they are of its class (`rolling_shape.py`).
"""

from dataclasses import dataclass
from typing import Annotated, Final, Literal, get_args

from rampdraft.model.fields.record import Choice, Dim, Words
from rampdraft.units import KG, MM, N

UserClass = Literal[
    "manual wheelchair", "self-propelled wheelchair", "lightweight wheelchair", "powered wheelchair",
    "middle-drive wheelchair", "front-drive wheelchair", "scooter", "three-wheeled scooter", "pushchair",
    "barrow", "sack truck", "hand trolley", "walking frame",
]  # fmt: skip
AxleName = Literal["front", "middle", "rear"]
AxleChoice = Literal["class", "none", "front", "middle", "rear"]
_AXLES: Final = (
    ("class", "as its class"),
    ("none", "none"),
    ("front", "front"),
    ("middle", "middle"),
    ("rear", "rear"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class WheeledUser:
    """Who or what rolls over the ramp."""

    name: Annotated[str, Words(label="Name", help="Name of the user.", longest=60)]
    kind: Annotated[
        UserClass,
        Choice(
            label="Class",
            options=tuple((word, word) for word in get_args(UserClass)),
            help="Class of wheeled user. What is left at 0 below is as it is of the class.",
        ),
    ]
    mass_kg: Annotated[KG, Dim(label="Mass", unit="kg", low=1, high=600, help="With occupant or load.")]
    width_mm: Annotated[
        MM,
        Dim(
            label="Width",
            unit="mm",
            low=100,
            high=1500,
            letter="V",
            help="Overall width with hands and elbows.",
        ),
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
            letter="B",
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
            letter="S",
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
            letter="M",
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
            letter="G",
            step=10,
            help=(
                "Of user and wheels above the surface: on a slope it moves load to the lower axle. 0 for what"
                " is usual of the class: 650 in most chairs, 500 of a pushchair or barrow."
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
            letter="F",
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
            letter="R",
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
            letter="T",
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
            letter="C",
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
            letter="A",
            step=10,
            help="From the rear axle to the attendant's feet.",
        ),
    ] = 500.0
    front_radius_mm: Annotated[
        MM,
        Dim(
            label="Front wheel radius",
            unit="mm",
            low=0,
            high=400,
            letter="v",
            help=(
                "Half the diameter of the front wheels, 10 or more; 0 for as its class. A small"
                " wheel stops at a small step."
            ),
        ),
    ] = 0.0
    middle_radius_mm: Annotated[
        MM,
        Dim(
            label="Middle wheel radius",
            unit="mm",
            low=0,
            high=400,
            letter="m",
            help=("Of the wheels of a middle axle, 10 or more; 0 for as its class, else as the rear wheels."),
        ),
    ] = 0.0
    rear_radius_mm: Annotated[
        MM,
        Dim(
            label="Rear wheel radius",
            unit="mm",
            low=0,
            high=400,
            letter="r",
            help=(
                "Of the rear wheels, 10 or more; 0 for as its class. Where hands carry the rear it"
                " is not used."
            ),
        ),
    ] = 0.0
    front_tyre_mm: Annotated[
        MM,
        Dim(
            label="Front tyre width",
            unit="mm",
            low=0,
            high=300,
            letter="w",
            help=("Of the front wheels, across the ramp; 0 for as its class, else as the other tyres."),
        ),
    ] = 0.0
    underside_mm: Annotated[
        MM,
        Dim(
            label="Underside height",
            unit="mm",
            low=0,
            high=600,
            letter="U",
            step=5,
            help="Lowest part between the axles above the surface; 0 for as its class.",
        ),
    ] = 0.0
    footrest_ahead_mm: Annotated[
        MM,
        Dim(
            label="Footrest ahead",
            unit="mm",
            low=0,
            high=1000,
            letter="E",
            step=10,
            help="From the front axle forward to the end of the footrests; 0 for as its class.",
        ),
    ] = 0.0
    footrest_height_mm: Annotated[
        MM,
        Dim(
            label="Footrest height",
            unit="mm",
            low=0,
            high=600,
            letter="z",
            step=5,
            help=(
                "Lowest part of the footrests above the surface; 0 for as its class. Put 600 where"
                " there are none."
            ),
        ),
    ] = 0.0
    footrest_depth_mm: Annotated[
        MM,
        Dim(
            label="Footrest depth",
            unit="mm",
            low=0,
            high=1000,
            letter="d",
            step=10,
            help="From the end of the footrests back; 0 for as its class.",
        ),
    ] = 0.0
    anti_tip_behind_mm: Annotated[
        MM,
        Dim(
            label="Anti-tip wheels behind",
            unit="mm",
            low=0,
            high=1000,
            letter="N",
            step=10,
            help="From the rear axle back to the anti-tip wheels; 0 for as its class.",
        ),
    ] = 0.0
    anti_tip_height_mm: Annotated[
        MM,
        Dim(
            label="Anti-tip wheels height",
            unit="mm",
            low=0,
            high=600,
            letter="n",
            step=5,
            help=(
                "Lowest part of the anti-tip wheels above the surface; 0 for as its class. Put 600"
                " where there are none."
            ),
        ),
    ] = 0.0
    push_height_mm: Annotated[
        MM,
        Dim(
            label="Push height",
            unit="mm",
            low=0,
            high=1500,
            letter="Y",
            step=10,
            help="Height of the handles above the surface; 0 for as its class.",
        ),
    ] = 0.0
    driven: Annotated[
        AxleChoice,
        Choice(
            label="Driven axle",
            options=_AXLES,
            help="By a motor, or by hand on its rims; none of what is pushed.",
        ),
    ] = "class"
    braked: Annotated[
        AxleChoice,
        Choice(label="Braked axle", options=_AXLES, help="What its brake holds; none where hands hold it."),
    ] = "class"
    drive_n: Annotated[
        N,
        Dim(
            label="Drive's push",
            unit="N",
            low=0,
            high=5000,
            step=10,
            help=(
                "Greatest push of the driven wheels at their rims, as the maker of its motor states it; 0 for"
                " not known."
            ),
        ),
    ] = 0.0
    head_height_mm: Annotated[
        MM,
        Dim(
            label="Head height",
            unit="mm",
            low=0,
            high=2300,
            step=10,
            help=(
                "Top of the head of whoever sits in it, or of the load, above the surface; 0 for as its"
                " class."
            ),
        ),
    ] = 0.0


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
            label="Sag limit: length divided by",
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
            label="Timber exposure",
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
