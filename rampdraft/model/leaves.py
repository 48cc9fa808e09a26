"""The leaves: rails, cross members, slats and edge upstands."""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, SectionChoice
from rampdraft.model.section import Section
from rampdraft.units import MM

CrossFitting = Literal["between", "under", "half_lap"]
SlatRun = Literal["given", "even"]
SlatEnds = Literal["given", "clear"]
CrossRun = Literal["given", "number", "spacing"]
UpstandRun = Literal["given", "end_to_end"]
LaneRun = Literal["given", "neighbouring"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Rails:
    """Where the rails of both leaves lie across."""

    lanes: Annotated[
        LaneRun,
        Choice(
            label="Rail lanes",
            options=(("given", "where they are given"), ("neighbouring", "evenly, in neighbouring lanes")),
            help=(
                "Evenly over the inner leaf; each rail of the outer leaf beside its mate, towards the middle,"
                " with room for the joint's knuckles. Butting stop bars fill what is between them, and longer"
                " knuckles are shifted."
            ),
        ),
    ] = "given"
    count: Annotated[
        int,
        Dim(
            label="Number of rails",
            unit="",
            low=2,
            high=12,
            help="Of each leaf, evenly: fewer where the knuckles leave no room for so many.",
        ),
    ] = 3
    inset_mm: Annotated[
        MM,
        Dim(
            label="Rails in from the edge",
            unit="mm",
            low=0,
            high=1000,
            help="From the side of the running surface to the outermost rail, where they lie evenly.",
        ),
    ] = 0.0


LANES_GIVEN = Rails()


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """One of the two sections."""

    length_mm: Annotated[
        MM,
        Dim(
            label="Length",
            unit="mm",
            low=200,
            high=6000,
            letter="L",
            step=10,
            help="Inner leaf: deck hinge centre to joint centre. Outer leaf: joint centre to toe end.",
        ),
    ]
    width_mm: Annotated[
        MM,
        Dim(
            label="Surface width",
            unit="mm",
            low=300,
            high=3000,
            letter="W",
            help="Width of the running surface: length of the slats, between the edge upstands.",
        ),
    ]
    rail_section: Annotated[
        Section, SectionChoice(label="Rail section", help="Depth first: box 40x20x2 stands 40 mm high.")
    ]
    rail_lanes_mm: Annotated[
        tuple[MM, ...],
        Dim(
            label="Rail lanes",
            unit="mm",
            low=-1500,
            high=1500,
            help=(
                "Centre line of each rail across, from the middle of the ramp. The leaves' rails lie in"
                " neighbouring lanes."
            ),
        ),
    ]
    cross_section: Annotated[Section, SectionChoice(label="Cross member section", help="Depth first.")]
    cross_members: Annotated[
        CrossRun,
        Choice(
            label="Cross members",
            options=(
                ("given", "where they are given"),
                ("number", "so many, evenly"),
                ("spacing", "evenly, so far apart at most"),
            ),
            help=(
                "Evenly: half a spacing from the ends of the leaf, but the last one where a taper begins, and"
                " clear of knuckles and stop bars."
            ),
        ),
    ] = "given"
    cross_count: Annotated[
        int,
        Dim(
            label="Number of cross members",
            unit="",
            low=0,
            high=40,
            help="Where they stand by number: fewer where there is no room for so many.",
        ),
    ] = 3
    cross_greatest_mm: Annotated[
        MM,
        Dim(
            label="Greatest spacing",
            unit="mm",
            low=50,
            high=3000,
            step=10,
            help="Of cross members that stand evenly, so far apart at most.",
        ),
    ] = 500.0
    cross_positions_mm: Annotated[
        tuple[MM, ...],
        Dim(
            label="Cross members at",
            unit="mm",
            low=0,
            high=6000,
            help="Centre of each cross member along the leaf, from the leaf's own hinge centre.",
        ),
    ]
    cross_fitting: Annotated[
        CrossFitting,
        Choice(
            label="Cross members fitted",
            options=(
                ("between", "between the rails"),
                ("under", "under the rails"),
                ("half_lap", "half-lapped into the rails"),
            ),
            help=(
                "Between: short pieces, flush with the rails' underside. Under: one piece below. Half-lap:"
                " one piece let in."
            ),
        ),
    ]
    half_lap_mm: Annotated[
        MM,
        Dim(
            label="Half-lap depth",
            unit="mm",
            low=0,
            high=200,
            step=0.5,
            help=(
                "Depth of the notch in the rail and of the notch in the cross member. Half the depth sets it"
                " flush."
            ),
        ),
    ]
    slats: Annotated[
        SlatRun,
        Choice(
            label="Slats",
            options=(("given", "at the pitch given"), ("even", "evenly from end to end")),
            help=(
                "Evenly: as few as keep the greatest gap, from the first slat to the free end. Where no"
                " number of slats of this width does, the gaps are wider."
            ),
        ),
    ] = "given"
    slat_greatest_gap_mm: Annotated[
        MM,
        Dim(
            label="Greatest gap",
            unit="mm",
            low=0,
            high=500,
            step=0.5,
            help="Between slats that lie evenly.",
        ),
    ] = 12.0
    slat_ends: Annotated[
        SlatEnds,
        Choice(
            label="First slat and free end",
            options=(("given", "where they are given"), ("clear", "as near to the ends as is clear")),
            help=(
                "Clear of hinge lines and knuckles by the clearance demanded, of stop bars, and out to the"
                " very toe."
            ),
        ),
    ] = "given"
    slat_width_mm: Annotated[
        MM,
        Dim(
            label="Slat width",
            unit="mm",
            low=10,
            high=3000,
            letter="b",
            help="Width of one slat along the ramp.",
        ),
    ]
    slat_thickness_mm: Annotated[
        MM,
        Dim(
            label="Slat thickness",
            unit="mm",
            low=1,
            high=100,
            letter="s",
            help="Thickness of the running surface.",
            step=0.5,
        ),
    ]
    slat_pitch_mm: Annotated[
        MM,
        Dim(
            label="Slat pitch",
            unit="mm",
            low=10,
            high=3000,
            letter="p",
            step=0.5,
            help=(
                "From one slat to the next. Pitch less width is the gap that a small wheel or a stick may"
                " catch."
            ),
        ),
    ]
    slat_first_mm: Annotated[
        MM,
        Dim(
            label="First slat at",
            unit="mm",
            low=-200,
            high=1000,
            letter="f",
            help="Near edge of the first slat from the leaf's own hinge centre.",
        ),
    ]
    slat_last_gap_mm: Annotated[
        MM,
        Dim(
            label="Bare rail beyond the last slat",
            unit="mm",
            low=-200,
            high=1000,
            letter="e",
            help="Least length left free between the last slat and the leaf's far end.",
        ),
    ]
    upstand_height_mm: Annotated[
        MM,
        Dim(
            label="Edge upstand height",
            unit="mm",
            low=0,
            high=500,
            help="Above the running surface; 0 for none.",
        ),
    ]
    upstand_thickness_mm: Annotated[
        MM,
        Dim(
            label="Edge upstand thickness",
            unit="mm",
            low=1,
            high=60,
            help="It stands outside the slat ends.",
            step=0.5,
        ),
    ]
    upstands: Annotated[
        UpstandRun,
        Choice(
            label="Edge upstands",
            options=(("given", "where they are given"), ("end_to_end", "from end to end")),
            help="From end to end: clear of the hinge lines, and of the deck as the ramp is stowed.",
        ),
    ] = "given"
    upstand_start_mm: Annotated[
        MM,
        Dim(
            label="Edge upstand starts at",
            unit="mm",
            low=0,
            high=2000,
            help="From the leaf's own hinge centre.",
        ),
    ]
    upstand_end_gap_mm: Annotated[
        MM,
        Dim(
            label="Edge upstand stops short by", unit="mm", low=0, high=2000, help="From the leaf's far end."
        ),
    ]
    knuckle_shift_mm: Annotated[
        MM,
        Dim(
            label="Joint knuckle shift",
            unit="mm",
            low=-200,
            high=200,
            help=(
                "How far the joint knuckles sit outboard of their rails' centre lines; for leaves whose rails"
                " share lanes."
            ),
        ),
    ] = 0.0
