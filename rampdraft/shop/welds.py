"""The weld list: every weld with the members that it joins, its size and length, and the order in which it is
laid. Sizes and lengths are those that the strength of the welds is judged with.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.geometry.members.member import Member
from rampdraft.shop.joints import Joint, WeldKind
from rampdraft.shop.parts import Part
from rampdraft.units import MM
from rampdraft.words.figures import exact

WeldShape = Literal["fillet"]
"""What ISO 2553 calls it; all that the program judges are fillets."""

FILLET_SIGN: Final = "◺"
"""The fillet weld of ISO 2553:2019, table 1, as a letter."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weld:
    """Welds that are alike: one row of the list."""

    number: str
    """`W1` is the first that is laid."""
    kind: WeldKind
    shape: WeldShape
    throat_mm: MM
    runs_mm: tuple[MM, ...]
    """Length of each run of one weld of this row."""
    around: bool
    """All the way round, which ISO 2553 marks with a circle on the knee of the leader."""
    both_sides: bool
    """On the arrow side and on the other side alike."""
    parts: tuple[str, str]
    """Numbers of the parts that it joins: what is welded on, and what carries it."""
    places: tuple[tuple[str, str], ...]
    """Keys of the members of each weld of the row, in the order in which they are laid."""
    judged: str
    """Key of the family in the check of its strength; empty where its length alone is asked for."""

    @property
    def quantity(self) -> int:
        """Return how many there are."""
        return len(self.places)

    @property
    def length_mm(self) -> MM:
        """Return the length of one, all its runs."""
        return sum(self.runs_mm)

    @property
    def designation(self) -> str:
        """Return how it is written on a drawing (ISO 2553): throat, sign, number of runs and length; a circle
        stands for all round.
        """
        size = f"a{exact(self.throat_mm)} {FILLET_SIGN}"
        if self.around:
            return f"{size} ○ {exact(round(self.length_mm, 1))}"
        groups: dict[MM, int] = {}
        for run in self.runs_mm:
            length = round(run, 1)
            groups[length] = groups.get(length, 0) + 1
        return f"{size} " + " + ".join(f"{count}×{exact(length)}" for length, count in groups.items())


_ORDER: Final[tuple[WeldKind, ...]] = (
    "cross member", "taper plate", "joint knuckle", "deck knuckle", "carrier knuckle", "bracket stub",
    "stop bar", "latch", "plate hinge", "prop foot", "slat", "edge upstand",
)  # fmt: skip
"""In which order the kinds are laid: frames first, flat on the table; knuckles when the frames are cold and
straight, on their setting bar; stop bars last, against each other. Common practice.
"""


def weld_list(joints: Sequence[Joint], parts: Sequence[Part]) -> tuple[Weld, ...]:
    """Return the weld list: joints of a kind and size on one leaf, between the same two parts, are one
    row.
    """
    numbers = {member: part.number for part in parts for member in part.members}
    rows: dict[tuple[object, ...], list[Joint]] = {}
    for joint in sorted(joints, key=lambda one: _ORDER.index(one.kind)):
        pair = numbers[joint.on.key], numbers[joint.to.key]
        runs = tuple(round(run, 6) for run in joint.runs_mm)
        rows.setdefault((joint.kind, joint.on.body, pair, joint.throat_mm, runs, joint.around), []).append(
            joint
        )
    return tuple(_weld(number, rows[key], numbers) for number, key in enumerate(rows, start=1))


def _weld(number: int, joints: Sequence[Joint], numbers: Mapping[str, str]) -> Weld:
    first = joints[0]
    return Weld(
        number=f"W{number}",
        kind=first.kind,
        shape="fillet",
        throat_mm=first.throat_mm,
        runs_mm=first.runs_mm,
        around=first.around,
        both_sides=not first.around and len(first.runs_mm) > 1,
        parts=(numbers[first.on.key], numbers[first.to.key]),
        places=tuple((one.on.key, one.to.key) for one in _from_the_middle(joints)),
        judged=first.judged,
    )


def _from_the_middle(joints: Sequence[Joint]) -> Iterator[Joint]:
    """Yield joints in the order that warps a frame least: from the middle outward, left and right in turn.

    Common practice: what shrinks on one side is drawn back by the next on the other.
    """
    middle = sum(_across(one.on) for one in joints) / len(joints)
    return iter(sorted(joints, key=lambda one: (round(abs(_across(one.on) - middle), 3), _across(one.on))))


def _across(member: Member) -> MM:
    return (member.y0_mm + member.y1_mm) / 2
