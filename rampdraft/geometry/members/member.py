"""A member of the ramp as it stands in the assembly, and the piece it is sawn from."""

from dataclasses import dataclass
from functools import cache
from typing import Final, Literal, NamedTuple

from rampdraft.geometry.outline import Outline, Point, Profile
from rampdraft.model.section import Section
from rampdraft.units import KG, MM, N
from rampdraft.words.figures import size
from rampdraft.words.say import say

Body = Literal["carrier", "inner", "outer", "loose"]
"""What a member moves with; a loose one is carried apart."""

Role = Literal[
    "rail", "cross member", "slat", "edge upstand", "knuckle", "pin", "washer",
    "stop bar", "taper plate", "toe flap", "bridge plate", "bridge strip", "latch", "latch hook", "prop",
    "prop inner tube", "prop foot", "bracket stub", "bracket plate",
    "bracket bolt",
]  # fmt: skip

OnLeaf = Literal["inner", "outer", ""]
"""The leaf that something is of; empty where it is of neither, or of both."""

HingeLine = Literal["deck", "joint", ""]
"""The hinge line that a member lies on; empty for one that lies on neither, as stop bars do."""

Hand = Literal["left", "right", ""]

Around = Literal["deck", "carrier end", "obstacle", "ground"]
"""What the ramp can meet and is no member of it."""

INSIDE: Final[tuple[Role, ...]] = ("pin", "washer", "taper plate")
"""What never stands out of other members of its body in the side plane."""

LATCHES: Final[tuple[Role, ...]] = ("latch", "latch hook")
"""Beside the rails, below where wheels go."""

BRACKETS: Final[tuple[Role, ...]] = ("bracket stub", "bracket plate")
"""What holds the carrier's knuckles: on the carrier, and no part of the ramp that is folded and judged."""

Face = Literal["left side", "right side", "top", "underside", "side", "ends", ""]
"""Of a piece as it lies on the bench; `side` where it does not matter which, `ends` for both ends alike."""

HoleUse = Literal["clearance", "thread", "pilot", "bore"]
"""What a hole is for: something goes through it, it is tapped, a wood screw cuts its own way into it, or a
pin turns in it.
"""

EndKind = Literal["square", "cope", "taper"]


@dataclass(frozen=True, slots=True, kw_only=True)
class EndCut:
    """How an end is cut."""

    kind: EndKind
    radius_mm: MM = 0.0
    """Of the cope: half the diameter of the hole saw."""
    height_mm: MM = 0.0
    """Of the cope's centre above the top of the piece; of what a taper leaves."""
    length_mm: MM = 0.0
    """Along the piece: how far back the cut begins at the top of a cope, or at the bottom of a taper."""

    @property
    def text(self) -> str:
        """Return the end in workshop words."""
        if self.kind == "square":
            return say("square")
        if self.kind == "taper":
            return say(
                "taper to {height} over {length}", height=size(self.height_mm), length=size(self.length_mm)
            )
        across, off = size(2 * self.radius_mm), size(abs(self.height_mm))
        if self.height_mm == 0:
            return say("cope Ø{diameter}, centre on the top line", diameter=across)
        if self.height_mm > 0:
            return say("cope Ø{diameter}, centre {height} above the top line", diameter=across, height=off)
        return say("cope Ø{diameter}, centre {height} below the top line", diameter=across, height=off)


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark at a running dimension from the piece's datum end: a hole, a notch, a centre line."""

    at_mm: MM
    work: str
    """In workshop words: `hole Ø5.5 through`, `notch 20 wide 10 deep`."""
    face: Face = ""
    centred: bool = False
    """Whether it is the centre of the work that lies there."""

    @property
    def what(self) -> str:
        """Return all of it in workshop words: `notch 20 wide 10 deep, underside, centre`."""
        face = say(self.face) if self.face else ""
        return ", ".join(word for word in (self.work, face, say("centre") if self.centred else "") if word)


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilled:
    """A hole that the profile does not show: in the top of a rail, in the end of a slat."""

    at_mm: MM
    """From the piece's datum end."""
    across_mm: MM
    """On the top and the underside from the left side of the piece, on a side from its underside, on an end
    from the left side at half the depth.
    """
    face: Face
    diameter_mm: MM
    use: HoleUse


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """What is cut for a member, in its own frame: x along the piece from the datum end, y up its depth, mm.

    Two members whose pieces are equal share one part number; a piece that is the mirror of another, and not
    equal to it, is its other hand.
    """

    role: Role
    section: Section
    material: str
    length_mm: MM
    """From longest point to longest point: what the saw needs."""
    profile: Profile
    ends: tuple[EndCut, EndCut]
    marks: tuple[Mark, ...] = ()
    drilled: tuple[Drilled, ...] = ()
    """Holes besides those of the profile."""
    load_n: N = 0.0
    """Working load marked on what is bought for one; 0 for none."""


class Kin(NamedTuple):
    """A family of members that are judged as one, or one thing about the ramp."""

    body: Body | Literal[""]
    """Empty for the ground."""
    role: Role | Around
    hinge: HingeLine = ""
    """Of knuckles, pins and washers."""
    number: int = 0
    """Of an obstacle, counted from 1."""

    @property
    def words(self) -> tuple[str, ...]:
        """Return its name, word by word: `inner joint knuckle`, `carrier knuckle`, `deck pin`, `prop`."""
        return _family_words(self)


@cache  # asked for every member, of a few dozen families
def _family_words(kin: Kin) -> tuple[str, ...]:
    body = () if kin.role in _BODILESS else (kin.body,)
    hinge = (kin.hinge,) if kin.hinge and kin.body != "carrier" else ()
    return (*body, *hinge, *kin.role.split())


_BODILESS: Final = frozenset(
    {"pin", "washer", "bridge plate", "bridge strip", "prop", "prop inner tube", "prop foot"}
)
"""Roles whose members are named without the body that they move with: it goes without saying."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Tag:
    """Which of its family a member is."""

    body: Body
    hinge: HingeLine = ""
    number: int = 0
    """From left to right, or from the hinge outward, counted from 1; 0 for one that has no fellows."""
    bay: int = 0
    """Between rails, of a cross member cut into several."""
    hand: Hand = ""
    """Of a pair."""

    def words(self, role: Role) -> tuple[str | int, ...]:
        """Return the name of a member of this role, word by word, that stays put while dimensions change."""
        number = (self.number,) if self.number else ()
        bay = ("bay", self.bay) if self.bay else ()
        hand = (self.hand,) if self.hand else ()
        return (*Kin(self.body, role, self.hinge).words, *number, *bay, *hand)


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyMass:
    """Mass and centre of gravity of a member, or of all members of one body, in its frame (u, y, w)."""

    mass_kg: KG
    centre_mm: tuple[MM, MM, MM]

    @property
    def centre_uw_mm(self) -> Point:
        """Return the centre of gravity in the side plane."""
        return self.centre_mm[0], self.centre_mm[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Member(BodyMass):
    """One member, placed. The side silhouette lies in the frame of its body, (u, w) for a leaf and (x, z) for
    the carrier.
    """

    key: str
    """A name that stays put while dimensions change: `inner rail 1`, `outer slat 7`, `deck pin 2`."""
    tag: Tag
    piece: Piece
    y0_mm: MM
    y1_mm: MM
    silhouette: Outline

    @property
    def body(self) -> Body:
        """Return what it moves with."""
        return self.tag.body

    @property
    def role(self) -> Role:
        """Return what it is."""
        return self.piece.role

    @property
    def words(self) -> tuple[str | int, ...]:
        """Return its key, word by word."""
        return self.tag.words(self.role)

    @property
    def kin(self) -> Kin:
        """Return the family that it is judged in; the knuckles of the two hinge lines are two families."""
        return Kin(self.tag.body, self.piece.role, self.tag.hinge)


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """All members of a design: the one list that views, masses, clearances, cut list and profiles read."""

    members: tuple[Member, ...]
    inner: BodyMass
    outer: BodyMass
    loose_kg: KG

    @property
    def leaves_kg(self) -> tuple[KG, KG]:
        """Return the masses of the inner and the outer leaf."""
        return self.inner.mass_kg, self.outer.mass_kg

    def of(self, *bodies: Body) -> tuple[Member, ...]:
        """Return the members that move with one of `bodies`, in order."""
        return tuple([member for member in self.members if member.tag.body in bodies])
