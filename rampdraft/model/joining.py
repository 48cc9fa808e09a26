"""Welds, and the bolts of the carrier's brackets."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim
from rampdraft.units import MM

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
