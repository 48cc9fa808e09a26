"""How it is cut and drilled, and the stock lengths that can be bought."""

from dataclasses import dataclass
from typing import Annotated

from rampdraft.model.fields.record import Dim, MaterialChoice, SectionChoice
from rampdraft.model.section import Section
from rampdraft.units import MM


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Stock:
    """A stock length that can be bought."""

    section: Annotated[Section, SectionChoice(label="Section", help="What is bought.")]
    material: Annotated[str, MaterialChoice(label="Material", help="Material of the stock.")]
    length_mm: Annotated[
        MM, Dim(label="Stock length", unit="mm", low=100, high=20000, help="Length as bought.", step=100)
    ]
