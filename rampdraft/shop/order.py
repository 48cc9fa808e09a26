"""The order of assembly: numbered steps, each with the parts, the fixings and the welds that it takes."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final, Literal, NamedTuple

from rampdraft.geometry.members.member import LATCHES, Body, Member, Role
from rampdraft.shop.bought import Bought, BoughtKind
from rampdraft.shop.parts import Part
from rampdraft.shop.welds import Weld
from rampdraft.words.say import say

StepKind = Literal[
    "inner frame", "outer frame", "joint", "deck hinge", "stops", "latches", "brackets", "bridge", "flap",
    "props", "paint", "slats", "guards", "strips", "hang", "helps", "prove",
]  # fmt: skip


class _Taken(NamedTuple):
    """What a step takes: members by role and body, what is bought, and what to do and to look at."""

    kind: StepKind
    members: tuple[tuple[Role, Body, str], ...]
    """Role, body, and hinge line where it is one of knuckles, pins and washers."""
    bought: tuple[BoughtKind, ...]
    do: str
    look: str


TAKEN: Final = (
    _Taken(
        "inner frame",
        (("rail", "inner", ""), ("cross member", "inner", "")),
        (),
        "Lay the rails of the inner leaf top down on a flat table, their datum ends against a stop, the"
        " cross members at their marks. Clamp, tack every corner, then weld.",
        "both diagonals alike within 2 mm before the last weld; no rail rocks on the table",
    ),
    _Taken(
        "outer frame",
        (("rail", "outer", ""), ("cross member", "outer", ""), ("taper plate", "outer", "")),
        (),
        "The outer leaf in the same way, on the inner one as a pattern. Plates into tapered rails last, in"
        " short runs that change sides.",
        "both diagonals alike within 2 mm; its rails lie in their lanes beside those of the inner leaf",
    ),
    _Taken(
        "joint",
        (
            ("knuckle", "inner", "joint"), ("knuckle", "outer", "joint"), ("pin", "inner", "joint"),
            ("washer", "inner", "joint"),
        ),
        (),
        "Put all knuckles of the joint with their washers on one straight setting bar of the pins'"
        " diameter, through both leaves, which lie straight and top down; the jig strips among the templates"
        " say where across. Clamp the bar at the hinge"
        " centre's height, tack every knuckle on two sides, draw the bar, try the pins. Then weld in the"
        " order of the list, a run on each knuckle in turn, and let it cool between.",
        "the setting bar still turns by hand in all of them when they are cold",
    ),
    _Taken(
        "deck hinge",
        (("knuckle", "inner", "deck"), ("knuckle", "carrier", "deck"), ("washer", "inner", "deck")),
        (),
        "The knuckles of the deck hinge in the same way, those of the carrier with their washers between them"
        " on the same bar, not yet welded to their stubs.",
        "the bar of the deck hinge is as far from that of the joint at both sides, within 0.5 mm",
    ),
    _Taken(
        "brackets",
        (("bracket stub", "carrier", ""), ("bracket plate", "carrier", "")),
        (),
        "Pack the leaf up, or let its deck end stand over the table's edge. With the knuckles of the carrier"
        " on the bar, set the stubs to them, their tops as high as drawn, and the plates behind: all in one"
        " plane, each with its stub in the middle and its bolt holes as far from the top as drawn. Tack, take"
        " off, weld.",
        "a straight edge touches all plates when they hang on the bar again",
    ),
    _Taken(
        "stops",
        (("stop bar", "inner", ""), ("stop bar", "outer", "")),
        (),
        "Lay both leaves straight on their joint pins, the rails' tops in one plane, push a feeler of the gap"
        " between what bears, press the stop bars against it and tack all of them: butting bars in the lanes"
        " between the two rails of each pair. Take the feeler out, load the joint by hand, and weld; what"
        " slats lie on is ground flush.",
        "all stop bars bear together, and the joint drops no more than the sag that the check sheet tells",
    ),
    _Taken(
        "latches",
        tuple((role, body, "") for role in LATCHES for body in ("inner", "outer")),
        (),
        "Latches and their hooks where they meet as the ramp is closed and as it lies straight.",
        "each closes by hand, and none stands out where a wheel or a part passes",
    ),
    _Taken(
        "bridge",
        (("bridge plate", "carrier", ""), ("bridge strip", "carrier", "")),
        ("bridge hinge",),
        "Weld the hinge to the bridge plate and to its strip, every other knuckle to each.",
        "the plate turns by its own weight",
    ),
    _Taken(
        "flap",
        (("toe flap", "outer", ""),),
        ("flap hinge",),
        "Fix the hinge to the toe flap and to the edge of the running surface.",
        "the flap turns by its own weight",
    ),
    _Taken(
        "props",
        (("prop", "loose", ""), ("prop inner tube", "loose", ""), ("prop foot", "loose", "")),
        ("prop pin", "prop chain"),
        "Weld the feet on square, put the tubes together, pin them.",
        "both props set to the same hole are as long within 0.5 mm",
    ),
    _Taken(
        "paint",
        (),
        (),
        "Take it apart, grind, look over all welds, drill the drain holes, paint, but not in bores nor on"
        " pins. Part steel from aluminium.",
        "no crack, no pore, no undercut that a nail catches in",
    ),
    _Taken(
        "slats",
        (("slat", "inner", ""), ("slat", "outer", "")),
        ("slat screw",),
        "Slats on the rails, the first one at its mark, the others by a spacer as wide as the gap; the last"
        " one at its mark again, so that no error adds up.",
        "no gap wider than is told, no head above the surface",
    ),
    _Taken(
        "guards",
        (("edge upstand", "inner", ""), ("edge upstand", "outer", "")),
        ("upstand screw",),
        "Edge upstands on the ends of the slats.",
        "they pass each other as the ramp is folded",
    ),
    _Taken(
        "strips",
        (),
        ("grip strip", "reflective strip"),
        "Stick on the strips, on a clean dry surface.",
        "no end stands up",
    ),
    _Taken(
        "hang",
        (("pin", "inner", "deck"),),
        ("bracket bolt", "bracket washer", "bracket nut", "split pin", "bridge screw", "carrier hook"),
        "Put the leaves together again on the pins of the joint, hang the brackets on the ramp by those of"
        " the deck hinge, bolt them to the carrier, the bolts' heads towards the leaf, secure every pin at"
        " both ends, screw the bridge plate's strip and the hooks on.",
        "the ramp turns through its whole fold by hand, and nothing touches",
    ),
    _Taken(
        "helps",
        (),
        ("torsion spring", "gas spring", "stay", "handle"),
        "Springs, stay and handles.",
        "the ramp stays where it is put, and falls nowhere unhindered",
    ),
    _Taken(
        "prove",
        (),
        (),
        "Prove it by its test load with nobody near, then mark it with its load.",
        "nothing is bent for good",
    ),
)  # fmt: skip
"""Common practice, in this order."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Count:
    """So many of a part or of what is bought."""

    number: str
    quantity: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """A step of the assembly."""

    number: int
    kind: StepKind
    do: str
    look: str
    """What to measure or to look at before the next step."""
    parts: tuple[Count, ...]
    bought: tuple[Count, ...]
    welds: tuple[str, ...]
    """Numbers of the rows of the weld list, in the order in which they are laid."""
    members: tuple[str, ...]
    """Keys of the members that come on: what a picture of the step shows besides those before."""

    @property
    def title(self) -> str:
        """Return its kind for people to read: `inner frame`."""
        return say(self.kind, "step")


def assembly_order(
    members: Sequence[Member], parts: Sequence[Part], welds: Sequence[Weld], things: Sequence[Bought]
) -> tuple[Step, ...]:
    """Return the steps that there is something to do in: every part, weld and fixing in one of them."""
    numbers = {key: part.number for part in parts for key in part.members}
    steps: list[Step] = []
    done: set[str] = set()
    left = list(welds)
    kinds = [(one.role, one.body, one.tag.hinge) for one in members]
    for taken in TAKEN:
        here = [one for one, kind in zip(members, kinds, strict=True) if kind in taken.members]
        fixings = [one for one in things if one.kind in taken.bought]
        done.update(one.key for one in here)
        laid = [weld for weld in left if all(key in done for pair in weld.places for key in pair)]
        left = [weld for weld in left if weld not in laid]
        if here or fixings or laid or not (taken.members or taken.bought):
            steps.append(_step(len(steps) + 1, taken, here, fixings, laid, numbers))
    return tuple(steps)


def _step(
    number: int,
    taken: _Taken,
    members: Sequence[Member],
    fixings: Sequence[Bought],
    welds: Sequence[Weld],
    numbers: Mapping[str, str],
) -> Step:  # many: what a step is made of
    counted: dict[str, int] = {}
    for one in members:
        counted[numbers[one.key]] = counted.get(numbers[one.key], 0) + 1
    return Step(
        number=number,
        kind=taken.kind,
        do=taken.do,
        look=taken.look,
        parts=tuple(Count(number=name, quantity=count) for name, count in counted.items()),
        bought=tuple(Count(number=one.number, quantity=one.quantity) for one in fixings),
        welds=tuple(weld.number for weld in welds),
        members=tuple(one.key for one in members),
    )
