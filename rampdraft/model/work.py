"""What it is made of and how it is cut, who rolls over it and by which rules it is judged."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.dimension import Choice, Dim, MaterialChoice, SectionChoice, Words
from rampdraft.model.section import Section
from rampdraft.units import KG, MM


@dataclass(frozen=True, slots=True, kw_only=True)
class WheeledUser:
    """Who or what rolls over the ramp."""

    name: Annotated[str, Words(label="Name", help="Name of the user.", longest=60)]
    kind: Annotated[
        Literal["manual wheelchair", "powered wheelchair", "scooter", "pushchair", "barrow"],
        Choice(
            label="Class",
            options=tuple((word, word) for word in ("manual wheelchair", "powered wheelchair", "scooter", "pushchair", "barrow")),
            help="Class of wheeled user.",
        ),
    ]
    mass_kg: Annotated[KG, Dim(label="Mass", unit="kg", low=1, high=600, help="With occupant or load.")]
    width_mm: Annotated[MM, Dim(label="Width", unit="mm", low=100, high=1500, help="Overall width with hands and elbows.")]
    attendant_kg: Annotated[
        KG, Dim(label="Attendant", unit="kg", low=0, high=200, help="Mass of the person who pushes; 0 for none.")
    ] = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Use:
    """Who uses it, how heavy, and by which rules it is judged."""

    rated_load_kg: Annotated[
        KG, Dim(label="Rated load", unit="kg", low=10, high=2000, help="The load marked on the ramp.", step=10)
    ]
    rule_sets: Annotated[
        tuple[str, ...], Words(label="Rule sets", help="Names of rule sets: built in, or the path of your own rule file.")
    ]
    users: tuple[WheeledUser, ...] = ()


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


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeOf:
    """Material of each family of members, by name."""

    rails: Annotated[str, MaterialChoice(label="Rails", help="Rails and prop.")]
    cross_members: Annotated[str, MaterialChoice(label="Cross members", help="Cross members.")]
    slats: Annotated[str, MaterialChoice(label="Slats", help="Running surface.")]
    upstands: Annotated[str, MaterialChoice(label="Edge upstands", help="Edge upstands.")]
    fittings: Annotated[str, MaterialChoice(label="Fittings", help="Knuckles, pins, washers, stop bars, toe flap, bridge plate.")]


@dataclass(frozen=True, slots=True, kw_only=True)
class Workshop:
    """How it is cut and drilled."""

    kerf_mm: Annotated[MM, Dim(label="Saw kerf", unit="mm", low=0, high=10, step=0.1, help="Width of the saw cut.")]
    end_trim_mm: Annotated[
        MM, Dim(label="End trim", unit="mm", low=0, high=200, help="Cut off a new stock length before the first piece.")
    ]
    slat_screw_mm: Annotated[
        MM,
        Dim(label="Slat screw hole", unit="mm", low=0, high=20, step=0.5, help="Hole in the slats over each rail; 0 for none."),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A stock length that can be bought."""

    section: Annotated[Section, SectionChoice(label="Section", help="What is bought.")]
    material: Annotated[str, MaterialChoice(label="Material", help="Material of the stock.")]
    length_mm: Annotated[MM, Dim(label="Stock length", unit="mm", low=100, high=20000, help="Length as bought.", step=100)]
