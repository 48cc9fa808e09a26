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


Found = tuple[str, str]
"""What is looked at, and what takes the ramp out of use."""


def inspection_of(design: Design) -> tuple[Look, ...]:
    """Return the list for a ramp, by how often; common practice."""
    return (
        *(Look("before each use", *found) for found in _before_use(design)),
        *(Look("each month", *found) for found in _monthly(design)),
        *(Look("each year", *found) for found in _yearly(design)),
    )


def _before_use(design: Design) -> Iterator[Found]:
    yield say("Toe flat on the ground, surface clean and dry"), say("it rocks, or is icy")
    yield say("Joint straight, both leaves in line"), say("it stands bent, or creaks")
    if design.prop.fitted:
        yield say("Props upright, feet flat on the ground"), say("a foot sinks in")


def _monthly(design: Design) -> Iterator[Found]:
    if design.stop.kind != "none":
        yield say("Stop bars bear, nothing between them"), say("bent, cracked, or a gap grown")
    if design.hold_down.latch or design.road.latch_n:
        yield say("Latches and their hooks, second lock"), say("one opens under a pull by hand")
    yield say("Pins and split pins of both hinge lines"), say("one missing, loose or worn by 0.5 mm")
    yield say("Screws of slats and guards"), say("one loose or missing")
    yield say("Marked load and cautions legible"), say("not legible: put on a new label")
    if design.assist.kind != "none":
        yield say("Springs, their ends and pins"), say("one leaks, is cracked, or lifts less")
    yield say("Anti-slip surface and edge stripe"), say("worn through where wheels go")


def _yearly(design: Design) -> Iterator[Found]:
    yield say("Welds of knuckles, stop bars and cross members, cleaned"), say("any crack")
    yield say("Knuckles and pins, taken apart and greased"), say("bore or pin worn by 0.5 mm")
    yield say("Rails straight, by a stretched string"), say("bent by more than length / 500")
    yield say("Bolts and plates of the carrier's brackets"), say("loose, rusted, or cracked paint")
    used = (design.made_of.rails, design.made_of.slats, design.made_of.cross_members)
    kinds = {material_named(design, name).kind for name in used}
    if "steel" in kinds:
        yield say("Rust, drain holes of closed sections"), say("a wall thinner by a tenth")
    if "timber" in kinds:
        yield say("Boards and timber rails, with a pricking awl"), say("rot, a split through a screw")
    yield say("Proof load again, as on the plan, after any repair too"), say("set is beyond what may stay")
