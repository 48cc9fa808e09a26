"""What it is made of, and how: materials, welds and bolts, saw, drill and the stock that can be bought."""

import math
from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.bolts import BoltClass, BoltSize
from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, SectionChoice, Switch, Words
from rampdraft.model.section import Section
from rampdraft.units import MM, MPA

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


_STUB = Section(kind="box", depth_mm=60, width_mm=40, wall_mm=4)
"""Of a bracket that nothing is said of; common practice."""


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
    bracket_section: Annotated[
        Section,
        SectionChoice(
            label="Bracket stub",
            help="Holds the carrier's knuckle, its top at the hinge centre, and is welded to the bracket's"
            " plate. Depth first.",
        ),
    ] = _STUB
    bracket_plate_mm: Annotated[
        MM,
        Dim(
            label="Bracket plate", unit="mm", low=2, high=60, help="Thickness of the plate that is bolted on."
        ),
    ] = 10.0
    bolt_beside_mm: Annotated[
        MM,
        Dim(
            label="Bolts beside the stub",
            unit="mm",
            low=8,
            high=200,
            help="From the side of the stub to the middle of the nearest bolt, on either side.",
        ),
    ] = 25.0
    bolt_edge_mm: Annotated[
        MM,
        Dim(
            label="Bolts to the edge",
            unit="mm",
            low=5,
            high=200,
            help="From the middle of a bolt to the nearest edge of the plate.",
        ),
    ] = 20.0

    @property
    def weld_leg_mm(self) -> MM:
        """Return the leg of a fillet weld of this throat, its sides at right angles."""
        return math.sqrt(2) * self.weld_throat_mm


USUAL_JOINING = Joining(weld_throat_mm=3, bolt_size="M10", bolt_class="8.8", bolt_count=2, bolt_arm_mm=40)
"""What a design that says nothing of its welds and bolts has."""


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
    screw_held_mm: Annotated[
        MM,
        Dim(
            label="Slat screw's hold",
            unit="mm",
            low=5,
            high=200,
            help="How much of a screw holds in a timber rail, or in the end of a timber slat.",
        ),
    ] = 35.0
    least_offcut_mm: Annotated[
        MM,
        Dim(
            label="Useful offcut, at least",
            unit="mm",
            low=0,
            high=3000,
            step=50,
            help="What is left of a stock length and no shorter is kept; 0 where none is.",
        ),
    ] = 300.0
    tapers_together: Annotated[
        bool,
        Switch(
            label="Tapers cut together",
            help="Two rails with a tapered end lie toe to toe in one stock length, one of them upside down:"
            " one slanted cut makes both tapers.",
        ),
    ] = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A stock length that can be bought, or that lies in the shop."""

    section: Annotated[Section, SectionChoice(label="Section", help="What is bought.")]
    material: Annotated[str, MaterialChoice(label="Material", help="Material of the stock.")]
    length_mm: Annotated[
        MM, Dim(label="Stock length", unit="mm", low=100, high=20000, help="Length as bought.", step=100)
    ]
    in_hand: Annotated[
        int,
        Dim(
            label="In hand",
            unit="",
            low=0,
            high=200,
            help="So many of this length lie in the shop and are used first; 0: bought as needed.",
        ),
    ] = 0
    price: Annotated[
        float,
        Dim(
            label="Price of one",
            unit="",
            low=0,
            high=100000,
            step=0.5,
            help="In any money; 0: not known. With all of a section's prices the plan costs least.",
        ),
    ] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """What something that is bought by the piece or the metre costs."""

    item: Annotated[
        str,
        Words(
            label="Item",
            help="Its number in the list of what to buy: F1 for the slat screws, DW1 for a washer.",
            longest=20,
        ),
    ]
    each: Annotated[
        float,
        Dim(
            label="Price",
            unit="",
            low=0,
            high=100000,
            step=0.1,
            help="Of one, or of a metre, in the same money as the stock lengths.",
        ),
    ]
