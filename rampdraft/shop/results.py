"""What the workshop gets: parts, cut list and cutting plan."""

from dataclasses import dataclass

from rampdraft.geometry.members.member import Piece, Role
from rampdraft.units import KG, MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Identical pieces under one part number."""

    number: str
    """Stays put while dimensions change."""
    name: str
    role: Role
    piece: Piece
    quantity: int
    hand: str
    """`left` or `right` where a mirrored partner exists, else empty."""
    members: tuple[str, ...]
    """Keys of the members."""
    mass_kg: KG
    """Of one piece."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """One piece cut from a stock length."""

    part: str
    length_mm: MM


@dataclass(frozen=True, slots=True, kw_only=True)
class Bar:
    """One stock length and what is cut from it, in order."""

    section: str
    material: str
    stock_mm: MM
    cuts: tuple[Cut, ...]
    offcut_mm: MM


@dataclass(frozen=True, slots=True, kw_only=True)
class CuttingPlan:
    """Stock lengths to buy. First-fit decreasing: not proven least."""

    bars: tuple[Bar, ...]
    unplaced: tuple[tuple[str, str], ...]
    """(part number, why): no stock length is long enough, or none is given for the section."""
    least_bars: int
    """What no plan can beat: the sum of lengths with kerf over the usable stock length, rounded up, a section
    at a time.
    """
    words: str
    """How far it is from that bound, in words."""
