"""What the workshop gets: the part list, identical pieces under one part number that stays put while
dimensions change.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, get_args

from rampdraft.geometry.members.member import LATCHES, Body, HingeLine, Kin, Member, Piece, Role
from rampdraft.shop.turning import has_sides, is_other_hand, same_piece
from rampdraft.units import KG
from rampdraft.words.figures import exact, newton
from rampdraft.words.say import called, named, say


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Identical pieces under one part number."""

    number: str
    """Stays put while dimensions change."""
    code: str
    """What people say for it: `rail, inner, 1`."""
    name: str
    """What it is, as the names of its members have it in common: `inner rail`."""
    role: Role
    piece: Piece
    quantity: int
    hand: str
    """`left` or `right` where a mirrored partner exists, else empty."""
    members: tuple[str, ...]
    """Keys of the members."""
    bodies: frozenset[Body] = frozenset()
    hinges: frozenset[HingeLine] = frozenset()
    """What they move with, and the hinge lines that they lie on."""
    mass_kg: KG
    """Of one piece."""

    @property
    def words(self) -> str:
        """Return its name for people to read, with the load that is marked on it: `inner latch, 500 N`."""
        load = self.piece.load_n
        return f"{named(self.name)}, {newton(load)}" if load else named(self.name)

    @property
    def with_hand(self) -> str:
        """Return its name with its hand, where it has one: `inner edge upstand, left hand`."""
        if not self.hand:
            return self.words
        return f"{self.words}{say(', left hand') if self.hand == 'left' else say(', right hand')}"


_ROLES: Final[tuple[str, ...]] = get_args(Role)


def part_list(members: Sequence[Member]) -> tuple[Part, ...]:
    """Return the parts that members are, rails first, in the order of their part numbers.

    Members whose pieces are the same after turning (`shop.turning`) are one part. A part has the number of
    its first member, so a change of size gives a part a new number only if its pieces cease to be alike; then
    the first of them keep the old one. `hand` is filled where the mirrored partner is a part as well: left is
    the lower y, for somebody who stands at the toe and looks up the ramp.
    """
    families: dict[Kin, list[Member]] = {}
    for member in members:
        families.setdefault(member.kin, []).append(member)
    order = [
        member
        for kin in sorted(families, key=lambda kin: (_ROLES.index(kin.role), kin.words))
        for member in sorted(families[kin], key=lambda one: (one.tag.number, one.tag.bay, one.tag.hand))
    ]
    groups = _groups(order)
    handed = [group for group in groups if has_sides(group[0].piece)]
    return tuple(_part(group, _hand(group, handed)) for group in groups)


def part_number(member: Member) -> str:
    """Return the part number of a member: initials and numbers of its key (`inner cross member 2` is
    ICM2).
    """
    return "".join(str(word) if isinstance(word, int) else word[0].upper() for word in member.words)


def part_code(member: Member) -> str:
    """Return the part code of a member: what it is, of what, which (`rail, inner, 1`)."""
    own = member.kin.words[: -len(member.role.split())]
    which = member.words[len(member.kin.words) :]
    return ", ".join((member.role, *own, *map(str, which)))


def _groups(members: Iterable[Member]) -> list[list[Member]]:
    groups: list[list[Member]] = []
    of_role: dict[Role, list[list[Member]]] = {}
    known: dict[int, list[Member]] = {}  # by the piece itself: members cut alike mostly share it
    for member in members:
        alike = of_role.setdefault(member.role, [])
        group = known.get(id(member.piece)) or next(
            (group for group in alike if same_piece(member.piece, group[0].piece)), None
        )
        if group is None:
            groups.append(group := [])
            alike.append(group)
        known[id(member.piece)] = group
        group.append(member)
    return groups


def _hand(group: list[Member], handed: list[list[Member]]) -> str:
    for partner in handed:
        if is_other_hand(group[0].piece, partner[0].piece):
            return "left" if _across(group) < _across(partner) else "right"
    return ""


def _across(group: list[Member]) -> float:
    return sum(member.y0_mm + member.y1_mm for member in group) / len(group)


def _part(group: list[Member], hand: str) -> Part:
    first = group[0]
    return Part(
        number=part_number(first),
        code=part_code(first),
        name=_name(group),
        role=first.role,
        piece=first.piece,
        quantity=len(group),
        hand=hand,
        members=tuple(member.key for member in group),
        bodies=frozenset(member.body for member in group),
        hinges=frozenset(member.tag.hinge for member in group if member.tag.hinge),
        mass_kg=first.mass_kg,
    )


def _name(group: list[Member]) -> str:
    """Return what the names have in common: `inner rail`, or `slat` where both leaves have it."""
    kinds = dict.fromkeys((member.kin, member.tag.hand) for member in group)
    names = [(*kin.words, *((hand,) if hand else ())) for kin, hand in kinds]
    return " ".join(word for word in names[0] if all(word in name for name in names))


def part_size(part: Part) -> str:
    """Return the size of a part that is bought: its section, and how long it is."""
    section, length = called(part.piece.section.text), exact(round(part.piece.length_mm, 2))
    return say("{section}, {length} long", section=section, length=length)


def full_number(part: Part, drawing_number: str) -> str:
    """Return the part number with the number of the drawing in front, where there is one: `R1-IR1`."""
    return f"{drawing_number}-{part.number}" if drawing_number else part.number


BOUGHT: Final[tuple[Role, ...]] = ("washer", *LATCHES)
"""Bought by the piece, not sawn."""
