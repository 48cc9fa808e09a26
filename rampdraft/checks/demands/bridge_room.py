"""Whether the bridge plate comes clear of obstacles as it turns."""

import math
from collections.abc import Iterator

from rampdraft.checks.result import Check, Demand, Measured, Subjects, compose
from rampdraft.mechanics.folding.bridge_room import BridgeRoom
from rampdraft.words.figures import degrees, mm
from rampdraft.words.prose import Lines, prose


def bridge_room_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the clearance of the bridge plate from the nearest obstacle; nothing where none is beside it."""
    found, demanded = subjects.bridge_room, subjects.design.fold.clearance_mm
    if found is None:
        return
    yield compose(
        Demand.own(
            "bridge-room",
            "Bridge plate clear of obstacles as it turns",
            "at least",
            "mm",
            demanded,
            mm(demanded),
        ),
        Measured(
            key=f"obstacle-{found.number}",
            part="bridge",
            subject=found.obstacle,
            value=found.certified_mm,
            working=prose(_lines, found),
            why=_why(found),
            member="bridge plate",
        ),
    )


def _why(found: BridgeRoom) -> str:
    at = f"with the plate at {degrees(math.degrees(found.angle_rad))} to the level"
    if found.nearest_mm < 0:
        return f"It strikes {found.obstacle}, {mm(-found.nearest_mm)} into it, {at}."
    return f"It comes nearest to {found.obstacle} {at}."


def _lines(found: BridgeRoom) -> Lines:
    first, last = (degrees(math.degrees(angle)) for angle in found.span_rad)
    return (
        f"the plate turns about the deck edge from {first} to {last} to the level",
        f"least distance that was met = {mm(found.nearest_mm)}",
        f"= {mm(found.certified_mm)} certified: nowhere between is it nearer",
    )
