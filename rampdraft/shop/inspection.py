"""What is looked at, each month and each year, once the ramp is in use."""

from collections.abc import Iterator
from typing import Literal, NamedTuple

from rampdraft.model.catalogue import material_named
from rampdraft.model.design import Design
from rampdraft.words.say import say

When = Literal["before each use", "each month", "each year"]


class Look(NamedTuple):
    """One thing to be looked at, and what takes the ramp out of use."""

    when: When
    what: str
    out_if: str


def inspection_of(design: Design) -> tuple[Look, ...]:
    """Return the list for a ramp, by how often; common practice."""
    looks = tuple(_looks(design))
    whens: tuple[When, ...] = ("before each use", "each month", "each year")
    return tuple(look for when in whens for look in looks if look.when == when)


def _looks(design: Design) -> Iterator[Look]:
    held, road = design.hold_down, design.road
    yield Look(
        "before each use",
        say("Toe flat on the ground, surface clean and dry"),
        say("it rocks, or is icy"),
    )
    yield Look(
        "before each use", say("Joint straight, both leaves in line"), say("it stands bent, or creaks")
    )
    if design.stop.kind != "none":
        yield Look(
            "each month",
            say("Stop bars bear, nothing between them"),
            say("bent, cracked, or a gap grown"),
        )
    if design.prop.fitted:
        yield Look("before each use", say("Props upright, feet flat on the ground"), say("a foot sinks in"))
    if held.latch or road.latch_n:
        yield Look(
            "each month",
            say("Latches and their hooks, second lock"),
            say("one opens under a pull by hand"),
        )
    yield Look(
        "each month",
        say("Pins and split pins of both hinge lines"),
        say("one missing, loose or worn by 0.5 mm"),
    )
    yield Look("each month", say("Screws of slats and guards"), say("one loose or missing"))
    yield Look("each month", say("Marked load and cautions legible"), say("not legible: put on a new label"))
    if design.assist.kind != "none":
        yield Look(
            "each month",
            say("Springs, their ends and pins"),
            say("one leaks, is cracked, or lifts less"),
        )
    yield Look("each month", say("Anti-slip surface and edge stripe"), say("worn through where wheels go"))
    yield Look("each year", say("Welds of knuckles, stop bars and cross members, cleaned"), say("any crack"))
    yield Look(
        "each year", say("Knuckles and pins, taken apart and greased"), say("bore or pin worn by 0.5 mm")
    )
    yield Look(
        "each year", say("Rails straight, by a stretched string"), say("bent by more than length / 500")
    )
    yield Look(
        "each year",
        say("Bolts and plates of the carrier's brackets"),
        say("loose, rusted, or cracked paint"),
    )
    kinds = {
        material_named(design, name).kind
        for name in (design.made_of.rails, design.made_of.slats, design.made_of.cross_members)
    }
    if "steel" in kinds:
        yield Look("each year", say("Rust, drain holes of closed sections"), say("a wall thinner by a tenth"))
    if "timber" in kinds:
        yield Look(
            "each year",
            say("Boards and timber rails, with a pricking awl"),
            say("rot, a split through a screw"),
        )
    yield Look(
        "each year",
        say("Proof load again, as on the plan, after any repair too"),
        say("set is beyond what may stay"),
    )
