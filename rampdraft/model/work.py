"""What it is made of and how it is cut, who rolls over it and by which rules it is judged."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, SectionChoice, Words
from rampdraft.model.section import Section
from rampdraft.units import KG, MM, MPA


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
            low=0,
            high=3000,
            step=10,
            help=(
                "From the front axle to the rear one; of a barrow, from the wheel to the hands. 0 for a"
                " single axle."
            ),
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
                "How much of the mass the front axle carries; the rear axle, or the feet behind a barrow, has"
                " the rest."
            ),
        ),
    ] = 40.0
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
            label="Overall factor",
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
    service_class: Annotated[
        ServiceClass,
        Choice(
            label="Timber stands",
            options=(("1", "indoors and heated"), ("2", "under a roof"), ("3", "in the weather")),
            help="Service class of EN 1995-1-1, 2.3.1.3: wet timber carries less.",
        ),
    ] = "3"


MaterialKind = Literal["steel", "aluminium", "timber", "plastic"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Material:
    """What a member is made of."""

    name: Annotated[str, Words(label="Name", help="Name of the material.", longest=40)]
    kind: Annotated[
        MaterialKind,
        Choice(
            label="Kind",
            options=tuple((word, word) for word in ("steel", "aluminium", "timber", "plastic")),
            help="Kind of material.",
        ),
    ]
    density_kg_m3: Annotated[
        float, Dim(label="Density", unit="kg/m3", low=100, high=20000, help="Mass of a cubic metre.", step=10)
    ]
    source: Annotated[str, Words(label="Source", help="Where the figures come from.")] = ""
    yield_mpa: Annotated[
        MPA,
        Dim(
            label="Yield strength",
            unit="MPa",
            low=0,
            high=1000,
            step=5,
            help="Of metal: yield, or 0.2 % proof strength. 0 where it is not known.",
        ),
    ] = 0.0
    ultimate_mpa: Annotated[
        MPA,
        Dim(
            label="Ultimate strength",
            unit="MPa",
            low=0,
            high=2000,
            step=5,
            help="Of metal: tensile strength. 0 where it is not known.",
        ),
    ] = 0.0
    welded_yield_mpa: Annotated[
        MPA,
        Dim(
            label="Yield strength, welded",
            unit="MPa",
            low=0,
            high=1000,
            step=5,
            help="In the zone that welding softens; aluminium. 0 where it is not known.",
        ),
    ] = 0.0
    welded_ultimate_mpa: Annotated[
        MPA,
        Dim(
            label="Ultimate strength, welded",
            unit="MPa",
            low=0,
            high=2000,
            step=5,
            help="In the zone that welding softens; aluminium. 0 where it is not known.",
        ),
    ] = 0.0
    bending_mpa: Annotated[
        MPA,
        Dim(
            label="Bending strength",
            unit="MPa",
            low=0,
            high=200,
            step=1,
            help="Of timber: characteristic bending strength. 0 where it is not known.",
        ),
    ] = 0.0
    shear_mpa: Annotated[
        MPA,
        Dim(
            label="Shear strength",
            unit="MPa",
            low=0,
            high=50,
            step=0.1,
            help="Of timber: characteristic shear strength. 0 where it is not known.",
        ),
    ] = 0.0
    elastic_mpa: Annotated[
        MPA,
        Dim(
            label="Modulus of elasticity",
            unit="MPa",
            low=0,
            high=400000,
            step=1000,
            help="Mean modulus; it sets how far things bend. 0 where it is not known.",
        ),
    ] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeOf:
    """Material of each family of members, by name."""

    rails: Annotated[str, MaterialChoice(label="Rails", help="Rails and prop.")]
    cross_members: Annotated[str, MaterialChoice(label="Cross members", help="Cross members.")]
    slats: Annotated[str, MaterialChoice(label="Slats", help="Running surface.")]
    upstands: Annotated[str, MaterialChoice(label="Edge upstands", help="Edge upstands.")]
    fittings: Annotated[
        str,
        MaterialChoice(label="Fittings", help="Knuckles, pins, washers, stop bars, toe flap, bridge plate."),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """How it is cut and drilled."""

    kerf_mm: Annotated[
        MM, Dim(label="Saw kerf", unit="mm", low=0, high=10, step=0.1, help="Width of the saw cut.")
    ]
    end_trim_mm: Annotated[
        MM,
        Dim(
            label="End trim",
            unit="mm",
            low=0,
            high=200,
            help="Cut off a new stock length before the first piece.",
        ),
    ]
    slat_screw_mm: Annotated[
        MM,
        Dim(
            label="Slat screw hole",
            unit="mm",
            low=0,
            high=20,
            step=0.5,
            help="Hole in the slats over each rail; 0 for none.",
        ),
    ]


BoltSize = Literal["M5", "M6", "M8", "M10", "M12", "M16"]
BoltClass = Literal["4.6", "5.6", "8.8", "10.9"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """Welds, and the bolts of the carrier's brackets."""

    weld_throat_mm: Annotated[
        MM,
        Dim(
            label="Weld throat",
            unit="mm",
            low=1,
            high=20,
            step=0.5,
            letter="a",
            help="Throat of the fillet welds at knuckles, stop bars and cross members: 0.7 of the leg.",
        ),
    ]
    bolt_size: Annotated[
        BoltSize,
        Choice(
            label="Bracket bolts",
            options=tuple((size, size) for size in ("M5", "M6", "M8", "M10", "M12", "M16")),
            help="Bolts that hold the carrier's knuckles to the deck edge.",
        ),
    ]
    bolt_class: Annotated[
        BoltClass,
        Choice(
            label="Bolt class",
            options=tuple((word, word) for word in ("4.6", "5.6", "8.8", "10.9")),
            help="Property class of ISO 898-1, stamped on the head.",
        ),
    ]
    bolt_count: Annotated[
        int,
        Dim(
            label="Bolts a bracket",
            unit="",
            low=1,
            high=8,
            help="Bolts that hold one knuckle's bracket, in one row.",
        ),
    ]
    bolt_arm_mm: Annotated[
        MM,
        Dim(
            label="Bolts above the edge",
            unit="mm",
            low=5,
            high=500,
            help="From the row of bolts down to the bracket's lower edge, which presses on the carrier.",
        ),
    ]


USUAL_JOINING = Joining(weld_throat_mm=3, bolt_size="M10", bolt_class="8.8", bolt_count=2, bolt_arm_mm=40)
"""What a design that says nothing of its welds and bolts has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A stock length that can be bought."""

    section: Annotated[Section, SectionChoice(label="Section", help="What is bought.")]
    material: Annotated[str, MaterialChoice(label="Material", help="Material of the stock.")]
    length_mm: Annotated[
        MM, Dim(label="Stock length", unit="mm", low=100, high=20000, help="Length as bought.", step=100)
    ]
