"""What the workshop gets: the part list, identical pieces under one part number that stays put while
dimensions change; the cut list and cutting plan.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, get_args

from rampdraft.figures import exact, fixed, newton
from rampdraft.geometry.members.member import Assembly, Member, Piece, Role
from rampdraft.model.design import Design
from rampdraft.model.section import Section
from rampdraft.rounding import steps_over
from rampdraft.shop.turning import has_sides, is_other_hand, same_piece
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


_ROLES: Final[tuple[str, ...]] = get_args(Role)


def part_list(assembly: Assembly) -> tuple[Part, ...]:
    """Return the parts of an assembly, rails first, in the order of their part numbers.

    Members whose pieces are the same after turning (`shop.turning`) are one part. A part has the number of
    its first member, so a change of size gives a part a new number only if its pieces cease to be alike; then
    the first of them keep the old one. `hand` is filled where the mirrored partner is a part as well: left is
    the lower y, for somebody who stands at the toe and looks up the ramp.
    """
    families = sorted(
        {one.kin for one in assembly.members}, key=lambda kin: (_ROLES.index(kin.role), kin.words)
    )
    ranks = {kin: rank for rank, kin in enumerate(families)}
    order = sorted(
        assembly.members, key=lambda one: (ranks[one.kin], one.tag.number, one.tag.bay, one.tag.hand)
    )
    groups = _groups(order)
    handed = [group for group in groups if has_sides(group[0].piece)]
    return tuple(_part(group, _hand(group, handed)) for group in groups)


def part_number(member: Member) -> str:
    """Return the part number of a member: initials and numbers of its key (`inner cross member 2` is
    ICM2).
    """
    return "".join(str(word) if isinstance(word, int) else word[0].upper() for word in member.words)


def _groups(members: Iterable[Member]) -> list[list[Member]]:
    groups: list[list[Member]] = []
    known: dict[int, list[Member]] = {}  # by the piece itself: members cut alike mostly share it
    for member in members:
        group = known.get(id(member.piece)) or next(
            (group for group in groups if same_piece(member.piece, group[0].piece)), None
        )
        if group is None:
            groups.append(group := [])
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
        name=f"{_name(group)}, {newton(load)}" if (load := first.piece.load_n) else _name(group),
        role=first.role,
        piece=first.piece,
        quantity=len(group),
        hand=hand,
        members=tuple(member.key for member in group),
        mass_kg=first.mass_kg,
    )


def _name(group: list[Member]) -> str:
    """Return what the names have in common: `inner rail`, or `slat` where both leaves have it."""
    kinds = dict.fromkeys((member.kin, member.tag.hand) for member in group)
    names = [(*kin.words, *((hand,) if hand else ())) for kin, hand in kinds]
    return " ".join(word for word in names[0] if all(word in name for name in names))


def full_number(part: Part, drawing_number: str) -> str:
    """Return the part number with the number of the drawing in front, where there is one: `R1-IR1`."""
    return f"{drawing_number}-{part.number}" if drawing_number else part.number


BOUGHT: Final[tuple[Role, ...]] = ("washer", "latch", "latch hook")
"""Bought by the piece, not sawn."""

_FIT_MM: Final = 1e-6
"""Rounding of the computer, so that a piece as long as the room left for it fits."""


def cutting_plan(parts: Sequence[Part], design: Design) -> CuttingPlan:
    """Return the stock lengths to buy for all parts and what is cut from each, a section and material at a
    time.

    First-fit decreasing: the longest piece first, each into the first stock length that still has room for
    it. Where a section comes in several stock lengths the longest is filled, then each is bought as short as
    its pieces allow. A stock length first loses its end trim and the saw cut that takes it off; then each
    piece takes its length and one saw cut, except that a piece that ends with the stock length needs none.
    The plan is not proven least; `least_bars` is what no plan can beat.

    Source of the method: D. S. Johnson, A. Demers, J. D. Ullman, M. R. Garey, R. L. Graham, Worst-case
    performance bounds for simple one-dimensional packing algorithms, SIAM Journal on Computing 3 (1974),
    299-325.
    """
    kerf, trim = design.workshop.kerf_mm, design.workshop.end_trim_mm
    lost = trim + kerf if trim > 0 else 0.0
    bars: list[Bar] = []
    unplaced: list[tuple[str, str]] = []
    least = 0
    for (section, material), alike in _sawn(parts).items():
        lengths = sorted(
            row.length_mm for row in design.stock if row.section == section and row.material == material
        )
        if not lengths:
            why = f"no stock length is given for {section.text} in {material}"
            unplaced += [(part.number, why) for part in alike]
            continue
        room = lengths[-1] - lost
        long = [part for part in alike if part.piece.length_mm > room + _FIT_MM]
        unplaced += [(part.number, _too_long(part, room)) for part in long]
        cuts = [
            Cut(part=part.number, length_mm=part.piece.length_mm)
            for part in alike
            if part not in long
            for _ in range(part.quantity)
        ]
        for taken in _first_fit_decreasing(cuts, room, kerf):
            used = lost + _taken(taken, kerf)
            stock = next(length for length in lengths if used <= length + _FIT_MM)
            bars.append(_bar(section, material, stock, taken, stock - used - kerf))
        least += _least(cuts, room, kerf)
    return CuttingPlan(
        bars=tuple(bars),
        unplaced=tuple(unplaced),
        least_bars=least,
        words=_words(len(bars), least, len(unplaced)),
    )


def _sawn(parts: Sequence[Part]) -> dict[tuple[Section, str], list[Part]]:
    """Return the parts that are sawn, by section and material."""
    found: dict[tuple[Section, str], list[Part]] = {}
    for part in parts:
        if part.role not in BOUGHT:
            found.setdefault((part.piece.section, part.piece.material), []).append(part)
    return found


def _too_long(part: Part, room: MM) -> str:
    length, leaves = fixed(part.piece.length_mm, 1, "mm"), exact(max(room, 0.0), "mm")
    return f"{length} is longer than the {leaves} that the longest stock length leaves"


def _bar(section: Section, material: str, stock: MM, taken: Sequence[Cut], left: MM) -> Bar:
    """Return a stock length and what is cut from it; without room for the last saw cut nothing is left."""
    return Bar(
        section=section.text,
        material=material,
        stock_mm=stock,
        cuts=tuple(taken),
        offcut_mm=max(0.0, left),
    )


def _first_fit_decreasing(cuts: Iterable[Cut], room: MM, kerf: MM) -> list[list[Cut]]:
    filled: list[list[Cut]] = []
    left: list[MM] = []
    for cut in sorted(cuts, key=lambda cut: -cut.length_mm):
        index = next((k for k, free in enumerate(left) if cut.length_mm <= free + _FIT_MM), None)
        if index is None:
            index = len(filled)
            filled.append([])
            left.append(room)
        filled[index].append(cut)
        left[index] -= cut.length_mm + kerf
    return filled


def _taken(cuts: Sequence[Cut], kerf: MM) -> MM:
    """Return the length that pieces take with the saw cuts between them."""
    return math.fsum(cut.length_mm for cut in cuts) + kerf * (len(cuts) - 1)


def _least(cuts: Sequence[Cut], room: MM, kerf: MM) -> int:
    """Return how many stock lengths no plan can do without: all lengths, each with its cut, over the room of
    the longest, which may be overfilled by rounding.
    """
    if not cuts:
        return 0
    return steps_over(_taken(cuts, kerf) + kerf, room + kerf + _FIT_MM)


def _words(count: int, least: int, unplaced: int) -> str:
    if count == least:
        said = f"{count} stock lengths: no plan can do with fewer." if count else "Nothing to cut from stock."
    else:
        said = (
            f"{count} stock lengths by first-fit decreasing, not proven least: no plan can do with fewer than"
            f" {least}."
        )
    if unplaced:
        said += f" {unplaced} part{'s are' if unplaced > 1 else ' is'} not placed."
    return said
