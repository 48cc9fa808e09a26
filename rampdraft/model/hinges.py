"""What joins and ends the leaves: hinge lines and the bars that stop the joint, prop, toe, bridge plate."""

from dataclasses import dataclass
from typing import Annotated, Literal, get_args

from rampdraft.model.bolts import BoltSize
from rampdraft.model.fields.record import Choice, Dim, SectionChoice, Switch
from rampdraft.model.section import Section
from rampdraft.units import DEG, MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Hinge:
    """A hinge line: knuckles welded to both sides, with a pin through each pair."""

    height_mm: Annotated[
        MM,
        Dim(
            label="Hinge centre height",
            unit="mm",
            low=-300,
            high=300,
            letter="h",
            help=(
                "Hinge centre above the top of the rails; negative below it. Backs together needs the joint"
                " at or below the undersides, faces together at or above the running surface."
            ),
        ),
    ]
    knuckle_diameter_mm: Annotated[
        MM,
        Dim(
            label="Knuckle diameter",
            unit="mm",
            low=8,
            high=150,
            letter="K",
            help="The drilled round bar; also the hole saw.",
        ),
    ]
    knuckle_length_mm: Annotated[
        MM,
        Dim(label="Knuckle length", unit="mm", low=5, high=300, help="Length of a knuckle across the ramp."),
    ]
    pin_diameter_mm: Annotated[
        MM,
        Dim(label="Pin diameter", unit="mm", low=4, high=60, letter="P", help="Diameter of the hinge pin."),
    ]
    running_clearance_mm: Annotated[
        MM,
        Dim(
            label="Running clearance",
            unit="mm",
            low=0,
            high=20,
            step=0.5,
            help="Gap left around a knuckle by the rail end that turns about it.",
        ),
    ]
    side_gap_mm: Annotated[
        MM,
        Dim(
            label="Side gap",
            unit="mm",
            low=0,
            high=30,
            step=0.5,
            help="Gap between neighbouring knuckles, filled by a washer.",
        ),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class DeckHinge(Hinge):
    """The hinge line at the deck edge."""

    out_mm: Annotated[
        MM,
        Dim(
            label="Hinge centre out",
            unit="mm",
            low=-200,
            high=500,
            letter="X",
            help="Hinge centre beyond the deck edge; negative under the deck.",
        ),
    ]
    below_mm: Annotated[
        MM,
        Dim(
            label="Hinge centre below deck",
            unit="mm",
            low=-300,
            high=500,
            letter="Z",
            help="Hinge centre below the deck surface; negative above it.",
        ),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint(Hinge):
    """The hinge line between the leaves. Its height is measured on both leaves alike."""


StopKind = Literal["none", "lap", "butt"]
StopPlaces = Literal["given", "each_rail"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StopBars:
    """Bars that keep the joint from closing the wrong way."""

    kind: Annotated[
        StopKind,
        Choice(
            label="Stop bars",
            options=(("none", "none"), ("lap", "lapping past the hinge line"), ("butt", "butting end faces")),
            help=(
                "A lapping bar lies on the rails' top side and presses on the other leaf; butting faces meet"
                " above the centre."
            ),
        ),
    ]
    bars: Annotated[
        StopPlaces,
        Choice(
            label="Stop bars at",
            options=(("given", "so many rails"), ("each_rail", "every rail")),
            help="At every rail: as many as the inner leaf has rails.",
        ),
    ] = "given"
    count: Annotated[
        int,
        Dim(label="Number of stop bars", unit="", low=1, high=12, help="Spread over the inner leaf's rails."),
    ]
    section: Annotated[
        Section, SectionChoice(label="Stop bar section", help="Depth first; the width lies across.")
    ]
    fixed_to: Annotated[
        Literal["inner", "outer"],
        Choice(
            label="Fixed to",
            options=(("inner", "inner leaf"), ("outer", "outer leaf")),
            help="The leaf that carries a lapping bar.",
        ),
    ]
    fixed_length_mm: Annotated[
        MM,
        Dim(
            label="Fixed length",
            unit="mm",
            low=10,
            high=1000,
            help=(
                "How much of the bar lies on the leaf that carries it: of butting bars, the whole length of"
                " each."
            ),
        ),
    ]
    lap_mm: Annotated[
        MM,
        Dim(
            label="Stop lap",
            unit="mm",
            low=1,
            high=500,
            letter="g",
            help="How far a lapping bar reaches past the hinge line: its lever arm.",
        ),
    ]
    arm_mm: Annotated[
        MM,
        Dim(
            label="Butt height",
            unit="mm",
            low=-200,
            high=200,
            letter="j",
            help=(
                "Height above the hinge centre of the edge where the butting faces bear first: their lever"
                " arm. Backs together it must lie above the centre, faces together below."
            ),
        ),
    ]
    gap_mm: Annotated[
        MM,
        Dim(
            label="Stop gap",
            unit="mm",
            low=0,
            high=20,
            letter="c",
            step=0.1,
            help=(
                "Gap that closes before the stop bears, set with a feeler as the bars are welded on. It lets"
                " the joint drop."
            ),
        ),
    ]


PropPlace = Literal["outer", "all"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Prop:
    """A loose leg put under the joint. It is removed separately, so it takes no part in the fold."""

    fitted: Annotated[
        bool, Switch(label="Prop under the joint", help="A leg that carries the joint when deployed.")
    ]
    section: Annotated[Section, SectionChoice(label="Prop section", help="Section of the leg.")]
    shortest_mm: Annotated[
        MM, Dim(label="Prop, shortest", unit="mm", low=20, high=3000, help="Shortest setting of the leg.")
    ]
    longest_mm: Annotated[
        MM, Dim(label="Prop, longest", unit="mm", low=20, high=3000, help="Longest setting of the leg.")
    ]
    foot_mm: Annotated[
        MM, Dim(label="Prop foot", unit="mm", low=10, high=600, help="Side of the square foot plate.")
    ]
    under: Annotated[
        PropPlace,
        Choice(
            label="Props under",
            options=(("outer", "both outer rails"), ("all", "every rail")),
            help=(
                "Which rails of the inner leaf a prop stands under. Rails without one hang on cross members:"
                " put one near the joint."
            ),
        ),
    ] = "outer"
    pin_diameter_mm: Annotated[
        MM,
        Dim(
            label="Prop pin",
            unit="mm",
            low=0,
            high=40,
            help="Pin through both tubes that sets the length. 0 for a leg of one length, without one.",
        ),
    ] = 12.0
    slack_mm: Annotated[
        MM,
        Dim(
            label="Prop stands short",
            unit="mm",
            low=0,
            high=50,
            help=(
                "How far a prop may stand short of the joint. Strength and sag are worked out with one that"
                " much shorter than the others."
            ),
        ),
    ] = 0.0
    tied: Annotated[
        bool,
        Switch(
            label="Prop tied",
            help="Held at the leaf and at its foot, so that no kick sends it away: pins, a brace or a chain.",
        ),
    ] = False


ToeKind = Literal["plain", "taper", "flap"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Toe:
    """The free end on the ground."""

    kind: Annotated[
        ToeKind,
        Choice(
            label="Toe",
            options=(("plain", "plain"), ("taper", "tapered rails"), ("flap", "hinged flap")),
            help="How the running surface comes down to the ground.",
        ),
    ]
    length_mm: Annotated[
        MM,
        Dim(
            label="Toe length",
            unit="mm",
            low=10,
            high=1000,
            letter="t",
            help="Length of the flap, or of the taper of the rails.",
        ),
    ]
    thickness_mm: Annotated[
        MM,
        Dim(
            label="Toe thickness",
            unit="mm",
            low=1,
            high=60,
            step=0.5,
            help=(
                "Thickness of the flap, or what a taper leaves of the rail at its tip. It is the step a small"
                " wheel meets."
            ),
        ),
    ]
    carried_deg: Annotated[
        DEG,
        Dim(
            label="Flap carried at",
            unit="deg",
            low=-180,
            high=180,
            help=(
                "Angle of the flap to the outer leaf while folding: 0 straight on, 180 turned back on the"
                " running surface."
            ),
        ),
    ]
    closed: Annotated[
        bool,
        Switch(
            label="Taper closed underneath",
            help=(
                "A plate of the wall's thickness is welded into the open underside of tapered box rails: open"
                " they are weak."
            ),
        ),
    ] = False
    hinge_pin_mm: Annotated[
        MM, Dim(label="Flap hinge pin", unit="mm", low=2, high=40, help="Pin of the flap's hinge.")
    ] = 8.0
    hinge_knuckle_mm: Annotated[
        MM,
        Dim(
            label="Flap hinge knuckle",
            unit="mm",
            low=5,
            high=300,
            help="Length of one knuckle of the flap's hinge; shorter ones bend the pin less.",
        ),
    ] = 20.0


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgePlate:
    """A plate hinged on the deck edge that covers the gap to the inner leaf and lies on it: it rises and dips
    with the leaf, by its own weight. The strip that its hinge is fixed to lies on the deck.
    """

    fitted: Annotated[
        bool, Switch(label="Bridge plate", help="A plate over the gap between deck and inner leaf.")
    ]
    length_mm: Annotated[
        MM,
        Dim(
            label="Bridge plate length",
            unit="mm",
            low=20,
            high=1000,
            help=(
                "Along the ramp, the strip on the deck included. What reaches beyond the deck edge is hinged"
                " there and lies on the leaf."
            ),
        ),
    ]
    over_deck_mm: Annotated[
        MM,
        Dim(
            label="Bridge plate over deck",
            unit="mm",
            low=0,
            high=900,
            help="Its strip on the deck: fixed there, with the hinge at the deck edge.",
        ),
    ]
    thickness_mm: Annotated[
        MM,
        Dim(
            label="Bridge plate thickness",
            unit="mm",
            low=1,
            high=30,
            step=0.5,
            help="It is a step on the deck and at its end on the leaf.",
        ),
    ]
    turned_back: Annotated[
        bool,
        Switch(
            label="Bridge plate turned back",
            help=(
                "Turned back on the deck by hand before the ramp is folded. Else it rides on the inner leaf"
                " all the way up, and nothing of the outer leaf may come where it lies."
            ),
        ),
    ] = False
    hinge_pin_mm: Annotated[
        MM,
        Dim(label="Bridge hinge pin", unit="mm", low=2, high=40, help="Pin of the bridge plate's hinge."),
    ] = 8.0
    hinge_knuckle_mm: Annotated[
        MM,
        Dim(
            label="Bridge hinge knuckle",
            unit="mm",
            low=5,
            high=300,
            help="Length of one knuckle of the bridge plate's hinge; shorter ones bend the pin less.",
        ),
    ] = 20.0
    screws: Annotated[
        int,
        Dim(label="Bridge screws", unit="", low=1, high=60, help="How many hold its strip on the deck."),
    ] = 6
    screw_size: Annotated[
        BoltSize,
        Choice(
            label="Bridge screw",
            options=tuple((size, size) for size in get_args(BoltSize)),
            help="Their size; of the same class as the bolts of the carrier's brackets.",
        ),
    ] = "M6"
