"""What a design is: frozen data, one class a group of the form and a table of the file.

Frames, signs and angles are those of DEVELOPERS.md: x away from the deck, z up, y across; u along a leaf from
its hinge centre, w out of its running surface with 0 at the top of the rails.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from rampdraft.model.fields.record import Choice, Dim, Words
from rampdraft.model.handling import FREE, NO_ASSIST, Assist, AssistKind, Handle, HoldDown, Obstacle
from rampdraft.model.hinges import (
    BridgePlate,
    DeckHinge,
    Hinge,
    Joint,
    Prop,
    StopBars,
    StopKind,
    Toe,
    ToeKind,
)
from rampdraft.model.leaves import LANES_GIVEN, CrossFitting, Leaf, Rails
from rampdraft.model.materials import (
    USUAL_JOINING,
    BoltClass,
    BoltSize,
    Joining,
    MadeOf,
    Material,
    MaterialKind,
    Price,
    Stock,
    Workshop,
)
from rampdraft.model.road import ON_THE_ROAD, TWO_PEOPLE, CarrierEnd, Hands, Road
from rampdraft.model.site import Carrier, Site, SiteKind
from rampdraft.model.support import LIGHT_BODY, CarrierBody, Support, SupportKind
from rampdraft.model.use import AxleChoice, AxleName, ServiceClass, Use, UserClass, WheeledUser
from rampdraft.model.wishes import NO_WISHES, Towards, Welded, Wishes
from rampdraft.units import DEG, MM

__all__ = [
    "FREE",
    "LANES_GIVEN",
    "LIGHT_BODY",
    "NO_ASSIST",
    "NO_WISHES",
    "ON_THE_ROAD",
    "TWO_PEOPLE",
    "USUAL_JOINING",
    "About",
    "Assist",
    "AssistKind",
    "AxleChoice",
    "AxleName",
    "BoltClass",
    "BoltSize",
    "BridgePlate",
    "Carrier",
    "CarrierBody",
    "CarrierEnd",
    "Closing",
    "CrossFitting",
    "DeckHinge",
    "Design",
    "Fold",
    "FoldStage",
    "Handle",
    "Hands",
    "Hinge",
    "HoldDown",
    "Joining",
    "Joint",
    "Leaf",
    "MadeOf",
    "Material",
    "MaterialKind",
    "Obstacle",
    "Price",
    "Prop",
    "Rails",
    "Road",
    "ServiceClass",
    "Site",
    "SiteKind",
    "Stock",
    "StopBars",
    "StopKind",
    "Support",
    "SupportKind",
    "Toe",
    "ToeKind",
    "Towards",
    "Use",
    "UserClass",
    "Welded",
    "WheeledUser",
    "Wishes",
    "Workshop",
]


PaperSize = Literal["A4", "A3"]
"""Of drawing sheets, ISO 216."""


@dataclass(frozen=True, slots=True, kw_only=True)
class About:
    """What stands in the title block."""

    name: Annotated[str, Words(label="Name", help="Name of the ramp, printed on every sheet.", longest=80)]
    drawing_number: Annotated[
        str,
        Words(
            label="Drawing number",
            help="Printed in the title block and in front of each part number.",
            longest=20,
        ),
    ] = ""
    author: Annotated[str, Words(label="Drawn by", help="Printed in the title block.", longest=60)] = ""
    note: Annotated[
        str, Words(label="Note", help="Anything worth knowing later.", longest=2000, lines=True)
    ] = ""
    paper: Annotated[
        PaperSize,
        Choice(
            label="Paper of the drawings",
            help="What the drawing sheets of the bench pack are laid out for.",
            options=(("A4", "A4"), ("A3", "A3")),
        ),
    ] = "A4"


Closing = Literal["faces", "backs"]


@dataclass(frozen=True, slots=True, kw_only=True)
class FoldStage:
    """One movement of the fold, from the pose before it to the one given here."""

    say: Annotated[str, Words(label="What to do", help="A sentence that a person can follow.", longest=160)]
    inner_deg: Annotated[
        DEG,
        Dim(
            label="Inner leaf to",
            unit="deg",
            low=-90,
            high=180,
            help="Inner leaf's angle to the level at the end.",
        ),
    ]
    fold_deg: Annotated[
        DEG,
        Dim(
            label="Joint to",
            unit="deg",
            low=-180,
            high=180,
            help="Outer leaf's angle to the inner leaf at the end.",
        ),
    ]
    via_deg: Annotated[
        tuple[tuple[DEG, DEG], ...],
        Dim(
            label="By way of",
            unit="deg",
            low=-180,
            high=180,
            help=(
                "Poses on the way, if any: (inner leaf, joint), in order. The leaves move evenly from one to"
                " the next."
            ),
        ),
    ] = ()


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
        Dim(
            label="Closed angle",
            unit="deg",
            low=90,
            high=180,
            help="How far the joint closes; 180 lays the leaves parallel.",
        ),
    ]
    stowed_deg: Annotated[
        DEG,
        Dim(
            label="Stowed angle",
            unit="deg",
            low=-90,
            high=180,
            letter="q",
            help="Inner leaf's angle to the level when stowed.",
        ),
    ]
    clearance_mm: Annotated[
        MM,
        Dim(
            label="Clearance demanded",
            unit="mm",
            low=0,
            high=50,
            step=0.5,
            help="Least gap between parts that pass each other.",
        ),
    ]


@dataclass(frozen=True, slots=True, kw_only=True)
class Design:
    """A two-section folding ramp, whole."""

    about: About
    carrier: Carrier
    rails: Rails = LANES_GIVEN
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
    assist: Assist = NO_ASSIST
    hold_down: HoldDown = FREE
    handles: tuple[Handle, ...] = ()
    """Where people take hold; empty for the joint and the toe."""
    hands: Hands = TWO_PEOPLE
    road: Road = ON_THE_ROAD
    obstacles: tuple[Obstacle, ...] = ()
    fold_stages: tuple[FoldStage, ...] = ()
    """The user's own fold sequence; empty for the usual one."""
    materials: tuple[Material, ...] = ()
    """The design's own materials, besides the catalogue's."""
    stock: tuple[Stock, ...] = ()
    prices: tuple[Price, ...] = ()
    """Of what is bought besides the stock lengths."""
    joining: Joining = USUAL_JOINING
    carrier_body: CarrierBody = LIGHT_BODY
    supports: tuple[Support, ...] = ()
    """What the carrier stands on; empty for a fixed deck, or one whose drop was measured."""
    wishes: Wishes = NO_WISHES
    """What a ramp that is yet to be proposed is to be like."""
