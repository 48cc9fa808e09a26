"""What the program itself demands of the props' length: that they reach from the ground to the joint at each
site as the ramp is laid down, and that holes set them so that the joint need not drop until they bear, then
and after the deck has moved.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Final

from rampdraft.checks.result import (
    Check,
    Demand,
    Measured,
    Sense,
    Source,
    Subjects,
    compose,
)
from rampdraft.geometry.members.prop_holes import APART, PIN_ROOM_MM
from rampdraft.geometry.members.props import PropTubes, prop_reach_mm, prop_tubes
from rampdraft.mechanics.results import ClashingPair, LeafGradient, SitePose
from rampdraft.mechanics.standing.props import PropSet
from rampdraft.model.design import Prop
from rampdraft.rounding import greatest
from rampdraft.units import MM
from rampdraft.words import figures
from rampdraft.words.prose import Lines, prose
from rampdraft.words.say import named, say

_LEAST: Final[Sense] = "at least"
_MOST: Final[Sense] = "at most"
PLAY_MM: Final = 2 * PIN_ROOM_MM
"""So much a pin has in the holes of both tubes together, and a leg in one piece is cut short by. Common
practice.
"""
_HOLES: Final = Source(
    rule_set="own",
    title="Holes of the props",
    clause="EN 1993-1-8, table 3.3",
    publication="EN 1993-1-8; common practice",
)

_FREE: Final = Source(
    rule_set="own", title="Props that stay set", clause="", publication="plane geometry of the leaves"
)


def prop_checks(subjects: Subjects) -> Iterator[Check]:
    """Yield, at each site that the ramp reaches, whether its props reach, and how far they stand short."""
    if not subjects.design.prop.fitted:
        return
    for pose in subjects.poses():
        props = subjects.props_set.at(pose)
        if props and pose.state == "empty":
            yield _reaches(subjects, pose, props)
        if props and all(one.set_mm is not None for one in props):
            yield _short(subjects, pose, props)
    if subjects.meeting is not None:
        yield _free(subjects.meeting)


def _reaches(subjects: Subjects, pose: SitePose, props: tuple[PropSet, ...]) -> Check:
    room, sense, limit, words = _reach(subjects.design.prop, [one.room_mm for one in props])
    return compose(
        Demand.own(
            "prop",
            say("Prop reaches from ground to joint"),
            sense,
            "mm",
            limit,
            words,
        ),
        Measured(
            key=subjects.key(pose),
            subject=subjects.words(pose),
            state=pose.state,
            value=room,
            working=prose(_reach_lines, room, subjects.design.prop),
            why=_unset(subjects.design.prop) if any(one.set_mm is None for one in props) else "",
            site_number=pose.site_number,
        ),
    )


def _reach(prop: Prop, rooms_mm: Sequence[MM]) -> tuple[MM, Sense, MM, str]:
    """Return the room that a prop reaches worst, how and with what it is compared, and what that is.

    One piece only has to go under: by how much it then stands short has a check of its own.
    """
    shortest, longest = figures.mm(prop.shortest_mm), figures.mm(prop.longest_mm)
    if prop_tubes(prop) is None:
        words = say("{length}, the length of a prop in one piece", length=longest)
        return min(rooms_mm), _LEAST, prop.longest_mm, words
    room = greatest(rooms_mm, lambda one: max(prop.shortest_mm - one, one - prop.longest_mm))
    if room < prop.shortest_mm:
        return room, _LEAST, prop.shortest_mm, say("{length}, the prop's shortest", length=shortest)
    return room, _MOST, prop.longest_mm, say("{length}, the prop's longest", length=longest)


def _unset(prop: Prop) -> str:
    if prop_tubes(prop) is None:
        return say(
            "The prop is one piece, and longer than the room: no two tubes reach that hold each other."
        )
    return say("The prop cannot be set to this height.")


def _reach_lines(room: MM, prop: Prop) -> Lines:
    shortest, longest = prop_reach_mm(prop)
    return (
        say("room under the joint = {room}", room=figures.mm(room)),
        say("prop is one piece of {length}", length=figures.mm(longest))
        if shortest == longest
        else say(
            "prop reaches from {shortest} to {longest}",
            shortest=figures.mm(shortest),
            longest=figures.mm(longest),
        ),
    )


def _free(meeting: tuple[ClashingPair, ...]) -> Check:
    """Return whether the leaves leave the joint free to rise as far as the props hold it up."""
    named_first = sorted(meeting, key=lambda pair: (pair.member_a, pair.member_b))
    worst = greatest(named_first, lambda pair: -pair.clearance_mm) if meeting else None
    deep = figures.mm(-worst.clearance_mm) if worst is not None else ""
    why = (
        say(
            "{member} and {other} would be {depth} in each other: the joint cannot rise so far, and the toe"
            " lifts off the ground.",
            member=named(worst.member_a),
            other=named(worst.member_b),
            depth=deep,
        )
        if worst is not None
        else ""
    )
    return compose(
        Demand.own(
            "prop-free",
            say("Leaves free as props hold the joint up"),
            "is",
            "yes/no",
            1.0,
            say("free"),
            _FREE,
        ),
        Measured(
            key="",
            subject="",
            value=float(worst is None),
            working=prose(_free_lines, worst is None),
            why=why,
            member=worst.member_a if worst is not None else "",
        ),
    )


def _free_lines(free: bool) -> Lines:
    return (
        say("the props stay as they are set, and hold the joint up as the deck sinks"),
        say("both leaves turned so far: no two members meet")
        if free
        else say("both leaves turned so far: members meet"),
    )


def _short(subjects: Subjects, pose: SitePose, props: tuple[PropSet, ...]) -> Check:
    """Return how far the joint drops until all props bear, against what strength and sag are worked out
    with.
    """
    prop, tubes = subjects.design.prop, prop_tubes(subjects.design.prop)
    worst, limit = greatest(props, lambda one: one.short_mm), prop.slack_mm + PLAY_MM
    title = say("Joint drops until the props bear")
    words = figures.mm(limit)
    text = say(
        "{limit}, with the play of the pins" if tubes else "{limit}, with what it is cut short by",
        limit=words,
    )
    return compose(
        replace(Demand.own("prop-short", title, "at most", "mm", limit, text), source=_HOLES),
        Measured(
            key=subjects.key(pose),
            subject=subjects.words(pose),
            part="prop",
            state=pose.state,
            value=max(0.0, worst.short_mm),
            working=prose(_short_lines, props, tubes, pose, subjects.props_set.borne(pose), prop.slack_mm),
            why="" if worst.short_mm <= limit else _why(pose, worst, tubes),
            site_number=pose.site_number,
        ),
    )


def _why(pose: SitePose, worst: PropSet, tubes: PropTubes | None) -> str:
    if pose.state != "empty":
        return say(
            "Set with the deck empty, the prop stands {short} short once the deck has moved.",
            short=figures.mm(worst.short_mm),
        )
    if tubes is None:
        return say(
            "The prop is one piece, and stands {short} short here: no two tubes reach that hold each other.",
            short=figures.mm(worst.short_mm),
        )
    return say(
        "Its holes have to stand {apart} apart, and other heights are nearer than that: the prop stands"
        " {short} short here.",
        apart=figures.mm(tubes.apart_mm),
        short=figures.mm(worst.short_mm),
    )


def _short_lines(
    props: tuple[PropSet, ...], tubes: PropTubes | None, pose: SitePose, borne: SitePose, slack: MM
) -> Lines:
    drilled = ()
    if tubes is not None:
        diameter, apart = figures.mm(tubes.hole_mm), figures.mm(tubes.apart_mm)
        drilled = (
            say(
                "holes d0 = {diameter}, at least {times} d0 = {apart} apart through either pair of walls"
                if tubes.faces > 1
                else "holes d0 = {diameter}, at least {times} d0 = {apart} apart",
                diameter=diameter,
                times=figures.number(APART),
                apart=apart,
            ),
        )
    return (
        *drilled,
        *(_set_line(one) for one in props),
        _leaf_line("inner leaf", pose.inner, borne.inner),
        _leaf_line("outer leaf", pose.outer, borne.outer),
        say(
            "strength and sag are worked out with one prop {slack} shorter than the others",
            slack=figures.mm(slack),
        ),
    )


def _leaf_line(name: str, straight: LeafGradient, borne: LeafGradient) -> str:
    before, after = figures.one_in(straight.ratio), figures.one_in(borne.ratio)
    return say("{leaf} {before}, on the props {after}", leaf=named(name), before=before, after=after)


def _set_line(one: PropSet) -> str:
    room, height, off = (figures.mm(size) for size in (one.room_mm, one.set_mm or 0.0, abs(one.short_mm)))
    how = (
        say("set to {height} by hole {hole} from the upper end", height=height, hole=one.hole)
        if one.hole
        else say("set to {height}", height=height)
    )
    return say(
        "rail {rail}: room {room}, {how}, short by {off}"
        if one.short_mm >= 0
        else "rail {rail}: room {room}, {how}, holds the joint up by {off}",
        rail=one.rail + 1,
        room=room,
        how=how,
        off=off,
    )
