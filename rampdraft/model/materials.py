"""What it is made of."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, MaterialChoice, Words
from rampdraft.units import MPA

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
