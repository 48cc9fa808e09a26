"""What is bought by the piece or the metre besides the parts: screws, bolts, split pins, springs, handles,
strips.
"""

import math
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from typing import Final, Literal

from rampdraft.geometry.members.brackets import packing_mm
from rampdraft.geometry.members.leaves import slat_starts_mm, upstand_screw
from rampdraft.geometry.members.member import Assembly, Body, Member, Role
from rampdraft.geometry.members.props import prop_tubes
from rampdraft.model.catalogue import bolt_row, material_named, screw_through, split_pin
from rampdraft.model.design import Design, Leaf, MaterialKind
from rampdraft.shop.joints import hinge_knuckles
from rampdraft.units import MM, N
from rampdraft.words.figures import exact, figure, mm, newton, number
from rampdraft.words.say import say

BoughtKind = Literal[
    "slat screw", "upstand screw", "split pin", "bracket bolt", "bracket washer", "bracket nut",
    "bridge screw", "bridge hinge", "flap hinge", "prop pin", "prop chain", "torsion spring", "gas spring",
    "stay", "handle", "carrier hook", "grip strip", "reflective strip",
]  # fmt: skip

NUMBERS: Final[dict[BoughtKind, str]] = {
    "slat screw": "F1", "upstand screw": "F2", "split pin": "F3", "bracket bolt": "F4",
    "bracket washer": "F5", "bracket nut": "F6", "bridge screw": "F7", "bridge hinge": "F8",
    "flap hinge": "F9", "prop pin": "F10",
    "prop chain": "F11", "torsion spring": "F12", "gas spring": "F13", "stay": "F14", "handle": "F15",
    "carrier hook": "F16", "grip strip": "F17", "reflective strip": "F18",
}  # fmt: skip
"""Each kind has its number for good; the second size of a kind has a letter behind it (`F3B`)."""

LENGTHS_MM: Final = (
    8, 10, 12, 16, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 80, 90, 100, 110, 120, 140, 160, 180, 200,
    220, 240, 260, 280, 300,
)  # fmt: skip
"""Of screws: ISO 888 (from memory)."""
SPLIT_LENGTHS_MM: Final = (
    4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25, 28, 32, 36, 40, 45, 50, 56, 63, 71, 80, 90, 100,
)  # fmt: skip
"""Of split pins: ISO 1234 (from memory)."""
_HEAD: Final = 0.6
"""A countersunk head is so many diameters high: ISO 10642, k (from memory)."""
_BARE_GRIP: Final = 20.0
"""Pendulum value up to which nothing is put on metal or boards: what the field of the design tells."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Bought:
    """Something that is bought, with how much of it."""

    number: str
    """Stays put while dimensions change."""
    kind: BoughtKind
    name: str
    """With its size, as it is asked for in the shop."""
    standard: str
    """Empty where none says what it is."""
    quantity: float
    unit: Literal["off", "m"]
    diameter_mm: MM
    """Of screws, bolts and pins; 0 of others."""
    length_mm: MM
    """Of one; 0 where it is chosen to suit what it goes through, or is no length."""
    where: str
    members: tuple[str, ...]
    """Keys of the members that it is on."""


def bought(design: Design, assembly: Assembly, brackets: tuple[Member, ...]) -> tuple[Bought, ...]:
    """Return what is bought besides the parts, in the order of their numbers."""
    found = [
        *_slat_screws(design, assembly),
        *_upstand_screws(design, assembly),
        *_split_pins(assembly),
        *_bracket_bolts(design, brackets),
        *_plates(design, assembly),
        *_props(design, assembly),
        *_helps(design),
        *_strips(design, assembly),
    ]
    order = list(NUMBERS)
    return tuple(
        sorted(
            (one for one in found if one.quantity > 0), key=lambda one: (order.index(one.kind), one.number)
        )
    )


def _one(  # many: what a row says, each by its name
    kind: BoughtKind,
    name: str,
    quantity: float,
    members: Iterable[Member] = (),
    *,
    where: str,
    standard: str = "",
    size: tuple[MM, MM] = (0.0, 0.0),
    unit: Literal["off", "m"] = "off",
    letter: str = "",
) -> Bought:
    return Bought(
        number=NUMBERS[kind] + letter,
        kind=kind,
        name=name,
        standard=standard,
        quantity=quantity,
        unit=unit,
        diameter_mm=size[0],
        length_mm=size[1],
        where=where,
        members=tuple(dict.fromkeys(member.key for member in members)),
    )


def _length(needed: MM) -> MM:
    """Return the length sold that is long enough, or the longest one."""
    return float(next((one for one in LENGTHS_MM if one >= needed), LENGTHS_MM[-1]))


def _slat_screws(design: Design, assembly: Assembly) -> Iterator[Bought]:
    """Yield the screws through the slats: one in each hole of a rail. They differ in length where the leaves'
    slats do.
    """
    hole, kind = design.workshop.slat_screw_mm, material_named(design, design.made_of.rails).kind
    if not hole:
        return
    screw, sizes = screw_through(hole, kind), dict[MM, list[Member]]()
    leaves: tuple[tuple[Body, Leaf], ...] = (("inner", design.inner_leaf), ("outer", design.outer_leaf))
    for body, leaf in leaves:
        metal = _into_metal(leaf.rail_section.wall_mm, screw.diameter_mm)
        into = design.workshop.screw_held_mm if kind == "timber" else metal
        length = _length(leaf.slat_thickness_mm + into)
        joined = [one for one in assembly.of(body) if one.role in ("rail", "slat")]
        sizes.setdefault(length, []).extend(joined)
    thinnest = min(design.inner_leaf.slat_thickness_mm, design.outer_leaf.slat_thickness_mm)
    name, standard = _head(kind, sunk=thinnest > _HEAD * screw.diameter_mm)
    for letter, (length, joined) in zip(("", "B"), sizes.items(), strict=False):
        yield _one(
            "slat screw",
            f"{name} {screw.size} × {exact(length)}",
            sum(len(one.piece.drilled) for one in joined if one.role == "rail"),
            joined,
            where=say("slats to rails"),
            standard=standard,
            size=(screw.diameter_mm, length),
            letter=letter,
        )


def _head(kind: MaterialKind, *, sunk: bool) -> tuple[str, str]:
    """Return what a slat's screw is called, and its standard."""
    if kind == "timber":
        return say("wood screw, countersunk"), "EN 14592"
    if sunk:
        return say("countersunk screw"), "ISO 10642"
    return say("button head screw"), "ISO 7380-1"


def _into_metal(wall: MM, diameter: MM) -> MM:
    """Return how far a screw reaches below the slat: through a wall and a diameter beyond, or two diameters
    into a solid bar; common practice.
    """
    return wall + diameter if wall else 2 * diameter


def _upstand_screws(design: Design, assembly: Assembly) -> Iterator[Bought]:
    screw = upstand_screw(design)
    upstands = [one for one in assembly.members if one.role == "edge upstand"]
    if screw is None or not upstands:
        return
    thick = max(design.inner_leaf.upstand_thickness_mm, design.outer_leaf.upstand_thickness_mm)
    length = _length(thick + design.workshop.screw_held_mm)
    yield _one(
        "upstand screw",
        say("wood screw, pan head {size} × {length}", size=screw.size, length=exact(length)),
        sum(len(one.piece.profile.holes) for one in upstands),
        upstands,
        where=say("edge upstands to the ends of the slats"),
        standard="EN 14592",
        size=(screw.diameter_mm, length),
    )


def _split_pins(assembly: Assembly) -> Iterator[Bought]:
    """Yield the split pins, one in each hole of a pin."""
    sizes: dict[tuple[MM, MM], list[Member]] = {}
    for pin in assembly.members:
        if pin.role == "pin":
            diameter = pin.piece.section.depth_mm
            hole = split_pin(diameter).hole_mm
            # Through the pin, and legs to bend open: two and a half nominal sizes; common practice.
            needed = diameter + 2.5 * hole
            length = float(next((one for one in SPLIT_LENGTHS_MM if one >= needed), SPLIT_LENGTHS_MM[-1]))
            sizes.setdefault((hole, length), []).append(pin)
    for letter, ((hole, length), pins) in zip(("", "B"), sizes.items(), strict=False):
        lines = {pin.tag.hinge for pin in pins}
        yield _one(
            "split pin",
            say("split pin {hole} × {length}", hole=exact(hole), length=exact(length)),
            sum(len(pin.piece.profile.holes) for pin in pins),
            pins,
            where=_pin_ends(lines),
            standard="ISO 1234",
            size=(hole, length),
            letter=letter,
        )


def _pin_ends(lines: Collection[str]) -> str:
    """Return where the split pins of hinge lines go."""
    if set(lines) == {"deck"}:
        return say("both ends of the pins at the deck hinge")
    if "deck" in lines:
        return say("both ends of the pins at the deck hinge and the joint")
    return say("both ends of the pins at the joint")


def _bracket_bolts(design: Design, brackets: tuple[Member, ...]) -> Iterator[Bought]:
    joining, plates = design.joining, [one for one in brackets if one.role == "bracket plate"]
    count = sum(len(plate.piece.profile.holes) for plate in plates)
    size, diameter = joining.bolt_size, float(joining.bolt_size[1:])
    where = say("brackets to the carrier")
    yield _one(
        "bracket bolt",
        say(
            "hexagon bolt {size}, class {bolt_class}, at least {longer} longer than the carrier is thick",
            size=size,
            bolt_class=joining.bolt_class,
            longer=mm(_bolt_beyond_mm(design)),
        ),
        count,
        plates,
        where=where,
        standard="ISO 4017",
        size=(diameter, 0.0),
    )
    yield _one(
        "bracket washer",
        say("washer for {size}", size=size),
        2 * count,
        plates,
        where=where,
        standard="ISO 7089",
        size=(diameter, 0.0),
    )
    yield _one(
        "bracket nut",
        say("locking nut {size}", size=size),
        count,
        plates,
        where=where,
        standard="ISO 7040",
        size=(diameter, 0.0),
    )


def _bolt_beyond_mm(design: Design) -> MM:
    """Return by how much the bolts of the brackets are longer than the carrier is thick there: by plate,
    packing, a washer on both sides, the nut, and two turns of thread past it (common practice).
    """
    row = bolt_row(design.joining.bolt_size)
    beyond = design.joining.bracket_plate_mm + packing_mm(design)
    return math.ceil(beyond + 2 * row.washer_thick_mm + row.nut_mm + 2 * row.pitch_mm)


def _plates(design: Design, assembly: Assembly) -> Iterator[Bought]:
    """Yield what the bridge plate and the toe flap hang on."""
    bridge = design.bridge
    for plate in assembly.members:
        if plate.role == "bridge strip":
            yield _one(
                "bridge screw",
                say(
                    "screw {screw_size}, class {bolt_class}, to suit the deck",
                    screw_size=bridge.screw_size,
                    bolt_class=design.joining.bolt_class,
                ),
                len(plate.piece.profile.holes),
                (plate,),
                where=say("bridge plate's strip to the deck"),
                size=(float(bridge.screw_size[1:]), 0.0),
            )
        sizes: dict[Role, tuple[BoughtKind, MM, MM]] = {
            "bridge plate": ("bridge hinge", bridge.hinge_pin_mm, bridge.hinge_knuckle_mm),
            "toe flap": ("flap hinge", design.toe.hinge_pin_mm, design.toe.hinge_knuckle_mm),
        }  # fmt: skip
        if plate.role in sizes:
            kind, pin, knuckle = sizes[plate.role]
            count = hinge_knuckles(plate.piece.length_mm, knuckle)
            yield _one(
                kind,
                say(
                    "weld-on hinge, pin {pin}, {count} knuckles of {knuckle}, {length} long",
                    pin=exact(pin),
                    count=count,
                    knuckle=exact(knuckle),
                    length=exact(plate.piece.length_mm),
                ),
                1,
                (plate,),
                where=say(plate.role),
                size=(pin, plate.piece.length_mm),
            )


def _props(design: Design, assembly: Assembly) -> Iterator[Bought]:
    prop, legs = design.prop, [one for one in assembly.members if one.role == "prop"]
    if legs and prop_tubes(prop) is not None:
        length = _length(prop.section.width_mm + 2 * prop.pin_diameter_mm)
        yield _one(
            "prop pin",
            say(
                "clevis pin {pin_diameter} × {length} with a spring clip",
                pin_diameter=exact(prop.pin_diameter_mm),
                length=exact(length),
            ),
            len(legs),
            legs,
            where=say("sets the length of the props"),
            standard="ISO 2341",
            size=(prop.pin_diameter_mm, length),
        )
    if legs and prop.tied:
        yield _one(
            "prop chain",
            say("chain, brace or pins that tie a prop at both ends"),
            len(legs),
            legs,
            where=say("props"),
        )


def _helps(design: Design) -> Iterator[Bought]:
    """Yield springs, stay, handles, and what the latches hook into on the carrier."""
    assist, road = design.assist, design.road
    if assist.kind == "torsion":
        rate, slack = figure(assist.rate_nmm_deg, "N mm/°"), figure(assist.slack_deg, "°")
        yield _one(
            "torsion spring",
            say("torsion spring {rate}, slack at {slack}", rate=rate, slack=slack),
            assist.count,
            where=say("deck hinge"),
        )
    if assist.kind == "gas":
        yield _one(
            "gas spring",
            say("gas spring {force}, with two eyes", force=newton(assist.force_n)),
            assist.count,
            where=say("carrier to inner leaf"),
        )
    if design.hands.stay:
        yield _one("stay", say("damper, stay or check rope"), 1, where=say("carrier to inner leaf"))
    if design.handles:
        names = ", ".join(handle.name for handle in design.handles if handle.name)
        yield _one("handle", say("handle with its screws"), len(design.handles), where=names or say("leaves"))
    loads: dict[N, int] = {}
    for load in (road.latch_n, road.second_n):
        if load:
            loads[load] = loads.get(load, 0) + 1
    for letter, (load, count) in zip(("", "B"), loads.items(), strict=False):
        yield _one(
            "carrier hook",
            say("hook for a latch, {load}, with its screws", load=newton(load)),
            count,
            where=say("carrier, for the stowed ramp"),
            letter=letter,
        )


def _strips(design: Design, assembly: Assembly) -> Iterator[Bought]:
    """Yield grit strip, one on each slat, where the grip told is more than bare metal or boards have; and a
    bright strip along both edges of each leaf. Common practice.
    """
    slats = [one for one in assembly.members if one.role == "slat"]
    if design.use.wet_grip > _BARE_GRIP:
        metres = sum(slat.piece.length_mm for slat in slats) / 1000
        value = number(design.use.wet_grip)
        yield _one(
            "grip strip",
            say("anti-slip strip, pendulum value {value} wet or more", value=value),
            _tenths(metres),
            slats,
            where=say("one along each slat"),
            unit="m",
        )
    edges = [one for one in assembly.members if one.role == "edge upstand"]
    long = sum(one.piece.length_mm for one in edges) or 2 * sum(
        slat_starts_mm(leaf)[-1] - slat_starts_mm(leaf)[0] + leaf.slat_width_mm
        for leaf in (design.inner_leaf, design.outer_leaf)
        if slat_starts_mm(leaf)
    )
    yield _one(
        "reflective strip",
        say("reflective strip"),
        _tenths(long / 1000),
        edges,
        where=say("along both edges"),
        unit="m",
    )


def _tenths(metres: float) -> float:
    """Return a length rounded up to a tenth of a metre; what is over by rounding alone is none."""
    return math.ceil(round(metres * 10, 6)) / 10
