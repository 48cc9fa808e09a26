"""What the program itself demands of how the ramp lies at each site: it stands on its toe, and its bridge
plate lies on the inner leaf.
"""

import math
from collections.abc import Iterator

from rampdraft.checks.result import Check, Demand, Measured, Subjects, compose
from rampdraft.geometry.bridge import BridgeLie
from rampdraft.mechanics.results import SitePose
from rampdraft.mechanics.standing.standing import TIP_ROCKS_MM
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import named, say


def lying_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the ramp stands on its toe at each site, and how its bridge plate lies."""
    for pose in subjects.poses():
        yield _stands(subjects, pose)
    yield from _bridge(subjects)


def _stands(subjects: Subjects, pose: SitePose) -> Check:
    if not pose.reaches:
        text, why = (
            say("in the air"),
            say("The ramp does not reach the ground here, however far it is let down."),
        )
    elif pose.short_of_tip:
        text = say("tip {height} up", height=figures.mm(pose.tip_above_mm))
        why = say("It touches the ground short of its tip, which hangs: a load on the tip kicks the ramp up.")
    elif not pose.grounds_at_toe:
        text = say("{member} first", member=named(pose.touches_with))
        why = say("It grounds at the {member} before the toe comes down.", member=named(pose.touches_with))
    else:
        text, why = say("toe first"), ""
    return compose(
        Demand.own("toe", say("Stands on its toe"), "is", "yes/no", 1.0, say("toe first")),
        Measured(
            key=subjects.key(pose),
            subject=subjects.words(pose),
            state=pose.state,
            value=float(pose.reaches and pose.grounds_at_toe),
            working=prose(_stands_lines, pose.touches_with, *pose.contact, pose.tip_above_mm),
            text=text,
            why=why,
            member=pose.touches_with,
            site_number=pose.site_number,
        ),
    )


def _stands_lines(member: str, x: MM, z: MM, tip: MM) -> Lines:
    return (
        say("first contact coming down: {member}", member=named(member) if member else say("nothing")),
        say("at {x} out from the deck edge, {z} up", x=figures.mm(x), z=figures.mm(z)),
        say(
            "underside of the tip {tip} up; to {most} it stands on it",
            tip=figures.mm(tip),
            most=figures.mm(TIP_ROCKS_MM),
        ),
    )


def _bridge(subjects: Subjects) -> Iterator[Check]:
    """Yield whether the bridge plate lies on the inner leaf wherever the ramp stands, where it bears nearest
    to the deck edge.
    """
    lies = [(pose.bridge_lie, pose) for pose in subjects.poses() if pose.reaches and pose.bridge_lie]
    if not lies:
        return
    lie, pose = greatest(lies, lambda one: -one[0].bears_mm)
    yield compose(
        Demand.own(
            "bridge",
            say("Bridge plate lies on the inner leaf"),
            "is",
            "yes/no",
            1.0,
            say("bears on the leaf"),
        ),
        Measured(
            key="",
            subject=subjects.words(pose),
            state=pose.state,
            value=float(not lie.hangs),
            working=prose(_bridge_lines, lie),
            text=say("hangs") if lie.hangs else say("bears {place} out", place=figures.mm(lie.bears_mm)),
            why=say("The inner leaf lies beyond its reach: it hangs from the deck edge.")
            if lie.hangs
            else "",
            member="bridge plate",
            site_number=pose.site_number,
        ),
    )


def _bridge_lines(lie: BridgeLie) -> Lines:
    bears = say(
        "turned down from above it meets the leaf first {place} out, at {angle} to the level",
        place=figures.mm(lie.bears_mm),
        angle=figures.degrees(math.degrees(lie.angle_rad)),
    )
    return (
        say(
            "reach of the plate beyond its hinge at the deck edge = {length}",
            length=figures.mm(lie.length_mm),
        ),
        bears if not lie.hangs else say("turned down until it hangs it meets nothing of the leaf"),
    )
