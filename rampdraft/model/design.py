"""What a design is: frozen data, one class a group of the form and a table of the file.

Frames, signs and angles are those of DEVELOPERS.md: x away from the deck, z up, y across; u along a leaf from its hinge
centre, w out of its running surface with 0 at the top of the rails.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.dimension import Choice, Dim, MaterialChoice, SectionChoice, Switch, Words
from rampdraft.model.section import Section
from rampdraft.units import DEG, KG, MM


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What stands in the title block."""

    name: Annotated[str, Words(label="Name", help="Name of the ramp, printed on every sheet.", longest=80)]
    drawing_number: Annotated[
        str, Words(label="Drawing number", help="Printed in the title block and in front of each part number.", longest=20)
    ] = ""
    author: Annotated[str, Words(label="Drawn by", help="Printed in the title block.", longest=60)] = ""
    note: Annotated[str, Words(label="Note", help="Anything worth knowing later.", longest=2000, lines=True)] = ""


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
            help="Deck surface above the ground straight below the deck edge, nobody on board. Sets the gradient.",
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
            help="How far the deck edge sinks with its load aboard. Measured on the carrier; 0 for a fixed floor.",
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
        MM, Dim(label="Deck thickness", unit="mm", low=5, high=500, help="Thickness of the floor at its edge.")
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
            help="How far the carrier's end reaches down from the deck surface: chassis, bumper beam, stage front.",
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
            options=(("ground", "ground or road"), ("kerb", "a kerb or pavement"), ("platform", "a platform or landing")),
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
            help="Points (x, z) of the ground from the deck edge outward: x away from the deck, z up from the ground "
            "straight below the deck edge. The ground goes on level beyond both ends.",
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
            help="Hinge centre above the top of the rails; negative below it. Backs together needs the joint at or below "
            "the undersides, faces together at or above the running surface.",
        ),
    ]
    knuckle_diameter_mm: Annotated[
        MM,
        Dim(label="Knuckle diameter", unit="mm", low=8, high=150, letter="K", help="The drilled round bar; also the hole saw."),
    ]
    knuckle_length_mm: Annotated[
        MM, Dim(label="Knuckle length", unit="mm", low=5, high=300, help="Length of a knuckle across the ramp.")
    ]
    pin_diameter_mm: Annotated[
        MM, Dim(label="Pin diameter", unit="mm", low=4, high=60, letter="P", help="Diameter of the hinge pin.")
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


CrossFitting = Literal["between", "under", "half_lap"]


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
    rail_section: Annotated[Section, SectionChoice(label="Rail section", help="Depth first: box 40x20x2 stands 40 mm high.")]
    rail_lanes_mm: Annotated[
        tuple[MM, ...],
        Dim(
            label="Rail lanes",
            unit="mm",
            low=-1500,
            high=1500,
            help="Centre line of each rail across, from the middle of the ramp. The leaves' rails lie in neighbouring lanes.",
        ),
    ]
    cross_section: Annotated[Section, SectionChoice(label="Cross member section", help="Depth first.")]
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
            options=(("between", "between the rails"), ("under", "under the rails"), ("half_lap", "half-lapped into the rails")),
            help="Between: short pieces, flush with the rails' underside. Under: one piece below. Half-lap: one piece let in.",
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
            help="Depth of the notch in the rail and of the notch in the cross member. Half the depth sets it flush.",
        ),
    ]
    slat_width_mm: Annotated[
        MM, Dim(label="Slat width", unit="mm", low=10, high=3000, letter="b", help="Width of one slat along the ramp.")
    ]
    slat_thickness_mm: Annotated[
        MM,
        Dim(label="Slat thickness", unit="mm", low=1, high=100, letter="s", help="Thickness of the running surface.", step=0.5),
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
            help="From one slat to the next. Pitch less width is the gap that a small wheel or a stick may catch.",
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
            label="Free end",
            unit="mm",
            low=-200,
            high=1000,
            letter="e",
            help="Least length left free between the last slat and the leaf's far end.",
        ),
    ]
    upstand_height_mm: Annotated[
        MM, Dim(label="Edge upstand height", unit="mm", low=0, high=500, help="Above the running surface; 0 for none.")
    ]
    upstand_thickness_mm: Annotated[
        MM, Dim(label="Edge upstand thickness", unit="mm", low=1, high=60, help="It stands outside the slat ends.", step=0.5)
    ]
    upstand_start_mm: Annotated[
        MM, Dim(label="Edge upstand starts at", unit="mm", low=0, high=2000, help="From the leaf's own hinge centre.")
    ]
    upstand_end_gap_mm: Annotated[
        MM, Dim(label="Edge upstand stops short by", unit="mm", low=0, high=2000, help="From the leaf's far end.")
    ]
    knuckle_shift_mm: Annotated[
        MM,
        Dim(
            label="Joint knuckle shift",
            unit="mm",
            low=-200,
            high=200,
            help="How far the joint knuckles sit outboard of their rails' centre lines; for leaves whose rails share lanes.",
        ),
    ] = 0.0


StopKind = Literal["none", "lap", "butt"]


@dataclass(frozen=True, slots=True, kw_only=True)
class StopBars:
    """Bars that keep the joint from closing the wrong way."""

    kind: Annotated[
        StopKind,
        Choice(
            label="Stop bars",
            options=(("none", "none"), ("lap", "lapping past the hinge line"), ("butt", "butting end faces")),
            help="A lapping bar lies on the rails' top side and presses on the other leaf; butting faces meet above the centre.",
        ),
    ]
    count: Annotated[int, Dim(label="Number of stop bars", unit="", low=1, high=12, help="Spread over the inner leaf's rails.")]
    section: Annotated[Section, SectionChoice(label="Stop bar section", help="Depth first; the width lies across.")]
    fixed_to: Annotated[
        Literal["inner", "outer"],
        Choice(
            label="Fixed to",
            options=(("inner", "inner leaf"), ("outer", "outer leaf")),
            help="The leaf that carries a lapping bar.",
        ),
    ]
    fixed_length_mm: Annotated[
        MM, Dim(label="Fixed length", unit="mm", low=10, high=1000, help="How much of the bar lies on the leaf that carries it.")
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
            help="Height above the hinge centre of the edge where the butting faces bear first: their lever arm. "
            "Backs together it must lie above the centre, faces together below.",
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
            help="Gap that closes before the stop bears. It lets the joint drop.",
        ),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Prop:
    """A loose leg put under the joint. It is carried apart, so it takes no part in the fold."""

    fitted: Annotated[bool, Switch(label="Prop under the joint", help="A leg that carries the joint when deployed.")]
    section: Annotated[Section, SectionChoice(label="Prop section", help="Section of the leg.")]
    shortest_mm: Annotated[MM, Dim(label="Prop, shortest", unit="mm", low=20, high=3000, help="Shortest setting of the leg.")]
    longest_mm: Annotated[MM, Dim(label="Prop, longest", unit="mm", low=20, high=3000, help="Longest setting of the leg.")]
    foot_mm: Annotated[MM, Dim(label="Prop foot", unit="mm", low=10, high=600, help="Side of the square foot plate.")]


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
            label="Toe length", unit="mm", low=10, high=1000, letter="t", help="Length of the flap, or of the taper of the rails."
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
            help="Thickness of the flap, or what a taper leaves of the rail at its tip. It is the step a small wheel meets.",
        ),
    ]
    carried_deg: Annotated[
        DEG,
        Dim(
            label="Flap carried at",
            unit="deg",
            low=-180,
            high=180,
            help="Angle of the flap to the outer leaf while folding: 0 straight on, 180 turned back on the running surface.",
        ),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class BridgePlate:
    """A plate hinged on the deck that covers the gap to the inner leaf and rides on it."""

    fitted: Annotated[bool, Switch(label="Bridge plate", help="A plate over the gap between deck and inner leaf.")]
    length_mm: Annotated[MM, Dim(label="Bridge plate length", unit="mm", low=20, high=1000, help="Along the ramp.")]
    over_deck_mm: Annotated[
        MM, Dim(label="Bridge plate over deck", unit="mm", low=0, high=900, help="How much of it lies on the deck.")
    ]
    thickness_mm: Annotated[
        MM, Dim(label="Bridge plate thickness", unit="mm", low=1, high=30, step=0.5, help="It is a step on the deck side.")
    ]


Closing = Literal["faces", "backs"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldStage:
    """One movement of the fold, from the pose before it to the one given here."""

    say: Annotated[str, Words(label="What to do", help="A sentence that a person can follow.", longest=160)]
    inner_deg: Annotated[
        DEG, Dim(label="Inner leaf to", unit="deg", low=-90, high=180, help="Inner leaf's angle to the level at the end.")
    ]
    fold_deg: Annotated[
        DEG, Dim(label="Joint to", unit="deg", low=-180, high=180, help="Outer leaf's angle to the inner leaf at the end.")
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Fold:
    """How the ramp closes and where it is stowed."""

    closing: Annotated[
        Closing,
        Choice(
            label="Closing",
            options=(("backs", "backs together"), ("faces", "faces together")),
            help="Which sides meet when folded. Faces together is also the way the load folds the joint.",
        ),
    ]
    closed_deg: Annotated[
        DEG,
        Dim(label="Closed angle", unit="deg", low=90, high=180, help="How far the joint closes; 180 lays the leaves parallel."),
    ]
    stowed_deg: Annotated[
        DEG,
        Dim(label="Stowed angle", unit="deg", low=-90, high=180, letter="q", help="Inner leaf's angle to the level when stowed."),
    ]
    clearance_mm: Annotated[
        MM,
        Dim(
            label="Clearance demanded", unit="mm", low=0, high=50, step=0.5, help="Least gap between parts that pass each other."
        ),
    ]


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A two-section folding ramp, whole."""

    about: About
    carrier: Carrier
    inner_leaf: Leaf
    outer_leaf: Leaf
    deck_hinge: DeckHinge
    joint: Joint
    fold: Fold
    stop: StopBars
    prop: Prop
    toe: Toe
    bridge: BridgePlate
    use: Use
    made_of: MadeOf
    workshop: Workshop
    sites: tuple[Site, ...]
    """At least one; the first is where the fold is judged."""
    fold_stages: tuple[FoldStage, ...] = ()
    """The user's own fold sequence; empty for the usual one."""
    materials: tuple[Material, ...] = ()
    """The design's own materials, besides the catalogue's."""
    stock: tuple[Stock, ...] = ()
