"""A member of the ramp as it stands in the assembly, and the piece it is sawn from."""

from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.geometry.outline import Outline, Point, Profile
from rampdraft.model.section import Section
from rampdraft.units import KG, MM

Body = Literal["carrier", "inner", "outer", "loose"]
"""What a member moves with; a loose one is carried apart."""

Role = Literal[
    "rail", "cross member", "slat", "edge upstand", "knuckle", "pin", "washer",
    "stop bar", "taper plate", "toe flap", "bridge plate", "prop", "prop foot",
]  # fmt: skip

INSIDE: Final[tuple[Role, ...]] = ("pin", "washer", "taper plate")
"""What never stands out of other members of its body in the side plane."""

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
            return "square"
        if self.kind == "taper":
            return f"taper to {self.height_mm:g} over {self.length_mm:g}"
        level = (
            "on the top line"
            if self.height_mm == 0
            else (f"{abs(self.height_mm):g} {'above' if self.height_mm > 0 else 'below'} the top line")
        )
        return f"cope Ø{2 * self.radius_mm:g}, centre {level}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark:
    """A mark at a running dimension from the piece's datum end: a hole, a notch, a centre line."""

    at_mm: MM
    what: str
    """In workshop words: `hole Ø5.5 through`, `notch 20 wide 10 deep, underside`."""


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


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One member, placed. The side silhouette lies in the frame of its body, (u, w) for a leaf and (x, z) for
    the carrier.
    """

    key: str
    """A name that stays put while dimensions change: `inner rail 1`, `outer slat 7`, `deck pin 2`."""
    body: Body
    role: Role
    piece: Piece
    y0_mm: MM
    y1_mm: MM
    silhouette: Outline
    mass_kg: KG
    centre_mm: tuple[MM, MM, MM]
    """Centre of gravity (u, y, w)."""

    @property
    def centre_uw_mm(self) -> Point:
        """Return the centre of gravity in the side plane."""
        return self.centre_mm[0], self.centre_mm[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class BodyMass:
    """Mass and centre of gravity of all members of one body, in its frame (u, y, w)."""

    mass_kg: KG
    centre_mm: tuple[MM, MM, MM]

    @property
    def centre_uw_mm(self) -> Point:
        """Return the centre of gravity in the side plane."""
        return self.centre_mm[0], self.centre_mm[2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Assembly:
    """All members of a design: the one list that views, masses, clearances, cut list and profiles read."""

    members: tuple[Member, ...]
    inner: BodyMass
    outer: BodyMass
    loose_kg: KG

    def of(self, *bodies: Body) -> tuple[Member, ...]:
        """Return the members that move with one of `bodies`, in order."""
        return tuple(member for member in self.members if member.body in bodies)
