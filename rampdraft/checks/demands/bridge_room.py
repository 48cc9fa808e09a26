"""Whether the bridge plate comes clear of obstacles as it turns."""

import math
from collections.abc import Iterator

from rampdraft.checks.result import Check, Demand, Measured, Subjects, compose
from rampdraft.mechanics.folding.bridge_room import BridgeRoom
from rampdraft.words.figures import degrees, mm
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import say


def bridge_room_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield the clearance of the bridge plate from the nearest obstacle; nothing where none is beside it."""
    found, demanded = subjects.bridge_room, subjects.design.fold.clearance_mm
    if found is None:
        return
    yield compose(
        Demand.own(
            "bridge-room",
            say("Bridge plate clear of obstacles as it turns"),
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
    at = say("with the plate at {angle} to the level", angle=degrees(math.degrees(found.angle_rad)))
    if found.nearest_mm < 0:
        return say(
            "It strikes {obstacle}, {nearest} into it, {at}.",
            obstacle=found.obstacle,
            nearest=mm(-found.nearest_mm),
            at=at,
        )
    return say("It comes nearest to {obstacle} {at}.", obstacle=found.obstacle, at=at)


def _lines(found: BridgeRoom) -> Lines:
    first, last = (degrees(math.degrees(angle)) for angle in found.span_rad)
    return (
        say(
            "the plate turns about the deck edge from {first} to {last} to the level", first=first, last=last
        ),
        say("least distance that was met = {nearest}", nearest=mm(found.nearest_mm)),
        say("= {certified} certified: nowhere between is it nearer", certified=mm(found.certified_mm)),
    )
